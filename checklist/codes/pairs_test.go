package codes_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"newelbook/checklist/codes"
)

func TestPairs(t *testing.T) {
	amended := applied(t, "irc-2018", codes.Amendment{Key: codes.GuardHeightLevel, Value: "42 in", SaidBy: "R. Sample"})
	for _, tt := range []struct {
		name    string
		a, b    codes.Applied
		key     string
		x, y    string
		differs string
	}{
		{"another sphere, in the first one's units too", applied(t, "irc-2018"), applied(t, "ontario-9.8"), codes.OpeningLevel,
			"under 4 in", `at most 100 mm, about 3 15/16"`, "value, strict or inclusive, clause"},
		{"the other way round", applied(t, "ontario-9.8"), applied(t, "irc-2018"), codes.OpeningLevel, "at most 100 mm", "under 4 in, about 101.6 mm", "value, strict or inclusive, clause"},
		{"strict against inclusive", applied(t, "nbc-2020"), applied(t, "ontario-9.8"), codes.OpeningLevel, "under 100 mm", "at most 100 mm", "strict or inclusive"},
		{"in the second only", applied(t, "irc-2018"), applied(t, "irc-2021"), codes.PostLoadPath,
			"no figure", "Guard loads go to the deck framing by a continuous path to the deck joists", "only in one"},
		{"a clause alone", applied(t, "irc-2018"), applied(t, "irc-2024"), codes.GuardHeightStair, "at least 34 in", "at least 34 in", "clause"},
		{"a load is told as it is written", applied(t, "irc-2018"), applied(t, "nbc-2020"), codes.LoadGuardPoint, "at least 200 lb", "at least 1.0 kN", "value, clause"},
		{"the authority's own is what is applied", amended, applied(t, "irc-2018"), codes.GuardHeightLevel, "at least 42 in, the authority's own", "at least 36 in", "value"},
		{"amended practice stands against practice", applied(t, "irc-2018", codes.Amendment{Key: codes.BoltEdgeMin, Value: "3 in", SaidBy: "R. Sample"}), applied(t, "irc-2021"), codes.BoltEdgeMin,
			"at least 3 in, the authority's own", "at least 2 in", "value"},
		{"and the other way round", applied(t, "irc-2021"), applied(t, "irc-2018", codes.Amendment{Key: codes.BoltEdgeMin, Value: "3 in", SaidBy: "R. Sample"}), codes.BoltEdgeMin,
			"at least 2 in", "at least 3 in, the authority's own", "value"},
		{"a code's own figure stands alone", applied(t, "wisconsin-sps-325"), applied(t, "irc-2018"), codes.BoltEdgeMin, "at least 2 in", "no figure", "only in one"},
	} {
		pairs := codes.Pairs(tt.a, tt.b)
		i := slices.IndexFunc(pairs, func(p codes.Pair) bool { return p.Key == tt.key })
		if i < 0 {
			t.Errorf("%s: no pair of %s", tt.name, tt.key)
			continue
		}
		if p := pairs[i]; p.A != tt.x || p.B != tt.y || strings.Join(p.Differs, ", ") != tt.differs {
			t.Errorf("%s: %q against %q differ in %q, want %q, %q, %q", tt.name, p.A, p.B, p.Differs, tt.x, tt.y, tt.differs)
		}
	}
}

func TestWritePairs(t *testing.T) {
	var out bytes.Buffer
	if err := codes.WritePairs(&out, applied(t, "irc-2018"), applied(t, "irc-2018")); err != nil {
		t.Fatal(err)
	}
	if want := "\nNo figure differs.\n"; !strings.HasSuffix(out.String(), want) {
		t.Errorf("a rule set against itself: %q, want it to end %q", out.String(), want)
	}
	for _, id := range codes.IDs() {
		out.Reset()
		a, b := applied(t, "irc-2018"), applied(t, id)
		if err := codes.WritePairs(&out, a, b); err != nil {
			t.Fatal(err)
		}
		for _, p := range codes.Pairs(a, b) {
			if !strings.Contains(out.String(), p.Title) {
				t.Errorf("irc-2018 against %s lacks %q", id, p.Title)
			}
		}
	}
}
