package layout

import (
	"fmt"
	"strings"

	"newelbook/checklist/length"
)

// posts describes every post of the run.
func (w *work) posts(all []support) {
	w.frame(all)
	w.lastPost = all[len(all)-1].post
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
		w.turn(&p, s)
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
	w.asItStands()
	for i := range w.out.Posts {
		if p := &w.out.Posts[i]; p.Existing {
			p.Cut, p.Rough, p.StandOff, p.Foot = 0, 0, 0, "" // also on a flight and at a stair head, whose posts are cut as they stand
		}
	}
	w.boltsFit()
	w.sayPostsRounded()
}

// mount says how a new post is fixed, and how long it is cut.
func (w *work) mount(p *Post) {
	if w.spec.PostMount == MountSleeve {
		p.Sleeve = w.sleeve(p.Number)
	}
	if w.run.Kind != Rake {
		w.joists(p)
		p.Joist += w.turnedWords(*p)
		if p.Turned != 0 {
			p.Blocking, p.Blocked, p.Beside = []Piece{}, nil, nil
		}
		w.boltRoom(p)
	}
	w.sleeveHoles(p)
	switch {
	case w.spec.PostMount == MountBolted && p.Turned != 0: // no edge that bolts go through square is known
	case w.spec.PostMount == MountBolted:
		p.Bolts = w.edgePair(w.behind(p))
		w.cornerBolts(p)
		w.besideSecondPost(p)
		p.HoldDown = w.holdDown()
	case w.spec.PostMount == MountBase:
		p.HoldDown = w.base()
		w.onBase(p, "the decking")
	}
	p.Cut = w.postCut(p)
}

// joists says how a post stands against the joists and which blocking it needs.
func (w *work) joists(p *Post) {
	switch row, across := rowOf(w.run, w.spec, w.out.Frame); {
	case w.out.Frame == nil:
		p.Joist = "Joists are not given: look at what stands behind this post before it is fixed." + w.onBlocking()
	case across:
		w.acrossJoists(p, row)
	default:
		w.alongJoists(p)
	}
	if p.SharedAs != "" && w.in.Joint.blocked {
		p.Blocking, p.Blocked, p.Beside = []Piece{}, nil, nil
		p.Joist += fmt.Sprintf(" Its blocking is that of %s.", p.SharedAs)
	}
	w.clearOfSecondPost(p)
}

// alongJoists is a post of a run that stands alongside the joists, against the outer one.
func (w *work) alongJoists(p *Post) {
	bay, by := w.out.Frame.Bay, w.out.Frame.BayBy
	beside := fmt.Sprintf("the next is %s clear of that one if its bay is a full one: measure it.", w.text(bay))
	if by != "" {
		beside = fmt.Sprintf("the next is %s clear of that one, by the joists under %s.", w.text(bay), by)
	}
	_, deep := w.holds(p.Number)
	p.JoistGap = bay - deep
	pieces, where := besidePieces, ""
	switch framing := w.pastCorner(p); {
	case w.spec.PostMount == MountBase:
		p.Joist = "Its base stands by the outer joist, which runs the same way; " + beside
		pieces = w.under(w.spec.PostWidth)
		where = underPieces(pieces, "between the outer joist and the next")
	case p.JoistGap < 0:
		p.clash(p.JoistGap)
		p.Joist = fmt.Sprintf("Clashes with the joist beside the outer one: %s is clear between them, and %s stands there; %s", w.text(bay), w.text(deep), beside)
		return
	case framing < 0 && !Touches(framing, w.spec.Grid):
		p.clash(framing)
		p.Joist = fmt.Sprintf("Clashes with the framing round the corner: %s back from it would clear its face; %s", w.text(-framing), beside)
	default:
		p.Joist = "Stands against the outer joist, which runs the same way; " + beside
		if p.Sleeve != nil {
			p.Joist = "Its sleeve s" + strings.TrimPrefix(p.Joist, "S")
		}
	}
	if p.Beside = w.blockedBeside(p, pieces); p.Beside == nil {
		p.Joist += " No room for blocking is known beside it at this corner."
		return
	}
	if where == "" {
		where = "between the outer joist and the next, " + sidesOf(p)
	}
	p.Blocking = w.blocking(p, bay, pieces, where)
}

// pastCorner is what is clear between a post or sleeve in a square corner and the framing under the other run; nothing at any other post.
func (w *work) pastCorner(p *Post) length.Length {
	near, far := w.among(p)
	switch f := w.out.Frame; {
	case w.atStartCorner(p) && f.Start != nil:
		return near - f.Start.Far
	case w.atEndCorner(p) && f.End != nil:
		return f.End.Near - far
	}
	return 0
}

