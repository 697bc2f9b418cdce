package materials_test

import (
	"bytes"
	"encoding/csv"
	"flag"
	"fmt"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/checklist/materials"
)

var update = flag.Bool("update", false, "write the golden file anew")

// listOf lays out a job description and makes its list. Everything in it is invented.
func listOf(t testing.TB, description string) ([]materials.Run, materials.List) {
	t.Helper()
	job, faults := layout.ReadJob(strings.NewReader(description))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	layouts, err := layout.ComputeJob(job)
	if err != nil {
		t.Fatal(err)
	}
	runs := materials.Runs(job, layouts)
	return runs, materials.Make(runs, materials.Site{}, job.Units.Style())
}

func TestGolden(t *testing.T) {
	demo, err := os.ReadFile("../../cmd/newelbook/demo/job.json")
	if err != nil {
		t.Fatal(err)
	}
	_, list := listOf(t, string(demo))
	var got bytes.Buffer
	if err := materials.WriteText(&got, list, length.InchFraction); err != nil {
		t.Fatal(err)
	}
	const path = "testdata/demo.golden"
	if *update {
		if err := os.WriteFile(path, got.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("read golden file (write it with -update): %v", err)
	}
	if !bytes.Equal(got.Bytes(), want) {
		t.Errorf("the list of the demonstration job differs from %s:\n%s", path, got.Bytes())
	}
}

// TestEveryPieceOnce: every piece of every layout is on exactly one board, in what is not planned with a reason, or among
// what is bought by count; and each board holds what it says it holds.
func TestEveryPieceOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		run := rapid.IntRange(40, 700).Draw(t, "length in inches")
		stair := rapid.IntRange(20, 90).Draw(t, "total rise in inches")
		stock := rapid.SampledFrom([]string{"8'", "8', 12'", "96, 120, 144, 192", "40", "14"}).Draw(t, "stock")
		description := fmt.Sprintf(`{"units": "in", "rules": "irc-2018",
			"spec": {"connector_top": "1/4", "connector_bottom": "1/4", "stock_lengths": %q, "kerf": %q, "rail_orientation": %q, "posts_at_cap": %q, "post_mount": %q},
			"runs": [{"label": "R1", "length": %d, "start": "wall", "end": "corner", "deck_height": 40, "first_joist": 8},
				{"label": "R2", "length": %d, "start": "corner", "start_at": "R1", "turn": 90, "end": "stair head", "deck_height": 40, "joists": "along", "overrides": {"kerf": "3/32"}},
				{"label": "R3", "kind": "rake", "start": "stair head", "start_at": "R2", "end": "stair foot", "total_rise": %d, "tread": 10}]}`,
			stock, rapid.SampledFrom([]string{"0", "1/8"}).Draw(t, "kerf"), rapid.SampledFrom([]string{"on edge", "flat"}).Draw(t, "orientation"),
			rapid.SampledFrom([]string{"under", "through"}).Draw(t, "posts"), rapid.SampledFrom([]string{"bolted", "sleeve", "base"}).Draw(t, "mount"), run, run/2+40, stair)
		job, faults := layout.ReadJob(strings.NewReader(description))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		layouts, err := layout.ComputeJob(job)
		if err != nil {
			t.Fatal(err)
		}
		list := materials.Make(materials.Runs(job, layouts), materials.Site{}, length.InchFraction)
		every(t, layouts, list)
		for _, s := range list.Stocks {
			for _, b := range s.Boards {
				holds(t, s, b)
			}
		}
		boards := 0
		for _, o := range list.Orders {
			boards += o.Count
		}
		for _, s := range list.Stocks {
			boards -= len(s.Boards)
		}
		if boards != 0 {
			t.Errorf("the order has %d boards more than the plan", boards)
		}
	})
}

