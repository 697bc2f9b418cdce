package layout

import (
	"fmt"
	"slices"
	"strings"

	"newelbook/checklist/length"
)

// mostBays bounds the bays of one run.
const mostBays = 400

// support is what a bay ends at: a post or a wall's face. near is its datum-side face; a wall has no width.
type support struct {
	post  int // number, 0 for a wall
	near  length.Length
	width length.Length // what it takes of the run's centre line
	skew  float64       // degrees off square of the face that rails meet, positive where they are longer on the left
	// turned is how many degrees the post is turned from the run, clockwise.
	turned float64
}

func (s support) far() length.Length    { return s.near + s.width }
func (s support) centre() length.Length { return s.near + s.width/2 }
func (s support) wall() bool            { return s.width == 0 }

// post makes the support of a post standing at a centre.
func postAt(centre, width length.Length) support {
	return support{near: centre - width/2, width: width}
}

// ends returns the first and last support of a run and its length from the datum to the far end.
func (w *work) ends() (first, last support, total length.Length) {
	faces, start, end := w.run.LengthOver == OverFaces, w.startSeat(), w.endSeat()
	if w.run.Start != EndWall {
		first = start.at(0)
		if faces {
			first.near = 0
		}
	} else if w.run.Siding > 0 {
		first.near = w.run.Siding
		w.say("Wall at the datum: %s still to come on it comes off the first opening.", w.text(w.run.Siding))
	}
	total = w.run.Length
	if total == 0 && w.run.Kind == Rake {
		total = w.run.NosingFrom + length.Length(w.out.Stair.Treads)*w.out.Stair.Tread + w.headBack
		w.say("Run length: %s of %s%s is %s in plan.", plural(w.out.Stair.Treads, "tread"), w.text(w.out.Stair.Tread), w.beside(), w.text(total))
	}
	if w.run.ClearOpening > 0 {
		// From the face that was measured to: of a wall without what is still to come on it.
		face := first.far() + w.run.ClearOpening
		if w.run.Start == EndWall {
			face = w.run.ClearOpening
		}
		switch {
		case w.run.End == EndWall:
			total = face
		case faces:
			total = face + 2*end.half
		default:
			total = face + end.half
		}
	}
	switch {
	case w.run.End == EndWall:
		last = support{near: total - w.run.Siding}
		if w.run.Siding > 0 {
			w.say("Wall at the far end: %s still to come on it comes off the last opening.", w.text(w.run.Siding))
		}
	case faces:
		last = end.at(total - end.half)
	default:
		last = end.at(total)
	}
	return first, last, total
}

// supports returns every post and wall of the run in order from the datum, numbered; nil where the run has no layout.
func (w *work) supports() []support {
	if w.spec.PostWidth <= 0 {
		w.fatal(w.run.Label, "post_width", "Enter the post width: no post can be placed without it.")
		return nil
	}
	first, last, total := w.ends()
	w.out.Length = total
	if total == 0 && w.run.Kind == Rake {
		w.fatal(w.run.Label, "risers", "Enter the number of risers or the run length: the posts cannot be placed without one.")
		return nil
	}
	if total == 0 {
		w.fatal(w.run.Label, "length", "Enter the run length, or the clear opening of a single bay: the posts cannot be placed without one.")
		return nil
	}
	if last.near <= first.far() {
		w.fatal(w.run.Label, "length", "The run of %s is too short for its ends: there is no opening between them. Make it longer, or change its ends.", w.text(total))
		return nil
	}
	all := []support{first}
	switch {
	case w.run.ClearOpening > 0:
		if centres := last.centre() - first.centre(); w.spec.PostMaxCentres > 0 && centres > w.spec.PostMaxCentres {
			w.problem(w.run.Label, "clear_opening", "The single bay is %s between centres, over the greatest centres of %s.", w.text(centres), w.text(w.spec.PostMaxCentres))
		}
	case len(w.run.Posts) > 0:
		all = append(all, w.typedPosts(first, last)...)
	default:
		all = append(all, w.equalPosts(first, last)...)
	}
	all = append(all, last)
	number := 0
	for i := range all {
		if !all[i].wall() {
			number++
			all[i].post = number
		}
	}
	return all
}

// equalPosts divides the run into the fewest bays of equal clear length whose centres are no longer than the greatest
// allowed. Each post's datum-side face is rounded on its own, from the datum-side face of the first post, or from the datum where that is a
// wall: what is still to come on it, which may be off the grid, is no place to hook a tape.
func (w *work) equalPosts(first, last support) []support {
	width, most := w.spec.PostWidth, w.spec.PostMaxCentres
	if most <= 0 {
		w.problem(w.run.Label, "post_max_centres", "Greatest post centres is not given: the run is laid out as a single bay.")
		return nil
	}
	clear := last.near - first.far()
	bays, centres := 1, last.centre()-first.centre()
	// shares is the clear length of all bays together once the posts between them have taken theirs.
	shares := func(n int) length.Length { return clear - length.Length(n-1)*width }
	for exceeds := centres > most; exceeds && bays < mostBays && shares(bays+1) > 0; {
		bays++
		// Between posts the centres are the clear length and a post's width; a bay beside a wall lacks half of that width.
		add := width + max(width, first.width, last.width)
		if bays == 2 && (first.wall() || last.wall()) && first.wall() == last.wall() {
			add = width
		}
		n := length.Length(bays)
		exceeds = 2*shares(bays)+n*add > 2*n*most
		centres = ratio{int64(2*shares(bays) + n*add), int64(2 * n)}.nearest()
	}
	if centres > most {
		w.problem(w.run.Label, "post_max_centres", "No number of posts keeps the centres within %s.", w.text(most))
	}
	w.whyBays(bays, centres, first, last)
	face := first.near
	switch {
	case first.wall():
		face = 0
	case first.skew != 0:
		face = first.centre() - width/2
	}
	var posts []support
	for i := 1; i < bays; i++ {
		offset := int64(first.far()-first.near+length.Length(i-1)*width)*int64(bays) + int64(i)*int64(shares(bays))
		// On the grid from where an ordinary post's face would be at the datum: a turned one may stand off it.
		near := ratio{offset + int64(first.near-face)*int64(bays), int64(bays)}.round(w.spec.Grid)
		posts = append(posts, support{near: face + near, width: width})
	}
	return posts
}

