package pack

import (
	"fmt"
	"strings"

	"newelbook/checklist"
	"newelbook/checklist/layout"
	"newelbook/jobs"
)

// fixings says of every post what fixes it, as laid out and as seen: fasteners and their metal, washers, hold-down, blocking.
func (b *builder) fixings() Section {
	s := Section{ID: "fixings", Heading: "What fixes each post", Level: 1, Blocks: []Block{
		para("Fasteners and metal as specified; washers, hold-down and blocking as somebody looked at them. Where nobody answered it says so."),
	}}
	for _, l := range b.x.Layouts {
		if len(l.Posts) == 0 {
			continue
		}
		spec := b.elevation(l.RunID).Spec
		t := Table{Caption: l.Label + ": posts and what fixes them", Columns: []Column{{Head: "Post", Weight: 0.9}, {Head: "Fasteners", Weight: 2.2}, {Head: "Metal", Weight: 1.1}, {Head: "Washers, tight", Weight: 1.5},
			{Head: "Hold-down", Weight: 2}, {Head: "Blocking or stand", Weight: 1.8}}}
		for _, p := range l.Posts {
			if p.SharedAs != "" {
				t.Rows = append(t.Rows, []Cell{{Text: p.Label, Bold: true}, {Text: "is " + p.SharedAs + ": see there"}})
				continue
			}
			washers, key := "framing.bolts_through", "framing.blocking"
			switch spec.PostMount {
			case layout.MountSleeve:
				washers = "framing.sleeve_heads"
			case layout.MountBase:
				washers = "framing.base_fixed"
			}
			if l.Kind == layout.Rake {
				key = "framing.stands"
			}
			hold := Cell{Text: "none called for"}
			if p.HoldDown != "" {
				hold = b.seenAt(p.Label, "framing.hold_down")
				hold.Text = orText(spec.HoldDown, "called for; which one is not recorded") + "\n" + hold.Text
			}
			t.Rows = append(t.Rows, []Cell{{Text: p.Label, Bold: true}, {Text: b.fasteners(l, p, spec)}, recorded(spec.FastenerMetal), b.seenAt(p.Label, washers), hold, b.seenAt(p.Label, key)})
		}
		s.Blocks = append(s.Blocks, t)
	}
	if n, firm := b.pushed(); n > 0 {
		s.Blocks = append(s.Blocks, Note{Label: "Pushed by hand", Runs: []Run{{Text: fmt.Sprintf("%d of %s stood firm when pushed by hand. No load was measured: this says nothing of the load that a post takes.", firm, plural(n, "post"))}}})
	}
	return s
}

// fasteners is what a post is fixed with, as specified and laid out.
func (b *builder) fasteners(l layout.Layout, p layout.Post, spec layout.Spec) string {
	switch spec.PostMount {
	case layout.MountSleeve:
		text := "in a sleeve of " + spec.SleeveMaterial
		if p.Sleeve != nil {
			text += ", " + b.text(p.Sleeve.Height) + " deep"
			if n := len(p.Sleeve.Holes); n > 0 {
				text += ", " + plural(n, "hole") + " laid out for its screws"
			}
		}
		return text
	case layout.MountBase:
		return "on a surface base; its test: " + orText(spec.BaseTest, "not recorded")
	}
	if len(p.Bolts) == 0 {
		return "through-bolts, places not laid out"
	}
	through, upper, lower := "the framing", "the top", "the underside"
	if p.Stringer() {
		through, upper, lower = "the stringer", "its upper edge, square", "its lower edge, square"
		if l.Stair.Stringer.Notched {
			upper = "its notches, square"
		}
	}
	text := fmt.Sprintf("%s of %s through %s", plural(len(p.Bolts)+len(p.Corner), "bolt"), b.text(spec.BoltDiameter), through)
	for _, bolt := range p.Bolts {
		if bolt.Name == "upper" {
			text += fmt.Sprintf(";\nupper %s below %s", b.text(bolt.FromTop), upper)
		} else {
			text += fmt.Sprintf(",\n%s %s above %s", bolt.Name, b.text(bolt.FromBottom), lower)
		}
	}
	if len(p.Corner) > 0 {
		text += fmt.Sprintf(";\nsecond pair %s below the top and %s above the underside", b.text(p.Corner[0].FromTop), b.text(p.Corner[1].FromBottom))
	}
	return text
}

