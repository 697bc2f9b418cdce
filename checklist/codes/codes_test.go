package codes_test

import (
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"slices"
	"strconv"
	"strings"
	"testing"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

const (
	in = length.Inch
	mm = length.Millimetre
)

func ruleSet(t *testing.T, id string) codes.RuleSet {
	t.Helper()
	set, err := codes.Get(id)
	if err != nil {
		t.Fatal(err)
	}
	return set
}

func applied(t *testing.T, id string, amendments ...codes.Amendment) codes.Applied {
	t.Helper()
	rules, err := codes.Apply(ruleSet(t, id), amendments)
	if err != nil {
		t.Fatal(err)
	}
	return rules
}

func figure(t *testing.T, rules codes.Applied, key string) codes.AppliedFigure {
	t.Helper()
	f, ok := rules.Figure(key)
	if !ok {
		t.Fatalf("%s has no %s", rules.RuleSet().ID, key)
	}
	return f
}

func TestLoad(t *testing.T) {
	if err := codes.Load(); err != nil {
		t.Fatal(err)
	}
}

func TestGet(t *testing.T) {
	want := []string{
		"irc-2018", "irc-2021", "irc-2024", "ibc-2021", "wisconsin-sps-325", "california-residential", "existing-condition",
		"nbc-2020", "ontario-9.8", "england-k", "ireland-k", "australia-ncc-2022", "new-zealand-f4-d1",
	}
	if !slices.Equal(codes.IDs(), want) {
		t.Errorf("IDs() = %q, want %q", codes.IDs(), want)
	}
	var all []string
	for _, set := range codes.All() {
		all = append(all, set.ID)
	}
	if !slices.Equal(all, codes.IDs()) {
		t.Errorf("All() = %q, want the order of IDs %q", all, codes.IDs())
	}
	for _, id := range []string{"", "irc-2015", "reference", "IRC-2018"} {
		if set, err := codes.Get(id); !errors.Is(err, codes.ErrUnknown) || set.ID != "" {
			t.Errorf("Get(%q) = %q, %v, want ErrUnknown", id, set.ID, err)
		}
	}
}

func TestEveryFigureNamesItsSource(t *testing.T) {
	sets := append(codes.All(), codes.Reference())
	for _, set := range sets {
		if set.Name == "" || set.Place == "" || set.Edition == "" || len(set.Figures) == 0 || len(set.Notes) == 0 {
			t.Errorf("%s lacks a name, place, edition, figures or notes", set.ID)
		}
		if !slices.IsSortedFunc(set.Figures, func(a, b codes.Figure) int { return strings.Compare(a.Key, b.Key) }) {
			t.Errorf("%s: figures are not sorted by key", set.ID)
		}
		for _, f := range set.Figures {
			if f.Title == "" || f.Clause == "" || f.Edition == "" || f.Text == "" {
				t.Errorf("%s %s lacks a title, clause, edition or value: %+v", set.ID, f.Key, f)
			}
			switch f.Standing {
			case codes.OfficialText, codes.SecondaryText, codes.Memory:
			case codes.CommonPractice:
				if set.ID != "reference" {
					t.Errorf("%s %s has the standing %q, which a code cannot have", set.ID, f.Key, f.Standing)
				}
			default:
				t.Errorf("%s %s has the standing %q", set.ID, f.Key, f.Standing)
			}
			if f.Bound.Known() == (f.Kind == codes.KindText) {
				t.Errorf("%s %s has the bound %q", set.ID, f.Key, f.Bound)
			}
			if (f.Value > 0) != (f.Kind == codes.KindLength) {
				t.Errorf("%s %s is %v of kind %s", set.ID, f.Key, f.Value, f.Kind)
			}
			if got, ok := set.Figure(f.Key); !ok || got != f {
				t.Errorf("%s: Figure(%q) = %+v, %t", set.ID, f.Key, got, ok)
			}
		}
	}
}

// Every key that the package names is one that some rule set or the reference has: a key that nothing has is a slip.
func TestEveryKeyIsUsed(t *testing.T) {
	used := map[string]bool{}
	for _, set := range append(codes.All(), codes.Reference()) {
		for _, f := range set.Figures {
			used[f.Key] = true
		}
	}
	file, err := parser.ParseFile(token.NewFileSet(), "keys.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	var keys []string
	ast.Inspect(file, func(n ast.Node) bool {
		literal, ok := n.(*ast.BasicLit)
		if !ok {
			return true
		}
		switch text, err := strconv.Unquote(literal.Value); {
		case err != nil:
			t.Error(err)
		case text == codes.LedgerLagSpacing || text == codes.LedgerBoltSpacing:
			for _, feet := range codes.LedgerSpans() {
				keys = append(keys, codes.LedgerKey(text, feet))
			}
		case strings.Contains(text, "."):
			keys = append(keys, text)
		}
		return true
	})
	if len(keys) < 100 {
		t.Fatalf("%d keys found in keys.go", len(keys))
	}
	for _, key := range keys {
		if !used[key] {
			t.Errorf("no rule set has %s", key)
		}
	}
	for _, kind := range codes.StairKinds() {
		if !used[kind.Key(codes.StairTreadMin)] {
			t.Errorf("no rule set has a %s stair", kind)
		}
	}
}

// What the caller does to a rule set that it was given does not reach the next caller.
func TestRuleSetsAreCopies(t *testing.T) {
	set := ruleSet(t, "irc-2018")
	set.Figures[0].Value, set.Notes[0] = 1, "changed"
	codes.All()[0].Figures[0].Value = 1
	codes.Reference().Figures[0].Number = 1
	codes.AllSpecies()[0].G = 1
	again := ruleSet(t, "irc-2018")
	if again.Figures[0].Value == 1 || again.Notes[0] == "changed" {
		t.Error("Get gives out its own data")
	}
	if codes.Reference().Figures[0].Number == 1 || codes.AllSpecies()[0].G == 1 {
		t.Error("Reference or AllSpecies gives out its own data")
	}

	rules := applied(t, "irc-2018")
	rules.Figures()[0].Value = 1
	rules.RuleSet().Figures[0].Value = 1
	if rules.Figures()[0].Value == 1 || rules.RuleSet().Figures[0].Value == 1 {
		t.Error("Applied gives out its own data")
	}
}

func TestFigureAbsentFromARuleSet(t *testing.T) {
	for _, tt := range []struct{ id, key string }{
		{"irc-2018", codes.GuardTriggerSlope},
		{"irc-2018", codes.GuardHeightLevelLow},
		{"irc-2018", codes.ClimbZoneLow},
		{"irc-2018", codes.LoadGuardLine},
		{"irc-2018", codes.PostNotch4x4}, // the 2018 edition is silent
		{"irc-2018", codes.HoldDownCapacity},
		{"ontario-9.8", codes.HandrailHeightMin},
		{"ontario-9.8", codes.StairHandrailRisers},
		{"existing-condition", codes.OpeningLevel},
		{"existing-condition", codes.LoadGuardPoint},
		{"wisconsin-sps-325", codes.GuardHeightStair},
		{"ireland-k", codes.LoadGuardLine}, // the annex was not read
		{"new-zealand-f4-d1", codes.StairHandrailRisers},
		{"england-k", codes.ClimbZoneLow}, // a rule in words, no zone
		{"irc-2018", ""},
		{"irc-2018", "zzz"},
	} {
		if f, ok := applied(t, tt.id).Figure(tt.key); ok || f != (codes.AppliedFigure{}) {
			t.Errorf("%s: Figure(%q) = %+v, want none", tt.id, tt.key, f)
		}
	}
}

func TestShowAndSource(t *testing.T) {
	irc := ruleSet(t, "irc-2018")
	for _, tt := range []struct {
		key                string
		inches, mm, source string
	}{
		{codes.OpeningStair, `4 3/8"`, `4 3/8", about 111.13 mm`, "R312.1.3 exc. 2, 2018 IRC, official text"},
		{codes.FastenerCoastalZone, `300' 0"`, `91440 mm`, "R507.2.3, 2018 IRC, memory"},
		{codes.StairHeadroomMin, `6' 8"`, `2032 mm`, "R311.7.2, 2018 IRC, official text"},
		{codes.LoadGuardPoint, `200 lb`, `200 lb`, "Table R301.5, 2018 IRC, official text"},
	} {
		f, _ := irc.Figure(tt.key)
		if got := f.Show(length.InchFraction); got != tt.inches {
			t.Errorf("%s: Show(inches) = %q, want %q", tt.key, got, tt.inches)
		}
		if got := f.Show(length.Metric); got != tt.mm {
			t.Errorf("%s: Show(millimetres) = %q, want %q", tt.key, got, tt.mm)
		}
		if got := f.Source(); got != tt.source {
			t.Errorf("%s: Source() = %q, want %q", tt.key, got, tt.source)
		}
	}
}
