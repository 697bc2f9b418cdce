package draw

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// wide says whether there is room for words beside figures.
func (e *elevation) wide() bool { return e.o.Width >= narrow && !e.o.Brief }

// crown is the highest place on paper over the guard within half a text's width of x.
func (e *elevation) crown(x, half float64) float64 {
	h := math.Max(mm(e.l.Heights.Finished), mm(e.l.Heights.PostTop))
	left, right := math.Max(x-half*e.den, e.low), math.Min(x+half*e.den, e.high)
	return -(math.Max(e.ref(left), e.ref(right)) + h) / e.den
}

// labels writes the place labels over the guard, posts first: in full, or without the run's label, or not where there is
// no room. Under a bay's label stand its members and how wide the gaps are.
func (e *elevation) labels() {
	size := labelType * e.size
	post := func(p layout.Post, label string) Text {
		half := TextWidth(label, size, true) / 2
		crown := e.crown(mm(p.Centre), half)
		for _, at := range e.postTop(p) {
			crown = math.Min(crown, -at.Y/e.den) // a post that also serves a higher guard
		}
		t := Text{At: Point{mm(p.Centre) / e.den, crown - 1.8}, Body: label, Size: size, Anchor: Middle, Bold: true}
		if p.JoistClsh {
			t.Tone = Red
		}
		return t
	}
	full := true
	for i, p := range e.l.Posts[:max(len(e.l.Posts)-1, 0)] {
		gap := mm(e.l.Posts[i+1].Centre-p.Centre) / e.den
		full = full && gap > 2.2*TextWidth(e.l.Posts[len(e.l.Posts)-1].Label, size, true)
	}
	for _, p := range e.endsFirst() {
		label := fmt.Sprintf("P%d", p.Number)
		if full {
			label = p.Label
		}
		t := post(p, label)
		if !e.named(&t) {
			continue
		}
		t.At.Y, t.Size, t.Bold = t.At.Y-size, wordType*e.size, false
		if t.Body = "on a joist"; p.JoistClsh && e.label(t) {
			t.At.Y -= t.Size * 1.25
		}
		if t.Body, t.Tone = "is "+p.SharedAs, Faint; p.SharedAs != "" {
			e.label(t)
		}
	}
	for _, b := range e.bays {
		e.bayLabel(b, full)
	}
}

// named writes the label of a post, and says whether it did: higher up over a flight, whose posts are all named, where another stands in
// its way.
func (e *elevation) named(t *Text) bool {
	tries := 1
	if e.l.Stair != nil {
		tries = 5
	}
	for range tries {
		if e.label(*t) {
			return true
		}
		t.At.Y -= t.Size * 1.2
	}
	e.missing = true
	return false
}

// bayLabel writes a bay's label, its state where there is one to tell, and what is in the bay.
func (e *elevation) bayLabel(b bayView, full bool) {
	size, room := labelType*e.size, (b.to-b.from)/e.den
	label := Text{Body: fmt.Sprintf("B%d", b.Number), Size: size, Bold: true}
	if full {
		label.Body = b.Label
	}
	var states []string
	state := Text{Size: wordType * e.size, Bold: true, Tone: Accent}
	if b.Built != nil {
		states = append(states, "as built")
	}
	if b.odds != "" {
		states, label.Tone, state.Tone = append(states, b.odds), Red, Red
	}
	lines := []Text{label}
	if state.Body = strings.Join(states, ", "); state.Body != "" {
		lines = append(lines, state)
	}
	parts := b.Used()
	if parts == nil || parts.Infill.Count == 0 && parts.Infill.Cables == nil || e.o.Brief {
		e.shortest(b, lines)
		return
	}
	filled, widest := parts.Infill.Counted(), e.text(parts.Infill.Widest())
	count := parts.Infill.Count
	if c := parts.Infill.Cables; c != nil {
		count = c.Count
	}
	for _, body := range []string{fmt.Sprintf("%s, widest gap %s", filled, widest), fmt.Sprintf("%d, gap %s", count, widest), widest} {
		t := Text{Body: body, Size: wordType * e.size}
		if !e.fits(t, room) {
			continue
		}
		if foot, ok := e.block(b, append(lines[:len(lines):len(lines)], t)); ok {
			if parts.Infill.Cables == nil {
				e.gap(b, parts, widestGap(parts), foot+0.8)
			}
			return
		}
	}
	e.shortest(b, lines)
}

