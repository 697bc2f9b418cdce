package layout

import "strings"

// sides says on which side of its level runs each outline has the deck, and from what: the frame at a corner goes by it.
func (b *planner) sides(runs []Run) {
	for outline := 1; outline <= b.plan.Outlines; outline++ {
		var labels []string
		var says, other *Run // the run that says which side, and one that says otherwise
		side, turns := 0, false
		for _, r := range runs {
			at, placed := b.at[r.Label]
			if !placed || b.plan.Runs[at].Outline != outline || r.Kind == Rake {
				continue
			}
			labels, side, turns = append(labels, r.Label), b.plan.Runs[at].DeckOn, turns || b.plan.Runs[at].Turn != 0
			switch own := r.deckSide(); {
			case own == 0:
			case says == nil:
				says = &r
			case own != says.deckSide() && other == nil:
				other = &r
			}
		}
		if len(labels) == 0 {
			continue
		}
		from := "taken so: say it at the run where it is not"
		switch {
		case says != nil:
			from = "as " + says.Label + " says"
		case turns:
			from = "taken from the turns: say it at a run where it is not"
		}
		b.note("Going along from the datum, the deck is on the %s of %s (%s).", sideName(side), listed(labels), from)
		if other != nil {
			b.problem(other.Label, "deck_side", "%s has the deck on its %s and %s, which it is joined to, on its %s: the runs of one outline have it on one side. The layout goes by %s.",
				other.Label, other.DeckSide, says.Label, says.DeckSide, says.Label)
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