// every compares the pieces of the layouts with those of the list.
func every(t rapid.TB, layouts []layout.Layout, list materials.List) {
	type piece struct {
		label  string
		length length.Length
	}
	wood, counted := map[piece]int{}, map[string]int{}
	for _, l := range layouts {
		for _, p := range l.Pieces {
			switch p.What {
			case "post", "blocking", "top rail", "bottom rail", "cap rail":
				wood[piece{p.Label, p.Length}] += p.Count
			case "baluster", "wood sleeve wall", "steel sleeve":
				counted[p.What] += p.Count
			default:
				t.Fatalf("the layout has a piece of a kind this test does not know: %s", p.What)
			}
		}
	}
	for _, s := range list.Stocks {
		for _, b := range s.Boards {
			for _, c := range b.Cuts {
				wood[piece{c.Label, c.Length}]--
			}
		}
		for _, u := range s.Unplaced {
			wood[piece{u.Label, u.Length}] -= u.Count
			if !strings.HasSuffix(u.Reason, ".") {
				t.Errorf("%s is not planned, and the reason is %q", u.Label, u.Reason)
			}
		}
	}
	for _, c := range list.Counted {
		counted[c.What] -= c.Count
	}
	for p, n := range wood {
		if n != 0 {
			t.Errorf("%s of %v: %d times too few in the plan", p.label, p.length, n)
		}
	}
	for what, n := range counted {
		if n != 0 {
			t.Errorf("%s: %d too few counted", what, n)
		}
	}
}

// holds says that a board of the section has its cuts a kerf apart between its trims, and its waste adds up.
func holds(t rapid.TB, s materials.Stock, b materials.Board) {
	at, pieces := s.EndTrim, length.Length(0)
	for _, c := range b.Cuts {
		if c.From != at || c.Takes < c.Length {
			t.Errorf("%s begins at %v and takes %v of %v, want it at %v", c.Label, c.From, c.Takes, c.Length, at)
		}
		at, pieces = at+c.Takes+s.Kerf, pieces+c.Length
	}
	if at-s.Kerf > b.Length-s.EndTrim || b.Waste != b.Length-pieces {
		t.Errorf("board %d of %v is cut to %v, with %v of waste for %v of pieces", b.Number, b.Length, at-s.Kerf, b.Waste, pieces)
	}
	if !slices.Contains(s.Lengths, b.Length) {
		t.Errorf("board %d of %v is of no stock length", b.Number, b.Length)
	}
}

const twoRuns = `{"units": "in", "rules": "irc-2018",
	"spec": {"connector_top": "1/4", "connector_bottom": "1/4", "connector_name": "invented shoe", "stock_lengths": "8', 12'", "hold_down": "an invented hold-down", "rail_orientation": "on edge"},
	"runs": [{"label": "R1", "length": "12'", "end": "corner", "deck_height": 40, "joists": "across"},
		{"label": "R2", "kind": "rake", "start": "stair head", "start_at": "R1", "end": "stair foot", "total_rise": 36, "risers": 5, "tread": "9.6", "deck_height": 40, "overrides": {"rail_orientation": "flat"}}]}`

// Two bays of 72 in and a stair: three posts of R1, one of R2, whose first is R1's last. Of R1 the middle one stands between joists at 64 and 80 in, so
// that its bolts go through 3 in of blocking; the others clash with a joist.
func TestHardware(t *testing.T) {
	runs, list := listOf(t, twoRuns)
	if len(runs[0].Layout.Bays) != 2 || len(runs[1].Layout.Bays) != 1 {
		t.Fatalf("%d and %d bays, want 2 and 1", len(runs[0].Layout.Bays), len(runs[1].Layout.Bays))
	}
	balusters := func(r materials.Run) (n int) {
		for _, b := range r.Layout.Bays {
			n += b.Used().Infill.Count
		}
		return n
	}
	want := map[string]int{`1/2" through-bolt, 6" or longer`: 6, `1/2" through-bolt, 9" or longer`: 2, "Hold-down": 4, "Connector, level rail": 8, "Connector, raked rail": 4,
		"Shoe, level rail": 2 * balusters(runs[0]), "Shoe, raked rail": 2 * balusters(runs[1])}
	got := map[string]int{}
	for _, h := range list.Hardware {
		if !h.Known {
			if h.Count != 0 || h.Source != "" || !strings.HasPrefix(h.Note, "Not counted. ") {
				t.Errorf("%s is not known, yet has %d from %q: %s", h.What, h.Count, h.Source, h.Note)
			}
			continue
		}
		if h.Source == "" || h.Note == "" {
			t.Errorf("%s has no source or note", h.What)
		}
		got[h.What] += h.Count
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("counted %v, want %v", got, want)
	}
}

