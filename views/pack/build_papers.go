package pack

import (
	"fmt"
	"strings"

	"newelbook/checklist"
	"newelbook/checklist/layout"
	"newelbook/jobs"
)

// papers lists what the figures and details rest on besides the readings, and where it is: attached papers first, with the file of
// each, then what was photographed or said.
func (b *builder) papers() Section {
	s := Section{ID: "papers", Heading: "Papers", Level: 1}
	if len(b.x.Papers) == 0 {
		s.Blocks = append(s.Blocks, para("No paper is attached. What follows is in this pack as photographs, or was said by whoever answered; what is neither is not recorded here."))
	} else {
		s.Blocks = append(s.Blocks, para("Attached papers are in the archive of this pack as they were received. What is said of them here was entered by hand; the program neither read nor judged them."), b.paperTable())
		if hashes := b.paperHashes(); len(hashes.Facts) > 0 {
			s.Blocks = append(s.Blocks, hashes)
		}
	}
	if t := b.saidTable(); len(t.Rows) > 0 {
		s.Blocks = append(s.Blocks, t)
	}
	return s
}

func (b *builder) paperTable() Table {
	t := Table{Caption: "Attached papers", Columns: []Column{{Head: "Paper", Weight: 0.8}, {Head: "What it is", Weight: 2.6}, {Head: "Issued by, date on it", Weight: 1.8},
		{Head: "About", Weight: 1.6}, {Head: "File, below data/", Weight: 2}}}
	for _, p := range b.x.Papers {
		about := Cell{Text: p.Place.Label}
		if rests := b.restsOn(p); rests != "" {
			about.Text += "\n" + rests
		}
		t.Rows = append(t.Rows, []Cell{{Text: p.Label(), Bold: true}, {Text: p.Title + "\n" + string(p.Kind)}, {Text: p.Issuer + "\n" + b.dateOn(p)}, about, b.paperFile(p)})
	}
	return t
}

// dateOn is the date that a paper bears.
func (b *builder) dateOn(p jobs.ExportPaper) string {
	if p.On == "" {
		return "no date on it"
	}
	return b.day(p.On)
}

// paperFile is where a paper's file is, or why it is not there.
func (b *builder) paperFile(p jobs.ExportPaper) Cell {
	switch {
	case p.Enclosed != "":
		return Cell{Text: p.Enclosed, File: p.Enclosed}
	case !p.Holds():
		return Cell{Text: fmt.Sprintf("Withdrawn %s by %s: %s", b.moment(p.Withdrawn), p.WithdrawnBy.Name, finished(p.Why)), Tone: Attention}
	case p.LeftOut:
		return Cell{Text: "Not enclosed in this pack: ask the builder.", Tone: Attention}
	}
	return Cell{Text: "Its file is missing on the server.", Tone: Missing}
}

// restsOn says what rests on a paper: a deviation, a figure of the authority's own, and readings.
func (b *builder) restsOn(p jobs.ExportPaper) string {
	var out []string
	for _, d := range b.x.Deviations {
		if d.ID == p.DeviationID {
			out = append(out, fmt.Sprintf("Deviation D%d rests on it.", d.Number))
		}
	}
	if p.Amendment != "" {
		title := p.Amendment
		if f, ok := b.figure(p.Amendment); ok {
			title = f.Title
		}
		out = append(out, "The authority's own figure rests on it: "+finished(title))
	}
	if places := b.namedAt(p, ""); len(places) > 0 {
		out = append(out, "Named by the answer at "+strings.Join(places, ", ")+".")
	}
	return strings.Join(out, "\n")
}

// paperHashes are the SHA-256 of the files.
func (b *builder) paperHashes() Integrity {
	var facts []Fact
	for _, p := range b.x.Papers {
		facts = append(facts, Fact{Key: "SHA-256 of " + strings.ToLower(p.Label()) + " as received", Value: Cell{Text: p.Media.String()}})
	}
	return Integrity{Facts: facts}
}

