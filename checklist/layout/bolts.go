package layout

import (
	"fmt"
	"slices"
	"strings"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// bolts places the two through-bolts of a bolted post in the depth of the framing, with the length that they must have. inward is how
// much nearer the middle than the job's they stand: a second pair in a corner. They go through so much of post and packing, the framing that it is
// fixed to, and so much blocking behind the post.
func (w *work) bolts(inward, post, framing, blocking length.Length) []Bolt {
	depth, long := w.spec.JoistDepth, w.boltLength(post, framing+blocking)
	top, bottom := w.spec.BoltTop+inward, w.spec.BoltBottom+inward
	return []Bolt{
		{Name: "upper", FromTop: top, FromBottom: depth - top, Length: long, Blocking: blocking},
		{Name: "lower", FromTop: depth - bottom, FromBottom: bottom, Length: long, Blocking: blocking},
	}
}

// behind is how much blocking stands tight behind a post where its bolts come out, on its centre line: they go through it, since there is no room
// for nut and washer between. Blocking beside a post lets them pass.
func (w *work) behind(p *Post) length.Length {
	for i, s := range p.Blocked {
		if p.Centre < s.From || p.Centre > s.To {
			continue
		}
		if len(p.Blocking) > 1 {
			return length.Length(p.Blocking[i].Count) * w.spec.JoistWidth
		}
		return length.Length(p.Blocking[0].Count/len(p.Blocked)) * w.spec.JoistWidth
	}
	return 0
}

// besidePieces is how many pieces of blocking a post has where its run stands alongside the joists. They run inward beside it, and its bolts pass
// them; in a corner both stand on the side away from it, so that the second pair of bolts goes through them.
const besidePieces = 2

// cornerShift is how far the bolts through the second edge of a corner stand from those through the first, centre to centre: bolts
// at one height would meet in the middle of the post. One and a half diameters leave half of one between the holes (common practice, no
// source).
func (w *work) cornerShift() length.Length { return (3 * w.spec.BoltDiameter / 2).RoundUp(w.spec.Grid) }

// pack is what the post of a square corner, as its own run sees it, stands off the framing under the other run, which is against the outer faces of
// that run's posts: it is packed out by that.
func (c corner) pack() length.Length { return max(0, c.edge(0)-c.own.spec.PostWidth/2) }

// edgePair is the pair through the edge that a run stands on.
func (w *work) edgePair(blocking length.Length) []Bolt {
	return w.bolts(0, w.spec.PostDepth, w.spec.JoistWidth, blocking)
}

// cornerPair is the second pair of bolts of a corner's post, which goes through it along its own run, out through the framing under the other one.
func (w *work) cornerPair(c corner, blocking length.Length) []Bolt {
	return w.bolts(w.cornerShift(), c.own.spec.PostWidth+c.pack(), c.thick(), blocking)
}

// cornerBolts gives a post that stands in a square corner, with a run on both sides, a second pair of bolts: a push on the one run bears
// on the framing under it, and the bolts through the other edge do not hold against it. The pair stands with the run that has the post of
// its own; in the other one it is the only pair.
func (w *work) cornerBolts(p *Post) {
	j := w.in.Joint
	switch {
	case p.SharedAs != "" && w.atStartCorner(p):
		blocking := w.behind(p)
		if j.Beside == JoistsAlong {
			blocking = besidePieces * w.spec.JoistWidth
		}
		p.Bolts = w.cornerPair(w.startCorner().flipped(), blocking)
		p.Joist += fmt.Sprintf(" Through this edge its bolts stand %s below the top of the framing and %s above its underside, clear of those through the other.", w.text(p.Bolts[0].FromTop), w.text(p.Bolts[1].FromBottom))
	case w.atEndCorner(p) && j.EndRun != "":
		w.secondPair(p, w.endCorner(), j.EndRun)
	case w.atStartCorner(p) && j.start != nil && j.StartRun != "":
		w.secondPair(p, w.startCorner(), j.StartRun)
	}
}

// secondPair is the pair of a post through the edge under the other run of its corner.
func (w *work) secondPair(p *Post, c corner, other string) {
	blocking := length.Length(0)
	if w.run.Joists == JoistsAlong && len(p.Blocking) > 0 {
		blocking = besidePieces * w.spec.JoistWidth
	}
	pair := w.cornerPair(c, blocking)
	if pair[0].FromTop >= pair[1].FromTop {
		w.problem(p.Label, "bolt_top", "There is no room in framing of %s for a second pair of bolts through this corner's post: ask an engineer how it is held against a push on %s.", w.text(w.spec.JoistDepth), other)
		return
	}
	p.Corner = pair
	p.Joist += fmt.Sprintf(" A second pair of bolts goes through the edge under %s: the upper %s below the top of the framing, the lower %s above its underside, clear of the first pair inside the post.", other, w.text(pair[0].FromTop), w.text(pair[1].FromBottom))
	if pack := c.pack(); pack > 0 {
		p.Joist += fmt.Sprintf(" Pack out the %s between the post and that edge.", w.text(pack))
	}
}

// boltLength is what a through-bolt must reach: the post, the rest of the wood that it goes through, and two washers, a nut and some thread,
// for which two diameters are allowed, up to the next length that bolts are sold in (common practice, no source).
func (w *work) boltLength(post, wood length.Length) length.Length {
	step := length.Inch / 2
	if w.in.Unit == length.Millimetres {
		step = 10 * mm
	}
	return (post + wood + 2*w.spec.BoltDiameter).RoundUp(step)
}

// boltRoom says whether something stands in the way of a post's bolts: the end of a joist with its hanger, or an obstruction that
// the builder has noted. Both bolts stand on the post's centre line.
func (w *work) boltRoom(p *Post) {
	if w.spec.PostMount != MountBolted || w.run.Kind == Rake {
		return
	}
	need := w.spec.BoltAccess
	for _, at := range w.run.Obstructions {
		if d := (at - p.Centre).Abs(); d < need {
			w.problem(p.Label, "obstructions", "What is noted at %s from the datum stands %s from the line of the bolts, and a washer and a spanner want %s: move the post or what is there.", w.text(at), w.text(d), w.text(need))
		}
	}
	row, across := rowOf(w.run, w.spec, w.out.Frame)
	if !across {
		return
	}
	joist, d, known := Joist{}, length.Length(0), false
	for i := range 2 {
		j, ok := row.at(row.before(p.Centre) + i)
		if away := (p.Centre - j.Centre).Abs() - w.spec.JoistWidth/2; ok && (!known || away < d) {
			joist, d, known = j, away, true
		}
	}
	switch {
	case !known:
	case d < w.spec.BoltDiameter/2:
		p.Joist += fmt.Sprintf(" The bolts run into the end of %s.", joist.Name())
	case d < need:
		p.Joist += fmt.Sprintf(" The bolts come out %s beside %s, and a washer and a spanner want %s: mind its hanger.", w.text(d), joist.Name(), w.text(need))
	}
}

// boltsFit holds the bolts of the run's posts to what they go through, framing or stringer, each once.
func (w *work) boltsFit() {
	for _, p := range w.out.Posts {
		if p.SharedAs == "" && len(p.Bolts) > 0 && !p.Stringer() {
			w.checkBolts(p.Bolts)
			w.boltLengths()
			break
		}
	}
	if st := w.out.Stair; st != nil && st.Stringer != nil {
		w.checkStringer(st.Stringer)
	}
}

// checkBolts holds the bolts through framing to the least edge distance and keeps the upper above the lower.
func (w *work) checkBolts(bolts []Bolt) {
	if spacing := bolts[1].FromTop - bolts[0].FromTop; spacing <= 0 {
		w.problem(w.run.Label, "bolt_top", "The upper bolt is not above the lower one: look at both distances and the joist depth.")
	} else {
		w.say("Bolts: %s below the top and %s above the underside of %s framing stand %s apart.",
			w.text(w.spec.BoltTop), w.text(w.spec.BoltBottom), w.text(w.spec.JoistDepth), w.text(spacing))
	}
	for _, b := range bolts {
		w.boltEdge(b.Name, min(b.FromTop, b.FromBottom), "framing", "bolt_top")
	}
}

// boltLengths says how long the bolts of the run must be, each length once with the posts that have it.
func (w *work) boltLengths() {
	type kind struct {
		through string
		long    length.Length
	}
	var order []kind
	posts := map[kind][]string{}
	for _, p := range w.out.Posts {
		if p.SharedAs != "" || p.Stringer() {
			continue
		}
		for _, pair := range [][]Bolt{p.Bolts, p.Corner} {
			if len(pair) == 0 {
				continue
			}
			k := kind{p.Through(pair[0], w.style), pair[0].Length}
			if posts[k] == nil {
				order = append(order, k)
			}
			if !slices.Contains(posts[k], p.Label) {
				posts[k] = append(posts[k], p.Label)
			}
		}
	}
	for _, k := range order {
		w.say("Bolts at %s: through %s and two diameters of washers and nut, %s long.", strings.Join(posts[k], ", "), k.through, w.text(k.long))
	}
	if w.holdDown() != "" {
		w.say("Hold-down: it sits on the upper bolt behind all that this goes through, fixed to a joist or to joist stock that runs inward beside it, as its maker says (%s).", practice)
	}
}

// boltEdge holds the nearest edge of what a bolt goes through to the least edge distance; a fault leads to field.
func (w *work) boltEdge(name string, nearest length.Length, of, field string) {
	edge, ok := w.in.Rules.Practice(codes.BoltEdgeMin)
	if !ok || edge.Bound.Test(nearest, edge.Value) {
		return
	}
	value, figure := nearest.FormatAgainst(edge.Value, w.style)
	w.problem(w.run.Label, field, "The %s bolt stands %s from the edge of the %s; the figure is %s %s (%s).", name, value, of, edge.Bound, figure, edge.Source())
}

// holdDown says what is called for at a bolted post.
func (w *work) holdDown() string {
	if !w.out.Required.Required {
		return ""
	}
	figure, ok := w.in.Rules.Practice(codes.HoldDownCapacity)
	if !ok {
		return ""
	}
	amount := figure.Text
	if w.style == length.Metric && figure.Unit == "lb" {
		amount = fmt.Sprintf("%s (%s)", force(KilonewtonsFromPounds(figure.Number), "kN"), figure.Text)
	}
	text := fmt.Sprintf("A hold-down of %s %s at the upper bolt is called for (%s).", figure.Bound, amount, figure.Source())
	if w.spec.HoldDown != "" {
		text += " The job has " + w.spec.HoldDown + "."
	}
	return text
}
