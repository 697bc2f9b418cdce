package layout

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// Stringer is the board that posts of a flight are bolted to through its face, and where their bolts stand in it. Those posts all have
// their bolts alike, on their plumb centre lines, so that they are told once. Distances to its edges are square to them.
type Stringer struct {
	Notched   bool           `json:"notched"`   // cut under the steps: wood is counted up to the line through the inner corners of the notches. False for a closed one, counted up to its upper edge
	Depth     length.Length  `json:"depth"`     // of the wood that is counted, from the lower edge; zero where it is not known
	Worked    bool           `json:"worked"`    // Depth was worked out from the whole board and the steps, and rounded down to the grid
	Thickness length.Length  `json:"thickness"` // that of the joists where it is not given
	Below     length.Length  `json:"below"`     // its lower edge below the nosing line, plumb; zero where it is not given
	Reach     length.Length  `json:"reach"`     // the posts' lower ends below the nosing line, plumb at their centres
	Marks     []StringerMark `json:"marks"`     // one for each bolt, the upper first
}

// StringerMark is where a bolt stands on the plumb centre line of its post.
type StringerMark struct {
	Name      string        `json:"name"`       // upper, lower
	Up        length.Length `json:"up"`         // plumb above the stringer's lower edge; zero where the stringer's depth is not known
	BelowLine length.Length `json:"below_line"` // plumb below the nosing line; zero where Up or Stringer.Below is not known
	FromEnd   length.Length `json:"from_end"`   // above the post's lower end; zero where BelowLine is
}

// UpperEdge names what the upper bolt is measured from.
func (s Stringer) UpperEdge() string {
	if s.Notched {
		return "the line through the inner corners of the stringer's notches"
	}
	return "the stringer's upper edge"
}

// apart is how far the bolts stand from each other along the post's centre line, as they are marked on the grid.
func (s Stringer) apart(grid length.Length) length.Length {
	return s.Marks[0].Up.Round(grid) - s.Marks[1].Up.Round(grid)
}

// wood says how deep the wood is that the bolts stand in.
func (s Stringer) wood(style length.Style) string {
	if s.Notched {
		return s.Depth.Format(style) + " of stringer under its notches"
	}
	return "a closed stringer " + s.Depth.Format(style) + " deep"
}

// DrillRow is one way to measure the places of both bolts on a stringer.
type DrillRow struct {
	What         string
	Upper, Lower length.Length // on the grid; zero where not known
}

// Drill lists the labels of the posts that are bolted to a stringer, and where to drill: square to the stringer's edges, and along the
// posts' plumb centre lines. Nothing where no post is.
func (l Layout) Drill() (posts []string, rows []DrillRow) {
	if l.Stair == nil || l.Stair.Stringer == nil {
		return nil, nil
	}
	s := l.Stair.Stringer
	var bolts []Bolt
	alike := true // every post ends as far below the nosing line: none on the ground before that
	for _, p := range l.Posts {
		if p.Stringer() {
			posts, bolts = append(posts, p.Label), p.Bolts
			end := (p.Stand.Downhill.Line+p.Stand.Uphill.Line)/2 + p.Stand.Below
			alike = alike && (end-s.Reach).Abs() < l.Grid
		}
	}
	if len(bolts) != 2 || len(s.Marks) != 2 {
		return posts, nil
	}
	all := []DrillRow{
		{"Square to the stringer's lower edge", bolts[0].FromBottom, bolts[1].FromBottom},
		{"Square to " + s.UpperEdge(), bolts[0].FromTop, bolts[1].FromTop},
		{"Along the post's centre line, up from the stringer's lower edge", s.Marks[0].Up, s.Marks[1].Up},
		{"Along the post's centre line, up from the post's lower end", s.Marks[0].FromEnd, s.Marks[1].FromEnd},
		{"Plumb below the nosing line", s.Marks[0].BelowLine, s.Marks[1].BelowLine},
	}
	if !alike {
		all = slices.Delete(all, 3, 4)
	}
	for _, r := range all {
		if r.Upper, r.Lower = r.Upper.Round(l.Grid), r.Lower.Round(l.Grid); r.Upper != 0 || r.Lower != 0 {
			rows = append(rows, r)
		}
	}
	return posts, rows
}

