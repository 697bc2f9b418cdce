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

// holeRoom is how wide the words on a sleeve's holes may stand on paper, in millimetres.
const holeRoom = 62

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

// sheet draws the section, the plan and the scale bar.
func (d *detail) sheet(title string) Sheet {
	d.section()
	foot := d.bottom()
	if d.o.Width >= broadDetail {
		d.x0, d.y0 = d.all().x2+6-d.left()/d.den, d.all().y1+labelType+d.past()/d.den+7.5
	} else {
		d.x0, d.y0 = d.all().x1-d.left()/d.den, foot+10+d.past()/d.den+9
	}
	d.plan()
	if x, y, right := d.all().x1+2, d.bottom()+6, d.all().x1+d.o.Width-2*sheetMargin; !d.scaleBar(d.scale, x, y, right) {
		d.scaleBarOf(1, d.scale, x, y, math.Inf(1))
	}
	return d.trim(Sheet{Title: title, Scale: d.name(), Alt: d.alt()})
}

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

// section draws the cut across the run, seen along it from the datum, the outside at the left.
func (d *detail) section() {
	deck, depth, far := mm(d.o.Spec.Decking), d.depth(), d.postFar()
	end := far + detailPast
	// What runs inward behind the cut: joists, seen from the side.
	d.rect(d.rim(), -depth, end, 0, Outline{Weight: Hairline, Tone: Faint})
	d.decking(end)
	d.endGrain(0, -depth, d.rim(), 0)
	d.blocking()
	switch {
	case d.p.Sleeve != nil:
		d.sleeve()
	case d.o.Spec.PostMount == layout.MountBase:
		d.base()
	default:
		d.post(-depth)
		d.bolts()
	}
	if deck > 0 {
		d.word(end, deck+4, End, "decking "+d.text(d.o.Spec.Decking), Faint)
	}
	d.word(d.rim()/2, -depth-7*d.den/2, Middle, d.edgeName(), Ink)
	head := d.at(0, deck+detailAbove+16)
	d.put(Text{At: Point{head.X - detailEdge/d.den, head.Y - 2.5}, Body: d.p.Label + ", section", Size: labelType, Bold: true})
	d.letter()
}

// decking is notched round the post; a base stands on it.
func (d *detail) decking(end float64) {
	deck := mm(d.o.Spec.Decking)
	if deck <= 0 {
		return
	}
	o := Outline{Weight: Light, Tone: Faint, Fill: Hatch}
	if d.o.Spec.PostMount == layout.MountBase {
		d.rect(-detailEdge, 0, end, deck, o)
		return
	}
	near, far := d.postNear(), d.postFar()
	if s := d.p.Sleeve; s != nil {
		near, far = d.rim(), d.rim()+mm(s.Outside)
	}
	d.rect(-detailEdge, 0, near, deck, o)
	d.rect(far, 0, end, deck, o)
}

// post draws the post from its foot to a break above the decking.
func (d *detail) post(foot float64) {
	near, far, top := d.postNear(), d.postFar(), mm(d.o.Spec.Decking)+detailAbove
	d.rect(near, foot, far, top, Outline{Weight: Hairline, Tone: Faint, Fill: Paper})
	d.line(near, top, near, foot, Heavy, Solid, Ink)
	d.line(near, foot, far, foot, Heavy, Solid, Ink)
	d.line(far, foot, far, top, Heavy, Solid, Ink)
	for _, z := range []float64{top - 10, top} {
		d.line(near-12, z-8, far+12, z+8, Hairline, Solid, Ink)
	}
	d.word(far+14, top-40, Start, "post "+d.text(d.o.Spec.PostDepth), Ink)
}

// blocking draws the blocking behind the post, cut through where it runs along the rim and from the side where it runs inward.
func (d *detail) blocking() {
	if len(d.p.Blocking) == 0 {
		return
	}
	b := d.p.Blocking[0]
	thick := mm(d.o.Spec.JoistWidth)
	far := d.postFar() + d.slack()
	depth := d.depth()
	if d.o.Run.Joists == layout.JoistsAlong {
		d.rect(d.rim(), -depth, d.rim()+math.Min(mm(b.Length), far+detailPast-d.rim()), 0, Outline{Weight: Light, Dash: Hidden})
		d.word(far+detailPast/2, -depth-4*d.den, Middle, fmt.Sprintf("blocking %s, each side", d.text(b.Length)), Ink)
		return
	}
	pieces := b.Count / max(1, len(d.p.Blocked)) // of those in one space
	for i := range pieces {
		d.endGrain(far+float64(i)*thick, -depth, far+float64(i+1)*thick, 0)
	}
	d.word(far+float64(pieces)*thick+4, -depth-4*d.den, Start, "blocking", Ink)
}

