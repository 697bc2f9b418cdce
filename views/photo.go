package views

import (
	"fmt"
	"net/url"
	"slices"
	"strings"
	"time"

	"newelbook/checklist"
	"newelbook/jobs"
	"newelbook/media"
)

// PhotoURL is the path of a photograph, or of what lies under it: original, view or thumb.
func PhotoURL(jobID, photoID string, parts ...string) string {
	return JobURL(jobID, append([]string{"photos", photoID}, parts...)...)
}

// PhotosURL is the wall of photographs, of one stage or place where they are given.
func PhotosURL(jobID, stage, placeID string) string {
	return JobURL(jobID, "photos") + query("stage", stage, "place", placeID)
}

// query is the query of the pairs that hold something.
func query(pairs ...string) string {
	var out []string
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i+1] != "" {
			out = append(out, pairs[i]+"="+url.QueryEscape(pairs[i+1]))
		}
	}
	if len(out) == 0 {
		return ""
	}
	return "?" + strings.Join(out, "&")
}

// photo is a photograph for the wall: claims against receipt, and what does not fit in words.
func photo(rec *jobs.Record, p jobs.Photo) Photo {
	out := Photo{
		ThumbURL: PhotoURL(rec.Job.ID, p.ID, "thumb"), FullURL: PhotoURL(rec.Job.ID, p.ID), Alt: photoAlt(p), Number: photoNumber(p), Caption: photoCaption(rec, p),
		Place: p.Place.Label, Claimed: claimed(p.Exif.Capture), Received: p.Received.In(rec.Job.Location()).Format("2 Jan 2006, 15:04"), By: p.By.Name, Hash: shortHash(p.Media),
	}
	for _, flag := range rec.Flags(p) {
		out.Flags = append(out.Flags, flagWords(flag))
	}
	return out
}

func photoNumber(p jobs.Photo) string { return fmt.Sprintf("Photo %d", p.Number) }

// photoAlt says what the picture was filed as: what is in it nobody has told us.
func photoAlt(p jobs.Photo) string {
	if p.Caption != "" {
		return p.Place.Label + ": " + p.Caption
	}
	return photoNumber(p) + " at " + p.Place.Label
}

// photoCaption is the caption, or else what the check asked to be shown.
func photoCaption(rec *jobs.Record, p jobs.Photo) string {
	if p.Caption != "" {
		return p.Caption
	}
	if sheet, err := rec.Sheet(); err == nil && p.CheckID != "" {
		if c, ok := sheet.Check(p.CheckID); ok {
			return photoTitle(c.Check)
		}
	}
	if !p.Filed() {
		return "Not filed yet"
	}
	return upperFirst(string(p.Stage))
}

// filedAt is the place and stage of a photograph.
func filedAt(p jobs.Photo) string {
	if !p.Filed() {
		return "not filed yet"
	}
	return p.Place.Label + ", " + string(p.Stage)
}

// photoTitle is what a check wants to be seen.
func photoTitle(c checklist.Check) string {
	return upperFirst(c.Subject())
}

// claimed is a capture time as the file has it, never converted; empty where it has none.
func claimed(c media.Capture) string {
	if c.Local.IsZero() {
		return ""
	}
	zone := ", no zone"
	if c.Offset != "" {
		zone = " " + c.Offset
	}
	return c.Local.In(time.UTC).Format("2 Jan 2006, 15:04") + zone
}

// momentText is an instant in a job's zone, with its offset.
func momentText(at time.Time, loc *time.Location) string {
	if at.IsZero() {
		return ""
	}
	return at.In(loc).Format("2 Jan 2006, 15:04 -07:00")
}

// shortHash is the beginning of an original's SHA-256 in groups of four.
func shortHash(id media.ID) string {
	s := id.Short()
	return s[:4] + " " + s[4:8] + " " + s[8:]
}

// flagWords is what does not fit, in a few words; the two facts stand on the photograph's own page.
func flagWords(f jobs.Flag) string {
	switch f.Key {
	case "no_exif":
		return "the file makes no claims"
	case "exif_damaged":
		return "the file's claims are damaged"
	case "no_time":
		return "no capture time in the file"
	case "after_receipt":
		return "taken after it was received, it says"
	case "zone":
		return "its clock was set to another time zone than the site’s"
	case "before_job":
		return "taken before work began, it says"
	case "after_cover":
		return "taken after the run was covered, it says"
	case "far":
		return "taken far from the site, it says"
	case "supplied_view":
		return "view supplied by the browser, not derived from the original"
	case "held":
		return "the same original as another photograph"
	case "edited":
		return "saved again after it was taken"
	case "tag_other":
		return "shows another job's tag"
	case "tag_gone":
		return "shows the tag of a place that is no more"
	case "tag_several":
		return "shows tags of several places"
	case "tag_elsewhere":
		return "shows the tag of another place"
	}
	return f.Sentence
}

