package store_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"newelbook/checklist"
	"newelbook/checklist/codes"
	"newelbook/jobs"
)

func (x *site) whatIf(t *testing.T, other string) jobs.WhatIf {
	t.Helper()
	_, what, err := x.service.WhatIf(t.Context(), builder.Actor, x.job, other)
	if err != nil {
		t.Fatal(err)
	}
	return what
}

// word is what the reading of a check would come to; nil where it stays as it is.
func word(what jobs.WhatIf, key string) *jobs.OtherWord {
	i := slices.IndexFunc(what.Words, func(o jobs.OtherWord) bool { return o.Check.Key == key })
	if i < 0 {
		return nil
	}
	return &what.Words[i]
}

func TestWhatIf(t *testing.T) {
	x := newSite(t, open(t))
	x.run(t, "R1", "12'")
	x.take(t,
		jobs.ReadingInput{CheckID: x.check(t, "caps.height_lowest").Check.ID, Text: "37"},
		jobs.ReadingInput{CheckID: x.check(t, "infill.gap").Check.ID, Text: "3 31/32"}, // 100.8 mm
	)
	before, deviations, said := x.record(t).Head, len(x.record(t).Deviations), x.check(t, "caps.height_lowest").Verdict()
	for _, tt := range []struct {
		other, key string
		would      checklist.Verdict
		same       bool
	}{
		{"irc-2018", "caps.height_lowest", "", true},
		{"irc-2018", "infill.gap", "", true},
		{"california-residential", "caps.height_lowest", checklist.FailsLimit, false},
		{"california-residential", "infill.gap", "", true},
		{"ontario-9.8", "infill.gap", checklist.FailsLimit, false},
		{"existing-condition", "infill.gap", checklist.OffLayout, false}, // no figure for openings: the layout alone
	} {
		o := word(x.whatIf(t, tt.other), tt.key)
		switch {
		case tt.same && o != nil:
			t.Errorf("%s under %s would be %q, want no other word: %s", tt.key, tt.other, o.Would, o.WouldWhy)
		case !tt.same && (o == nil || o.Would != tt.would):
			t.Errorf("%s under %s: %+v, want %q", tt.key, tt.other, o, tt.would)
		}
	}
	if got := x.whatIf(t, "california-residential").Compared; got != 2 {
		t.Errorf("%d readings were compared, want 2", got)
	}
	// Nothing came of it.
	if got := x.record(t); got.Head != before || x.check(t, "caps.height_lowest").Verdict() != said || len(got.Deviations) != deviations {
		t.Error("a what-if changed the record")
	}
}

// The authority's own figure is part of the adopted side alone, and checks that only one side asks for are told.
func TestWhatIfSides(t *testing.T) {
	x := newSite(t, open(t))
	x.run(t, "R1", "12'")
	x.amend(t, codes.GuardHeightLevel, "42 in")
	x.take(t, jobs.ReadingInput{CheckID: x.check(t, "caps.height_lowest").Check.ID, Text: "40"})
	what := x.whatIf(t, "irc-2018")
	if o := word(what, "caps.height_lowest"); o == nil || o.Reading.Result.Verdict != checklist.FailsLimit || o.Would == checklist.FailsLimit {
		t.Errorf("40 in against 42 in amended and 36 in: %+v", o)
	}
	if i := slices.IndexFunc(what.Figures, func(p codes.Pair) bool { return p.Key == codes.GuardHeightLevel }); i < 0 || what.Figures[i].A != "at least 42 in, the authority's own" || what.Figures[i].B != "at least 36 in" {
		t.Errorf("figures: %+v", what.Figures)
	}
	more := x.whatIf(t, "ontario-9.8").More
	if !slices.ContainsFunc(more, func(a jobs.Asked) bool { return strings.Contains(a.Title, "foothold") && a.Places > 0 }) {
		t.Errorf("beside, Ontario would ask %+v, want the zone where nothing may help climbing", more)
	}
}

// Under the rules that it was recorded under, a whole job comes to nothing else.
func TestWhatIfOfItsOwnRules(t *testing.T) {
	x := newSite(t, open(t))
	x.whole(t)
	what := x.whatIf(t, x.record(t).Job.RuleSet)
	if len(what.Figures)+len(what.Layout)+len(what.More)+len(what.Less) > 0 || what.Compared == 0 {
		t.Errorf("%d figures, %+v, %+v, %+v, %d compared", len(what.Figures), what.Layout, what.More, what.Less, what.Compared)
	}
	for _, o := range what.Words {
		t.Errorf("%s: %s would be %s: %s", o.Check.ID, o.Reading.Result.Verdict, o.Would, o.WouldWhy)
	}
}

func TestWhatIfRefuses(t *testing.T) {
	x := newSite(t, open(t))
	for _, role := range []jobs.Role{jobs.RoleCrew, jobs.RoleOwner, jobs.RoleInspector, ""} {
		if _, _, err := x.service.WhatIf(t.Context(), jobs.Actor{ID: "a9", Role: role}, x.job, "irc-2021"); !errors.Is(err, jobs.ErrForbidden) {
			t.Errorf("%q: %v, want ErrForbidden", role, err)
		}
	}
	var unknown *jobs.UnknownRulesError
	if _, _, err := x.service.WhatIf(t.Context(), builder.Actor, x.job, "irc-1999"); !errors.As(err, &unknown) || !strings.Contains(unknown.Sentence(), "irc-2018, irc-2021") {
		t.Errorf("an unknown rule set: %v", err)
	}
	if _, _, err := x.service.WhatIf(t.Context(), builder.Actor, "nosuch", "irc-2021"); !errors.Is(err, jobs.ErrNotFound) {
		t.Errorf("an unknown job: %v", err)
	}
}
