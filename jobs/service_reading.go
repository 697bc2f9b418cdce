package jobs

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"newelbook/checklist"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// ReadingInput is one answer as typed. Field is the form field that faults are reported against.
type ReadingInput struct {
	Field      string
	ID         string // made by whoever records it; empty lets the service make one
	CheckID    string
	Text       string // a length or a count
	Seen       string // yes, no, not applicable
	Gauge      string // stopped, passed
	From       string // what a length was taken from; empty is the check's own reference
	Reason     string // for not applicable
	Witness    string // who saw it too, where the check asks for a witness
	Tool       string // empty takes the usual tool for the check
	Note       string
	PaperID    string    // the attached paper that it rests on, where PaperFor says that there may be one
	Claimed    time.Time // zero means now
	Device     string
	DeviceSeq  int
	Supersedes string // empty means whatever is current now
	AskSlips   bool   // ask about a length that looks like a slip before it is taken
}

// Empty says whether nothing was answered, so that a form of many checks can leave some for later.
func (in ReadingInput) Empty() bool {
	return strings.TrimSpace(in.Text) == "" && in.Seen == "" && in.Gauge == ""
}

// WitnessField is the field that one name for all answers of a form is typed into.
const WitnessField = "witness"

// unwitnessed says whether an observation lacks the name of its witness.
func (in ReadingInput) unwitnessed() bool {
	return (in.Seen == string(checklist.SeenYes) || in.Seen == string(checklist.SeenNo)) && strings.TrimSpace(in.Witness) == ""
}

// TakeReadings records answers, judges each at once, opens and closes deviations, and lays a bay out again when its
// opening was measured. All are saved or, where one is at fault or is asked about, none. An answer whose id is held already is passed over.
// It returns the ids of the readings taken.
func (s *Service) TakeReadings(ctx context.Context, by By, jobID string, inputs []ReadingInput) ([]string, error) {
	result, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		sheet, err := w.rec.Sheet()
		if err != nil {
			return "", err
		}
		var bad InvalidError
		var taken []Reading
		for _, in := range inputs {
			if in.Empty() || w.rec.holds(in.ID) || among(taken, in.ID) {
				continue
			}
			if in.Supersedes != "" && !w.rec.holds(in.Supersedes) && !among(taken, in.Supersedes) {
				bad.Add(in.Field, "The reading that this one takes the place of is not in the record: open the check again and enter it there.")
				continue
			}
			c, ok := sheet.Check(in.CheckID)
			if !ok {
				bad.Add(in.Field, w.rec.unasked(in))
				continue
			}
			if c.Check.Witness && in.unwitnessed() {
				if !slices.ContainsFunc(bad.Fields, func(f FieldError) bool { return f.Field == WitnessField }) {
					bad.Add(WitnessField, checklist.NoWitness)
				}
				continue
			}
			r, fault := w.reading(in, c, sheet.Style)
			if slip, ok := in.slip(c.Check, w.rec.Job.Units); ok {
				bad.Fields = append(bad.Fields, FieldError{Field: in.Field, Meant: slip.Meant, Typed: fault == "",
					Message: fmt.Sprintf("Did you mean %s? %s", slip.Meant, slip.Why)})
				continue
			}
			if fault != "" {
				bad.Add(in.Field, fault)
				continue
			}
			taken = append(taken, r)
		}
		if err := bad.Err(); err != nil {
			return "", err
		}
		return w.take(taken)
	})
	if result == "" {
		return nil, err
	}
	return strings.Split(result, " "), err
}

// slip is the slip that a length was perhaps typed with, where it is to be asked about.
func (in ReadingInput) slip(c checklist.Check, unit length.Unit) (checklist.Slip, bool) {
	if !in.AskSlips || in.Seen != "" || in.Gauge != "" {
		return checklist.Slip{}, false
	}
	return checklist.Slipped(c.AsReadFrom(checklist.Reference(in.From)), in.Text, unit, unit.Style())
}

