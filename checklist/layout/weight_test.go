package layout_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// carry is the field that holds a weight.
func carry(t testing.TB) layout.Field {
	t.Helper()
	for _, f := range layout.SpecFields() {
		if f.Key == "carry_alone" {
			return f
		}
	}
	t.Fatal("there is no field carry_alone")
	return layout.Field{}
}

// A pound is 453.59237 g (International Yard and Pound Agreement, 1959).
func TestWeightField(t *testing.T) {
	f := carry(t)
	for _, tt := range []struct {
		typed string
		unit  length.Unit
		want  layout.Weight
		inch  string // as shown in a job in inches
	}{
		{"45", length.Inches, 20_411_656_650, "45 lb"},
		{"20", length.Millimetres, 20_000_000_000, "20 kg"},
		{"45 lb", length.Millimetres, 20_411_656_650, "45 lb"},
		{"45lbs", length.Inches, 20_411_656_650, "45 lb"},
		{"22.5 KG", length.Inches, 22_500_000_000, "22.5 kg"},
		{"", length.Inches, 0, ""},
	} {
		var s layout.Spec
		if err := f.Set(&s, tt.typed, tt.unit); err != nil {
			t.Errorf("%q: %v", tt.typed, err)
			continue
		}
		if got := f.Text(&s, length.InchFraction); s.CarryAlone != tt.want || got != tt.inch {
			t.Errorf("%q in %s = %d µg, shown %q, want %d and %q", tt.typed, tt.unit, s.CarryAlone, got, tt.want, tt.inch)
		}
	}
	for _, typed := range []string{"heavy", "-3", "0", "0 lb", "1e3", "0x20", "Inf", "nan", "1001 kg", "45 stone", "lb", "4 5"} {
		s := layout.Spec{CarryAlone: 7}
		if err := f.Set(&s, typed, length.Inches); err == nil || !strings.HasSuffix(err.Error(), ".") || s.CarryAlone != 7 {
			t.Errorf("%q is read as %d µg, %v", typed, s.CarryAlone, err)
		}
	}
}

func TestWeightReadsBack(t *testing.T) {
	f := carry(t)
	rapid.Check(t, func(t *rapid.T) {
		was := layout.Spec{CarryAlone: layout.Weight(rapid.Int64Range(1, 1_000_000_000_000).Draw(t, "micrograms"))}
		text := f.Text(&was, rapid.SampledFrom([]length.Style{length.InchFraction, length.Metric}).Draw(t, "style"))
		var back layout.Spec
		if err := f.Set(&back, text, rapid.SampledFrom([]length.Unit{length.Inches, length.Millimetres}).Draw(t, "unit")); err != nil || back.CarryAlone != was.CarryAlone {
			t.Errorf("%d µg is shown as %q and read as %d, %v", was.CarryAlone, text, back.CarryAlone, err)
		}
	})
}

// What is the job's alone is refused in a run, as typed in a form and as read from a description.
func TestJobFieldsAreNoOverrides(t *testing.T) {
	for _, f := range layout.SpecFields() {
		if !f.Job {
			continue
		}
		spec := layout.DefaultSpec(length.Inches)
		got, faults := spec.With([]layout.Override{{Key: f.Key, Text: "5"}}, length.Inches)
		if len(faults) != 1 || !strings.Contains(faults[0].Message, "set for the whole job") || got.CarryAlone != 0 || got.SpareBoards != 0 {
			t.Errorf("%s in a run gives %+v", f.Key, faults)
		}
		_, read := layout.ReadJob(strings.NewReader(`{"units": "in", "rules": "irc-2018", "runs": [{"label": "R1", "length": 100, "overrides": {"` + f.Key + `": "5"}}]}`))
		if len(read) != 1 || !strings.Contains(read[0].Message, "set for the whole job") {
			t.Errorf("%s in a run of a description gives %+v", f.Key, read)
		}
	}
}

// A piece keeps its id when its run is labelled anew or made longer, and no two pieces of a job share one.
func TestPieceIDs(t *testing.T) {
	const description = `{"units": "in", "rules": "irc-2018", "spec": {"connector_top": "1/4", "connector_bottom": "1/4", "post_mount": "sleeve"},
		"runs": [{"id": "k7d2", "label": "R1", "length": 150, "end": "corner", "deck_height": 40, "first_joist": 8},
			{"id": "m3x9", "label": "R2", "length": 90, "start": "corner", "start_at": "R1", "turn": 90, "deck_height": 40, "first_joist": 8}]}`
	ids := func(text string) map[string]string {
		job, faults := layout.ReadJob(strings.NewReader(text))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		layouts, err := layout.ComputeJob(job)
		if err != nil {
			t.Fatal(err)
		}
		out := map[string]string{}
		for _, l := range layouts {
			for _, p := range l.Pieces {
				id := l.PieceID(p)
				if other, ok := out[id]; ok {
					t.Errorf("%s is the id of %s and of %s", id, p.Label, other)
				}
				out[id] = p.Label
			}
		}
		return out
	}
	was := ids(description)
	for id, want := range map[string]string{"k7d2/P1": "R1-P1", "k7d2/P2 sleeve inner": "R1-P2 sleeve inner", "k7d2/P2 sleeve lapping": "R1-P2 sleeve lapping", "k7d2/B1 top": "R1-B1 top", "m3x9/B1 balusters": "R2-B1 balusters", "k7d2/cap 1": "R1 cap 1"} {
		if was[id] != want {
			t.Errorf("%s is %q, want %q", id, was[id], want)
		}
	}
	now := ids(strings.NewReplacer(`"R1"`, `"West"`, "150", "152").Replace(description))
	for id := range was {
		if _, ok := now[id]; !ok {
			t.Errorf("%s is gone once its run is labelled and measured anew", id)
		}
	}
}
