package views_test

import (
	"testing"

	"newelbook/jobs"
	"newelbook/views"
)

func TestIssuingPages(t *testing.T) {
	d := packDeck(t)
	note := jobs.Issuing{By: ada, Began: d.at, State: jobs.IssuingNow}
	page := func(waiting bool, steps ...views.IssuingStep) views.PackIssuingPage {
		return views.NewPackIssuing(d.frame(views.SheetPack, "A pack is being issued"), d.rec, note, waiting, steps)
	}
	steps := []views.IssuingStep{{Label: "Pictures made and read"}, {Label: "Editions written, each for print and as a page"}, {Label: "Files enclosed as received, read and hashed"}, {Label: "Files put into the pack and its manifests"}}
	goldenPage(t, "pack_issuing.waiting", page(true, append([]views.IssuingStep(nil), steps...)...))
	for i := range steps {
		steps[i].Begun = true
	}
	steps[0].Done, steps[0].Of, steps[1].Done, steps[1].Of, steps[3].Begun = 500, 500, 1, 3, false
	goldenPage(t, "pack_issuing.typical", page(false, steps...))

	packs := func(n jobs.Issuing, underWay, cutOff bool) views.PackListPage {
		p := must[views.PackListPage](t)(views.NewPackList(d.frame(views.SheetPack, "Packs"), d.rec, views.PackForms{Issue: fresh, Link: fresh}, true, true, d.at))
		p.Issuing(d.rec, n, underWay, cutOff)
		return p
	}
	goldenPage(t, "pack_list.under_way", packs(note, true, false))
	goldenPage(t, "pack_list.cut_off", packs(note, false, true))
	note.State, note.Says = jobs.IssuingFailed, "There is no room left on the server. Nothing of it was kept: make room, then issue it again."
	goldenPage(t, "pack_list.failed", packs(note, false, false))
	note.State = jobs.IssuingDone
	if p := packs(note, false, false); p.Ended != nil || p.UnderWay != nil {
		t.Error("a pack that was issued is said not to be")
	}
}
