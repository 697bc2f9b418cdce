package draw

import (
	"fmt"
	"strings"

	"newelbook/checklist/length"
)

// Sizes of a board drawing in millimetres on paper.
const (
	boardDepth  = 12.0 // of the bar
	boardType   = 3.2
	boardRow    = 4.6 // from one line of the key to the next
	boardMargin = 0.8 // between lettering and a cut
)

// BoardOptions is one board with its cuts. Longest is the stock length that takes the whole Width, so that boards drawn with
// the same Longest are to one scale; Title names the drawing.
type BoardOptions struct {
	Title          string
	Width          float64
	Longest, Stock length.Length
	Trim, Left     length.Length // off each end; usable piece behind the last cut
	Cuts           []BoardCut
	Style          length.Style
}

// BoardCut is one piece in a board: From is the distance from the untrimmed end to its start, Takes its length from point to
// point, Length its cut length, shorter where its ends are slanted. A drawing that stands for several boards alike has no labels.
type BoardCut struct {
	Label               string
	Length, Takes, From length.Length
}

// board is a board drawing in the making.
type board struct {
	o     BoardOptions
	items []Item
	key   []string // lettering that found no room in its piece, by number
}

// Board draws a board as a bar with its cuts: each piece with its label and cut length, the saw's kerf between pieces, what is
// trimmed off the ends, and what is left. A piece too short for its lettering has a number, explained under the bar. A board
// without a length gives an empty sheet.
func Board(o BoardOptions) Sheet {
	b := board{o: o}
	s := Sheet{Width: o.Width, Height: boardDepth + 2, Title: o.Title, Alt: o.alt()}
	if o.Longest <= 0 || o.Stock <= 0 {
		return s
	}
	b.bar(0, o.Stock, 0, Outline{Weight: Light, Tone: Faint, Fill: Hatch})
	for _, c := range o.Cuts {
		b.cut(c)
	}
	if last := len(o.Cuts) - 1; o.Left > 0 && last >= 0 {
		end := o.Stock - o.Trim
		b.bar(end-o.Left, end, 0, Outline{Weight: Light, Dash: Hidden, Fill: Paper})
		if left := o.Left.Format(o.Style); b.fits(o.Left, "left", left) {
			b.letter(end-o.Left, end, "left", left, false)
		}
	}
	x, y := 0.0, boardDepth+1+boardRow
	for _, words := range b.key {
		wide := TextWidth(words, boardType, false)
		if x > 0 && x+wide > o.Width {
			x, y = 0, y+boardRow
		}
		b.items = append(b.items, Text{At: Point{x, y}, Body: words, Size: boardType})
		x += wide + boardRow
	}
	if len(b.key) > 0 {
		s.Height = y + boardRow/3
	}
	s.Items = b.items
	return s
}

// alt says the board in one sentence.
func (o BoardOptions) alt() string {
	cuts := make([]string, len(o.Cuts))
	for i, c := range o.Cuts {
		cuts[i] = strings.TrimLeft(fmt.Sprintf("%s %s from %s", c.Label, c.Length.Format(o.Style), c.From.Format(o.Style)), " ")
	}
	return fmt.Sprintf("A board of %s, cut into %s; %s is left.", o.Stock.Format(o.Style), strings.Join(cuts, ", "), o.Left.Format(o.Style))
}

// at is the place of a distance along the board.
func (b *board) at(l length.Length) float64 {
	return float64(l) / float64(b.o.Longest) * b.o.Width
}

// bar adds an outline over the depth of the board, its ends slanted by so much.
func (b *board) bar(from, to, slant length.Length, like Outline) {
	const top, bottom = 1, 1 + boardDepth
	like.Points = []Point{{b.at(from + slant), top}, {b.at(to), top}, {b.at(to - slant), bottom}, {b.at(from), bottom}}
	b.items = append(b.items, like)
}

// fits says whether two lines of lettering find room over so much of the board.
func (b *board) fits(room length.Length, lines ...string) bool {
	for i, words := range lines {
		if TextWidth(words, boardType, i == 0) > b.at(room)-2*boardMargin {
			return false
		}
	}
	return true
}

// cut adds one piece with its lettering, or with a number and a line in the key.
func (b *board) cut(c BoardCut) {
	slant := c.Takes - c.Length
	b.bar(c.From, c.From+c.Takes, slant, Outline{Weight: Medium, Fill: Paper})
	long := c.Length.Format(b.o.Style)
	switch {
	case c.Label == "" && b.fits(c.Length-slant, long):
		b.line(c.From, c.From+c.Takes, long)
		return
	case c.Label != "" && b.fits(c.Length-slant, c.Label, long):
		b.letter(c.From, c.From+c.Takes, c.Label, long, true)
		return
	}
	words, number := strings.TrimLeft(c.Label+"  "+long, " "), 0
	for i, have := range b.key {
		if strings.HasSuffix(have, "  "+words) {
			number = i + 1
		}
	}
	if number == 0 {
		number = len(b.key) + 1
		b.key = append(b.key, fmt.Sprintf("%d  %s", number, words))
	}
	b.line(c.From, c.From+c.Takes, fmt.Sprint(number))
}

// line sets one line in the middle of a piece.
func (b *board) line(from, to length.Length, words string) {
	b.items = append(b.items, Text{At: Point{b.at((from + to) / 2), 1 + boardDepth/2 + boardType*0.36}, Body: words, Size: boardType, Anchor: Middle, Bold: true})
}

// letter sets two lines in the middle of a piece.
func (b *board) letter(from, to length.Length, first, second string, bold bool) {
	x := b.at((from + to) / 2)
	b.items = append(b.items,
		Text{At: Point{x, 1 + boardDepth/2 - 0.9}, Body: first, Size: boardType, Anchor: Middle, Bold: bold},
		Text{At: Point{x, 1 + boardDepth/2 + 3.7}, Body: second, Size: boardType, Anchor: Middle})
}