// saidTable lists papers that are in the pack as photographs, or that somebody answered for.
func (b *builder) saidTable() Table {
	t := Table{Caption: "Papers as photographed, or as answered for", Columns: []Column{{Head: "Paper", Weight: 2}, {Head: "Where", Weight: 3}}}
	for _, want := range []struct{ key, title string }{
		{"framing.photo_permit", "The permit, as posted"}, {"framing.photo_labels", "Labels of fasteners, hangers, hold-downs and bases"},
	} {
		where := Cell{Text: "not recorded", Tone: Missing}
		for _, st := range b.x.Stages {
			for _, c := range st.Checks {
				if c.Check.Key != want.key {
					continue
				}
				if r := current(c); len(c.Photos) > 0 {
					where = Cell{Text: strings.Join(b.photoNames(c.Photos), ", ")}
					if b.pictured(c.Photos[0]) {
						where.To = "photo-" + c.Photos[0]
					}
				} else if r != nil {
					where = Cell{Text: "none: " + r.Answer.Reason, Tone: Attention}
				}
			}
		}
		t.Rows = append(t.Rows, []Cell{{Text: want.title}, where})
	}
	for _, a := range b.x.Job.Amendments {
		if f, ok := b.figure(a.Key); ok {
			t.Rows = append(t.Rows, []Cell{{Text: "The authority's own figure: " + f.Title}, {Text: "said by " + f.SaidBy()}})
		}
	}
	if b.x.Job.Spec.PostMount == layout.MountBase {
		t.Rows = append(t.Rows, []Cell{{Text: "Published guard-load test of the post base"}, b.baseTest()})
	}
	for _, st := range b.x.Stages {
		for _, c := range st.Checks {
			if c.Check.Key != checklist.KeyOwnerTold {
				continue
			}
			where := Cell{Text: "not recorded", Tone: Missing}
			if r := current(c); r != nil {
				where = b.observed(r)
				if label := b.paperLabel(r.PaperID); label != "" {
					where.Text += "\n" + label
				}
			}
			t.Rows = append(t.Rows, []Cell{{Text: c.Check.Place.Label + ": the owner's written acknowledgement of a removable length"}, where})
		}
	}
	return t
}

// baseTest is the test of the post base as the specification has it, with the papers that the answers at the posts name.
func (b *builder) baseTest() Cell {
	cell := recorded(b.x.Job.Spec.BaseTest)
	for _, p := range b.x.Papers {
		if places := b.namedAt(p, checklist.KeyBaseTest); len(places) > 0 {
			cell.Text += fmt.Sprintf("\n%s, named at %s", b.paperLabel(p.ID), strings.Join(places, ", "))
		}
	}
	return cell
}

// namedAt are the places where an answer names a paper; key is the check's, empty for any.
func (b *builder) namedAt(p jobs.ExportPaper, key string) []string {
	var places []string
	for _, st := range b.x.Stages {
		for _, c := range st.Checks {
			if r := current(c); r != nil && r.PaperID == p.ID && (key == "" || c.Check.Key == key) {
				places = append(places, c.Check.Place.Label)
			}
		}
	}
	return places
}

// paperLabel names a paper of the record with its title, empty for none.
func (b *builder) paperLabel(id string) string {
	for _, p := range b.x.Papers {
		if p.ID == id {
			label := fmt.Sprintf("%s, %s", p.Label(), p.Title)
			if !p.Holds() {
				label += " (withdrawn)"
			}
			return label
		}
	}
	return ""
}

// instructions lists the papers that an owner needs later: labels and instructions of what was built in.
func (b *builder) instructions() []Section {
	t := Table{Caption: "Labels and instructions that came with what was built in", Columns: []Column{{Head: "What", Weight: 2.6}, {Head: "From", Weight: 1.6}, {Head: "For", Weight: 1}, {Head: "File in the archive of this pack", Weight: 2}}}
	for _, p := range b.x.Papers {
		if p.Kind.ForOwner() && p.Holds() {
			t.Rows = append(t.Rows, []Cell{{Text: p.Title, Bold: true}, {Text: p.Issuer + "\n" + b.dateOn(p)}, {Text: p.Place.Label}, b.paperFile(p)})
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return []Section{{ID: "instructions", Heading: "Labels and instructions", Level: 1, Blocks: []Block{
		para("Keep these: they say how each product is cleaned, coated and tightened. Where one says otherwise than the days of care here, its maker's word goes first."), t,
	}}}
}
