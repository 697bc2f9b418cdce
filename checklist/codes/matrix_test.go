package codes_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// The words of a cell of the matrix.
const (
	inside   = "inside"
	outside  = "outside"
	notAsked = "not asked"
	noFigure = "no figure"
)

// situation is one thing as found, held to one rule set.
type situation struct {
	name string
	cell func(rules codes.Applied) string
}

// inAll returns whether a value is inside every figure of these keys that the rule set has.
func inAll(rules codes.Applied, value length.Length, keys ...string) string {
	cell := noFigure
	for _, key := range keys {
		f, found := rules.Figure(key)
		switch {
		case !found:
		case !f.Bound.Test(value, f.Value):
			return outside
		default:
			cell = inside
		}
	}
	return cell
}

// inFigure is the answer of a figure that was looked up.
func inFigure(value length.Length) func(codes.AppliedFigure, bool) string {
	return func(f codes.AppliedFigure, found bool) string {
		switch {
		case !found:
			return noFigure
		case f.Bound.Test(value, f.Value):
			return inside
		}
		return outside
	}
}

// held is a value held to the figures of the keys.
func held(name string, value length.Length, keys ...string) situation {
	return situation{name, func(rules codes.Applied) string { return inAll(rules, value, keys...) }}
}

// openEdge is an edge without a guard, over ground measured at these places.
func openEdge(name string, points ...codes.DropPoint) situation {
	return situation{name, func(rules codes.Applied) string {
		if required, _ := codes.GuardRequired(rules, points, length.InchFraction); required {
			return outside
		}
		return notAsked
	}}
}

// flat is ground at one depth, from the edge to well beyond any zone.
func flat(name string, depth length.Length) situation {
	return openEdge(name, drop(0, depth), drop(1500*mm, depth))
}

// levelGuard is a level guard of that height where the deck stands that far above the ground.
func levelGuard(name string, height, deck length.Length) situation {
	return situation{name, func(rules codes.Applied) string { return inFigure(height)(codes.GuardHeight(rules, deck)) }}
}

// landing is the guard of a landing of a stair.
func landing(name string, height, insideEdge length.Length) situation {
	return situation{name, func(rules codes.Applied) string { return inFigure(height)(codes.LandingHeight(rules, insideEdge)) }}
}

// flight is a flight of stairs without a handrail.
func flight(risers int) situation {
	return situation{fmt.Sprintf("%d risers", risers), func(rules codes.Applied) string {
		f, found := rules.Figure(codes.StairHandrailRisers)
		switch {
		case !found:
			return noFigure
		case f.Bound.TestNumber(float64(risers), f.Number):
			return outside
		}
		return notAsked
	}}
}

// pitch is a stair of that rise and going, held to its pitch.
func pitch(name string, rise, going length.Length) situation {
	return situation{name, func(rules codes.Applied) string {
		f, found := rules.Figure(codes.StairPitchMax)
		switch {
		case !found:
			return noFigure
		case f.Bound.TestNumber(codes.Pitch(rise, going), f.Number):
			return inside
		}
		return outside
	}}
}

// member is a member that helps climbing, at that height above the floor, where the deck stands that far above the ground.
func member(name string, height, deck length.Length) situation {
	return situation{name, func(rules codes.Applied) string {
		asked, ruled := codes.ClimbZoneAsked(rules, deck)
		inZone, _ := codes.InClimbZone(rules, height)
		switch {
		case !ruled:
			return noFigure
		case !asked:
			return notAsked
		case inZone:
			return outside
		}
		return inside
	}}
}

// group is the situations of one subject.
type group struct {
	name       string
	situations []situation
}

