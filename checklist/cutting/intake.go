package cutting

import (
	"cmp"
	"fmt"
	"slices"

	"newelbook/checklist/length"
)

// order is an Input made ready: equal lengths joined, everything sorted, and what cannot be planned set aside.
type order struct {
	in       Input
	pieces   []batch // longest first
	kinds    []kind  // longest first
	unplaced []Unplaced
}

// batch is all the pieces of one length, by label.
type batch struct {
	length length.Length
	count  int
	asked  []Piece
}

// kind is all the boards of one length that are to be bought, where count may be unlimited, or that are on hand.
type kind struct {
	length length.Length
	onHand bool
	count  int
}

// read joins and sorts the input. What comes out does not depend on the order of the entries.
func read(in Input) *order {
	o := &order{in: in}
	asked := slices.DeleteFunc(slices.Clone(in.Pieces), func(p Piece) bool { return p.Count <= 0 })
	slices.SortFunc(asked, func(a, b Piece) int {
		return cmp.Or(cmp.Compare(b.Length, a.Length), cmp.Compare(a.Label, b.Label), cmp.Compare(a.Count, b.Count))
	})
	o.readStock()
	total := 0
	for _, p := range asked {
		if reason := o.refuse(p); reason != "" {
			o.unplaced = append(o.unplaced, Unplaced{p, reason})
			continue
		}
		if rest := p.Count - (MaxPieces - total); rest > 0 {
			o.unplaced = append(o.unplaced, Unplaced{Piece{p.Label, p.Length, rest}, "A plan holds at most 1,000,000 pieces."})
			p.Count -= rest
			if p.Count == 0 {
				continue
			}
		}
		total += p.Count
		last := len(o.pieces) - 1
		if last < 0 || o.pieces[last].length != p.Length {
			o.pieces = append(o.pieces, batch{length: p.Length})
			last++
		}
		o.pieces[last].count += p.Count
		o.pieces[last].asked = append(o.pieces[last].asked, p)
	}
	if len(o.pieces) > 0 {
		shortest := o.pieces[len(o.pieces)-1].length
		o.kinds = slices.DeleteFunc(o.kinds, func(k kind) bool { return o.usable(k.length) < shortest })
	}
	return o
}

// readStock joins the stock by length, longest first and what is on hand before what is to be bought.
func (o *order) readStock() {
	if out(o.in.Kerf) || out(o.in.EndTrim) {
		return
	}
	for _, s := range o.in.Stock {
		if s.Count < 0 || s.OnHand && s.Count == 0 || s.Length > MaxLength || o.usable(s.Length) <= 0 {
			continue
		}
		k := kind{s.Length, s.OnHand, s.Count}
		if s.Count == 0 {
			k.count = unlimited
		}
		i := slices.IndexFunc(o.kinds, func(have kind) bool { return have.length == k.length && have.onHand == k.onHand })
		if i < 0 {
			o.kinds = append(o.kinds, k)
			continue
		}
		o.kinds[i].count = sum(o.kinds[i].count, k.count)
	}
	slices.SortFunc(o.kinds, func(a, b kind) int {
		if c := cmp.Compare(b.length, a.length); c != 0 || a.onHand == b.onHand {
			return c
		}
		if a.onHand {
			return -1
		}
		return 1
	})
}

// onHand is how many of the boards on hand a plan could use at most: one for each piece.
func (o *order) onHand() int {
	boards, pieces := 0, 0
	for _, k := range o.kinds {
		if k.onHand {
			boards = sum(boards, k.count)
		}
	}
	for _, b := range o.pieces {
		pieces += b.count
	}
	return min(boards, pieces)
}

// out says that a kerf or a trim lies outside its range.
func out(l length.Length) bool { return l < 0 || l > MaxLength }

// sum adds two counts, stopping at unlimited.
func sum(a, b int) int {
	if a > unlimited-b {
		return unlimited
	}
	return a + b
}

// usable is what a board of the stock length gives between its trims.
func (o *order) usable(stock length.Length) length.Length { return stock - 2*o.in.EndTrim }

// refuse gives the reason why a piece cannot come out of any board, or nothing.
func (o *order) refuse(p Piece) string {
	switch {
	case out(o.in.Kerf):
		return "Enter a saw kerf of zero or more."
	case out(o.in.EndTrim):
		return "Enter an end trim of zero or more."
	case p.Length <= 0:
		return "Enter a length greater than zero for this piece."
	case len(o.kinds) == 0:
		return "No stock is given that is longer than its two end trims."
	}
	longest := o.kinds[0].length
	if p.Length <= o.usable(longest) {
		return ""
	}
	have, most := p.Length.FormatAgainst(o.usable(longest), o.in.Style)
	if o.in.EndTrim == 0 {
		return fmt.Sprintf("The piece is %s long and the longest stock is %s.", have, most)
	}
	return fmt.Sprintf("The piece is %s long; the longest stock is %s and gives %s once %s is trimmed off each end.",
		have, longest.Format(o.in.Style), most, o.in.EndTrim.Format(o.in.Style))
}

// unit is the longest length that all the stock is a whole number of: the costs of stock are counted in it.
func (o *order) unit() length.Length {
	var unit length.Length
	for _, k := range o.kinds {
		for a, b := k.length, unit; ; a, b = b, a%b {
			if b == 0 {
				unit = a
				break
			}
		}
	}
	return unit
}