// Stringer says whether the bolts of a post go through the face of a stringer, and not through the framing of a deck.
func (p Post) Stringer() bool { return p.Stand != nil && p.Stand.Stringer }

// BoltPlace says where a bolt of a post is drilled, a phrase.
func (l Layout) BoltPlace(p Post, b Bolt, style length.Style) string {
	if !p.Stringer() || l.Stair == nil || l.Stair.Stringer == nil {
		return fmt.Sprintf("%s bolt %s below the top of the framing and %s above its underside", b.Name, b.FromTop.Format(style), b.FromBottom.Format(style))
	}
	var from []string
	if b.FromTop != 0 {
		from = append(from, b.FromTop.Format(style)+" below "+l.Stair.Stringer.UpperEdge())
	}
	if b.FromBottom != 0 {
		from = append(from, b.FromBottom.Format(style)+" above the stringer's lower edge")
	}
	return fmt.Sprintf("%s bolt, measured square, %s", b.Name, strings.Join(from, " and "))
}

// stringer works out where the bolts of posts on the stringer stand. It is told apart by what the guard stands over: all but a closed
// one is taken to be cut for the steps, where above a notch there may be no wood.
func (w *work) stringer() *Stringer {
	if w.out.Stair.Stringer != nil {
		return w.out.Stair.Stringer
	}
	s := &Stringer{Notched: w.run.Stringer != StringerClosed, Depth: w.run.StringerDepth, Thickness: w.run.StringerThickness, Below: w.run.StringerBelow, Reach: w.reach()}
	if s.Thickness == 0 {
		s.Thickness = w.spec.JoistWidth
	}
	switch {
	case s.Notched && w.run.StringerThroat > 0:
		s.Depth = w.run.StringerThroat
	case s.Notched && s.Depth > 0:
		s.Depth, s.Worked = max((s.Depth-notch(w.out.Stair.Riser, w.out.Stair.Tread)).RoundDown(w.spec.Grid), 0), true
	}
	w.out.Stair.Stringer = s
	for _, b := range w.stringerBolts(s) {
		m := StringerMark{Name: b.Name, Up: w.slope.along(b.FromBottom)}
		if s.Below > 0 && m.Up > 0 {
			m.BelowLine = s.Below - m.Up
			m.FromEnd = s.Reach - m.BelowLine
		}
		s.Marks = append(s.Marks, m)
	}
	return s
}

// reach is how far posts on the stringer reach below the nosing line, plumb at their centres: as given, or down to the stringer's lower edge, or
// as deep as decking and joists together where that is not given.
func (w *work) reach() length.Length {
	switch {
	case w.run.PostReach > 0:
		return w.run.PostReach
	case w.run.StringerBelow > 0:
		return w.run.StringerBelow
	}
	return w.framingDeep()
}

// framingDeep is how far the posts reach below the decking into its framing: not at all on a base.
func (w *work) framingDeep() length.Length {
	if w.spec.PostMount == MountBase {
		return 0
	}
	return w.spec.Decking + w.spec.JoistDepth
}

// notch is how far a step cuts into a stringer, square from its upper edge to the inner corner: the height of the right triangle of riser
// and tread over its long side.
func notch(riser, tread length.Length) length.Length {
	r, t := float64(riser), float64(tread)
	return nearestNM(r * t / math.Hypot(r, t))
}

