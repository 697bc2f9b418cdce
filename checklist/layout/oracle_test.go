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

// The oracle below lays out equal gaps in a level bay by brute force over big rationals. It shares nothing with the package
// but the length type: counts are tried one by one, and every mark and gap is a rational until it is compared.

// oracleBay is what the oracle finds.
type oracleBay struct {
	count, least    int
	marks, fromPost []length.Length
	largest         *big.Rat
}

// roundRat rounds a rational that is not negative to a grid, halves up.
func roundRat(r *big.Rat, grid int64) *big.Rat {
	q := new(big.Rat).Quo(r, big.NewRat(grid, 1))
	q.Add(q, big.NewRat(1, 2))
	whole := new(big.Int).Div(q.Num(), q.Denom())
	return new(big.Rat).SetInt(whole.Mul(whole, big.NewInt(grid)))
}

// oracle lays out a bay: rail less allowances rounded down, half of the loss at each end, least count within the design gap,
// then more while a rounded gap, on either set of marks, is not under (or at most) the limit.
func oracle(clear, allowance, member, gap, limit, grid int64, strict bool) (oracleBay, bool) {
	rat := func(n int64) *big.Rat { return big.NewRat(n, 1) }
	ideal := clear - 2*allowance
	cut := ideal / grid * grid
	off := rat(allowance + (ideal-cut)/2)
	out := oracleBay{least: -1}
	for n := int64(0); n*member <= clear; n++ {
		g := big.NewRat(clear-n*member, n+1)
		if g.Cmp(rat(gap)) > 0 {
			continue
		}
		if out.least < 0 {
			out.least = int(n)
		}
		out.marks, out.fromPost, out.largest = nil, nil, new(big.Rat)
		onRail, onPlan := []*big.Rat{}, []*big.Rat{}
		for i := int64(1); i <= n; i++ {
			centre := new(big.Rat).Mul(g, rat(i))
			centre.Add(centre, big.NewRat((2*i-1)*member, 2))
			mark := roundRat(new(big.Rat).Sub(centre, off), grid)
			plan := roundRat(centre, grid)
			onRail, onPlan = append(onRail, new(big.Rat).Add(mark, off)), append(onPlan, plan)
			out.marks = append(out.marks, length.Length(mark.Num().Int64()))
			out.fromPost = append(out.fromPost, length.Length(plan.Num().Int64()))
		}
		legal := true
		for _, centres := range [][]*big.Rat{onRail, onPlan} {
			face := new(big.Rat)
			for i := 0; i <= len(centres); i++ {
				next := rat(clear)
				if i < len(centres) {
					next = new(big.Rat).Sub(centres[i], rat(member/2))
				}
				space := new(big.Rat).Sub(next, face)
				face = new(big.Rat).Add(next, rat(member))
				if space.Cmp(out.largest) > 0 {
					out.largest = space
				}
				if c := space.Cmp(rat(limit)); c > 0 || c == 0 && strict || space.Sign() < 0 {
					legal = false
				}
			}
		}
		if legal {
			out.count = int(n)
			return out, true
		}
	}
	return out, false
}

// TestInfillAgainstOracle compares count, marks and largest gap with the oracle, in inches under a strict limit and in
// millimetres under an inclusive one.
func TestInfillAgainstOracle(t *testing.T) {
	irc, ontario := rules(t, "irc-2018"), rules(t, "ontario-9.8")
	rapid.Check(t, func(t *rapid.T) {
		unit, applied := length.Inches, irc
		if rapid.Bool().Draw(t, "metric") {
			unit, applied = length.Millimetres, ontario
		}
		limit, _ := applied.Figure(codes.OpeningLevel)
		spec := layout.DefaultSpec(unit)
		spec.InfillWidth = rapid.SampledFrom([]length.Length{38 * length.Millimetre, 19 * length.Millimetre, length.Inch * 3 / 2, length.Inch * 3 / 4}).Draw(t, "member")
		spec.InfillGap = rapid.SampledFrom([]length.Length{limit.Value, 95 * length.Millimetre, length.Inch * 15 / 4, 60 * length.Millimetre}).Draw(t, "gap")
		spec.ConnectorBottom = sixteenths(t, "allowance", 0, 1)
		clear := sixteenths(t, "clear", 3, 100) + length.Length(rapid.IntRange(0, 1).Draw(t, "odd"))*length.Millimetre/2
		run := layout.Run{Label: "R1", Kind: layout.Level, Start: layout.EndWall, End: layout.EndWall, ClearOpening: clear}
		l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: applied, Unit: unit})
		want, ok := oracle(int64(clear), int64(spec.ConnectorBottom), int64(spec.InfillWidth), int64(spec.InfillGap), int64(limit.Value), int64(spec.Grid), limit.Bound == codes.Under)
		if (l.Bays[0].Planned != nil) != ok {
			t.Fatalf("laid out = %v, the oracle says %v: %v", l.Bays[0].Planned != nil, ok, l.Problems)
		}
		if !ok {
			return
		}
		in := l.Bays[0].Planned.Infill
		if in.Count != want.count || in.Least != want.least || !slices.Equal(in.Marks, want.marks) || !slices.Equal(in.FromPost, want.fromPost) {
			t.Fatalf("count %d (least %d), marks %v; the oracle has %d (least %d), %v", in.Count, in.Least, in.Marks, want.count, want.least, want.marks)
		}
		if in.Largest.Rat().Cmp(want.largest) != 0 {
			t.Fatalf("largest gap %v, the oracle has %s", in.Largest, want.largest)
		}
	})
}