// policyText is what the authority makes of photographs, where it makes something of them.
func policyText(job jobs.Job) string {
	switch job.Photo {
	case checklist.PermitInFrame:
		return join("The authority asks for the permit in every picture.", between("Permit ", job.Permit, "."))
	case checklist.PhotosRefused:
		return "The authority does not accept photographs as proof: what decking hides is looked at with a witness, who is named with the answer. Take photographs all the same; they are the builder’s and the owner’s own."
	}
	return ""
}

// between is a text between two others, and nothing for none.
func between(before, text, after string) string {
	if text == "" {
		return ""
	}
	return before + text + after
}

// stageOptions lists the stages, none of them picked beforehand.
func stageOptions(none string) []Option {
	out := []Option{{Label: none}}
	for _, s := range checklist.Stages() {
		out = append(out, Option{Value: string(s), Label: upperFirst(string(s))})
	}
	return out
}

// placeOptions lists the places of the job, none of them picked beforehand.
func placeOptions(rec *jobs.Record, none string) []Option {
	out := []Option{{Label: none}}
	for _, p := range rec.Places() {
		label := p.Label
		if p.Kind == checklist.PlaceRun {
			label += ", the whole run"
		}
		out = append(out, Option{Value: p.ID, Label: label})
	}
	return out
}

// photoOptions lists the checks that ask for a photograph.
func photoOptions(sheet *jobs.Sheet, none string) []Option {
	out := []Option{{Label: none}}
	for i := range sheet.Checks {
		if c := sheet.Checks[i].Check; c.Photo != checklist.PhotoNone {
			out = append(out, Option{Value: c.ID, Label: c.Place.Label + ", " + lowerFirst(photoTitle(c))})
		}
	}
	return out
}

// lowerFirst begins a text inside a sentence.
func lowerFirst(text string) string {
	if text == "" {
		return text
	}
	return strings.ToLower(text[:1]) + text[1:]
}

// owesPhoto says whether a check still lacks its photograph. A reason for none excuses a wanted one, never a hold point.
func owesPhoto(c *jobs.CheckState) bool {
	if c.Check.Photo == checklist.PhotoNone || len(c.Photos) > 0 {
		return false
	}
	return c.Check.Photo == checklist.PhotoHold || c.Check.Ask != checklist.AskPhoto || c.Current == nil
}

// owedPhotos are the checks that lack their photograph: what decking will hide, what it hides already, and the others.
type owedPhotos struct{ before, hidden, wanted []*jobs.CheckState }

// photosOwed lists them, of one stage or place where they are given, in the order of places.
func photosOwed(rec *jobs.Record, sheet *jobs.Sheet, f jobs.PhotoFilter) owedPhotos {
	var out owedPhotos
	for i := range sheet.Checks {
		c := &sheet.Checks[i]
		_, covered := rec.CoveredRun(c.Check.Place.RunID)
		switch {
		case !owesPhoto(c), f.Stage != "" && string(c.Check.Stage) != f.Stage, !f.At(c.Check.Place):
		case c.Check.Photo == checklist.PhotoHold && covered:
			out.hidden = append(out.hidden, c)
		case c.Check.Photo == checklist.PhotoHold:
			out.before = append(out.before, c)
		default:
			out.wanted = append(out.wanted, c)
		}
	}
	for _, owed := range [][]*jobs.CheckState{out.before, out.hidden, out.wanted} {
		slices.SortStableFunc(owed, func(a, b *jobs.CheckState) int {
			return rec.PlaceRank(a.Check.Place.ID) - rec.PlaceRank(b.Check.Place.ID)
		})
	}
	return out
}

// owedPhotoRows is one row a photograph, or with group one row a place.
func owedPhotoRows(rec *jobs.Record, owed []*jobs.CheckState, stage checklist.Stage, group bool) []Row {
	var out []Row
	for len(owed) > 0 {
		n := 1
		for group && n < len(owed) && owed[n].Check.Place.ID == owed[0].Check.Place.ID {
			n++
		}
		first := owed[0].Check
		row := Row{Place: first.Place.Label, Label: photoTitle(first), URL: PhotoNewURL(rec.Job.ID, first.ID), Status: NewStatus("wanted")}
		if first.PhotoShows != "" {
			row.Note = "must show " + first.PhotoShows
		}
		if first.Photo == checklist.PhotoHold {
			row.Status = NewStatus("hold point")
		}
		if n > 1 {
			var titles []string
			for _, c := range owed[:n] {
				titles = append(titles, lowerFirst(photoTitle(c.Check)))
			}
			row.Label, row.Note, row.URL = counted(n, "photograph"), strings.Join(titles, "; "), PhotosURL(rec.Job.ID, string(stage), first.Place.ID)
		} else if owed[0].Current != nil && first.Ask == checklist.AskPhoto {
			row.Note = "said not to be possible: " + owed[0].Current.Answer.Reason
		}
		if c, ok := rec.CoveredRun(first.Place.RunID); ok && first.Photo == checklist.PhotoHold {
			row.Note = "decked over on " + jobs.DayText(c.On) + between("; ", row.Note, "")
		}
		out = append(out, row)
		owed = owed[n:]
	}
	return out
}
