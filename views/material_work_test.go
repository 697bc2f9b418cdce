package views_test

import (
	"strings"
	"testing"
	"time"

	"newelbook/checklist/length"
	"newelbook/jobs"
	"newelbook/views"
)

// ticked puts a tick of a piece into a record, as long as given; zero is as the layout has it.
func ticked(t *testing.T, rec *jobs.Record, label string, step jobs.Step, done int, l length.Length) *jobs.Record {
	t.Helper()
	for _, p := range rec.Pieces() {
		if p.Label != label {
			continue
		}
		if l == 0 {
			l = p.Length
		}
		rec = rec.Clone()
		rec.Take(jobs.Change{Tick: &jobs.Tick{
			ID: "tick" + label + string(step), PieceID: p.ID, RunID: p.RunID, Label: p.Label, What: p.What, Section: p.Section, Length: l, Count: p.Count,
			Step: step, Done: done, Layout: p.Version, At: time.Date(2026, 5, 6, 15, 4, 0, 0, time.UTC), By: ada,
		}})
		return rec
	}
	t.Fatalf("no piece %s", label)
	return nil
}

// underWay is a job of which some pieces are cut and fitted, one too short, one too long and one that is no more, with stock on hand.
func underWay(t *testing.T) *jobs.Record {
	rec := laid(t, laidInches)
	rec = ticked(t, rec, "R1-P1", jobs.StepCut, 1, 0)
	rec = ticked(t, rec, "R1-P1", jobs.StepFitted, 1, 0)
	rec = ticked(t, rec, "R1-B1 top", jobs.StepCut, 1, 20*length.Inch)
	rec = ticked(t, rec, "R1-B1 bottom", jobs.StepCut, 1, 90*length.Inch)
	rec = ticked(t, rec, "R1-B1 balusters", jobs.StepCut, 1, 0)
	gone := rec.Ticks[0]
	gone.ID, gone.PieceID, gone.Label = "gone", gone.RunID+"/P9", "R1-P9"
	rec.Take(jobs.Change{Tick: &gone})
	kinds := rec.StockKinds()
	for i, o := range []jobs.OnHand{
		{ID: "a", Length: 96 * length.Inch, Count: 2, From: "left over from the steps"},
		{ID: "b", Length: 14 * length.Inch, Count: 1, Offcut: true, Why: "used"},
		{ID: "c", Length: 144 * length.Inch, Why: "used for R1-P1"},
	} {
		o.Section, o.Species, o.At, o.By, o.Version = kinds[0].Section, kinds[0].Species, time.Date(2026, 5, 5, 12, i, 0, 0, time.UTC), ada, 1
		rec.Take(jobs.Change{OnHand: &o})
	}
	return rec
}

// forms are those of a section's boards.
func forms(s views.MaterialStock) []views.BoardForm {
	var out []views.BoardForm
	for _, p := range s.Patterns {
		for _, b := range p.Boards {
			out = append(out, b.Form)
		}
	}
	return out
}

func TestMaterialListUnderWay(t *testing.T) {
	rec := underWay(t)
	page := must[views.MaterialListPage](t)(views.NewMaterialList(materialFrame(t, rec), rec, views.Form{ID: "form1"}, true, ""))
	goldenPage(t, "material_list.underway", page)
	if len(page.Changed) != 3 || len(page.OnHand) != 2 || len(page.Used) != 1 {
		t.Errorf("%d pieces changed, %d entries on hand and %d withdrawn, want 3, 2 and 1", len(page.Changed), len(page.OnHand), len(page.Used))
	}
	planned := map[string]bool{}
	onHand := 0
	for _, s := range page.Stocks {
		for _, f := range forms(s) {
			if f.OnHand != "" {
				onHand++
			}
			for _, id := range f.Pieces {
				planned[id] = true
			}
		}
	}
	run := runOf(t, rec, "R1").ID
	if short, long := planned[run+"/B1 top"], planned[run+"/B1 bottom"]; !short || long || onHand == 0 {
		t.Errorf("the short rail is planned: %v, the long one: %v; %d boards on hand are used", short, long, onHand)
	}
}

func TestMaterialListErrors(t *testing.T) {
	rec := underWay(t)
	f := materialFrame(t, rec)
	f.Errors = []views.FieldError{{Field: "length", Message: "Enter the length of one board, such as 96 or 8'."}}
	form := views.Form{ID: "form1", Typed: views.Typed{"stock": {rec.StockKinds()[1].Key()}, "length": {"long"}, "count": {"3"}, "offcut": {"yes"}, "from": {"Under the deck"}}}
	goldenPage(t, "material_list.errors", must[views.MaterialListPage](t)(views.NewMaterialList(f, rec, form, true, "")))
}

