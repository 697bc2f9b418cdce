package layout_test

import (
	"math"
	"math/big"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// cableSpec is a specification of cables between rails that leave 25 in: 6 1/2 in (3 under the rail, a rail of 3 1/2 on edge) to
// 31 1/2 (36 less a cap of 1 and a rail of 3 1/2).
func cableSpec() layout.Spec {
	s := layout.DefaultSpec(length.Inches)
	s.InfillKind, s.LevelHeight, s.CapThickness, s.UnderRail = layout.FillCables, 36*length.Inch, length.Inch, 3*length.Inch
	s.RailWidth, s.RailOrientation = 3*length.Inch+length.Inch/2, layout.RailOnEdge
	s.CableDiameter, s.CableGap, s.CableSupport = 3*length.Inch/16, 3*length.Inch, 36*length.Inch
	return s
}

// single is one bay of a clear opening between walls.
func single(clear length.Length) layout.Run {
	return layout.Run{Label: "R1", Kind: layout.Level, Start: layout.EndWall, End: layout.EndWall, ClearOpening: clear}
}

// TestCables is worked by hand: 25 in less 7 cables of 3/16 leaves 8 gaps of 2.9609375 in, one fewer 3.41. The figures of rope and
// cable infill are Wis. Admin. Code SPS 325 Appendix B s. 13 item 4: 3 1/2 in, uprights within 4 ft.
func TestCables(t *testing.T) {
	wisconsin := rules(t, "wisconsin-sps-325")
	l := layout.Compute(layout.Input{Run: single(68 * length.Inch), Spec: cableSpec(), Rules: wisconsin, Unit: length.Inches})
	in := l.Bays[0].Planned.Infill
	if in.Cables == nil || in.Cables.Count != 7 || in.Cables.Least != 7 {
		t.Fatalf("cables %+v, want 7", in.Cables)
	}
	if got := in.Cables.Gap.Inches(); math.Abs(got-2.9609375) > 1e-6 {
		t.Errorf("gap %v, want 2.9609375", got)
	}
	// The first centre is 6.5 + 2.9609375 + 0.09375 = 9.5547, which is 9 9/16 on the grid; the last is its mirror, 28.4453, 28 7/16.
	if first, last := in.Cables.Marks[0].Format(length.FeetInches), in.Cables.Marks[6].Format(length.FeetInches); first != `9 9/16"` || last != `2' 4 7/16"` && last != `28 7/16"` {
		t.Errorf("marks from %s to %s", first, last)
	}
	// 68 in of opening is over 36: one upright of 3/4 leaves 33.625 each side, within 48.
	if in.Count != 1 || in.Largest.Inches() < 33 || in.Largest.Inches() > 34 {
		t.Errorf("%d uprights with %v between, want 1", in.Count, in.Largest)
	}
	if got, want := in.Counted(), "7 cables and 1 upright"; got != want {
		t.Errorf("Counted() = %q, want %q", got, want)
	}
	if in.Widest() != in.Cables.Largest || in.Widest() == in.Largest {
		t.Errorf("Widest() = %v, the cables' own is %v", in.Widest(), in.Cables.Largest)
	}
}

// TestCablesKeepTheirOwnLimit: a design gap wider than the rule set's figure for cables is cut down to it, strict or not, and the
// general opening of the rule set does not stand in for it.
func TestCablesKeepTheirOwnLimit(t *testing.T) {
	for _, tt := range []struct {
		rules string
		key   string
	}{{"wisconsin-sps-325", codes.OpeningRope}, {"irc-2021", codes.OpeningLevel}} {
		applied := rules(t, tt.rules)
		limit, ok := applied.Figure(tt.key)
		if !ok {
			t.Fatalf("%s has no %s", tt.rules, tt.key)
		}
		spec := cableSpec()
		spec.CableGap = 5 * length.Inch
		l := layout.Compute(layout.Input{Run: single(30 * length.Inch), Spec: spec, Rules: applied, Unit: length.Inches})
		c := l.Bays[0].Planned.Infill.Cables
		if !limit.Bound.Test(c.Largest, limit.Value) || c.Count <= c.Least {
			t.Errorf("%s: %d cables (least %d) leave %v; the limit is %s %v", tt.rules, c.Count, c.Least, c.Largest, limit.Bound, limit.Value)
		}
		if c.Count == 0 || layout.EqualGap(25*length.Inch, spec.CableDiameter, c.Count-1) < limit.Value-spec.Grid {
			t.Errorf("%s: one cable fewer than %d would have kept the limit", tt.rules, c.Count)
		}
	}
}

// TestCablesAgainstOracle compares count and marks on the level with a count by rationals that tries every number from none and takes the
// first of which neither the exact gap nor one between rounded marks is over the design gap; where none is, the first by the exact gap.
func TestCablesAgainstOracle(t *testing.T) {
	irc := rules(t, "irc-2021")
	rapid.Check(t, func(t *rapid.T) {
		spec := cableSpec()
		spec.CableDiameter = rapid.SampledFrom([]length.Length{length.Inch / 8, 3 * length.Inch / 16, 5 * length.Millimetre}).Draw(t, "cable")
		spec.CableGap = sixteenths(t, "gap", 1, 3)
		spec.UnderRail = sixteenths(t, "under", 1, 3)
		l := layout.Compute(layout.Input{Run: single(30 * length.Inch), Spec: spec, Rules: irc, Unit: length.Inches})
		c := l.Bays[0].Planned.Infill.Cables
		low := spec.UnderRail + spec.RailWidth
		clear := 36*length.Inch - spec.CapThickness - spec.RailWidth - low
		at := func(n int64) (exact *big.Rat, marks []*big.Rat, widest *big.Rat) {
			exact, widest = big.NewRat(int64(clear)-n*int64(spec.CableDiameter), n+1), new(big.Rat)
			face := whole(int64(low))
			space := func(to *big.Rat) {
				if gap := new(big.Rat).Sub(to, face); gap.Cmp(widest) > 0 {
					widest = gap
				}
			}
			radius := big.NewRat(int64(spec.CableDiameter), 2)
			for i := int64(1); i <= n; i++ {
				centre := new(big.Rat).Mul(exact, whole(i))
				centre.Add(centre, big.NewRat((2*i-1)*int64(spec.CableDiameter), 2))
				mark := roundRat(centre.Add(centre, whole(int64(low))), int64(spec.Grid))
				space(new(big.Rat).Sub(mark, radius))
				marks, face = append(marks, mark), new(big.Rat).Add(mark, radius)
			}
			space(whole(int64(low + clear)))
			return exact, marks, widest
		}
		n, first := int64(0), int64(-1)
		for ; ; n++ {
			exact, _, widest := at(n)
			if exact.Sign() < 0 {
				n = first
				break
			}
			if exact.Cmp(whole(int64(spec.CableGap))) > 0 {
				continue
			}
			if first < 0 {
				first = n
			}
			if widest.Cmp(whole(int64(spec.CableGap))) <= 0 {
				break
			}
		}
		if int64(c.Count) != n || int64(c.Least) != first {
			t.Fatalf("%d cables, least %d; the oracle has %d, least %d", c.Count, c.Least, n, first)
		}
		_, marks, _ := at(n)
		for i, mark := range c.Marks {
			if marks[i].Cmp(mark.Rat()) != 0 {
				t.Fatalf("cable %d at %v, the oracle has %s", i+1, mark, marks[i].FloatString(0))
			}
		}
	})
}

// TestRakedCables: on a rake the opening is square to the cables, so that fewer are needed than plumb heights would ask for, and
// gaps and cables still fill the space between the rails.
func TestRakedCables(t *testing.T) {
	irc := rules(t, "irc-2021")
	rapid.Check(t, func(t *rapid.T) {
		spec := cableSpec()
		spec.StairHeight = 36 * length.Inch
		run := layout.DefaultRun(layout.Rake, length.Inches)
		run.Label, run.Riser, run.Tread, run.Risers = "R1", sixteenths(t, "riser", 5, 8), sixteenths(t, "tread", 9, 13), 4
		l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: irc, Unit: length.Inches})
		c := l.Bays[0].Planned.Infill.Cables
		cos := float64(run.Tread) / math.Hypot(float64(run.Riser), float64(run.Tread))
		clear := float64(l.Heights.TopRailTop-l.Heights.RailVertical-l.Heights.BottomRailTop) * cos
		if filled := float64(c.Gap)*float64(c.Count+1) + float64(c.Diameter)*float64(c.Count); math.Abs(filled-clear) > 1000 {
			t.Fatalf("gaps and cables come to %v nm, the space is %v", filled, clear)
		}
		limit, _ := irc.Figure(codes.OpeningLevel)
		if c.Largest >= limit.Value || c.Smallest < 0 || (c.Largest-c.Gap).Abs() > spec.Grid {
			t.Fatalf("gaps %v to %v about %v", c.Smallest, c.Largest, c.Gap)
		}
		if !slices.IsSorted(c.Marks) {
			t.Fatalf("marks are out of order: %v", c.Marks)
		}
		if c.Largest > spec.CableGap {
			t.Fatalf("a gap of %v is over the design gap of %v", c.Largest, spec.CableGap)
		}
		// Two rounded marks are at most the grid further apart than they should be.
		if fewer := (clear - float64(c.Diameter)*float64(c.Count-1)) / float64(c.Count); fewer+float64(spec.Grid)*cos <= float64(spec.CableGap) {
			t.Fatalf("one of %d cables fewer would leave %v", c.Count, fewer)
		}
	})
}

