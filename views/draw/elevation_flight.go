package draw

import "newelbook/checklist/layout"

// thrift is how far the lettering of a flight is cut back, so that the paper goes to the drawing.
type thrift int

// From all words to the fewest.
const (
	allWords  thrift = iota // the triangle of its rake stands over the drawing where it finds no room in it
	roomyOnly               // the triangle and its words only where the drawing leaves room for them
	listed                  // so, and the marks on the faces of its posts stand in a list in the drawing or beside it, not in rows under it
	unmarked                // these marks are left to a table
	sparse                  // and so are the clear openings, what the ends are, and a scale bar for which the drawing leaves no room
)

// stepsBelow is how many scales smaller than the bare outline needs a flight is drawn for the marks on its posts.
const stepsBelow = 2

// flightSheet draws a flight at the largest scale at which its figures and the marks on its posts find room; words fill what that leaves.
// Where the marks alone would make it smaller than stepsBelow, they are left to a table.
func flightSheet(l layout.Layout, o ElevationOptions) Sheet {
	all := scales(o.Style)
	bare := 0
	for bare < len(all)-1 && !newElevation(l, o, all[bare], 1).outlineFits() {
		bare++
	}
	within := all[bare:min(bare+stepsBelow+1, len(all))]
	for _, levels := range [][]thrift{{allWords, roomyOnly, listed}, {unmarked}} {
		for _, den := range within {
			for _, t := range levels {
				if s, ok := flightAt(l, o, den, t); ok {
					return s
				}
			}
		}
	}
	var s Sheet
	for _, den := range all[bare:] {
		var ok bool
		if s, ok = flightAt(l, o, den, sparse); ok {
			break
		}
	}
	return s
}

// flightAt draws a flight at a scale with so much lettering, and says whether that keeps to the paper and misses nothing.
func flightAt(l layout.Layout, o ElevationOptions, den float64, t thrift) (Sheet, bool) {
	e := newElevation(l, o, den, 1)
	e.thrift = t
	s := e.sheet()
	s.Unmarked = t >= unmarked
	return s, o.holds(s) && !e.missing
}

// outlineFits says whether what is built has room on the paper, without any lettering.
func (e *elevation) outlineFits() bool {
	e.things()
	return e.o.holds(e.trim(Sheet{}))
}