// SameRest records that every place of the run which is not excepted and not answered yet is the same as one observation.
// Only observations can be carried over: a measurement is never filled in for anybody.
func (s *Service) SameRest(ctx context.Context, by By, jobID, checkID string, except []string) ([]string, error) {
	result, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		sheet, err := w.rec.Sheet()
		if err != nil {
			return "", err
		}
		c, ok := sheet.Check(checkID)
		if !ok {
			return "", ErrNotFound
		}
		if c.Check.Ask != checklist.AskSeen || c.Current == nil || c.Current.Answer.Seen != checklist.SeenYes {
			return "", &InvalidError{Fields: []FieldError{{Field: "same", Message: "Answer this one with yes first: only an observation can stand for the rest of the run."}}}
		}
		if c.Check.Witness {
			return "", &InvalidError{Fields: []FieldError{{Field: "same", Message: "Answer each place by itself: a witness saw each, or did not."}}}
		}
		var taken []Reading
		for i := range sheet.Checks {
			o := &sheet.Checks[i]
			if o.Check.Key != c.Check.Key || o.Check.Place.RunID != c.Check.Place.RunID || o.Current != nil || slices.Contains(except, o.Check.Place.ID) {
				continue
			}
			r, fault := w.reading(ReadingInput{CheckID: o.Check.ID, Seen: string(checklist.SeenYes), Tool: string(c.Current.Tool), PaperID: c.Current.PaperID}, o, sheet.Style)
			if fault != "" {
				return "", &InvalidError{Fields: []FieldError{{Field: "same", Message: fault}}}
			}
			r.SameAs = c.Current.ID
			taken = append(taken, r)
		}
		return w.take(taken)
	})
	if result == "" {
		return nil, err
	}
	return strings.Split(result, " "), err
}

// unasked says that an answer's check is no longer on the layout, and repeats what was entered: the field for it is gone.
func (r *Record) unasked(in ReadingInput) string {
	place, _, _ := strings.Cut(in.CheckID, ".")
	runID, at, _ := strings.Cut(place, "/")
	label := "its place"
	if run, ok := r.Run(runID); ok {
		label = strings.TrimSuffix(run.Label+"-"+at, "-")
	}
	var entered []string
	for _, text := range []string{in.Text, in.Seen, in.Gauge, in.Reason, in.Note} {
		if text = strings.TrimSpace(text); text != "" {
			entered = append(entered, text)
		}
	}
	return fmt.Sprintf("The layout no longer asks this at %s, so what you entered is not saved: %s. Open the stage again and pick the check that took its place.", label, strings.Join(entered, "; "))
}

// Reading is the reading of that id.
func (r *Record) Reading(id string) (Reading, bool) {
	if i := slices.IndexFunc(r.Readings, func(x Reading) bool { return x.ID == id }); i >= 0 {
		return r.Readings[i], true
	}
	return Reading{}, false
}

func (r *Record) holds(readingID string) bool { return among(r.Readings, readingID) }

func among(readings []Reading, id string) bool {
	return id != "" && slices.ContainsFunc(readings, func(x Reading) bool { return x.ID == id })
}

// measures are the checks that a layout is made again from, and where they are measured: openings, which rails and infill follow, the
// lean of posts, which the marks of top rails follow, and the widths of posts, which sleeves follow.
var measures = map[string]string{
	checklist.KeyOpeningBottom: " at the bottom", checklist.KeyOpeningTop: " at the top", checklist.KeyPostWidth: " wide",
	checklist.KeyPostLean: " out of plumb along the run",
}

// take stores readings and what follows from them: deviations, and layouts made again from what was measured.
func (w *work) take(taken []Reading) (string, error) {
	var ids []string
	basis := map[string][]string{}
	var runs []string
	for _, r := range taken {
		if err := w.emit(EvReadingTaken, Change{Reading: &r}); err != nil {
			return "", err
		}
		ids = append(ids, r.ID)
		if err := w.follow(r); err != nil {
			return "", err
		}
		if where, ok := measures[r.Check.Key]; ok && r.Answer.Length != nil {
			run := r.Check.Place.RunID
			if basis[run] == nil {
				runs = append(runs, run)
			}
			basis[run] = append(basis[run], fmt.Sprintf("%s measured %s%s", r.Check.Place.Label, r.Answer.Length.Format(w.rec.Job.Units.Style()), where))
		}
	}
	for _, run := range runs {
		if err := w.relayout(run, "As built: "+strings.Join(basis[run], "; ")+"."); err != nil {
			return "", err
		}
	}
	return strings.Join(ids, " "), nil
}

