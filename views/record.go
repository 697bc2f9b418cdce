package views

import (
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"newelbook/checklist/length"
	"newelbook/checklist/materials"
	"newelbook/jobs"
)

// recordRows is how many events the record shows at once.
const recordRows = 50

// RecordShowPage is the chain of a job's events in plain words, newest first.
type RecordShowPage struct {
	Frame
	Facts  []Fact
	Faults []string // what does not hold in the chain; none when it is sound
	Events []RecordEvent
	Older  string // URL of the events before those shown
	Newer  string
}

// RecordEvent is one event in plain words.
type RecordEvent struct {
	Seq           int
	Place, What   string
	At, Who, Hash string
	URL           string
	Shot          *Shot // the photograph that a reading was typed from
	Verdict       *Status

	reading string // id of the reading taken
}

// NewRecordShow is the record of a chain, from the event of number from downward; 0 is from the newest.
func NewRecordShow(f Frame, rec *jobs.Record, events []jobs.Event, from int) (RecordShowPage, error) {
	sheet, err := rec.Sheet()
	if err != nil {
		return RecordShowPage{}, err
	}
	job := rec.Job
	f.Lead = "Every change, with who made it and when. Each entry carries the hash of the one before, so nothing can be taken out or altered without its showing."
	p := RecordShowPage{Faults: jobs.VerifyChain(events)}
	sound := Fact{Label: "Read through now", Value: "every entry follows from the one before"}
	if len(p.Faults) > 0 {
		sound.Value = counted(len(p.Faults), "fault") + " found"
	}
	p.Facts = []Fact{{Label: "Entries", Value: itoa(rec.Head.Seq)}, {Label: "Head", Value: groupsOf(rec.Head.Hash, 8), Note: "printed on every pack, so that a cut chain shows"}, sound}
	if from < 1 || from > len(events) {
		from = len(events)
	}
	last, joined := max(from-recordRows, 0), joinsOf(rec)
	for i := from - 1; i >= last; i-- {
		e := recordEvent(rec, sheet, events[i])
		e.Shot = joined.shot(job.ID, e.reading)
		p.Events = append(p.Events, e)
	}
	here := JobURL(job.ID, "record")
	if last > 0 {
		p.Older = here + query("from", itoa(last))
	}
	if from < len(events) {
		p.Newer = here + query("from", itoa(min(from+recordRows, len(events))))
	}
	p.Frame = f
	return p, nil
}

// recordEvent says what an event changed.
func recordEvent(rec *jobs.Record, sheet *jobs.Sheet, e jobs.Event) RecordEvent {
	out := RecordEvent{Seq: e.Seq, At: e.At.In(eventZone(e)).Format("2 Jan 2006, 15:04 -07:00"), Who: e.Actor.Name, Hash: e.Hash[:min(12, len(e.Hash))]}
	if role := string(e.Actor.Role); role != "" {
		out.Who += ", " + role
	}
	var c jobs.Change
	if len(e.Payload) == 0 || json.Unmarshal([]byte(e.Payload), &c) != nil {
		out.What = upperFirst(strings.ReplaceAll(e.Type, ".", ", ")) + "; its content is withheld or cannot be read."
		return out
	}
	out.describe(rec, sheet, e.Type, c)
	return out
}

// joinedText says which reading a photograph was joined to, as the end of a sentence; empty for none.
func joinedText(rec *jobs.Record, sheet *jobs.Sheet, x jobs.Photo) string {
	r, ok := rec.Reading(x.ReadingID)
	if !ok {
		return ""
	}
	return ", and the reading " + ReadingText(r, sheet.Style) + " of " + r.Check.Place.Label + " joined to it"
}

// eventZone is the job's offset as it stood when the event was written.
func eventZone(e jobs.Event) *time.Location {
	t, err := time.Parse("-07:00", e.Offset)
	if err != nil {
		return time.UTC
	}
	return t.Location()
}

