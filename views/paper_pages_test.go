package views_test

import (
	"testing"
	"time"

	"newelbook/checklist"
	"newelbook/checklist/codes"
	"newelbook/jobs"
	"newelbook/media"
	"newelbook/views"
)

// paperDeck is the deck with packs, and papers of every standing: a drawing on a figure of the authority's own, a report that an
// answer names, a picture of a label, one that was withdrawn.
func paperDeck(t *testing.T) *deck {
	t.Helper()
	d := packDeck(t)
	whole, _ := d.rec.Place("job")
	bay, _ := d.rec.Place("k7d2aa/B1")
	for i, p := range []jobs.Paper{
		{Kind: jobs.PaperDrawing, Title: "Guard and stair, sheet A-3", On: "2026-04-28", Issuer: "Sampleton building office", Place: whole, Amendment: codes.GuardHeightLevel, File: media.PDF, Bytes: 1_480_000},
		{Kind: jobs.PaperTest, Title: "Surface base, guard load at 36 in and 42 in", On: "2025-11-02", Issuer: "Sample Test House", Place: whole, File: media.PDF, Bytes: 640_000},
		{Kind: jobs.PaperLabel, Title: "Rail connector, care and tightening", Issuer: "Sample Fittings", Place: bay, File: media.JPEG, Bytes: 2_100_000},
		{Kind: jobs.PaperLetter, Title: "Upper bolt at R1-P2", On: "2026-05-04", Issuer: "P. Sample, P.E.", Place: bay, File: media.PDF, Bytes: 90_000, Withdrawn: d.at.Add(4 * time.Hour), WithdrawnBy: ada, Why: "The bolt was moved instead"},
	} {
		p.ID, p.Number, p.Version = []string{"papera", "paperb", "paperc", "paperd"}[i], i+1, 1
		p.Media, p.Name, p.By, p.Received = media.ID{byte(i + 1)}, "scan.pdf", ben, d.at.Add(time.Hour)
		d.rec.Take(jobs.Change{Paper: &p})
	}
	d.rec = d.rec.Clone()
	return d
}

func TestPaperPages(t *testing.T) {
	empty, d := newDeck(t), paperDeck(t)
	goldenPage(t, "paper_list.empty", views.NewPaperList(empty.frame(views.SheetPapers, "Papers"), empty.rec))
	goldenPage(t, "paper_list.typical", views.NewPaperList(d.frame(views.SheetPapers, "Papers"), d.rec))

	add := func(x *deck, form views.Form, held *views.HeldPaper, faults ...views.FieldError) views.PaperNewPage {
		return views.NewPaperNew(x.frame(views.SheetPapers, "Attach a paper", faults...), x.rec, form, held)
	}
	goldenPage(t, "paper_new.empty", add(empty, fresh, nil))
	goldenPage(t, "paper_new.typical", add(d, fresh, nil))
	again := typed(false, "kind", "test report", "title", "Base, 200 lb", "issuer", "", "on", "May", "place", "k7d2aa", "rests", "amendment:guard.height.level")
	goldenPage(t, "paper_new.errors", add(d, again, nil, fault("issuer", "Enter who issued it."), fault("on", "Enter the date on it as 2026-05-04."), fault("file", "This PDF is encrypted.")))
	goldenPage(t, "paper_new.held", add(d, again, &views.HeldPaper{Facts: media.Paper{ID: media.ID{9}, Bytes: 12_345_678, Kind: media.PDF}, Name: "base test.pdf"}, fault("issuer", "Enter who issued it.")))

	page := func(id string, form views.Form, builder bool, faults ...views.FieldError) views.PaperShowPage {
		p, _ := d.rec.Paper(id)
		return must[views.PaperShowPage](t)(views.NewPaperShow(d.frame(views.SheetPapers, "", faults...), d.rec, p, form, builder))
	}
	goldenPage(t, "paper_show.drawing", page("papera", fresh, true))
	goldenPage(t, "paper_show.picture", page("paperc", fresh, false))
	goldenPage(t, "paper_show.withdrawn", page("paperd", fresh, true))
	goldenPage(t, "paper_show.errors", page("papera", typed(false, "version", "1", "why", " "), true, fault("why", "Enter why it no longer holds.")))
	goldenPage(t, "paper_show.stale", page("papera", typed(true, "version", "0", "title", "Sheet A-3", "issuer", "The office", "kind", "approved drawing", "on", "2026-04-28", "place", "job", "rests", ""), true, fault("", "Ada Sample saved paper 1 meanwhile.")))

	now := d.at.AddDate(0, 0, 10)
	packs := must[views.PackListPage](t)(views.NewPackList(d.frame(views.SheetPack, "Packs"), d.rec, views.PackForms{Issue: fresh, Link: fresh}, true, true, now))
	if packs.Issue.Papers == nil || len(packs.Issue.Papers.Values) != 3 || packs.Issue.Offered != "papera paperb paperc" {
		t.Errorf("papers that would leave with a pack: %+v", packs.Issue.Papers)
	}
	goldenPage(t, "pack_list.papers", packs)
	x := must[jobs.Export](t)(d.rec.Export(nil, ada, jobs.ExportInput{LeftOut: []string{"paperb"}}, d.at))
	for n, want := range map[int]int{0: 2, 1: 1} { // the inspector may save all that are enclosed, the owner labels
		g := views.NewGuestShow(jobs.Guest{Record: d.rec, Link: d.rec.Links[n], Pack: d.rec.Packs[0]}, "token", views.NewFrozen(x), "", fresh, nil)
		if len(g.Papers) != want {
			t.Errorf("link %d is offered %+v, want %d papers", n, g.Papers, want)
		}
		goldenPage(t, "guest_show.papers_"+string(d.rec.Links[n].For), g)
	}
}

