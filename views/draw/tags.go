package draw

import "math"

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

// TagOptions are words for every tag: of which job, and what a tag is for.
type TagOptions struct {
	Paper TagPaper
	Job   string
}

// A tag in millimetres: as broad as a post of nominal 4 by 4 is at least (88.9), so that it can be stapled on, two abreast and three
// below one another on both papers. Margins are those that every printer leaves (common practice, no source).
const (
	tagWidth  = 88.0
	tagHeight = 86.0
	tagCode   = 62.0 // with the light margin: modules of 1.88 mm
	tagLabel  = 15.0
	tagWords  = 3.1
	tagLine   = 3.9
	tagsEach  = 6
)

// Tags draws tags to be cut out and stapled up, six to a sheet of paper, in their order.
func Tags(tags []Tag, o TagOptions) []Sheet {
	var sheets []Sheet
	for from := 0; from < len(tags); from += tagsEach {
		some := tags[from:min(len(tags), from+tagsEach)]
		s := Sheet{Width: o.Paper.Width, Height: o.Paper.Height, Title: "Place tags of " + o.Job, Alt: "Place tags to cut out: " + some[0].Label}
		if last := some[len(some)-1]; len(some) > 1 {
			s.Alt += " to " + last.Label
		}
		s.Alt += ", each a square code with its label in large letters."
		left, top := (s.Width-2*tagWidth)/2, (s.Height-3*tagHeight)/2
		for i, t := range some {
			s.Items = append(s.Items, t.items(left+float64(i%2)*tagWidth, top+float64(i/2)*tagHeight, o)...)
		}
		s.Items = append(s.Items, Text{At: Point{left, top - 2.5}, Body: "Cut along the broken lines. Print in black on white paper; where it gets wet, under film that does not shine.", Size: tagWords, Tone: Faint})
		sheets = append(sheets, s)
	}
	return sheets
}

// TagCard draws one tag alone.
func TagCard(t Tag, o TagOptions) Sheet {
	return Sheet{Width: tagWidth, Height: tagHeight, Title: "Place tag of " + t.Label, Alt: "A square code, and below it in large letters " + t.Label + ".", Items: t.items(0, 0, o)}
}

func (t Tag) items(x, y float64, o TagOptions) []Item {
	middle := x + tagWidth/2
	size := math.Min(tagLabel, tagLabel*(tagWidth-8)/math.Max(TextWidth(t.Label, tagLabel, true), 1))
	words := func(n float64, body string) Item {
		return Text{At: Point{middle, y + tagHeight - 6.4 + n*tagLine}, Body: body, Size: tagWords, Anchor: Middle}
	}
	return []Item{
		Outline{Points: []Point{{x, y}, {x + tagWidth, y}, {x + tagWidth, y + tagHeight}, {x, y + tagHeight}}, Weight: Hairline, Dash: Hidden},
		Modules{At: Point{middle - tagCode/2, y + 0.5}, Size: tagCode, Code: t.Code},
		Text{At: Point{middle, y + tagCode + 11}, Body: t.Label, Size: size, Anchor: Middle, Bold: true},
		words(0, "Place tag, "+o.Job+". Staple it up before you take"),
		words(1, "pictures: one that shows it is filed at "+t.Label+"."),
	}
}