// boltFar is where the bolts of the post come out: at its inner face, or at that of the blocking that they go through.
func (d *detail) boltFar() float64 { return d.postFar() + mm(d.p.Bolts[0].Blocking) }

// bolts draws both bolts through rim, post and blocking with their washers, what holds the upper one down, and the chain of the distances.
func (d *detail) bolts() {
	if len(d.p.Bolts) == 0 {
		return
	}
	far, depth := d.boltFar(), d.depth()
	half := math.Max(mm(d.o.Spec.BoltDiameter)/2, 3)
	at, texts, last := []float64{-depth}, []string{}, length.Length(0)
	for _, b := range slices.Backward(d.p.Bolts) {
		z := -mm(b.FromTop)
		d.rect(-washerThick-8, z-half, far+washerThick+14, z+half, Outline{Weight: Light, Fill: Paper})
		d.rect(-washerThick, z-washerHalf, 0, z+washerHalf, Outline{Weight: Light, Fill: Paper})
		d.rect(far, z-washerHalf, far+washerThick, z+washerHalf, Outline{Weight: Light, Fill: Paper})
		d.line(-30, z, far+40, z, Hairline, Centre, Ink)
		at, texts, last = append(at, z), append(texts, d.text(b.FromBottom-last)), b.FromBottom
	}
	at, texts = append(at, 0), append(texts, d.text(d.o.Spec.JoistDepth-last))
	d.chain(-detailEdge-6, at, texts)
	// The second pair of a corner's post is seen end on.
	for _, b := range d.p.Corner {
		d.put(Circle{Centre: d.at((d.postNear()+d.postFar())/2, -mm(b.FromTop)), Radius: mm(d.o.Spec.BoltDiameter) / 2 / d.den, Weight: Medium, Fill: Paper})
	}
	if d.p.HoldDown != "" {
		z := -mm(d.p.Bolts[0].FromTop)
		d.rect(far+washerThick, z-22, far+detailPast-20, z+22, Outline{Weight: Medium, Tone: Accent})
		d.word(far+detailPast+6, z-0.9*d.den, Start, "hold-down", Accent)
	}
}

// chain dimensions heights, the lowest first, left of x.
func (d *detail) chain(x float64, z []float64, texts []string) {
	points := make([]Point, len(z))
	for i := range z {
		points[i] = d.at(x, z[i])
	}
	d.put(Chain{Points: points, Texts: texts, Offset: 5}.Items()...)
}

// sleeve draws the sleeve cut through, the post in it with its play, and the heights of its holes from the bottom.
func (d *detail) sleeve() {
	s := d.p.Sleeve
	low := mm(d.o.Spec.Decking) - mm(s.Height)
	wall, out := mm(d.o.Spec.SleeveWall), mm(s.Outside)
	near := d.rim()
	d.post(low)
	for _, x := range []float64{near, near + out - wall} {
		d.rect(x, low, x+wall, mm(d.o.Spec.Decking), Outline{Weight: Medium, Tone: Accent, Fill: Hatch})
	}
	seen := map[length.Length]bool{}
	var says []string // of the holes at each height: how wide, what for, in which wall
	at, texts, last := []float64{low}, []string{}, length.Length(0)
	for _, h := range slices.SortedStableFunc(slices.Values(s.Holes), func(a, b layout.Hole) int { return cmp.Compare(a.Height, b.Height) }) {
		z := low + mm(h.Height)
		x := near
		if strings.HasPrefix(h.Wall, "inner") {
			x = near + out - wall
		}
		if strings.HasPrefix(h.Wall, "outer") || strings.HasPrefix(h.Wall, "inner") {
			d.rect(x-2, z-mm(h.Size)/2, x+wall+2, z+mm(h.Size)/2, Outline{Weight: Light, Fill: Paper})
		} else {
			d.put(Circle{Centre: d.at(near+out/2, z), Radius: mm(h.Size) / 2 / d.den, Weight: Hairline, Dash: Hidden})
		}
		if !seen[h.Height] {
			seen[h.Height] = true
			at, texts, last = append(at, z), append(texts, d.text(h.Height-last)), h.Height
			says = append(says, d.text(h.Height)+" up:")
		}
		wall, _, _ := strings.Cut(h.Wall, " (")
		purpose, _, _ := strings.Cut(h.For, " ")
		// Two pairs that come to one height are told once.
		hole, n := fmt.Sprintf(" %s %s %s", d.text(h.Size), purpose, wall), len(says)-1
		switch {
		case strings.HasSuffix(says[n], ":"):
			says[n] += hole
		case !strings.Contains(says[n], hole):
			says[n] += "," + hole
		}
	}
	at, texts = append(at, low+mm(s.Height)), append(texts, d.text(s.Height-last))
	d.chain(-detailEdge-6, at, texts)
	d.holeWords(low, says)
	// Named over the decking, where nothing is drawn beside the post, with a leader into its wall.
	deck := mm(d.o.Spec.Decking)
	name := Point{near + out + 5*d.den, deck + 7*d.den}
	d.line(near+out-wall/2, deck-1.5*d.den, name.X-0.8*d.den, name.Y+0.9*d.den, Hairline, Solid, Accent)
	d.word(name.X, name.Y, Start, "sleeve, "+d.text(s.Inside)+" inside", Accent)
}

