package store_test

import (
	"errors"
	"strings"
	"testing"

	"newelbook/checklist"
	"newelbook/checklist/length"
	"newelbook/jobs"
)

// piece is a piece of the record by its id.
func (x *site) piece(t tester, id string) jobs.PieceState {
	t.Helper()
	for _, p := range x.record(t).Pieces() {
		if p.ID == id {
			return p
		}
	}
	t.Fatalf("no piece %s", id)
	return jobs.PieceState{}
}

func (x *site) tick(t *testing.T, id string, step jobs.Step, done bool) {
	t.Helper()
	if err := x.service.TickPiece(t.Context(), crew, x.job, jobs.TickInput{PieceID: id, Step: string(step), Done: done}); err != nil {
		t.Fatalf("TickPiece %s %s: %v", id, step, err)
	}
}

// What is fitted is cut, and taking back the one that it rests on takes back both; nothing is ever taken out of the record.
func TestTicks(t *testing.T) {
	x := newSite(t, open(t))
	run := x.run(t, "R1", "144")
	id := run + "/B1 top"
	before := x.record(t).Head.Seq
	for i, tt := range []struct {
		step        jobs.Step
		done        bool
		cut, fitted int
		ticks       int // in the record from then on
	}{
		{jobs.StepFitted, true, 1, 1, 2},
		{jobs.StepFitted, true, 1, 1, 2}, // again is nothing new
		{jobs.StepFitted, false, 1, 0, 3},
		{jobs.StepFitted, true, 1, 1, 4},
		{jobs.StepCut, false, 0, 0, 6},
		{jobs.StepCut, false, 0, 0, 6},
		{jobs.StepCut, true, 1, 0, 7},
	} {
		x.tick(t, id, tt.step, tt.done)
		p := x.piece(t, id)
		if p.CutNow() != tt.cut || p.FittedNow() != tt.fitted || len(x.record(t).Ticks) != tt.ticks {
			t.Fatalf("step %d: cut %d, fitted %d, %d ticks; want %d, %d, %d", i, p.CutNow(), p.FittedNow(), len(x.record(t).Ticks), tt.cut, tt.fitted, tt.ticks)
		}
	}
	if got := x.record(t).Head.Seq - before; got != 7 {
		t.Errorf("%d events, want one a tick", got)
	}
	if p := x.piece(t, id); p.Cut.By.Name != "Pat Sample" || p.Cut.At.IsZero() {
		t.Errorf("ticked by %q at %v", p.Cut.By.Name, p.Cut.At)
	}
	if err := x.service.TickPiece(t.Context(), crew, x.job, jobs.TickInput{PieceID: run + "/B9 top", Step: "cut", Done: true}); !errors.Is(err, jobs.ErrNotFound) {
		t.Errorf("a piece that is nowhere: %v", err)
	}
	x.agree(t)
}

// A bay is measured after its rails were cut: one that is now too long serves, and one that is too short does not; ticked again,
// it stands as it is to be now.
func TestCutBeforeMeasured(t *testing.T) {
	for _, tt := range []struct {
		opening string
		over    length.Length
		serves  int
	}{{"67", length.Inch, 1}, {"69", -length.Inch, 0}, {"68", 0, 1}} {
		x := newSite(t, open(t))
		run := x.run(t, "R1", "143 1/2") // bays of 68 1/4 in between faces
		x.take(t, jobs.ReadingInput{CheckID: x.check(t, checklist.KeyOpeningBottom).Check.ID, Text: "68"})
		id := run + "/B1 bottom"
		x.tick(t, id, jobs.StepCut, true)
		x.take(t, jobs.ReadingInput{CheckID: x.check(t, checklist.KeyOpeningBottom).Check.ID, Text: tt.opening})
		p := x.piece(t, id)
		if p.Over() != tt.over || p.Serves() != tt.serves || p.Changed() != (tt.over != 0) || p.CutNow() != 1 {
			t.Errorf("opening %s: over %v, serves %d, changed %v; want %v and %d", tt.opening, p.Over(), p.Serves(), p.Changed(), tt.over, tt.serves)
		}
		x.tick(t, id, jobs.StepCut, true)
		if p := x.piece(t, id); p.Changed() || p.Serves() != 1 {
			t.Errorf("opening %s, ticked again: %+v", tt.opening, p)
		}
	}
}

// A bay is measured after its rail was fitted: the rail serves, long or short, until it is taken back; looked at, it keeps what it was
// cut to, and a third measurement asks again.
func TestFittedBeforeMeasured(t *testing.T) {
	x := newSite(t, open(t))
	run := x.run(t, "R1", "143 1/2")
	measure := func(opening string) {
		x.take(t, jobs.ReadingInput{CheckID: x.check(t, checklist.KeyOpeningBottom).Check.ID, Text: opening})
	}
	measure("68")
	id := run + "/B1 bottom"
	x.tick(t, id, jobs.StepFitted, true)
	was := x.piece(t, id).Length
	state := func(when string, serves int, changed, stays bool, over length.Length) {
		t.Helper()
		p := x.piece(t, id)
		if p.Serves() != serves || p.Changed() != changed || p.Stays() != stays || p.Over() != over || p.FittedNow() != 1 || p.Cut.Length != was {
			t.Errorf("%s: serves %d, changed %v, stays %v, over %v, %d fitted, cut to %v", when, p.Serves(), p.Changed(), p.Stays(), p.Over(), p.FittedNow(), p.Cut.Length)
		}
	}
	state("as measured", 1, false, false, 0)
	for _, tt := range []struct {
		opening string
		over    length.Length
	}{{"69", -length.Inch}, {"67", length.Inch}} {
		measure(tt.opening)
		state(tt.opening, 1, true, false, tt.over)
		x.tick(t, id, jobs.StepFitted, true)
		state(tt.opening+", looked at", 1, false, true, tt.over)
	}
	measure("69")
	x.tick(t, id, jobs.StepFitted, false)
	if p := x.piece(t, id); p.Serves() != 0 || !p.Changed() {
		t.Errorf("taken out and too short: serves %d, changed %v", p.Serves(), p.Changed())
	}
	x.agree(t)
}

