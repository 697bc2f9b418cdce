package layout

import (
	"fmt"
	"slices"
	"strings"

	"newelbook/checklist/length"
)

// mostMembers bounds the balusters of one bay; no sensible bay comes near it.
const mostMembers = 2000

// infillTask is everything that decides the balusters of one bay.
type infillTask struct {
	clear     length.Length // opening at the bottom rail, in plan
	allowance length.Length // of the bottom rail at its datum end, in plan
	skew      length.Length // how far the middle of the bay lies past that of the rail for allowances that differ, along the rake
	ideal     length.Length // bottom rail before rounding, along the rake
	cut       length.Length // bottom rail as cut, along the rake
	slope     slope
	square    length.Length // what square ends take off a raked rail; zero for plumb ones
	high      bool          // the datum end is the uphill one
	member    length.Length
	dry       length.Length // the member's width once dry; the same where it is dry already
	kind      string        // FillBalusters, FillCables or FillPanels
	centredOn string        // CentredBest, CentredMember or CentredSpace
	mode      string
	gap       length.Length // design gap
	centres   length.Length // fixed centres, along the rail
	limit     limit         // of openings
	grid      length.Length
	style     length.Style
	top       *topRail // nil where the top rail is marked as the bottom rail is
}

// setting is one way of setting out the balusters: how many, where, and what the rounded marks leave.
type setting struct {
	centres  []ratio         // exact, in plan from the datum-side post face; on fixed centres along a rake to the nanometre
	marks    []length.Length // along the rail from its datum-end cut, rounded
	fromPost []length.Length // in plan from the post face, rounded
	onRail   []length.Length // gaps that the rail marks leave, in plan
	onPlan   []length.Length // gaps that the post-face marks leave
	topMarks []length.Length // along the top rail, where its marks are its own
	onTop    []length.Length // gaps that those leave at the top rail, in plan
}

// offset is where the datum end of the rail's top edge stands from the post face, in plan: its allowance and half of what rounding
// took off. The top corner of a square end that faces uphill stands back from the lower one, which meets the post.
func (t infillTask) offset() length.Length {
	return t.offsetOf(Rail{Allowance: t.allowance, Ideal: t.ideal, Cut: t.cut})
}

// offsetOf is that of either rail of the bay, from the post face at its height.
func (t infillTask) offsetOf(r Rail) length.Length {
	off := r.Allowance + t.slope.plan(r.Ideal-r.Cut)/2
	if t.high {
		off += t.slope.plan(t.square)
	}
	return off
}

// lean is how far the middle of the bay lies past the middle of the rail's top edge, along the rake.
func (t infillTask) lean() length.Length {
	if t.high {
		return t.skew - t.square/2
	}
	return t.skew + t.square/2
}

// equal sets out n members with equal gaps.
func (t infillTask) equal(n int) setting {
	s := setting{centres: equalCentres(t.clear, t.member, n)}
	off := t.offset()
	for _, c := range s.centres {
		mark := ratio{c.num - int64(off)*c.den, c.den}.round(t.grid)
		if !t.slope.level() {
			mark = t.slope.along(ratio{c.num - int64(off)*c.den, c.den}.nearest()).Round(t.grid)
		}
		s.marks = append(s.marks, mark)
	}
	return t.measure(s)
}

// fixed sets out n members at fixed centres about the middle of the bay.
func (t infillTask) fixed(n int) setting {
	var s setting
	for _, c := range fixedCentres(t.cut, t.centres, n) {
		s.marks = append(s.marks, ratio{c.num + int64(t.lean())*c.den, c.den}.round(t.grid))
		if t.slope.level() {
			continue
		}
		// Along a rake the plan position is irrational; it is kept to the nanometre.
		fromMiddle := t.slope.plan(ratio{2*c.num - int64(t.cut)*c.den, 2 * c.den}.nearest())
		s.centres = append(s.centres, ratio{int64(t.clear) + 2*int64(fromMiddle), 2})
	}
	if t.slope.level() {
		s.centres = fixedCentres(t.clear, t.centres, n)
	}
	return t.measure(s)
}

