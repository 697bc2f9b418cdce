package layout

import (
	"fmt"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// pieces lists every piece of the run as it is to be cut: from the opening as measured where there is one.
func (w *work) pieces() {
	add := func(p Piece) { w.out.Pieces = append(w.out.Pieces, p) }
	for _, p := range w.out.Posts {
		if p.SharedAs == "" && p.Cut > 0 {
			add(Piece{Label: p.Label, What: "post", Section: w.postSection(), Length: max(p.Cut, p.Rough), Count: 1, Cuts: w.postCuts(p), Place: p.Label, Version: "planned"})
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

// postCuts is how a post is cut: square, or long where its top is marked in place.
func (w *work) postCuts(p Post) string {
	if p.Rough == 0 {
		return "square"
	}
	if p.TopCut.Bevel == 0 {
		return fmt.Sprintf("cut long; top in place, square, at %s", w.text(p.Cut))
	}
	return fmt.Sprintf("cut long; top in place, %.1f degrees off square, %s to its long point", p.TopCut.Bevel, w.text(p.Cut))
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
