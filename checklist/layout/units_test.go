package layout_test

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// TestUnitsAgree: the same run in inches and in millimetres, under one rule set and with the same sizes, has the same ideal layout
// exactly; its marks and posts stand within one grid of each other, the coarser of the two, since each was rounded to its own.
func TestUnitsAgree(t *testing.T) {
	irc := rules(t, "irc-2021")
	rapid.Check(t, func(t *rapid.T) {
		imperial := layout.DefaultSpec(length.Inches)
		imperial.InfillMode = layout.EqualGaps
		imperial.InfillKind = rapid.SampledFrom([]string{layout.FillBalusters, layout.FillCables}).Draw(t, "kind")
		imperial.InfillWidth = sixteenths(t, "member", 1, 2)
		imperial.ConnectorTop, imperial.ConnectorBottom = sixteenths(t, "top", 0, 1), sixteenths(t, "bottom", 0, 1)
		metric := imperial
		metric.Grid = length.Millimetre
		run := layout.DefaultRun(layout.Level, length.Inches)
		run.Label, run.Length = "R1", sixteenths(t, "length", 24, 400)
		run.Start = rapid.SampledFrom([]layout.EndKind{layout.EndFree, layout.EndWall}).Draw(t, "start")
		if rapid.Bool().Draw(t, "rake") {
			run.Kind, run.Riser, run.Tread, run.Risers = layout.Rake, sixteenths(t, "riser", 5, 8), sixteenths(t, "tread", 9, 13), 5
		}
		a := layout.Compute(layout.Input{Run: run, Spec: imperial, Rules: irc, Unit: length.Inches})
		b := layout.Compute(layout.Input{Run: run, Spec: metric, Rules: irc, Unit: length.Millimetres})
		if len(a.Posts) != len(b.Posts) || len(a.Bays) != len(b.Bays) || a.EndSpan != b.EndSpan {
			t.Fatalf("%d posts and %d bays over %v in inches, %d and %d over %v in millimetres", len(a.Posts), len(a.Bays), a.EndSpan, len(b.Posts), len(b.Bays), b.EndSpan)
		}
		grid := max(imperial.Grid, metric.Grid)
		for i := range a.Posts {
			if d := (a.Posts[i].Centre - b.Posts[i].Centre).Abs(); d > grid {
				t.Fatalf("%s stands %v apart", a.Posts[i].Label, d)
			}
		}
		// Its own grid rounded the posts of each: the openings are alike once the posts stand where the first has them.
		for _, p := range a.Posts {
			run.Posts = append(run.Posts, p.Centre)
		}
		a = layout.Compute(layout.Input{Run: run, Spec: imperial, Rules: irc, Unit: length.Inches})
		b = layout.Compute(layout.Input{Run: run, Spec: metric, Rules: irc, Unit: length.Millimetres})
		for i := range a.Bays {
			sameBay(t, a.Bays[i].Planned, b.Bays[i].Planned, grid)
		}
	})
}

// sameBay: one bay laid out on the grids of two units is the same before rounding, and within one grid after it.
func sameBay(t *rapid.T, p, q *layout.Parts, grid length.Length) {
	if (p == nil) != (q == nil) {
		t.Fatalf("laid out in one unit only: %v, %v", p, q)
	}
	if p == nil {
		return
	}
	if p.Bottom.Ideal != q.Bottom.Ideal || p.Top.Ideal != q.Top.Ideal {
		t.Fatalf("ideal rails %v and %v, %v and %v", p.Bottom.Ideal, q.Bottom.Ideal, p.Top.Ideal, q.Top.Ideal)
	}
	if p.Infill.Least != q.Infill.Least {
		t.Fatalf("the least count is %d in inches and %d in millimetres", p.Infill.Least, q.Infill.Least)
	}
	if p.Infill.Count != q.Infill.Count {
		return // one grid's marks failed the limit where the other's did not
	}
	x, _ := new(big.Rat).SetString(p.Infill.IdealGap)
	y, _ := new(big.Rat).SetString(q.Infill.IdealGap)
	if x.Cmp(y) != 0 {
		t.Fatalf("ideal gap %s in inches, %s in millimetres", x, y)
	}
	for i := range p.Infill.FromPost {
		if d := (p.Infill.FromPost[i] - q.Infill.FromPost[i]).Abs(); d > grid {
			t.Fatalf("mark %d stands %v apart", i+1, d)
		}
	}
}

