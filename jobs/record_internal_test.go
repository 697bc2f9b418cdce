package jobs

import (
	"encoding/json"
	"testing"
	"time"

	"newelbook/checklist"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// applied takes one change into a record.
func applied(t *testing.T, r *Record, c Change) {
	t.Helper()
	payload, err := json.Marshal(c)
	if err != nil {
		t.Fatal(err)
	}
	if err := r.Apply(Event{Seq: r.Head.Seq + 1, Payload: string(payload)}); err != nil {
		t.Fatal(err)
	}
}

// oneRun is the record of a job with one run of one post.
func oneRun(t *testing.T) *Record {
	t.Helper()
	r := NewRecord()
	applied(t, r, Change{Job: &Job{ID: "j", RuleSet: "irc-2018", Units: length.Inches, Zone: "America/Chicago", Spec: layout.DefaultSpec(length.Inches)}})
	applied(t, r, Change{Run: &Run{Run: layout.Run{ID: "r1", Label: "R1", Kind: layout.Level}}})
	applied(t, r, Change{Layout: &LayoutVersion{RunID: "r1", Version: 1, Layout: layout.Layout{Posts: []layout.Post{{Number: 1, Label: "R1-P1"}}}}})
	return r
}

// TestNextKeepsApart changes the record that follows one in every way that its sheet and its lists depend on, after those of
// the first were derived through it, and looks at both.
func TestNextKeepsApart(t *testing.T) {
	r := oneRun(t)
	before, err := r.Sheet()
	if err != nil {
		t.Fatal(err)
	}
	id := before.Checks[0].Check.ID
	applied(t, r, Change{Deviation: &Deviation{ID: "d1", Number: 1, CheckID: id, State: DevOpen}})

	c := r.next()
	shared, err := c.Sheet() // before the change, by the one that follows
	if err != nil {
		t.Fatal(err)
	}
	if got := len(c.Live()); got != 1 {
		t.Fatalf("%d live runs, want 1", got)
	}
	applied(t, c, Change{Deviation: &Deviation{ID: "d1", Number: 1, CheckID: id, State: DevAccepted}})
	applied(t, c, Change{Layout: &LayoutVersion{RunID: "r1", Version: 2, Layout: layout.Layout{Posts: []layout.Post{{Number: 1, Label: "R1-P1"}, {Number: 2, Label: "R1-P2"}}}}})

	state := func(r *Record) (DeviationState, int) {
		t.Helper()
		s, err := r.Sheet()
		if err != nil {
			t.Fatal(err)
		}
		x, ok := s.Check(id)
		if !ok || x.Deviation == nil {
			t.Fatalf("check %s has no deviation", id)
		}
		return x.Deviation.State, len(r.Places())
	}
	if got, places := state(r); got != DevOpen || places != 3 {
		t.Errorf("the record: deviation %s, %d places; want it open, and 3: job, run and post", got, places)
	}
	if got, places := state(c); got != DevAccepted || places != 4 {
		t.Errorf("the next record: deviation %s, %d places; want it accepted, and 4", got, places)
	}
	if x, ok := shared.Check(id); !ok || x.Deviation.State != DevOpen {
		t.Errorf("the sheet taken before the change shows %v", x.Deviation)
	}

	applied(t, c, Change{Run: &Run{Run: layout.Run{ID: "r1", Label: "R1", Kind: layout.Level}, Retired: true}})
	if len(r.Live()) != 1 || len(c.Live()) != 0 {
		t.Errorf("%d and %d live runs, want 1 and, retired, none", len(r.Live()), len(c.Live()))
	}
}

// TestZoneFollowsJob changes a job's zone in the record and in a copy of it.
func TestZoneFollowsJob(t *testing.T) {
	r := oneRun(t)
	at := time.Date(2026, 5, 4, 2, 0, 0, 0, time.UTC)
	if got := r.Job.Day(at); got != "2026-05-03" {
		t.Errorf("in Chicago it is %s, want the day before", got)
	}
	moved := r.Job
	moved.Zone = "Europe/Dublin"
	if got := moved.Day(at); got != "2026-05-04" {
		t.Errorf("in Dublin it is %s", got)
	}
	applied(t, r, Change{Job: &moved})
	if got := r.Job.Location().String(); got != "Europe/Dublin" {
		t.Errorf("zone %s, want Europe/Dublin", got)
	}
}

// TestChecksStandByStage holds the order of a sheet: stages as the job goes through them, and within one the order in which
// they were generated.
func TestChecksStandByStage(t *testing.T) {
	s, err := oneRun(t).Sheet()
	if err != nil {
		t.Fatal(err)
	}
	order := map[checklist.Stage]int{}
	for i, stage := range checklist.Stages() {
		order[stage] = i
	}
	for i := range s.Checks[1:] {
		if a, b := s.Checks[i].Check, s.Checks[i+1].Check; order[a.Stage] > order[b.Stage] {
			t.Errorf("%s of %s stands before %s of %s", a.ID, a.Stage, b.ID, b.Stage)
		}
	}
	var whole []string // of the job itself: generated last, so last in its stages
	for _, c := range s.Checks {
		if c.Check.Stage == checklist.Framing {
			whole = append(whole, string(c.Check.Place.Kind))
		}
	}
	if n := len(whole); n < 2 || whole[n-1] != string(checklist.PlaceJob) || whole[0] == string(checklist.PlaceJob) {
		t.Errorf("the checks of framing are at %v, want the job's own at the end", whole)
	}
}