// TestCableFootholds: where a rule set wants a zone free of footholds at this drop, level cables in it are pointed out.
func TestCableFootholds(t *testing.T) {
	for _, tt := range []struct {
		rules string
		drop  length.Length
		want  bool
	}{
		{"ontario-9.8", 3000 * length.Millimetre, true},         // 9.8.8.6 (official text): 140 to 900 mm
		{"australia-ncc-2022", 5000 * length.Millimetre, true},  // Housing Provisions 11.3.4 (from memory): over a drop of more than 4 m
		{"australia-ncc-2022", 3000 * length.Millimetre, false}, // the drop does not ask for the zone
		{"irc-2021", 5000 * length.Millimetre, false},           // it has no such zone
	} {
		run := single(30 * length.Inch)
		run.DeckHeight = tt.drop
		l := layout.Compute(layout.Input{Run: run, Spec: cableSpec(), Rules: rules(t, tt.rules), Unit: length.Inches})
		got := slices.ContainsFunc(l.Problems, func(p layout.Problem) bool { return strings.Contains(p.Sentence, "foothold") })
		if got != tt.want {
			t.Errorf("%s at %v: foothold told = %v, want %v", tt.rules, tt.drop, got, tt.want)
		}
	}
}

// TestPanels: panels and gaps fill the opening exactly, no panel is wider than the greatest, one fewer would be, and no gap is
// over the limit or under nothing.
func TestPanels(t *testing.T) {
	irc := rules(t, "irc-2021")
	rapid.Check(t, func(t *rapid.T) {
		spec := layout.DefaultSpec(length.Inches)
		spec.InfillKind, spec.PanelMost, spec.PanelGap = layout.FillPanels, sixteenths(t, "most", 12, 60), length.Length(rapid.IntRange(1, 32).Draw(t, "gap"))*length.Inch/16
		clear := sixteenths(t, "clear", 10, 110)
		l := layout.Compute(layout.Input{Run: single(clear), Spec: spec, Rules: irc, Unit: length.Inches})
		in := l.Bays[0].Planned.Infill
		gap, _ := new(big.Rat).SetString(in.IdealGap)
		total := new(big.Rat).Add(new(big.Rat).Mul(gap, big.NewRat(int64(in.Count+1), 1)), big.NewRat(int64(in.Count)*int64(in.Member), 1))
		if total.Cmp(clear.Rat()) != 0 {
			t.Fatalf("panels and gaps come to %s of %d", total, clear)
		}
		if in.Member > spec.PanelMost || in.Member%spec.Grid != 0 || in.Smallest < 0 {
			t.Fatalf("%d panels of %v, gaps from %v", in.Count, in.Member, in.Smallest)
		}
		if n := length.Length(in.Count - 1); n > 0 && clear-(n+1)*spec.PanelGap <= n*spec.PanelMost {
			t.Fatalf("%d panels, and one fewer would be no wider than %v", in.Count, spec.PanelMost)
		}
		if gap.Cmp(spec.PanelGap.Rat()) < 0 {
			t.Fatalf("gap of %s is under the edge gap", gap)
		}
		h := l.Heights
		if want := h.TopRailTop - h.RailVertical - h.BottomRailTop - 2*spec.PanelGap; in.Cut != want.RoundDown(spec.Grid) {
			t.Fatalf("panels are %v high, want %v", in.Cut, want)
		}
	})
}

