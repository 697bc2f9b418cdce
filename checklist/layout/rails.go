package layout

import (
	"fmt"

	"newelbook/checklist/length"
)

// parts lays out the rails and infill of a bay from its clear openings in plan; nil where it cannot be.
func (w *work) parts(label string, clearTop, clearBottom length.Length, planned bool) *Parts {
	p := &Parts{
		ClearTop: clearTop, ClearBottom: clearBottom,
		Top:    w.rail(label+" top", clearTop, w.spec.ConnectorTop),
		Bottom: w.rail(label+" bottom", clearBottom, w.spec.ConnectorBottom),
	}
	for _, r := range []Rail{p.Top, p.Bottom} {
		if r.Cut <= 0 {
			w.fatal(label, "connector_top", "The opening of %s is used up by the connector allowance of %s at each end: no rail fits.", w.text(r.Clear), w.text(r.Allowance))
			return nil
		}
	}
	task := w.infillTask(p)
	infill, warning, refused := task.lay()
	if refused != "" {
		w.fatal(label, "infill_gap", "%s", refused)
		return nil
	}
	if warning != "" {
		w.problem(label, "infill_centres", "%s", warning)
	}
	infill.Shape = w.spec.InfillShape
	infill.Cut, infill.CutNote = w.baluster()
	p.Infill = infill
	version := "planned"
	if !planned {
		version = "as built"
	}
	w.sayRails(label, version, p)
	for _, why := range infill.Why {
		w.say("%s, %s: %s", label, version, why)
	}
	return p
}

// rail takes the connector allowance off an opening at each end, along the rake where there is one, and rounds down. Both
// ends of a raked rail are cut plumb, so it is as long along one edge as along the other.
func (w *work) rail(label string, clear, allowance length.Length) Rail {
	r := Rail{Label: label, Clear: clear, Allowance: allowance, Section: w.railSection(), Bevel: w.slope.angle()}
	r.Ideal = w.slope.along(clear - 2*allowance)
	r.Cut = r.Ideal.RoundDown(w.spec.Grid)
	return r
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
		text := fmt.Sprintf("%s, %s, %s rail: %s less %s at each end is %s", label, version, r.name,
			w.text(r.rail.Clear), w.text(r.rail.Allowance), w.text(r.rail.Clear-2*r.rail.Allowance))
		if !w.slope.level() {
			text += fmt.Sprintf(", times %.5f is %s along the %s, both ends cut plumb at %.1f degrees off square", w.slope.factor(), w.text(r.rail.Ideal), w.edge(), r.rail.Bevel)
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

// infillTask gathers what decides the balusters of a bay. They stand in the bottom rail, so its opening rules.
func (w *work) infillTask(p *Parts) infillTask {
	t := infillTask{
		clear: p.ClearBottom, allowance: p.Bottom.Allowance, ideal: p.Bottom.Ideal, cut: p.Bottom.Cut, slope: w.slope,
		member: w.spec.InfillWidth, dry: w.spec.InfillWidth, mode: w.spec.InfillMode, gap: w.spec.InfillGap, centres: w.spec.InfillCentres,
		limit: w.opening, grid: w.spec.Grid, style: w.style,
	}
	if !w.slope.level() {
		t.centres = w.spec.InfillRake
	}
	if w.spec.InfillMoisture == StockWet {
		t.dry = w.drySize(w.spec.InfillWidth)
	}
	return t
}
