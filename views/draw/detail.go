package draw

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// DetailOptions says how a framing detail is drawn. Width is the paper's, in millimetres: the section and the plan stand side by side
// where there is room for both, one under the other where there is not. Run and Spec are those of the layout.
type DetailOptions struct {
	Width float64
	Style length.Style
	Run   layout.Run
	Spec  layout.Spec
}

// broadDetail is the width of paper from which section and plan stand side by side.
const broadDetail = 150

// Real sizes of what a detail shows beside the figures of the layout, in millimetres; none of them is measured from.
const (
	detailEdge  = 25.0  // decking past the rim
	detailAbove = 160.0 // of a post above the decking
	detailPast  = 190.0 // of the framing inside the post
	washerHalf  = 18.0
	washerThick = 4.0
)

// detail is a framing detail in the making. Its own coordinates are real millimetres: inward from the outer face of the rim, and up
// from the top of the framing; in the plan along the run from the post's centre.
type detail struct {
	pad
	scale
	l layout.Layout
	p layout.Post
	o DetailOptions

	x0, y0 float64 // paper place of the view's zero
	words  []Text  // to be written in the view
}

// Detail draws how one post is framed: a section through the edge, with rim, decking, blocking, bolts or sleeve and the distances that
// are measured before decking hides them, and a plan of the joists about it. A post of a stair, or one that stands there already, has
// no detail: its sheet is empty, and so is one on paper too narrow for the lettering.
func Detail(l layout.Layout, p layout.Post, o DetailOptions) Sheet {
	s := Sheet{Title: "Framing at " + p.Label}
	if l.Stair != nil || o.Run.PostsAre == layout.PostsExisting || o.Spec.JoistDepth <= 0 || o.Spec.JoistWidth <= 0 {
		return s
	}
	for _, den := range scales(o.Style) {
		d := &detail{l: l, p: p, o: o, scale: scale{den: den, style: o.Style, size: 1}}
		if d.wide() > o.Width {
			continue
		}
		// Lettering may take more than was counted on.
		if s = d.sheet(s.Title); s.Width <= o.Width {
			break
		}
	}
	return s
}

// sheet draws the section, the plan and the scale bar. Of a post that is turned into a corner no section across the run is known.
func (d *detail) sheet(title string) Sheet {
	foot := 0.0
	if d.sectioned() {
		d.section()
		foot = d.bottom()
	}
	switch {
	case !d.sectioned():
		d.x0, d.y0 = -d.left()/d.den, labelType+d.past()/d.den+7.5
	case d.o.Width >= broadDetail:
		d.x0, d.y0 = d.all().x2+6-d.left()/d.den, d.all().y1+labelType+d.past()/d.den+7.5
	default:
		d.x0, d.y0 = d.all().x1-d.left()/d.den, foot+10+d.past()/d.den+9
	}
	d.plan()
	if x, y, right := d.all().x1+2, d.bottom()+6, d.all().x1+d.o.Width-2*sheetMargin; !d.scaleBar(d.scale, x, y, right) {
		d.scaleBarOf(1, d.scale, x, y, math.Inf(1))
	}
	return d.trim(Sheet{Title: title, Scale: d.name(), Alt: d.alt()})
}

// sectioned says whether the detail has a section across the run.
func (d *detail) sectioned() bool { return d.p.Turned == 0 }

// depth is the rim's, postNear and postFar the post's faces across the run.
func (d *detail) depth() float64    { return mm(d.o.Spec.JoistDepth) }
func (d *detail) rim() float64      { return mm(d.o.Spec.JoistWidth) }
func (d *detail) postNear() float64 { return d.rim() + d.slack() }
func (d *detail) postFar() float64  { return d.postNear() + mm(d.o.Spec.PostDepth) }

// bay is what is clear between the outer joist and the next, of an edge alongside the joists.
func (d *detail) bay() float64 {
	if d.l.Frame == nil {
		return 0
	}
	return mm(d.l.Frame.Bay)
}

// edgeName is what the framing at the edge is called: the rim that joists end at, or the outer one of those that run along it.
func (d *detail) edgeName() string {
	if d.o.Run.Joists == layout.JoistsAlong {
		return "outer joist"
	}
	return "rim"
}

// seen says from where the plan is seen: with the datum at the left and the outside below, a deck on the right of the way along is seen from
// under it.
func (d *detail) seen() string {
	switch d.l.DeckOn {
	case 1:
		return ", seen from below"
	case -1:
		return ", seen from above"
	}
	return ""
}

// slack is what a sleeve's wall and half of its play take on one side of the post.
func (d *detail) slack() float64 {
	if s := d.p.Sleeve; s != nil {
		return (mm(s.Outside) - mm(d.o.Spec.PostDepth)) / 2
	}
	return 0
}