// matrixGroups lists every situation of the matrix.
func matrixGroups() []group {
	const (
		deck = 3000 * mm
		high = 5000 * mm
		hand = codes.HandrailHeightMin
		rail = codes.HandrailHeightMax
	)
	at := func(f func(string, length.Length, length.Length) situation, deck length.Length, rows ...row) []situation {
		var all []situation
		for _, r := range rows {
			all = append(all, f(r.name, r.value, deck))
		}
		return all
	}
	by := func(keys []string, rows ...row) []situation {
		var all []situation
		for _, r := range rows {
			all = append(all, held(r.name, r.value, keys...))
		}
		return all
	}
	return []group{
		{"Edge without a guard, level ground, drop", []situation{
			flat("24 in", 24*in), flat("24.01 in", 2401*in/100), flat("600 mm", 600*mm), flat("601 mm", 601*mm), flat("29 in", 29*in),
			flat("30 in", 30*in), flat("30.01 in", 3001*in/100), flat("999 mm", 999*mm), flat("1000 mm", 1000*mm),
		}},
		{"Edge without a guard, sloping ground", []situation{
			openEdge("28 in at the edge, 34 in at 36 in out", drop(0, 28*in), drop(36*in, 34*in)),
			openEdge("28 in, 29 in at 36 in, 34 in at 40 in", drop(0, 28*in), drop(36*in, 29*in), drop(40*in, 34*in)),
			openEdge("400 mm, 1000 mm at 1200 mm out", drop(0, 400*mm), drop(1200*mm, 1000*mm)),
			openEdge("400 mm, 1000 mm at 1201 mm out", drop(0, 400*mm), drop(1201*mm, 1000*mm)),
			openEdge("100 mm, falling 1 in 2 to 500 mm", drop(0, 100*mm), drop(800*mm, 500*mm)),
			openEdge("100 mm, falling 401 in 800 to 501 mm", drop(0, 100*mm), drop(800*mm, 501*mm)),
		}},
		{"Level guard, deck 3 m above ground, height", at(levelGuard, deck,
			row{"29.9 in", 299 * in / 10}, row{"30 in", 30 * in}, row{"900 mm", 900 * mm}, row{"914.4 mm, 36 in", 36 * in}, row{"999 mm", 999 * mm},
			row{"1000 mm", 1000 * mm}, row{"1066.8 mm, 42 in", 42 * in}, row{"1067 mm", 1067 * mm}, row{"1070 mm", 1070 * mm},
			row{"1099 mm", 1099 * mm}, row{"1100 mm", 1100 * mm})},
		{"Level guard 900 mm high, deck above ground", []situation{
			levelGuard("1800 mm", 900*mm, 1800*mm), levelGuard("1801 mm", 900*mm, 1801*mm),
		}},
		{"Guard of a stair, height", by([]string{codes.GuardHeightStair},
			row{"33.9 in", 339 * in / 10}, row{"863.6 mm, 34 in", 34 * in}, row{"865 mm", 865 * mm}, row{"900 mm", 900 * mm},
			row{"914.4 mm, 36 in", 36 * in}, row{"1000 mm", 1000 * mm}, row{"1066.8 mm, 42 in", 42 * in}, row{"1067 mm", 1067 * mm})},
		{"Guard of a stair whose top is the handrail, height", by([]string{codes.GuardHandrailTopMin, codes.GuardHandrailTopMax},
			row{"34 in", 34 * in}, row{"38 in", 38 * in}, row{"38.01 in", 3801 * in / 100})},
		{"Guard of a landing", []situation{
			landing("865 mm, inside edge 500 mm", 865*mm, 500*mm), landing("865 mm, inside edge 600 mm", 865*mm, 600*mm),
			landing("900 mm, inside edge 2000 mm", 900*mm, 2000*mm), landing("1000 mm, inside edge 2000 mm", 1000*mm, 2000*mm),
		}},
		{"Gap in a level guard", by([]string{codes.OpeningLevel}, gaps()...)},
		{"Gap in the guard of a stair", by([]string{codes.OpeningStair}, gaps()...)},
		{"Gap under the bottom rail", by([]string{codes.OpeningUnderRail},
			row{"75 mm", 75 * mm}, row{"100 mm", 100 * mm}, row{"4 in", 4 * in})},
		{"Gap in the upper part of a guard, over 36 in up", by([]string{codes.OpeningUpper},
			row{"4 in", 4 * in}, row{"4 3/8 in", 4*in + 3*in/8})},
		{"Gap between ropes, and between their supports", []situation{
			held("ropes 3 1/2 in", 3*in+in/2, codes.OpeningRope), held("ropes 3.6 in", 36*in/10, codes.OpeningRope),
			held("supports 4 ft", 48*in, codes.OpeningRopeSupport), held("supports 4.5 ft", 54*in, codes.OpeningRopeSupport),
		}},
		{"Triangle of riser, tread and bottom rail, sphere", by([]string{codes.OpeningTriangle},
			row{"100 mm", 100 * mm}, row{"124 mm", 124 * mm}, row{"149 mm", 149 * mm}, row{"150 mm", 150 * mm}, row{"5.98 in", 598 * in / 100}, row{"6 in", 6 * in})},
		{"Riser", by([]string{codes.StairRiserMin, codes.StairRiserMax},
			row{"100 mm", 100 * mm}, row{"125 mm", 125 * mm}, row{"150 mm", 150 * mm}, row{"7 in", 7 * in}, row{"190 mm", 190 * mm}, row{"196 mm", 196 * mm}, row{"7 3/4 in, 196.85 mm", 7*in + 3*in/4},
			row{"197 mm", 197 * mm}, row{"200 mm", 200 * mm}, row{"8 in", 8 * in}, row{"220 mm", 220 * mm}, row{"221 mm", 221 * mm})},
		{"Tread", by([]string{codes.StairTreadMin, codes.StairTreadMax},
			row{"220 mm", 220 * mm}, row{"9.9 in", 99 * in / 10}, row{"10 in", 10 * in}, row{"255 mm", 255 * mm}, row{"11 in", 11 * in}, row{"280 mm", 280 * mm}, row{"300 mm", 300 * mm}, row{"356 mm", 356 * mm})},
		{"Pitch, rise and going", []situation{
			pitch("190 and 280 mm, 34.2 degrees", 190*mm, 280*mm), pitch("200 and 250 mm, 38.7 degrees", 200*mm, 250*mm),
			pitch("198 and 220 mm, 41.99 degrees", 198*mm, 220*mm), pitch("220 and 220 mm, 45 degrees", 220*mm, 220*mm),
		}},
		{"Twice the rise plus the going", by([]string{codes.StairRelationMin, codes.StairRelationMax},
			row{"150 and 220 mm, 520 mm", codes.StepRelation(150*mm, 220*mm)}, row{"150 and 250 mm, 550 mm", codes.StepRelation(150*mm, 250*mm)},
			row{"200 and 300 mm, 700 mm", codes.StepRelation(200*mm, 300*mm)}, row{"220 and 300 mm, 740 mm", codes.StepRelation(220*mm, 300*mm)})},
		{"Greatest less smallest riser", by([]string{codes.StairRiserUniform},
			row{"5 mm", 5 * mm}, row{"9.525 mm, 3/8 in", 3 * in / 8}, row{"0.39 in", 39 * in / 100}, row{"10 mm", 10 * mm}, row{"11 mm", 11 * mm})},
		{"Difference of neighbouring risers", by([]string{codes.StairRiserUniformAdjacent},
			row{"5 mm", 5 * mm}, row{"6 mm", 6 * mm})},
		{"Flight without a handrail", []situation{flight(2), flight(3), flight(4), flight(5)}},
		{"Handrail, height", by([]string{hand, rail},
			row{"30 in", 30 * in}, row{"33.75 in", 33*in + 3*in/4}, row{"34 in", 34 * in}, row{"865 mm", 865 * mm}, row{"900 mm", 900 * mm}, row{"38 in", 38 * in},
			row{"1000 mm", 1000 * mm}, row{"42 in", 42 * in}, row{"1070 mm", 1070 * mm})},
		{"Member that helps climbing, deck 3 m above ground, height", at(member, deck,
			row{"139 mm", 139 * mm}, row{"140 mm", 140 * mm}, row{"500 mm", 500 * mm}, row{"900 mm", 900 * mm}, row{"950 mm", 950 * mm})},
		{"Member that helps climbing, deck 5 m above ground, height", at(member, high,
			row{"140 mm", 140 * mm}, row{"150 mm", 150 * mm}, row{"500 mm", 500 * mm}, row{"760 mm", 760 * mm}, row{"800 mm", 800 * mm}, row{"900 mm", 900 * mm}, row{"950 mm", 950 * mm})},
	}
}

