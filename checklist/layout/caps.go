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
	if !w.spec.hasCap() {
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
		w.say("Cap rail: pieces between posts are rounded down to the grid of %s, so that each goes in.", w.text(w.spec.Grid))
		for i := 1; i < len(all); i++ {
			clear := w.slope.along(all[i].near - all[i-1].far() - w.wallGaps(all[i-1], all[i]))
			p := Piece{Label: fmt.Sprintf("%s-B%d cap", w.run.Label, i), Length: clear.RoundDown(w.spec.Grid), Cuts: w.throughCuts(all[i-1], all[i]), Place: fmt.Sprintf("bay %d", i)}
			if w.slope.level() {
				p.Over = skewOver(all[i-1].skew, w.spec.CapWidth) + skewOver(all[i].skew, w.spec.CapWidth)
			}
			w.addCap(p, i, measured[i-1:i])
		}
		return
	}
	first, last := all[0], all[len(all)-1]
	start, end := w.capEndAt(first, true), w.capEndAt(last, false)
	w.capExtent(planned, start, end)
	from, to := capLine{first.centre() - start.left, first.centre() - start.right}, capLine{last.centre() + end.left, last.centre() + end.right}
	longest := w.longestStock()
	joint := "joint over a post, " + w.capCut()
	cutAt := start.cut
	number, off := 1, false // off says whether rounding changed a length
	for i := 1; i < len(all) && from.near() < to.far(); number++ {
		// The joint goes over the farthest post that one board reaches.
		reach := i
		for reach < len(all)-1 && (longest == 0 || w.slope.along(capStop(all, reach+1, to).far()-from.near()) <= longest) {
			reach++
		}
		stop, cut := capStop(all, reach, to), joint
		if reach == len(all)-1 {
			cut = end.cut
		}
		p := w.capPiece(from, stop, first.wall() && last.wall())
		off = off || p.Length != w.slope.along(max(stop.left-from.left, stop.right-from.right))
		p.Label, p.Place = fmt.Sprintf("%s cap %d", w.run.Label, number), w.capPlace(all, i-1, reach)
		p.Cuts = capCuts(cutAt, cut) + p.Cuts
		w.addCap(p, i, measured[i-1:reach])
		from, cutAt, i = stop, joint, reach+1
	}
	w.say("Cap rail: %s past the post face each side, measured from the post's own face; %s.", w.text(w.spec.CapOverhang), plural(number-1, "piece"))
	switch {
	case !off:
	case first.wall() && last.wall():
		w.say("Cap rail: lengths off the grid are rounded down, since nothing gives between two walls.")
	default:
		w.say("Cap rail: lengths off the grid go to the nearest %s, which its overhang or its joints take up.", w.text(w.spec.Grid))
	}
	w.capMeets()
	w.looseCorner(w.capJoint(true), "the datum")
	w.looseCorner(w.capJoint(false), "the far end")
}

// capLine is where the end of a piece of cap crosses its left and its right edge, in plan from the datum.
type capLine struct{ left, right length.Length }

func (c capLine) near() length.Length { return min(c.left, c.right) }
func (c capLine) far() length.Length  { return max(c.left, c.right) }
func (c capLine) mitred() bool        { return c.left != c.right }

// capExtent keeps where the cap begins and ends as planned, and along each edge where it is mitred.
func (w *work) capExtent(planned []support, start, end capEnd) {
	first, last := planned[0].centre(), planned[len(planned)-1].centre()
	left, right := Span{first - start.left, last + end.left}, Span{first - start.right, last + end.right}
	w.out.CapFrom, w.out.CapTo = first-start.long(), last+end.long()
	if left != right {
		w.out.CapLeft, w.out.CapRight = &left, &right
	}
	if min(left.To-left.From, right.To-right.From) <= 0 {
		w.problem(w.run.Label, "length", "The run is too short for the mitres of its cap: they cross before they reach the inner edge.")
	}
}