// blockedBeside is where the pieces of blocking of a post stand along a run that the joists run along: one each side of post or sleeve, or all on the side
// away from a corner whose framing leaves no room; under a base side by side, as near to its middle as that framing lets them. Nil where they would reach
// past what is known.
func (w *work) blockedBeside(p *Post, pieces int) []Span {
	thick, f := w.spec.JoistWidth, w.out.Frame
	near, far := w.among(p)
	room := func(from, to length.Length) bool {
		return !w.meetsSecondPost(p, from, to) && (f.Start == nil || from >= f.Start.Far) && (f.KnownFrom == nil || from >= *f.KnownFrom) &&
			(f.End == nil || to <= f.End.Near) && (f.KnownTo == nil || to <= *f.KnownTo)
	}
	all := length.Length(pieces) * thick
	from, between := near-thick, far-near
	switch {
	case w.spec.PostMount == MountBase:
		from, between = p.Centre-all/2, 0
		if f.Start != nil {
			from = max(from, f.Start.Far)
		}
		if f.End != nil {
			from = min(from, f.End.Near-all)
		}
	case w.atStartCorner(p) || !room(near-thick, near):
		from, between = far, 0
	case w.atEndCorner(p) || !room(far, far+thick):
		from, between = near-all, 0
	}
	spans := make([]Span, pieces)
	for i := range spans {
		spans[i] = Span{from, from + thick}
		if from += thick; i == 0 {
			from += between
		}
	}
	if f.KnownFrom != nil && spans[0].From < *f.KnownFrom || f.KnownTo != nil && spans[pieces-1].To > *f.KnownTo {
		return nil
	}
	for _, s := range spans {
		if w.meetsSecondPost(p, s.From, s.To) {
			return nil
		}
	}
	return spans
}

// sidesOf says on which sides of a post its blocking stands.
func sidesOf(p *Post) string {
	near, far := p.Beside[0].To <= p.Centre, p.Beside[len(p.Beside)-1].From >= p.Centre
	switch {
	case near && far:
		return "one each side of the post"
	case near:
		return "both on the datum side of the post, away from the corner"
	}
	return "both on the far side of the post, away from the corner"
}

// atCorner says whether a post stands alone in a square corner of the deck.
func (w *work) atCorner(p *Post) bool {
	return w.atStartCorner(p) || w.atEndCorner(p)
}

// atStartCorner and atEndCorner say so of the corner at either end of the run.
func (w *work) atStartCorner(p *Post) bool {
	return p.Number == 1 && w.in.Joint.StartSquare && w.startBack() == 0
}

func (w *work) atEndCorner(p *Post) bool {
	return p.Number == w.lastPost && w.in.Joint.EndSquare && !w.in.Joint.EndDoubled
}

// acrossJoists is a post of a run that the joists meet end on.
func (w *work) acrossJoists(p *Post, row joistRow) {
	near, far := w.among(p)
	stands, clashes := "Stands", "Clashes"
	switch {
	case p.Sleeve != nil:
		stands, clashes = "Its sleeve stands", "Its sleeve clashes"
	case w.spec.PostMount == MountBase:
		stands = "Its base stands"
	}
	i := row.before(p.Centre)
	before, hasBefore := row.at(i)
	after, hasAfter := row.at(i + 1)
	gapBefore, gapAfter := w.touching(near-before.Far), w.touching(after.Near-far)
	beside := func(gap length.Length, j Joist) string {
		if gap == 0 {
			return "against the face of " + j.Name()
		}
		return fmt.Sprintf("%s clear of %s", w.text(gap), j.Name())
	}
	pieces, between := 2, fmt.Sprintf("between %s and %s, behind the post", before.Name(), after.Name())
	if w.spec.PostMount == MountBase {
		pieces = w.under(w.spec.PostDepth)
		between = underPieces(pieces, fmt.Sprintf("between %s and %s", before.Name(), after.Name()))
	}
	over := func(i int, j Joist) {
		p.Joist = fmt.Sprintf("%s over %s.", stands, j.Name())
		w.besideJoist(p, row, i)
	}
	switch base := w.spec.PostMount == MountBase; {
	case base && hasBefore && gapBefore < 0:
		over(i, before)
	case base && hasAfter && gapAfter < 0:
		over(i+1, after)
	case hasBefore && gapBefore < 0:
		p.clash(gapBefore)
		p.Joist = fmt.Sprintf("%s with %s: %s further along would clear its face, at %s from the datum.", clashes, before.Name(), w.text(-gapBefore), w.text(before.Far))
		w.besideJoist(p, row, i)
	case hasAfter && gapAfter < 0:
		p.clash(gapAfter)
		p.Joist = fmt.Sprintf("%s with %s: %s back towards the datum would clear its face, at %s from the datum.", clashes, after.Name(), w.text(-gapAfter), w.text(after.Near))
		w.besideJoist(p, row, i+1)
	case !hasBefore && !hasAfter:
		p.Joist = stands + " where no joist is known, and so no blocking."
	case !hasBefore && row.from != nil:
		p.JoistGap = gapAfter
		p.Joist = fmt.Sprintf("%s %s. Towards the corner, which is not square, none is known, and so no blocking.", stands, beside(gapAfter, after))
	case !hasAfter && row.to != nil:
		p.JoistGap = gapBefore
		p.Joist = fmt.Sprintf("%s %s. Towards the corner, which is not square, none is known, and so no blocking.", stands, beside(gapBefore, before))
	case !hasBefore:
		p.JoistGap = gapAfter
		p.Joist = fmt.Sprintf("%s before the first joist, %s. None is known on its other side: enter that one as the first joist, its place negative, for the blocking.%s", stands, beside(gapAfter, after), w.onBlocking())
	case !hasAfter:
		p.JoistGap = gapBefore
		p.Joist = fmt.Sprintf("%s past the last joist, %s. None is known on its other side, and so no blocking.%s", stands, beside(gapBefore, before), w.onBlocking())
	default:
		p.JoistGap = min(gapBefore, gapAfter)
		p.Joist = fmt.Sprintf("%s between %s, %s clear, and %s, %s clear.", stands, before.Name(), w.text(gapBefore), after.Name(), w.text(gapAfter))
		if p.JoistGap == 0 {
			p.Joist = fmt.Sprintf("%s %s and %s.", stands, beside(gapBefore, before), beside(gapAfter, after))
		}
		if s, ok := row.space(i + 1); ok {
			p.Blocked = []Span{s}
			p.Blocking = w.blocking(p, s.To-s.From, pieces, between)
		}
	}
}

