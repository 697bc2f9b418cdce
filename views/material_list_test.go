package views_test

import (
	"strings"
	"testing"

	"newelbook/jobs"
	"newelbook/views"
)

// listed is the page of a job's materials as the builder sees it.
func listed(t *testing.T, description string) views.MaterialListPage {
	t.Helper()
	rec := laid(t, description)
	return must[views.MaterialListPage](t)(views.NewMaterialList(materialFrame(t, rec), rec, views.Form{ID: "form1"}, true))
}

func materialFrame(t *testing.T, rec *jobs.Record) views.Frame {
	t.Helper()
	f := must[views.Frame](t)(views.JobFrame(rec, views.SheetLayout, "Materials"))
	f.Who = views.Who{Name: "Ada Sample", Role: "builder"}
	return f
}

func TestMaterialList(t *testing.T) {
	none := newDeck(t)
	empty := must[views.MaterialListPage](t)(views.NewMaterialList(none.frame(views.SheetLayout, "Materials"), none.rec, views.Form{ID: "form1"}, false))
	goldenPage(t, "material_list.empty", empty)
	goldenPage(t, "material_list.typical", listed(t, laidInches))
	goldenPage(t, "material_list.metric", listed(t, laidMillimetres))
}

// With no board as long as the rails the page says of each why it is not planned, and leads to the stock lengths.
func TestMaterialListLongerThanStock(t *testing.T) {
	page := listed(t, strings.ReplaceAll(laidInches, `"8', 10', 12'"`, `"48"`))
	goldenPage(t, "material_list.worst", page)
	rows := 0
	for _, s := range page.Stocks {
		for _, r := range s.Unplaced {
			rows++
			if !strings.Contains(r.Label, `the longest stock is 48" and gives 47"`) || !strings.HasSuffix(r.URL, "#"+views.FieldID("stock_lengths")) {
				t.Errorf("%s: %q leads to %q", r.Place, r.Label, r.URL)
			}
		}
	}
	if rows == 0 {
		t.Error("every piece is planned out of boards of 48 in")
	}
}

// A run that was taken out is in no list.
func TestMaterialListTakenOut(t *testing.T) {
	rec := laid(t, laidInches)
	rec = taken(rec, runOf(t, rec, "R4"))
	page := must[views.MaterialListPage](t)(views.NewMaterialList(materialFrame(t, rec), rec, views.Form{ID: "form1"}, true))
	if strings.Contains(page.Summary, "R4") {
		t.Errorf("the list is %q", page.Summary)
	}
	for _, g := range page.Pieces {
		for _, row := range g.Rows {
			if strings.HasPrefix(row.Row.Place, "R4-") {
				t.Errorf("%s is in the list", row.Row.Place)
			}
		}
	}
}
