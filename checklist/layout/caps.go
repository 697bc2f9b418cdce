package layout

import (
	"fmt"
	"math"
	"slices"

	"newelbook/checklist/length"
)

// caps lays the cap rail over the run: pieces joined over posts where the posts end under it, pieces between them where
// they pass through it.
func (w *work) caps(all []support) {
	if w.spec.CapThickness <= 0 || w.spec.CapWidth <= 0 {
		w.say("Cap rail: none.")
		return
	}
	if over := w.spec.PostDepth + 2*w.spec.CapOverhang; over != w.spec.CapWidth {
		w.problem(w.run.Label, "cap_width", "A cap of %s over a post of %s leaves %s each side, not the overhang of %s.",
			w.text(w.spec.CapWidth), w.text(w.spec.PostDepth), w.text((w.spec.CapWidth-w.spec.PostDepth)/2), w.text(w.spec.CapOverhang))
	}
	if w.spec.PostsAtCap == PostsThroughCap {
		for i := 1; i < len(all); i++ {
			clear := w.slope.along(all[i].near - all[i-1].far())
			w.addCap(fmt.Sprintf("%s-B%d cap", w.run.Label, i), clear.RoundDown(w.spec.Grid), "both ends "+w.capCut()+", against the posts", fmt.Sprintf("bay %d", i))
		}
		return
	}
	first, last := all[0], all[len(all)-1]
	start, startCut := w.capEnd(w.run.Start, first, w.run.Turn, w.startBack())
	end, endCut := w.capEnd(w.run.End, last, w.endTurn(), w.endBack())
	from, to := first.centre()-start, last.centre()+end
	longest := w.longestStock()
	cutAt := startCut
	number := 1
	for i := 1; from < to; number++ {
		// The joint goes over the farthest post that one board reaches.
		reach := i
		for reach < len(all)-1 && (longest == 0 || w.slope.along(w.capStop(all, reach+1, to)-from) <= longest) {
			reach++
		}
		stop, cut := w.capStop(all, reach, to), "joint over a post, "+w.capCut()
		if reach == len(all)-1 {
			cut = endCut
		}
		piece := w.slope.along(stop - from)
		cuts := cutAt + "; " + cut
		if cutAt == cut {
			cuts = "both ends " + cut
		}
		w.addCap(fmt.Sprintf("%s cap %d", w.run.Label, number), piece.Round(w.spec.Grid), cuts, w.capPlace(all, i-1, reach))
		from, cutAt, i = stop, "joint over a post, "+w.capCut(), reach+1
	}
	w.say("Cap rail: %s past the post face each side, measured from the post's own face; %s.", w.text(w.spec.CapOverhang), plural(number-1, "piece"))
}

// capStop is where a cap piece that ends over support i ends, in plan.
func (w *work) capStop(all []support, i int, to length.Length) length.Length {
	if i == len(all)-1 {
		return to
	}
	return all[i].centre()
}

// capPlace says between which supports a cap piece lies.
func (w *work) capPlace(all []support, from, to int) string {
	name := func(s support) string {
		if s.wall() {
			return "the wall"
		}
		return fmt.Sprintf("P%d", s.post)
	}
	return name(all[from]) + " to " + name(all[to])
}

// capEnd is how far the cap runs past the centre of an end support in plan, to its long point, and how it is cut there. back
// is how far the corner itself lies past that centre: nothing where one post stands in it.
func (w *work) capEnd(kind EndKind, s support, turn int, back length.Length) (past length.Length, cut string) {
	switch {
	case s.wall():
		return 0, w.capCut() + " against the wall"
	case kind == EndCorner && turn%180 != 0:
		half := math.Abs(float64(turn)) / 2
		return back + nearestNM(float64(w.spec.CapWidth)/2*math.Tan(half*math.Pi/180)), fmt.Sprintf("mitre %g degrees, long point", half)
	}
	return s.width/2 + w.spec.CapOverhang, w.capCut() + fmt.Sprintf(", %s past the post", w.text(w.spec.CapOverhang))
}

// capCut is how a plain cap end is cut.
func (w *work) capCut() string {
	if w.slope.level() {
		return EndSquare
	}
	if w.spec.CapRakeEnd == EndSquare {
		return EndSquare
	}
	return fmt.Sprintf("%s (%.1f degrees off square)", EndPlumb, w.slope.angle())
}

// longestStock is the longest board on hand after trimming both ends; zero where none is listed.
func (w *work) longestStock() length.Length {
	if len(w.spec.StockLengths) == 0 {
		return 0
	}
	return max(0, slices.Max(w.spec.StockLengths)-2*w.spec.EndTrim)
}

// addCap adds one piece of cap rail.
func (w *work) addCap(label string, l length.Length, cuts, place string) {
	w.out.Cap = append(w.out.Cap, Piece{Label: label, What: "cap rail", Section: w.capSection(), Length: l, Count: 1, Cuts: cuts, Place: place, Version: "planned"})
}

// capSection names the cap stock by its actual size.
func (w *work) capSection() string {
	return fmt.Sprintf("%s by %s", w.text(w.spec.CapThickness), w.text(w.spec.CapWidth))
}