// TestImpossibleRuns: what cannot be built is told in a sentence at its place, with the field to look at, and the other runs of the job
// are laid out all the same.
func TestImpossibleRuns(t *testing.T) {
	sound := layout.Run{ID: "ok", Label: "R9", Kind: layout.Level, Length: 96 * length.Inch, LengthOver: layout.OverCentres}
	level := func(change func(*layout.Run)) layout.Run {
		r := layout.Run{ID: "bad", Label: "R1", Kind: layout.Level, Length: 96 * length.Inch, LengthOver: layout.OverCentres}
		change(&r)
		return r
	}
	rake := func(change func(*layout.Run)) layout.Run {
		r := layout.Run{ID: "bad", Label: "R1", Kind: layout.Rake, Start: layout.EndStairHead, End: layout.EndStairFoot, LengthOver: layout.OverCentres,
			TotalRise: 42 * length.Inch, Tread: 10 * length.Inch, Risers: 6}
		change(&r)
		return r
	}
	for name, tt := range map[string]struct {
		run   layout.Run
		spec  func(*layout.Spec)
		field string
		fatal bool
	}{
		"bay narrower than its connectors": {level(func(r *layout.Run) { r.Length = 8 * length.Inch }), func(s *layout.Spec) { s.ConnectorTop, s.ConnectorBottom = 3*length.Inch, 3*length.Inch }, "connector_top", true},
		"run shorter than its posts":       {level(func(r *layout.Run) { r.Length = 3 * length.Inch }), nil, "length", true},
		"posts that overlap":               {level(func(r *layout.Run) { r.Posts = []length.Length{40 * length.Inch, 42 * length.Inch} }), nil, "posts", false},
		"post beyond the run":              {level(func(r *layout.Run) { r.Posts = []length.Length{120 * length.Inch} }), nil, "posts", false},
		"riser over its limit":             {rake(func(r *layout.Run) { r.Risers = 5 }), nil, "riser", false},
		"no height for the rails":          {level(func(*layout.Run) {}), func(s *layout.Spec) { s.LevelHeight = 9 * length.Inch }, "under_rail", false},
		"cap longer than any board":        {level(func(*layout.Run) {}), func(s *layout.Spec) { s.StockLengths = []length.Length{48 * length.Inch} }, "stock_lengths", false},
		"no stair":                         {rake(func(r *layout.Run) { r.TotalRise, r.Tread, r.Risers = 0, 0, 0 }), nil, "", true},
	} {
		spec := layout.DefaultSpec(length.Inches)
		if tt.spec != nil {
			tt.spec(&spec)
		}
		job := layout.Job{Units: length.Inches, Rules: "irc-2021", Spec: layout.DefaultSpec(length.Inches), Runs: []layout.Run{tt.run, sound}}
		irc := rules(t, "irc-2021")
		l := layout.Compute(layout.Input{Run: tt.run, Spec: spec, Rules: irc, Unit: length.Inches})
		found := false
		for _, p := range l.Problems {
			found = found || p.Fatal == tt.fatal && (tt.field == "" || p.Field == tt.field) && len(p.Sentence) > 20
		}
		if !found {
			t.Errorf("%s: problems %+v, want one at the field %q", name, l.Problems, tt.field)
		}
		all, err := layout.ComputeJob(job)
		if err != nil || len(all) != 2 || len(all[1].Bays) != 2 || all[1].Bays[0].Planned == nil {
			t.Errorf("%s: the sound run is not laid out beside it: %v", name, err)
		}
	}
}

// TestLimitExactlyMet: a gap of exactly the limit is too wide where the code says under (IRC 2018 R312.1.3: a 4 in sphere must not pass)
// and wide enough where it says at most (Ontario 9.8.8.5: 100 mm), so that the count differs by one. Were either bound read as the other,
// this would fail.
func TestLimitExactlyMet(t *testing.T) {
	for _, tt := range []struct {
		rules  string
		unit   length.Unit
		member length.Length
		gap    length.Length
		more   int
	}{
		{"irc-2018", length.Inches, length.Inch, 4 * length.Inch, 1},
		{"ontario-9.8", length.Millimetres, 20 * length.Millimetre, 100 * length.Millimetre, 0},
	} {
		for n := 1; n <= 12; n++ {
			spec := layout.DefaultSpec(tt.unit)
			spec.InfillMode, spec.InfillWidth, spec.InfillGap, spec.ConnectorBottom = layout.EqualGaps, tt.member, tt.gap, 0
			clear := length.Length(n)*tt.member + length.Length(n+1)*tt.gap
			in := layout.Compute(layout.Input{Run: single(clear), Spec: spec, Rules: rules(t, tt.rules), Unit: tt.unit}).Bays[0].Planned.Infill
			if in.Least != n || in.Count != n+tt.more {
				t.Errorf("%s, %d gaps of exactly %v: %d members (least %d), want %d", tt.rules, n+1, tt.gap, in.Count, in.Least, n+tt.more)
			}
		}
	}
}

// TestOddBay: a bay under two gaps wide says so; a wider one does not.
func TestOddBay(t *testing.T) {
	spec := layout.DefaultSpec(length.Inches)
	for _, tt := range []struct {
		clear length.Length
		odd   bool
	}{{5 * length.Inch, true}, {8 * length.Inch, true}, {30 * length.Inch, false}} {
		in := layout.Compute(layout.Input{Run: single(tt.clear), Spec: spec, Rules: rules(t, "irc-2018"), Unit: length.Inches}).Bays[0].Planned.Infill
		last := in.Why[len(in.Why)-1]
		if got := last == "This bay is under two gaps wide: look at it beside its neighbours before it is cut, or move a post."; got != tt.odd {
			t.Errorf("bay of %v: %q", tt.clear, last)
		}
	}
}