// among is where a post or sleeve stands among the joists. The framing of a corner is set out by sleeves as planned, and one made to a post as
// measured is set against the face of it all the same.
func (w *work) among(p *Post) (near, far length.Length) {
	near, far = p.Footprint()
	if p.Sleeve == nil || !w.atCorner(p) {
		return near, far
	}
	shift := (p.Sleeve.Inside - p.Sleeve.Planned) / 2
	if w.atStartCorner(p) {
		shift = -shift
	}
	return near - shift, far - shift
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

// besideJoist is the blocking of a post that stands where a joist of the row does, one piece in the space on each side of it, as far as
// there is one.
func (w *work) besideJoist(p *Post, row joistRow, i int) {
	joist, _ := row.at(i)
	last := i // the joist after the last space that there is
	for _, n := range []int{i, i + 1} {
		if s, ok := row.space(n); ok {
			p.Blocked, last = append(p.Blocked, s), n
		}
	}
	each, beside := 1, "one each side of "+joist.Name()
	if w.spec.PostMount == MountBase {
		each = w.under(w.spec.PostDepth)
		beside = fmt.Sprintf("under the base, %d side by side on each side of %s", each, joist.Name())
	}
	switch s := p.Blocked; {
	case len(s) == 1:
		a, _ := row.at(last - 1)
		b, _ := row.at(last)
		p.Blocking = w.blocking(p, s[0].To-s[0].From, each, fmt.Sprintf("between %s and %s", a.Name(), b.Name()))
	case len(s) == 2 && s[0].To-s[0].From == s[1].To-s[1].From:
		p.Blocking = w.blocking(p, s[0].To-s[0].From, 2*each, beside)
	case len(s) == 2:
		p.Blocking = append(w.blocking(p, s[0].To-s[0].From, each, "on the datum side of "+joist.Name()), w.blocking(p, s[1].To-s[1].From, each, "on the far side of "+joist.Name())...)
		p.Blocking[0].Label += ", datum side"
		p.Blocking[1].Label += ", far side"
	}
}

// blocking makes the blocking pieces of a post, cut to fit between joists.
func (w *work) blocking(p *Post, clear length.Length, count int, where string) []Piece {
	return []Piece{{
		Label: p.Label + " blocking", What: "blocking", Section: fmt.Sprintf("%s by %s, as the joists", w.text(w.spec.JoistWidth), w.text(w.spec.JoistDepth)),
		Length: clear.RoundDown(w.spec.Grid), Count: count, Cuts: "square", Place: where, Version: "planned",
	}}
}

// levelPost is how long a level post is before rounding: from its top above the decking down to where it ends below that, or off it on a base.
func (w *work) levelPost(p *Post) length.Length { return p.Top + w.framingDeep() - p.StandOff }

// sayPostsRounded says of the run's own posts how their lengths were rounded, where that changed one.
func (w *work) sayPostsRounded() {
	for i := range w.out.Posts {
		p := &w.out.Posts[i]
		exact := w.levelPost(p)
		if p.Stand != nil {
			exact = p.TopCut.Uphill + p.Stand.Below - p.StandOff
		}
		if p.SharedAs == "" && p.Cut > 0 && p.Cut != exact {
			w.say("Posts: a length off the grid is rounded up to the next %s, not to the nearest as marks are: a post cut short lowers the guard.", w.text(w.spec.Grid))
			return
		}
	}
}

// postCut is the cut length of a level post, rounded up, since a post cut short lowers the guard.
func (w *work) postCut(p *Post) length.Length {
	return w.levelPost(p).RoundUp(w.spec.Grid)
}
