package checklist_test

import (
	"fmt"
	"slices"
	"testing"

	"newelbook/checklist"
	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// turned is the bound with strict made inclusive, or inclusive strict.
func turned(b codes.Bound) codes.Bound {
	return map[codes.Bound]codes.Bound{codes.Under: codes.AtMost, codes.AtMost: codes.Under, codes.AtLeast: codes.Over, codes.Over: codes.AtLeast}[b]
}

// withBound is the rule set with one figure's bound changed.
func withBound(t *testing.T, set codes.RuleSet, key string, bound codes.Bound) codes.Applied {
	t.Helper()
	set.Figures = slices.Clone(set.Figures)
	i := slices.IndexFunc(set.Figures, func(f codes.Figure) bool { return f.Key == key })
	set.Figures[i].Bound = bound
	rules, err := codes.Apply(set, nil)
	if err != nil {
		t.Fatal(err)
	}
	return rules
}

// verdictAt is the word for a reading of exactly the figure, held to it alone.
func verdictAt(f codes.Figure) string {
	at := f.Value
	c := checklist.Check{Ask: checklist.AskLength, Limits: []checklist.Limit{{Key: f.Key, Bound: f.Bound, Value: f.Value}}}
	return checklist.Evaluate(c, checklist.Answer{Length: &at}, checklist.ToolTape, length.Metric).Verdict.Word()
}

// decision is how the program comes to a word at exactly a figure, through the code that uses it.
type decision func(t *testing.T, rules codes.Applied, f codes.Figure) string

// flightOf lays out a flight under the rules. set describes it.
func flightOf(rules codes.Applied, set func(*layout.Run)) layout.Layout {
	run := layout.Run{ID: "m3x9", Label: "R1", Kind: layout.Rake, Start: layout.EndStairHead, End: layout.EndStairFoot, LengthOver: layout.OverCentres,
		Riser: 170 * mm, Risers: 5, Tread: 285 * mm, Nosing: 20 * mm, StairFoot: "a concrete pad"}
	set(&run)
	return layout.Compute(layout.Input{Run: run, Spec: layout.DefaultSpec(length.Millimetres), Rules: rules, Unit: length.Millimetres})
}

// tested is what the layout of a flight says of a figure.
func tested(set func(*layout.Run, codes.Figure)) decision {
	return func(t *testing.T, rules codes.Applied, f codes.Figure) string {
		t.Helper()
		l := flightOf(rules, func(r *layout.Run) { set(r, f) })
		for _, x := range l.Stair.Tested {
			if x.Key == f.Key {
				return fmt.Sprint(x.Inside)
			}
		}
		t.Errorf("%s %s: the flight was not held to it", rules.RuleSet().ID, f.Key)
		return ""
	}
}

// decisions are the figures that decide something else than whether a reading keeps to them, and how; and those that the layout
// of a flight holds its own steps to.
func decisions() map[string]decision {
	drop := func(points ...codes.DropPoint) func(codes.Applied) string {
		return func(rules codes.Applied) string {
			required, _ := codes.GuardRequired(rules, points, length.InchFraction)
			return fmt.Sprint(required)
		}
	}
	return map[string]decision{
		codes.GuardTriggerDrop: func(_ *testing.T, rules codes.Applied, f codes.Figure) string {
			return drop(codes.DropPoint{Drop: f.Value})(rules)
		},
		codes.GuardTriggerZone: func(_ *testing.T, rules codes.Applied, f codes.Figure) string {
			// Deep enough at the end of the zone alone, and not so steep that the slope calls for a guard.
			trigger, _ := rules.Figure(codes.GuardTriggerDrop)
			return drop(codes.DropPoint{Drop: trigger.Value - 400*mm}, codes.DropPoint{Out: f.Value, Drop: trigger.Value + 100*mm})(rules)
		},
		codes.GuardTriggerSlope: func(_ *testing.T, rules codes.Applied, f codes.Figure) string {
			return drop(codes.DropPoint{}, codes.DropPoint{Out: length.Length(f.Run) * 100 * mm, Drop: length.Length(f.Rise) * 100 * mm})(rules)
		},
		codes.GuardHeightLevelLowDrop: func(_ *testing.T, rules codes.Applied, f codes.Figure) string {
			height, _ := codes.GuardHeight(rules, f.Value)
			return height.Key
		},
		codes.GuardLandingLengthMax: func(_ *testing.T, rules codes.Applied, f codes.Figure) string {
			height, _ := codes.LandingHeight(rules, f.Value)
			return height.Key
		},
		codes.ClimbTriggerDrop: func(_ *testing.T, rules codes.Applied, f codes.Figure) string {
			asked, _ := codes.ClimbZoneAsked(rules, f.Value)
			return fmt.Sprint(asked)
		},
		codes.ClimbZoneLow:  inZone,
		codes.ClimbZoneHigh: inZone,
		codes.StairHandrailRisers: func(_ *testing.T, rules codes.Applied, f codes.Figure) string {
			return fmt.Sprint(flightOf(rules, func(r *layout.Run) { r.Risers = int(f.Number) }).Stair.HandrailRequired)
		},
		codes.StairFlightRisersMax: tested(func(r *layout.Run, f codes.Figure) { r.Risers = int(f.Number) }),
		codes.StairRiserMax:        tested(func(r *layout.Run, f codes.Figure) { r.Riser = f.Value }),
		codes.StairRiserMin:        tested(func(r *layout.Run, f codes.Figure) { r.Riser = f.Value }),
		codes.StairTreadMin:        tested(func(r *layout.Run, f codes.Figure) { r.Tread = f.Value }),
		codes.StairTreadMax:        tested(func(r *layout.Run, f codes.Figure) { r.Tread = f.Value }),
		codes.StairRelationMin:     tested(func(r *layout.Run, f codes.Figure) { r.Tread = f.Value - 2*r.Riser }),
		codes.StairRelationMax:     tested(func(r *layout.Run, f codes.Figure) { r.Tread = f.Value - 2*r.Riser }),
		codes.StairNosingMin:       tested(func(r *layout.Run, f codes.Figure) { r.Tread, r.Nosing = 255*mm, f.Value }),
		codes.StairNosingMax:       tested(func(r *layout.Run, f codes.Figure) { r.Nosing = f.Value }),
		codes.HandrailHeightMin:    tested(separate),
		codes.HandrailHeightMax:    tested(separate),
		codes.StairNosingTread: func(_ *testing.T, rules codes.Applied, f codes.Figure) string {
			return fmt.Sprint(len(flightOf(rules, func(r *layout.Run) { r.Tread, r.Nosing = f.Value, 0 }).Stair.Asks))
		},
		codes.HandrailGripDiameterMin: roundGrip,
		codes.HandrailGripDiameterMax: roundGrip,
	}
}

func inZone(_ *testing.T, rules codes.Applied, f codes.Figure) string {
	inside, _ := codes.InClimbZone(rules, f.Value)
	return fmt.Sprint(inside)
}

func separate(r *layout.Run, f codes.Figure) {
	r.Handrail, r.HandrailSize, r.HandrailHeight = layout.HandrailSeparate, 40*mm, f.Value
}

func roundGrip(_ *testing.T, rules codes.Applied, f codes.Figure) string {
	return fmt.Sprint(flightOf(rules, func(r *layout.Run) {
		r.Handrail, r.HandrailSize, r.HandrailHeight = layout.HandrailSeparate, f.Value, 900*mm
	}).Stair.Graspable)
}

// A strict limit turned inclusive, or the other way, is another word at exactly the limit: for every figure with a bound of every
// rule set, through the code that acts on it where there is such code.
func TestStrictnessDecidesAtTheLimit(t *testing.T) {
	through, figures := map[string]bool{}, 0
	for _, set := range append(codes.All(), codes.Reference()) {
		for _, f := range set.Figures {
			if f.Bound == "" {
				continue
			}
			figures++
			other := f
			other.Bound = turned(f.Bound)
			switch {
			case f.Kind == codes.KindLength:
				if was, is := verdictAt(f), verdictAt(other); was == is || was != "fails the limit" && is != "fails the limit" {
					t.Errorf("%s %s: exactly at %s the word is %q, and with %q it is %q", set.ID, f.Key, f.Text, was, other.Bound, is)
				}
			case f.Bound.TestNumber(f.Number, f.Number) == other.Bound.TestNumber(f.Number, f.Number):
				t.Errorf("%s %s: exactly at %s %q and %q say the same", set.ID, f.Key, f.Text, f.Bound, other.Bound)
			}
			if decide := decisions()[f.Key]; decide != nil {
				through[f.Key] = true
				if was, is := decide(t, withBound(t, set, f.Key, f.Bound), f), decide(t, withBound(t, set, f.Key, other.Bound), f); was == is {
					t.Errorf("%s %s: exactly at %s the program says %q with %q and with %q", set.ID, f.Key, f.Text, was, f.Bound, other.Bound)
				}
			}
		}
	}
	for key := range decisions() {
		if !through[key] {
			t.Errorf("no rule set has %s: its decision is not tried", key)
		}
	}
	if figures < 400 {
		t.Errorf("%d figures were tried", figures)
	}
}

// The same through the checks of a job: the word for a reading of exactly a limit, from rule set to verdict.
func TestStrictnessThroughTheChecks(t *testing.T) {
	tried := map[string]bool{}
	for _, set := range codes.All() {
		unit := set.Units
		for _, run := range []layout.Run{levelRun(), rakedRun()} {
			if run.Kind == layout.Rake {
				run.Risers = 5
			}
			s := source(t, set.ID, unit, run, nil, nil)
			for _, c := range checklist.Generate(s) {
				if c.Ask != checklist.AskLength && c.Ask != checklist.AskGap {
					continue
				}
				for _, l := range c.Limits {
					own, ok := set.Figure(l.Key)
					if !ok { // practice beside the rule set
						continue
					}
					other := s
					other.Rules = withBound(t, set, l.Key, turned(own.Bound))
					checks := checklist.Generate(other)
					i := slices.IndexFunc(checks, func(x checklist.Check) bool { return x.ID == c.ID })
					if i < 0 {
						t.Errorf("%s: %s is not asked any more", set.ID, c.ID)
						continue
					}
					at := l.Value
					was := checklist.Evaluate(c, checklist.Answer{Length: &at}, checklist.ToolTape, s.Style).Limit
					is := checklist.Evaluate(checks[i], checklist.Answer{Length: &at}, checklist.ToolTape, s.Style).Limit
					if (was == checklist.Outside) == (is == checklist.Outside) {
						t.Errorf("%s %s: at exactly %v, %q gives %q and %q gives %q", set.ID, c.ID, at, l.Bound, was, turned(l.Bound), is)
					}
					tried[l.Key] = true
				}
			}
		}
	}
	for _, key := range []string{
		codes.GuardHeightLevel, codes.GuardHeightStair, codes.OpeningLevel, codes.OpeningStair, codes.OpeningTriangle, codes.OpeningUnderRail, codes.StairRiserMax, codes.StairTreadMin,
		codes.StairRiserUniform, codes.StairRiserUniformAdjacent, codes.StairTreadUniform, codes.HandrailHeightMin, codes.HandrailHeightMax, codes.BoltEdgeMin,
	} {
		if !tried[key] {
			t.Errorf("no check was held to %s", key)
		}
	}
}
