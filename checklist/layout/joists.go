package layout

import (
	"fmt"

	"newelbook/checklist/length"
)

// Joist is one joist whose end meets the rim under a run: its number from the datum, and its centre, near and far face from there. The
// end joist of the frame, which stands out of the row, has no number.
type Joist struct {
	Number int           `json:"number,omitempty"`
	Centre length.Length `json:"centre"`
	Near   length.Length `json:"near"`
	Far    length.Length `json:"far"`
}

// Name is what a joist is called in a sentence.
func (j Joist) Name() string {
	if j.Number == 0 {
		return "the end joist"
	}
	return fmt.Sprintf("joist %d", j.Number)
}

// joistAt is the joist of a thickness whose near face stands at a place.
func joistAt(near, thick length.Length) *Joist {
	return &Joist{Centre: near + thick/2, Near: near, Far: near + thick}
}

// Frame is how the framing under a level run ends, and what is beside an edge that runs along the joists.
type Frame struct {
	// Start and End are the end joists, where the frame ends with the run: the row of joists stops between them. Nil where it goes on, or
	// where the first joist of the row is itself the end of the frame. At a run alongside the joists they are the rims that those end at, under
	// the runs round its square corners.
	Start *Joist `json:"start,omitempty"`
	End   *Joist `json:"end,omitempty"`
	// First is the centre of the first joist of the row where it is not given and the frame ends at the datum: that joist ends it.
	First length.Length `json:"first,omitempty"`
	// Bay is, at a run that stands alongside the joists, the clear distance between the outer joist and the next; BayBy is the label of
	// the run whose joists give it, empty where a full bay is taken.
	Bay   length.Length `json:"bay,omitempty"`
	BayBy string        `json:"bay_by,omitempty"`
	// KnownFrom and KnownTo are how far the edge and the joists behind it are known where the deck turns at an angle that is not square:
	// past there the framing under the other run stands in the way, and what this one's ends at is not known. Nil elsewhere.
	KnownFrom *length.Length `json:"known_from,omitempty"`
	KnownTo   *length.Length `json:"known_to,omitempty"`
}

// Span is a clear space between two joists, from the face of the one to that of the next, from the datum.
type Span struct {
	From length.Length `json:"from"`
	To   length.Length `json:"to"`
}

// joistRow is the joists under a run: a row at equal centres, and the end joists of its frame. They are counted from 0, the first of the
// row; before is at -1, where there is one.
type joistRow struct {
	first, spacing, thick length.Length
	start, end            *Joist
	from, to              *length.Length // as far as they are known, nil where they go on
}

// rowOf is the joists of a run whose frame is known; false where they do not meet its edge end on, or are not given.
func rowOf(r Run, spec Spec, f *Frame) (joistRow, bool) {
	row := joistRow{first: r.FirstJoist, spacing: spec.JoistSpacing, thick: spec.JoistWidth}
	if f != nil {
		row.start, row.end, row.from, row.to = f.Start, f.End, f.KnownFrom, f.KnownTo
		if f.First != 0 {
			row.first = f.First
		}
	}
	return row, r.Joists == JoistsAcross && row.thick > 0 && row.spacing > row.thick
}

// stops is one past the last joist of the row that stands clear of the frame's end joist; only of a row that ends.
func (row joistRow) stops() int {
	return max(0, floorDiv(row.end.Near-row.thick+row.thick/2-row.first, row.spacing)+1)
}

// at is a joist by its place in the row; false for one that is not there or not known.
func (row joistRow) at(i int) (Joist, bool) {
	j, ok := row.goingOn(i)
	known := (row.from == nil || j.Near >= *row.from) && (row.to == nil || j.Far <= *row.to)
	return j, ok && known
}

// goingOn is the same of a row that is known as far as it goes.
func (row joistRow) goingOn(i int) (Joist, bool) {
	switch {
	case i == -1 && row.start != nil:
		return *row.start, true
	case i < 0:
		return Joist{}, false
	case row.end != nil && i >= row.stops():
		return *row.end, i == row.stops()
	}
	j := joistAt(row.first+length.Length(i)*row.spacing-row.thick/2, row.thick)
	j.Number = i + 1
	return *j, true
}

// before is the place in the row of the last joist whose centre is not past x; -1 where there is none.
func (row joistRow) before(x length.Length) int {
	i := max(-1, floorDiv(x-row.first, row.spacing))
	if row.end == nil || i < row.stops()-1 {
		return i
	}
	if row.end.Centre <= x {
		return row.stops()
	}
	return row.stops() - 1
}

// space is the clear space before a joist of the row; false where there is none, or where it is so wide that a joist must be missing.
func (row joistRow) space(i int) (Span, bool) {
	a, has := row.at(i - 1)
	b, hasNext := row.at(i)
	return Span{a.Far, b.Near}, has && hasNext && b.Near > a.Far && b.Near-a.Far <= row.spacing
}

// Joists lists the joists under a run whose centres stand from one place to another, both from the datum and included. There are none
// where the joists do not meet the edge end on, or are not given; spec is the run's, its overrides laid over the job's, and frame its
// layout's.
func Joists(r Run, spec Spec, frame *Frame, from, to length.Length) []Joist {
	row, ok := rowOf(r, spec, frame)
	if !ok {
		return nil
	}
	var all []Joist
	if row.from != nil {
		from = max(from, *row.from+row.thick/2)
	}
	if row.to != nil {
		to = min(to, *row.to-row.thick/2)
	}
	for i := row.before(from - 1); ; i++ {
		j, ok := row.goingOn(i)
		switch {
		case ok && j.Centre > to, !ok && i >= 0:
			return all
		case ok && j.Centre >= from:
			all = append(all, j)
		}
	}
}