// shortest sets as many of the lines as there is room for, the first at least.
func (e *elevation) shortest(b bayView, lines []Text) {
	for n := len(lines); n > 0; n-- {
		if _, ok := e.block(b, lines[:n]); ok {
			return
		}
	}
}

// block sets lines one under the other over a bay, or higher where the labels of its posts reach in, and returns the
// baseline of the lowest. It draws nothing where there is no room.
func (e *elevation) block(b bayView, lines []Text) (foot float64, ok bool) {
	half := 0.0
	for _, t := range lines {
		half = math.Max(half, TextWidth(t.Body, t.Size, t.Bold)/2)
	}
	foot = e.crown((b.from+b.to)/2, half) - 1.8
	for range 2 {
		y := foot
		for i := len(lines) - 1; i >= 0; i-- {
			lines[i].At, lines[i].Anchor = Point{(b.from + b.to) / 2 / e.den, y}, Middle
			y -= lines[i].Size * 1.25
		}
		if e.free(lines...) {
			for _, t := range lines {
				e.put(t)
			}
			return foot, true
		}
		foot -= labelType * e.size * 1.2
	}
	return 0, false
}

// fits says whether a text is no wider than the room for it.
func (e *elevation) fits(t Text, room float64) bool {
	return TextWidth(t.Body, t.Size, t.Bold)+textMargin <= room
}

// widestGap is the number of the widest gap by the marks from the post face, the nearest to the middle of those that are
// the same within a hundredth of a millimetre; 0 is the one at the datum end.
func widestGap(p *layout.Parts) int {
	edges := gapEdges(p)
	best, n := 0, len(edges)/2
	for i := range n {
		wider := mm(edges[2*i+1]-edges[2*i]) - mm(edges[2*best+1]-edges[2*best])
		nearer := math.Abs(float64(2*i+1-n)) < math.Abs(float64(2*best+1-n))
		if wider > 0.01 || wider > -0.01 && nearer {
			best = i
		}
	}
	return best
}

// gapEdges lists where the gaps of a bay begin and end, from the datum-side face.
func gapEdges(p *layout.Parts) []length.Length {
	edges := []length.Length{0}
	for _, m := range p.Infill.FromPost {
		edges = append(edges, m-p.Infill.Member/2, m+p.Infill.Member/2)
	}
	return append(edges, p.ClearBottom)
}

// gap dimensions one gap under the top rail, with a leader up to its figure at y.
func (e *elevation) gap(b bayView, p *layout.Parts, n int, y float64) {
	edges := gapEdges(p)
	from, to := b.from+mm(edges[2*n]), b.from+mm(edges[2*n+1])
	under := mm(e.l.Heights.TopRailTop - e.l.Heights.RailVertical)
	z := e.ref((from+to)/2) + under - math.Min(4*e.den, under/4)
	e.line(from, z, to, z, Hairline, Solid, Accent)
	for _, x := range []float64{from, to} {
		at := e.at(x, z)
		e.put(Line{A: Point{at.X - slashHalf*0.6, at.Y + slashHalf*0.6}, B: Point{at.X + slashHalf*0.6, at.Y - slashHalf*0.6}, Weight: Medium, Tone: Accent})
	}
	mid := e.at((from+to)/2, z)
	e.put(Line{A: mid, B: Point{mid.X, y}, Weight: Hairline, Tone: Accent})
}

