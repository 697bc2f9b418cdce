package pack

import (
	"fmt"
	"strings"
	"time"

	"newelbook/checklist/layout"
	"newelbook/jobs"
)

// care says what the owner looks after, and when, and what never to do. The intervals are common practice, no source.
func (b *builder) care() []Section {
	at := b.x.Frozen.In(b.loc)
	date := func(months int) string { return at.AddDate(0, months, 0).Format("January 2006") }
	s := Section{ID: "care", Heading: "Looking after the guard", Level: 1, Blocks: []Block{
		Table{Caption: "What to do and when (common practice, no source)", Columns: []Column{{Head: "When", Weight: 1.4}, {Head: "What", Weight: 5}}, Rows: [][]Cell{
			{{Text: date(3), Bold: true}, {Text: "Timber has dried by now: push each post and rail by hand. Anything loose is for the builder. Pushing by hand is not a load test."}},
			{{Text: "Every spring,\nfirst in " + springAfter(at), Bold: true}, {Text: "Wash with water and a soft brush. Look for soft wood at post bottoms, rail ends and under caps; for cracks, rust or black streaks at screws; for balusters that turn or rattle."}},
			{{Text: date(24), Bold: true}, {Text: "Renew the finish on rails, caps and cut ends. Seal again any end grain that has gone grey, post tops first: end grain drinks water."}},
			{{Text: "After a knock\nor a storm", Bold: true}, {Text: "Check the length that was hit before anybody leans on it. Keep people away from it until it is put right."}},
		}},
		caution("Never climb or sit on the guard, hang loads from it, cut a post or rail, take out a baluster or widen a gap. A gap that lets a child's head through can kill."),
		caution("Cutting treated wood and metal calls for eye, ear and breathing protection. Do not burn treated wood."),
	}}
	out := []Section{s}
	for _, l := range b.x.Layouts {
		if l.Lift != nil {
			out = append(out, b.liftOut(l))
		}
	}
	return out
}

func springAfter(at time.Time) string {
	year := at.Year()
	if at.Month() >= time.April {
		year++
	}
	return fmt.Sprintf("April %d", year)
}

func (b *builder) liftOut(l layout.Layout) Section {
	return Section{ID: "lift-" + l.RunID, Heading: l.Label + ": taking the removable length out and putting it back", Level: 2, Blocks: []Block{
		para(fmt.Sprintf("Out: keep everybody away from the edge and put up a barrier first. Unlock it, lift it straight up by %s until it clears its sleeves, and stand it %s. It weighs about %.0f kg%s. Cover the empty sleeves at once: they trip and they fill with water.",
			b.text(l.Lift.Rise), orText(l.Lift.Store, "where it cannot fall"), l.Lift.Weight, carried(l.Lift))),
		para("Back: clear the sleeves and their drains, lower it in, lock it, then push it by hand at every post. Take the barrier away only when it is locked."),
		caution("While this length is out the edge is open and somebody can fall. A removable length is not accepted as a required guard in most places."),
	}}
}

// carried says that two people carry a removable length, where it is over the job's figure.
func carried(l *layout.Lift) string {
	if !l.Two {
		return ""
	}
	return " without its hardware: two people carry it"
}

func orText(text, otherwise string) string {
	if strings.TrimSpace(text) == "" {
		return otherwise
	}
	return text
}

// signOffs has what was answered to earlier packs, and lines for those to come.
func (b *builder) signOffs() Section {
	s := Section{ID: "signoffs", Heading: "Sign-offs", Level: 1}
	if len(b.x.Answers) > 0 {
		t := Table{Caption: "Answers to packs issued before this one", Columns: []Column{{Head: "Pack", Weight: 0.6, Align: Right}, {Head: "From", Weight: 2}, {Head: "Answer", Weight: 4}, {Head: "Recorded", Weight: 1.6}}}
		for _, a := range b.x.Answers {
			t.Rows = append(t.Rows, []Cell{{Text: fmt.Sprint(a.Pack)}, {Text: strings.TrimSuffix(fmt.Sprintf("%s, %s\n%s", a.Name, a.From, a.Office), "\n")}, {Text: answerText(a)}, {Text: b.moment(a.At)}})
		}
		s.Blocks = append(s.Blocks, t, para("A name given through a link is a claimed identity: it proves nothing about who opened it."))
	}
	s.Blocks = append(s.Blocks, SignOff{Lines: []SignLine{
		{Says: "Handed over by the builder", Name: b.x.Job.Builder},
		{Says: "Received by the owner, care and cautions explained", Name: b.x.Job.Owner},
		{Says: "Inspection: outcome and date", Office: b.x.Job.Authority},
	}})
	return s
}

func answerText(a jobs.Answer) string {
	parts := []string{string(a.Kind)}
	if a.Kind == jobs.AnswerOutcome {
		parts[0] = "outcome: " + a.Outcome
		if a.Stage != "" {
			parts = append(parts, "stage: "+string(a.Stage))
		}
		parts = append(parts, "on "+jobs.DayText(a.On))
	}
	for _, text := range []string{a.Place, a.Text} {
		if text != "" {
			parts = append(parts, text)
		}
	}
	return strings.Join(parts, "; ")
}
