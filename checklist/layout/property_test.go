package layout_test

import (
	"math/big"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// drawn is one drawn job of a single run.
type drawn struct {
	in   layout.Input
	grid length.Length
	half length.Length // of the grid, rounded up
}

// sixteenths draws a length on the grid.
func sixteenths(t *rapid.T, label string, least, most int) length.Length {
	return length.Length(rapid.IntRange(least*16, most*16).Draw(t, label)) * length.Inch / 16
}

// draw draws a level or raked run with sensible stock, in either unit.
func draw(t *rapid.T, irc, ontario codes.Applied) drawn {
	unit := rapid.SampledFrom([]length.Unit{length.Inches, length.Millimetres}).Draw(t, "unit")
	spec := layout.DefaultSpec(unit)
	applied := irc
	if unit == length.Millimetres {
		applied = ontario
	}
	spec.PostWidth = rapid.SampledFrom([]length.Length{spec.PostWidth, 140 * length.Millimetre, 5*length.Inch + length.Inch/2, 89*length.Millimetre + 1}).Draw(t, "post")
	spec.InfillWidth = rapid.SampledFrom([]length.Length{length.Inch * 3 / 4, 38 * length.Millimetre, length.Inch * 3 / 2, 19 * length.Millimetre}).Draw(t, "member")
	spec.InfillGap = rapid.SampledFrom([]length.Length{length.Inch * 15 / 4, 95 * length.Millimetre, 4 * length.Inch, 100 * length.Millimetre}).Draw(t, "gap")
	spec.InfillMode = rapid.SampledFrom([]string{layout.EqualGaps, layout.FixedCentres}).Draw(t, "mode")
	spec.InfillMoisture = rapid.SampledFrom([]string{layout.StockDry, layout.StockWet}).Draw(t, "moisture")
	spec.ConnectorTop, spec.ConnectorBottom = sixteenths(t, "top", 0, 1), sixteenths(t, "bottom", 0, 1)
	run := layout.DefaultRun(layout.Level, unit)
	run.Label, run.Length = "R1", sixteenths(t, "length", 24, 400)+length.Length(rapid.IntRange(0, 3).Draw(t, "odd"))
	run.Start = rapid.SampledFrom([]layout.EndKind{layout.EndFree, layout.EndWall, layout.EndCorner}).Draw(t, "start")
	run.End = rapid.SampledFrom([]layout.EndKind{layout.EndFree, layout.EndWall, layout.EndCorner}).Draw(t, "end")
	run.LengthOver = rapid.SampledFrom([]string{layout.OverCentres, layout.OverFaces}).Draw(t, "over")
	if rapid.Bool().Draw(t, "rake") {
		run.Kind, run.Riser, run.Tread, run.Risers = layout.Rake, sixteenths(t, "riser", 5, 8), sixteenths(t, "tread", 9, 13), 4
	}
	return drawn{in: layout.Input{Run: run, Spec: spec, Rules: applied, Unit: unit}, grid: spec.Grid, half: (spec.Grid + 1) / 2}
}

// check runs a property over drawn runs.
func check(t *testing.T, property func(*rapid.T, drawn, layout.Layout)) {
	t.Helper()
	irc, ontario := rules(t, "irc-2018"), rules(t, "ontario-9.8")
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t, irc, ontario)
		property(t, d, layout.Compute(d.in))
	})
}