// measure fills in the gaps that the rounded marks leave.
func (t infillTask) measure(s setting) setting {
	off := t.offset()
	onRail := make([]length.Length, len(s.marks))
	for i, m := range s.marks {
		onRail[i] = off + t.slope.plan(m)
	}
	for _, c := range s.centres {
		s.fromPost = append(s.fromPost, c.round(t.grid))
	}
	s.onRail, s.onPlan = t.gaps(t.clear, onRail), t.gaps(t.clear, s.fromPost)
	if t.top != nil {
		s.topMarks, s.onTop = t.top.set(t, s.centres)
	}
	return s
}

// gaps lists the clear distances that members at these centres leave in an opening, the first from the datum-side face. With
// the members they add up to the opening exactly.
func (t infillTask) gaps(clear length.Length, centres []length.Length) []length.Length {
	var all []length.Length
	face := length.Length(0)
	for _, c := range centres {
		near := c - t.member/2
		all = append(all, near-face)
		face = near + t.member
	}
	return append(all, clear-face)
}

// sets are the gaps by each set of marks: hooked on the bottom rail, on the post's face, and on a top rail with marks of its own.
func (s setting) sets() [][]length.Length {
	if s.onTop == nil {
		return [][]length.Length{s.onRail, s.onPlan}
	}
	return [][]length.Length{s.onRail, s.onPlan, s.onTop}
}

// worst is the largest gap on any set of marks; smallest the least.
func (s setting) worst() length.Length {
	worst := slices.Max(s.onRail)
	for _, gaps := range s.sets() {
		worst = max(worst, slices.Max(gaps))
	}
	return worst
}

func (s setting) smallest() length.Length {
	least := slices.Min(s.onRail)
	for _, gaps := range s.sets() {
		least = min(least, slices.Min(gaps))
	}
	return least
}

// dryWorst is the largest gap once the members have shrunk about their centres: a gap between two grows by the whole
// shrinkage, an end gap by half of it.
func (t infillTask) dryWorst(s setting) length.Length {
	shrink := t.member - t.dry
	if shrink <= 0 || len(s.marks) == 0 {
		return 0
	}
	var worst length.Length
	for _, gaps := range s.sets() {
		for i, g := range gaps {
			if i == 0 || i == len(gaps)-1 {
				worst = max(worst, g+(shrink+1)/2)
			} else {
				worst = max(worst, g+shrink)
			}
		}
	}
	return worst
}

// widest is the largest rounded gap, wet or dry.
func (t infillTask) widest(s setting) length.Length { return max(s.worst(), t.dryWorst(s)) }

// passes says whether every rounded gap, wet and dry, keeps to the limit on openings.
func (t infillTask) passes(s setting) bool { return t.limit.passes(t.widest(s)) }

// comesTo begins what the largest gap is, before the figure: whether the marks make it so wide or the drying does.
func (t infillTask) comesTo(s setting) string {
	if t.dryWorst(s) > s.worst() {
		return "on rounded marks, once the stock has dried, a gap comes to"
	}
	return "on rounded marks a gap comes to"
}

// widerOnTop says whether it is the top rail's own marks that leave a gap over the design gap, and not the bottom rail's.
func (t infillTask) widerOnTop(s setting) bool {
	return t.top != nil && slices.Max(s.onTop) > t.gap && slices.Max(s.onRail) <= t.gap && slices.Max(s.onPlan) <= t.gap && t.dryWorst(s) <= s.worst()
}

