package codes_test

import (
	"math"
	"strings"
	"testing"

	"newelbook/checklist/codes"
)

func TestSpecies(t *testing.T) {
	for _, tt := range []struct {
		key                string
		g                  float64
		radial, tangential float64
		standing           codes.Standing
		cedar              bool
	}{
		{"western-redcedar", 0.36, 2.4, 5.0, codes.OfficialText, true},
		{"northern-white-cedar", 0.31, 2.2, 4.9, codes.OfficialText, true},
		{"alaska-cedar", 0.47, 2.8, 6.0, codes.OfficialText, true},
		{"douglas-fir-larch", 0.50, 4.8, 7.6, codes.OfficialText, false},
		{"douglas-fir-larch-north", 0.49, 3.8, 6.9, codes.OfficialText, false},
		{"southern-pine", 0.55, 4.8, 7.4, codes.Memory, false},
		{"redwood", 0.37, 2.2, 4.9, codes.Memory, false},
		{"hem-fir", 0.43, 4.2, 7.8, codes.Memory, false},
		{"spruce-pine-fir", 0.42, 4.7, 8.2, codes.Memory, false},
		{"white-oak", 0.73, 0, 0, "", false},
		{"ponderosa-pine", 0.43, 0, 0, "", false},
	} {
		s, ok := codes.SpeciesByKey(tt.key)
		if !ok || s.G != tt.g || s.CedarFamily != tt.cedar {
			t.Errorf("%s = G %v, cedar family %t, want %v, %t", tt.key, s.G, s.CedarFamily, tt.g, tt.cedar)
		}
		if s.Shrinkage.Radial != tt.radial || s.Shrinkage.Tangential != tt.tangential || s.Shrinkage.Standing != tt.standing {
			t.Errorf("%s shrinks %+v, want %v, %v, %q", tt.key, s.Shrinkage, tt.radial, tt.tangential, tt.standing)
		}
	}
	for _, key := range []string{"", "teak"} {
		if s, ok := codes.SpeciesByKey(key); ok || s != (codes.Species{}) {
			t.Errorf("SpeciesByKey(%q) = %+v, want none", key, s)
		}
	}
}

func TestEverySpeciesNamesItsSource(t *testing.T) {
	list := codes.AllSpecies()
	if len(list) < 20 {
		t.Fatalf("%d species, want all combinations of the table", len(list))
	}
	for i, s := range list {
		if i > 0 && list[i-1].Key >= s.Key {
			t.Errorf("%s comes after %s", s.Key, list[i-1].Key)
		}
		if s.GSource != "NDS 2018 Table 12.3.3A" || s.GStanding != codes.SecondaryText || s.DurableStanding != codes.Memory {
			t.Errorf("%s: G from %q, %q; durable note %q", s.Key, s.GSource, s.GStanding, s.DurableStanding)
		}
		if s.CedarFamily != strings.Contains(strings.ToLower(s.Name), "cedar") {
			t.Errorf("%s: cedar family is %t", s.Name, s.CedarFamily)
		}
	}
}

func TestDensity(t *testing.T) {
	for _, tt := range []struct {
		g, moisture, want float64
	}{
		{0.50, 0, 500},
		{0.50, 12, 531.309},
		{0.36, 19, 403.557},
		{0.36, -5, 360},
		{0.36, 80, 426.540}, // taken as 30 %
	} {
		if got := (codes.Species{G: tt.g}).Density(tt.moisture); math.Abs(got-tt.want) > 0.001 {
			t.Errorf("Density of G %v at %v %% = %.3f, want %.3f", tt.g, tt.moisture, got, tt.want)
		}
	}
}

const soundSpecies = `[{"key": "sample-fir", "name": "Sample fir", "g": 0.4, "g_group": "Sample", "g_source": "invented",
  "g_standing": "memory", "shrinkage": {"radial": 3, "tangential": 6, "of": "Sample fir", "source": "invented", "standing": "memory"},
  "durable": "Unknown.", "durable_standing": "memory", "cedar_family": false, "note": ""}]`

func TestReadSpeciesDamaged(t *testing.T) {
	if list, err := codes.ReadSpecies(strings.NewReader(soundSpecies)); err != nil || len(list) != 1 {
		t.Fatalf("ReadSpecies = %v, %v", list, err)
	}
	for _, tt := range []struct{ name, old, new, want string }{
		{"no key", `"key": "sample-fir"`, `"key": ""`, `no key`},
		{"no name", `"name": "Sample fir"`, `"name": ""`, `no name`},
		{"no source", `"g_source": "invented"`, `"g_source": ""`, `no source of G`},
		{"heavier than any wood", `"g": 0.4`, `"g": 4`, `specific gravity 4 is no wood's`},
		{"radial over tangential", `"radial": 3`, `"radial": 7`, `shrinkage is 7 radial, 6 tangential`},
		{"shrinkage from nowhere", `"source": "invented"`, `"source": ""`, `shrinkage without its wood or source`},
		{"no standing", `"standing": "memory"}`, `"standing": ""}`, `standing is ""`},
		{"practice", `"g_standing": "memory"`, `"g_standing": "common practice, no source"`, `standing is "common practice, no source"`},
		{"no note on decay", `"Unknown."`, `""`, `no durable note`},
	} {
		damaged := strings.Replace(soundSpecies, tt.old, tt.new, 1)
		list, err := codes.ReadSpecies(strings.NewReader(damaged))
		if damaged == soundSpecies || err == nil || list != nil {
			t.Errorf("%s: ReadSpecies = %v, %v, want an error", tt.name, list, err)
			continue
		}
		if _, finding, _ := strings.Cut(err.Error(), `": `); finding != tt.want {
			t.Errorf("%s: finding %q, want %q", tt.name, finding, tt.want)
		}
	}
	twice := strings.Replace(soundSpecies, `}]`, `}, `+strings.Trim(soundSpecies, "[]")+`]`, 1)
	if _, err := codes.ReadSpecies(strings.NewReader(twice)); err == nil || !strings.Contains(err.Error(), "written twice") {
		t.Errorf("ReadSpecies of one species twice = %v", err)
	}
	if _, err := codes.ReadSpecies(strings.NewReader(`{}`)); err == nil {
		t.Error("ReadSpecies of an object gives no error")
	}
}
