package layout

import (
	"fmt"
	"slices"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// Kinds of infill.
const (
	FillBalusters = "balusters"
	FillCables    = "cables" // level cables, or along the rake, through uprights
	FillPanels    = "panels"
)

// Which of its members or spaces stands in the middle of a bay.
const (
	CentredBest   = "best"   // whichever the count comes to
	CentredMember = "member" // the middle of the bay is the middle of a member: an odd count
	CentredSpace  = "space"  // an even count, or none
)

// Cables are the cables of a bay. They run parallel to the rails through the posts at both ends, so that their marks are
// heights, the same on every post.
type Cables struct {
	Count    int             `json:"count"`
	Least    int             `json:"least"`    // fewest whose ideal gap is within the design gap; Count is more where a rounded one is not
	Diameter length.Length   `json:"diameter"` // of one cable
	Gap      length.Length   `json:"gap"`      // ideal clear gap, square to the cables, to the nearest nanometre
	Largest  length.Length   `json:"largest"`  // on the rounded marks, square to the cables, the gaps to both rails included
	Smallest length.Length   `json:"smallest"`
	Marks    []length.Length `json:"marks"` // cable centres above the decking, or plumb above the nosing line, rounded
	Why      []string        `json:"why"`
}

// Noun is what one upright member of this infill is called: a baluster, the upright that cables pass through, or a panel.
func (in Infill) Noun() string {
	switch in.Kind {
	case FillCables:
		return "upright"
	case FillPanels:
		return "panel"
	}
	return "baluster"
}

// Counted says what the bay is filled with: "7 balusters", "10 cables and 1 upright", "2 panels".
func (in Infill) Counted() string {
	if in.Cables == nil {
		return plural(in.Count, in.Noun())
	}
	text := plural(in.Cables.Count, "cable")
	if in.Count > 0 {
		text += " and " + plural(in.Count, in.Noun())
	}
	return text
}

// Widest is the largest clear opening of this infill on the rounded marks: between its members, or between cables.
func (in Infill) Widest() length.Length {
	if in.Cables != nil {
		return in.Cables.Largest
	}
	return in.Largest
}

// noun is what a member is called while it is laid out.
func (t infillTask) noun() string { return Infill{Kind: t.kind}.Noun() }

// centredOK says whether a count puts in the middle of the bay what the builder wants there.
func (t infillTask) centredOK(n int) bool {
	switch t.centredOn {
	case CentredMember:
		return n%2 == 1
	case CentredSpace:
		return n%2 == 0
	}
	return true
}

// layPanels takes the fewest panels no wider than the greatest width, with the edge gap at each side of every one, and cuts
// them down to the grid; what rounding takes off is shared between the gaps.
func (t infillTask) layPanels(most length.Length) (Infill, string, string) {
	switch {
	case most <= 0:
		return Infill{}, "", "Enter the greatest width of a panel: nothing can be set out without it."
	case t.gap < t.grid:
		return Infill{}, "", fmt.Sprintf("Give panels play: clear at every edge must be at least the marking grid, %s.", t.text(t.grid))
	case t.clear <= 2*t.gap:
		return Infill{}, "", fmt.Sprintf("The opening of %s leaves no panel between its edge gaps of %s.", t.text(t.clear), t.text(t.gap))
	}
	least := max(1, ceilDiv(t.clear-t.gap, most+t.gap))
	n := least
	for !t.centredOK(n) {
		n++
	}
	width := func(n int) length.Length {
		return ratio{int64(t.clear) - int64(n+1)*int64(t.gap), int64(n)}.nearest().RoundDown(t.grid)
	}
	t.member = width(n)
	t.dry = t.member
	if t.member <= 0 || n > mostMembers {
		return Infill{}, "", fmt.Sprintf("%s do not fit in an opening of %s with edge gaps of %s.", plural(n, "panel"), t.text(t.clear), t.text(t.gap))
	}
	s := t.equal(n)
	if s.smallest() < 0 {
		return Infill{}, "", fmt.Sprintf("%s of %s do not fit in an opening of %s.", plural(n, "panel"), t.text(t.member), t.text(t.clear))
	}
	in := t.report(s, least, n)
	in.Why = []string{fmt.Sprintf("%s, less %s of %s, leaves %s of %s wide; the greatest is %s.",
		t.text(t.clear), plural(n+1, "edge gap"), t.text(t.gap), plural(n, "panel"), t.text(t.member), t.text(most))}
	if n > 1 && n == least {
		in.Why = append(in.Why, fmt.Sprintf("One fewer would be %s wide.", t.text(width(n-1))))
	}
	if !t.passes(s) {
		value, _ := t.limit.against(s.worst(), t.style)
		return in, fmt.Sprintf("Beside a panel the gap is %s; the limit is %s.", value, t.limit.words), ""
	}
	return in, "", ""
}

// besidePanels says what the rounding of panels and marks leaves beside them, where that is not the edge gap asked for; else nothing.
func (t infillTask) besidePanels(in Infill) string {
	asked, least, most := t.text(t.gap), t.text(in.Smallest), t.text(in.Largest)
	switch {
	case least == asked && most == asked:
		return ""
	case least == most:
		return fmt.Sprintf("; by the rounding %s clear at their sides, not %s", most, asked)
	}
	return fmt.Sprintf("; by the rounding %s to %s clear at their sides, not %s: shift one on its marks where that is too little", least, most, asked)
}

// cables sets out the cables between the rails: the fewest whose rounded gaps are within the design gap and the limit on openings; where
// rounding leaves no such count, the fewest within the limit. Gaps are square to the cables, which on a rake is less than plumb. A refusal is a finished sentence.
func (w *work) cables() (c *Cables, refused string) {
	h, dia, gap := w.out.Heights, w.spec.CableDiameter, w.spec.CableGap
	lim := w.cableLimit()
	low, high := h.BottomRailTop, h.TopRailTop-h.RailVertical
	clear := w.slope.plan(high - low)
	switch {
	case dia <= 0 || gap <= 0:
		return nil, "Enter the cable's diameter and the design gap between cables: nothing can be set out without them."
	case clear <= 0:
		return nil, "The rails leave no room for cables."
	case clear/dia > mostMembers:
		return nil, fmt.Sprintf("More than %d cables would be needed: check the heights and the cable's diameter.", mostMembers)
	}
	least := LeastCount(clear, dia, gap)
	for n := least; n <= int(clear/dia) && n < least+mostTries; n++ {
		at := w.cablesAt(n, low, high, clear)
		if at.Smallest < 0 || !lim.passes(at.Largest) {
			continue
		}
		within := at.Largest <= gap
		if within || c == nil {
			c = at
		}
		if within {
			break
		}
	}
	if c == nil {
		return nil, fmt.Sprintf("No count of cables of %s keeps the gaps %s.", w.text(dia), lim.words)
	}
	c.Least = least
	c.Why = w.whyCables(c, clear, lim, w.cablesAt(least, low, high, clear).Largest)
	return c, ""
}

// whyCables says why that count, least being the largest rounded gap of the least count whose ideal gap is within the design gap.
func (w *work) whyCables(c *Cables, clear length.Length, lim limit, least length.Length) []string {
	dia, gap := w.spec.CableDiameter, w.spec.CableGap
	why := []string{fmt.Sprintf("%s between the rails, square to them, less %s of %s, leaves %s of %s; the design gap is %s.",
		w.text(clear), plural(c.Count, "cable"), w.text(dia), plural(c.Count+1, "gap"), w.text(c.Gap), w.text(gap))}
	if c.Largest > gap {
		value, design := c.Largest.FormatAgainst(gap, w.style)
		why = append(why, fmt.Sprintf("On this marking grid no count keeps within the design gap of %s: on rounded marks a gap comes to %s.", design, value))
	}
	switch value, design := least.FormatAgainst(gap, w.style); {
	case c.Count > c.Least && !lim.passes(least):
		why = append(why, fmt.Sprintf("%s would be within the design gap, but on rounded marks a gap fails the limit, %s.", plural(c.Least, "cable"), lim.words))
	case c.Count > c.Least:
		why = append(why, fmt.Sprintf("%s would be, but for the rounding: on rounded marks a gap comes to %s, over the design gap of %s.", plural(c.Least, "cable"), value, design))
	case c.Count > 0:
		why = append(why, fmt.Sprintf("One fewer would leave %s.", w.text(EqualGap(clear, dia, c.Count-1))))
	}
	return why
}

// cablesAt sets out n cables at equal gaps and measures what the rounded marks leave.
func (w *work) cablesAt(n int, low, high, clear length.Length) *Cables {
	dia := w.spec.CableDiameter
	c := &Cables{Count: n, Diameter: dia, Gap: EqualGap(clear, dia, n), Marks: []length.Length{}}
	var gaps []length.Length
	from := low
	half := w.slope.along(dia) / 2
	for _, centre := range equalCentres(high-low, 2*half, n) {
		mark := ratio{centre.num + int64(low)*centre.den, centre.den}.round(w.spec.Grid)
		c.Marks = append(c.Marks, mark)
		gaps = append(gaps, w.slope.plan(mark-half-from))
		from = mark + half
	}
	gaps = append(gaps, w.slope.plan(high-from))
	c.Largest, c.Smallest = slices.Max(gaps), slices.Min(gaps)
	return c
}

// cableLimit is the rule set's opening between cables, or its general one where it has none of its own.
func (w *work) cableLimit() limit {
	if lim := limitOf(w.in.Rules, codes.OpeningRope, w.style); lim.known {
		return lim
	}
	return w.opening
}

// laidCables is how the cables of the run are set out, the same in every bay; nil where there are none.
func (w *work) laidCables() *Cables {
	for _, b := range w.out.Bays {
		if p := b.Used(); p != nil && p.Infill.Cables != nil {
			return p.Infill.Cables
		}
	}
	return nil
}

// cableFootholds says where cables stand in the zone that a rule set wants free of footholds.
func (w *work) cableFootholds() {
	asked, _ := codes.ClimbZoneAsked(w.in.Rules, w.run.Drop(w.out.Stair))
	c := w.laidCables()
	if !asked || c == nil {
		return
	}
	held := 0
	for _, m := range c.Marks {
		if inside, _ := codes.InClimbZone(w.in.Rules, m); inside {
			held++
		}
	}
	if held > 0 {
		w.problem(w.run.Label, "infill_kind", "Of %s %d would give a foothold in the zone where nothing may help climbing: ask the authority before posts are drilled.", plural(c.Count, "cable"), held)
	}
}

// fill lays out the infill of a bay, of whichever kind, with its members' cut length. refused is a finished sentence.
func (w *work) fill(p *Parts, top *topRail) (in Infill, warning, refused string) {
	t := w.infillTask(p, top)
	switch w.spec.InfillKind {
	case FillPanels:
		in, warning, refused = t.layPanels(w.spec.PanelMost)
	case FillCables:
		c := w.laidCables()
		if c == nil { // the first bay that has them decides for all: their heights do not depend on its opening
			if c, refused = w.cables(); refused != "" {
				return Infill{}, "", refused
			}
		}
		if in, warning, refused = t.lay(); refused == "" {
			in.Cables = c
		}
	default:
		in, warning, refused = t.lay()
	}
	if refused == "" && t.gap > 0 && t.kind != FillCables && t.clear < 2*t.gap+t.member {
		in.Why = append(in.Why, "This bay is under two gaps wide: look at it beside its neighbours before it is cut, or move a post.")
	}
	in.Kind = w.spec.InfillKind
	in.Shape = w.spec.InfillShape
	in.Cut, in.CutNote = w.memberCut()
	if in.Kind == FillPanels && refused == "" {
		in.CutNote += t.besidePanels(in)
	}
	return in, warning, refused
}

// cableEnds says from where to where a cable is measured.
func (w *work) cableEnds() string {
	const post, wall = "the outer face of the end post", "the finished wall"
	switch {
	case w.run.Start == EndWall && w.run.End == EndWall:
		return "finished wall to finished wall"
	case w.run.Start == EndWall:
		return "from " + wall + " at the datum to " + post
	case w.run.End == EndWall:
		return "from " + post + " at the datum to " + wall
	}
	return "outer face to outer face of the end posts"
}

// cablePiece is every cable of the run, from the outer face of the first post (or the wall) to that of the last.
func (w *work) cablePiece() {
	c := w.laidCables()
	if c == nil || c.Count == 0 {
		return
	}
	reach := w.out.EndSpan
	if posts := w.out.Posts; len(posts) > 0 {
		if w.run.Start != EndWall {
			reach += posts[0].Width / 2
		}
		if w.run.End != EndWall {
			reach += posts[len(posts)-1].Width / 2
		}
	}
	w.out.Pieces = append(w.out.Pieces, Piece{Label: w.run.Label + " cables", What: "cable", Section: w.text(w.spec.CableDiameter) + " cable",
		Length: w.slope.along(reach).RoundUp(w.spec.Grid), Count: c.Count, Place: w.run.Label, Version: "planned",
		Cuts: w.cableEnds() + "; add what the maker's end fittings take, and cut in place"})
}