// lay chooses and sets out the balusters. An error is a finished sentence saying why the bay has none; a warning is one
// saying what is at odds with a figure.
func (t infillTask) lay() (in Infill, warning string, refused string) {
	switch {
	case t.member <= 0:
		return Infill{}, "", "Enter the " + t.noun() + " width: nothing can be set out without it."
	case t.mode == FixedCentres && t.centres <= t.member:
		return Infill{}, "", "Shoe centres must be wider than the baluster."
	case t.mode != FixedCentres && t.gap <= 0:
		return Infill{}, "", "Enter the design gap: nothing can be set out without it."
	case t.clear/t.member > mostMembers, t.mode == FixedCentres && t.cut/t.centres > mostMembers:
		return Infill{}, "", fmt.Sprintf("More than %d %ss would be needed: check the opening and the %s width.", mostMembers, t.noun(), t.noun())
	}
	lay := t.layEqual
	if t.mode == FixedCentres {
		lay = t.layFixed
	}
	in, warning, refused = lay()
	if refused == "" && warning == "" {
		warning = t.offRail(in)
	}
	return in, warning, refused
}

// offRail warns of the first mark that falls past an end of its rail's top edge, as on a steep rake whose square ends leave that edge
// short of the post; empty where all are on it.
func (t infillTask) offRail(in Infill) string {
	edges := []struct {
		name  string
		marks []length.Length
		cut   length.Length
	}{{"bottom", in.Marks, t.cut}}
	if t.top != nil {
		edges = append(edges, struct {
			name  string
			marks []length.Length
			cut   length.Length
		}{"top", in.TopMarks, t.top.Cut})
	}
	for _, e := range edges {
		if len(e.marks) == 0 {
			continue
		}
		past, where := -e.marks[0], "before its datum end"
		if far := e.marks[len(e.marks)-1] - e.cut; far > past {
			past, where = far, "beyond its far end"
		}
		if past > 0 {
			return fmt.Sprintf("A mark of the %s rail falls %s %s, on the top edge: no %s can be set there. Cut the rails plumb, or choose other centres or another gap.", e.name, t.text(past), where, t.noun())
		}
	}
	return ""
}

// layEqual takes the least count whose rounded gaps, wet and dry, are within both the design gap and the limit on openings. Where rounding
// leaves no such count it takes the least within the limit, and warns of it.
func (t infillTask) layEqual() (Infill, string, string) {
	least := LeastCount(t.clear, t.member, t.gap)
	if shrink := t.member - t.dry; shrink > 0 && t.gap > shrink && least > 0 {
		least = max(least, LeastCount(t.clear, t.member, t.gap-shrink))
	}
	n, most := least, int(t.clear/t.member)
	if t.limit.known && t.limit.figure.Value > 0 {
		// The largest rounded gap is never under the ideal one, so counts whose ideal gap fails the limit need no trial.
		for n = max(n, LeastCount(t.clear, t.member, t.limit.figure.Value)); !t.limit.passes(EqualGap(t.clear, t.member, n)) && n < most; n++ {
		}
	}
	second := -1
	for tries := 0; n <= most && tries < mostTries; n, tries = n+1, tries+1 {
		if !t.centredOK(n) {
			continue
		}
		s := t.equal(n)
		if s.smallest() < 0 || !t.passes(s) {
			continue
		}
		if t.widest(s) <= t.gap {
			return t.report(s, least, n), "", ""
		}
		if second < 0 {
			second = n
		}
	}
	if second >= 0 {
		s := t.equal(second)
		value, gap := t.widest(s).FormatAgainst(t.gap, t.style)
		return t.report(s, least, second), fmt.Sprintf("On this marking grid no count of %ss keeps within the %s of %s: %s %s.", t.noun(), t.design(), gap, t.comesTo(s), value), ""
	}
	if !t.limit.known {
		return Infill{}, "", fmt.Sprintf("No count of %s %ss fits an opening of %s on this marking grid.", t.text(t.member), t.noun(), t.text(t.clear))
	}
	return Infill{}, "", fmt.Sprintf("No count of %s %ss in an opening of %s keeps the gaps %s.", t.text(t.member), t.noun(), t.text(t.clear), t.limit.words)
}

