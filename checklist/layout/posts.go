package layout

import (
	"fmt"

	"newelbook/checklist/length"
)

// posts describes every post of the run.
func (w *work) posts(all []support) {
	for _, s := range all {
		if s.wall() {
			continue
		}
		p := Post{
			Number: s.post, Label: fmt.Sprintf("%s-P%d", w.run.Label, s.post), Centre: s.centre(), Face: s.near, Width: s.width,
			Blocking: []Piece{}, Bolts: []Bolt{}, Top: w.out.Heights.PostTop, Existing: w.run.PostsAre == PostsExisting,
		}
		if s.post == 1 && !all[0].wall() {
			p.SharedAs = w.in.Joint.Shared
		}
		if p.Existing {
			p.Joist = "Stands there already: nothing here says what holds it. Open it up and look, or refer it."
		} else {
			w.mount(&p)
		}
		if w.run.Kind == Rake {
			w.setPost(&p, s, all)
		}
		w.out.Posts = append(w.out.Posts, p)
	}
	w.postsFit()
	w.flightEnds(all)
	if says := w.offLine(); says != "" {
		w.ask("%s", says)
	}
	w.meets()
	for i := range w.out.Posts {
		if p := &w.out.Posts[i]; p.Existing {
			p.Cut = 0 // also on a flight and at a stair head, whose posts are cut as they stand
		}
	}
	w.boltsFit()
}

// mount says how a new post is fixed, and how long it is cut.
func (w *work) mount(p *Post) {
	if w.spec.PostMount == MountSleeve {
		p.Sleeve = w.sleeve(p.Number)
	}
	if w.run.Kind != Rake {
		w.joists(p)
		w.boltRoom(p)
	}
	switch w.spec.PostMount {
	case MountBolted:
		p.Bolts = w.bolts()
		p.HoldDown = w.holdDown()
	case MountBase:
		p.HoldDown = w.base()
	}
	p.Cut = w.postCut(p.Top)
}

// joists says how a post stands against the joists and which blocking it needs.
func (w *work) joists(p *Post) {
	width, spacing := w.spec.JoistWidth, w.spec.JoistSpacing
	if w.run.Joists == "" || width <= 0 || spacing <= width {
		p.Joist = "Joists are not given: look at what stands behind this post before it is fixed."
		return
	}
	clear := spacing - width
	if w.run.Joists == JoistsAlong {
		p.Joist = fmt.Sprintf("Stands over a joist that runs the same way; the next joist is %s clear of it.", w.text(clear))
		p.JoistGap = clear
		p.Blocking = w.blocking(p, clear, 2, "between the outer joist and the next, one each side of the post")
		return
	}
	near, far := p.Footprint()
	stands, clashes := "Stands", "Clashes"
	if p.Sleeve != nil {
		stands, clashes = "Its sleeve stands", "Its sleeve clashes"
	}
	// Joists stand at FirstJoist and every spacing after it; before is the last whose centre is not past the post's centre.
	steps := (p.Centre - w.run.FirstJoist) / spacing
	if p.Centre < w.run.FirstJoist {
		steps = -1
	}
	before := w.run.FirstJoist + steps*spacing
	after := before + spacing
	hasBefore := steps >= 0
	gapBefore, gapAfter := w.touching(near-(before+width/2)), w.touching(after-width/2-far)
	name := func(n length.Length) string { return fmt.Sprintf("joist %d", int64(n)+1) }
	beside := func(gap length.Length, joist string) string {
		if gap == 0 {
			return "against the face of " + joist
		}
		return fmt.Sprintf("%s clear of %s", w.text(gap), joist)
	}
	switch {
	case hasBefore && gapBefore < 0:
		p.clash(gapBefore)
		p.Joist = fmt.Sprintf("%s with %s: %s further along would clear its face, at %s from the datum.", clashes, name(steps), w.text(-gapBefore), w.text(before+width/2))
		p.Blocking = w.besideJoist(p, clear, steps)
	case gapAfter < 0:
		p.clash(gapAfter)
		p.Joist = fmt.Sprintf("%s with %s: %s back towards the datum would clear its face, at %s from the datum.", clashes, name(steps+1), w.text(-gapAfter), w.text(after-width/2))
		p.Blocking = w.besideJoist(p, clear, steps+1)
	case !hasBefore && gapAfter == 0:
		p.Joist = fmt.Sprintf("%s against the near face of joist 1, with nothing between them.", stands)
	case !hasBefore:
		p.JoistGap = gapAfter
		p.Joist = fmt.Sprintf("%s before the first joist, %s clear of it.", stands, w.text(gapAfter))
	default:
		p.JoistGap = min(gapBefore, gapAfter)
		p.Joist = fmt.Sprintf("%s between %s, %s clear, and %s, %s clear.", stands, name(steps), w.text(gapBefore), name(steps+1), w.text(gapAfter))
		if p.JoistGap == 0 {
			p.Joist = fmt.Sprintf("%s %s and %s.", stands, beside(gapBefore, name(steps)), beside(gapAfter, name(steps+1)))
		}
		p.Blocking = w.blocking(p, clear, 2, fmt.Sprintf("between %s and %s, behind the post", name(steps), name(steps+1)))
	}
}

// touching is a clear distance to a joist, nothing where the two stand face to face.
func (w *work) touching(gap length.Length) length.Length {
	if Touches(gap, w.spec.Grid) {
		return 0
	}
	return gap
}

// Touches says whether a clear distance is less than half of what can be marked, either way.
func Touches(gap, grid length.Length) bool { return 2*gap.Abs() < grid }

// clash marks a post that stands where a joist does.
func (p *Post) clash(gap length.Length) { p.JoistGap, p.JoistClsh = gap, true }

// besideJoist is the blocking of a post that clashes with the joist at a number of steps from the first, one piece each side of it; the first
// joist has no other before it to block to.
func (w *work) besideJoist(p *Post, clear, steps length.Length) []Piece {
	if steps == 0 {
		return w.blocking(p, clear, 1, "between joist 1 and joist 2")
	}
	return w.blocking(p, clear, 2, fmt.Sprintf("one each side of joist %d", int64(steps)+1))
}

// blocking makes the blocking pieces of a post, cut to fit between joists.
func (w *work) blocking(p *Post, clear length.Length, count int, where string) []Piece {
	return []Piece{{
		Label: p.Label + " blocking", What: "blocking", Section: fmt.Sprintf("%s by %s, as the joists", w.text(w.spec.JoistWidth), w.text(w.spec.JoistDepth)),
		Length: clear.RoundDown(w.spec.Grid), Count: count, Cuts: "square", Place: where, Version: "planned",
	}}
}

// base says what a surface base needs.
func (w *work) base() string {
	if w.spec.BaseTest == "" {
		return "The surface base has no published guard-load test on record: refer it before it is fixed, and put blocking under it."
	}
	return "Blocking under the base; its published guard-load test: " + w.spec.BaseTest + "."
}

// postCut is the cut length of a post: its top above the decking and what stands below it. It is rounded up, since a post
// cut short lowers the guard.
func (w *work) postCut(top length.Length) length.Length {
	return (top + w.framingDeep()).RoundUp(w.spec.Grid)
}
