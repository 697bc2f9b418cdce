package layout

import (
	"fmt"
	"math"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// pieces lists every piece of the run as it is to be cut: from the opening as measured where there is one.
func (w *work) pieces() {
	add := func(p Piece) { w.out.Pieces = append(w.out.Pieces, p) }
	for _, p := range w.out.Posts {
		if p.SharedAs == "" {
			add(Piece{Label: p.Label, What: "post", Section: w.postSection(), Length: p.Cut, Count: 1, Cuts: w.postCuts(), Place: p.Label, Version: "planned"})
		}
		for _, b := range p.Blocking {
			add(b)
		}
		if p.Sleeve != nil {
			add(Piece{Label: p.Label + " sleeve", What: w.spec.SleeveMaterial + " sleeve", Section: fmt.Sprintf("%s inside, wall %s", w.text(p.Sleeve.Inside), w.text(w.spec.SleeveWall)),
				Length: p.Sleeve.Height, Count: 1, Cuts: "square", Place: p.Label, Version: "planned"})
		}
	}
	for _, b := range w.out.Bays {
		parts, version := b.Used(), "planned"
		if parts == nil {
			continue
		}
		if b.Built != nil {
			version = "as built"
		}
		cuts := "square"
		if !w.slope.level() {
			cuts = w.railEnds() + ", measured along the " + w.edge()
		}
		for _, r := range []struct {
			what string
			rail Rail
		}{{"top rail", parts.Top}, {"bottom rail", parts.Bottom}} {
			add(Piece{Label: r.rail.Label, What: r.what, Section: r.rail.Section, Length: r.rail.Cut, Count: 1, Cuts: cuts, Place: b.Label, Version: version})
		}
		if parts.Infill.Count > 0 {
			noun := parts.Infill.Noun()
			add(Piece{Label: b.Label + " " + noun + "s", What: noun, Section: w.memberSection(parts.Infill),
				Length: parts.Infill.Cut, Count: parts.Infill.Count, Cuts: w.memberCuts(parts.Infill), Place: b.Label, Version: version})
		}
	}
	w.cablePiece()
	w.out.Pieces = append(w.out.Pieces, w.out.Cap...)
}

// postSection names the post stock with its actual size.
func (w *work) postSection() string {
	return fmt.Sprintf("%s (%s by %s)", w.spec.PostNominal, w.text(w.spec.PostWidth), w.text(w.spec.PostDepth))
}

// postCuts is how posts are cut; on a stair they are left long.
func (w *work) postCuts() string {
	if w.run.Kind == Rake {
		return "cut long; mark the top in place, plumb above the nosing line"
	}
	return "square"
}

// memberSection names the stock of an upright member of the infill.
func (w *work) memberSection(in Infill) string {
	if in.Kind == FillPanels {
		return fmt.Sprintf("panel %s thick, %s wide", w.text(w.spec.PanelThickness), w.text(in.Member))
	}
	return fmt.Sprintf("%s %s", w.text(in.Member), in.Shape)
}

// memberCuts is how the upright members of the infill are cut.
func (w *work) memberCuts(in Infill) string {
	switch {
	case w.slope.level():
		return "square"
	case in.Kind == FillPanels:
		return fmt.Sprintf("sides plumb, top and bottom edge on the rake, %.1f degrees", w.slope.angle())
	}
	return fmt.Sprintf("both ends %.1f degrees off square", w.slope.angle())
}

// lift says what a removable length needs, with its weight from the pieces that lift out. Runs of other kinds have none.
func (w *work) lift() {
	if w.run.Kind != Removable {
		return
	}
	l := &Lift{Why: w.run.RemovableWhy, Store: w.run.RemovableStore, Side: w.run.SideClearance}
	w.out.Lift = l
	if l.Why == "" {
		w.problem(w.run.Label, "removable_why", "Enter why this length is removable: the reason is printed.")
	}
	if w.spec.PostMount == MountSleeve {
		l.Rise = w.spec.JoistDepth + w.spec.Decking
		l.Note = fmt.Sprintf("Lift %s straight up to clear the sleeves; keep %s clear at each side. Cover the empty sleeves and close the opening: an open edge is a fall hazard.", w.text(l.Rise), w.text(l.Side))
	} else {
		w.problem(w.run.Label, "post_mount", "A removable length stands in sleeves: its post mount is %s.", w.spec.PostMount)
		l.Note = fmt.Sprintf("Keep %s clear at each side. Close the opening while it is out: an open edge is a fall hazard.", w.text(l.Side))
	}
	species, ok := codes.SpeciesByKey(w.spec.Species)
	if !ok {
		l.Note += " Its weight is not known: the species is not given."
		return
	}
	l.Weight = w.volume() * species.Density(liftMoisture)
	if kind := w.spec.InfillKind; kind == FillCables || kind == FillPanels {
		l.Note += fmt.Sprintf(" Its weight is without the %s: add theirs.", kind)
	}
	w.say("Removable length: wood of %s at %d %% moisture weighs about %.1f kg, hardware not included.", species.Name, liftMoisture, l.Weight)
}

// liftMoisture is the moisture content, in percent, that a removable length is weighed at: wood in the open, air-dry
// (common practice, no source).
const liftMoisture = 15

// volume is the wood of posts, rails, balusters and cap in cubic metres.
func (w *work) volume() float64 {
	var total float64
	box := func(a, b, c length.Length, count int) {
		total += a.Millimetres() * b.Millimetres() * c.Millimetres() / 1e9 * float64(count)
	}
	for _, p := range w.out.Posts {
		if p.SharedAs == "" {
			box(w.spec.PostWidth, w.spec.PostDepth, p.Cut, 1)
		}
	}
	for _, b := range w.out.Bays {
		parts := b.Used()
		if parts == nil {
			continue
		}
		box(w.spec.RailThickness, w.spec.RailWidth, parts.Top.Cut+parts.Bottom.Cut, 1)
		if parts.Infill.Kind == FillPanels {
			continue
		}
		before := total
		box(parts.Infill.Member, parts.Infill.Member, parts.Infill.Cut, parts.Infill.Count)
		if parts.Infill.Shape == InfillRound {
			total = before + (total-before)*math.Pi/4
		}
	}
	for _, c := range w.out.Cap {
		box(w.spec.CapThickness, w.spec.CapWidth, c.Length, 1)
	}
	return total
}

// drySize is a green width of the job's species once air-dry, by the linear method of the Wood Handbook with 30 % as fibre
// saturation (method from memory); unchanged where no shrinkage is known.
func (w *work) drySize(width length.Length) length.Length {
	species, ok := codes.SpeciesByKey(w.spec.Species)
	if !ok || species.Shrinkage.Tangential == 0 {
		return width
	}
	return DrySize(width, species.Shrinkage.Tangential, dryMoisture)
}

// cedar says whether the job's species bleeds extractives that stain with iron.
func (w *work) cedar() bool {
	species, ok := codes.SpeciesByKey(w.spec.Species)
	return ok && species.CedarFamily
}

// dryMoisture is the moisture content, in percent, that wet stock is taken to dry to outdoors (common practice, no source).
const dryMoisture = 12
