package materials_test

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/checklist/materials"
)

// rails is the section of the rails in a list.
func rails(t testing.TB, list materials.List) materials.Stock {
	t.Helper()
	for _, s := range list.Stocks {
		if s.Pieces[0].Piece.What == "top rail" {
			return s
		}
	}
	t.Fatal("no rails in the list")
	return materials.Stock{}
}

// What is cut needs no board, and of a piece that is there several times only those that are cut are left out.
func TestCutIsLeftOut(t *testing.T) {
	runs, whole := listOf(t, twoRuns)
	rapid.Check(t, func(t *rapid.T) {
		site := materials.Site{Cut: map[string]int{}}
		left := map[string]int{}
		for _, r := range runs {
			for _, p := range r.Layout.Pieces {
				id := r.Layout.PieceID(p)
				site.Cut[id] = rapid.IntRange(0, p.Count+1).Draw(t, id)
				left[id] = max(0, p.Count-site.Cut[id])
			}
		}
		list := materials.Make(runs, site, length.InchFraction)
		planned := map[string]int{}
		for _, s := range list.Stocks {
			for _, b := range s.Boards {
				holds(t, s, b)
				for _, c := range b.Cuts {
					planned[c.ID]++
				}
			}
			for _, m := range s.Pieces {
				if planned[m.ID] != left[m.ID] {
					t.Errorf("%s: %d planned, %d are not cut", m.ID, planned[m.ID], left[m.ID])
				}
			}
		}
		for i, c := range list.Counted {
			if c.Count+c.Cut != whole.Counted[i].Count {
				t.Errorf("%s: %d and %d cut, want %d together", c.What, c.Count, c.Cut, whole.Counted[i].Count)
			}
			if bought := slices.ContainsFunc(list.ToBuy(), func(b materials.Counted) bool {
				return b.What == c.What && b.Length == c.Length && b.Section == c.Section
			}); bought != (c.Count > 0) {
				t.Errorf("%s: %d are left and that it is bought is %t", c.What, c.Count, bought)
			}
		}
	})
}

// Boards on hand are used before any is bought, those of another section or wood not at all.
func TestOnHand(t *testing.T) {
	runs, whole := listOf(t, twoRuns)
	s := rails(t, whole)
	site := materials.Site{OnHand: []materials.OnHand{
		{ID: "a", Section: s.Section, Species: s.Species, Length: 80 * length.Inch, Count: 2},
		{ID: "b", Section: s.Section, Species: "some other wood", Length: 144 * length.Inch, Count: 9},
		{ID: "c", Section: "another section", Species: s.Species, Length: 144 * length.Inch, Count: 9},
		{ID: "d", Section: s.Section, Species: s.Species, Length: 20 * length.Inch, Count: 3},
	}}
	got := rails(t, materials.Make(runs, site, length.InchFraction))
	used := map[string]int{}
	for _, b := range got.Boards {
		holdsAny(t, got, b)
		if b.OnHand != "" {
			used[b.OnHand]++
		}
	}
	if len(used) != 1 || used["a"] != 2 || got.New >= s.New || got.New+2 != len(got.Boards) || !got.Fewest || got.Bound != got.New {
		t.Errorf("used %v, %d bought (bound %d) instead of %d: %s", used, got.New, got.Bound, s.New, got.Why)
	}
	if site.OnHand[0].Count != 2 {
		t.Error("Make changed what it was given")
	}
	unused := materials.Make(runs, site, length.InchFraction).Unused
	if len(unused) != 3 || unused[0].ID != "b" || unused[1].ID != "c" || unused[2].Count != 3 {
		t.Errorf("unused is %+v", unused)
	}
}

// holdsAny is holds for boards that need be of no stock length.
func holdsAny(t rapid.TB, s materials.Stock, b materials.Board) {
	s.Lengths = append(s.Lengths, b.Length)
	holds(t, s, b)
}

// An offcut runs to the end of its board; one shorter than a foot is not offered.
func TestRest(t *testing.T) {
	s := materials.Stock{EndTrim: length.Inch / 2}
	for left, want := range map[length.Length]length.Length{
		0: 0, 11 * length.Inch: 0, 12*length.Inch - length.Inch/2: 12 * length.Inch, 40 * length.Inch: 40*length.Inch + length.Inch/2,
	} {
		if got := s.Rest(materials.Board{Left: left}); got != want {
			t.Errorf("%v behind the last cut leaves %v, want %v", left, got, want)
		}
	}
}

// 5 % of 24 connectors is 1.2 and so 2; two boards more of the longest length of each section, once.
func TestSpares(t *testing.T) {
	runs, none := listOf(t, twoRuns)
	list := materials.Make(runs, materials.Site{Spares: materials.Spares{Boards: 2, Counted: 10, Hardware: 5}}, length.InchFraction)
	over := map[string]int{}
	for i, o := range list.Orders {
		if o.Count != none.Orders[i].Count || none.Orders[i].Spare != 0 {
			t.Errorf("%+v, without spares %+v", o, none.Orders[i])
		}
		over[o.Section+o.Species] += o.Spare
	}
	for section, n := range over {
		if n != 2 {
			t.Errorf("%d spare boards of %s, want 2", n, section)
		}
	}
	for _, h := range list.Hardware {
		if want := layout.Percent(h.Count, 5); h.Spare != want || h.Known && want == 0 {
			t.Errorf("%s: %d and %d over, want %d", h.What, h.Count, h.Spare, want)
		}
	}
	for _, c := range list.Counted {
		if c.Spare != layout.Percent(c.Count, 10) {
			t.Errorf("%s: %d and %d over", c.What, c.Count, c.Spare)
		}
	}
	if !strings.HasPrefix(none.Spares, "No spares are added") || !strings.Contains(list.Spares, "2 boards of each section") {
		t.Errorf("spares are told as %q and %q", none.Spares, list.Spares)
	}
	for _, tt := range [][3]int{{24, 5, 2}, {20, 5, 1}, {0, 5, 0}, {7, 0, 0}, {1, 200, 2}} {
		if got := layout.Percent(tt[0], tt[1]); got != tt[2] {
			t.Errorf("%d %% of %d is %d, want %d", tt[1], tt[0], got, tt[2])
		}
	}
}

// What the table says is what the list says, and nothing in it begins as a formula does.
func TestCSV(t *testing.T) {
	runs, _ := listOf(t, strings.ReplaceAll(twoRuns, "an invented hold-down", "=HYPERLINK(0)"))
	runs[0].Spec.PostNominal = "-4x4"
	list := materials.Make(runs, materials.Site{Spares: materials.Spares{Hardware: 10}}, length.InchFraction)
	list.Hardware[0].What = "+" + list.Hardware[0].What
	var b bytes.Buffer
	if err := materials.WriteCSV(&b, list, length.InchFraction); err != nil {
		t.Fatal(err)
	}
	if strings.Count(b.String(), "\n") != strings.Count(b.String(), "\r\n") {
		t.Error("a row does not end in CR LF")
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if want := 1 + len(list.Orders) + len(list.Counted) + len(list.Hardware) + 1 + len(list.Missing); len(rows) != want {
		t.Errorf("%d rows, want %d", len(rows), want)
	}
	if first := rows[1]; first[0] != "board" || first[4] != "12' 0\"" || first[5] != "144" || first[6] != first[8] {
		t.Errorf("the first board is %q", first)
	}
	for _, row := range rows {
		for _, f := range row {
			if strings.IndexAny(f, "=+-@") == 0 {
				t.Errorf("a field begins as a formula does: %q", f)
			}
		}
	}
}