// stringerBolts are the two bolts of a post on the stringer, each as far from its own edge as through framing; the distance to the other edge
// is not known without the stringer's depth.
func (w *work) stringerBolts(s *Stringer) []Bolt {
	long := w.boltLength(w.spec.PostDepth, s.Thickness)
	bolts := []Bolt{{Name: "upper", FromTop: w.spec.BoltTop, Length: long}, {Name: "lower", FromBottom: w.spec.BoltBottom, Length: long}}
	if s.Depth > 0 {
		bolts[0].FromBottom, bolts[1].FromTop = s.Depth-w.spec.BoltTop, s.Depth-w.spec.BoltBottom
	}
	return bolts
}

// onStringer puts the bolts of a post through the stringer and says of this post where there may be no wood for them.
func (w *work) onStringer(p *Post, up length.Length) {
	s := w.stringer()
	p.Bolts, p.Stand.Stringer = w.stringerBolts(s), true
	if p.HoldDown != "" {
		p.Stand.Fixed += " A hold-down wants blocking behind the stringer to hold in (" + practice + ")."
	}
	lower := s.Marks[1]
	if lower.BelowLine == 0 && up < w.out.Stair.Tread {
		p.Stand.Fixed += " Near its foot the stringer is cut off level: look that both bolts have wood round them."
	}
	edge, ok := w.in.Rules.Practice(codes.BoltEdgeMin)
	if !ok {
		return
	}
	// At its foot the stringer is cut off level on the ground or the landing, at its head plumb at the top riser.
	if over := w.line(up, 0) - lower.BelowLine; lower.BelowLine > 0 && !edge.Bound.Test(over, edge.Value) {
		value, figure := over.Abs().FormatAgainst(edge.Value, w.style)
		side := "above"
		if over < 0 {
			side = "below"
		}
		w.problem(p.Label, "posts", "The stringer is cut off level at its foot, and the lower bolt stands %s %s that; the figure is %s %s of wood (%s). Move the post up the flight, or fix it to what its foot stands on.", value, side, edge.Bound, figure, edge.Source())
	}
	if end := w.out.Stair.Run + w.out.Stair.Nosing - up; !edge.Bound.Test(end, edge.Value) {
		value, figure := end.FormatAgainst(edge.Value, w.style)
		w.problem(p.Label, "posts", "The stringer ends at the top riser, and the bolts stand %s from that; the figure is %s %s (%s). Move the post down the flight, or on to the landing.", value, edge.Bound, figure, edge.Source())
	}
}

// checkStringer holds the bolts of posts on the stringer to its depth and the posts' ends, once for the run.
func (w *work) checkStringer(s *Stringer) {
	bolts, run := w.stringerBolts(s), w.run
	if s.Notched && run.Stringer != StringerCut {
		w.say("Stringer: it is not said to be closed, so it is taken to be cut for the steps, with no wood above the notches.")
	}
	if run.StringerThickness == 0 {
		w.say("Stringer: its thickness is not given; the bolts are as long as for a joist of %s.", w.text(s.Thickness))
	}
	if s.Worked {
		w.say("Stringer: a board of %s, cut %s deep by steps of %s by %s, keeps %s under its notches.", w.text(run.StringerDepth), w.text(notch(w.out.Stair.Riser, w.out.Stair.Tread).RoundUp(w.spec.Grid)), w.text(w.out.Stair.Riser), w.text(w.out.Stair.Tread), w.text(s.Depth))
		w.ask("Measure the stringer square from its lower edge to the inner corners of the notches, where it is least: %s is worked out from the board and the steps.", w.text(s.Depth))
	}
	if s.Notched && run.StringerThroat > run.StringerDepth && run.StringerDepth > 0 {
		w.problem(run.Label, "stringer_throat", "The wood left under the notches, %s, is more than the stringer's depth of %s: look at both.", w.text(run.StringerThroat), w.text(run.StringerDepth))
	}
	w.stringerBelow(s)
	if s.Below == 0 {
		w.ask("Measure how far the stringer's lower edge stands below the nosing line, plumb: until then the bolts are placed on the stringer alone, not on the posts.")
	}
	w.stringerDepth(s, bolts)
	upper, lower := w.spec.BoltTop, w.spec.BoltBottom
	if s.Depth > 0 {
		upper, lower = min(upper, bolts[0].FromBottom), min(lower, bolts[1].FromTop)
	}
	w.boltEdge("upper", upper, "stringer", "stringer_depth")
	w.boltEdge("lower", lower, "stringer", "stringer_depth")
	w.postEnds(s)
}

