package codes_test

import (
	"errors"
	"testing"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

func TestApply(t *testing.T) {
	amendment := codes.Amendment{
		Key: codes.GuardHeightLevel, Value: "42 in", SaidBy: "R. Sample", Office: "Sample Town building office", On: "2026-03-14",
	}
	rules := applied(t, "irc-2018", amendment)
	f := figure(t, rules, codes.GuardHeightLevel)
	if f.Value != 42*in || f.Bound != codes.AtLeast || f.Standing != codes.Authority || f.Clause != "R312.1.2" {
		t.Errorf("in force: %s %v, %s, %s", f.Bound, f.Value, f.Standing, f.Clause)
	}
	if f.Base.Value != 36*in || f.Base.Standing != codes.OfficialText {
		t.Errorf("base: %v, %s", f.Base.Value, f.Base.Standing)
	}
	if f.Amendment == nil || *f.Amendment != amendment {
		t.Errorf("amendment: %+v, want %+v", f.Amendment, amendment)
	}
	if got, want := f.Source(), "said by R. Sample, Sample Town building office, 14 Mar 2026; the code: at least 36 in, R312.1.2, 2018 IRC, official text"; got != want {
		t.Errorf("Source() = %q, want %q", got, want)
	}
	if got, want := f.Show(length.InchFraction), `42"`; got != want {
		t.Errorf("Show() = %q, want %q", got, want)
	}

	other := figure(t, rules, codes.OpeningLevel)
	if other.Amendment != nil || other.Figure != other.Base || other.Source() != other.Base.Source() || other.SaidBy() != "" {
		t.Errorf("a figure that was not amended changed: %+v", other)
	}
	if got, _ := rules.RuleSet().Figure(codes.GuardHeightLevel); got.Value != 36*in {
		t.Errorf("the rule set underneath changed: %v", got.Value)
	}
	if got, _ := ruleSet(t, "irc-2018").Figure(codes.GuardHeightLevel); got.Value != 36*in {
		t.Errorf("the rule set that others get changed: %v", got.Value)
	}
	if got, want := len(rules.Figures()), len(rules.RuleSet().Figures); got != want {
		t.Errorf("%d figures, want %d", got, want)
	}
}

func TestApplyReadsEveryKind(t *testing.T) {
	for _, tt := range []struct {
		set, key, value string
		length          length.Length
		number          float64
		unit            string
	}{
		{"irc-2018", codes.OpeningLevel, `3 1/2"`, 3*in + in/2, 0, ""},
		{"irc-2018", codes.OpeningLevel, `3 1/2`, 3*in + in/2, 0, ""}, // bare: the units of the rule set
		{"ontario-9.8", codes.OpeningLevel, `90`, 90 * mm, 0, ""},
		{"irc-2018", codes.OpeningLevel, `100 mm`, 100 * mm, 0, ""},
		{"irc-2018", codes.StairHandrailRisers, ` 3 `, 0, 3, ""},
		{"irc-2018", codes.LoadGuardPoint, `1,000 lb`, 0, 1000, "lb"},
		{"irc-2018", codes.LoadGuardPoint, `0.89 kN`, 0, 0.89, "kN"},
		{"ontario-9.8", codes.LoadGuardLine, `50 lb/ft`, 0, 50, "lb/ft"},
		{"ontario-9.8", codes.GuardTriggerSlope, `1 in 4`, 0, 0.25, ""},
	} {
		f := figure(t, applied(t, tt.set, codes.Amendment{Key: tt.key, Value: tt.value, SaidBy: "R. Sample"}), tt.key)
		if f.Value != tt.length || f.Number != tt.number || f.Unit != tt.unit {
			t.Errorf("%s amended to %q = %v, %v %q, want %v, %v %q", tt.key, tt.value, f.Value, f.Number, f.Unit, tt.length, tt.number, tt.unit)
		}
	}
}

func TestApplyRefuses(t *testing.T) {
	for _, tt := range []struct {
		name     string
		set      string
		a        codes.Amendment
		want     error
		sentence string
	}{
		{"unknown key", "irc-2018", codes.Amendment{Key: "guard.colour", Value: "42 in", SaidBy: "R. Sample"}, codes.ErrNoFigure,
			`Choose a figure that International Residential Code, 2018 has; it has none called "guard.colour".`},
		{"key of another rule set", "irc-2018", codes.Amendment{Key: codes.ClimbZoneLow, Value: "140 mm", SaidBy: "R. Sample"}, codes.ErrNoFigure,
			`Choose a figure that International Residential Code, 2018 has; it has none called "climb.zone_low".`},
		{"force for a length", "irc-2018", codes.Amendment{Key: codes.OpeningLevel, Value: "200 lb", SaidBy: "R. Sample"}, codes.ErrValue,
			`Opening in a level guard: enter a value such as 4 in.`},
		{"length for a count", "irc-2018", codes.Amendment{Key: codes.StairHandrailRisers, Value: "3 in", SaidBy: "R. Sample"}, codes.ErrValue,
			`Risers in a flight that call for a handrail: enter a value such as 4.`},
		{"half a riser", "irc-2018", codes.Amendment{Key: codes.StairHandrailRisers, Value: "3.5", SaidBy: "R. Sample"}, codes.ErrValue,
			`Risers in a flight that call for a handrail: enter a value such as 4.`},
		{"length for a force", "irc-2018", codes.Amendment{Key: codes.LoadGuardPoint, Value: "200 in", SaidBy: "R. Sample"}, codes.ErrValue,
			`Concentrated load on the top of a guard: enter a value such as 200 lb.`},
		{"number for a ratio", "ontario-9.8", codes.Amendment{Key: codes.GuardTriggerSlope, Value: "0.5", SaidBy: "R. Sample"}, codes.ErrValue,
			`Slope of the ground that calls for a guard: enter a value such as 1 in 2.`},
		{"ratio in nothing", "ontario-9.8", codes.Amendment{Key: codes.GuardTriggerSlope, Value: "1 in 0", SaidBy: "R. Sample"}, codes.ErrValue,
			`Slope of the ground that calls for a guard: enter a value such as 1 in 2.`},
		{"zero", "irc-2018", codes.Amendment{Key: codes.OpeningLevel, Value: "0 in", SaidBy: "R. Sample"}, codes.ErrValue,
			`Opening in a level guard: enter a value such as 4 in.`},
		{"negative", "irc-2018", codes.Amendment{Key: codes.OpeningLevel, Value: "-4 in", SaidBy: "R. Sample"}, codes.ErrValue,
			`Opening in a level guard: enter a value such as 4 in.`},
		{"no load", "irc-2018", codes.Amendment{Key: codes.LoadGuardPoint, Value: "0 lb", SaidBy: "R. Sample"}, codes.ErrValue,
			`Concentrated load on the top of a guard: enter a value such as 200 lb.`},
		{"nothing", "irc-2018", codes.Amendment{Key: codes.OpeningLevel, SaidBy: "R. Sample"}, codes.ErrValue,
			`Opening in a level guard: enter a value such as 4 in.`},
		{"nobody", "irc-2018", codes.Amendment{Key: codes.OpeningLevel, Value: "3 in", SaidBy: "  "}, codes.ErrNobody,
			`Opening in a level guard: enter the name of whoever gave this figure.`},
		{"no such day", "irc-2018", codes.Amendment{Key: codes.OpeningLevel, Value: "3 in", SaidBy: "R. Sample", On: "2026-02-30"}, codes.ErrDate,
			`Opening in a level guard: enter the date as year, month and day, such as 2026-03-14.`},
	} {
		rules, err := codes.Apply(ruleSet(t, tt.set), []codes.Amendment{tt.a})
		if !errors.Is(err, tt.want) || len(rules.Figures()) != 0 {
			t.Errorf("%s: Apply = %d figures, %v, want none, %v", tt.name, len(rules.Figures()), err, tt.want)
			continue
		}
		var refused *codes.AmendmentError
		if !errors.As(err, &refused) {
			t.Errorf("%s: Apply error %v is no AmendmentError", tt.name, err)
			continue
		}
		if refused.Amendment != tt.a {
			t.Errorf("%s: the error carries %+v, want %+v", tt.name, refused.Amendment, tt.a)
		}
		if got := refused.Sentence(); got != tt.sentence {
			t.Errorf("%s: sentence = %q, want %q", tt.name, got, tt.sentence)
		}
	}
}

// All refusals are in the one error, and two figures of the authority's for one key are a refusal.
func TestApplyRefusesAllAtOnce(t *testing.T) {
	good := codes.Amendment{Key: codes.OpeningLevel, Value: "3 in", SaidBy: "R. Sample"}
	_, err := codes.Apply(ruleSet(t, "irc-2018"), []codes.Amendment{
		{Key: "guard.colour", Value: "green", SaidBy: "R. Sample"}, good, good,
	})
	joined, ok := err.(interface{ Unwrap() []error })
	if !ok || len(joined.Unwrap()) != 2 {
		t.Fatalf("Apply error = %v, want two refusals", err)
	}
	if !errors.Is(joined.Unwrap()[0], codes.ErrNoFigure) || !errors.Is(joined.Unwrap()[1], codes.ErrTwice) {
		t.Errorf("Apply error = %v, want ErrNoFigure and ErrTwice", err)
	}
	var second *codes.AmendmentError
	if errors.As(joined.Unwrap()[1], &second) {
		if got, want := second.Sentence(), "Opening in a level guard: keep one figure of the authority's and remove the other."; got != want {
			t.Errorf("sentence = %q, want %q", got, want)
		}
	}
}

// The authority may also give a figure of the practice that stands beside every rule set; it then stands among the rule set's.
func TestApplyToPractice(t *testing.T) {
	plain := applied(t, "irc-2018")
	if _, found := plain.Figure(codes.BoltEdgeMin); found {
		t.Error("practice that nobody amended stands among the figures of the rule set")
	}
	if f, found := plain.Practice(codes.BoltEdgeMin); !found || f.Value != 2*in || f.Amendment != nil {
		t.Errorf("practice: %+v, %t", f, found)
	}
	rules := applied(t, "irc-2018", codes.Amendment{Key: codes.BoltEdgeMin, Value: "2 1/2", SaidBy: "R. Sample"})
	f := figure(t, rules, codes.BoltEdgeMin)
	if again, _ := rules.Practice(codes.BoltEdgeMin); again != f {
		t.Errorf("Practice = %+v, want what Figure gives, %+v", again, f)
	}
	if f.Value != 2*in+in/2 || f.Bound != codes.AtLeast || f.Standing != codes.Authority || f.Base.Value != 2*in {
		t.Errorf("amended practice: %s %v, %s, over %v", f.Bound, f.Value, f.Standing, f.Base.Value)
	}
	if got, want := f.Source(), "said by R. Sample; the code: at least 2 in, Wis. SPS 325 App. B s.13(4), edition not shown, official text"; got != want {
		t.Errorf("Source() = %q, want %q", got, want)
	}
	if got, want := len(rules.Figures()), len(plain.Figures())+1; got != want {
		t.Errorf("%d figures, want %d", got, want)
	}
	// Wisconsin has the figure itself: that is what is amended there.
	own := figure(t, applied(t, "wisconsin-sps-325", codes.Amendment{Key: codes.BoltEdgeMin, Value: "3 in", SaidBy: "R. Sample"}), codes.BoltEdgeMin)
	if own.Value != 3*in || own.Base.Value != 2*in {
		t.Errorf("Wisconsin's own figure amended: %v over %v", own.Value, own.Base.Value)
	}
	if _, found := plain.Practice("guard.colour"); found {
		t.Error("there is practice of a key that nobody has")
	}
	if _, err := codes.Apply(ruleSet(t, "irc-2018"), []codes.Amendment{{Key: codes.BoltEdgeMin, Value: "200 lb", SaidBy: "R. Sample"}}); !errors.Is(err, codes.ErrValue) {
		t.Errorf("a force for a length: %v, want ErrValue", err)
	}
}