// A rake of 3 in 4: a rail of 1 1/2 in lying flat takes 1 1/8 in more than its cut length; on edge 3 1/2 in takes 2 5/8 in.
func TestSlantedEnds(t *testing.T) {
	for _, tt := range []struct {
		stands string
		want   length.Length
	}{{"flat", length.Inch + length.Inch/8}, {"on edge", 2*length.Inch + 5*length.Inch/8}} {
		_, list := listOf(t, strings.ReplaceAll(twoRuns, `"rail_orientation": "flat"`, fmt.Sprintf(`"rail_orientation": %q`, tt.stands)))
		seen := 0
		for _, s := range list.Stocks {
			for _, p := range s.Pieces {
				over := length.Length(0)
				switch {
				case strings.HasPrefix(p.Piece.Label, "R2") && strings.HasSuffix(p.Piece.What, "rail") && p.Piece.What != "cap rail":
					over, seen = tt.want, seen+1
				case strings.HasPrefix(p.Piece.Label, "R2") && p.Piece.What == "cap rail":
					continue
				}
				if p.Takes-p.Piece.Length != over {
					t.Errorf("%s, %s: takes %v more than its cut, want %v", tt.stands, p.Piece.Label, p.Takes-p.Piece.Length, over)
				}
			}
		}
		if seen != 2 {
			t.Errorf("%d raked rails, want 2", seen)
		}
	}
}

// A rail that lies flat comes out of the same boards as one on edge; a run with a kerf of its own does not.
func TestSections(t *testing.T) {
	rails := func(description string) (sections []string) {
		_, list := listOf(t, description)
		for _, s := range list.Stocks {
			if s.Pieces[0].Piece.What == "top rail" {
				sections = append(sections, strings.Join(s.Runs, " "))
			}
		}
		return sections
	}
	if got := rails(twoRuns); !slices.Equal(got, []string{"R1 R2"}) {
		t.Errorf("rails are cut from sections for %q, want one for both runs", got)
	}
	if got := rails(strings.ReplaceAll(twoRuns, `"overrides": {`, `"overrides": {"kerf": "1/4", `)); !slices.Equal(got, []string{"R1", "R2"}) {
		t.Errorf("rails are cut from sections for %q, want one for each run", got)
	}
}

// A rail longer than the longest board is not planned, and says why; it stands in the order all the same, in words, table and text.
func TestLongerThanStock(t *testing.T) {
	_, list := listOf(t, strings.ReplaceAll(twoRuns, `"8', 12'"`, `"60"`))
	i := slices.IndexFunc(list.Stocks, func(s materials.Stock) bool { return s.Pieces[0].Piece.What == "top rail" })
	if i < 0 || len(list.Stocks[i].Unplaced) != 4 {
		t.Fatalf("%d kinds of rail not planned, want the 4 of R1", len(list.Stocks[i].Unplaced))
	}
	if got := list.Stocks[i].Unplaced[0].Reason; !strings.Contains(got, `the longest stock is 60" and gives 59"`) {
		t.Errorf("the reason is %q", got)
	}
	// Two bays of 72 in between posts of 3 1/2 in, 1/4 in off each end: 68 in, top and bottom in each.
	j := slices.IndexFunc(list.Beyond, func(b materials.Beyond) bool { return slices.Contains(b.Labels, "R1-B1 top") })
	if j < 0 {
		t.Fatalf("the order says nothing of the rails: %+v", list.Beyond)
	}
	if b := list.Beyond[j]; b.Count != 4 || b.Takes != 68*length.Inch || b.Words() != "Longer than any stock length: R1-B1 top, R1-B1 bottom, R1-B2 top, R1-B2 bottom. Order a longer board, or divide the length." {
		t.Errorf("the order says %+v: %s", b, b.Words())
	}
	var text, table bytes.Buffer
	if err := materials.WriteText(&text, list, length.InchFraction); err != nil {
		t.Fatal(err)
	}
	if err := materials.WriteCSV(&table, list, length.InchFraction); err != nil {
		t.Fatal(err)
	}
	before, _, _ := strings.Cut(text.String(), "\n  By count")
	if !strings.Contains(before, `4 pieces of 2x4 (1 1/2" by 3 1/2") at 68". Longer than any stock length`) {
		t.Errorf("the order says nothing of the rails:\n%s", before)
	}
	rows, err := csv.NewReader(&table).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(rows, func(r []string) bool {
		return r[1] == "in no board" && r[5] == "68" && r[8] == "4" && strings.HasPrefix(r[9], "Longer than any stock length")
	}) {
		t.Errorf("the table has no row of the rails: %q", rows)
	}
}

