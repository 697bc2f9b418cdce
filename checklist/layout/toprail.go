package layout

import (
	"fmt"
	"math/big"

	"newelbook/checklist/length"
)

// LeanOver is the height over which the lean of a post is read: 4 ft or 1,200 mm.
func LeanOver(style length.Style) length.Length {
	if style == length.Metric {
		return 1200 * mm
	}
	return 48 * in
}

// topRail is what decides the marks of a top rail that differ from its bottom rail's, while the members stand plumb.
type topRail struct {
	Rail
	shift *big.Rat // how far the opening's datum-side face stands further from the datum at this rail than at the bottom one, in nanometres
	why   string   // the beginning of a sentence
}

// leaning is how far a face that leans by so much over LeanOver moves between the two rails, exactly.
func (w *work) leaning(over length.Length) *big.Rat {
	between := w.out.Heights.TopRailTop - w.out.Heights.BottomRailTop
	return new(big.Rat).Mul(rat(over), big.NewRat(int64(between), int64(LeanOver(w.style))))
}

// topMarked decides how the top rail of a bay is marked: nil and no words where it is marked as its bottom rail is, words alone where
// that cannot be told. Members stand plumb, so the top marks follow the lean of the datum-side face, which is read at either post; m is
// the opening as measured, nil for a bay as planned, whose posts are plumb.
func (w *work) topMarked(label string, from, to support, p *Parts, m *Opening) (top *topRail, why string) {
	top = &topRail{Rail: p.Top, shift: new(big.Rat)}
	wider := rat(p.Top.Clear - p.Bottom.Clear)
	switch both := m != nil && m.Bottom > 0 && m.Top > 0; {
	case both && m.LeanFrom != nil:
		top.shift, top.why = w.leaning(*m.LeanFrom), w.leanWords(from, *m.LeanFrom)
		w.leansAgree(label, from, to, m, wider)
	case both && m.LeanTo != nil:
		top.shift, top.why = new(big.Rat).Sub(w.leaning(*m.LeanTo), wider), w.leanWords(to, *m.LeanTo)
	case wider.Sign() != 0:
		return nil, fmt.Sprintf("The opening differs by %s from bottom to top, and the lean of %s along the run is not read: read it, and the top rail gets marks of its own. Until then stand each member plumb on the bottom rail's marks, mark the top rail from them, and try its end spaces with a gauge.",
			w.text((p.Top.Clear - p.Bottom.Clear).Abs()), w.nameOf(from, to))
	}
	alike := wider.Sign() == 0 && p.Top.Allowance == p.Bottom.Allowance
	if half := big.NewRat(int64(w.spec.Grid), 2); alike && new(big.Rat).Abs(top.shift).Cmp(half) <= 0 {
		return nil, "" // less than can be marked
	}
	if top.why == "" {
		top.why = "The connectors of the top rail take another amount"
	}
	return top, ""
}

// nameOf is the label of the post to read: the datum-side one, or the other where that is a wall or another run's post, whose lean is read along that run.
func (w *work) nameOf(from, to support) string {
	if (from.wall() || from.post == 1 && w.in.Joint.Shared != "") && !to.wall() {
		from = to
	}
	return fmt.Sprintf("%s-P%d", w.run.Label, from.post)
}

// leanMatters asks for the lean of a bay's posts before its infill is cut, where the openings differ and a space at an end of the top rail may be over the limit: those
// two have all of the difference between them, and how it is shared out decides how many members there are to be.
func (w *work) leanMatters(label, post string, p *Parts, infill Infill) {
	wider := p.ClearTop - p.ClearBottom
	both := infill.EndGap + infill.LastGap + wider
	least, most := (both+1)/2, max(infill.EndGap, infill.LastGap)+wider
	if wider <= 0 || w.opening.passes(most) {
		return
	}
	value, _ := w.opening.against(most, w.style)
	says := fmt.Sprintf("one of them is %s or more and may be %s", w.text(least), value)
	if !w.opening.passes(least) {
		value, _ = w.opening.against(least, w.style)
		says = fmt.Sprintf("one of them is %s or more", value)
	}
	w.problem(label, "built", "At the top rail the two end spaces add up to %s, so that %s; an opening is to be %s. Read the lean of %s along the run before any %s is cut: it decides how many there are to be.",
		w.text(both), says, w.opening.words, post, infill.Noun())
}

// leanWords says how a post stands, for the note on the marks.
func (w *work) leanWords(s support, lean length.Length) string {
	by, _ := new(big.Float).SetRat(new(big.Rat).Abs(w.leaning(lean))).Int64()
	way := "away from"
	switch {
	case lean == 0:
		return fmt.Sprintf("%s-P%d is plumb and the two openings differ", w.run.Label, s.post)
	case lean < 0:
		way = "towards"
	}
	return fmt.Sprintf("%s-P%d leans %s %s the datum from rail to rail",
		w.run.Label, s.post, length.Length(by).FormatFine(w.style), way)
}

// leansAgree holds the lean of both posts against the two openings of the bay, which they explain.
func (w *work) leansAgree(label string, from, to support, m *Opening, wider *big.Rat) {
	if m.LeanTo == nil {
		return
	}
	says := new(big.Rat).Sub(w.leaning(*m.LeanTo), w.leaning(*m.LeanFrom))
	if off := new(big.Rat).Sub(says, wider); off.Abs(off).Cmp(rat(w.spec.TolOpening)) > 0 {
		says := roundRat(says, length.Nanometre)
		w.problem(label, "built", "The opening is %s wider at the top than at the bottom, and by the lean of %s-P%d and %s-P%d it should be %s: measure both again before the top rail is marked.",
			w.text(m.Top-m.Bottom), w.run.Label, from.post, w.run.Label, to.post, w.text(says))
	}
}

// set marks the members' centres on the rail and lists the gaps that the rounded marks leave at its height, both in plan.
func (r *topRail) set(t infillTask, centres []ratio) (marks, gaps []length.Length) {
	off := t.offsetOf(r.Rail)
	from := new(big.Rat).Add(r.shift, rat(off))
	onPlan := make([]length.Length, len(centres))
	for i, c := range centres {
		at := new(big.Rat).Sub(big.NewRat(c.num, c.den), from)
		mark := roundRat(at, t.grid)
		if !t.slope.level() {
			mark = t.slope.along(roundRat(at, length.Nanometre)).Round(t.grid)
		}
		marks = append(marks, mark)
		onPlan[i] = off + t.slope.plan(mark)
	}
	return marks, t.gaps(r.Clear, onPlan)
}

// rat is a length as an exact number of nanometres.
func rat(l length.Length) *big.Rat { return new(big.Rat).SetInt64(int64(l)) }

// roundRat rounds nanometres to a grid, halves away from zero.
func roundRat(r *big.Rat, grid length.Length) length.Length {
	grid = max(grid, length.Nanometre)
	// Half a grid is added to the distance from zero, and what is over a whole number of them dropped.
	num := new(big.Int).Mul(new(big.Int).Abs(r.Num()), big.NewInt(2))
	den := new(big.Int).Mul(r.Denom(), big.NewInt(int64(grid)))
	num.Add(num, den)
	steps := length.Length(num.Quo(num, den.Mul(den, big.NewInt(2))).Int64())
	if r.Sign() < 0 {
		steps = -steps
	}
	return steps * grid
}