// TestCentredAsAsked: the middle of a bay is what the builder asks for, with no more than one member added, and the gaps keep the limit.
func TestCentredAsAsked(t *testing.T) {
	irc := rules(t, "irc-2021")
	limit, _ := irc.Figure(codes.OpeningLevel)
	rapid.Check(t, func(t *rapid.T) {
		spec := layout.DefaultSpec(length.Inches)
		spec.InfillMode = rapid.SampledFrom([]string{layout.EqualGaps, layout.FixedCentres}).Draw(t, "mode")
		clear := sixteenths(t, "clear", 20, 80)
		counts := map[string]layout.Infill{}
		for _, c := range []string{layout.CentredBest, layout.CentredMember, layout.CentredSpace} {
			spec.InfillCentred = c
			counts[c] = layout.Compute(layout.Input{Run: single(clear), Spec: spec, Rules: irc, Unit: length.Inches}).Bays[0].Planned.Infill
		}
		if n := counts[layout.CentredMember].Count; n%2 != 1 {
			t.Fatalf("%d balusters with one in the middle", n)
		}
		if n := counts[layout.CentredSpace].Count; n%2 != 0 {
			t.Fatalf("%d balusters with a space in the middle", n)
		}
		best := counts[layout.CentredBest]
		for _, c := range []string{layout.CentredMember, layout.CentredSpace} {
			got := counts[c]
			if c == best.CentredOn && got.Count != best.Count {
				t.Fatalf("%s asked for gives %d, left to the count %d", c, got.Count, best.Count)
			}
			if spec.InfillMode == layout.EqualGaps && (got.Count > best.Count+1 || got.Count < best.Count || !limit.Bound.Test(got.Largest, limit.Value)) {
				t.Fatalf("%s: %d against %d, widest %v", c, got.Count, best.Count, got.Largest)
			}
		}
	})
}