// TestPiecesAndGapsFillTheOpening: members and gaps add up to the opening exactly, ideal and rounded; bays and posts add up
// to the run.
func TestPiecesAndGapsFillTheOpening(t *testing.T) {
	check(t, func(t *rapid.T, d drawn, l layout.Layout) {
		var posts length.Length
		for _, p := range l.Posts {
			posts += p.Width
		}
		clear := length.Length(0)
		for _, b := range l.Bays {
			if b.Planned == nil {
				t.Fatalf("%s is not laid out: %v", b.Label, l.Problems)
			}
			clear += b.Planned.ClearBottom
			in := b.Planned.Infill
			if in.Mode != layout.EqualGaps {
				continue
			}
			gap, ok := new(big.Rat).SetString(in.IdealGap)
			if !ok {
				t.Fatalf("ideal gap %q is not a quotient", in.IdealGap)
			}
			total := gap.Mul(gap, big.NewRat(int64(in.Count+1), 1))
			total.Add(total, big.NewRat(int64(in.Count)*int64(in.Member), 1))
			if total.Cmp(b.Planned.ClearBottom.Rat()) != 0 {
				t.Fatalf("%d gaps and members come to %s, the opening is %d", in.Count+1, total, b.Planned.ClearBottom)
			}
			if len(in.Marks) != in.Count || len(in.FromPost) != in.Count {
				t.Fatalf("%d marks and %d from the post for %d members", len(in.Marks), len(in.FromPost), in.Count)
			}
		}
		first, last := length.Length(0), l.Length
		if d.in.Run.Start != layout.EndWall {
			first = l.Posts[0].Face
		}
		if d.in.Run.End != layout.EndWall {
			end := l.Posts[len(l.Posts)-1]
			last = end.Face + end.Width
		}
		if posts+clear != last-first {
			t.Fatalf("posts %v and openings %v do not fill the run from %v to %v", posts, clear, first, last)
		}
	})
}

// TestRoundedGapsKeepTheLimit: where the gaps are equal, no gap on rounded marks, wet or dry, fails the limit or is over the design gap, or
// else that is said; and a gap one member fewer would leave is over one of the two, by itself or once the grid is added to it, which is the
// most that two rounded marks can widen it by.
func TestRoundedGapsKeepTheLimit(t *testing.T) {
	check(t, func(t *rapid.T, d drawn, l layout.Layout) {
		key := codes.OpeningLevel
		if l.Kind == layout.Rake {
			key = codes.OpeningStair
		}
		limit, ok := d.in.Rules.Figure(key)
		if !ok {
			t.Fatalf("no figure %s", key)
		}
		for _, b := range l.Bays {
			in := b.Planned.Infill
			if in.Mode != layout.EqualGaps {
				continue
			}
			for _, gap := range []length.Length{in.Largest, in.DryGap, in.EndGap, in.LastGap} {
				if !limit.Bound.Test(gap, limit.Value) {
					t.Fatalf("%s: gap %v is not %s %v", b.Label, gap, limit.Bound, limit.Value)
				}
			}
			if in.Smallest < 0 || in.Smallest > in.Largest {
				t.Fatalf("%s: smallest %v, largest %v", b.Label, in.Smallest, in.Largest)
			}
			if design := d.in.Spec.InfillGap; max(in.Largest, in.DryGap) > design && len(told(l, "no count of")) == 0 {
				t.Fatalf("%s: gaps of %v and, once dry, %v are over the design gap of %v, and nothing is said of it", b.Label, in.Largest, in.DryGap, design)
			}
			// What a member loses as it dries is added to each of the gaps beside it.
			shrinks := in.Member - length.Length(dried(t, d.in.Spec))
			if n := length.Length(in.Count); n > 0 && len(told(l, "no count of")) == 0 {
				dries := shrinks
				if n == 1 {
					dries = 0 // no member is left
				}
				wide := layout.EqualGap(b.Planned.ClearBottom, in.Member, in.Count-1) + d.grid + dries
				if wide <= d.in.Spec.InfillGap && limit.Bound.Test(wide, limit.Value) {
					t.Fatalf("%s: %d members, and one fewer would be within the design gap and the limit, wet and dry, however its marks are rounded", b.Label, in.Count)
				}
				// Exactly: the gap of one fewer is a fraction, which a nanometre may round into the design gap.
				if in.Count == in.Least && b.Planned.ClearBottom-(n-1)*in.Member <= n*(d.in.Spec.InfillGap-dries) {
					t.Fatalf("%s: the least is %d members, and one fewer would be within the design gap, wet and dry", b.Label, in.Count)
				}
			}
			if in.Count < in.Least {
				t.Fatalf("%s: %d members, fewer than the least of %d", b.Label, in.Count, in.Least)
			}
			for _, m := range slices.Concat(in.Marks, in.FromPost) {
				if m%d.grid != 0 {
					t.Fatalf("%s: mark %v is off the grid", b.Label, m)
				}
			}
		}
	})
}