// clears draws the clear openings in a row at y, at the bottom rail as used, and returns where the row ends. Equal
// openings in a row that are too narrow for their figures are dimensioned together.
func (e *elevation) clears(y float64) float64 {
	if len(e.bays) == 0 || e.thrift == sparse {
		return y
	}
	size := figureType * e.size
	y += size*1.1 + textLift
	c := Chain{Size: size, Bold: true, Offset: -0.01} // just below its points, so that further rows of figures go down
	point := func(x float64) { c.Points = append(c.Points, Point{x / e.den, y}) }
	for i := 0; i < len(e.bays); {
		b := e.bays[i]
		body := e.figure(b.clear())
		j := i + 1
		if !e.fits(Text{Body: body, Size: size, Bold: true}, (b.to-b.from)/e.den) {
			for j < len(e.bays) && e.figure(e.bays[j].clear()) == body {
				j++
			}
		}
		if j > i+1 {
			body, e.together = fmt.Sprintf("%d × %s", j-i, body), true
		}
		if len(c.Points) > 0 {
			c.Texts = append(c.Texts, "") // over the post
		}
		point(b.from)
		point(e.bays[j-1].to)
		c.Texts = append(c.Texts, body)
		i = j
	}
	e.thin(&c)
	e.put(c.Items()...)
	for _, p := range c.Points {
		e.put(Line{A: Point{p.X, e.floor() + extensionGap}, B: Point{p.X, y + extensionBeyond}, Weight: Hairline, Tone: Faint})
	}
	if e.wide() {
		e.rowName("clear", y-textLift)
	}
	return math.Max(y+extensionBeyond, bottomOf(e.boxes))
}

// clear is the opening at the bottom rail as used.
func (b bayView) clear() length.Length {
	if p := b.Used(); p != nil {
		return p.ClearBottom
	}
	return b.planned
}

// tiers is how many rows of figures a dimension line may have before figures are left out.
const tiers = 2

// thin takes the figures out of a chain that would need more rows.
func (e *elevation) thin(c *Chain) {
	at := make([]float64, len(c.Points))
	for i, p := range c.Points {
		at[i] = p.X - c.Points[0].X
	}
	for {
		var over string
		for _, l := range c.place(at) {
			if l.tier >= tiers {
				over = l.body
			}
		}
		if over == "" {
			return
		}
		for i := len(c.Texts) - 1; i >= 0; i-- {
			if c.Texts[i] == over {
				c.Texts[i] = ""
				break
			}
		}
	}
}

// floor is the lowest place on paper of decking, framing or stair.
func (e *elevation) floor() float64 {
	if e.l.Stair != nil {
		return 0
	}
	if e.o.Brief {
		return mm(e.o.Spec.Decking) / e.den
	}
	return e.depth() / e.den
}

// rowName writes what a row of figures is, at its right.
func (e *elevation) rowName(name string, y float64) {
	_, right := e.edge()
	e.label(Text{At: Point{right/e.den + 4.5, y}, Body: name, Size: wordType * e.size, Tone: Faint})
}

