package layout_test

import (
	"fmt"
	"maps"
	"strings"
	"testing"

	"newelbook/checklist/layout"
)

// TestDeckSide: the deck is where a run says, for all that are joined to it, or else where they turn to more; the frame at a corner follows: it
// ends at a corner that goes round the deck and goes on past one that leads into it (plane geometry).
func TestDeckSide(t *testing.T) {
	const z = `{"label": "R1", "start": "wall", "end": "corner", "length": 96, "joists": "across"%s},
		{"label": "R2", "start": "corner", "start_at": "R1", "turn": 90, "end": "corner", "length": 90, "joists": "along"%s},
		{"label": "R3", "start": "corner", "start_at": "R2", "turn": -90, "length": 60, "joists": "across"%s}`
	for _, tt := range []struct {
		name    string
		says    [3]string
		want    map[string]int
		ends    bool // the frame ends with R1
		note    string
		problem string
	}{
		{"nobody says", [3]string{}, map[string]int{"R1": 1, "R2": 1, "R3": 1}, true, "the right of R1, R2 and R3 (taken so", ""},
		{"the first says left", [3]string{"left"}, map[string]int{"R1": -1, "R2": -1, "R3": -1}, false, "the left of R1, R2 and R3 (as R1 says)", ""},
		{"the last says left", [3]string{2: "left"}, map[string]int{"R1": -1, "R2": -1, "R3": -1}, false, "the left of R1, R2 and R3 (as R3 says)", ""},
		{"the second says right", [3]string{1: "right"}, map[string]int{"R1": 1, "R2": 1, "R3": 1}, true, "the right of R1, R2 and R3 (as R2 says)", ""},
		{"two say otherwise", [3]string{"right", "", "left"}, map[string]int{"R1": 1, "R2": 1, "R3": 1}, true, "as R1 says", "R3 has the deck on its left, and by the side of R1, which it is joined to, it would be on its right"},
	} {
		var fields [3]any
		for i, side := range tt.says {
			if fields[i] = ""; side != "" {
				fields[i] = fmt.Sprintf(`, "deck_side": %q`, side)
			}
		}
		job, faults := layout.ReadJob(strings.NewReader(fmt.Sprintf(`{"units": "in", "rules": "irc-2018", "spec": {"joist_depth": "9 1/4", "joist_width": "1 1/2", "joist_spacing": 16}, "runs": [`+z+`]}`, fields[:]...)))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		layouts, err := layout.ComputeJob(job)
		if err != nil {
			t.Fatal(err)
		}
		if got := layout.DeckSides(job.Runs); !maps.Equal(got, tt.want) {
			t.Errorf("%s: sides %v, want %v", tt.name, got, tt.want)
		}
		if f := layouts[0].Frame; f == nil || (f.End != nil) != tt.ends {
			t.Errorf("%s: frame %+v, ends = %v", tt.name, f, tt.ends)
		}
		plan := layout.NewPlan(job.Runs, layouts, job.Spec, job.Units)
		if notes := strings.Join(plan.Notes, "\n"); !strings.Contains(notes, tt.note) {
			t.Errorf("%s: notes %q", tt.name, notes)
		}
		var problems string
		for _, p := range plan.Problems {
			problems += p.Sentence
		}
		if !strings.Contains(problems, tt.problem) || (tt.problem == "") != (problems == "") {
			t.Errorf("%s: problems %q", tt.name, problems)
		}
	}
}