// stringerBelow asks where the lower edge of a stringer that is cut for the steps is entered nearer the nosing line than the board makes it: its upper edge
// comes no higher than that line (plane geometry).
func (w *work) stringerBelow(s *Stringer) {
	whole := w.run.StringerDepth
	if whole == 0 && w.run.StringerThroat > 0 {
		whole = w.run.StringerThroat + notch(w.out.Stair.Riser, w.out.Stair.Tread)
	}
	least := w.slope.along(whole).RoundDown(max(w.spec.Grid, 1))
	if !s.Notched || s.Below == 0 || s.Below >= least {
		return
	}
	w.problem(w.run.Label, "stringer_below", "The stringer's lower edge is entered as %s below the nosing line, plumb; a board %s deep that is cut for these steps reaches %s below it or more: measure it again, down from a straight edge along the nosings. Posts that end there come out %s or more too short.",
		w.text(s.Below), w.text(whole.RoundDown(max(w.spec.Grid, 1))), w.text(least), w.text(least-s.Below))
}

// stringerDepth says whether both bolts have room in the depth of the stringer.
func (w *work) stringerDepth(s *Stringer, bolts []Bolt) {
	if s.Depth == 0 {
		if s.Worked {
			w.problem(w.run.Label, "stringer_depth", "A stringer of %s has no wood left under notches for steps of %s by %s: look at its depth.", w.text(w.run.StringerDepth), w.text(w.out.Stair.Riser), w.text(w.out.Stair.Tread))
			return
		}
		measure := "measure it square from edge to edge"
		if s.Notched {
			measure = "measure it square to its lower edge, the whole board or what is left under the notches"
		}
		w.problem(w.run.Label, "stringer_depth", "Stringer depth is not given: each bolt of the posts on the stringer is placed from its own edge, and nothing says whether both have wood round them. Before you drill, %s.", measure)
		return
	}
	apart := s.apart(w.spec.Grid)
	if apart <= 0 {
		w.problem(w.run.Label, "stringer_depth", "Two bolts do not fit in %s, %s and %s from its edges: the upper one is not above the lower.", s.wood(w.style), w.text(w.spec.BoltTop), w.text(w.spec.BoltBottom))
		return
	}
	w.say("Bolts: measured square, %s below %s and %s above its lower edge, in %s, they stand %s apart on the post's centre line; %s long, through post, stringer and two diameters of washers and nut.",
		w.text(w.spec.BoltTop), s.UpperEdge(), w.text(w.spec.BoltBottom), s.wood(w.style), w.text(apart), w.text(bolts[0].Length))
	if apart < w.spec.BoltAccess {
		w.problem(w.run.Label, "stringer_depth", "The bolts in %s stand %s apart on the post's centre line, and a washer and a spanner want %s: take a deeper stringer, or ask an engineer how the posts are held.", s.wood(w.style), w.text(apart), w.text(w.spec.BoltAccess))
	}
}

// postEnds holds the lower bolt to the posts' lower ends. The notes on the trade have no figure for the end of a piece, so it is held to that
// for an edge.
func (w *work) postEnds(s *Stringer) {
	edge, ok := w.in.Rules.Practice(codes.BoltEdgeMin)
	lower := s.Marks[1]
	if !ok || lower.BelowLine == 0 || edge.Bound.Test(lower.FromEnd, edge.Value) {
		return
	}
	value, figure := lower.FromEnd.FormatAgainst(edge.Value, w.style)
	w.problem(w.run.Label, "post_reach", "The lower bolt stands %s from the lower end of the posts on the stringer; the figure is %s %s (%s). Let the posts reach further down.", value, edge.Bound, figure, edge.Source())
}
