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
	if !w.hasCap() {
		w.say("Cap rail: none.")
		return
	}
	if each := (w.spec.CapWidth - w.spec.PostDepth) / 2; (each - w.spec.CapOverhang).Abs() >= max(w.spec.Grid, 1) {
		w.problem(w.run.Label, "cap_width", "A cap of %s over a post of %s leaves %s each side, not the overhang of %s.",
			w.text(w.spec.CapWidth), w.text(w.spec.PostDepth), w.text(each), w.text(w.spec.CapOverhang))
	}
	planned := all
	all, measured := w.standing(all)
	if w.spec.PostsAtCap == PostsThroughCap {
		for i := 1; i < len(all); i++ {
			clear := w.slope.along(all[i].near - all[i-1].far() - w.wallGaps(all[i-1], all[i]))
			w.addCap(fmt.Sprintf("%s-B%d cap", w.run.Label, i), clear.RoundDown(w.spec.Grid), w.throughCuts(all[i-1], all[i]), fmt.Sprintf("bay %d", i), measured[i-1:i])
		}
		return
	}
	first, last := all[0], all[len(all)-1]
	start, startCut := w.capEnd(w.run.Start, first, w.run.Turn, w.startBack())
	end, endCut := w.capEnd(w.run.End, last, w.endTurn(), w.endBack())
	if past, cut, ok := w.capAtHead(true); ok {
		start, startCut = past, cut
	}
	if past, cut, ok := w.capAtHead(false); ok {
		end, endCut = past, cut
	}
	from, to := first.centre()-start, last.centre()+end
	w.out.CapFrom, w.out.CapTo = planned[0].centre()-start, planned[len(planned)-1].centre()+end
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
		rounded := piece.Round(w.spec.Grid)
		if first.wall() && last.wall() {
			rounded = piece.RoundDown(w.spec.Grid) // nothing gives between two walls
		}
		w.addCap(fmt.Sprintf("%s cap %d", w.run.Label, number), rounded, cuts, w.capPlace(all, i-1, reach), measured[i-1:reach])
		from, cutAt, i = stop, "joint over a post, "+w.capCut(), reach+1
	}
	w.say("Cap rail: %s past the post face each side, measured from the post's own face; %s.", w.text(w.spec.CapOverhang), plural(number-1, "piece"))
}

// throughCuts is how a cap piece between two posts is cut: its ends lie against the posts, off square where one is turned.
func (w *work) throughCuts(from, to support) string {
	cuts := "both ends " + w.capCut() + ", against the posts"
	if from.wall() || to.wall() {
		cuts = "both ends " + w.capCut() + ", " + w.offWall()
	}
	if w.slope.level() && (from.skew != 0 || to.skew != 0) {
		cuts = w.levelCuts(Rail{SkewFrom: from.skew, SkewTo: to.skew}, w.spec.CapWidth)
	}
	return cuts
}

// wallGaps is what stays open between a piece of cap and the walls at its ends, in plan.
func (w *work) wallGaps(from, to support) (gaps length.Length) {
	for _, s := range []support{from, to} {
		if s.wall() {
			gaps += w.spec.CapWallGap
		}
	}
	return gaps
}

// offWall says how a cap ends at a wall.
func (w *work) offWall() string {
	if w.spec.CapWallGap == 0 {
		return "against the wall"
	}
	return w.text(w.spec.CapWallGap) + " off the wall"
}

// standing is the supports as they stand: set on from the datum by the openings as measured at the top, where they were, and as planned
// elsewhere; and which bays were measured.
func (w *work) standing(all []support) ([]support, []bool) {
	at, measured := slices.Clone(all), make([]bool, len(all)-1)
	for i := range measured {
		clear := all[i+1].near - all[i].far()
		if b := w.out.Bays[i].Built; b != nil {
			clear, measured[i] = b.ClearTop, true
		}
		at[i+1].near = at[i].far() + clear
	}
	if moved := at[len(at)-1].near - all[len(all)-1].near; moved != 0 {
		way := "longer"
		if moved < 0 {
			way = "shorter"
		}
		w.say("Cap rail: by the openings as measured the run is %s %s than planned.", w.text(moved.Abs()), way)
	}
	return at, measured
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
		return -w.spec.CapWallGap, w.capCut() + ", " + w.offWall()
	case kind == EndCorner && turn%180 != 0:
		half := math.Abs(float64(turn)) / 2
		return back + nearestNM(float64(w.spec.CapWidth)/2*math.Tan(half*math.Pi/180)), fmt.Sprintf("mitre %g degrees, long point", half) + betweenPosts(back)
	}
	return s.width/2 + w.spec.CapOverhang, w.capCut() + fmt.Sprintf(", %s past the post", w.text(w.spec.CapOverhang))
}

// betweenPosts says of the mitre of a doubled corner that nothing is under it.
func betweenPosts(back length.Length) string {
	if back == 0 {
		return ""
	}
	return ", between the two posts: put a block under it"
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

// addCap adds one piece of cap rail over bays that were measured or not.
func (w *work) addCap(label string, l length.Length, cuts, place string, measured []bool) {
	version := "as built"
	if slices.Contains(measured, false) {
		version = "planned"
	}
	w.out.Cap = append(w.out.Cap, Piece{Label: label, What: "cap rail", Section: w.capSection(), Length: l, Count: 1, Cuts: cuts, Place: place, Version: version})
}

// capSection names the cap stock by its actual size.
func (w *work) capSection() string {
	return fmt.Sprintf("%s by %s", w.text(w.spec.CapThickness), w.text(w.spec.CapWidth))
}