// reading judges one answer. A fault comes back as a finished sentence.
func (w *work) reading(in ReadingInput, c *CheckState, style length.Style) (Reading, string) {
	answer, fault := in.answer(c.Check.Ask, w.rec.Job.Units)
	if fault != "" {
		return Reading{}, fault
	}
	if answer.Length != nil {
		answer.From = cmp.Or(checklist.Reference(in.From), c.Check.Reference)
	}
	if c.Check.Witness && answer.Seen != checklist.SeenNA {
		answer.Witness = strings.Join(strings.Fields(in.Witness), " ")
	}
	if fault, ok := checklist.CheckAnswer(c.Check, answer); !ok {
		return Reading{}, fault
	}
	if c.Check.Ask == checklist.AskPhoto && answer.Seen != checklist.SeenNA && len(c.Photos) == 0 {
		return Reading{}, "File the photograph first, or enter why it cannot be taken: there is none here to speak of."
	}
	if answer.Seen != checklist.SeenYes { // no other answer rests on a paper
		in.PaperID = ""
	}
	if fault := w.rests(in, c.Check); fault != "" {
		return Reading{}, fault
	}
	tool := checklist.Tool(in.Tool)
	if tool == "" {
		tool = checklist.UsualTool(c.Check, answer)
	}
	own := checklist.OwnTape(w.rec.Job.Spec.TapeDoubt)
	switch {
	case tool == checklist.ToolOwn && w.rec.Job.Spec.TapeDoubt <= 0:
		return Reading{}, "Enter the doubt of the job's own tape in the specification first, or say what else it was read with."
	case tool == checklist.ToolOwn:
		tool = own
	case answer.Moisture != nil && tool != checklist.ToolMeter:
		return Reading{}, "Read the moisture with a moisture meter, or answer not applicable and say why."
	case tool != own && !slices.Contains(checklist.Tools(), tool):
		return Reading{}, "Choose from the list what it was read with."
	}
	r := Reading{
		ID: in.ID, CheckID: c.Check.ID, Check: c.Check, Answer: answer, Typed: strings.TrimSpace(in.Text), Tool: tool,
		Note: strings.TrimSpace(in.Note), Result: checklist.Evaluate(c.Check, answer, tool, style), By: w.by,
		Claimed: in.Claimed, Received: w.at, Device: in.Device, DeviceSeq: in.DeviceSeq, RuleSet: w.rec.Job.RuleSet, Supersedes: in.Supersedes, PaperID: in.PaperID,
	}
	if r.ID == "" {
		r.ID = NewID()
	}
	if r.Claimed.IsZero() {
		r.Claimed = w.at
	}
	if r.Supersedes == "" && c.Current != nil {
		r.Supersedes = c.Current.ID
	}
	r.LayoutVersion = w.layoutVersion(c.Check.Place)
	return r, ""
}

// rests says what is wrong with the paper that an observation names, empty for nothing.
func (w *work) rests(in ReadingInput, c checklist.Check) string {
	if in.PaperID == "" {
		return ""
	}
	if PaperFor(c) == "" {
		return "No paper goes with this check: take its name out of the form."
	}
	if p, ok := w.rec.Paper(in.PaperID); !ok || !p.Holds() {
		return "Choose a paper that is attached and was not withdrawn, or none."
	}
	return ""
}

func (in ReadingInput) answer(ask checklist.Ask, unit length.Unit) (checklist.Answer, string) {
	a := checklist.Answer{Seen: checklist.Seen(in.Seen), Gauge: checklist.Gauge(in.Gauge), Reason: strings.TrimSpace(in.Reason)}
	text := strings.TrimSpace(in.Text)
	if text == "" {
		return a, ""
	}
	if ask == checklist.AskCount {
		n, err := strconv.Atoi(text)
		if err != nil || n < 0 || n > 100_000 {
			return checklist.Answer{}, "Enter how many there are as a whole number, such as 14."
		}
		a.Count = &n
		return a, ""
	}
	if ask == checklist.AskMoist {
		m, err := checklist.ParseMoisture(text)
		if err != nil {
			return checklist.Answer{}, sentence(err)
		}
		a.Moisture = &m
		return a, ""
	}
	l, err := length.Parse(text, unit)
	if err != nil {
		return checklist.Answer{}, sentence(err)
	}
	if l < 0 && ask != checklist.AskSigned {
		return checklist.Answer{}, "Enter a length that is not below zero: only a plumb reading has a sign."
	}
	a.Length = &l
	return a, ""
}

// follow opens a deviation for a reading outside a limit or the layout, and ends an open one on a good reading. An open one
// says what the newest such reading came to, so that nobody accepts less than there is: a form opened before it is stale. Saying that an
// observation does not apply puts nothing right: whether the deviation falls with it is the builder's to say, with a name.
func (w *work) follow(r Reading) error {
	i := slices.IndexFunc(w.rec.Deviations, func(d Deviation) bool { return d.CheckID == r.CheckID && d.State == DevOpen })
	switch r.Result.Verdict {
	case checklist.FailsLimit, checklist.OffLayout:
		what := r.Check.Title + ": " + r.Result.Why
		if i < 0 {
			return w.open(Deviation{Kind: DevReading, CheckID: r.CheckID, Stage: r.Check.Stage, Place: r.Check.Place, ReadingID: r.ID, What: what})
		}
		d := w.rec.Deviations[i]
		if d.What == what {
			return nil
		}
		d.What = what
		d.Version++
		return w.emit(EvDeviationChanged, Change{Deviation: &d})
	case checklist.Good:
		if i < 0 || r.Answer.Seen == checklist.SeenNA {
			return nil
		}
		d := w.rec.Deviations[i]
		d.State, d.Ended, d.EndedBy, d.EndedWith = DevPutRight, w.at, w.by, r.ID
		d.Reason = "Put right and measured again: " + r.Result.Why
		d.Version++
		return w.emit(EvDeviationChanged, Change{Deviation: &d})
	}
	return nil
}