// row is one value of a group.
type row struct {
	name  string
	value length.Length
}

// gaps are the clear gaps of an infill.
func gaps() []row {
	return []row{
		{"3 15/16 in", 3*in + 15*in/16}, {"99.9 mm", 999 * mm / 10}, {"100 mm", 100 * mm}, {"101.5 mm", 1015 * mm / 10},
		{"101.6 mm, 4 in", 4 * in}, {"111 mm", 111 * mm}, {"111.125 mm, 4 3/8 in", 4*in + 3*in/8}, {"124 mm", 124 * mm}, {"125 mm", 125 * mm},
	}
}

const matrixHead = `Thirteen rule sets by what might be found on a deck: how each answers, worked out from the data.

inside      it keeps to the figure
outside     it does not; for an edge without a guard or a flight without a handrail: one is called for
not asked   the rule set has the figure, and by it nothing is called for here
no figure   the rule set has no such figure: it says neither yes nor no

Where a rule set has no zone out from the edge, every drop that was measured counts.
Figures from memory answer as the others do: figures.golden has the standing of each.
`

// The matrix is reviewed by eye against the codes: a change of one cell is a change of what the program tells an inspector.
func TestMatrix(t *testing.T) {
	var out bytes.Buffer
	out.WriteString(matrixHead)
	var sets []codes.Applied
	heads := []string{"irc-2018", "irc-2021", "irc-2024", "ibc-2021", "wisconsin", "california", "existing", "nbc-2020", "ontario", "england", "ireland", "australia", "new-zealand"}
	for i, id := range codes.IDs() {
		if i >= len(heads) || !strings.HasPrefix(id, heads[i]) {
			t.Fatalf("column %d is not of %s", i, id)
		}
		sets = append(sets, applied(t, id))
	}
	line := func(name string, cells []string) {
		text := fmt.Sprintf("  %-40s", name)
		for _, c := range cells {
			text += fmt.Sprintf("%-11s", c)
		}
		fmt.Fprintln(&out, strings.TrimRight(text, " "))
	}
	count := 0
	for _, g := range matrixGroups() {
		fmt.Fprintf(&out, "\n%s\n", g.name)
		line("", heads)
		for _, s := range g.situations {
			count++
			var cells []string
			for _, rules := range sets {
				cells = append(cells, s.cell(rules))
			}
			line(s.name, cells)
		}
	}
	fmt.Fprintf(&out, "\n%d situations, %d rule sets\n", count, len(sets))
	golden(t, "matrix.golden", out.Bytes())
}
