package views

import (
	"fmt"
	"strconv"
	"strings"

	"newelbook/jobs"
	"newelbook/media"
)

// PhotoShowPage is one photograph: a large view, every claim of the file against what is known, and where it is filed.
type PhotoShowPage struct {
	Frame
	Form        Form
	Picture     Picture
	Read        *Measure // the reading that was typed from it, beside the picture
	ReadURL     string
	OriginalURL string
	CoverURL    string // before and after the cover of its run, empty while that is not covered
	Facts       []Fact // filing and receipt
	Claims      []Fact // what the file says of itself
	NoClaims    string
	Flags       []string
	Before      Fact // Label and URL of the photograph before
	After       Fact
	Among       Fact // which of how many it is, and the page of the wall it stands on
	Stands      []Fact
	URL         string
	Version     string
	Check       Field
	At, Stage   Field
	Caption     Field
	Marks       PhotoMarks
	PlainURL    string  // the picture without marks
	Alike       []Photo // others of its place that look nearly the same
	Views       *PhotoViews
}

// Picture is a picture shown large.
type Picture struct {
	URL, Alt      string
	Width, Height int // pixels, for the room that is kept for it
}

// NewPhotoShow is the page of a photograph, between those before and after it of the wall that q finds.
func NewPhotoShow(f Frame, rec *jobs.Record, x jobs.Photo, q PhotoQuery, form Form) (PhotoShowPage, error) {
	sheet, err := rec.Sheet()
	if err != nil {
		return PhotoShowPage{}, err
	}
	job := rec.Job
	f.Title, f.Place = fmt.Sprintf("Photograph %d", x.Number), x.Place.Label
	f.Lead = photoCaption(rec, x)
	p := PhotoShowPage{
		Form: form, Picture: pictureOf(job.ID, x), PlainURL: PhotoURL(job.ID, x.ID, "view"),
		OriginalURL: PhotoURL(job.ID, x.ID, "original"), URL: PhotoURL(job.ID, x.ID), Version: form.Version(x.Version),
	}
	p.Marks = newPhotoMarks(f, rec, sheet, x, form)
	if _, covered := rec.CoveredRun(x.Place.RunID); covered {
		p.CoverURL = PhotoCoverURL(job.ID, x.Place.RunID)
	}
	p.Facts = []Fact{
		{Label: "Received", Value: momentText(x.Received, job.Location()), Note: "from " + x.By.Name},
		{Label: "Filed at", Value: filedAt(x), URL: PhotosURL(job.ID, "", x.Place.ID), Note: filedBy(x)},
	}
	if c, ok := sheet.Check(x.CheckID); ok {
		p.Facts = append(p.Facts, Fact{Label: "Answers", Value: c.Check.Title, URL: CheckURL(job.ID, x.CheckID)})
	} else if x.CheckID != "" {
		p.Facts = append(p.Facts, Fact{Label: "Answered", Value: x.CheckID, Note: "a check that the layout no longer has"})
	}
	if len(x.Shows) > 0 {
		p.Facts = append(p.Facts, Fact{Label: "Shows", Value: strings.Join(x.Shows, ", ")})
	}
	if r, ok := rec.Reading(x.ReadingID); ok {
		m := ReadingMeasure(r, job, sheet.Style)
		p.Read, p.ReadURL = &m, CheckURL(job.ID, r.CheckID)
	}
	p.Facts = append(p.Facts,
		Fact{Label: "Original", Value: fmt.Sprintf("%s, %d by %d pixels, %s", media.Kind(x.Kind).MediaType(), x.Width, x.Height, bytesText(x.Bytes)), Note: "kept as it was received, never written over"},
		suppliedFact(x.Supplied),
		Fact{Label: "SHA-256", Value: groupsOf(x.Media.String(), 8)},
		Fact{Label: "Sent as", Value: x.Name, Note: "the name it had on the device"},
	)
	p.Claims, p.NoClaims = claims(x.Exif)
	for _, flag := range rec.Flags(x) {
		p.Flags = append(p.Flags, flag.Sentence)
	}
	p.turn(rec, x, q)
	if unnamed(&x) {
		p.Views = newPhotoViews(rec, x, owedViews(rec, sheet)[placeAndStage{x.Place.ID, x.Stage}], form)
	}
	if form.Typed[MarkKindField(0)] != nil { // the other form of the page came back
		form = Form{ID: form.ID}
	}
	p.Check = *filterField(f, "check", "What it answers", photoOptions(sheet, "No check: the place and stage below"), form.Text("check", x.CheckID))
	p.Check.Hint, p.Check.Size = "Place and stage follow from the check.", ""
	p.At, p.Stage = *filterField(f, "place", "Place", placeOptions(rec, "Choose the run, post or bay"), form.Text("place", x.Place.ID)), *filterField(f, "stage", "Stage", stageOptions("Choose the stage"), form.Text("stage", string(x.Stage)))
	p.Caption = newField(f, "caption", "Caption")
	p.Caption.Value, p.Caption.Complete = form.Text("caption", x.Caption), "off"
	p.Stands = labelled(form.Stands([]Stand{{"check", p.Check.Label, x.CheckID}, {"place", p.At.Label, x.Place.ID}, {"stage", p.Stage.Label, string(x.Stage)}, {"caption", p.Caption.Label, x.Caption}}), p.Check, p.At, p.Stage)
	p.Frame = f
	return p, nil
}

