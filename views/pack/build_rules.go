package pack

import (
	"fmt"
	"strings"

	"newelbook/checklist/codes"
)

// rules lists every figure that was applied, with clause, edition, standing and amendment.
func (b *builder) rules() Section {
	set := b.x.Rules
	s := Section{ID: "rules", Heading: "The rules applied", Level: 1, Blocks: []Block{
		para(fmt.Sprintf("%s, %s, %s. Each figure stands with the clause that it comes from and how it was seen: in the official text, quoted in a secondary text, or from memory. The adopted edition and its local amendments govern.", set.Name, set.Place, set.Edition)),
	}}
	t := Table{Caption: "Figures of the rule set", Columns: []Column{{Head: "Figure", Weight: 3}, {Head: "Value", Weight: 1.5, Align: Right, Measure: true}, {Head: "Clause", Weight: 2}, {Head: "Standing", Weight: 1.5}}}
	for _, f := range b.x.Rules.Figures {
		title, value := f.Title, strings.TrimSpace(string(f.Bound)+" "+f.Show(b.style))
		if f.Kind == codes.KindText { // words read better under their title than set as a figure
			title, value = f.Title+"\n"+f.Show(b.style), ""
		}
		standing := Cell{Text: string(f.Standing)}
		if f.Amendment != nil {
			standing = Cell{Text: fmt.Sprintf("said by %s; the code itself: %s %s", f.SaidBy(), f.Base.Bound, f.Base.Show(b.style)), Tone: Attention}
		}
		t.Rows = append(t.Rows, []Cell{{Text: title}, {Text: value}, {Text: f.Clause}, standing})
	}
	s.Blocks = append(s.Blocks, t)
	if past := b.past(); len(past.Rows) > 0 {
		s.Blocks = append(s.Blocks, past)
	}
	s.Blocks = append(s.Blocks, para("Workmanship tolerances (plumb, level, lengths, gaps) have no published source that was found: they are this job's own settings."))
	return s
}

// past lists the authority's own figures that no longer hold, with how each ended: readings of their time were held to them.
func (b *builder) past() Table {
	t := Table{Caption: "Figures of the authority's that no longer hold", Columns: []Column{
		{Head: "Figure", Weight: 2.5}, {Head: "It was", Weight: 1.2, Align: Right, Measure: true}, {Head: "The code itself", Weight: 1.5, Align: Right, Measure: true}, {Head: "Said by", Weight: 2}, {Head: "How it ended", Weight: 3}}}
	for _, p := range b.x.Job.Past {
		said := p.Amendment.SaidBy
		if p.Amendment.Office != "" {
			said += ", " + p.Amendment.Office
		}
		ended := "Withdrawn"
		if p.Replaced {
			ended = "Replaced"
		}
		code := "no figure"
		if own, found := b.x.Job.Own(p.Amendment.Key); found {
			code = strings.TrimSpace(string(own.Bound) + " " + own.Show(b.style))
		}
		t.Rows = append(t.Rows, []Cell{{Text: codes.Title(p.Amendment.Key)}, {Text: p.Amendment.Value}, {Text: code}, {Text: said},
			{Text: fmt.Sprintf("%s %s by %s: %s", ended, b.moment(p.Ended), p.EndedBy.Name, finished(p.Why)), Tone: Attention}})
	}
	return t
}
