package codes_test

import (
	"os"
	"strings"
	"testing"

	"newelbook/checklist/codes"
)

const soundSet = `{
  "id": "sample", "name": "Sample", "place": "Nowhere", "edition": "1", "units": "in", "notes": ["invented"],
  "figures": [
    {"key": "opening.level", "title": "Opening", "kind": "length", "value": "4 in", "bound": "under",
     "clause": "1", "edition": "1", "standing": "memory", "note": ""},
    {"key": "load.guard_point", "title": "Load", "kind": "force", "value": "200 lb", "bound": "at least",
     "clause": "2", "edition": "1", "standing": "secondary text", "note": ""},
    {"key": "post.notch_4x4", "title": "Notch", "kind": "text", "value": "not at the connection", "bound": "",
     "clause": "3", "edition": "1", "standing": "official text", "note": ""}
  ]
}`

func TestReadRuleSet(t *testing.T) {
	set, err := codes.ReadRuleSet(strings.NewReader(soundSet))
	if err != nil {
		t.Fatal(err)
	}
	if set.ID != "sample" || len(set.Figures) != 3 || set.Figures[0].Key != codes.LoadGuardPoint {
		t.Errorf("ReadRuleSet = %+v", set)
	}
	if f, _ := set.Figure(codes.PostNotch4x4); f.Text != "not at the connection" || f.Kind != codes.KindText {
		t.Errorf("text figure = %+v", f)
	}
}

// Take the sound file, break one thing, expect exactly that finding.
func TestReadRuleSetDamaged(t *testing.T) {
	for _, tt := range []struct{ name, old, new, want string }{
		{"no id", `"id": "sample"`, `"id": ""`, "no id"},
		{"no name", `"name": "Sample"`, `"name": ""`, "no name"},
		{"no place", `"place": "Nowhere"`, `"place": ""`, "no place"},
		{"no edition", `"edition": "1", "units"`, `"edition": "", "units"`, "no edition"},
		{"other units", `"units": "in"`, `"units": "yd"`, `units are "yd", not in or mm`},
		{"no title", `"title": "Opening"`, `"title": ""`, `figure "opening.level": no title`},
		{"no clause", `"clause": "1"`, `"clause": ""`, `figure "opening.level": no clause`},
		{"figure without edition", `"clause": "2", "edition": "1"`, `"clause": "2", "edition": ""`, `figure "load.guard_point": no edition`},
		{"no standing", `"standing": "memory"`, `"standing": ""`, `figure "opening.level": standing is ""`},
		{"practice in a code", `"standing": "memory"`, `"standing": "common practice, no source"`,
			`figure "opening.level": standing "common practice, no source" is for reference figures only`},
		{"no bound", `"bound": "under"`, `"bound": ""`, `figure "opening.level": bound is ""`},
		{"strange bound", `"bound": "under"`, `"bound": "below"`, `figure "opening.level": bound is "below"`},
		{"bound on text", `"bound": ""`, `"bound": "under"`, `figure "post.notch_4x4": bound is "under"`},
		{"strange bound on text", `"bound": ""`, `"bound": "below"`, `figure "post.notch_4x4": bound is "below"`},
		{"misspelt key", `"key": "opening.level"`, `"key": "opening.levell"`, `figure "opening.levell": not a known key`},
		{"other kind than the key's", `"kind": "length", "value": "4 in"`, `"kind": "count", "value": "4"`,
			`figure "opening.level": kind is "count", not "length"`},
		{"value without its unit", `"value": "4 in"`, `"value": "4"`,
			`figure "opening.level": value of the wrong kind: parse length "4": no unit given`},
		{"force without its unit", `"value": "200 lb"`, `"value": "200"`, `figure "load.guard_point": value of the wrong kind: "200" is not counted in lb or kN`},
		{"no words", `"not at the connection"`, `" "`, `figure "post.notch_4x4": value of the wrong kind: no words`},
		{"written twice", `"load.guard_point", "title": "Load", "kind": "force", "value": "200 lb", "bound": "at least"`,
			`"opening.level", "title": "Again", "kind": "length", "value": "5 in", "bound": "under"`, `figure "opening.level": written twice`},
	} {
		damaged := strings.Replace(soundSet, tt.old, tt.new, 1)
		if damaged == soundSet {
			t.Errorf("%s: nothing was broken", tt.name)
			continue
		}
		set, err := codes.ReadRuleSet(strings.NewReader(damaged))
		if err == nil || set.ID != "" {
			t.Errorf("%s: ReadRuleSet = %+v, %v, want an error", tt.name, set, err)
			continue
		}
		if _, finding, _ := strings.Cut(err.Error(), `": `); finding != tt.want {
			t.Errorf("%s: finding %q, want %q", tt.name, finding, tt.want)
		}
	}
}

func TestReadRuleSetNotJSON(t *testing.T) {
	for _, text := range []string{
		``, `[]`, `{"id": 3}`, soundSet + `{}`, strings.Replace(soundSet, `"notes"`, `"remarks"`, 1),
		strings.Replace(soundSet, `"note"`, `"nota"`, 1),
	} {
		if set, err := codes.ReadRuleSet(strings.NewReader(text)); err == nil || set.ID != "" {
			t.Errorf("ReadRuleSet(%.40q…) = %+v, %v, want an error", text, set, err)
		}
	}
}

// Turning the strictness of any figure round in the data changes what the rule set answers at the exact limit.
func TestStrictnessIsInTheData(t *testing.T) {
	for _, tt := range []struct{ file, key, right, wrong string }{
		{"data/irc-2018.json", codes.OpeningLevel, `"under"`, `"at most"`},
		{"data/irc-2018.json", codes.GuardTriggerDrop, `"over"`, `"at least"`},
		{"data/ontario-9.8.json", codes.OpeningLevel, `"at most"`, `"under"`},
		{"data/ontario-9.8.json", codes.GuardHeightLevelLowDrop, `"at most"`, `"under"`},
		{"data/nbc-2020.json", codes.OpeningLevel, `"under"`, `"at most"`},
		{"data/new-zealand-f4-d1.json", codes.GuardTriggerDrop, `"at least"`, `"over"`},
		{"data/australia-ncc-2022.json", codes.GuardTriggerDrop, `"at least"`, `"over"`},
		{"data/ireland-k.json", codes.GuardTriggerDrop, `"over"`, `"at least"`},
		{"data/wisconsin-sps-325.json", codes.OpeningRope, `"at most"`, `"under"`},
	} {
		text, err := os.ReadFile(tt.file)
		if err != nil {
			t.Fatal(err)
		}
		at := strings.Index(string(text), `"key": "`+tt.key+`"`)
		if at < 0 {
			t.Errorf("%s has no %s", tt.file, tt.key)
			continue
		}
		turned := string(text[:at]) + strings.Replace(string(text[at:]), `"bound": `+tt.right, `"bound": `+tt.wrong, 1)
		right, err := codes.ReadRuleSet(strings.NewReader(string(text)))
		if err != nil {
			t.Fatal(err)
		}
		wrong, err := codes.ReadRuleSet(strings.NewReader(turned))
		if err != nil {
			t.Fatal(err)
		}
		a, _ := right.Figure(tt.key)
		b, _ := wrong.Figure(tt.key)
		if a.Bound.Test(a.Value, a.Value) == b.Bound.Test(b.Value, b.Value) {
			t.Errorf("%s %s answers the same at the limit, %s or %s", tt.file, tt.key, a.Bound, b.Bound)
		}
	}
}