// A question that may rest on a paper offers those that are attached and hold.
func TestAskPaper(t *testing.T) {
	d := paperDeck(t)
	sheet := must[*jobs.Sheet](t)(d.rec.Sheet())
	c := &jobs.CheckState{Check: checklist.Check{ID: "k7d2aa/P1.framing.base", Key: checklist.KeyBaseTest, Stage: checklist.Framing, Ask: checklist.AskSeen, Title: "The post base has a published guard-load test",
		Place: checklist.Place{ID: "k7d2aa/P1", Kind: checklist.PlacePost, RunID: "k7d2aa", Number: 1, Label: "R1-P1"}, How: "File the test's sheet.", Reason: "An ordinary base holds a post up but hardly holds it upright.", Hold: true}}
	ask := views.NewStageAsk(d.frame(views.SheetStages, "Ask"), d.rec, []*jobs.CheckState{c}, fresh, "/back")
	if ask.Paper == nil || len(ask.Paper.Options) != 4 || ask.Paper.Value != "" {
		t.Fatalf("papers offered: %+v", ask.Paper)
	}
	goldenPage(t, "stage_ask.paper", ask)
	other := *c
	other.Check.Key = "framing.base_fixed"
	if ask := views.NewStageAsk(d.frame(views.SheetStages, "Ask"), d.rec, []*jobs.CheckState{&other}, fresh, "/back"); ask.Paper != nil || ask.AttachURL != "" {
		t.Error("a question that rests on no paper offers one")
	}
	read := jobs.Reading{ID: "r", CheckID: c.Check.ID, Check: c.Check, Answer: checklist.Answer{Seen: checklist.SeenYes}, By: ada, Received: d.at, PaperID: "paperb", Result: checklist.Result{Verdict: checklist.Good}}
	c.Current, c.History = &read, []jobs.Reading{read}
	show := views.NewCheckShow(d.frame(views.SheetStages, "Check"), d.rec, sheet, c, true, fresh, "same00000000")
	if len(show.RestsOn) != 1 {
		t.Fatalf("the answer rests on %+v", show.RestsOn)
	}
	goldenPage(t, "check_show.paper", show)
}