// A foot post on a pad stands on a base, those on treads on a base or a hold-down each, one in a footing on neither; a flight's other posts are
// bolted. Nothing is counted of posts that stand there already.
func TestBasesOfAFlight(t *testing.T) {
	for _, tt := range []struct {
		name, fields string
		want         map[string]int
	}{
		{"foot on a pad", `"foot_on": "pad", "posts_on": "stringer"`, map[string]int{"Post base": 1, "Post base, or hold-down through to blocking, on a tread": 0}},
		{"on treads", `"foot_on": "pad", "posts_on": "treads"`, map[string]int{"Post base": 1, "Post base, or hold-down through to blocking, on a tread": 2}},
		{"foot in a footing", `"foot_on": "footing", "foot_below": 24`, map[string]int{"Post base": 0}},
		{"there already", `"foot_on": "pad", "posts_are": "existing"`, map[string]int{"Post base": 0}},
		{"all on bases", `"foot_on": "pad", "overrides": {"post_mount": "base"}`, map[string]int{"Post base": 3}},
	} {
		_, list := listOf(t, fmt.Sprintf(`{"units": "in", "rules": "irc-2018", "spec": {"connector_top": "1/4", "connector_bottom": "1/4"},
			"runs": [{"label": "R1", "kind": "rake", "start": "stair foot", "end": "free", "total_rise": 84, "risers": 12, "tread": 10, "length": 110, "posts": [0, 50, 110], "nosing_from": 6, "deck_height": 84, %s}]}`, tt.fields))
		for what, want := range tt.want {
			got := 0
			for _, h := range list.Hardware {
				if h.What == what {
					got += h.Count
				}
			}
			if got != want {
				t.Errorf("%s: %d of %q, want %d: %+v", tt.name, got, what, want, list.Hardware)
			}
		}
	}
}

// The boards of a wood sleeve for a post of 3 1/2 in with 1/8 in of clearance and walls of 1 1/2 in: two as wide as the inside, 3 5/8 in, and two
// that lap over their edges, 6 5/8 in, as high as joist and decking.
func TestWoodSleeveBoards(t *testing.T) {
	_, list := listOf(t, `{"units": "in", "rules": "irc-2018", "spec": {"connector_top": "1/4", "connector_bottom": "1/4", "post_mount": "sleeve"},
		"runs": [{"label": "R1", "length": 60, "deck_height": 40}]}`)
	want := map[string]int{`1 1/2" by 3 5/8"`: 4, `1 1/2" by 6 5/8"`: 4}
	for _, c := range list.Counted {
		if c.What == "wood sleeve wall" {
			if c.Count != want[c.Section] || c.Length != 10*length.Inch+length.Inch/4 {
				t.Errorf("%d of %s, %v long, want %d of 10 1/4 in", c.Count, c.Section, c.Length, want[c.Section])
			}
			delete(want, c.Section)
		}
	}
	if len(want) != 0 {
		t.Errorf("not listed: %v", want)
	}
}

func TestNothing(t *testing.T) {
	list := materials.Make(nil, materials.Site{}, length.InchFraction)
	var b bytes.Buffer
	if err := materials.WriteText(&b, list, length.InchFraction); err != nil {
		t.Fatal(err)
	}
	if len(list.Orders) != 0 || len(list.Hardware) != 0 || !strings.Contains(b.String(), "nothing to order") {
		t.Errorf("the list of no run is %+v, in words %q", list, b.String())
	}
}

// A bay that could not be laid out is named, and its connectors are not counted.
func TestNotLaidOut(t *testing.T) {
	_, list := listOf(t, strings.ReplaceAll(twoRuns, `"joists": "across"`, `"joists": "across", "posts": [0, 3.6, 144]`))
	if len(list.Missing) == 0 || !strings.HasPrefix(list.Missing[0], "R1-B1 is not laid out: ") {
		t.Errorf("missing is %q", list.Missing)
	}
}
