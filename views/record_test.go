package views_test

import (
	"strings"
	"testing"
	"time"

	"newelbook/checklist"
	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/jobs"
)

// deck builds a record by hand, with fixed ids and times, so that pages made of it are the same every time. Everything in
// it is invented.
type deck struct {
	t   *testing.T
	rec *jobs.Record
	at  time.Time
	n   int
}

var ada = jobs.Actor{ID: "ada000000000", Name: "Ada Sample", Role: jobs.RoleBuilder}

// newDeck is a job without a run.
func newDeck(t *testing.T) *deck {
	t.Helper()
	d := &deck{t: t, rec: jobs.NewRecord(), at: time.Date(2026, 5, 4, 14, 0, 0, 0, time.UTC)}
	d.rec.Take(jobs.Change{Job: &jobs.Job{
		ID: "deck00000000", Ref: "NB-0042", Name: "Back deck", Site: "14 Example Lane, Sampleton", Owner: "Olive Sample", Builder: "Sample Decks", Contact: "555 0100",
		Permit: "S-1001", Authority: "Sampleton building office", RuleSet: "irc-2018", Units: length.Inches, Zone: "America/Chicago", Begun: "2026-05-01",
		Spec: layout.DefaultSpec(length.Inches), Version: 1, Made: d.at,
		Amendments: []codes.Amendment{{Key: codes.GuardHeightLevel, Value: "42 in", SaidBy: "Iris Sample", Office: "Sampleton building office", On: "2026-04-30", Note: "By letter."}},
	}})
	return d
}

// run describes a run and lays it out.
func (d *deck) run(id, label string, kind layout.RunKind, set map[string]string) {
	d.t.Helper()
	run := layout.DefaultRun(kind, length.Inches)
	run.ID, run.Label = id, label
	for _, f := range layout.RunFields() {
		if text, ok := set[f.Key]; ok {
			if err := f.Set(&run, text, length.Inches); err != nil {
				d.t.Fatal(err)
			}
		}
	}
	d.rec.Take(jobs.Change{Run: &jobs.Run{Run: run, Order: len(d.rec.Runs) + 1, Version: 1}})
	d.layOut(id, "Run "+label+" was described or changed.", nil)
}

// layOut adds a version of a run's layout.
func (d *deck) layOut(runID, basis string, built map[int]layout.Opening) {
	d.t.Helper()
	rules, err := d.rec.Job.Rules()
	if err != nil {
		d.t.Fatal(err)
	}
	run, ok := d.rec.Run(runID)
	if !ok {
		d.t.Fatalf("no run %s", runID)
	}
	last, _ := d.rec.Layout(runID)
	made := layout.Compute(layout.Input{Run: run.Run, Spec: d.rec.Job.Spec, Rules: rules, Unit: length.Inches, Built: built})
	made.Version, made.Basis = last.Version+1, basis
	d.rec.Take(jobs.Change{Layout: &jobs.LayoutVersion{RunID: runID, Version: made.Version, At: d.at, Basis: basis, Layout: made}})
	d.rec = d.rec.Clone() // a sheet computed before is forgotten
}

// sheet is the record's sheet.
func (d *deck) sheet() *jobs.Sheet {
	d.t.Helper()
	d.rec = d.rec.Clone()
	s, err := d.rec.Sheet()
	if err != nil {
		d.t.Fatal(err)
	}
	return s
}

// stage is the sheet of a stage.
func (d *deck) stage(stage checklist.Stage) *jobs.StageSheet {
	d.t.Helper()
	st, ok := d.sheet().Stage(stage)
	if !ok {
		d.t.Fatalf("no stage %s", stage)
	}
	return st
}

// read takes an answer to a check and judges it.
func (d *deck) read(checkID string, a checklist.Answer) string {
	d.t.Helper()
	c, ok := d.sheet().Check(checkID)
	if !ok {
		d.t.Fatalf("no check %s", checkID)
	}
	d.n++
	tool := checklist.UsualTool(c.Check, a)
	r := jobs.Reading{
		ID: "reading" + serial(d.n), CheckID: checkID, Check: c.Check, Answer: a, Tool: tool, Result: checklist.Evaluate(c.Check, a, tool, length.InchFraction),
		By: ada, Claimed: d.at, Received: d.at.Add(time.Duration(d.n) * time.Minute), RuleSet: "irc-2018",
	}
	if c.Current != nil {
		r.Supersedes = c.Current.ID
	}
	d.rec.Take(jobs.Change{Reading: &r})
	if v := r.Result.Verdict; v == checklist.FailsLimit || v == checklist.OffLayout {
		d.deviation(jobs.Deviation{Kind: jobs.DevReading, CheckID: checkID, Stage: c.Check.Stage, Place: c.Check.Place, What: c.Check.Title + ": " + r.Result.Why, ReadingID: r.ID, State: jobs.DevOpen})
	}
	return r.ID
}

func (d *deck) deviation(dev jobs.Deviation) {
	dev.Number = len(d.rec.Deviations) + 1
	dev.ID, dev.Opened, dev.OpenedBy, dev.Version = "deviation"+serial(dev.Number), d.at, ada, 1
	d.rec.Take(jobs.Change{Deviation: &dev})
}

// serial is the end of the nth id: a to z, then za and so on.
func serial(n int) string {
	return strings.Repeat("z", (n-1)/26) + string(rune('a'+(n-1)%26))
}

func long(text string) checklist.Answer {
	l, err := length.Parse(text, length.Inches)
	if err != nil {
		panic(err)
	}
	return checklist.Answer{Length: &l}
}

// fullDeck has a level run of two bays, a rake, a removable length, and readings of every verdict.
func fullDeck(t *testing.T) *deck {
	t.Helper()
	d := newDeck(t)
	d.run("k7d2aa", "R1", layout.Level, map[string]string{"length": "140", "deck_height": "48", "joists": "across"})
	d.run("m3x9aa", "R2", layout.Rake, map[string]string{"start": "stair head", "total_rise": "42", "tread": "10", "deck_height": "42"})
	d.run("p4q8aa", "R3", layout.Removable, map[string]string{"clear_opening": "48", "deck_height": "48", "removable_why": "Getting the barbecue up in spring"})
	d.deviation(jobs.Deviation{Kind: jobs.DevRemovable, Stage: checklist.Handover, State: jobs.DevOpen, Place: checklist.Place{ID: "p4q8aa", Kind: checklist.PlaceRun, RunID: "p4q8aa", Label: "R3"},
		What: "R3 is a removable length (Getting the barbecue up in spring)."})
	d.read("k7d2aa/P1.framing.bolt_upper", long("2 1/4"))
	d.read("k7d2aa/P2.framing.bolt_upper", long("1 7/8"))
	d.read("k7d2aa/P3.framing.bolt_upper", long("2"))
	d.read("k7d2aa/P2.framing.place", long("71"))
	d.read("k7d2aa/P1.framing.blocking", checklist.Answer{Seen: checklist.SeenYes})
	d.read("k7d2aa/P1.framing.photo_inside", checklist.Answer{Seen: checklist.SeenNA, Reason: "no phone on site that day"})
	return d
}