// capPiece is a piece between two ends: as long as its longer edge, with what it takes more of the board where its long points are not on one
// edge. Its cuts are the words on both ends alone.
func (w *work) capPiece(from, to capLine, tight bool) Piece {
	marked := func(l length.Length) length.Length {
		if tight {
			return l.RoundDown(w.spec.Grid) // nothing gives between two walls
		}
		return l.Round(w.spec.Grid)
	}
	left, right := w.slope.along(to.left-from.left), w.slope.along(to.right-from.right)
	p := Piece{Length: marked(max(left, right)), Over: w.slope.along(to.far()-from.near()) - max(left, right)}
	if from.mitred() || to.mitred() {
		p.Cuts = "; seen from the datum"
	}
	if p.Over > 0 {
		edges := fmt.Sprintf("left edge %s, right edge %s", w.text(marked(left)), w.text(marked(right)))
		if marked(left) == marked(right) {
			edges = "each edge " + w.text(p.Length)
		}
		p.Cuts += fmt.Sprintf(", %s, out of %s of board", edges, w.text(p.Length+p.Over.RoundUp(w.spec.Grid)))
	}
	return p
}

// capCuts says how the two ends of a piece are cut.
func capCuts(from, to string) string {
	if from == to {
		return "both ends " + from
	}
	return "datum end " + from + "; far end " + to
}

// looseCorner says which way a corner is taken to turn where no run is joined.
func (w *work) looseCorner(j *capJoint, at string) {
	if j == nil || j.run != "" || j.width == 0 || !j.flat {
		return
	}
	side := "right"
	if j.turn < 0 {
		side = "left"
	}
	w.say("Cap rail: no run is joined at the corner at %s, and it is taken to turn %g degrees to the %s, seen along the run from its datum.", at, math.Abs(float64(j.turn)), side)
}

// throughCuts is how a cap piece between two posts is cut: its ends lie against the posts, off square where one is turned, or keep off a wall.
func (w *work) throughCuts(from, to support) string {
	end := func(name string, s support) string {
		switch {
		case s.wall():
			return name + " end " + w.capCut() + ", " + w.offWall()
		case w.slope.level() && s.skew != 0:
			return w.skewed(name, s.skew, w.spec.CapWidth)
		}
		return name + " end " + w.capCut() + ", against the post"
	}
	switch skewed := w.slope.level() && (from.skew != 0 || to.skew != 0); {
	case skewed:
		return end("datum", from) + "; " + end("far", to) + "; length along the middle"
	case from.wall() && to.wall():
		return "both ends " + w.capCut() + ", " + w.offWall()
	case from.wall() || to.wall():
		return end("datum", from) + "; " + end("far", to)
	}
	return "both ends " + w.capCut() + ", against the posts"
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

// capStop is where a cap piece that ends over support i ends.
func capStop(all []support, i int, to capLine) capLine {
	if i == len(all)-1 {
		return to
	}
	return capLine{all[i].centre(), all[i].centre()}
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

// addCap adds one piece of cap rail over bays from the one of that number on, that were measured or not. A piece over some that were goes by those, and is not
// to be cut before the others are.
func (w *work) addCap(p Piece, bay int, measured []bool) {
	p.What, p.Section, p.Count, p.Version = "cap rail", w.capSection(), 1, "planned"
	switch missing := slices.Index(measured, false); {
	case missing < 0:
		p.Version = "as built"
	case slices.Contains(measured, true):
		p.Version = PartlyBuilt
		var bays []string
		for i, done := range measured {
			if !done {
				bays = append(bays, fmt.Sprintf("B%d", bay+i))
			}
		}
		p.Place += "; measure " + listed(bays) + " before it is cut"
		w.say("%s: it follows the bays that were measured, and %s as planned: measure there before it is cut.", p.Label, listed(bays))
	}
	w.out.Cap = append(w.out.Cap, p)
}

// capSection names the cap stock by its actual size.
func (w *work) capSection() string {
	return fmt.Sprintf("%s by %s", w.text(w.spec.CapThickness), w.text(w.spec.CapWidth))
}
