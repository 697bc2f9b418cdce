package views

import (
	"fmt"

	"newelbook/checklist/layout"
)

// stair sets the figures of a rake large.
func (p *RunShowPage) stair(r runLayout) {
	st := r.l.Stair
	if st == nil {
		return
	}
	ball := Measure{Label: "Largest ball at riser, tread and rail", Value: "not screened", Held: r.limits("rails.triangle"), Note: st.NotScreened}
	if st.Screened {
		ball.Value, ball.Note = st.Sphere.FormatUp(r.style), "Rounded up. Closed risers or a cut stringer in the plane of the guard."
		if r.run.Stringer == "" {
			ball.Note = "Rounded up. Closed risers in the plane of the guard are taken for granted: say what it stands over."
		}
		if st.SphereAt > 0 {
			ball.Note = fmt.Sprintf("Under riser %d, of the steps as measured. %s", st.SphereAt, ball.Note)
		}
		if st.RailMost != 0 {
			ball.Note = st.RailMustStand(r.style) + " " + ball.Note
		}
	}
	p.Stair = []Measure{
		{Label: "Rake", Value: fmt.Sprintf("%.1f°", st.Angle), Note: "Above level."},
		{Label: "Riser", Value: r.text(st.Riser), Note: counted(st.Risers, "riser") + "."},
		{Label: "Tread", Value: r.text(st.Tread), Note: counted(st.Treads, "tread") + "."},
		ball,
	}
	p.StairFacts, p.StairFigures, p.StairAsks, p.StairMarks = append(r.stairFacts(), r.hold()...), r.stairFigures(), st.Asks, r.stairMarks()
}

// stairFacts are the figures of a stair that are not set large.
func (r runLayout) stairFacts() []Fact {
	st := r.l.Stair
	if st == nil {
		return nil
	}
	facts := []Fact{
		{Label: "Total rise", Value: r.text(st.TotalRise), Note: fmt.Sprintf("%s of %s", counted(st.Risers, "riser"), r.text(st.Riser))},
		{Label: "Run", Value: r.text(st.Run), Note: fmt.Sprintf("%s of %s", counted(st.Treads, "tread"), r.text(st.Tread))},
		{Label: "Off square", Value: fmt.Sprintf("%.1f°", st.Angle), Note: fmt.Sprintf("for a plumb cut; off plumb %.1f°", st.Complement)},
		{Label: "Along the rake", Value: fmt.Sprintf("%.5f", st.Factor), Note: "for each unit of run"},
		{Label: "Across a post", Value: r.marked(st.PostJog), Note: "a rail is higher at the uphill face than at the downhill one"},
	}
	if st.Joint != 0 {
		facts = append(facts, Fact{Label: "Rails meet", Value: r.marked(st.Joint), Note: "behind the top nosing, level and raked, with no jog"})
	}
	for _, u := range []struct {
		one   string
		found layout.Uneven
	}{{"riser", st.RiserUneven}, {"tread", st.TreadUneven}} {
		if u.found.Spread > 0 {
			facts = append(facts, Fact{Label: "Uneven " + u.one + "s", Value: r.text(u.found.Spread), Note: fmt.Sprintf("%d against %d; neighbours %s, %d against %d, from the foot",
				u.found.High, u.found.Low, r.text(u.found.Adjacent), u.found.Pair, u.found.Pair+1)})
		}
	}
	return append(facts, Fact{Label: "Handrail", Value: st.Handrail})
}

// hold says whether a hand closes on the top of the guard, and what else would do.
func (r runLayout) hold() []Fact {
	st := r.l.Stair
	facts := []Fact{{Label: "Grip", Value: "Close a hand round it.", Note: st.Grip}}
	if st.HandrailAdvice != "" {
		facts = append(facts, Fact{Label: "If it is to be separate", Note: st.HandrailAdvice})
	}
	return facts
}

// stairFigures lists what the flight was held to.
func (r runLayout) stairFigures() *Table {
	st := r.l.Stair
	if st == nil || len(st.Tested) == 0 {
		return nil
	}
	t := Table{Caption: "The flight against the rule set", Heads: []Head{{Label: "What"}, {Label: "Is", Number: true}, {Label: "Figure", Number: true}, {Label: "Clause"}, {Label: ""}}}
	for _, x := range st.Tested {
		state := NewStatus("inside", "good")
		if !x.Inside {
			state = NewStatus("outside", "fails the limit")
		}
		t.Rows = append(t.Rows, []Cell{{Text: x.Name()}, {Text: x.Value}, {Text: x.Figure}, {Text: x.Source}, {Status: state}})
	}
	return &t
}

// stairMarks lists the heights to mark on each face of the posts of a flight.
func (r runLayout) stairMarks() *Table {
	if len(r.l.Posts) == 0 || r.l.Posts[0].Stand == nil {
		return nil
	}
	t := Table{Caption: "Marks on the posts, plumb above the surface each stands over", Heads: []Head{{Label: "Post"}, {Label: "Top of top rail, downhill face", Number: true}, {Label: "uphill face", Number: true},
		{Label: "Underside of bottom rail, downhill face", Number: true}, {Label: "uphill face", Number: true}, {Label: "Nosing line, downhill face", Number: true}, {Label: "uphill face", Number: true}}}
	for _, p := range r.l.Posts {
		down, up := p.Stand.Downhill, p.Stand.Uphill
		t.Rows = append(t.Rows, []Cell{{Text: p.Label}, {Text: r.marked(down.Top)}, {Text: r.marked(up.Top)}, {Text: r.marked(down.Under)}, {Text: r.marked(up.Under)}, {Text: r.marked(down.Line)}, {Text: r.marked(up.Line)}})
	}
	return &t
}

// heads says what happens at the stair heads that the run shares.
func (r runLayout) heads() []string {
	var says []string
	for _, m := range r.l.Meets {
		says = append(says, m.Sentence)
	}
	return says
}
