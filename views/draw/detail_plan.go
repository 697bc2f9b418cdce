package draw

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

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
		d.blockingAlong(from, to, past)
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
	if len(d.p.Bolts) > 0 {
		d.rect(-mm(d.o.Spec.BoltDiameter)/2, -12, mm(d.o.Spec.BoltDiameter)/2, d.boltFar()+14, Outline{Weight: Hairline, Dash: Hidden})
	}
	if len(d.p.Corner) > 0 {
		middle, bolt := (d.postNear()+d.postFar())/2, mm(d.o.Spec.BoltDiameter)/2
		near, far := -half-mm(d.p.Corner[0].Blocking)-14, math.Max(half+d.rim(), to)+12
		if d.p.Number == 1 { // the corner is at the datum end
			near, far = math.Min(-half-d.rim(), from)-12, half+mm(d.p.Corner[0].Blocking)+14
		}
		d.rect(near, middle-bolt, far, middle+bolt, Outline{Weight: Hairline, Dash: Hidden})
	}
	d.line(0, -math.Min(40, 4.4*d.den), 0, d.postFar()+30, Hairline, Centre, Ink)
	d.planDimensions()
	at := d.at(left, past)
	d.put(Text{At: Point{at.X, at.Y - 7.5}, Body: d.p.Label + ", plan", Size: labelType, Bold: true})
	if d.l.Frame != nil && d.l.Frame.KnownTo != nil && to < right {
		d.word(to+10, d.rim()/2, Start, "not known", Faint)
	}
	if d.l.Frame != nil && d.l.Frame.KnownFrom != nil && from > left {
		d.word(from-10, d.rim()/2, End, "not known", Faint)
	}
	d.word(from, -4.2*d.den, Start, d.edgeName(), Faint)
	d.word(right, -4.2*d.den, End, "outside"+d.seen(), Faint)
	d.letter()
}

// blockingAlong draws what is behind an edge that the joists run along: the next of them, the rim round a corner that they end at, and the blocking between
// them at its places along the run.
func (d *detail) blockingAlong(from, to, past float64) {
	next := d.rim() + d.bay()
	if f := d.l.Frame; f != nil {
		for _, rim := range []*layout.Joist{f.Start, f.End} {
			if rim == nil || d.along(rim.Far) < from || d.along(rim.Near) > to {
				continue
			}
			near, far := d.along(rim.Near), d.along(rim.Far)
			d.rect(near, d.rim(), far, past, Outline{Weight: Medium, Fill: Paper})
			d.word((near+far)/2, past+1.5*d.den, Middle, "rim round the corner", Ink)
			if rim == f.Start {
				from = far
			} else {
				to = near
			}
		}
	}
	d.rect(from, next, to, next+d.rim(), Outline{Weight: Medium, Fill: Paper})
	for _, s := range d.p.Beside {
		d.rect(d.along(s.From), d.rim(), d.along(s.To), next, Outline{Weight: Light, Fill: Hatch})
	}
	if n := len(d.p.Beside); n > 0 {
		says := "blocking " + d.text(d.p.Blocking[0].Length)
		if first := d.along(d.p.Beside[0].From); d.along(d.p.Beside[n-1].To) <= 0 {
			d.word(first-10, (d.rim()+next)/2, End, says, Ink)
		} else {
			d.word(d.along(d.p.Beside[n-1].To)+10, (d.rim()+next)/2, Start, says, Ink)
		}
	}
	d.word(to, next-3.4*d.den, End, "next joist", Ink)
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
	far := d.blockedFrom()
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
