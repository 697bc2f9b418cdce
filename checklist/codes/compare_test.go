package codes_test

import (
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/codes"
)

// find returns the difference of that key; nil means that there is none.
func find(all []codes.Difference, key string) *codes.Difference {
	for i := range all {
		if all[i].Key == key {
			return &all[i]
		}
	}
	return nil
}

func TestCompare(t *testing.T) {
	said := func(key, value string) codes.Amendment {
		return codes.Amendment{Key: key, Value: value, SaidBy: "R. Sample"}
	}
	for _, tt := range []struct {
		name                 string
		a, b                 codes.Applied
		key                  string
		value, bound, clause bool
		onlyA, onlyB         bool
	}{
		{"the same numbers under the same clause", applied(t, "irc-2018"), applied(t, "irc-2021"), codes.GuardHeightLevel, false, false, false, false, false},
		{"the same number under a new clause", applied(t, "irc-2018"), applied(t, "irc-2024"), codes.GuardHeightLevel, false, false, true, false, false},
		{"another wording in the next edition", applied(t, "irc-2018"), applied(t, "irc-2021"), codes.LoadGuardDirection, true, false, false, false, false},
		{"a handrail's clause renumbered", applied(t, "irc-2018"), applied(t, "irc-2021"), codes.HandrailGripDiameterMax, false, false, true, false, false},
		{"new in the next edition", applied(t, "irc-2018"), applied(t, "irc-2021"), codes.PostNotch4x4, false, false, false, false, true},
		{"in the first only", applied(t, "ontario-9.8"), applied(t, "irc-2018"), codes.ClimbZoneLow, false, false, false, true, false},
		{"the same sphere, strict against inclusive", applied(t, "ontario-9.8"), applied(t, "nbc-2020"), codes.OpeningLevel, false, true, false, false, false},
		{"another sphere and bound and clause", applied(t, "ontario-9.8"), applied(t, "irc-2018"), codes.OpeningLevel, true, true, true, false, false},
		{"inclusive drop", applied(t, "england-k"), applied(t, "new-zealand-f4-d1"), codes.GuardTriggerDrop, true, true, true, false, false},
		{"pitch", applied(t, "england-k"), applied(t, "ireland-k"), codes.StairPitchMax, false, false, true, false, false},
		// What the authority said is what is compared.
		{"amended apart", applied(t, "irc-2018", said(codes.GuardHeightLevel, "42 in")), applied(t, "irc-2018"), codes.GuardHeightLevel, true, false, false, false, false},
		{"amended to the other's height", applied(t, "irc-2018", said(codes.GuardHeightLevel, "42 in")), applied(t, "california-residential"),
			codes.GuardHeightLevel, false, false, false, false, false},
		{"the same length written otherwise", applied(t, "irc-2018", said(codes.GuardHeightLevel, "914.4 mm")), applied(t, "irc-2018"), codes.GuardHeightLevel, false, false, false, false, false},
		{"a millimetre number that is near and no more", applied(t, "irc-2018", said(codes.GuardHeightLevel, "914 mm")), applied(t, "irc-2018"), codes.GuardHeightLevel, true, false, false, false, false},
		{"the same slope written otherwise", applied(t, "ontario-9.8", said(codes.GuardTriggerSlope, "2 in 4")), applied(t, "ontario-9.8"), codes.GuardTriggerSlope, false, false, false, false, false},
		{"the same load in another unit", applied(t, "irc-2018", said(codes.LoadGuardPoint, "0.8896443230521 kN")), applied(t, "irc-2018"), codes.LoadGuardPoint, false, false, false, false, false},
		{"a rounded load in another unit", applied(t, "irc-2018", said(codes.LoadGuardPoint, "0.89 kN")), applied(t, "irc-2018"), codes.LoadGuardPoint, true, false, false, false, false},
	} {
		d := find(codes.Compare(tt.a, tt.b), tt.key)
		if d == nil {
			if tt.value || tt.bound || tt.clause || tt.onlyA || tt.onlyB {
				t.Errorf("%s: Compare has no %s", tt.name, tt.key)
			}
			continue
		}
		if d.Value != tt.value || d.Bound != tt.bound || d.Clause != tt.clause || (d.B == nil) != tt.onlyA || (d.A == nil) != tt.onlyB {
			t.Errorf("%s: %s differs in value %t, bound %t, clause %t, only in A %t, only in B %t", tt.name, tt.key, d.Value, d.Bound, d.Clause, d.B == nil, d.A == nil)
		}
		if d.Title == "" {
			t.Errorf("%s: %s has no title", tt.name, tt.key)
		}
	}
}

// From edition to edition of the IRC: numbers stay, words and clauses change.
func TestCompareEditions(t *testing.T) {
	for _, pair := range [][2]string{{"irc-2018", "irc-2021"}, {"irc-2021", "irc-2024"}} {
		for _, d := range codes.Compare(applied(t, pair[0]), applied(t, pair[1])) {
			if d.A == nil || d.B == nil {
				continue
			}
			if d.A.Kind != codes.KindText && d.Value || d.Bound {
				t.Errorf("%s %s to %s: %s %s became %s %s", d.Key, pair[0], pair[1], d.A.Bound, d.A.Text, d.B.Bound, d.B.Text)
			}
		}
	}
}

// Comparing is the same both ways round, finds nothing between a rule set and itself, loses no figure and leaves both as they were.
func TestCompareProperties(t *testing.T) {
	var sets []codes.Applied
	for _, id := range codes.IDs() {
		sets = append(sets, applied(t, id))
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.SampledFrom(sets).Draw(t, "a"), rapid.SampledFrom(sets).Draw(t, "b")
		forth, back := codes.Compare(a, b), codes.Compare(b, a)
		if len(forth) != len(back) {
			t.Fatalf("%d differences one way, %d the other", len(forth), len(back))
		}
		for i, d := range forth {
			r := back[i]
			if d.Key != r.Key || d.Value != r.Value || d.Bound != r.Bound || d.Clause != r.Clause || (d.A == nil) != (r.B == nil) || (d.B == nil) != (r.A == nil) {
				t.Fatalf("%s is not the same both ways round", d.Key)
			}
			if i > 0 && forth[i-1].Key >= d.Key {
				t.Fatalf("%s comes after %s", d.Key, forth[i-1].Key)
			}
			if d.A != nil {
				d.A.Value = -1
			}
		}
		if len(codes.Compare(a, a)) != 0 {
			t.Fatalf("%s differs from itself", a.RuleSet().ID)
		}
		for _, f := range a.Figures() {
			if f.Value < 0 {
				t.Fatalf("%s was changed through a difference", f.Key)
			}
			other, both := b.Figure(f.Key)
			alike := both && f.Bound == other.Bound && f.Clause == other.Clause && f.Value == other.Value && f.Text == other.Text
			if found := find(forth, f.Key) != nil; !both && !found || alike && found {
				t.Fatalf("%s: alike %t, found %t", f.Key, alike, found)
			}
		}
		if n := len(codes.Compare(a, codes.Applied{})); n != len(a.Figures()) {
			t.Fatalf("%d differences from no rule set, want %d", n, len(a.Figures()))
		}
	})
}
