package draw

import (
	"fmt"
	"math"
)

// Tag is one place tag: the label in plain letters, and the code of its text.
type Tag struct {
	Label string
	Code  Code
}

// TagPaper is a sheet of paper, upright, that tags are printed on; millimetres.
type TagPaper struct{ Width, Height float64 }

// Papers of tags.
var (
	TagA4     = TagPaper{210, 297}
	TagLetter = TagPaper{215.9, 279.4}
)

// TagSize is how large tags are drawn and how many stand on a sheet, across and down. Lengths in millimetres; the code has its light
// margin with it.
type TagSize struct {
	width, height, code float64
	label, words        float64 // sizes of type
	across, down        int
}

// Sizes of tags. A small one is as broad as a post of nominal 4 by 4 is at least (88.9), so that it can be stapled on, and its modules are
// 1.88 mm; a large one fills a sheet of either paper, for posts seen from across the deck, and its modules are 5.76 mm. Margins are those
// that every printer leaves (common practice, no source).
var (
	TagSmall = TagSize{width: 88, height: 86, code: 62, label: 15, words: 3.1, across: 2, down: 3}
	TagLarge = TagSize{width: 190, height: 251, code: 190, label: 46, words: 5.2, across: 1, down: 1}
)

// TagOptions are of which job tags are, how large they are drawn, and on which paper.
type TagOptions struct {
	Paper TagPaper
	Size  TagSize
	Job   string
}

// Tags draws tags to be cut out and stapled up, as many to a sheet of paper as their size has room for, in their order.
func Tags(tags []Tag, o TagOptions) []Sheet {
	var sheets []Sheet
	k := o.Size
	each := k.across * k.down
	for from := 0; from < len(tags); from += each {
		some := tags[from:min(len(tags), from+each)]
		s := Sheet{Width: o.Paper.Width, Height: o.Paper.Height, Title: "Place tags of " + o.Job, Alt: "Place tags to cut out: " + some[0].Label + ", a square code with its label in large letters."}
		if last := some[len(some)-1]; len(some) > 1 {
			s.Alt = fmt.Sprintf("Place tags to cut out: %s to %s, each a square code with its label in large letters.", some[0].Label, last.Label)
		}
		left, top := (s.Width-float64(k.across)*k.width)/2, (s.Height-float64(k.down)*k.height)/2
		for i, t := range some {
			s.Items = append(s.Items, t.items(left+float64(i%k.across)*k.width, top+float64(i/k.across)*k.height, o)...)
		}
		s.Items = append(s.Items, Text{At: Point{left, top - 2.5}, Body: "Cut along the broken lines. Print in black on white paper; where it gets wet, under film that does not shine.", Size: TagSmall.words, Tone: Faint})
		sheets = append(sheets, s)
	}
	return sheets
}

// TagCard draws one tag alone.
func TagCard(t Tag, o TagOptions) Sheet {
	return Sheet{Width: o.Size.width, Height: o.Size.height, Title: "Place tag of " + t.Label, Alt: "A square code, and below it in large letters " + t.Label + ".", Items: t.items(0, 0, o)}
}

func (t Tag) items(x, y float64, o TagOptions) []Item {
	k := o.Size
	middle, line := x+k.width/2, 1.26*k.words
	size := math.Min(k.label, k.label*(k.width-8)/math.Max(TextWidth(t.Label, k.label, true), 1))
	words := func(n float64, body string) Item {
		return Text{At: Point{middle, y + k.height - 0.8*k.words + (n-1)*line}, Body: body, Size: k.words, Anchor: Middle}
	}
	return []Item{
		Outline{Points: []Point{{x, y}, {x + k.width, y}, {x + k.width, y + k.height}, {x, y + k.height}}, Weight: Hairline, Dash: Hidden},
		Modules{At: Point{middle - k.code/2, y + 0.5}, Size: k.code, Code: t.Code},
		Text{At: Point{middle, y + k.code + 0.73*k.label}, Body: t.Label, Size: size, Anchor: Middle, Bold: true},
		words(0, "Place tag, "+o.Job+". Staple it up before you take"),
		words(1, "pictures: one that shows it is filed at "+t.Label+"."),
	}
}
