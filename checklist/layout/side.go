package layout

import (
	"fmt"
	"strings"
)

// sides says on which side of its level runs each outline has the deck, and from what: the frame at a corner goes by it.
func (b *planner) sides(runs []Run) {
	for outline := 1; outline <= b.plan.Outlines; outline++ {
		on := map[int][]string{} // runs by the side that they have it on
		var order []int
		var says, other *Run // the run that says which side, and one that says otherwise
		turns := false
		for _, r := range runs {
			at, placed := b.at[r.Label]
			if !placed || b.plan.Runs[at].Outline != outline || r.Kind == Rake {
				continue
			}
			side := b.plan.Runs[at].DeckOn
			if on[side] == nil {
				order = append(order, side)
			}
			on[side], turns = append(on[side], r.Label), turns || b.plan.Runs[at].Turn != 0
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
		from := "taken so: say it at the run where it is not"
		switch {
		case says != nil:
			from = "as " + says.Label + " says"
		case turns:
			from = "taken from the turns: say it at a run where it is not"
		}
		var sides []string
		for _, side := range order {
			sides = append(sides, fmt.Sprintf("on the %s of %s", sideName(side), listed(on[side])))
		}
		b.note("Going along from the datum, the deck is %s (%s).", strings.Join(sides, " and "), from)
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
