package layout

import (
	"cmp"
	"slices"
	"strings"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// DropSpot is one spot of the survey of drops: how far along the run from its datum, how far out from the edge of the deck, and how far the
// finished grade lies there under the finished decking.
type DropSpot struct {
	Along length.Length `json:"along"`
	Out   length.Length `json:"out"`
	Drop  length.Length `json:"drop"`
}

// Words says where the spot is.
func (s DropSpot) Words(style length.Style) string {
	where := s.Along.Format(style) + " from the datum, "
	if s.Out == 0 {
		return where + "at the edge"
	}
	return where + s.Out.Format(style) + " out from the edge"
}

const (
	mostSpots = 40         // of one run
	outWord   = " out "    // stands before how far out a spot lies
	farthest  = 1200 * in  // out from the edge
	deepest   = 1200 * in  // and down
	longest   = 12000 * in // along the run
)

// dropText shows spots as they are typed.
func dropText(spots []DropSpot, style length.Style) string {
	texts := make([]string, len(spots))
	for i, s := range spots {
		texts[i] = exactText(s.Along, style) + ": " + exactText(s.Drop, style)
		if s.Out != 0 {
			texts[i] += outWord + exactText(s.Out, style)
		}
	}
	return strings.Join(texts, "; ")
}

// drops reads spots, in any order, and returns them along the run and out from the edge. The error is a FieldError.
func (f Field) drops(text string, unit length.Unit) ([]DropSpot, error) {
	var spots []DropSpot
	for _, part := range splitLengths(text) {
		along, rest, found := strings.Cut(part, ":")
		if !found {
			return nil, f.refuse("%s: write each spot as its distance from the datum, a colon and the drop, such as %s. %q has no colon.", f.Label, dropExample(unit), part)
		}
		drop, out, away := strings.Cut(rest+" ", outWord)
		var s DropSpot
		for _, read := range []struct {
			to       *length.Length
			text     string
			min, max length.Length
			given    bool
		}{{&s.Along, along, -240 * in, longest, true}, {&s.Drop, drop, 0, deepest, true}, {&s.Out, out, 0, farthest, away}} {
			if !read.given {
				continue
			}
			one := f
			one.Min, one.Max = read.min, read.max
			l, err := one.parse(strings.TrimSpace(read.text), unit)
			if err != nil {
				return nil, err
			}
			*read.to = l
		}
		if slices.ContainsFunc(spots, func(o DropSpot) bool { return o.Along == s.Along && o.Out == s.Out }) {
			return nil, f.refuse("%s: %q is at a spot that has its drop already.", f.Label, part)
		}
		spots = append(spots, s)
	}
	if len(spots) > mostSpots {
		return nil, f.refuse("%s: enter %d spots or fewer.", f.Label, mostSpots)
	}
	slices.SortFunc(spots, func(a, b DropSpot) int { return cmp.Or(cmp.Compare(a.Along, b.Along), cmp.Compare(a.Out, b.Out)) })
	return spots, nil
}

func dropExample(unit length.Unit) string {
	if unit == length.Millimetres {
		return "0: 1200; 1800: 1260 out 900"
	}
	return "0: 48; 72: 51 1/2 out 36"
}

// Drop is the greatest drop at the run: the greatest of what was given and what was measured spot by spot, else the total rise of its
// stair; zero where none is known.
func (r Run) Drop(s *Stair) length.Length {
	greatest := r.DeckHeight
	for _, spot := range r.Drops {
		greatest = max(greatest, spot.Drop)
	}
	if greatest == 0 && s != nil {
		return s.TotalRise
	}
	return greatest
}

// GuardAsked says whether the rule set asks for a guard at the run, and why. Each place along the run where drops were measured is taken by
// itself, since the slope of the ground counts going out from the edge and not along it: the deepest one that asks for a guard
// governs. A greatest drop given without its spot counts at the edge.
func (r Run) GuardAsked(rules codes.Applied, s *Stair, style length.Style) (required bool, why string) {
	sections := map[length.Length][]codes.DropPoint{}
	var places []length.Length
	for _, spot := range r.Drops {
		if _, known := sections[spot.Along]; !known {
			places = append(places, spot.Along)
		}
		sections[spot.Along] = append(sections[spot.Along], codes.DropPoint{Out: spot.Out, Drop: spot.Drop})
	}
	if given := r.DeckHeight; given > 0 || len(places) == 0 {
		if given == 0 && s != nil {
			given = s.TotalRise
		}
		var points []codes.DropPoint
		if given > 0 {
			points = []codes.DropPoint{{Drop: given}}
		}
		required, why = codes.GuardRequired(rules, points, style)
	}
	deepest := r.DeckHeight
	for _, at := range places {
		asked, reason := codes.GuardRequired(rules, sections[at], style)
		drop := length.Length(0)
		for _, p := range sections[at] {
			drop = max(drop, p.Drop)
		}
		if why == "" || asked && !required || asked == required && drop > deepest {
			required, why, deepest = asked, reason, drop
		}
	}
	return required, why
}