// TestRailsFit: a rail is never longer than its opening less both allowances, and never short by a whole grid.
func TestRailsFit(t *testing.T) {
	check(t, func(t *rapid.T, d drawn, l layout.Layout) {
		for _, b := range l.Bays {
			for _, r := range []layout.Rail{b.Planned.Top, b.Planned.Bottom} {
				if r.Cut > r.Ideal || r.Ideal-r.Cut >= d.grid || r.Cut%d.grid != 0 {
					t.Fatalf("%s: cut %v of %v", r.Label, r.Cut, r.Ideal)
				}
				if plan := r.Clear - 2*r.Allowance; l.Kind == layout.Level && r.Ideal != plan || l.Kind == layout.Rake && r.Ideal <= plan {
					t.Fatalf("%s: ideal %v of %v in plan", r.Label, r.Ideal, plan)
				}
			}
		}
	})
}

// TestBaysKeepTheCentres: bays are no longer than the greatest centres, and one bay fewer would be.
func TestBaysKeepTheCentres(t *testing.T) {
	check(t, func(t *rapid.T, d drawn, l layout.Layout) {
		longest := length.Length(0)
		for _, b := range l.Bays {
			longest = max(longest, b.Centres)
			if b.Centres > d.in.Spec.PostMaxCentres+d.grid {
				t.Fatalf("%s: centres %v", b.Label, b.Centres)
			}
		}
		if n := len(l.Bays); n > 1 && l.EndSpan <= length.Length(n-1)*(d.in.Spec.PostMaxCentres-d.in.Spec.PostWidth) {
			t.Fatalf("%d bays over %v: one fewer would have been enough", n, l.EndSpan)
		}
	})
}

// TestMirror: seen from the other end, the ideal layout is the same, and the rounded one is within one grid of it.
func TestMirror(t *testing.T) {
	check(t, func(t *rapid.T, d drawn, l layout.Layout) {
		back := d.in
		back.Run.Start, back.Run.End = d.in.Run.End, d.in.Run.Start
		m := layout.Compute(back)
		if len(m.Posts) != len(l.Posts) || len(m.Bays) != len(l.Bays) || (m.EndSpan-l.EndSpan).Abs() > 1 { // a post of odd nanometres has no exact middle
			t.Fatalf("%d posts and %d bays one way, %d and %d the other", len(l.Posts), len(l.Bays), len(m.Posts), len(m.Bays))
		}
		for i, p := range l.Posts {
			other := m.Posts[len(m.Posts)-1-i]
			if off := (p.Centre + other.Centre - l.Length).Abs(); off > d.grid+1 {
				t.Fatalf("%s stands %v off its mirror image", p.Label, off)
			}
		}
		// Posts were rounded from either datum, so that openings may differ by a grid: set where the one has them, they are alike.
		there, again := d.in, back
		for _, p := range l.Posts {
			there.Run.Posts = append(there.Run.Posts, p.Centre)
			again.Run.Posts = append(again.Run.Posts, l.Length-p.Centre)
		}
		l, m = layout.Compute(there), layout.Compute(again)
		for i, bay := range l.Bays {
			x, y := bay.Planned, m.Bays[len(m.Bays)-1-i].Planned
			if off := (x.ClearBottom - y.ClearBottom).Abs(); off > 1 { // a post of odd nanometres has no exact middle
				t.Fatalf("%s is %v wide one way, %v the other", bay.Label, x.ClearBottom, y.ClearBottom)
			} else if off != 0 {
				continue
			}
			a, b := x.Infill, y.Infill
			if a.IdealGap != b.IdealGap || a.Count != b.Count {
				t.Fatalf("%s: ideal gap %s of %d one way, %s of %d the other", bay.Label, a.IdealGap, a.Count, b.IdealGap, b.Count)
			}
			for i, mark := range a.Marks {
				if off := (mark + b.Marks[len(b.Marks)-1-i] - x.Bottom.Cut).Abs(); off > d.grid {
					t.Fatalf("%s: mark %d is %v off its mirror image", bay.Label, i+1, off)
				}
			}
		}
	})
}