// A shop sheet has the boxes ticked of what is cut as it says, and names what was cut otherwise.
func TestRunSheetTicks(t *testing.T) {
	rec := underWay(t)
	page := must[views.RunSheetPage](t)(views.NewRunSheet(materialFrame(t, rec), rec, runOf(t, rec, "R1")))
	if got := page.Posts[0].Ticks; !got.Cut || !got.Fitted {
		t.Errorf("R1-P1 is ticked %+v", got)
	}
	if page.Posts[1].Ticks.Cut || page.Rails[0].TopTicks.Cut || page.Marks[0].Ticks.Cut {
		t.Error("what is not cut, cut otherwise or cut in part is ticked")
	}
	if len(page.Recut) != 2 || !strings.HasPrefix(page.Recut[0], `R1-B1 top: it was cut to 20" by layout v`) {
		t.Errorf("cut otherwise: %q", page.Recut)
	}
}

// What is fitted and differs from the layout since is looked at, never ordered: it says what is fitted, what is asked for, and by how
// much they differ, keeps its ticks on the shop sheet, and is quiet once it was looked at.
func TestFittedBeforeTheLayoutChanged(t *testing.T) {
	rec := laid(t, laidInches)
	var top jobs.PieceState
	for _, p := range rec.Pieces() {
		if p.Label == "R1-B1 top" {
			top = p
		}
	}
	for _, tt := range []struct {
		name    string
		cut     length.Length
		section string
		says    string
	}{
		{"short", top.Length - length.Inch/4, top.Section, "by that it is 1/4\" too short."},
		{"long", top.Length + length.Inch/2, top.Section, "by that it is 1/2\" too long."},
		{"another section", top.Length, "5/4x4", "by that it is of another section."},
		{"another section and short", top.Length - length.Inch, "5/4x4", "by that it is of another section and 1\" too short."},
	} {
		fitted := rec.Clone()
		for _, step := range []jobs.Step{jobs.StepCut, jobs.StepFitted} {
			fitted.Take(jobs.Change{Tick: &jobs.Tick{
				ID: string(step), PieceID: top.ID, RunID: top.RunID, Label: top.Label, What: top.What, Section: tt.section, Length: tt.cut, Count: 1,
				Step: step, Done: 1, Layout: 1, At: time.Date(2026, 5, 6, 15, 4, 0, 0, time.UTC), By: ada,
			}})
		}
		page := must[views.MaterialListPage](t)(views.NewMaterialList(materialFrame(t, fitted), fitted, views.Form{ID: "form1"}, true, ""))
		if len(page.Changed) != 1 {
			t.Fatalf("%s: %d pieces to look at, want 1", tt.name, len(page.Changed))
		}
		row := page.Changed[0]
		if row.Row.Status.Word != "look at it" || !strings.Contains(row.Row.Note, tt.says) || !strings.Contains(row.Row.Note, tt.cut.Format(length.InchFraction)+", cut by layout v1") ||
			row.Buttons[0].Value != views.TickFitted || row.Buttons[1].Value != views.TickNotFit {
			t.Errorf("%s: %q, %q, %+v", tt.name, row.Row.Status.Word, row.Row.Note, row.Buttons)
		}
		for _, s := range page.Stocks {
			for _, f := range forms(s) {
				for _, id := range f.Pieces {
					if id == top.ID {
						t.Errorf("%s: what is fitted is planned again", tt.name)
					}
				}
			}
		}
		sheet := must[views.RunSheetPage](t)(views.NewRunSheet(materialFrame(t, fitted), fitted, runOf(t, fitted, "R1")))
		if got := sheet.Rails[0].TopTicks; !got.Cut || !got.Fitted || len(sheet.Recut) != 1 || !strings.HasSuffix(sheet.Recut[0], tt.says) {
			t.Errorf("%s: on the shop sheet %+v, %q", tt.name, got, sheet.Recut)
		}
		looked := ticked(t, fitted, top.Label, jobs.StepFitted, 1, 0)
		page = must[views.MaterialListPage](t)(views.NewMaterialList(materialFrame(t, looked), looked, views.Form{ID: "form1"}, true, ""))
		if len(page.Changed) != 0 {
			t.Errorf("%s: looked at, and still asked for: %q", tt.name, page.Changed[0].Row.Note)
		}
	}
}