// left and reach are the ends of the plan along the run, from the post's centre: to the joists on both sides, those on both sides of one
// that the post clashes with, and a little more.
func (d *detail) left() float64 { return -d.reach() }
func (d *detail) reach() float64 {
	past := d.rim()
	if d.p.JoistClsh {
		near, far := d.p.Footprint()
		joist := math.Abs(mm(far-near)/2 + mm(d.p.JoistGap) + d.rim()/2)
		past = math.Max(past, joist+d.rim()/2)
	}
	return math.Max(mm(d.o.Spec.JoistSpacing), mm(d.o.Spec.PostWidth)) + past + 30
}

// wide is how much paper the detail takes at its scale, about, its lettering counted.
func (d *detail) wide() float64 {
	section := (detailEdge+d.postFar()+detailPast)/d.den + 40
	plan := 2*d.reach()/d.den + 8
	if !d.sectioned() {
		return plan
	}
	if d.o.Width >= broadDetail {
		return section + 6 + plan
	}
	return math.Max(section, plan)
}

// at is a place of the view on paper.
func (d *detail) at(x, z float64) Point { return Point{d.x0 + x/d.den, d.y0 - z/d.den} }

func (d *detail) rect(x1, z1, x2, z2 float64, like Outline) {
	like.Points = []Point{d.at(x1, z1), d.at(x2, z1), d.at(x2, z2), d.at(x1, z2)}
	d.put(like)
}

func (d *detail) line(x1, z1, x2, z2 float64, w Weight, dash Dash, t Tone) {
	d.put(Line{A: d.at(x1, z1), B: d.at(x2, z2), Weight: w, Dash: dash, Tone: t})
}

// endGrain draws a piece cut through, with the diagonals that say so.
func (d *detail) endGrain(x1, z1, x2, z2 float64) {
	d.rect(x1, z1, x2, z2, Outline{Weight: Medium, Fill: Paper})
	d.line(x1, z1, x2, z2, Hairline, Solid, Ink)
	d.line(x1, z2, x2, z1, Hairline, Solid, Ink)
}

// word notes a word to be written at a place once all about it is drawn.
func (d *detail) word(x, z float64, anchor Anchor, body string, tone Tone) {
	d.words = append(d.words, Text{At: d.at(x, z), Body: body, Size: wordType, Anchor: anchor, Tone: tone})
}

// letter writes the words noted, each at its place or as near to it as no text and no stroke stands; where strokes are all about, clear of texts
// alone.
func (d *detail) letter() {
	for _, t := range d.words {
		at := t.At
		move := func(by Point) Text {
			t.At = Point{at.X + by.X, at.Y + by.Y}
			return t
		}
		fits := slices.IndexFunc(wordMoves, func(by Point) bool { return d.clear(move(by)) })
		if fits < 0 {
			fits = slices.IndexFunc(wordMoves, func(by Point) bool { return d.free(move(by)) })
		}
		if fits >= 0 {
			d.put(move(wordMoves[fits]))
		}
	}
	d.words = nil
}

// wordMoves are the ways in which a word may be moved on paper, the nearest first.
var wordMoves = func() (all []Point) {
	for x := -16; x <= 16; x++ {
		for y := -12; y <= 12; y++ {
			all = append(all, Point{float64(x) * 1.6, float64(y) * 0.8})
		}
	}
	slices.SortStableFunc(all, func(a, b Point) int { return cmp.Compare(math.Hypot(a.X, a.Y), math.Hypot(b.X, b.Y)) })
	return all
}()

func (d *detail) text(l length.Length) string { return l.Format(d.style) }

// alt says the detail in words.
func (d *detail) alt() string {
	views := "section and plan"
	if !d.sectioned() {
		views = "plan"
	}
	parts := []string{fmt.Sprintf("Framing at %s, %s from the datum, in %s.", d.p.Label, d.text(d.p.Centre), views), d.p.Joist}
	for _, b := range d.p.Corner {
		parts = append(parts, fmt.Sprintf("Of the second pair, through the other edge of the corner, the %s bolt stands %s below the top.", b.Name, d.text(b.FromTop)))
	}
	for _, b := range d.p.Bolts {
		parts = append(parts, fmt.Sprintf("The %s bolt stands %s below the top of the framing and %s above its underside, through %s.", b.Name, d.text(b.FromTop), d.text(b.FromBottom), d.p.Through(b, d.style)))
	}
	if s := d.p.Sleeve; s != nil {
		parts = append(parts, fmt.Sprintf("Sleeve %s inside, %s high.", d.text(s.Inside), d.text(s.Height)))
	}
	return strings.Join(parts, " ")
}
