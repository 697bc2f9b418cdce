package draw

import (
	"fmt"
	"math"
	"slices"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// bay draws the opening, which a page links, its rails and every member of its infill at its mark.
func (e *elevation) bay(b bayView) {
	h := e.l.Heights
	opening := Outline{Points: e.along(b.from, b.to, mm(h.Under), mm(h.TopRailTop)), Weight: Hairline, Tone: Faint, ID: fmt.Sprintf("%s/B%d", e.l.RunID, b.Number)}
	if b.odds != "" {
		opening.Fill, opening.Tone = Hatch, Red
	}
	if h.Finished > 0 {
		e.put(opening)
	}
	parts := b.Used()
	if parts == nil {
		return
	}
	face := e.o.Spec.InfillFix == layout.FixFace
	if !face {
		e.infill(b, parts.Infill, false)
	}
	e.rail(b, parts.Bottom, mm(h.Under), mm(h.BottomRailTop))
	e.rail(b, parts.Top, mm(h.TopRailTop-h.RailVertical), mm(h.TopRailTop))
	if face {
		e.infill(b, parts.Infill, true)
	}
}

// rail draws a rail between its connectors; what rounding took off it is shared between its ends.
func (e *elevation) rail(b bayView, r layout.Rail, low, high float64) {
	cut := mm(r.Cut)
	if r.Ideal > 0 {
		cut = mm(r.Seated()) * float64(r.Cut) / float64(r.Ideal)
	}
	start := b.from + mm(r.Allowance) + (mm(r.Seated())-cut)/2
	e.put(Outline{Points: e.along(start, start+cut, low, high), Weight: Medium, Fill: Paper})
}

// infill draws every member at its mark in plan from the datum-side post face, and every cable at its height.
func (e *elevation) infill(b bayView, in layout.Infill, face bool) {
	h := e.l.Heights
	low, high := mm(h.BottomRailTop), mm(h.TopRailTop-h.RailVertical)
	if in.Kind == layout.FillPanels {
		edge := (high - low - mm(in.Cut)) / 2
		low, high, face = low+edge, high-edge, false
	}
	if c := in.Cables; c != nil {
		for _, m := range c.Marks {
			e.line(b.from, e.ref(b.from)+mm(m), b.to, e.ref(b.to)+mm(m), Light, Solid, Ink)
		}
		face = false
	}
	if face {
		low, high = mm(h.Under), mm(h.TopRailTop)
	}
	weight := Light
	if mm(in.Member)/e.den < 0.8 {
		weight = Hairline // two light lines so close would run together
	}
	for _, mark := range in.FromPost {
		x := b.from + mm(mark)
		o := Outline{Points: e.along(x-mm(in.Member)/2, x+mm(in.Member)/2, low, high), Weight: weight}
		if face || b.odds != "" {
			o.Fill = Paper
		}
		e.put(o)
	}
}

// cap draws the cap rail with its joints, or its pieces between posts that pass through it.
func (e *elevation) cap() {
	h := e.l.Heights
	low, high := mm(h.TopRailTop), mm(h.Finished)
	if len(e.l.Cap) == 0 || high <= low {
		return
	}
	if e.through() {
		for _, b := range e.bays {
			e.put(Outline{Points: e.along(b.from, b.to, low, high), Weight: Medium, Fill: Paper})
		}
		return
	}
	e.put(Outline{Points: e.along(e.low, e.high, low, high), Weight: Medium, Fill: Paper})
	if near := e.l.CapRight; near != nil { // the right edge is the near one: past it the cut of the mitre is seen
		for _, x := range []float64{mm(near.From), mm(near.To)} {
			if x > e.low && x < e.high {
				e.line(x, e.ref(x)+low, x, e.ref(x)+high, Light, Solid, Ink)
			}
		}
	}
	total, done := 0.0, 0.0
	for _, c := range e.l.Cap {
		total += mm(c.Length)
	}
	for _, c := range e.l.Cap[:len(e.l.Cap)-1] {
		done += mm(c.Length)
		x := e.low + (e.high-e.low)*done/total
		e.line(x, e.ref(x)+low, x, e.ref(x)+high, Medium, Solid, Ink)
	}
}

// surface is the height of what a post of a flight stands over: its marks are plumb above it.
func (e *elevation) surface(p layout.Post) float64 {
	if downhill := mm(p.Face); !e.o.Run.Down() {
		return e.ref(downhill) - mm(p.Stand.Downhill.Line)
	}
	return e.ref(mm(p.Face+p.Width)) - mm(p.Stand.Downhill.Line)
}

// postTop is the outline of a post's top from its datum-side face on, in millimetres from the datum and up.
func (e *elevation) postTop(p layout.Post) []Point {
	near, far, t := mm(p.Face), mm(p.Face+p.Width), p.TopCut
	base, down := e.ref(mm(p.Centre)), e.o.Run.Down()
	switch {
	case t == nil:
		return []Point{{near, base + mm(p.Top)}, {far, base + mm(p.Top)}}
	case t.Across:
		return []Point{{near, base + mm(t.Uphill)}, {far, base + mm(t.Uphill)}}
	case p.Stand != nil:
		base = e.surface(p)
	default:
		down = p.Number > 1 // the flight goes on from the level run's last post, or back from its first
	}
	// From the uphill face to the downhill one.
	at := []Point{{0, base + mm(t.Uphill)}, {mm(p.Width), base + mm(t.Downhill)}}
	if t.Shape == layout.TopBoth {
		line := mm(p.Width - t.Line)
		at = []Point{at[0], {line, base + mm(t.Uphill)}, {line, base + mm(t.Foot)}, at[1]}
	}
	for i := range at {
		if at[i].X += near; !down {
			at[i].X = near + far - at[i].X
		}
	}
	if !down {
		slices.Reverse(at)
	}
	return at
}

// post draws a post down to what it stands on: solid where it is seen, hidden where framing, a stair or the ground stands before it.
func (e *elevation) post(p layout.Post) {
	near, far := mm(p.Face), mm(p.Face+p.Width)
	ref := e.ref(mm(p.Centre))
	seen, foot := ref, ref+mm(p.Top-p.Cut)
	if e.l.Stair != nil {
		seen = e.step(mm(p.Centre))
	}
	surface := ref
	if st := p.Stand; st != nil {
		surface = e.surface(p)
		foot = surface - mm(st.Below)
	}
	if p.StandOff > 0 {
		foot = surface + mm(p.StandOff)
		e.put(Outline{Points: e.rect(near, surface, far, foot), Weight: Light, Tone: Accent, Fill: Paper})
	}
	if p.Stand != nil || p.StandOff > 0 {
		seen = math.Max(seen, foot)
	}
	top := e.postTop(p)
	topNear, topFar := top[0].Y, top[len(top)-1].Y
	tone := Ink
	if p.JoistClsh {
		tone = Red
	}
	o := Outline{Points: []Point{e.at(near, seen), e.at(far, seen)}, Weight: Heavy, Fill: Paper, Tone: tone, ID: fmt.Sprintf("%s/P%d", e.l.RunID, p.Number)}
	for _, at := range slices.Backward(top) {
		o.Points = append(o.Points, e.at(at.X, at.Y))
	}
	e.put(o)
	if t := p.TopCut; t != nil && t.Across && t.Downhill != t.Uphill {
		// The edge of what falls away from the eye, or towards it.
		e.line(near, ref+mm(t.Downhill), far, ref+mm(t.Downhill), Light, Solid, Ink)
	}
	if p.SharedAs != "" {
		e.line(near, seen, far, topFar, Hairline, Solid, Faint)
		e.line(near, topNear, far, seen, Hairline, Solid, Faint)
	}
	if e.o.Brief {
		return
	}
	if foot < seen && !p.Existing && (p.Stand != nil || e.holds() && e.l.Stair == nil) {
		e.put(Outline{Points: e.rect(near, foot, far, seen), Weight: Light, Dash: Hidden, Tone: tone})
	}
	if s := p.Sleeve; s != nil && e.l.Stair == nil {
		half := mm(s.Outside) / 2
		e.put(Outline{Points: e.rect(mm(p.Centre)-half, ref-mm(s.Height), mm(p.Centre)+half, ref), Weight: Medium, Dash: Hidden, Tone: Accent})
	}
	for _, below := range e.bolts(p) {
		if ref-mm(below) < foot {
			continue // the post ends over it: a problem of the layout, which says so
		}
		e.put(Circle{Centre: e.at(mm(p.Centre), ref-mm(below)), Radius: max(mm(e.o.Spec.BoltDiameter)/e.den, 0.45), Weight: Hairline, Fill: Paper})
	}
}

// bolts is how far the bolts of a post stand below the reference line at its centre, as far as that is known.
func (e *elevation) bolts(p layout.Post) (below []length.Length) {
	switch {
	case p.Stringer():
		for _, k := range e.l.Stair.Stringer.Marks {
			if k.BelowLine != 0 {
				below = append(below, k.BelowLine)
			}
		}
	case e.l.Stair == nil && e.holds():
		for _, b := range p.Bolts {
			below = append(below, e.o.Spec.Decking+b.FromTop)
		}
	}
	return below
}