// describe puts the object of a change into a sentence.
func (r *RecordEvent) describe(rec *jobs.Record, sheet *jobs.Sheet, kind string, c jobs.Change) {
	job := rec.Job
	say := func(place, url, text string, args ...any) {
		r.Place, r.URL, r.What = place, url, fmt.Sprintf(text, args...)
	}
	switch {
	case c.Job != nil && kind == jobs.EvJobMade:
		say("", JobURL(job.ID), "The job %s was made: %s, %s.", c.Job.Ref, c.Job.Name, c.Job.Site)
	case c.Job != nil:
		say("", JobURL(job.ID), "Particulars, specification or rules were changed; version %d.", c.Job.Version)
	case c.Run != nil && c.Run.Retired:
		say(c.Run.Label, "", "The run was taken out.")
	case c.Run != nil:
		say(c.Run.Label, RunURL(job.ID, c.Run.ID), "The run was described; version %d.", c.Run.Version)
	case c.Layout != nil:
		say(c.Layout.Layout.Label, RunURL(job.ID, c.Layout.RunID), "Layout v%d was computed. %s", c.Layout.Version, c.Layout.Basis)
	case c.Reading != nil:
		say(c.Reading.Check.Place.Label, CheckURL(job.ID, c.Reading.CheckID), "%s: %s.", c.Reading.Check.Title, ReadingText(*c.Reading, sheet.Style))
		r.Verdict, r.reading = NewStatus(c.Reading.Result.Verdict.Word()), c.Reading.ID
	case c.Photo != nil && kind == jobs.EvPhotoAdded && !c.Photo.Filed():
		say(c.Photo.Place.Label, PhotoURL(job.ID, c.Photo.ID), "Photo %d was taken in, not filed yet. SHA-256 %s.", c.Photo.Number, shortHash(c.Photo.Media))
	case c.Photo != nil && kind == jobs.EvPhotoAdded:
		say(c.Photo.Place.Label, PhotoURL(job.ID, c.Photo.ID), "Photo %d was taken in and filed under %s. SHA-256 %s.", c.Photo.Number, c.Photo.Stage, shortHash(c.Photo.Media))
	case c.Photo != nil && kind == jobs.EvPhotoMarked:
		say(c.Photo.Place.Label, PhotoURL(job.ID, c.Photo.ID), "Photo %d was described: %s drawn over copies of it%s.", c.Photo.Number, counted(len(c.Photo.Marks), "mark"), joinedText(rec, sheet, *c.Photo))
	case c.Photo != nil && kind == jobs.EvPhotoTagged && c.Photo.FiledBy == jobs.FiledByTag:
		say(c.Photo.Place.Label, PhotoURL(job.ID, c.Photo.ID), "Photo %d was filed by the tag in the picture, under %s.", c.Photo.Number, c.Photo.Stage)
	case c.Photo != nil && kind == jobs.EvPhotoTagged:
		say(c.Photo.Place.Label, PhotoURL(job.ID, c.Photo.ID), "A place tag was read in photo %d; nothing was filed by it.", c.Photo.Number)
	case c.Photo != nil:
		say(c.Photo.Place.Label, PhotoURL(job.ID, c.Photo.ID), "Photo %d was filed otherwise, under %s.", c.Photo.Number, c.Photo.Stage)
	case c.Deviation != nil && kind == jobs.EvDeviationOpened:
		say(c.Deviation.Place.Label, DeviationURL(job.ID, c.Deviation.ID), "Deviation D%d was opened. %s", c.Deviation.Number, sayFull(c.Deviation.What))
	case c.Deviation != nil:
		say(c.Deviation.Place.Label, DeviationURL(job.ID, c.Deviation.ID), "Deviation D%d: %s%s. %s", c.Deviation.Number, c.Deviation.State, between(", ", c.Deviation.Name, ""), sayFull(c.Deviation.Reason))
	case c.Stage != nil && c.Stage.Closed && len(c.Stage.Deviations) > 0:
		say("", StageURL(job.ID, c.Stage.Stage), "The stage %s was closed over %s.", c.Stage.Stage, counted(len(c.Stage.Deviations), "deviation"))
	case c.Stage != nil && c.Stage.Closed:
		say("", StageURL(job.ID, c.Stage.Stage), "The stage %s was closed.", c.Stage.Stage)
	case c.Stage != nil:
		say("", StageURL(job.ID, c.Stage.Stage), "The stage %s was opened again. %s", c.Stage.Stage, sayFull(c.Stage.Reason))
	case c.Covered != nil:
		run, _ := rec.Run(c.Covered.RunID)
		say(run.Label, RunURL(job.ID, c.Covered.RunID), "Decked over on %s.", jobs.DayText(c.Covered.On))
	case c.Diary != nil:
		say("", DiaryURL(job.ID, c.Diary.Day), "The diary of %s was saved.", dayText(c.Diary.Day))
	case c.Pack != nil:
		say("", PacksURL(job.ID), "Pack %d was issued: %s.", c.Pack.Number, orElse(c.Pack.Purpose, "handover"))
	case c.Link != nil && c.Link.Revoked != nil:
		say("", PacksURL(job.ID), "The link to pack %d for %s was taken back.", c.Link.Pack, c.Link.Name)
	case c.Link != nil:
		say("", PacksURL(job.ID), "A link to pack %d was made for %s, %s.", c.Link.Pack, c.Link.Name, c.Link.For)
	case c.Answer != nil:
		say("", PacksURL(job.ID), "Pack %d was answered: %s.", c.Answer.Pack, answerText(*c.Answer))
	case c.Paper != nil && !c.Paper.Holds():
		say(c.Paper.Place.Label, PaperURL(job.ID, c.Paper.ID), "%s, %s, was withdrawn. %s", c.Paper.Label(), c.Paper.Title, sayFull(c.Paper.Why))
	case c.Paper != nil && kind == jobs.EvPaperAdded:
		say(c.Paper.Place.Label, PaperURL(job.ID, c.Paper.ID), "%s was attached: %s, %s. SHA-256 %s.", c.Paper.Label(), c.Paper.Title, c.Paper.Kind, shortHash(c.Paper.Media))
	case c.Paper != nil:
		say(c.Paper.Place.Label, PaperURL(job.ID, c.Paper.ID), "%s was described anew: %s, %s.", c.Paper.Label(), c.Paper.Title, c.Paper.Kind)
	case c.Tick != nil:
		say(c.Tick.Label, JobURL(job.ID, "materials"), "%s.", tickText(*c.Tick, sheet.Style))
	case c.OnHand != nil:
		say("", JobURL(job.ID, "materials"), "Stock on hand: %s of %s, %s%s.", counted(c.OnHand.Count, "board"), c.OnHand.Section, materials.BoardText(c.OnHand.Length, sheet.Style), between(", ", c.OnHand.Why, ""))
	default:
		say("", "", "%s.", upperFirst(strings.ReplaceAll(kind, ".", ", ")))
	}
}

// tickText says what a tick says: "Ticked as cut, 44 5/8" long by layout v2".
func tickText(t jobs.Tick, style length.Style) string {
	switch {
	case t.Done == 0:
		return fmt.Sprintf("Its tick as %s was taken back", t.Step)
	case t.Done < t.Count:
		return fmt.Sprintf("%d of %d ticked as %s, %s by layout v%d", t.Done, t.Count, t.Step, t.Length.Format(style), t.Layout)
	}
	return fmt.Sprintf("Ticked as %s, %s by layout v%d", t.Step, t.Length.Format(style), t.Layout)
}