// holeWords letters the holes of a sleeve under the section, a line to each height, the highest first as they stand.
func (d *detail) holeWords(low float64, says []string) {
	at := d.at(-detailEdge, low)
	at.Y += 9
	for _, words := range slices.Backward(says) {
		for _, line := range wrapped(words, holeRoom, wordType, false) {
			d.put(Text{At: at, Body: line, Size: wordType})
			at.Y += wordType * 1.25
		}
	}
}

// base draws a surface base on the decking over its blocking.
func (d *detail) base() {
	deck := mm(d.o.Spec.Decking)
	near, far := d.postNear(), d.postFar()
	d.endGrain(near, -d.depth(), far, 0)
	d.rect(near-30, deck, far+30, deck+6, Outline{Weight: Medium, Tone: Accent, Fill: Paper})
	for _, x := range []float64{near - 18, far + 18} {
		d.rect(x-4, -d.depth()*0.6, x+4, deck+12, Outline{Weight: Light, Fill: Paper})
	}
	d.post(deck + 6)
	d.word(near, -d.depth()-4*d.den, Start, "blocking under the base", Ink)
	d.word(far+34, deck+4*d.den, Start, "base", Accent)
}

// past is how far inward the plan reaches: past the blocking, or past the next joist that runs along.
func (d *detail) past() float64 {
	if d.o.Run.Joists == layout.JoistsAlong {
		return 2*d.rim() + d.bay() + 30
	}
	return math.Max(320, d.postFar()+d.slack()+3*d.rim()+60)
}

// plan draws the framing about the post from above, the outside at the bottom.
func (d *detail) plan() {
	past := d.past()
	left, right := d.left(), d.reach()
	half := mm(d.p.Width) / 2
	from, to := framed(d.l.Frame, left, right, d.along)
	d.rect(from, 0, to, d.rim(), Outline{Weight: Medium, Fill: Paper})
	switch d.o.Run.Joists {
	case layout.JoistsAcross:
		for _, j := range d.joists() {
			d.rect(d.along(j.Near), d.rim(), d.along(j.Far), past, Outline{Weight: Medium, Fill: Paper})
			d.word(d.along(j.Centre), past+1.5*d.den, Middle, strings.TrimPrefix(j.Name(), "the "), Ink)
		}
		d.blockingAcross()
	case layout.JoistsAlong:
		next := d.rim() + d.bay()
		d.rect(left, next, right, next+d.rim(), Outline{Weight: Medium, Fill: Paper})
		if len(d.p.Blocking) > 0 {
			beside := []float64{-half - d.rim(), half}
			if len(d.p.Corner) > 0 {
				beside[1] = -half - 2*d.rim() // both away from the corner
			}
			for _, x := range beside {
				d.rect(x, d.rim(), x+d.rim(), next, Outline{Weight: Light, Fill: Hatch})
			}
			d.word(half+d.rim()+10, (d.rim()+next)/2, Start, "blocking "+d.text(d.p.Blocking[0].Length), Ink)
		}
		d.word(right, next-3.4*d.den, End, "next joist", Ink)
	default:
		d.word(0, past, Middle, "joists not given", Faint)
	}
	tone := Ink
	if d.p.JoistClsh {
		tone = Red
	}
	if s := d.p.Sleeve; s != nil {
		out := mm(s.Outside)
		d.rect(-out/2, d.rim(), out/2, d.rim()+out, Outline{Weight: Medium, Tone: Accent, Fill: Paper})
	}
	d.plannedPost(tone)
	if len(d.p.Bolts) > 0 && d.p.Turned == 0 {
		d.rect(-mm(d.o.Spec.BoltDiameter)/2, -12, mm(d.o.Spec.BoltDiameter)/2, d.boltFar()+14, Outline{Weight: Hairline, Dash: Hidden})
	}
	if len(d.p.Corner) > 0 {
		middle, past := (d.postNear()+d.postFar())/2, math.Max(half+d.rim(), to)+12
		d.rect(-half-mm(d.p.Corner[0].Blocking)-14, middle-mm(d.o.Spec.BoltDiameter)/2, past, middle+mm(d.o.Spec.BoltDiameter)/2, Outline{Weight: Hairline, Dash: Hidden})
	}
	d.line(0, -40, 0, d.postFar()+30, Hairline, Centre, Ink)
	d.planDimensions()
	at := d.at(left, past)
	d.put(Text{At: Point{at.X, at.Y - 7.5}, Body: d.p.Label + ", plan", Size: labelType, Bold: true})
	d.word(from, -4.2*d.den, Start, d.edgeName(), Faint)
	d.word(right, -4.2*d.den, End, "outside"+d.seen(), Faint)
	d.letter()
}

