package pack_test

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"
	"testing"
	"time"

	"newelbook/checklist"
	"newelbook/jobs"
	"newelbook/media"
	"newelbook/views/pack"
)

// withPapers are the facts of the kept pack with four papers: a label, a letter under a deviation, one left out, one withdrawn.
func withPapers(t *testing.T) pack.Facts {
	t.Helper()
	f := facts(t)
	whole := checklist.Place{ID: "job", Kind: checklist.PlaceJob, Label: "Whole job"}
	paper := func(n int, kind jobs.PaperKind, title string) jobs.ExportPaper {
		return jobs.ExportPaper{Paper: jobs.Paper{
			ID: string(rune('a' + n)), Number: n, Media: media.ID(pack.Bytes("", []byte(title)).SHA256), File: media.PDF, Bytes: 1234567, Kind: kind, Title: title, Issuer: "B. Sample, P.E. (invented)", Place: whole,
		}}
	}
	label, letter, left, gone := paper(1, jobs.PaperLabel, "Connector, care sheet"), paper(2, jobs.PaperLetter, "Rail at R1-B1"), paper(3, jobs.PaperTest, "Base, 200 lb"), paper(4, jobs.PaperDrawing, "Sheet 1")
	label.Enclosed, letter.Enclosed = "papers/paper-1.pdf", "papers/paper-2.pdf"
	letter.On, letter.DeviationID, letter.Place = "2026-05-04", "dev", checklist.Place{ID: "r/B1", Kind: checklist.PlaceBay, RunID: "r", Label: "R1-B1"}
	left.LeftOut = true
	gone.Withdrawn, gone.Why, gone.WithdrawnBy = time.Date(2026, 5, 5, 14, 0, 0, 0, time.UTC), "Sheet 2 takes its place", jobs.Actor{Name: "Bea Builder"}
	f.Record.Papers = []jobs.ExportPaper{label, letter, left, gone}
	f.Record.Deviations = append(f.Record.Deviations, jobs.Deviation{ID: "dev", Number: 7, What: "The rail is bowed.", State: jobs.DevOpen, Place: letter.Place})
	return f
}

func partText(d pack.Document, id string) string {
	d.Sections = slices.DeleteFunc(slices.Clone(d.Sections), func(s pack.Section) bool { return s.ID != id })
	return pack.Text(d)
}

// The inspector's edition lists every paper, with its file or why there is none; the owner's those that say how to look after what was built in.
func TestPapersInEditions(t *testing.T) {
	f := withPapers(t)
	tree := pack.Build(f)
	inspector := tree.Edition(pack.InspectorEdition)
	text := partText(inspector, "papers")
	for _, want := range []string{
		"*Paper 1* | Connector, care sheet / product label or instructions | B. Sample, P.E. (invented) / no date on it | Whole job | papers/paper-1.pdf(->papers/paper-1.pdf)",
		"*Paper 2* | Rail at R1-B1 / engineer's letter | B. Sample, P.E. (invented) / 4 May 2026 | R1-B1 / Deviation D7 rests on it. | papers/paper-2.pdf(->papers/paper-2.pdf)",
		"*Paper 3* | Base, 200 lb / test report | B. Sample, P.E. (invented) / no date on it | Whole job | <attention> Not enclosed in this pack: ask the builder.",
		"<attention> Withdrawn 5 May 2026 09:00 -05:00 by Bea Builder: Sheet 2 takes its place.",
		"SHA-256 of paper 4 as received = " + f.Record.Papers[3].Media.String(),
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the inspector's papers lack %q:\n%s", want, text)
		}
	}
	owner := tree.Edition(pack.OwnerEdition)
	if text := partText(owner, "instructions"); !strings.Contains(text, "*Connector, care sheet*") || strings.Contains(text, "Rail at R1-B1") {
		t.Errorf("the owner's labels and instructions:\n%s", text)
	}
	for _, d := range []pack.Document{inspector, owner} {
		if err := d.Check(); err != nil {
			t.Error(err)
		}
		var page bytes.Buffer
		if err := pack.WriteHTML(&page, d, pack.HTML{Style: "pack.css"}); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(page.String(), `<a href="../papers/paper-1.pdf">papers/paper-1.pdf</a>`) {
			t.Errorf("the page of the %s does not lead to the paper", d.Edition)
		}
	}
	if text := pack.Text(pack.Build(facts(t)).Edition(pack.OwnerEdition)); strings.Contains(text, "Labels and instructions") {
		t.Error("a job without papers has labels and instructions")
	}
}

// Where no file stands for a paper of the record, or another one does, verify names it.
func TestVerifyHoldsPapersAgainstRecord(t *testing.T) {
	f := withPapers(t)
	f.Record.SignedBy = ""
	record, err := json.Marshal(f.Record)
	if err != nil {
		t.Fatal(err)
	}
	verified := func(papers ...pack.Payload) []pack.Finding {
		b := pack.Bag{Name: "x", Files: append([]pack.Payload{pack.Bytes("data/record.json", record)}, papers...)}
		return verifyZIP(t, zipped(t, b), pack.CheckRecord).Findings
	}
	first, second := pack.Bytes("data/papers/paper-1.pdf", []byte("Connector, care sheet")), pack.Bytes("data/papers/paper-2.pdf", []byte("Rail at R1-B1"))
	if found := verified(first, second); len(found) != 0 {
		t.Errorf("both as received: %v", found)
	}
	if found := verified(first); len(found) != 1 || found[0].File != second.Path || !strings.Contains(found[0].Problem, "paper 2 is enclosed") {
		t.Errorf("one taken out: %v", found)
	}
	other := pack.Bytes(second.Path, []byte("Rail at R1-B2"))
	if found := verified(first, other); len(found) != 1 || found[0].File != second.Path || !strings.Contains(found[0].Problem, "names as paper 2") {
		t.Errorf("another in its place: %v", found)
	}
}