// open numbers a deviation and opens it.
func (w *work) open(d Deviation) error {
	d.ID, d.Number, d.State = NewID(), len(w.rec.Deviations)+1, DevOpen
	d.Opened, d.OpenedBy, d.Version = w.at, w.by, 1
	return w.emit(EvDeviationOpened, Change{Deviation: &d})
}

// DeviationInput is what becomes of a deviation, or a new one by hand.
type DeviationInput struct {
	ID      string
	Version int
	State   string // accepted or referred; empty opens one by hand
	Reason  string
	Name    string
	PlaceID string // by hand: a run, post or bay
	Stage   string
	What    string
}

// OpenDeviation opens a deviation by hand and returns its id.
func (s *Service) OpenDeviation(ctx context.Context, by By, jobID string, in DeviationInput) (string, error) {
	return s.update(ctx, jobID, by, func(w *work) (string, error) {
		var bad InvalidError
		if strings.TrimSpace(in.What) == "" {
			bad.Add("what", "Enter what is not as it should be, in one sentence.")
		}
		if !slices.Contains(checklist.Stages(), checklist.Stage(in.Stage)) {
			bad.Add("stage", "Choose the stage that it belongs to.")
		}
		place, ok := w.rec.Place(in.PlaceID)
		if !ok {
			bad.Add("place", "Choose the run, post or bay that it is at.")
		}
		if err := bad.Err(); err != nil {
			return "", err
		}
		d := Deviation{Kind: DevByHand, Stage: checklist.Stage(in.Stage), Place: place, What: strings.TrimSpace(in.What)}
		if err := w.open(d); err != nil {
			return "", err
		}
		return w.rec.Deviations[len(w.rec.Deviations)-1].ID, nil
	})
}

// EndDeviation accepts a deviation with a reason and a name, or refers it. Only the builder accepts, and nobody ends that of a removable
// length by hand (see Record.Awaits).
func (s *Service) EndDeviation(ctx context.Context, by By, jobID string, in DeviationInput) error {
	_, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		if err := w.builder(); err != nil {
			return "", err
		}
		d, ok := w.rec.Deviation(in.ID)
		if !ok {
			return "", ErrNotFound
		}
		if err := stale(fmt.Sprintf("deviation D%d", d.Number), d.EndedBy.Name, d.Version, in.Version); err != nil {
			return "", err
		}
		var bad InvalidError
		if awaits := w.rec.Awaits(d); awaits != "" {
			bad.Add("state", awaits)
			return "", bad.Err()
		}
		state := DeviationState(in.State)
		if state != DevAccepted && state != DevReferred {
			bad.Add("state", "Choose whether it is accepted or referred.")
		}
		if strings.TrimSpace(in.Reason) == "" {
			bad.Add("reason", "Enter the reason, so that whoever reads the pack can follow it.")
		}
		if strings.TrimSpace(in.Name) == "" {
			bad.Add("name", "Enter who accepted it, or whom it was referred to.")
		}
		if err := bad.Err(); err != nil {
			return "", err
		}
		d.State, d.Reason, d.Name = state, strings.TrimSpace(in.Reason), strings.TrimSpace(in.Name)
		d.Ended, d.EndedBy = w.at, w.by
		d.Version++
		return "", w.emit(EvDeviationChanged, Change{Deviation: &d})
	})
	return err
}

// Place is a place of the job by its permanent id: the job, a run, or a post or bay of a run's newest layout.
func (r *Record) Place(id string) (checklist.Place, bool) {
	return find(r.Places(), func(p checklist.Place) bool { return p.ID == id })
}

func placesOf(run Run, l layout.Layout) []checklist.Place {
	var out []checklist.Place
	for _, p := range l.Posts {
		out = append(out, checklist.Place{ID: fmt.Sprintf("%s/P%d", run.ID, p.Number), Kind: checklist.PlacePost, RunID: run.ID, Number: p.Number, Label: p.Label})
	}
	for _, b := range l.Bays {
		out = append(out, checklist.Place{ID: fmt.Sprintf("%s/B%d", run.ID, b.Number), Kind: checklist.PlaceBay, RunID: run.ID, Number: b.Number, Label: b.Label})
	}
	return out
}