// TestInfillRefusals: what cannot be filled says what to do.
func TestInfillRefusals(t *testing.T) {
	for name, tt := range map[string]struct {
		change func(*layout.Spec)
		clear  length.Length
		want   string
	}{
		"no cable":         {func(s *layout.Spec) { s.CableDiameter = 0 }, 30 * length.Inch, "Enter the cable's diameter"},
		"no room":          {func(s *layout.Spec) { s.UnderRail = 40 * length.Inch }, 30 * length.Inch, "no room for cables"},
		"panel width":      {func(s *layout.Spec) { s.InfillKind, s.PanelMost = layout.FillPanels, 0 }, 30 * length.Inch, "Enter the greatest width of a panel"},
		"all gap":          {func(s *layout.Spec) { s.InfillKind, s.PanelGap = layout.FillPanels, 3*length.Inch }, 6 * length.Inch, "leaves no panel between its edge gaps"},
		"many cables":      {func(s *layout.Spec) { s.CableDiameter = length.Millimetre / 100 }, 30 * length.Inch, "check the heights and the cable's diameter"},
		"no upright width": {func(s *layout.Spec) { s.InfillWidth = 0 }, 68 * length.Inch, "Enter the upright width"},
	} {
		spec := cableSpec()
		tt.change(&spec)
		l := layout.Compute(layout.Input{Run: single(tt.clear), Spec: spec, Rules: rules(t, "irc-2021"), Unit: length.Inches})
		if l.Bays[0].Planned != nil || !slices.ContainsFunc(l.Problems, func(p layout.Problem) bool { return p.Fatal && strings.Contains(p.Sentence, tt.want) }) {
			t.Errorf("%s: problems %v, want one with %q", name, l.Problems, tt.want)
		}
	}
}

