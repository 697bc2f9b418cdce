package layout

import (
	"strings"

	"newelbook/checklist/length"
)

// PieceID is the permanent id of a piece: the id of its run, and what it is there as the layout labels it: "k7d2/B2 top", "k7d2/P3",
// "k7d2/cap 1". It stays the same when the run is laid out or labelled anew, as the ids of places do.
func (l Layout) PieceID(p Piece) string {
	return l.RunID + "/" + strings.TrimLeft(strings.TrimPrefix(p.Label, l.Label), "- ")
}

// StockSection is the section of a piece as the yard knows it: how a rail stands is no matter of its stock.
func (p Piece) StockSection() string {
	for _, stands := range []string{RailOnEdge, RailFlat} {
		if plain, ok := strings.CutSuffix(p.Section, ", "+stands); ok {
			return plain
		}
	}
	return p.Section
}

// StockSpecies is the key of the species that a piece of this specification is of; empty for blocking, which is of the framing's
// wood, and the specification does not name it.
func (p Piece) StockSpecies(spec Spec) string {
	if p.What == "blocking" {
		return ""
	}
	return spec.Species
}

// Boarded says whether a piece is cut out of a board. What is not is bought by count.
func (p Piece) Boarded() bool {
	switch p.What {
	case "baluster", "upright", "panel", "cable", sleeveWall:
		return false
	}
	return !strings.HasSuffix(p.What, " sleeve")
}

// Takes is the length of board that a piece of the layout takes: its cut length, and with slanted ends its depth in the plane of the rake
// times rise over run more, rounded up to the grid; both ends slant alike, so that is owed once. On the level it is what its ends at turned posts
// take. spec is the run's.
func (p Piece) Takes(l Layout, spec Spec) length.Length {
	st := l.Stair
	if st == nil || st.Tread <= 0 {
		return p.Length + p.Over.RoundUp(spec.Grid)
	}
	var depth length.Length
	switch p.What {
	case "top rail", "bottom rail":
		switch {
		case spec.RailRakeEnd == EndSquare:
		case spec.RailOrientation == RailFlat:
			depth = spec.RailThickness
		default:
			depth = spec.RailWidth
		}
	case "baluster", "upright":
		depth = spec.InfillWidth
	case "cap rail":
		if spec.CapRakeEnd != EndSquare {
			depth = spec.CapThickness
		}
	}
	return p.Length + length.MulDiv(depth, int64(st.Riser), int64(st.Tread)).RoundUp(spec.Grid)
}
