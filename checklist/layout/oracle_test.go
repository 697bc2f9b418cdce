package layout_test

import (
	"math"
	"math/big"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// The oracle below lays out a level bay by brute force over big rationals, with equal gaps or at fixed centres. It shares nothing with the
// package but the length type: counts are tried one by one, at fixed centres about a member and about a space, and every mark and gap is a
// rational until it is compared.

// oracleBay is what the oracle finds.
type oracleBay struct {
	count, least         int
	marks, fromPost, top []length.Length // top is nil where the top rail is marked as the bottom one is
	largest, dried       *big.Rat        // dried is the largest once the members have shrunk about their centres
	ends                 []*big.Rat
}

// oracleRail is a rail between two faces that are clear apart at its height, the datum-side one shift further from the datum than it
// is at the bottom rail.
type oracleRail struct {
	clear, allowance int64
	shift            *big.Rat
}

// oracleTask is what decides a bay.
type oracleTask struct {
	bottom, top              oracleRail
	member, gap, limit, grid int64
	dry                      int64 // the member's width once dry; as member where it is dry already
	strict                   bool  // a gap of exactly the limit fails
	fixed                    int64 // fixed centres; zero for equal gaps
	centred                  string
}

// whole is a whole number of nanometres as a rational.
func whole(n int64) *big.Rat { return big.NewRat(n, 1) }

// roundRat rounds a rational to a grid, halves away from zero.
func roundRat(r *big.Rat, grid int64) *big.Rat {
	q := new(big.Rat).Quo(new(big.Rat).Abs(r), whole(grid))
	q.Add(q, big.NewRat(1, 2))
	n := new(big.Int).Div(q.Num(), q.Denom())
	n.Mul(n, big.NewInt(grid))
	if r.Sign() < 0 {
		n.Neg(n)
	}
	return new(big.Rat).SetInt(n)
}

// start is where the rail's datum end stands from the datum-side face at its height: its allowance, and half of what rounding took off.
func (r oracleRail) start(grid int64) *big.Rat {
	ideal := r.clear - 2*r.allowance
	return whole(r.allowance + (ideal-ideal/grid*grid)/2)
}

// gaps are the spaces that members with these centres, from the datum-side face, leave in an opening.
func (o oracleTask) gaps(clear int64, centres []*big.Rat) []*big.Rat {
	var all []*big.Rat
	face := new(big.Rat)
	for _, c := range centres {
		next := new(big.Rat).Sub(c, whole(o.member/2))
		all = append(all, new(big.Rat).Sub(next, face))
		face = new(big.Rat).Add(next, whole(o.member))
	}
	return append(all, new(big.Rat).Sub(whole(clear), face))
}

// ownTop says whether the top rail is marked otherwise than the bottom one: another opening or connector, or a lean that can be marked.
func (o oracleTask) ownTop() bool {
	return o.top.clear != o.bottom.clear || o.top.allowance != o.bottom.allowance || new(big.Rat).Abs(o.top.shift).Cmp(big.NewRat(o.grid, 2)) > 0
}

// passes says whether a gap keeps to the limit.
func (o oracleTask) passes(gap *big.Rat) bool {
	c := gap.Cmp(whole(o.limit))
	return c < 0 || c == 0 && !o.strict
}

// places are the exact centres of n members from the datum-side face: with equal gaps across the opening, or at fixed centres about the
// middle of a length that starts at from.
func (o oracleTask) places(n int64, from *big.Rat, long int64) []*big.Rat {
	var all []*big.Rat
	for i := int64(1); i <= n; i++ {
		var c *big.Rat
		if o.fixed == 0 {
			c = new(big.Rat).Mul(big.NewRat(o.bottom.clear-n*o.member, n+1), whole(i))
			c.Add(c, big.NewRat((2*i-1)*o.member, 2))
		} else {
			c = new(big.Rat).Add(from, big.NewRat(long+(2*i-1-n)*o.fixed, 2))
		}
		all = append(all, c)
	}
	return all
}

// try sets out n members, each plumb, and says whether every gap by every set of marks is inside the limit, wet and dry.
func (o oracleTask) try(n int64) (bay oracleBay, legal bool) {
	bay = oracleBay{count: int(n), largest: new(big.Rat), dried: new(big.Rat)}
	zero, rail := new(big.Rat), (o.bottom.clear-2*o.bottom.allowance)/o.grid*o.grid
	onRail, onPlan, onTop := []*big.Rat{}, []*big.Rat{}, []*big.Rat{}
	hung := o.places(n, o.bottom.start(o.grid), rail)
	for i, centre := range o.places(n, zero, o.bottom.clear) {
		mark := roundRat(new(big.Rat).Sub(hung[i], o.bottom.start(o.grid)), o.grid)
		plan := roundRat(centre, o.grid)
		top := new(big.Rat).Sub(centre, o.top.shift)
		top = roundRat(top.Sub(top, o.top.start(o.grid)), o.grid)
		onRail, onPlan, onTop = append(onRail, new(big.Rat).Add(mark, o.bottom.start(o.grid))), append(onPlan, plan), append(onTop, new(big.Rat).Add(top, o.top.start(o.grid)))
		bay.marks = append(bay.marks, length.Length(mark.Num().Int64()))
		bay.fromPost = append(bay.fromPost, length.Length(plan.Num().Int64()))
		if o.ownTop() {
			bay.top = append(bay.top, length.Length(top.Num().Int64()))
		}
	}
	sets := [][]*big.Rat{o.gaps(o.bottom.clear, onRail), o.gaps(o.bottom.clear, onPlan)}
	if o.ownTop() {
		sets = append(sets, o.gaps(o.top.clear, onTop))
	}
	legal = true
	for _, spaces := range sets {
		bay.ends = append(bay.ends, spaces[0], spaces[n])
		for i, space := range spaces {
			grown := new(big.Rat).Add(space, whole(o.member-o.dry))
			if i == 0 || i == int(n) {
				grown = new(big.Rat).Add(space, big.NewRat(o.member-o.dry, 2))
			}
			if n == 0 {
				grown = space
			}
			if space.Cmp(bay.largest) > 0 {
				bay.largest = space
			}
			if grown.Cmp(bay.dried) > 0 {
				bay.dried = grown
			}
			legal = legal && o.passes(space) && o.passes(grown) && space.Sign() >= 0
		}
	}
	return bay, legal
}

// within says whether no gap of a bay is over the design gap, wet or dry.
func (o oracleTask) within(bay oracleBay) bool {
	return bay.largest.Cmp(whole(o.gap)) <= 0 && bay.dried.Cmp(whole(o.gap)) <= 0
}

// middle says whether n members have in the middle of the bay what is wanted there: a member where they are odd, a space where even.
func (o oracleTask) middle(n int64) bool {
	return o.centred == layout.CentredBest || (o.centred == layout.CentredMember) == (n%2 == 1)
}

// atFixed takes of every count whose end spaces keep to the limit the one whose first end space is nearest to half of the centres, the
// fewest on a tie.
func (o oracleTask) atFixed() (best oracleBay, found bool) {
	var away *big.Rat
	for n := int64(0); (n-1)*o.fixed < o.bottom.clear+o.fixed; n++ {
		if !o.middle(n) {
			continue
		}
		bay, _ := o.try(n)
		if slices.ContainsFunc(bay.ends, func(end *big.Rat) bool { return end.Sign() < 0 || !o.passes(end) }) {
			continue
		}
		d := new(big.Rat).Sub(bay.ends[0], big.NewRat(o.fixed, 2))
		if d.Abs(d); !found || d.Cmp(away) < 0 {
			best, found, away = bay, true, d
		}
	}
	best.least = best.count
	return best, found
}

// short says whether the connectors take the whole of a rail, on the grid.
func (r oracleRail) short(grid int64) bool { return (r.clear-2*r.allowance)/grid <= 0 }

// oracle takes the least count of which no gap on the rounded marks, wet or dry, is over the design gap or fails the limit; where there is
// none among the counts that fit, the least that keeps to the limit. least goes by the exact gaps alone. A bay of which a rail would have no
// length is not laid out.
func (o oracleTask) oracle() (oracleBay, bool) {
	if o.bottom.short(o.grid) || o.top.short(o.grid) {
		return oracleBay{}, false
	}
	if o.fixed > 0 {
		return o.atFixed()
	}
	least := -1
	var legal []oracleBay
	for n := int64(0); n*o.member <= o.bottom.clear; n++ {
		gap := big.NewRat(o.bottom.clear-n*o.member, n+1)
		if gap.Cmp(whole(o.gap)) > 0 || n > 0 && gap.Add(gap, whole(o.member-o.dry)).Cmp(whole(o.gap)) > 0 {
			continue
		}
		if least < 0 {
			least = int(n)
		}
		if bay, ok := o.try(n); ok && o.middle(n) {
			bay.least = least
			if legal = append(legal, bay); o.within(bay) {
				return bay, true
			}
		}
	}
	if len(legal) == 0 {
		return oracleBay{}, false
	}
	return legal[0], true
}

// TestInfillAgainstOracle compares count, marks and largest gap with the oracle, in inches under a strict limit and in
// millimetres under an inclusive one: of bays as planned, and as measured between posts that lean as they like.
func TestInfillAgainstOracle(t *testing.T) {
	irc, ontario := rules(t, "irc-2018"), rules(t, "ontario-9.8")
	rapid.Check(t, func(t *rapid.T) {
		unit, applied, over := length.Inches, irc, 48*length.Inch
		if rapid.Bool().Draw(t, "metric") {
			unit, applied, over = length.Millimetres, ontario, 1200*length.Millimetre
		}
		limit, _ := applied.Figure(codes.OpeningLevel)
		spec := layout.DefaultSpec(unit)
		spec.InfillWidth = rapid.SampledFrom([]length.Length{38 * length.Millimetre, 19 * length.Millimetre, length.Inch * 3 / 2, length.Inch * 3 / 4}).Draw(t, "member")
		spec.InfillGap = rapid.SampledFrom([]length.Length{limit.Value, 95 * length.Millimetre, length.Inch * 15 / 4, 60 * length.Millimetre}).Draw(t, "gap")
		spec.ConnectorBottom, spec.ConnectorTop = sixteenths(t, "allowance", 0, 1), sixteenths(t, "at the top", 0, 1)
		spec.InfillMoisture = rapid.SampledFrom([]string{layout.StockDry, layout.StockWet}).Draw(t, "moisture")
		spec.InfillMode = rapid.SampledFrom([]string{layout.EqualGaps, layout.FixedCentres}).Draw(t, "mode")
		spec.InfillCentres = sixteenths(t, "centres", 2, 6)
		spec.InfillCentred = rapid.SampledFrom([]string{layout.CentredBest, layout.CentredMember, layout.CentredSpace}).Draw(t, "centred")
		clear := sixteenths(t, "clear", 3, 100) + length.Length(rapid.IntRange(0, 1).Draw(t, "odd"))*length.Millimetre/2
		run := layout.Run{Label: "R1", Kind: layout.Level, Start: layout.EndFree, End: layout.EndFree, ClearOpening: clear}
		in := layout.Input{Run: run, Spec: spec, Rules: applied, Unit: unit}
		top, shift := clear, new(big.Rat)
		built := rapid.Bool().Draw(t, "built")
		if built {
			lean := sixteenths(t, "lean", -1, 1)
			top += sixteenths(t, "wider at the top", -1, 1)
			between := layout.Compute(in).Heights
			shift = new(big.Rat).Mul(whole(int64(lean)), big.NewRat(int64(between.TopRailTop-between.BottomRailTop), int64(over)))
			in.Built = map[int]layout.Opening{1: {Bottom: clear, Top: top, LeanFrom: &lean}}
		}
		l := layout.Compute(in)
		got := l.Bays[0].Planned
		if built {
			got = l.Bays[0].Built
		}
		task := oracleTask{
			bottom: oracleRail{int64(clear), int64(spec.ConnectorBottom), new(big.Rat)}, top: oracleRail{int64(top), int64(spec.ConnectorTop), shift},
			member: int64(spec.InfillWidth), gap: int64(spec.InfillGap), limit: int64(limit.Value), grid: int64(spec.Grid), strict: limit.Bound == codes.Under,
			dry: dried(t, spec), centred: spec.InfillCentred,
		}
		if spec.InfillMode == layout.FixedCentres {
			task.fixed = int64(spec.InfillCentres)
		}
		want, ok := task.oracle()
		if task.fixed > 0 && !ok {
			// No count has legal ends: what is laid out all the same says so.
			if len(told(l, "")) == 0 {
				t.Fatal("no count has legal ends, and nothing is said of it")
			}
			return
		}
		if (got != nil) != ok {
			t.Fatalf("laid out = %v, the oracle says %v: %v", got != nil, ok, l.Problems)
		}
		if !ok {
			return
		}
		if task.fixed == 0 && !task.within(want) && len(told(l, "no count of")) == 0 {
			t.Fatalf("a gap is over the design gap, and nothing is said of it: %v", l.Problems)
		}
		infill := got.Infill
		if infill.Count != want.count || infill.Least != want.least || !slices.Equal(infill.Marks, want.marks) || !slices.Equal(infill.FromPost, want.fromPost) || !slices.Equal(infill.TopMarks, want.top) {
			t.Fatalf("count %d (least %d), marks %v, top %v; the oracle has %d (least %d), %v, top %v", infill.Count, infill.Least, infill.Marks, infill.TopMarks, want.count, want.least, want.marks, want.top)
		}
		if infill.Largest.Rat().Cmp(want.largest) != 0 {
			t.Fatalf("largest gap %v, the oracle has %s", infill.Largest, want.largest)
		}
		if off := new(big.Rat).Sub(infill.DryGap.Rat(), want.dried); task.dry < task.member && infill.Count > 0 && off.Abs(off).Cmp(whole(1)) >= 0 {
			t.Fatalf("largest gap once dry %v, the oracle has %s", infill.DryGap, want.dried)
		}
	})
}

// dried is the width of a member of the job's species once it has dried to 12 % from fibre saturation at 30 %, by the linear method of the
// Wood Handbook (from memory); as it is where it comes dry.
func dried(t *rapid.T, spec layout.Spec) int64 {
	if spec.InfillMoisture != layout.StockWet {
		return int64(spec.InfillWidth)
	}
	species, ok := codes.SpeciesByKey(spec.Species)
	if !ok {
		t.Fatalf("species %q is not known", spec.Species)
	}
	return int64(spec.InfillWidth) - int64(math.Round(float64(spec.InfillWidth)*species.Shrinkage.Tangential/100*(30-12)/30))
}