// seenAt is what stands for a check of one kind at a place.
func (b *builder) seenAt(label, key string) Cell {
	for _, st := range b.x.Stages {
		for _, c := range st.Checks {
			if c.Check.Place.Label != label || c.Check.Key != key {
				continue
			}
			r := current(c)
			if r == nil {
				return Cell{Text: "not checked", Tone: Unchecked}
			}
			cell := b.answer(r)
			cell.Text += "\n" + r.By.Name + ", " + r.Claimed.In(b.loc).Format("2 Jan")
			return cell
		}
	}
	return Cell{Text: "not asked for here"}
}

// pushed counts the posts that were pushed by hand, and those that stood firm.
func (b *builder) pushed() (posts, firm int) {
	for _, st := range b.x.Stages {
		for _, c := range st.Checks {
			if r := current(c); c.Check.Key == "post_tops.firm" && r != nil {
				posts++
				if r.Result.Verdict == checklist.Good {
					firm++
				}
			}
		}
	}
	return posts, firm
}

// framingOpen says whether the framing is still to be inspected: its stage is open and no run is covered.
func (b *builder) framingOpen() bool {
	if len(b.x.Covered) > 0 {
		return false
	}
	for _, st := range b.x.Stages {
		if st.Stage == checklist.Framing {
			return !st.Closed || strings.Contains(b.x.Purpose, "framing")
		}
	}
	return false
}

// outOf says how many of all there are.
func outOf(n, all int) string {
	if n == all && all > 0 {
		return fmt.Sprintf("all %d", all)
	}
	return fmt.Sprintf("%d of %d", n, all)
}

// request is one page that asks for the inspection before decking, with room for the outcome.
func (b *builder) request() Section {
	s := Section{ID: "request", Heading: "Asked for: an inspection of the framing, before decking", Level: 1}
	answered, total, photos, held := 0, 0, 0, 0
	var open []jobs.ExportCheck
	for _, st := range b.x.Stages {
		if st.Stage != checklist.Framing {
			continue
		}
		for _, c := range st.Checks {
			if c.Check.Ask == checklist.AskPhoto {
				photos++
				if len(c.Photos) > 0 {
					held++
				}
				continue
			}
			total++
			if r := current(c); r != nil {
				answered++
				if r.Result.Verdict != checklist.Good {
					open = append(open, c)
				}
			}
		}
	}
	state := fmt.Sprintf("Checks of the framing read: %s. Photographs held: %s. ", outOf(answered, total), outOf(held, photos))
	switch {
	case len(open) > 0:
		state += fmt.Sprintf("Readings that are not good: %d.", len(open))
	case answered > 0:
		state += "Every reading is good."
	}
	const most = 4 // runs, so that one page holds it
	t := Table{Caption: "What is to be seen", Columns: []Column{{Head: "Run", Weight: 0.7}, {Head: "Posts", Weight: 0.7, Align: Right}, {Head: "Length in plan", Weight: 1.2, Align: Right, Measure: true}, {Head: "Greatest drop", Weight: 1.2, Align: Right, Measure: true}, {Head: "The guard is", Weight: 1.2}}}
	for i, l := range b.x.Layouts {
		if row := b.governing(i); i < most {
			t.Rows = append(t.Rows, []Cell{{Text: l.Label, Bold: true}, {Text: fmt.Sprint(len(l.Posts))}, {Text: b.text(l.Length)}, row[1], row[3]})
		}
	}
	room := 3 // rules to write on
	if len(t.Rows) == most {
		room = 2
	}
	rest := "The inspector's edition of this pack has every reading and photograph"
	if n := len(b.x.Layouts) - most; n > 0 {
		rest += fmt.Sprintf(", and %d more runs", n)
	}
	s.Blocks = append(s.Blocks, para(state), t, para("Decking will hide blocking, fasteners, hold-downs and sleeves for good. "+rest+"."),
		SignOff{Lines: []SignLine{{Says: "Outcome", Choices: []string{"accepted", "correct and call again", "not inspected"}, Room: room, Office: b.x.Job.Authority}}})
	return s
}
