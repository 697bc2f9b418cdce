package materials

import (
	"fmt"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// Site is what has become of a job: what is cut, what stock is on hand, and what is ordered over.
type Site struct {
	Spares Spares
	Cut    map[string]int // how many of each piece, by its id, are cut and need no board
	OnHand []OnHand
}

// OnHand is boards of one section and length that are there already.
type OnHand struct {
	ID      string        `json:"id"`
	Section string        `json:"section"`
	Species string        `json:"species"` // name, as that of a Stock
	Length  length.Length `json:"length"`
	Count   int           `json:"count"`
}

// Spares is what to order over: boards of each section that any are bought of, and percent of what is counted, rounded up. Zero is none.
type Spares struct{ Boards, Counted, Hardware int }

// SparesOf is the spares of a job's specification.
func SparesOf(spec layout.Spec) Spares {
	return Spares{Boards: spec.SpareBoards, Counted: spec.SpareCounted, Hardware: spec.SpareHardware}
}

// words says what is ordered over, one finished sentence.
func (s Spares) words() string {
	if s == (Spares{}) {
		return "No spares are added: order what you want over for knots, splits and miscuts."
	}
	return fmt.Sprintf("Spares are added, by the job's own setting: %s of each section that is bought, %d %% of what is bought by count, %d %% of the hardware.",
		boards(s.Boards), s.Counted, s.Hardware)
}

// boards is a number of boards in words.
func boards(n int) string {
	if n == 1 {
		return "1 board"
	}
	return fmt.Sprintf("%d boards", n)
}

// KeepFrom is the least length of an offcut that is worth keeping as stock on hand: 12 in (common practice, no source). Of a board
// that leaves less, nothing is offered.
const KeepFrom = 12 * length.Inch

// Rest is what is left of the board as an offcut that may be kept, to its end: nothing where it is shorter than KeepFrom.
func (s Stock) Rest(b Board) length.Length {
	if rest := b.Left + s.EndTrim; b.Left > 0 && rest >= KeepFrom {
		return rest
	}
	return 0
}

// spare adds the spares to what is ordered and counted.
func (m *maker) spare(s Spares) {
	last := map[string]int{} // the longest order of each section comes first
	for i, o := range m.list.Orders {
		key := o.Section + "\n" + o.Species
		if at, ok := last[key]; !ok || o.Length > m.list.Orders[at].Length {
			last[key] = i
		}
	}
	for _, i := range last {
		m.list.Orders[i].Spare = s.Boards
	}
	for i := range m.list.Counted {
		c := &m.list.Counted[i]
		c.Spare = layout.Percent(c.Count, s.Counted)
	}
	for i := range m.list.Hardware {
		h := &m.list.Hardware[i]
		h.Spare = layout.Percent(h.Count, s.Hardware)
	}
	m.list.Spares = s.words()
}