// TestDeckSideOffAFirstPost: of two runs that go off from one post the deck is on the right of the one and the left of the other, and so it stays along
// what goes on from each (plane geometry).
func TestDeckSideOffAFirstPost(t *testing.T) {
	const r1 = `{"label": "R1", "start": "corner", "length": 96%s}, {"label": "R2", "start_at": "R1", "join": "first post", "turn": %d, "length": 60%s}`
	for _, tt := range []struct {
		name          string
		first, second string
		turn          int
		more          string
		want          map[string]int
		note, problem string
	}{
		{"to the right", "", "", 90, "", map[string]int{"R1": 1, "R2": -1}, "on the right of R1 and on the left of R2 (taken from the turns", ""},
		{"to the left", "", "", -90, "", map[string]int{"R1": -1, "R2": 1}, "on the left of R1 and on the right of R2 (taken from the turns", ""},
		{"said of the second", "", `, "deck_side": "right"`, 90, "", map[string]int{"R1": -1, "R2": 1}, "on the left of R1 and on the right of R2 (as R2 says)", ""},
		{"said of both", `, "deck_side": "right"`, `, "deck_side": "left"`, 90, "", map[string]int{"R1": 1, "R2": -1}, "on the right of R1 and on the left of R2 (as R1 says)", ""},
		{"said otherwise", `, "deck_side": "right"`, `, "deck_side": "right"`, 90, "", map[string]int{"R1": 1, "R2": -1}, "(as R1 says)", "R2 has the deck on its right, and by the side of R1, which it is joined to, it would be on its left"},
		{"runs go on", "", "", 90, `, {"label": "R3", "start_at": "R2", "turn": -90, "length": 60}, {"label": "R4", "start_at": "R1", "turn": 90, "length": 60}`, map[string]int{"R1": 1, "R2": -1, "R3": -1, "R4": 1}, "on the right of R1 and R4 and on the left of R2 and R3 (taken", ""},
	} {
		plan, layouts := planned(t, fmt.Sprintf(r1, tt.first, tt.turn, tt.second)+tt.more)
		got := map[string]int{}
		for _, l := range layouts {
			got[l.Label] = l.DeckOn
		}
		if !maps.Equal(got, tt.want) {
			t.Errorf("%s: sides %v, want %v", tt.name, got, tt.want)
		}
		if notes := strings.Join(plan.Notes, "\n"); !strings.Contains(notes, tt.note) {
			t.Errorf("%s: notes %q", tt.name, notes)
		}
		var problems string
		for _, p := range plan.Problems {
			problems += p.Sentence
		}
		if !strings.Contains(problems, tt.problem) || (tt.problem == "") != (problems == "") {
			t.Errorf("%s: problems %q", tt.name, problems)
		}
	}
}

// TestDeckSideByFlights: where no level runs turn, the deck is on the side of a run that a flight does not go off on, and beyond a flight's head (plane
// geometry); turns of level runs, and what is said, go before that.
func TestDeckSideByFlights(t *testing.T) {
	const level = `{"label": "R1", "length": 96, "end": "stair head"%s}, `
	const flight = `{"label": "R2", "kind": "rake", "start": "stair head", "start_at": "R1", "end": "stair foot", "risers": 5, "total_rise": 36, "tread": 10`
	const up = `{"label": "R1", "kind": "rake", "start": "stair foot", "end": "stair head", "risers": 5, "total_rise": 36, "tread": 10}, {"label": "R2", "start_at": "R1", "length": 96, "turn": `
	const down = `{"label": "R1", "kind": "rake", "start": "stair head", "end": "stair foot", "risers": 5, "total_rise": 36, "tread": 10}, {"label": "R2", "start_at": "R1", "join": "first post", "length": 96, "turn": `
	for _, tt := range []struct {
		name, runs string
		of         int
		want       int
		from       string
	}{
		{"a flight off to the right", fmt.Sprintf(level, "") + flight + `, "turn": 90}`, 0, -1, "on the left of R1 (taken from the way that a flight goes off"},
		{"to the left", fmt.Sprintf(level, "") + flight + `, "turn": -90}`, 0, 1, "on the right of R1 (taken from the way"},
		{"straight on", fmt.Sprintf(level, "") + flight + `, "turn": 0}`, 0, 1, "(taken so"},
		{"off the first post, to the right", fmt.Sprintf(level, "") + flight + `, "join": "first post", "turn": 90}`, 0, -1, "on the left of R1"},
		{"off the first post, to the left", fmt.Sprintf(level, "") + flight + `, "join": "first post", "turn": -90}`, 0, 1, "on the right of R1"},
		{"from a flight's head to the right", up + `90}`, 1, -1, "on the left of R2"},
		{"from a flight's head to the left", up + `-90}`, 1, 1, "on the right of R2"},
		// It goes down eastward; R2 goes off southward with the deck to the west, on its right.
		{"from the head of one that goes down, to the right", down + `90}`, 1, 1, "on the right of R2"},
		{"the same, to the left", down + `-90}`, 1, -1, "on the left of R2"},
		{"said otherwise", fmt.Sprintf(level, `, "deck_side": "right"`) + flight + `, "turn": 90}`, 0, 1, "on the right of R1 (as R1 says)"},
		{"level runs turn", fmt.Sprintf(level, "") + flight + `, "turn": 90}, {"label": "R3", "start_at": "R1", "join": "first post", "turn": 90, "length": 96}`, 0, 1, "(taken from the turns"},
	} {
		plan, layouts := planned(t, tt.runs)
		if got := layouts[tt.of].DeckOn; got != tt.want {
			t.Errorf("%s: side %d, want %d", tt.name, got, tt.want)
		}
		if notes := strings.Join(plan.Notes, "\n"); !strings.Contains(notes, tt.from) {
			t.Errorf("%s: notes %q", tt.name, notes)
		}
	}
}