// mostTries bounds the members added for the sake of rounded marks; one is nearly always enough on a sensible grid.
const mostTries = 64

// layFixed centres the members on a member or on a space: of the counts whose end spaces keep to the limit it takes the one
// whose end space is nearest to half the centres, which looks best (how-to practice; secondary text), fewer on a tie.
func (t infillTask) layFixed() (Infill, string, string) {
	half := t.slope.plan(t.centres) / 2
	best, found := setting{}, false
	var away length.Length
	most := int((t.cut+t.centres)/t.centres) + 1
	legal := func(s setting) bool {
		if !t.centredOK(len(s.marks)) {
			return false
		}
		var ends []length.Length
		for _, gaps := range s.sets() {
			ends = append(ends, gaps[0], gaps[len(gaps)-1])
		}
		return slices.Min(ends) >= 0 && t.limit.passes(slices.Max(ends))
	}
	for n := max(0, most-4); n <= most; n++ {
		s := t.fixed(n)
		if !legal(s) {
			continue
		}
		if d := (s.onRail[0] - half).Abs(); !found || d < away {
			best, found, away = s, true, d
		}
	}
	if !found {
		// No count leaves legal ends: keep the most members that fit and say so.
		for n := most; n >= max(0, most-4) && !found; n-- {
			if !t.centredOK(n) {
				continue
			}
			best = t.fixed(n)
			found = best.smallest() >= 0
		}
		if !found {
			return Infill{}, "", fmt.Sprintf("The opening of %s holds no baluster at %s centres.", t.text(t.clear), t.text(t.centres))
		}
	}
	n := len(best.marks)
	in := t.report(best, n, n)
	if !t.passes(best) {
		value, _ := t.limit.against(t.widest(best), t.style)
		return in, fmt.Sprintf("At %s centres the largest clear gap is %s; the limit is %s.", t.text(t.centres), value, t.limit.words), ""
	}
	return in, "", ""
}

// report turns a setting into the Infill of a bay.
func (t infillTask) report(s setting, least, n int) Infill {
	in := Infill{
		Count: n, Least: least, Member: t.member, Mode: t.mode,
		Largest: s.worst(), Smallest: s.smallest(), DryGap: t.dryWorst(s),
		EndGap: s.onRail[0], LastGap: s.onRail[len(s.onRail)-1],
		Marks: emptyNotNil(s.marks), FromPost: emptyNotNil(s.fromPost),
		CentredOn: "space", Hook: "the datum-end cut of the bottom rail, to " + t.noun() + " centres",
	}
	if t.square > 0 {
		in.Hook = "the datum-end cut of the bottom rail, on its top edge, to " + t.noun() + " centres"
	}
	if n%2 == 1 {
		in.CentredOn = "member"
	}
	if t.top != nil && n > 0 {
		in.TopMarks = s.topMarks
		in.TopNote = fmt.Sprintf("%s: the top rail has marks of its own, its end spaces %s and %s.", t.top.why, t.text(s.onTop[0]), t.text(s.onTop[n]))
	}
	if t.mode == FixedCentres {
		gap := t.slope.plan(t.centres) - t.member
		in.IdealGap, in.Gap = ratio{int64(gap), 1}.String(), gap
		in.Why = t.whyFixed(in)
		return in
	}
	num, den := gapOf(t.clear, t.member, n)
	in.IdealGap, in.Gap = ratio{num, den}.String(), EqualGap(t.clear, t.member, n)
	in.Why = t.whyEqual(least, n, in)
	return in
}

