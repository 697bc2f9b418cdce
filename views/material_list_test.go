package views_test

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"newelbook/jobs"
	"newelbook/views"
)

// listed is the page of a job's materials as the builder sees it.
func listed(t *testing.T, description string) views.MaterialListPage {
	t.Helper()
	rec := laid(t, description)
	return must[views.MaterialListPage](t)(views.NewMaterialList(materialFrame(t, rec), rec, views.Form{ID: "form1"}, true, ""))
}

func materialFrame(t *testing.T, rec *jobs.Record) views.Frame {
	t.Helper()
	f := must[views.Frame](t)(views.JobFrame(rec, views.SheetLayout, "Materials"))
	f.Who = views.Who{Name: "Ada Sample", Role: "builder"}
	return f
}

func TestMaterialList(t *testing.T) {
	none := newDeck(t)
	empty := must[views.MaterialListPage](t)(views.NewMaterialList(none.frame(views.SheetLayout, "Materials"), none.rec, views.Form{ID: "form1"}, false, ""))
	goldenPage(t, "material_list.empty", empty)
	goldenPage(t, "material_list.typical", listed(t, laidInches))
	goldenPage(t, "material_list.metric", listed(t, laidMillimetres))
}

// With no board as long as the rails the page says of each why it is not planned, and leads to the stock lengths.
func TestMaterialListLongerThanStock(t *testing.T) {
	page := listed(t, strings.ReplaceAll(laidInches, `"8', 10', 12'"`, `"48"`))
	goldenPage(t, "material_list.worst", page)
	rows, said := 0, map[string]bool{}
	for _, s := range page.Stocks {
		for _, r := range s.Unplaced {
			rows++
			if !strings.Contains(r.Label, `the longest stock is 48" and gives 47"`) || !strings.HasSuffix(r.URL, "#"+views.FieldID("stock_lengths")) {
				t.Errorf("%s: %q leads to %q", r.Place, r.Label, r.URL)
			}
			if said[s.Name+r.Label] {
				t.Errorf("%s: %q is said twice", s.Name, r.Label)
			}
			said[s.Name+r.Label] = true
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
	page := must[views.MaterialListPage](t)(views.NewMaterialList(materialFrame(t, rec), rec, views.Form{ID: "form1"}, true, ""))
	if strings.Contains(page.Summary, "R4") {
		t.Errorf("the list is %q", page.Summary)
	}
	for _, g := range page.Pieces {
		for _, part := range g.Parts {
			if part.Run == "R4" {
				t.Errorf("%d pieces of R4 are in the list", len(part.Rows))
			}
		}
	}
}

// pieces is how many pieces a board's row names.
func pieces(note string) int {
	n := 0
	for part := range strings.SplitSeq(note, ", ") {
		some := 1
		if count, _, ok := strings.Cut(part, " of "); ok {
			some, _ = strconv.Atoi(count)
		}
		n += some
	}
	return n
}

// Boards that are cut alike are drawn once, without labels; each has its own row with its pieces, and its own form. No board is lost.
func TestMaterialListAlike(t *testing.T) {
	page := listed(t, laidInches)
	alike := 0
	for _, s := range page.Stocks {
		var drawn []string
		n := 0
		for _, p := range s.Patterns {
			n += len(p.Boards)
			if len(p.Boards) == 1 {
				continue
			}
			alike++
			if slices.Contains(drawn, p.Drawing.Sheet.Alt) {
				t.Errorf("%s: %q is drawn twice", s.Name, p.Drawing.Sheet.Alt)
			}
			drawn = append(drawn, p.Drawing.Sheet.Alt)
			for _, b := range p.Boards {
				if b.Row.Label == "" || pieces(b.Row.Note) != len(b.Form.Pieces) || strings.Contains(p.Drawing.Sheet.Alt, "R1-") {
					t.Errorf("%s: %s of %d pieces has %q beside %q", s.Name, b.Row.Label, len(b.Form.Pieces), b.Row.Note, p.Drawing.Sheet.Alt)
				}
			}
		}
		if want, _, _ := strings.Cut(s.Why, " board"); want != fmt.Sprint(n) {
			t.Errorf("%s: %d boards stand below %q", s.Name, n, s.Why)
		}
	}
	if alike == 0 {
		t.Error("no boards are alike: the test shows nothing")
	}
}

// Pieces are folded away by run but those of the run, or beside the piece, that was come from.
func TestMaterialListUnfolded(t *testing.T) {
	rec := laid(t, laidInches)
	run := runOf(t, rec, "R2").ID
	for at, want := range map[string]string{"": "", run: "R2", run + "/B1 top": "R2"} {
		page := must[views.MaterialListPage](t)(views.NewMaterialList(materialFrame(t, rec), rec, views.Form{ID: "form1"}, true, at))
		open := map[string]int{}
		folded := 0
		for _, g := range page.Pieces {
			for _, part := range g.Parts {
				if part.Open {
					open[part.Run]++
				} else {
					folded++
				}
			}
		}
		if folded == 0 || want == "" && len(open) > 0 || want != "" && (len(open) != 1 || open[want] == 0) {
			t.Errorf("come from %q: %v are unfolded and %d parts folded, want only %q", at, open, folded, want)
		}
	}
}
