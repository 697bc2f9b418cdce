package layout

import (
	"fmt"
	"strings"

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
		for _, piece := range w.sleevePieces(p) {
			add(piece)
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
		cuts := w.levelCuts(parts.Top, w.railAcross())
		if !w.slope.level() {
			cuts = w.railEnds() + ", measured along the " + w.edge()
		}
		for _, r := range []struct {
			what string
			rail Rail
		}{{"top rail", parts.Top}, {"bottom rail", parts.Bottom}} {
			add(Piece{Label: r.rail.Label, What: r.what, Section: r.rail.Section, Length: r.rail.Cut, Count: 1, Cuts: cuts, Over: r.rail.Over, Place: b.Label, Version: version})
		}
		if parts.Infill.Count > 0 {
			noun := parts.Infill.Noun()
			add(Piece{Label: b.Label + " " + noun + "s", What: noun, Section: w.memberSection(parts.Infill),
				Length: parts.Infill.Cut, Count: parts.Infill.Count, Cuts: w.memberCuts(parts.Infill), Place: b.Label, Version: version})
		}
	}
	w.cablePiece()
	w.out.Pieces = append(w.out.Pieces, w.out.Cap...)
	w.stockLong()
}

// sleeveWall is a board of a wood sleeve.
const sleeveWall = "wood sleeve wall"

// sleevePieces are what the sleeve of a post is made of: a length of tube, or four boards, two as wide as the inside and two that lap over the
// edges of those. Nothing without a sleeve, and of a post that is another run's, whose sleeve it is.
func (w *work) sleevePieces(p Post) []Piece {
	s := p.Sleeve
	switch {
	case s == nil || p.SharedAs != "":
		return nil
	case w.spec.SleeveMaterial == SleeveSteel:
		return []Piece{{Label: p.Label + " sleeve", What: SleeveSteel + " sleeve", Section: fmt.Sprintf("%s inside, wall %s", w.text(s.Inside), w.text(w.spec.SleeveWall)),
			Length: s.Height, Count: 1, Cuts: "square", Place: p.Label, Version: "planned"}}
	}
	wall := func(which string, wide length.Length) Piece {
		return Piece{Label: p.Label + " sleeve " + which, What: sleeveWall, Section: fmt.Sprintf("%s by %s", w.text(w.spec.SleeveWall), w.text(wide)),
			Length: s.Height, Count: 2, Cuts: "square, ripped to width", Place: p.Label, Version: "planned"}
	}
	return []Piece{wall("inner", s.Inside), wall("lapping", s.Outside)}
}

// stockLong says, once for the run, which pieces come out of no stock length.
func (w *work) stockLong() {
	longest := w.longestStock()
	if longest == 0 {
		return
	}
	type kind struct {
		what        string
		long, takes length.Length
	}
	var order []kind
	count := map[kind]int{}
	for _, p := range w.out.Pieces {
		k := kind{p.What, p.Length, p.Takes(w.out, w.spec)}
		if !p.Boarded() || k.takes <= longest {
			continue
		}
		if count[k] == 0 {
			order = append(order, k)
		}
		count[k] += p.Count
	}
	if len(order) == 0 {
		return
	}
	all := make([]string, len(order))
	for i, k := range order {
		noun := k.what
		if noun == "blocking" {
			noun = "blocking piece"
		}
		all[i] = plural(count[k], noun) + " of " + w.text(k.takes)
		if k.takes != k.long {
			all[i] += " over the points of its ends (" + w.text(k.long) + " as listed)"
		}
	}
	w.problem(w.run.Label, "stock_lengths", "No stock length holds %s: the longest gives %s once both ends are trimmed. List longer stock, or divide the length.", strings.Join(all, ", "), w.text(longest))
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

// drySize is a green width of the job's species once air-dry.
func (w *work) drySize(width length.Length) length.Length { return w.sizeAt(width, DryMoisture) }

// sizeAt is a green size of the job's species across its grain at a moisture content in percent, by the linear method of the Wood Handbook with
// 30 % as fibre saturation (method from memory); unchanged where no shrinkage is known.
func (w *work) sizeAt(green length.Length, moisture float64) length.Length {
	species, ok := codes.SpeciesByKey(w.spec.Species)
	if !ok || species.Shrinkage.Tangential == 0 {
		return green
	}
	return DrySize(green, species.Shrinkage.Tangential, moisture)
}

// cedar says whether the job's species bleeds extractives that stain with iron.
func (w *work) cedar() bool {
	species, ok := codes.SpeciesByKey(w.spec.Species)
	return ok && species.CedarFamily
}

// DryMoisture is the moisture content, in percent, that wet stock is taken to dry to outdoors (common practice, no source).
const DryMoisture = 12
