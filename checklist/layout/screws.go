package layout

// screws holds the rail and cap screws against what they go through: driven down through the cap, a screw must keep its least
// penetration in the rail (six diameters, tip included: NDS 12.1.5.6, secondary text) and must not come out at its other side.
func (w *work) screws() {
	long, cap, rail := w.spec.ScrewLength, w.spec.CapThickness, w.spec.RailDepth()
	if long <= 0 || cap <= 0 || rail <= 0 {
		return
	}
	least := cap + WoodScrewPenetration(w.spec.ScrewDiameter)
	most := cap + rail
	into := long - cap
	w.say("Screws: %s less a cap of %s is %s into a rail of %s; at least six diameters, %s (NDS 12.1.5.6, secondary text).",
		w.text(long), w.text(cap), w.text(into), w.text(rail), w.text(least-cap))
	switch {
	case least >= most:
		w.problem(w.run.Label, "screw_diameter", "No screw of %s holds a cap of %s on a rail %s deep without breaking through: take a thinner one, or fix the cap from below by its maker's way.", w.text(w.spec.ScrewDiameter), w.text(cap), w.text(rail))
	case long < least:
		w.problem(w.run.Label, "screw_length", "Screws of %s keep only %s in the rail under a cap of %s: take %s or longer, shorter than %s.", w.text(long), w.text(max(into, 0)), w.text(cap), w.text(least), w.text(most))
	case long >= most:
		w.problem(w.run.Label, "screw_length", "Screws of %s break through: cap and rail are %s together. Take %s or longer, shorter than that.", w.text(long), w.text(most), w.text(least))
	}
}