// What was cut for a bay that the layout no longer has is still there, as gone.
func TestCutAndGone(t *testing.T) {
	x := newSite(t, open(t))
	run := x.run(t, "R1", "144")
	x.tick(t, run+"/B2 top", jobs.StepCut, true)
	in := jobInput()
	in.Version, in.Spec = 1, map[string]string{"post_max_centres": "200"}
	if err := x.service.ChangeJob(t.Context(), builder, x.job, in); err != nil {
		t.Fatal(err)
	}
	p := x.piece(t, run+"/B2 top")
	if !p.Gone || p.Serves() != 0 || p.Changed() || p.Label != "R1-B2 top" {
		t.Errorf("the rail of a bay that is no more: %+v", p)
	}
	var bad *jobs.InvalidError
	if err := x.service.TickPiece(t.Context(), crew, x.job, jobs.TickInput{PieceID: p.ID, Step: "fitted", Done: true}); !errors.As(err, &bad) {
		t.Errorf("fitting it: %v", err)
	}
	x.tick(t, p.ID, jobs.StepCut, false)
	for _, p := range x.record(t).Pieces() {
		if p.Gone {
			t.Errorf("%s is still there once its tick is taken back", p.Label)
		}
	}
	x.agree(t)
}

func TestOnHandInput(t *testing.T) {
	x := newSite(t, open(t))
	x.run(t, "R1", "144")
	kind := x.record(t).StockKinds()[0]
	for _, tt := range []struct {
		in     jobs.OnHandInput
		fields string
	}{
		{jobs.OnHandInput{Stock: kind.Key(), Length: "8'"}, ""},
		{jobs.OnHandInput{Stock: kind.Key(), Length: "40 1/2", Count: "3", Offcut: true, From: "Under the deck"}, ""},
		{jobs.OnHandInput{}, "stock length"},
		{jobs.OnHandInput{Stock: "a section of no piece; ", Length: "0", Count: "none", From: strings.Repeat("x", 201)}, "stock length count from"},
		{jobs.OnHandInput{Stock: kind.Key(), Length: "-8", Count: "1001"}, "length count"},
	} {
		err := x.service.AddOnHand(t.Context(), crew, x.job, tt.in)
		var bad *jobs.InvalidError
		fields := ""
		if errors.As(err, &bad) {
			for _, f := range bad.Fields {
				fields += " " + f.Field
				if !strings.HasSuffix(f.Message, ".") {
					t.Errorf("%q is no sentence", f.Message)
				}
			}
		} else if err != nil {
			t.Fatal(err)
		}
		if strings.TrimSpace(fields) != tt.fields {
			t.Errorf("%+v: faults in%s, want %s", tt.in, fields, tt.fields)
		}
	}
	if o := x.record(t).OnHand; len(o) != 2 || o[0].Count != 1 || o[1].Count != 3 || !o[1].Offcut || o[1].Section != kind.Section || o[0].Length != 96*length.Inch {
		t.Errorf("on hand: %+v", o)
	}
}

// Cutting a board records all of it or nothing.
func TestCutBoard(t *testing.T) {
	x := newSite(t, open(t))
	run := x.run(t, "R1", "144")
	top, bottom := run+"/B1 top", run+"/B1 bottom"
	kind := x.record(t).StockKinds()[2]
	if err := x.service.AddOnHand(t.Context(), crew, x.job, jobs.OnHandInput{Stock: kind.Key(), Length: "16'"}); err != nil {
		t.Fatal(err)
	}
	hand := x.record(t).OnHand[0].ID
	board := jobs.BoardInput{Pieces: []string{top, bottom}, OnHand: hand, Rest: "54"}
	faulty := board
	faulty.Rest = "long"
	var bad *jobs.InvalidError
	before := x.record(t).Head
	if err := x.service.CutBoard(t.Context(), crew, x.job, faulty); !errors.As(err, &bad) || x.record(t).Head != before {
		t.Errorf("a rest that is no length: %v", err)
	}
	if err := x.service.CutBoard(t.Context(), crew, x.job, board); err != nil {
		t.Fatal(err)
	}
	r := x.record(t)
	rest := r.OnHand[len(r.OnHand)-1]
	if x.piece(t, top).CutNow() != 1 || x.piece(t, bottom).CutNow() != 1 || r.OnHand[0].Count != 0 || r.OnHand[0].Why != "used for R1-B1 bottom" ||
		rest.Length != 54*length.Inch || !rest.Offcut || rest.Section != kind.Section || rest.From != "the board of R1-B1 bottom" {
		t.Errorf("cut %+v, on hand %+v", r.Ticks, r.OnHand)
	}
	before = r.Head
	if err := x.service.CutBoard(t.Context(), crew, x.job, board); !errors.As(err, &bad) || x.record(t).Head != before {
		t.Errorf("the same board again: %v", err)
	}
	if err := x.service.CutBoard(t.Context(), crew, x.job, jobs.BoardInput{Pieces: []string{run + "/B2 top"}, OnHand: hand}); !errors.As(err, &bad) || x.record(t).Head != before {
		t.Errorf("a board that is used up: %v", err)
	}
	x.agree(t)
}