// TestWiderGapNeverAddsMembers: a wider design gap never asks for more members.
func TestWiderGapNeverAddsMembers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		clear := sixteenths(t, "clear", 1, 120)
		member, gap := sixteenths(t, "member", 1, 3), sixteenths(t, "gap", 1, 5)
		wider := gap + sixteenths(t, "more", 0, 2)
		if a, b := layout.LeastCount(clear, member, gap), layout.LeastCount(clear, member, wider); b > a {
			t.Fatalf("%d members at %v, %d at %v", a, gap, b, wider)
		}
	})
}

// TestComputeNeverPanics: whatever the input, there is a layout, and every bay without parts has a fatal problem.
func TestComputeNeverPanics(t *testing.T) {
	irc := rules(t, "irc-2018")
	wild := rapid.Custom(func(t *rapid.T) length.Length {
		return length.Length(rapid.Int64Range(-2_000_000_000_000, 2_000_000_000_000).Draw(t, "nm"))
	})
	some := rapid.OneOf(rapid.Just(length.Length(0)), rapid.Just(length.Inch), rapid.Just(72*length.Inch), wild)
	rapid.Check(t, func(t *rapid.T) {
		spec := layout.DefaultSpec(length.Inches)
		for _, at := range []*length.Length{&spec.PostWidth, &spec.PostMaxCentres, &spec.InfillWidth, &spec.InfillGap, &spec.InfillCentres,
			&spec.InfillRake, &spec.Grid, &spec.JoistSpacing, &spec.JoistWidth, &spec.JoistDepth, &spec.ConnectorTop, &spec.CapWidth, &spec.RailWidth} {
			if rapid.IntRange(0, 3).Draw(t, "change") == 0 {
				*at = some.Draw(t, "length")
			}
		}
		spec.InfillMode = rapid.SampledFrom([]string{layout.EqualGaps, layout.FixedCentres, ""}).Draw(t, "mode")
		run := layout.Run{
			Label: "R1", Kind: rapid.SampledFrom([]layout.RunKind{layout.Level, layout.Rake, layout.Removable, ""}).Draw(t, "kind"),
			Length: some.Draw(t, "length"), TotalRise: some.Draw(t, "rise"), Riser: some.Draw(t, "riser"), Tread: some.Draw(t, "tread"),
			Risers: rapid.IntRange(-3, 30).Draw(t, "risers"), Joists: layout.JoistsAcross, FirstJoist: some.Draw(t, "first"),
			ClearOpening: rapid.OneOf(rapid.Just(length.Length(0)), some).Draw(t, "clear"), Posts: rapid.SliceOfN(some, 0, 4).Draw(t, "posts"),
		}
		l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: irc, Unit: length.Inches, Built: map[int]layout.Opening{1: {Bottom: some.Draw(t, "built")}}})
		for _, b := range l.Bays {
			if b.Planned == nil && !slices.ContainsFunc(l.Problems, func(p layout.Problem) bool { return p.Place == b.Label && p.Fatal }) {
				t.Fatalf("%s has no parts and no problem: %v", b.Label, l.Problems)
			}
		}
	})
}