// whyEqual says why that count, and what one more or one fewer would give.
func (t infillTask) whyEqual(least, n int, in Infill) []string {
	if n == 0 {
		return []string{fmt.Sprintf("The opening of %s is within the %s of %s: no %s is needed.", t.text(t.clear), t.design(), t.text(t.gap), t.noun())}
	}
	why := []string{fmt.Sprintf("%s, less %s of %s, leaves %s of %s.", t.text(t.clear), plural(n, t.noun()), t.text(t.member), plural(n+1, "gap"), t.text(in.Gap))}
	switch tight := t.equal(least); {
	case n > least && !t.centredOK(least):
		why = append(why, fmt.Sprintf("%s would be within the %s, but the middle of the bay is to be a %s.", plural(least, t.noun()), t.design(), t.centredOn))
	case n > least && t.widerOnTop(tight):
		value, gap := slices.Max(tight.onTop).FormatAgainst(t.gap, t.style)
		why = append(why, fmt.Sprintf("%s would be at the bottom rail; at the top rail a gap comes to %s, over the %s of %s: %s.", plural(least, t.noun()), value, t.design(), gap, strings.Replace(t.top.why, "The ", "the ", 1)))
	case n > least && !t.passes(tight):
		value, _ := t.limit.against(t.widest(tight), t.style)
		why = append(why, fmt.Sprintf("%s would be within the %s, but %s %s; the limit is %s.", plural(least, t.noun()), t.design(), t.comesTo(tight), value, t.limit.words))
	case n > least:
		value, gap := t.widest(tight).FormatAgainst(t.gap, t.style)
		why = append(why, fmt.Sprintf("%s would be, but for the rounding: %s %s, over the %s of %s.", plural(least, t.noun()), t.comesTo(tight), value, t.design(), gap))
	default:
		value, gap := EqualGap(t.clear, t.member, n-1).FormatAgainst(t.gap, t.style)
		if t.dry < t.member && EqualGap(t.clear, t.member, n-1) <= t.gap {
			why = append(why, fmt.Sprintf("One fewer would leave %s, over the %s of %s once the stock has dried.", value, t.design(), gap))
		} else {
			why = append(why, fmt.Sprintf("One fewer would leave %s, over the %s of %s.", value, t.design(), gap))
		}
	}
	more := EqualGap(t.clear, t.member, n+1)
	if more <= 0 {
		return append(why, "One more would not fit.")
	}
	return append(why, fmt.Sprintf("One more would leave %s.", t.text(more)))
}

// whyFixed says how the members are centred and what that leaves at the ends.
func (t infillTask) whyFixed(in Infill) []string {
	along := ""
	if !t.slope.level() {
		along = fmt.Sprintf(" along the rail, %s in plan", t.text(t.slope.plan(t.centres)))
	}
	how := "a baluster stands in the middle of the rail"
	if in.CentredOn == "space" {
		how = fmt.Sprintf("the middle of the rail falls in a space, %s from the nearest baluster centre each way", t.text(t.centres/2))
	}
	why := []string{fmt.Sprintf("%s at %s centres%s: %s, and the end spaces are %s and %s.",
		plural(in.Count, "baluster"), t.text(t.centres), along, how, t.text(in.EndGap), t.text(in.LastGap))}
	for _, other := range []int{in.Count - 1, in.Count + 1} {
		if other < 0 {
			continue
		}
		end := t.fixed(other).onRail[0]
		if end < 0 {
			why = append(why, fmt.Sprintf("%s would not fit.", plural(other, "baluster")))
		} else {
			why = append(why, fmt.Sprintf("%s would leave %s at the ends.", plural(other, "baluster"), t.text(end)))
		}
	}
	return why
}

// design is what the distance between members is aimed at.
func (t infillTask) design() string {
	if t.kind == FillCables {
		return "greatest distance between uprights"
	}
	return "design gap"
}

// text shows a length in the job's style.
func (t infillTask) text(l length.Length) string { return l.Format(t.style) }

// plural counts a noun.
func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// emptyNotNil keeps an empty list from being written as null.
func emptyNotNil[T any](s []T) []T {
	if s == nil {
		return []T{}
	}
	return s
}
