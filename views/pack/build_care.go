package pack

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"newelbook/checklist/layout"
	"newelbook/jobs"
	"newelbook/views/draw"
)

// careTask is one thing to do, on a day and then every so many months; months of zero is once. key names it in the calendar.
type careTask struct {
	key    string
	on     time.Time // a day in the job's zone
	months int
	title  string // a few words
	what   string
}

// careTasks are what the owner does, in order of their days. The intervals are common practice, no source.
func (b *builder) careTasks() []careTask {
	at := b.x.Frozen.In(b.loc)
	day := func(t time.Time) time.Time { return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, b.loc) }
	spring := day(time.Date(at.Year(), time.April, 1, 0, 0, 0, 0, b.loc))
	if !spring.After(at) {
		spring = spring.AddDate(1, 0, 0)
	}
	out := []careTask{
		{"tighten", day(at.AddDate(0, 3, 0)), 12, "Tighten the guard's bolts and screws", "Timber dries and shrinks away from its fixings, most in the first months. Push each post and rail by hand; have bolts and screws that you can see tightened. What stays loose, or can't be reached, is for the builder. Pushing by hand is not a load test."},
		{"wash", spring, 12, "Wash the guard", "Water and a soft brush, no pressure washer: it drives water into joints and lifts the grain."},
		{"look", spring, 12, "Look for rot and looseness", "Press a blunt point into post bottoms, rail ends and the wood under caps: soft wood is rot. Look for cracks, for rust or black streaks at screws, for balusters that turn or rattle. Anything found is for the builder, before anybody leans on it."},
	}
	for _, l := range b.x.Layouts {
		if l.Lift != nil {
			out = append(out, careTask{"sleeves-" + l.RunID, spring, 12, "Clear the sleeves of " + l.Label, "Lift the removable length out as its page says, clear sleeves and drains, look at lock and covers, and put it back locked."})
		}
	}
	out = append(out, careTask{"coat", day(at.AddDate(2, 0, 0)), 24, "Renew the finish", "Rails, caps and cut ends. Seal again any end grain that has gone grey, post tops first: end grain drinks water."})
	slices.SortStableFunc(out, func(x, y careTask) int { return x.on.Compare(y.on) })
	return out
}

// care says what the owner looks after, and when, and how a removable length is taken out and put back.
func (b *builder) care() []Section {
	t := Table{Caption: "What to do and when (common practice, no source)", Columns: []Column{{Head: "First on", Weight: 1.2}, {Head: "Then", Weight: 1}, {Head: "What", Weight: 5}}}
	for _, task := range b.careTasks() {
		again := "once"
		switch {
		case task.months == 12:
			again = "every year"
		case task.months > 0:
			again = fmt.Sprintf("every %d years", task.months/12)
		}
		t.Rows = append(t.Rows, []Cell{{Text: task.on.Format("2 January 2006"), Bold: true}, {Text: again}, {Text: task.title + ". " + task.what}})
	}
	t.Rows = append(t.Rows, []Cell{{Text: "After a knock\nor a storm", Bold: true}, {Text: "each time"}, {Text: "Check the length that was hit before anybody leans on it. Keep people away from it until it is put right."}})
	out := []Section{{ID: "care", Heading: "Looking after the guard", Level: 1, Blocks: []Block{
		para("The same days stand in care.ics, in the archive of this pack: open it, and your calendar reminds you."), t,
	}}}
	for _, l := range b.x.Layouts {
		if l.Lift != nil {
			out = append(out, b.liftOut(l))
		}
	}
	return out
}

func (b *builder) liftOut(l layout.Layout) Section {
	step := func(text string) []Cell { return []Cell{{Text: text}} }
	return Section{ID: "lift-" + l.RunID, Heading: l.Label + ": taking the removable length out and putting it back", Level: 2, Blocks: []Block{
		caution("While this length is out the edge is open and somebody can fall. A removable length is not accepted as a required guard in most places."),
		Table{Caption: "Taking it out", Columns: []Column{{Head: "In this order", Weight: 1}}, Rows: [][]Cell{
			step("1. Keep everybody away from the edge and put up a barrier that will stand while it is out."),
			step(fmt.Sprintf("2. Unlock it. Lift it straight up by %s until it clears its sleeves. %s", b.text(l.Lift.Rise), l.Lift.Weighs(b.style)+carried(l.Lift))),
			step("3. Stand it " + orText(l.Lift.Store, "where it cannot fall") + "."),
			step("4. Cover every empty sleeve at once: an open one trips a foot and fills with water."),
		}},
		Table{Caption: "Putting it back", Columns: []Column{{Head: "In this order", Weight: 1}}, Rows: [][]Cell{
			step("1. Take the covers off; clear the sleeves and their drains."),
			step("2. Lower it in, every post to the bottom of its sleeve, the top of the length level with its neighbours."),
			step("3. Lock it, then try to lift it: it must not come."),
			step("4. Push it by hand at every post. Nothing may move; pushing by hand is not a load test."),
			step("5. Only then take the barrier away."),
		}},
	}}
}

// never says what must not be done, and for what a guard is not made.
func (b *builder) never() Section {
	return Section{ID: "never", Heading: "What never to do", Level: 1, Blocks: []Block{
		caution("Never climb or sit on the guard, hang loads from it or tie a hammock, a swing or a line to it."),
		caution("Never cut a post or rail, take out a baluster, bend a cable or widen a gap. A gap that lets a child's head through can kill."),
		caution("Never put a box, a bench or a planter against it: a child climbs what stands there."),
		caution("Never leave a length out without a barrier in its place."),
		caution("Cutting treated wood and metal calls for eye, ear and breathing protection. Do not burn treated wood."),
	}}
}

// call says whom to call, and about what.
func (b *builder) call() Section {
	return Section{ID: "call", Heading: "Whom to call", Level: 1, Blocks: []Block{
		KeyValues{Facts: []Fact{
			b.fact("Anything loose, soft, cracked or knocked", strings.TrimSuffix(b.x.Job.Builder+"\n"+b.x.Job.Contact, "\n")),
			b.fact("Permits and the adopted code", b.x.Job.Authority),
			{Key: "Loads, a hot tub, a screen or an awning on the guard", Value: Cell{Text: "a licensed professional, before anything is fixed to it"}},
		}},
		para(fmt.Sprintf("Say that it is job %s, pack %d, and the place as the drawing names it, such as R1-B2.", b.x.Job.Ref, b.x.Pack)),
	}}
}

// carried says that two people carry a removable length, where it is over the job's figure or its whole weight is not known.
func carried(l *layout.Lift) string {
	switch {
	case l.Two:
		return " Two people carry it."
	case l.Weight == 0 || l.Without != "":
		return " Try it with two people."
	}
	return ""
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
		s.Blocks = append(s.Blocks, t)
		for _, a := range b.x.Answers {
			if strokes, err := jobs.ParseStrokes(a.Signature); err == nil && strokes != nil { // one that could not be read was refused
				s.Blocks = append(s.Blocks, Drawing{Number: "Signature", Caption: fmt.Sprintf("%s, %s, as drawn under the answer to pack %d.", a.Name, a.From, a.Pack),
					Sheet: draw.Signature(strokes, jobs.SignatureWide, jobs.SignatureHigh, 60, "Signature of "+a.Name+", as drawn")})
			}
		}
		s.Blocks = append(s.Blocks, para("A name or signature given through a link is a claimed identity: it proves nothing about who opened it."))
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