// TestBalusterInShoes: a baluster between rails is cut to what is between them, less what its shoes keep it off each; what that is stays open
// until it is given.
func TestBalusterInShoes(t *testing.T) {
	for _, tt := range []struct {
		seat  length.Length
		given bool
		short length.Length
		note  string
	}{
		{0, false, 0, "rail to rail: how far its shoes keep it off the rails is not given, so take that off twice"},
		{0, true, 0, "rail to rail"},
		{length.Inch / 8, true, length.Inch / 4, `1/8" short of each rail, in its shoes`},
	} {
		l := computed(t, single(60*length.Inch), func(s *layout.Spec) { s.InfillSeat, s.InfillSeatGiven = tt.seat, tt.given })
		h, in := l.Heights, l.Bays[0].Planned.Infill
		if want := h.TopRailTop - h.RailVertical - h.BottomRailTop - tt.short; in.Cut != want.RoundDown(l.Grid) || in.CutNote != tt.note {
			t.Errorf("seat %v given %v: cut %v, %s; want %v, %s", tt.seat, tt.given, in.Cut, in.CutNote, want, tt.note)
		}
	}
}

// TestPanelGapsAreSaid is worked by hand: 1001 mm less two edge gaps of 6 leaves a panel of 989, whose middle at 500.5 is marked at 501, with 6.5
// and 5.5 beside it; one of 1000 leaves 988 in its middle. 1002 for two panels less three gaps leaves 984, two of 492 on centres of 252 and 750.
func TestPanelGapsAreSaid(t *testing.T) {
	spec := layout.DefaultSpec(length.Millimetres)
	spec.InfillKind, spec.PanelGap = layout.FillPanels, 6*length.Millimetre
	for _, tt := range []struct {
		clear, most int
		says        string
	}{
		{1001, 1200, "; by the rounding 5.5 mm to 6.5 mm clear at their sides, not 6 mm"},
		{1000, 1200, ""},
		{1002, 600, ""},
		{1003, 600, "clear at their sides, not 6 mm"}, // panels of 492 and a millimetre over for three gaps
	} {
		spec.PanelMost = length.Length(tt.most) * length.Millimetre
		l := layout.Compute(layout.Input{Run: single(length.Length(tt.clear) * length.Millimetre), Spec: spec, Rules: rules(t, "ontario-9.8"), Unit: length.Millimetres})
		note := l.Bays[0].Planned.Infill.CutNote
		if got := strings.Contains(note, "by the rounding"); got != (tt.says != "") || !strings.Contains(note, tt.says) {
			t.Errorf("%d: %q, want %q", tt.clear, note, tt.says)
		}
	}
}

// TestCableEnds: a cable is measured from where it starts to where it ends, a wall or the outer face of an end post: 68 in between walls, and half
// a post more for each post, whose centres the length is between.
func TestCableEnds(t *testing.T) {
	for _, tt := range []struct {
		start, end layout.EndKind
		says       string
		long       float64
	}{
		{layout.EndWall, layout.EndWall, "finished wall to finished wall; ", 68},
		{layout.EndWall, layout.EndFree, "from the finished wall at the datum to the outer face of the end post; ", 69.75},
		{layout.EndFree, layout.EndWall, "from the outer face of the end post at the datum to the finished wall; ", 69.75},
		{layout.EndFree, layout.EndFree, "outer face to outer face of the end posts; ", 71.5},
	} {
		run := layout.Run{Label: "R1", Kind: layout.Level, Start: tt.start, End: tt.end, Length: 68 * length.Inch}
		l := layout.Compute(layout.Input{Run: run, Spec: cableSpec(), Rules: rules(t, "irc-2021"), Unit: length.Inches})
		at := slices.IndexFunc(l.Pieces, func(p layout.Piece) bool { return p.What == "cable" })
		if p := l.Pieces[at]; !strings.HasPrefix(p.Cuts, tt.says) || p.Length != inch(tt.long) {
			t.Errorf("%s to %s: %v, %q; want %v, %q", tt.start, tt.end, p.Length, p.Cuts, tt.long, tt.says)
		}
	}
}
