package layout

import (
	"fmt"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// topLoad is what the rule set has a guard carry on its top: a load at a point, one along it, or both, of which the worse counts and never
// their sum. A part that the rule set does not have is zero.
type topLoad struct {
	point, line codes.AppliedFigure
	note        string // whom the load along the top leaves out, by the rule set; empty for nobody
}

// topLoad reads the loads on the top of the guard from the rule set; false where it has none.
func (w *work) topLoad() (t topLoad, ok bool) {
	t.point, _ = w.in.Rules.Figure(codes.LoadGuardPoint)
	t.line, _ = w.in.Rules.Figure(codes.LoadGuardLine)
	if but, found := w.in.Rules.Figure(codes.LoadGuardExceptions); found {
		t.note = fmt.Sprintf(" Of this load the rule set says: %s (%s).", but.Text, but.Source())
	}
	return t, t.point.Number > 0 || t.line.Number > 0
}

// unit is what forces are told in: that of the load at a point, or of the one along the top where there is no other.
func (t topLoad) unit() string {
	if t.point.Number > 0 && t.point.Unit == "lb" || t.point.Number == 0 && t.line.Unit == "lb/ft" {
		return "lb"
	}
	return "kN"
}

// perFoot is the load along the top in pounds per foot.
func (t topLoad) perFoot() float64 {
	if t.line.Unit == "kN/m" {
		return PoundsPerFoot(t.line.Number)
	}
	return t.line.Number
}

// pounds is the load at a point in pounds.
func (t topLoad) pounds() float64 {
	if t.point.Unit == "kN" {
		return PoundsFromKilonewtons(t.point.Number)
	}
	return t.point.Number
}

// told turns pounds into the unit that forces are told in.
func (t topLoad) told(pounds float64) float64 {
	if t.unit() == "kN" {
		return KilonewtonsFromPounds(pounds)
	}
	return pounds
}

// push is the load that counts, and what the other one comes to beside it.
type push struct {
	byLine bool
	words  string // "50 lb/ft along 72", 300 lb"
	other  string // "more than 200 lb at a point", empty where there is no other
	source string // of the load that counts
	note   string
}

// onPost names the push on a post with the other one beside it.
func (p push) onPost() string {
	if p.other == "" {
		return p.words
	}
	return p.words + " (" + p.other + ")"
}

// governs says which load counts by what both come to, in the same measure, and how each is named.
func (t topLoad) governs(point, line float64, pointWords, lineWords string) push {
	p := push{words: pointWords, source: t.point.Source()}
	if line > point {
		p = push{byLine: true, words: lineWords, source: t.line.Source(), note: t.note}
	}
	switch {
	case t.point.Number == 0 || t.line.Number == 0:
	case p.byLine:
		p.other = "more than " + pointWords
	default:
		p.other = "no less than " + lineWords
	}
	return p
}

// onPost is the push on a post that carries a length of the top, in pounds: the load at a point, all of it on one post, or the one along
// the top over that length.
func (t topLoad) onPost(w *work, carried length.Length) (pounds float64, p push) {
	line := PostLoad(t.perFoot(), carried)
	p = t.governs(t.pounds(), line, t.point.Text+" at a point",
		fmt.Sprintf("%s along %s of guard, %s", t.line.Text, w.marked(carried), force(t.told(line), t.unit())))
	return max(t.pounds(), line), p
}

// onRail is the moment in the middle of a rail of a span, in in-lb: the load at a point there, or the one along the top over all of it.
func (t topLoad) onRail(w *work, span length.Length) (moment float64, p push) {
	point, line := MidspanMoment(t.pounds(), span), UniformMoment(t.perFoot(), span)
	p = t.governs(point, line, t.point.Text+" in the middle", t.line.Text+" along all of it")
	return max(point, line), p
}

// carried is the greatest length of the top that one of the posts told of carries: half of the bay at each side of it, centre to centre, along
// the rake on a stair. Zero where there is none.
func (w *work) carried(of func(Post) bool) length.Length {
	var most length.Length
	for _, p := range w.out.Posts {
		if !of(p) {
			continue
		}
		var both length.Length
		for _, b := range w.out.Bays {
			if b.FromPost == p.Number || b.ToPost == p.Number {
				both += w.slope.along(b.Centres)
			}
		}
		most = max(most, both/2)
	}
	return most
}