// whyBays says why that number of bays.
func (w *work) whyBays(bays int, centres length.Length, first, last support) {
	span := last.centre() - first.centre()
	if bays == 1 {
		w.say("Posts: %s from end to end is within the greatest centres of %s: one bay.", w.text(span), w.text(w.spec.PostMaxCentres))
		return
	}
	fewer := ratio{int64(span), int64(bays - 1)}.nearest()
	value, most := fewer.FormatAgainst(w.spec.PostMaxCentres, w.style)
	w.say("Posts: %s from end to end in %s, greatest centres %s, within %s.", w.text(span), plural(bays, "bay"), w.text(centres), w.text(w.spec.PostMaxCentres))
	if fewer > w.spec.PostMaxCentres {
		w.say("Posts: one bay fewer would be %s between centres, over %s.", value, most)
	}
}

// typedPosts takes the posts where the builder put them. Those that repeat an end are left to the end; those beyond it or
// on top of each other are left out with a problem.
func (w *work) typedPosts(first, last support) []support {
	width := w.spec.PostWidth
	centres := slices.Clone(w.run.Posts)
	slices.Sort(centres)
	var posts []support
	before := first
	for _, c := range centres {
		p := postAt(c, width)
		switch {
		case c == first.centre() && !first.wall(), c == last.centre() && !last.wall():
			continue
		case c < first.centre() || c > last.centre():
			w.problem(w.run.Label, "posts", "The post at %s is beyond the ends of the run and is left out.", w.text(c))
			continue
		case p.near <= before.far() || p.far() >= last.near:
			w.problem(w.run.Label, "posts", "The post at %s leaves no opening beside its neighbour and is left out.", w.text(c))
			continue
		}
		if d := c - before.centre(); w.spec.PostMaxCentres > 0 && d > w.spec.PostMaxCentres {
			w.problem(w.run.Label, "posts", "The post at %s stands %s from the one before it, over the greatest centres of %s.", w.text(c), w.text(d), w.text(w.spec.PostMaxCentres))
		}
		posts = append(posts, p)
		before = p
	}
	if d := last.centre() - before.centre(); w.spec.PostMaxCentres > 0 && d > w.spec.PostMaxCentres {
		w.problem(w.run.Label, "posts", "The last bay is %s between centres, over the greatest centres of %s.", w.text(d), w.text(w.spec.PostMaxCentres))
	}
	w.say("Posts: %s where the builder put them.", plural(len(posts), "post"))
	return posts
}

// bays lays out every bay between neighbouring supports.
func (w *work) bays(all []support) {
	written := map[string]string{} // working of a bay without its label, to the label it was written out under
	for i := 1; i < len(all); i++ {
		said := len(w.out.Working)
		from, to := all[i-1], all[i]
		b := Bay{Number: i, Label: fmt.Sprintf("%s-B%d", w.run.Label, i), FromPost: from.post, ToPost: to.post, Centres: to.centre() - from.centre()}
		clear := to.near - from.far()
		b.Planned = w.parts(b.Label, from, to, clear, clear, nil)
		if measured, ok := w.in.Built[i]; ok && (measured.Bottom > 0 || measured.Top > 0) {
			b.Measured = &measured
			b.Built = w.built(b.Label, from, to, measured)
		}
		w.out.Bays = append(w.out.Bays, b)
		// A bay worked out in the same words as an earlier one is not written out again.
		own := strings.ReplaceAll(strings.Join(w.out.Working[said:], "\n"), b.Label, "")
		if as, ok := written[own]; ok && own != "" {
			w.out.Working = w.out.Working[:said]
			w.say("%s: as %s.", b.Label, as)
			continue
		}
		written[own] = b.Label
	}
	for _, n := range sortedKeys(w.in.Built) {
		if n < 1 || n >= len(all) {
			w.problem(fmt.Sprintf("%s-B%d", w.run.Label, n), "built", "A measured opening is recorded for a bay that this layout does not have.")
		}
	}
}

// built lays a bay out again from the opening as measured: each rail by its own opening, the infill by the bottom rail's.
// Where only one was measured it stands for both.
func (w *work) built(label string, from, to support, m Opening) *Parts {
	top, bottom := m.Top, m.Bottom
	switch {
	case top <= 0:
		top = bottom
		w.say("%s: measured at the bottom only, %s; the top rail is cut to the same opening.", label, w.text(bottom))
	case bottom <= 0:
		bottom = top
		w.say("%s: measured at the top only, %s; the bottom rail is cut to the same opening.", label, w.text(top))
	default:
		w.say("%s: measured %s at the bottom and %s at the top.", label, w.text(bottom), w.text(top))
		if d := (top - bottom).Abs(); d > w.spec.TolOpening {
			w.problem(label, "tol_opening", "The opening differs by %s from bottom to top, over %s: look at the plumb of both posts.", w.text(d), w.text(w.spec.TolOpening))
		}
	}
	w.bareWall(label, from, to, min(top, bottom))
	return w.parts(label, from, to, top, bottom, &m)
}
