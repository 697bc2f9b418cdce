package layout_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// TestStrips: a strip has the marks, length and lean of its rail; the top rail has one only where it is cut and joined alike.
func TestStrips(t *testing.T) {
	spec := layout.DefaultSpec(length.Inches)
	run := layout.Run{Label: "R1", Kind: layout.Level, Length: inch(144)}
	l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: rules(t, "irc-2018"), Unit: length.Inches, Built: map[int]layout.Opening{1: {Bottom: inch(68), Top: inch(68.25)}}})
	built, planned := layout.Strips(l, l.Bays[0], run, spec), layout.Strips(l, l.Bays[1], run, spec)
	if len(built) != 1 || built[0].Version != "as built" || built[0].Rail.Label != "R1-B1 bottom" || built[0].Rail.Cut != inch(68) {
		t.Errorf("of a bay out of plumb: %+v", built)
	}
	if len(planned) != 2 || planned[1].Which != layout.RailTop || !slices.Equal(planned[1].Marks, l.Bays[1].Planned.Infill.Marks) || !strings.Contains(planned[1].Hook, "cut of the top rail") {
		t.Errorf("of a bay as planned: %+v", planned)
	}
	if s := planned[0]; s.Lean() != 0 || s.EndLean() != 0 || s.Depth != spec.RailWidth || s.Member != spec.InfillWidth {
		t.Errorf("a level strip leans %v, is %v deep, members take %v", s.Lean(), s.Depth, s.Member)
	}
}

// TestStripsLean: the plumb line of a flight leans as riser and tread do, away from the datum where the flight goes up and towards it
// where it goes down, and a baluster takes its width times the length along the rake for one of run.
func TestStripsLean(t *testing.T) {
	for _, c := range []struct {
		name       string
		start, end layout.EndKind
		ends       string
		lean, cuts float64
	}{
		{"up, plumb ends", layout.EndStairFoot, layout.EndStairHead, layout.EndPlumb, 0.775, 0.775},
		{"down, plumb ends", layout.EndStairHead, layout.EndStairFoot, layout.EndPlumb, -0.775, -0.775},
		{"up, square ends", layout.EndStairFoot, layout.EndStairHead, layout.EndSquare, 0.775, 0},
	} {
		spec := layout.DefaultSpec(length.Inches)
		spec.RailRakeEnd = c.ends
		run := layout.Run{Label: "R1", Kind: layout.Rake, Start: c.start, End: c.end, Riser: inch(7.75), Tread: inch(10), Risers: 5}
		l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: rules(t, "irc-2018"), Unit: length.Inches})
		s := layout.Strips(l, l.Bays[0], run, spec)[0]
		near(t, c.name+", lean", s.Lean(), c.lean, 1e-9)
		near(t, c.name+", cuts", s.EndLean(), c.cuts, 1e-9)
		near(t, c.name+", member", s.Member.Inches(), spec.InfillWidth.Inches()*math.Hypot(7.75, 10)/10, 1e-6)
	}
}

func TestFindStrip(t *testing.T) {
	spec := layout.DefaultSpec(length.Inches)
	run := layout.Run{Label: "R1", Kind: layout.Level, Length: inch(144)}
	l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: rules(t, "irc-2018"), Unit: length.Inches,
		Built: map[int]layout.Opening{1: {Bottom: inch(68), Top: inch(68.25)}}})
	for name, want := range map[string]string{"R1-B2 bottom": "R1-B2 bottom", "r1-b2  TOP": "R1-B2 top", "R1-B1": "R1-B1 bottom"} {
		if s, err := layout.FindStrip(l, run, spec, name); err != nil || s.Rail.Label != want {
			t.Errorf("%q found %q, error %v; want %q", name, s.Rail.Label, err, want)
		}
	}
	narrow := layout.Run{Label: "R1", Kind: layout.Level, Length: inch(7)}
	bare := layout.Compute(layout.Input{Run: narrow, Spec: spec, Rules: rules(t, "irc-2018"), Unit: length.Inches})
	impossible := layout.Compute(layout.Input{Run: run, Spec: layout.Spec{PostWidth: inch(3.5)}, Rules: rules(t, "irc-2018"), Unit: length.Inches})
	for _, c := range []struct {
		name, rail, says string
		l                layout.Layout
	}{
		{"no such rail", "R1-B7 bottom", "name one from R1-B1 to R1-B2", l},
		{"nothing named", "", "There is no rail", l},
		{"top cut otherwise", "R1-B1 top", "mark the top rail from them", l},
		{"no baluster", "R1-B1", "takes no baluster", bare},
		{"not laid out", "R1-B1", "has no layout", impossible},
		{"no bay", "R1-B1", "has no bay", layout.Layout{Label: "R1"}},
	} {
		_, err := layout.FindStrip(c.l, run, spec, c.rail)
		var refused *layout.StripError
		if !errors.As(err, &refused) || !strings.Contains(refused.Sentence(), c.says) {
			t.Errorf("%s: error %v, want one that says %q", c.name, err, c.says)
		}
	}
}

// TestBevelledStrips: where a rail meets a turned post, its strips are for the face that has the datum end at its left, from that face's own
// cut: 3/4 tan 22.5 degrees = 0.31066 in nearer than the marks from the middle where the cut's long point is on the other face, as the pieces
// say, and further by as much where it is on this one. A rail that is bevelled at its far end alone has its marks where they are.
func TestBevelledStrips(t *testing.T) {
	const over = 0.31066017
	for _, tt := range []struct {
		turn string
		side string
		by   float64
	}{{"45", "left", -over}, {"-45", "right", over}} {
		job, faults := layout.ReadJob(strings.NewReader(`{"units": "in", "rules": "irc-2018", "runs": [{"label": "R1", "end": "corner", "length": 60},
			{"label": "R2", "start": "corner", "start_at": "R1", "turn": ` + tt.turn + `, "length": 66}]}`))
		layouts, err := layout.ComputeJob(job)
		if len(faults) > 0 || err != nil {
			t.Fatal(faults, err)
		}
		for i, l := range layouts {
			p := l.Bays[0].Used()
			for _, s := range layout.Strips(l, l.Bays[0], job.Runs[i], job.Spec) {
				if s.Face == "" {
					t.Fatalf("%s: no face is named", s.Rail.Label)
				}
				near(t, s.Rail.Label+", face less rail", (s.Long() - s.Rail.Cut).Inches(), tt.by, 1e-6)
				by := tt.by
				if i == 0 {
					by = 0
				}
				for k, m := range s.Marks {
					near(t, s.Rail.Label+", mark", (m - p.Infill.Marks[k]).Inches(), by, 1e-6)
				}
				if hooked := strings.Contains(s.Hook, s.Face); hooked != (i == 1) || strings.Contains(s.Hook, "middle") {
					t.Errorf("%s is hooked on %q", s.Rail.Label, s.Hook)
				}
			}
			at := slices.IndexFunc(l.Pieces, func(p layout.Piece) bool { return p.What == "bottom rail" })
			if cuts := l.Pieces[at].Cuts; !strings.Contains(cuts, "long point on the "+tt.side) {
				t.Errorf("%s: %q, want the long point on the %s", l.Label, cuts, tt.side)
			}
		}
	}
}
