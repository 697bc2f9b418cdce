package layout

import (
	"fmt"
	"strings"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// allowances are what hardware takes off a rail at a bay's two ends: at a wall its own figure, where one is given.
func (w *work) allowances(from, to support, connector length.Length) (near, far length.Length) {
	at := func(s support) length.Length {
		if s.wall() && w.spec.ConnectorWallGiven {
			return w.spec.ConnectorWall
		}
		return connector
	}
	return at(from), at(to)
}

// parts lays out the rails and infill of a bay between two supports from its clear openings in plan, which follow from what was measured
// or, where m is nil, from the plan; nil where it cannot be.
func (w *work) parts(label string, from, to support, clearTop, clearBottom length.Length, m *Opening) *Parts {
	p := &Parts{ClearTop: clearTop, ClearBottom: clearBottom}
	near, far := w.allowances(from, to, w.spec.ConnectorTop)
	p.Top = w.rail(label+" top", clearTop, near, far)
	near, far = w.allowances(from, to, w.spec.ConnectorBottom)
	p.Bottom = w.rail(label+" bottom", clearBottom, near, far)

	for _, r := range []*Rail{&p.Top, &p.Bottom} {
		r.skew(w, from, to)
	}
	for _, r := range []Rail{p.Top, p.Bottom} {
		if r.Cut <= 0 {
			w.fatal(label, "connector_top", "The opening of %s is used up by the connector allowance of %s: no rail fits.", w.text(r.Clear), w.eachEnd(r))
			return nil
		}
	}
	top, untold := w.topMarked(label, from, to, p, m)
	infill, warning, refused := w.fill(p, top)
	if refused != "" {
		w.fatal(label, "infill_gap", "%s", refused)
		return nil
	}
	if warning != "" {
		w.problem(label, "infill_centres", "%s", warning)
	}
	if untold != "" && infill.Count > 0 {
		infill.TopNote = untold
		w.leanMatters(label, w.nameOf(from, to), p, infill)
	}
	if over := skewOver(p.Bottom.SkewFrom, w.railAcross()); over > 0 {
		infill.Hook = strings.Replace(infill.Hook, "the datum-end cut of the bottom rail", "the middle of the datum-end cut of the bottom rail, "+w.text(over)+" short of its long point", 1)
	}
	p.Infill = infill
	version := "planned"
	if m != nil {
		version = "as built"
	}
	w.sayRails(label, version, p)
	if c := infill.Cables; c != nil {
		for _, why := range c.Why {
			w.say("%s, %s: %s", label, version, why)
		}
	}
	for _, why := range infill.Why {
		w.say("%s, %s: %s", label, version, why)
	}
	return p
}

// rail takes the connector allowance off an opening at each end, along the rake where there is one, and rounds down. Both
// ends of a raked rail are cut alike, so it is as long along one edge as along the other; cut square it loses its depth times
// the tangent of the angle, or its corners would foul the posts.
func (w *work) rail(label string, clear, near, far length.Length) Rail {
	r := Rail{Label: label, Clear: clear, Allowance: near, AllowanceFar: far, Section: w.railSection(), Bevel: w.slope.angle()}
	r.Ideal = w.slope.along(r.Seated())
	if w.squareRails() {
		r.Bevel, r.Ideal = 0, r.Ideal-w.railSquare()
	}
	r.Cut = r.Ideal.RoundDown(w.spec.Grid)
	return r
}

// skew says how the rail meets turned posts: the long point of each end stands out past its middle.
func (r *Rail) skew(w *work, from, to support) {
	if !w.slope.level() {
		return
	}
	r.SkewFrom, r.SkewTo = from.skew, to.skew
	r.Over = skewOver(from.skew, w.railAcross()) + skewOver(to.skew, w.railAcross())
}

// Seated is the opening less both allowances, in plan.
func (r Rail) Seated() length.Length { return r.Clear - r.Allowance - r.AllowanceFar }

// eachEnd says what the hardware takes off a rail.
func (w *work) eachEnd(r Rail) string {
	if r.Allowance == r.AllowanceFar {
		return w.text(r.Allowance) + " at each end"
	}
	return fmt.Sprintf("%s at the datum end and %s at the far end", w.text(r.Allowance), w.text(r.AllowanceFar))
}

// squareRails says whether raked rails are cut square.
func (w *work) squareRails() bool { return !w.slope.level() && w.spec.RailRakeEnd == EndSquare }

// railSquare is what a raked rail loses when its ends are cut square.
func (w *work) railSquare() length.Length {
	return length.MulDiv(w.spec.RailDepth(), int64(w.slope.rise), int64(w.slope.run))
}

// railEnds says how the ends of a raked rail are cut.
func (w *work) railEnds() string {
	if w.squareRails() {
		return "both ends square"
	}
	return fmt.Sprintf("both ends plumb, %.1f degrees off square", w.slope.angle())
}

// railSection names the rail stock with its actual size.
func (w *work) railSection() string {
	return fmt.Sprintf("%s (%s by %s), %s", w.spec.RailNominal, w.text(w.spec.RailThickness), w.text(w.spec.RailWidth), w.spec.RailOrientation)
}

// sayRails writes the rail arithmetic of a bay.
func (w *work) sayRails(label, version string, p *Parts) {
	for _, r := range []struct {
		name string
		rail Rail
	}{{"top", p.Top}, {"bottom", p.Bottom}} {
		text := fmt.Sprintf("%s, %s, %s rail: %s less %s is %s", label, version, r.name,
			w.text(r.rail.Clear), w.eachEnd(r.rail), w.text(r.rail.Seated()))
		if !w.slope.level() {
			text += fmt.Sprintf(", times %.5f is %s along the %s", w.slope.factor(), w.text(w.slope.along(r.rail.Seated())), w.edge())
			if w.squareRails() {
				text += fmt.Sprintf(", less %s for square ends (a depth of %s times %.4f) is %s", w.text(w.railSquare()), w.text(w.spec.RailDepth()), float64(w.slope.rise)/float64(w.slope.run), w.text(r.rail.Ideal))
			}
			text += ", " + w.railEnds()
		}
		if shown := r.rail.Ideal.Round(length.Inch / 64); w.in.Unit == length.Inches && shown > r.rail.Ideal && shown.RoundDown(w.spec.Grid) > r.rail.Cut {
			text += ", a hair less"
		}
		w.say("%s; cut %s.", text, w.text(r.rail.Cut))
	}
}

// edge is the edge that raked rails are measured along.
func (w *work) edge() string {
	if w.spec.RailLengthEdge == EdgeBottom {
		return EdgeBottom
	}
	return EdgeTop
}

// RakeCuts says how the ends of raked rails are cut; empty on the level.
func RakeCuts(l Layout) string {
	if l.Stair == nil || len(l.Bays) == 0 || l.Bays[0].Used() == nil {
		return ""
	}
	if l.Bays[0].Used().Top.Bevel == 0 {
		return "Raked rails: both ends cut square; the corner that meets the post is the lower one uphill and the upper one downhill."
	}
	return fmt.Sprintf("Raked rails: both ends cut plumb, %.1f degrees off square; from a saw set off its fence %.1f degrees.", l.Bays[0].Used().Top.Bevel, l.Stair.Complement)
}

// infillTask gathers what decides the upright members of a bay. They stand in the bottom rail, so its opening rules.
func (w *work) infillTask(p *Parts, top *topRail) infillTask {
	t := infillTask{
		top:   top,
		clear: p.ClearBottom, allowance: p.Bottom.Allowance, skew: w.slope.along(p.Bottom.AllowanceFar-p.Bottom.Allowance) / 2, ideal: p.Bottom.Ideal, cut: p.Bottom.Cut, slope: w.slope,
		member: w.spec.InfillWidth, dry: w.spec.InfillWidth, mode: w.spec.InfillMode, gap: w.spec.InfillGap, centres: w.spec.InfillCentres,
		limit: w.opening, grid: w.spec.Grid, style: w.style, kind: w.spec.InfillKind, centredOn: w.spec.InfillCentred,
	}
	switch t.kind {
	case FillPanels:
		t.mode, t.gap = EqualGaps, w.spec.PanelGap
	case FillCables:
		// What passes between uprights is held by the cables: uprights keep the cables apart, and have a limit of their own.
		t.mode, t.gap, t.limit = EqualGaps, w.spec.CableSupport, limitOf(w.in.Rules, codes.OpeningRopeSupport, w.style)
	}
	if !w.slope.level() {
		t.centres = w.spec.InfillRake
	}
	if w.squareRails() {
		t.square, t.high = w.railSquare(), w.run.Down()
	}
	if w.spec.InfillMoisture == StockWet {
		t.dry = w.drySize(w.spec.InfillWidth)
	}
	return t
}
