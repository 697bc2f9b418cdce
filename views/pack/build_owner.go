package pack

import (
	"fmt"
	"strings"

	"newelbook/checklist"
	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/jobs"
)

// guard says in plain words what was built, with the plan and a picture of each run.
func (b *builder) guard() Section {
	s := Section{ID: "guard", Heading: "What was built", Level: 1}
	t := Table{Caption: "The lengths of your guard", Columns: []Column{{Head: "Length", Weight: 0.8}, {Head: "What it is", Weight: 2.2}, {Head: "How long, in plan", Weight: 1.3, Align: Right, Measure: true},
		{Head: "Height of its top", Weight: 1.3, Align: Right, Measure: true}, {Head: "Posts", Weight: 0.7, Align: Right}}}
	kinds := map[layout.RunKind]string{layout.Level: "along the level deck", layout.Rake: "along the stair", layout.Removable: "made to be lifted out"}
	for _, l := range b.x.Layouts {
		t.Rows = append(t.Rows, []Cell{{Text: l.Label, Bold: true}, {Text: kinds[l.Kind]}, {Text: b.text(l.Length)}, {Text: b.text(l.Heights.Finished)}, {Text: fmt.Sprint(len(l.Posts))}})
	}
	s.Blocks = append(s.Blocks, para("Each length of guard has a name, R1 and so on; posts and bays are counted along it: R1-P2, R1-B3. The same names stand on the plan, under the pictures and in the inspector's edition, which has every measurement."), t, b.plan())
	for _, p := range b.faces() {
		s.Blocks = append(s.Blocks, b.photo(p))
	}
	if p, ok := b.materials(); ok {
		s.Blocks = append(s.Blocks, p)
	}
	return s
}

// materials says what it is made of.
func (b *builder) materials() (KeyValues, bool) {
	spec := b.x.Job.Spec
	wood := spec.Species
	if s, ok := codes.SpeciesByKey(spec.Species); ok {
		wood = s.Name
	}
	var facts []Fact
	for _, f := range []struct{ key, value string }{
		{"Posts", spec.PostNominal}, {"Rails", spec.RailNominal}, {"Wood", wood}, {"Metal of screws and bolts", spec.FastenerMetal},
	} {
		if f.value != "" {
			facts = append(facts, Fact{Key: f.key, Value: Cell{Text: f.value}})
		}
	}
	return KeyValues{Facts: facts}, len(facts) > 0
}

// faces is for each run the newest photograph of its latest stage: what it looks like now, as far as the record has it.
func (b *builder) faces() []jobs.ExportPhoto {
	rank := map[checklist.Stage]int{}
	for i, st := range checklist.Stages() {
		rank[st] = i + 1
	}
	var out []jobs.ExportPhoto
	for _, l := range b.x.Layouts {
		var best *jobs.ExportPhoto
		for i := range b.x.Photos {
			p := &b.x.Photos[i]
			if p.Place.RunID != l.RunID || !b.pictured(p.ID) {
				continue
			}
			if best == nil || rank[p.Stage] > rank[best.Stage] || rank[p.Stage] == rank[best.Stage] && p.Number > best.Number {
				best = p
			}
		}
		if best != nil {
			out = append(out, *best)
		}
	}
	return out
}

// unusualPart leads with what an owner would not expect: removable lengths, what was accepted off the layout, the authority's own
// figures, and what was missing or open.
func (b *builder) unusualPart() []Section {
	s := Section{ID: "unusual", Heading: "What is unusual about it", Level: 1, Blocks: b.unusual()}
	if len(s.Blocks) == 0 {
		s.Blocks = append(s.Blocks, para("Nothing is recorded: no removable length, nothing accepted off the layout, no figure of the authority's own."))
	}
	if t, any := b.attention(); any {
		s.Blocks = append(s.Blocks, para("These readings are not good. Ask the builder what becomes of each that has no answer above."), t)
	}
	if len(b.x.Open) > 0 {
		s.Blocks = append(s.Blocks, Note{Label: "Missing or open", Runs: []Run{{Text: strings.Join(b.x.Open, " ")}}})
	}
	return []Section{s}
}