// Beside shows others beside it that look nearly the same.
func (p *PhotoShowPage) Beside(rec *jobs.Record, alike []jobs.Photo) {
	for _, x := range alike {
		p.Alike = append(p.Alike, photo(rec, x))
	}
}

// turn finds the photographs beside x on the wall. One that q does not find, as after it was filed otherwise, stands on the whole
// wall.
func (p *PhotoShowPage) turn(rec *jobs.Record, x jobs.Photo, q PhotoQuery) {
	found := rec.Find(q.PhotoFilter)
	i, ok := found.Position(x.ID)
	if !ok {
		q = PhotoQuery{}
		found = rec.Find(q.PhotoFilter)
		i, _ = found.Position(x.ID)
	}
	beside := func(i int) Fact {
		return Fact{Label: photoNumber(*found.At(i)), URL: PhotoURL(rec.Job.ID, found.At(i).ID) + q.query()}
	}
	if i > 0 {
		p.Before = beside(i - 1)
	}
	if i+1 < found.Len() {
		p.After = beside(i + 1)
	}
	p.Among = Fact{Label: itoa(i+1) + " of " + itoa(found.Len()), URL: JobURL(rec.Job.ID, "photos") + q.query()}
	if page := i/wallPage + 1; page > 1 {
		p.Among.URL = JobURL(rec.Job.ID, "photos") + q.query("page", itoa(page))
	}
}

// suppliedFact says where the picture of an original comes from that can't be shown here.
func suppliedFact(v *jobs.SuppliedView) Fact {
	if v == nil {
		return Fact{Label: "Picture shown", Value: "made here from the original"}
	}
	return Fact{Label: "Picture shown", Value: "view supplied by the browser, not derived from the original", Note: fmt.Sprintf("%d by %d pixels, %s, SHA-256 %s", v.Width, v.Height, bytesText(v.Bytes), shortHash(v.Media))}
}

// labelled shows picked values by their labels.
func labelled(facts []Fact, fields ...Field) []Fact {
	for i := range facts {
		for _, v := range fields {
			for _, o := range v.Options {
				if v.Label == facts[i].Label && o.Value == facts[i].Value {
					facts[i].Value = o.Label
				}
			}
		}
	}
	return facts
}

// claims is what a file says of itself.
func claims(e media.Exif) (facts []Fact, none string) {
	if !e.Present {
		return nil, "The file carries no Exif, so it makes no claim of when, where or with what it was taken."
	}
	source := ""
	if e.Capture.Source != "" {
		source = "its tag " + e.Capture.Source
	}
	facts = append(facts, Fact{Label: "Taken", Value: claimed(e.Capture), Note: source})
	if !e.ModifyDate.IsZero() {
		facts = append(facts, Fact{Label: "Last saved", Value: claimed(e.ModifyDate), Note: between("by ", e.Software, "")})
	}
	if camera := strings.TrimSpace(e.Make + " " + e.Model); camera != "" {
		facts = append(facts, Fact{Label: "Camera", Value: camera})
	}
	place := Fact{Label: "Position"}
	if pos := e.Position; pos != nil {
		place.Value = fmt.Sprintf("%.5f, %.5f", pos.Lat, pos.Lon)
		if pos.Accuracy != nil {
			place.Note = fmt.Sprintf("give or take %.0f m", *pos.Accuracy)
		}
	}
	facts = append(facts, place)
	if e.GPSTime != nil {
		facts = append(facts, Fact{Label: "Satellite time", Value: e.GPSTime.UTC().Format("2 Jan 2006, 15:04 -07:00"), Note: "may be that of an earlier fix"})
	}
	if e.Problem != "" {
		facts = append(facts, Fact{Label: "Damage", Value: e.Problem})
	}
	return facts, ""
}

// bytesText is a length of a file for people.
func bytesText(n int64) string {
	switch {
	case n >= 1_000_000:
		return strconv.FormatFloat(float64(n)/1e6, 'f', 1, 64) + " MB"
	case n >= 1000:
		return strconv.FormatFloat(float64(n)/1e3, 'f', 0, 64) + " kB"
	}
	return strconv.FormatInt(n, 10) + " bytes"
}

// groupsOf sets spaces into a long hash, so that it can be read out and breaks over lines.
func groupsOf(text string, n int) string {
	out := ""
	for len(text) > n {
		out, text = out+text[:n]+" ", text[n:]
	}
	return out + text
}
