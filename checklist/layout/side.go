package layout

import (
	"cmp"
	"fmt"
	"strings"
)

// deckSides is on which side of its runs each outline of a job has the deck, as far as that is said or can be told. An outline is named by its first run,
// whose way is 1; a run that goes off from the first post of another goes the other way, since the way about the deck comes back along the one and goes
// on along the other.
type deckSides struct {
	outline map[string]string // of each run
	way     map[string]int    // of each run, 1 or -1
	said    map[string]int    // of each outline, by the first run of it that says so
	by      map[string]string // label of that run
	turned  map[string]int    // degrees that its level runs turn to the right
	flights map[string]int    // flights that have it on the right, less those that have it on the left: they go off away from it
}

// newDeckSides goes through the runs in order.
func newDeckSides(runs []Run) deckSides {
	d := deckSides{map[string]string{}, map[string]int{}, map[string]int{}, map[string]string{}, map[string]int{}, map[string]int{}}
	by := map[string]Run{}
	for _, r := range runs {
		of, joined := d.outline[r.StartAt]
		d.way[r.Label] = 1
		if joined = joined && r.StartAt != ""; !joined {
			of = r.Label
		} else if d.way[r.Label] = d.way[r.StartAt]; r.Join == JoinFirst {
			d.way[r.Label] = -d.way[r.StartAt]
		}
		d.outline[r.Label] = of
		if joined {
			d.join(of, r, by[r.StartAt])
		}
		if d.said[of] == 0 && r.deckSide() != 0 {
			d.said[of], d.by[of] = d.way[r.Label]*r.deckSide(), r.Label
		}
		by[r.Label] = r
	}
	return d
}

// join takes over what a run tells by how it turns from the one that it starts at. Of a flight and a level run that meet at its head the flight goes off, or
// comes up, on the side that the deck is not on (plane geometry: the deck lies on beyond the head).
func (d deckSides) join(of string, r, before Run) {
	turn, meets := signed(r.Turn), before.End
	if r.Join == JoinFirst {
		turn, meets = signed(180-r.Turn), before.Start
	}
	switch up, down := r.Kind == Rake, before.Kind == Rake; {
	case !up && !down:
		d.turned[of] += d.way[before.Label] * turn
	case up && down || up && r.Start != EndStairHead || down && meets != EndStairHead || turn == 180:
	default:
		d.flights[of] -= d.way[before.Label] * cmp.Compare(turn, 0)
	}
}

// of is the side of a run that the deck is on, 1 for the right of the way along and -1 for the left, and what that was taken from.
func (d deckSides) of(label string) (side int, from string) {
	of := d.outline[label]
	switch said, turned, flights := d.said[of], d.turned[of], d.flights[of]; {
	case said != 0:
		side, from = said, "as "+d.by[of]+" says"
	case turned != 0:
		side, from = turned, "taken from the turns: say it at a run where it is not"
	case flights != 0:
		side, from = flights, "taken from the way that a flight goes off: say it at a run where it is not"
	default:
		side, from = 1, "taken so: say it at the run where it is not"
	}
	if side < 0 {
		return -d.way[label], from
	}
	return d.way[label], from
}

// DeckSides maps the labels of runs to the side of them that the deck is on, 1 for the right of the way along and -1 for the left: as the
// first of the runs that are joined says, or else the side to which the level ones turn more, or else that which flights go off away from.
func DeckSides(runs []Run) map[string]int {
	d, sides := newDeckSides(runs), map[string]int{}
	for _, r := range runs {
		sides[r.Label], _ = d.of(r.Label)
	}
	return sides
}

// DeckSideSays is on which side of one of the runs the deck is, and what that was taken from, as a sentence.
func DeckSideSays(runs []Run, label string) string {
	side, from := newDeckSides(runs).of(label)
	return deckSideSays("on the "+sideName(side), from)
}

func deckSideSays(side, from string) string {
	return fmt.Sprintf("Going along from the datum, the deck is %s (%s).", side, from)
}

// deckSide is the side that the run says its deck is on, zero where it says none.
func (r Run) deckSide() int { return map[string]int{DeckRight: 1, DeckLeft: -1}[r.DeckSide] }

// sides says on which side of its level runs each outline has the deck, and from what: the frame at a corner goes by it.
func (b *planner) sides(runs []Run) {
	for outline := 1; outline <= b.plan.Outlines; outline++ {
		on := map[int][]string{} // runs by the side that they have it on
		var order []int
		var says, other *Run // the run that says which side, and one that says otherwise
		from := ""
		for _, r := range runs {
			at, placed := b.at[r.Label]
			if !placed || b.plan.Runs[at].Outline != outline || r.Kind == Rake {
				continue
			}
			side := b.plan.Runs[at].DeckOn
			if on[side] == nil {
				order = append(order, side)
			}
			on[side] = append(on[side], r.Label)
			_, from = b.joints.deck.of(r.Label)
			switch own := r.deckSide(); {
			case own == 0:
			case says == nil:
				says = &r
			case own != side && other == nil:
				other = &r
			}
		}
		if len(order) == 0 {
			continue
		}
		var sides []string
		for _, side := range order {
			sides = append(sides, fmt.Sprintf("on the %s of %s", sideName(side), listed(on[side])))
		}
		b.note("%s", deckSideSays(strings.Join(sides, " and "), from))
		if other != nil {
			b.problem(other.Label, "deck_side", "%s has the deck on its %s, and by the side of %s, which it is joined to, it would be on its %s: the runs of one outline have it on one side of the way round. The layout goes by %s.",
				other.Label, other.DeckSide, says.Label, sideName(b.plan.Runs[b.at[other.Label]].DeckOn), says.Label)
		}
	}
}

// sideName is a side of a run in words.
func sideName(side int) string {
	if side < 0 {
		return DeckLeft
	}
	return DeckRight
}

// listed is names in a sentence.
func listed(names []string) string {
	last := len(names) - 1
	if last == 0 {
		return names[0]
	}
	return strings.Join(names[:last], ", ") + " and " + names[last]
}
