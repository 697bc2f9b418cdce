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

// holeRoom is how wide the words on a sleeve's holes may stand on paper, in millimetres.
const holeRoom = 62

// section draws the cut across the run, seen along it from the datum, the outside at the left.
func (d *detail) section() {
	deck, depth, far := mm(d.o.Spec.Decking), d.depth(), d.postFar()
	end := far + detailPast
	// What runs inward behind the cut: joists, seen from the side.
	d.rect(d.rim(), -depth, end, 0, Outline{Weight: Hairline, Tone: Faint})
	d.decking(end)
	d.endGrain(0, -depth, d.rim(), 0)
	switch {
	case d.p.Sleeve != nil:
		d.blocking()
		d.sleeve()
	case d.onBase():
		d.baseBlocking()
		d.base()
	default:
		d.blocking()
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
	if d.onBase() {
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
		d.word(far+detailPast/2, -depth-4*d.den, Middle, fmt.Sprintf("blocking %s, %s", d.text(b.Length), d.besideWords()), Ink)
		return
	}
	pieces := d.eachSpace()
	for i := range pieces {
		d.endGrain(far+float64(i)*thick, -depth, far+float64(i+1)*thick, 0)
	}
	d.word(far+float64(pieces)*thick+4, -depth-4*d.den, Start, "blocking", Ink)
}

// besideWords says where the blocking stands that runs inward beside the post, or under its base.
func (d *detail) besideWords() string {
	near, far := d.along(d.p.Beside[0].To) <= 0, d.along(d.p.Beside[len(d.p.Beside)-1].From) >= 0
	switch {
	case near && far:
		return "each side"
	case near:
		return fmt.Sprintf("%d on the datum side", len(d.p.Beside))
	case far:
		return fmt.Sprintf("%d on the far side", len(d.p.Beside))
	}
	return fmt.Sprintf("%d side by side", len(d.p.Beside))
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