// plannedPost draws the post in plan, turned where it halves a corner.
func (d *detail) plannedPost(tone Tone) {
	wide, deep, middle := mm(d.p.Width)/2, mm(d.o.Spec.PostDepth)/2, (d.postNear()+d.postFar())/2
	if d.p.Turned != 0 {
		wide = mm(d.o.Spec.PostWidth) / 2
	}
	var points []Point
	for _, c := range []Point{{-wide, -deep}, {wide, -deep}, {wide, deep}, {-wide, deep}} {
		c = turned(c, d.p.Turned*float64(d.l.DeckOn))
		points = append(points, d.at(c.X, middle+c.Y))
	}
	d.put(Outline{Points: points, Weight: Heavy, Fill: Paper, Tone: tone})
}

// joists are those that the plan shows whole.
func (d *detail) joists() []layout.Joist {
	reach := length.Length((d.reach() - d.rim()/2) * float64(length.Millimetre))
	return layout.Joists(d.o.Run, d.o.Spec, d.l.Frame, d.p.Centre-reach, d.p.Centre+reach)
}

// along is a place of the run, from the datum, as the plan has it: from the post's centre.
func (d *detail) along(l length.Length) float64 { return mm(l - d.p.Centre) }

// blockingAcross draws the blocking in its spaces between the joists: all of it in the one behind the post, or a piece in each.
func (d *detail) blockingAcross() {
	far := d.postFar() + d.slack()
	for i, b := range d.p.Blocking {
		spans, each := d.p.Blocked, b.Count
		switch {
		case len(d.p.Blocking) > 1:
			spans = spans[i : i+1]
		case len(spans) > 0:
			each = b.Count / len(spans)
		}
		for n, s := range spans {
			from, to := d.along(s.From), d.along(s.To)
			for k := range each {
				d.rect(from, far+float64(k)*d.rim(), to, far+float64(k+1)*d.rim(), Outline{Weight: Light, Fill: Hatch})
			}
			if n == 0 {
				d.word((from+to)/2, far+float64(each)*d.rim()+2*d.den, Middle, fmt.Sprintf("%d of %s", b.Count, d.text(b.Length)), Ink)
			}
		}
	}
}

// planDimensions gives the clear distance from the post, or its sleeve, to the joist on each side, none to one that it touches, and the
// post's place from the datum.
func (d *detail) planDimensions() {
	face, back := d.p.Footprint()
	points, texts := []length.Length{face, back}, []string{d.text(back - face)}
	touches := func(gap length.Length) bool { return layout.Touches(gap, d.o.Spec.Grid) }
	joists := d.joists()
	// The last joist before the post, and the first past it.
	for _, j := range slices.Backward(joists) {
		if touches(face - j.Far) {
			break
		}
		if j.Far <= face {
			points, texts = append([]length.Length{j.Far}, points...), append([]string{d.text(face - j.Far)}, texts...)
			break
		}
	}
	for _, j := range joists {
		if touches(j.Near - back) {
			break
		}
		if j.Near >= back {
			points, texts = append(points, j.Near), append(texts, d.text(j.Near-back))
			break
		}
	}
	chain := make([]Point, len(points))
	for i, l := range points {
		chain[i] = d.at(d.along(l), 0)
	}
	d.put(Chain{Points: chain, Texts: texts, Offset: -9}.Items()...)
	at := d.at(0, 0)
	// Lower where figures of narrow distances stand there.
	for down := 20.0; !d.label(Text{At: Point{at.X, at.Y + down}, Body: d.text(d.p.Centre) + " from the datum", Size: labelType, Anchor: Middle, Tone: Accent, Bold: true}); down += 3 {
	}
}

func (d *detail) text(l length.Length) string { return l.Format(d.style) }

// alt says the detail in words.
func (d *detail) alt() string {
	parts := []string{fmt.Sprintf("Framing at %s, %s from the datum, in section and plan.", d.p.Label, d.text(d.p.Centre)), d.p.Joist}
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
