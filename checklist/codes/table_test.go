package codes_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// Every figure says what it is held to; a key that nobody listed says nothing.
func TestAppliesTo(t *testing.T) {
	for _, set := range append(codes.All(), codes.Reference()) {
		for _, f := range set.Figures {
			if codes.AppliesTo(f.Key) == "" {
				t.Errorf("%s %s does not say what it applies to", set.ID, f.Key)
			}
		}
	}
	for _, tt := range []struct{ key, want string }{
		{codes.GuardHeightInside, "A guard inside a dwelling"}, // not a stair inside one
		{codes.StairInside.Key(codes.StairTreadMin), "A stair inside a dwelling"},
		{codes.LoadGuardLineInside, "A guard inside one dwelling"},
		{codes.StairRiserMax, "The stair of a deck"},
		{codes.LedgerKey(codes.LedgerBoltSpacing, 12), "A ledger on a 2x band joist, joists of at most the span in the figure's name"},
		{codes.TieFourCapacity, "A deck that leans on a house"},
		{"guard.colour", ""}, {"stair.colour_inside", ""}, {"load.colour", ""}, {"", ""},
	} {
		if got := codes.AppliesTo(tt.key); got != tt.want {
			t.Errorf("AppliesTo(%q) = %q, want %q", tt.key, got, tt.want)
		}
	}
}

func TestCondition(t *testing.T) {
	for _, tt := range []struct{ id, key, want string }{
		{"nbc-2020", codes.GuardHeightLevelLow, "A required guard outside one dwelling, where the deck stands low enough (walking surface above finished ground up to which the low height holds: at most 1800 mm)"},
		{"australia-ncc-2022", codes.ClimbZoneLow, "Members, attachments and openings that help climbing (drop from which the zone is to be free of footholds: over 4000 mm)"},
		{"ontario-9.8", codes.ClimbZoneLow, "Members, attachments and openings that help climbing"},
		{"irc-2018", codes.GuardTriggerDrop, "An open edge: such a drop calls for a guard (zone out from the edge in which the drop counts: at most 36 in)"},
		{"australia-ncc-2022", codes.GuardTriggerDrop, "An open edge: such a drop calls for a guard"}, // no zone
	} {
		if got := applied(t, tt.id).Condition(tt.key); got != tt.want {
			t.Errorf("%s %s applies to %q, want %q", tt.id, tt.key, got, tt.want)
		}
	}
}

// A row says all that a figure has, in the words of a table, and an amended one both what is applied and what the code has.
func TestRows(t *testing.T) {
	rules := applied(t, "irc-2018", codes.Amendment{Key: codes.GuardHeightLevel, Value: "42 in", SaidBy: "R. Sample", On: "2026-03-14"})
	want := map[string]codes.Row{
		codes.OpeningStair: {Key: codes.OpeningStair, Title: "Opening in a guard on the open side of a stair", Value: `4 3/8"`, Bound: codes.Under, Limit: "strict",
			Clause: "R312.1.3 exc. 2", Edition: "2018 IRC", Standing: codes.OfficialText, Applies: "A required guard on the open side of a stair"},
		codes.GuardHeightLevel: {Key: codes.GuardHeightLevel, Title: "Height of a level guard", Value: `42"`, Bound: codes.AtLeast, Limit: "inclusive",
			Clause: "R312.1.2", Edition: "2018 IRC", Standing: codes.Authority, Applies: "A required guard along a level edge", SaidBy: "R. Sample, 14 Mar 2026", Own: `at least 36", official text`},
		codes.LoadGuardDirection: {Key: codes.LoadGuardDirection, Title: "Direction of the load on the top", Value: "Any direction, at any point along the top",
			Clause: "Table R301.5 note d", Edition: "2018 IRC", Standing: codes.SecondaryText, Applies: "Every guard, required or not"},
	}
	rows := rules.Rows(length.InchFraction)
	if len(rows) != len(rules.Figures()) {
		t.Errorf("%d rows for %d figures", len(rows), len(rules.Figures()))
	}
	for _, r := range rows {
		if w, ok := want[r.Key]; ok {
			r.Note = ""
			if r != w {
				t.Errorf("row of %s:\n got %+v\nwant %+v", r.Key, r, w)
			}
			delete(want, r.Key)
		}
	}
	for key := range want {
		t.Errorf("no row of %s", key)
	}
}

// The two outputs hold the same figures.
func TestWriteRuleSet(t *testing.T) {
	for _, set := range codes.All() {
		rules := applied(t, set.ID)
		var text, object bytes.Buffer
		if err := rules.WriteText(&text); err != nil {
			t.Fatal(err)
		}
		if err := rules.WriteJSON(&object); err != nil {
			t.Fatal(err)
		}
		var read struct {
			ID      string
			Figures []codes.Row
		}
		if err := json.Unmarshal(object.Bytes(), &read); err != nil {
			t.Fatal(err)
		}
		if read.ID != set.ID || len(read.Figures) != len(set.Figures) {
			t.Errorf("%s as JSON is %s with %d figures", set.ID, read.ID, len(read.Figures))
		}
		for _, f := range set.Figures {
			if !strings.Contains(text.String(), f.Title+" ") && !strings.Contains(text.String(), f.Title+":") {
				t.Errorf("%s as text lacks %q", set.ID, f.Title)
			}
		}
	}
}