// centres draws the post centres as running figures from the datum, in a row at y, and under them the ends and the scale bar.
func (e *elevation) centres(y float64) {
	if e.o.Brief {
		return
	}
	if len(e.l.Posts) == 0 {
		e.scaleBar(e.scale(), e.low/e.den+1, y+5.5, math.Inf(1))
		return
	}
	size := figureType * e.size
	from := e.floor() + extensionGap
	if e.together {
		from = y + extensionGap // clear of figures that stand across posts
	}
	y += 3.2
	last := e.l.Posts[len(e.l.Posts)-1]
	far := math.Max(mm(last.Centre), mm(e.l.Length))
	e.put(Line{A: Point{0, y}, B: Point{far / e.den, y}, Weight: Hairline, Tone: Accent}, Circle{Centre: Point{0, y}, Radius: 0.9, Weight: Medium, Tone: Accent, Fill: Paper})
	for _, p := range e.l.Posts {
		x := mm(p.Centre) / e.den
		e.put(Line{A: Point{x, from}, B: Point{x, y + extensionBeyond}, Weight: Hairline, Dash: Centre, Tone: Accent})
		if p.Centre != 0 {
			e.put(Line{A: Point{x - slashHalf, y + slashHalf}, B: Point{x + slashHalf, y - slashHalf}, Weight: Medium, Tone: Accent})
		}
	}
	upright := e.upright(size)
	bottom := y
	for _, p := range e.endsFirst() {
		t := Text{At: Point{mm(p.Centre) / e.den, y + extensionBeyond + size}, Body: e.figure(p.Centre), Size: size, Anchor: Middle, Bold: true, Tone: Accent}
		if upright {
			t.At, t.Anchor, t.Angle = Point{t.At.X + capHeight*size/2, y + extensionBeyond + 0.6}, End, 90
		}
		if e.label(t) {
			bottom = math.Max(bottom, textBox(t).y2)
		}
	}
	if e.wide() {
		e.rowName("from the datum", y+extensionBeyond+size)
	}
	bottom = e.faceRows(bottom)
	if e.thrift == sparse {
		e.scaleInside()
		return
	}
	row, left, right := e.ends(far, bottom)
	if e.l.Stair != nil && !e.o.Brief && e.scaleInside() {
		return
	}
	if !e.scaleBar(e.scale(), left+6, row+1.8, right-4) {
		e.scaleBar(e.scale(), e.low/e.den+1, e.bottom()+5.5, math.Inf(1))
	}
}

// upright says whether the figures of the post centres are set upright: they do not fit side by side, but rows of them do.
func (e *elevation) upright(size float64) bool {
	tight, room := false, true
	for i := 1; i < len(e.l.Posts); i++ {
		a, b := e.l.Posts[i-1], e.l.Posts[i]
		between := mm(b.Centre-a.Centre) / e.den
		both := TextWidth(e.figure(a.Centre), size, true) + TextWidth(e.figure(b.Centre), size, true)
		tight = tight || both/2+textMargin > between
		room = room && between > size*1.1
	}
	return tight && room
}

// endsFirst lists the posts with those at the ends before the others, so that thinning keeps them.
func (e *elevation) endsFirst() []layout.Post {
	n := len(e.l.Posts)
	if n < 3 {
		return e.l.Posts
	}
	return slices.Concat(e.l.Posts[:1], e.l.Posts[n-1:], e.l.Posts[1:n-1])
}

// ends writes what the run begins and ends at, in a row under the figures, and returns the row's baseline and what is left
// of it between the two.
func (e *elevation) ends(far, bottom float64) (y, from, to float64) {
	size := wordType * e.size
	y = bottom + size*1.05
	start := Text{At: Point{-1, y}, Body: "datum", Size: size, Tone: Accent}
	if e.o.Run.Start != "" {
		start.Body += ", " + e.endName(e.o.Run.Start, false)
	}
	e.label(start)
	from, to = textBox(start).x2, far/e.den
	if e.o.Run.End != "" {
		end := Text{At: Point{far/e.den + 1, y}, Body: e.endName(e.o.Run.End, true), Size: size, Anchor: End, Tone: Faint}
		if e.label(end) {
			to = textBox(end).x1
		}
	}
	return y, from, to
}

// endName is what a run ends at, in words, with what is still to come on a wall.
func (e *elevation) endName(k layout.EndKind, far bool) string {
	for _, w := range e.l.Walls {
		if w.Far == far && w.Siding() > 0 {
			return string(k) + ", " + e.text(w.Siding()) + " to come on it"
		}
	}
	if start, end := e.l.CapMitred(); far && end || !far && start {
		return string(layout.EndCorner) // whatever the run says: another one is joined there
	}
	if k == layout.EndFree {
		return "free end"
	}
	return string(k)
}
