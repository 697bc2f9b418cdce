package checklist_test

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist"
	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

const (
	in = length.Inch
	mm = length.Millimetre
	th = length.SixtyFourth
)

// limit is a limit with a made-up clause, where the clause does not matter.
func limit(bound codes.Bound, value length.Length) checklist.Limit {
	return checklist.Limit{Key: "sample." + string(bound), Bound: bound, Value: value, Clause: "1.1", Edition: "Sample code", Standing: "memory"}
}

// figure is the limit of a rule set's figure, as Generate freezes it.
func figure(t testing.TB, set, key string) checklist.Limit {
	t.Helper()
	rules, err := codes.Get(set)
	if err != nil {
		t.Fatal(err)
	}
	f, ok := rules.Figure(key)
	if !ok {
		t.Fatalf("%s has no figure %s", set, key)
	}
	return checklist.Limit{Key: f.Key, Bound: f.Bound, Value: f.Value, Clause: f.Clause, Edition: f.Edition, Standing: string(f.Standing)}
}

func lengthAnswer(l length.Length) checklist.Answer { return checklist.Answer{Length: &l} }

func countAnswer(n int) checklist.Answer { return checklist.Answer{Count: &n} }

func nominal(c checklist.Check, at, plus, minus length.Length) checklist.Check {
	c.Nominal, c.Plus, c.Minus, c.HasTol = &at, plus, minus, true
	return c
}

// Readings at the exact limits of strict and inclusive figures. Ids are those of the trade's check values.
func TestEvaluateAtTheExactLimit(t *testing.T) {
	for _, tt := range []struct {
		id, set, key string
		reading      length.Length
		want         checklist.Outcome
	}{
		// IRC heights: not less than, so equal passes (R312.1.2 and its exception 1).
		{"A09", "irc-2018", codes.GuardHeightLevel, 36 * in, checklist.Uncertain},
		{"A09", "irc-2018", codes.GuardHeightLevel, 36*in - in/10, checklist.Outside},
		{"A10", "irc-2018", codes.GuardHeightStair, 34 * in, checklist.Uncertain},
		{"A10", "irc-2018", codes.GuardHeightStair, 34*in - in/10, checklist.Outside},
		// IRC openings: a sphere must not pass, so equal fails (R312.1.3).
		{"B01", "irc-2018", codes.OpeningLevel, 4*in - in/100, checklist.Uncertain},
		{"B01", "irc-2018", codes.OpeningLevel, 4 * in, checklist.Outside},
		{"B03", "irc-2018", codes.OpeningLevel, 4*in + in/4, checklist.Outside},
		{"", "irc-2018", codes.OpeningLevel, 4*in - 1, checklist.Uncertain},
		{"", "irc-2018", codes.OpeningStair, 4*in + 24*th, checklist.Outside},
		{"", "irc-2018", codes.OpeningStair, 4*in + 8*th, checklist.Inside},
		{"", "irc-2018", codes.OpeningTriangle, 6 * in, checklist.Outside},
		// IRC handrail: 34 to 38 in, both inclusive (R311.7.8.1).
		{"D09", "irc-2018", codes.HandrailHeightMin, 34 * in, checklist.Uncertain},
		{"D09", "irc-2018", codes.HandrailHeightMax, 38 * in, checklist.Uncertain},
		{"D09", "irc-2018", codes.HandrailHeightMin, 33*in + in*3/4, checklist.Outside},
		{"", "irc-2018", codes.HandrailHeightMax, 38*in + 1, checklist.Outside},
		// Canada: at least 900 mm up to 1,800 mm above the ground (9.8.8.3.(3)).
		{"A14", "ontario-9.8", codes.GuardHeightLevelLow, 900 * mm, checklist.Uncertain},
		{"", "ontario-9.8", codes.GuardHeightLevelLow, 900*mm - 1, checklist.Outside},
		// Ontario: a sphere of more than 100 mm must be stopped, so exactly 100 mm passes (9.8.8.5).
		{"", "ontario-9.8", codes.OpeningLevel, 100 * mm, checklist.Uncertain},
		{"", "ontario-9.8", codes.OpeningLevel, 100*mm + 1, checklist.Outside},
	} {
		c := checklist.Check{Ask: checklist.AskLength, Limits: []checklist.Limit{figure(t, tt.set, tt.key)}}
		got := checklist.Evaluate(c, lengthAnswer(tt.reading), checklist.ToolTape, length.InchFraction)
		if got.Limit != tt.want {
			t.Errorf("%s %s %s of %v: limit result %q, want %q", tt.id, tt.set, tt.key, tt.reading, got.Limit, tt.want)
		}
		if want := map[checklist.Outcome]checklist.Verdict{
			checklist.Outside: checklist.FailsLimit, checklist.Uncertain: checklist.TooClose, checklist.Inside: checklist.Good,
		}[tt.want]; got.Verdict != want {
			t.Errorf("%s %s %s of %v: verdict %q, want %q", tt.id, tt.set, tt.key, tt.reading, got.Verdict, want)
		}
	}
}

// The guard band is open: a reading inside by exactly the uncertainty is inside (JCGM 106: accepted at the guarded limit).
func TestEvaluateGuardBand(t *testing.T) {
	doubt := checklist.ToolTape.Uncertainty(4 * in)
	for _, tt := range []struct {
		name  string
		bound codes.Bound
		by    length.Length
		want  checklist.Outcome
	}{
		{"under, by the doubt", codes.Under, -doubt, checklist.Inside},
		{"under, by a nanometre less", codes.Under, -doubt + 1, checklist.Uncertain},
		{"under, at the figure", codes.Under, 0, checklist.Outside},
		{"at most, by the doubt", codes.AtMost, -doubt, checklist.Inside},
		{"at most, at the figure", codes.AtMost, 0, checklist.Uncertain},
		{"at most, a nanometre over", codes.AtMost, 1, checklist.Outside},
		{"at least, by the doubt", codes.AtLeast, doubt, checklist.Inside},
		{"at least, at the figure", codes.AtLeast, 0, checklist.Uncertain},
		{"at least, a nanometre short", codes.AtLeast, -1, checklist.Outside},
		{"over, by the doubt", codes.Over, doubt, checklist.Inside},
		{"over, by a nanometre", codes.Over, 1, checklist.Uncertain},
		{"over, at the figure", codes.Over, 0, checklist.Outside},
		// Nothing is inside a bound that nobody knows.
		{"unknown bound", "about", 0, checklist.Outside},
	} {
		c := checklist.Check{Ask: checklist.AskLength, Limits: []checklist.Limit{limit(tt.bound, 4*in)}}
		if got := checklist.Evaluate(c, lengthAnswer(4*in+tt.by), checklist.ToolTape, length.Metric); got.Limit != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got.Limit, tt.want)
		}
	}
}

func TestEvaluateSays(t *testing.T) {
	level, stair := figure(t, "irc-2018", codes.OpeningLevel), figure(t, "irc-2018", codes.GuardHeightStair)
	gap := checklist.Check{Ask: checklist.AskGap, Title: "Widest gap", Limits: []checklist.Limit{level}}
	layoutGap := nominal(gap, 3*in+in*3/4, in/8, in/8)
	place := nominal(checklist.Check{Ask: checklist.AskLength}, 41*in+in/2, in/4, in/4)
	rail := nominal(checklist.Check{Ask: checklist.AskLength}, 68*in+in/2, 0, in/16)
	plumb := nominal(checklist.Check{Ask: checklist.AskSigned}, 0, in/4, in/4)
	sleeve := nominal(checklist.Check{Ask: checklist.AskSigned}, 0, 0, in/8)
	height := checklist.Check{Ask: checklist.AskLength, Limits: []checklist.Limit{stair}}
	amended := limit(codes.AtLeast, 42*in)
	amended.Amended = "R. Sample, Sample Town, 2026-03-14"
	seen := checklist.Check{Ask: checklist.AskSeen, Title: "Blocking is in"}
	photo := checklist.Check{Ask: checklist.AskPhoto, Title: "Photograph: inside face", PhotoShows: "both bolts", Hold: true}
	thirteen := 13
	count := checklist.Check{Ask: checklist.AskCount, Count: &thirteen}

	for _, tt := range []struct {
		name    string
		check   checklist.Check
		answer  checklist.Answer
		tool    checklist.Tool
		style   length.Style
		verdict checklist.Verdict
		why     string
	}{
		{"no answer", gap, checklist.Answer{}, checklist.ToolTape, length.InchFraction, checklist.NotChecked, `Not checked yet.`},
		{"a reason is no answer", seen, checklist.Answer{Reason: "later"}, checklist.ToolEye, length.InchFraction, checklist.NotChecked, `Not checked yet.`},
		{"outside", gap, lengthAnswer(4*in + 4*th), checklist.ToolTape, length.InchFraction, checklist.FailsLimit,
			`4 1/16" is not under 4" (R312.1.3, 2018 IRC, official text).`},
		{"outside by less than shows", gap, lengthAnswer(4*in + in/1000), checklist.ToolTape, length.InchFraction, checklist.FailsLimit,
			`4.001" is not under 4.000" (R312.1.3, 2018 IRC, official text).`},
		{"exactly at a strict figure", gap, lengthAnswer(4 * in), checklist.ToolTape, length.InchFraction, checklist.FailsLimit,
			`4" is not under 4" (R312.1.3, 2018 IRC, official text).`},
		{"too close", gap, lengthAnswer(4*in - 4*th), checklist.ToolTape, length.InchFraction, checklist.TooClose,
			`3 15/16" is under 4" by 1/16", no more than the tape's own doubt of 1/16": measure again with care, or try a gauge.`},
		{"too close, at an inclusive figure", height, lengthAnswer(34 * in), checklist.ToolTape, length.InchFraction, checklist.TooClose,
			`34" is at least 34" with nothing to spare, and the tape's own doubt is 1/16": measure again with care, or adjust it.`},
		{"inside a limit alone", gap, lengthAnswer(3*in + in*3/4), checklist.ToolTape, length.InchFraction, checklist.Good,
			`3 3/4" is under 4" by 1/4" (R312.1.3, 2018 IRC, official text).`},
		{"inside both", layoutGap, lengthAnswer(3*in + in*3/4), checklist.ToolTape, length.InchFraction, checklist.Good,
			`3 3/4" is within 1/8" of the 3 3/4" on the layout; it is under 4" by 1/4" (R312.1.3, 2018 IRC, official text).`},
		{"off the layout, inside the limit", layoutGap, lengthAnswer(3*in + in/2), checklist.ToolTape, length.InchFraction, checklist.OffLayout,
			`3 1/2" is 1/4" under the 3 3/4" on the layout, more than the 1/8" allowed; it is under 4" by 1/2" (R312.1.3, 2018 IRC, official text).`},
		// Precedence: too close to call stands before off the layout, and the limit before both.
		{"too close and off the layout", layoutGap, lengthAnswer(4*in - 2*th), checklist.ToolTape, length.InchFraction, checklist.TooClose,
			`3 31/32" is under 4" by 1/32", no more than the tape's own doubt of 1/16": measure again with care, or try a gauge. ` +
				`Off the layout as well: 3 31/32" is 7/32" over the 3 3/4" on the layout, more than the 1/8" allowed.`},
		{"past the limit and off the layout", layoutGap, lengthAnswer(4*in + 4*th), checklist.ToolTape, length.InchFraction, checklist.FailsLimit,
			`4 1/16" is not under 4" (R312.1.3, 2018 IRC, official text). Off the layout as well: 4 1/16" is 5/16" over the 3 3/4" on the layout, more than the 1/8" allowed.`},
		{"amended figure", checklist.Check{Ask: checklist.AskLength, Limits: []checklist.Limit{amended}}, lengthAnswer(36 * in), checklist.ToolTape, length.FeetInches, checklist.FailsLimit,
			`3' 0" is not at least 3' 6" (said by R. Sample, Sample Town, 2026-03-14 for this job, 1.1, Sample code).`},

		{"within the tolerance", place, lengthAnswer(41*in + 24*th), checklist.ToolTape, length.InchFraction, checklist.Good,
			`41 3/8" is within 1/4" of the 41 1/2" on the layout.`},
		{"at the tolerance", place, lengthAnswer(41*in + 48*th), checklist.ToolTape, length.InchFraction, checklist.Good,
			`41 3/4" is within 1/4" of the 41 1/2" on the layout.`},
		{"over the tolerance", place, lengthAnswer(41*in + 52*th), checklist.ToolTape, length.InchFraction, checklist.OffLayout,
			`41 13/16" is 5/16" over the 41 1/2" on the layout, more than the 1/4" allowed.`},
		{"over by less than shows", place, lengthAnswer(41*in + 48*th + 1000), checklist.ToolTape, length.InchFraction, checklist.OffLayout,
			`41 3/4" is 0.25004" over the 41 1/2" on the layout, more than the 0.25000" allowed.`},
		{"rail long", rail, lengthAnswer(68*in + in/2 + 2*th), checklist.ToolTape, length.InchFraction, checklist.OffLayout,
			`68 17/32" is 1/32" over the 68 1/2" on the layout, and none of that is allowed.`},
		{"rail short, allowed", rail, lengthAnswer(68*in + in/2 - 4*th), checklist.ToolTape, length.InchFraction, checklist.Good,
			`68 7/16" is 1/16" under the 68 1/2" on the layout, no more than the 1/16" allowed.`},
		{"rail exact", rail, lengthAnswer(68*in + in/2), checklist.ToolTape, length.InchFraction, checklist.Good,
			`68 1/2" is the length on the layout.`},
		{"plumb", plumb, lengthAnswer(-in / 8), checklist.ToolLevel, length.InchFraction, checklist.Good,
			`-1/8" is within the ±1/4" that the layout allows.`},
		{"out of plumb", plumb, lengthAnswer(-in * 3 / 8), checklist.ToolLevel, length.InchFraction, checklist.OffLayout,
			`-3/8" is outside the ±1/4" that the layout allows.`},
		{"sleeve proud", sleeve, lengthAnswer(in / 16), checklist.ToolRule, length.InchFraction, checklist.OffLayout,
			`1/16" is outside the +0" -1/8" that the layout allows.`},
		{"sleeve flush", sleeve, lengthAnswer(0), checklist.ToolRule, length.InchFraction, checklist.Good,
			`0" is within the +0" -1/8" that the layout allows.`},
		{"nothing to hold it to", checklist.Check{Ask: checklist.AskLength}, lengthAnswer(1940 * mm), checklist.ToolTape, length.Metric, checklist.Good,
			`1940 mm was recorded; there is no figure to hold it to.`},

		{"count as laid out", count, countAnswer(13), checklist.ToolEye, length.InchFraction, checklist.Good, `13 was counted, as on the layout.`},
		{"one too few", count, countAnswer(12), checklist.ToolEye, length.InchFraction, checklist.OffLayout, `12 was counted; the layout has 13.`},
		{"count of nothing in particular", checklist.Check{Ask: checklist.AskCount}, countAnswer(2), checklist.ToolEye, length.InchFraction, checklist.Good,
			`2 was counted; the layout has no count to hold it to.`},

		{"gauge stopped", gap, checklist.Answer{Gauge: checklist.GaugeStopped}, checklist.ToolGauge, length.InchFraction, checklist.Good,
			`A 4" gauge was stopped (under 4", R312.1.3, 2018 IRC, official text).`},
		{"gauge passed", gap, checklist.Answer{Gauge: checklist.GaugePassed}, checklist.ToolGauge, length.InchFraction, checklist.FailsLimit,
			`A 4" gauge passed, so the opening is not under 4" (R312.1.3, 2018 IRC, official text).`},

		{"seen", seen, checklist.Answer{Seen: checklist.SeenYes}, checklist.ToolEye, length.InchFraction, checklist.Good, `Seen to be so: blocking is in.`},
		{"seen not", seen, checklist.Answer{Seen: checklist.SeenNo}, checklist.ToolEye, length.InchFraction, checklist.OffLayout, `Seen not to be so: blocking is in.`},
		{"seen not, with a limit", checklist.Check{Ask: checklist.AskSeen, Title: "No foothold", Limits: []checklist.Limit{limit(codes.Under, 140*mm)}},
			checklist.Answer{Seen: checklist.SeenNo}, checklist.ToolEye, length.Metric, checklist.FailsLimit, `Seen not to be so: no foothold (1.1, Sample code, memory).`},
		{"does not apply", seen, checklist.Answer{Seen: checklist.SeenNA, Reason: "No blocking on a wall end."}, checklist.ToolEye, length.InchFraction, checklist.Good,
			`Not applicable: no blocking on a wall end.`},
		{"photograph", photo, checklist.Answer{Seen: checklist.SeenYes}, checklist.ToolEye, length.InchFraction, checklist.Good, `Filed as showing: both bolts.`},
		{"photograph does not show it", photo, checklist.Answer{Seen: checklist.SeenNo}, checklist.ToolEye, length.InchFraction, checklist.OffLayout,
			`The photograph does not show it: both bolts.`},
		// Nothing that should have been measured, and no hold point, is met by leaving it out.
		{"no photograph", photo, checklist.Answer{Seen: checklist.SeenNA, Reason: "The joist hides it"}, checklist.ToolEye, length.InchFraction, checklist.NotChecked,
			`No photograph, because the joist hides it.`},
		{"hold point left out", checklist.Check{Ask: checklist.AskSeen, Hold: true, Title: "x"}, checklist.Answer{Seen: checklist.SeenNA, Reason: "no need"}, checklist.ToolEye,
			length.InchFraction, checklist.NotChecked, `Not checked, said not to apply; a hold point is not met by that: no need.`},
		{"gap left out", gap, checklist.Answer{Seen: checklist.SeenNA, Reason: "out of reach"}, checklist.ToolEye, length.InchFraction, checklist.NotChecked,
			`Not measured, said not to apply: out of reach.`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := checklist.Evaluate(tt.check, tt.answer, tt.tool, tt.style)
			if got.Verdict != tt.verdict || got.Why != tt.why {
				t.Errorf("Evaluate = %q, %s\nwant      %q, %s", got.Verdict, got.Why, tt.verdict, tt.why)
			}
		})
	}
}

func TestEvaluateHeldTo(t *testing.T) {
	thirteen := 13
	for _, tt := range []struct {
		check checklist.Check
		want  string
	}{
		{checklist.Check{Ask: checklist.AskGap, Limits: []checklist.Limit{figure(t, "irc-2018", codes.OpeningLevel)}}, `under 4", R312.1.3, 2018 IRC, official text`},
		{nominal(checklist.Check{Ask: checklist.AskLength}, 41*in+in/2, in/4, in/4), `41 1/2" ±1/4", layout`},
		{nominal(checklist.Check{Ask: checklist.AskLength, Limits: []checklist.Limit{limit(codes.AtLeast, 2*in)}}, 2*in+in/2, in/4, 0),
			`at least 2", 1.1, Sample code, memory; 2 1/2" +1/4" -0", layout`},
		{checklist.Check{Ask: checklist.AskCount, Count: &thirteen}, "13, layout"},
		{checklist.Check{Ask: checklist.AskSeen}, ""},
	} {
		if got := checklist.Evaluate(tt.check, checklist.Answer{}, checklist.ToolTape, length.InchFraction).HeldTo; got != tt.want {
			t.Errorf("HeldTo = %q, want %q", got, tt.want)
		}
	}
}

// The worst of several limits governs, and its margin and doubt are those of the result.
func TestEvaluateWorstLimitGoverns(t *testing.T) {
	low, high := figure(t, "irc-2018", codes.HandrailHeightMin), figure(t, "irc-2018", codes.HandrailHeightMax)
	for _, tt := range []struct {
		reading length.Length
		want    checklist.Outcome
		margin  length.Length
	}{
		{36 * in, checklist.Inside, 2 * in},
		{35 * in, checklist.Inside, 1 * in},
		{34 * in, checklist.Uncertain, 0},
		{38*in - 1, checklist.Uncertain, 1},
		{39 * in, checklist.Outside, -in},
		{33 * in, checklist.Outside, -in},
	} {
		for _, limits := range [][]checklist.Limit{{low, high}, {high, low}} {
			got := checklist.Evaluate(checklist.Check{Ask: checklist.AskLength, Limits: limits}, lengthAnswer(tt.reading), checklist.ToolTape, length.InchFraction)
			if got.Limit != tt.want || got.Margin != tt.margin {
				t.Errorf("%v: %q by %v, want %q by %v", tt.reading, got.Limit, got.Margin, tt.want, tt.margin)
			}
		}
	}
}

var bounds = []codes.Bound{codes.AtLeast, codes.AtMost, codes.Under, codes.Over}

func anyLimits() *rapid.Generator[[]checklist.Limit] {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) checklist.Limit {
		return limit(rapid.SampledFrom(bounds).Draw(t, "bound"), length.Length(rapid.Int64Range(1, 3_000_000_000).Draw(t, "value")))
	}), 0, 4)
}

func anyTool() *rapid.Generator[checklist.Tool] {
	return rapid.SampledFrom(append(checklist.Tools(), "", checklist.OwnTape(length.Millimetre/2), checklist.OwnTape(length.Inch/8)))
}

func anyCheck() *rapid.Generator[checklist.Check] {
	return rapid.Custom(func(t *rapid.T) checklist.Check {
		c := checklist.Check{
			Ask:   rapid.SampledFrom([]checklist.Ask{checklist.AskLength, checklist.AskSigned, checklist.AskCount, checklist.AskSeen, checklist.AskGap, checklist.AskPhoto, "other"}).Draw(t, "ask"),
			Title: "Sample", Limits: anyLimits().Draw(t, "limits"), Hold: rapid.Bool().Draw(t, "hold"),
		}
		if rapid.Bool().Draw(t, "nominal") {
			c = nominal(c, length.Length(rapid.Int64Range(-3_000_000_000, 3_000_000_000).Draw(t, "at")),
				length.Length(rapid.Int64Range(0, 10_000_000).Draw(t, "plus")), length.Length(rapid.Int64Range(0, 10_000_000).Draw(t, "minus")))
		}
		return c
	})
}

// Unmeasured is never a pass: no answer, or an answer of another kind, is never good and is inside nothing.
func TestUnmeasuredNeverPasses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyCheck().Draw(t, "check")
		tool := anyTool().Draw(t, "tool")
		answers := []checklist.Answer{{}, {Reason: "said so"}, {Seen: "maybe"}, {Gauge: "stuck"}}
		if c.Ask != checklist.AskSeen {
			answers = append(answers, checklist.Answer{Seen: checklist.SeenNA, Reason: "said so"})
		}
		if c.Ask != checklist.AskSeen && c.Ask != checklist.AskPhoto {
			answers = append(answers, checklist.Answer{Seen: checklist.SeenYes})
		}
		if c.Ask != checklist.AskCount {
			answers = append(answers, countAnswer(1))
		}
		for _, a := range answers {
			got := checklist.Evaluate(c, a, tool, length.InchFraction)
			if got.Verdict != checklist.NotChecked || got.Limit != checklist.NotHeld || got.Layout != checklist.NotHeld {
				t.Fatalf("Evaluate(%+v) = %+v, want not checked", a, got)
			}
			if !strings.HasSuffix(got.Why, ".") {
				t.Fatalf("Why %q is no finished sentence", got.Why)
			}
		}
	})
}

// Moving a reading further past a limit never betters its result against it.
func TestFurtherPastALimitIsNeverBetter(t *testing.T) {
	rank := map[checklist.Outcome]int{checklist.Inside: 0, checklist.Uncertain: 1, checklist.Outside: 2}
	rapid.Check(t, func(t *rapid.T) {
		l := limit(rapid.SampledFrom(bounds).Draw(t, "bound"), length.Length(rapid.Int64Range(1, 3_000_000_000).Draw(t, "value")))
		c := checklist.Check{Ask: checklist.AskGap, Limits: []checklist.Limit{l}}
		near := rapid.Int64Range(-3_000_000, 3_000_000).Draw(t, "near")
		a := max(0, l.Value+length.Length(near))
		further := length.Length(rapid.Int64Range(0, 2_000_000_000).Draw(t, "further"))
		b := a + further
		if l.Bound == codes.AtLeast || l.Bound == codes.Over {
			b = max(0, a-further)
		}
		tool := anyTool().Draw(t, "tool")
		before := checklist.Evaluate(c, lengthAnswer(a), tool, length.Metric)
		after := checklist.Evaluate(c, lengthAnswer(b), tool, length.Metric)
		if rank[after.Limit] < rank[before.Limit] || after.Margin > before.Margin {
			t.Fatalf("%v: %q by %v; %v, further past %s %v: %q by %v", a, before.Limit, before.Margin, b, l.Bound, l.Value, after.Limit, after.Margin)
		}
	})
}

// Nor does it where the tape's own doubt takes a step, at each metre: from 3 mm outside to 3 mm inside, once sure is always sure.
func TestAtAMetreAReadingIsNeverBetter(t *testing.T) {
	for _, tt := range []struct {
		bound codes.Bound
		value length.Length
	}{{codes.AtLeast, 2000*mm - 195*mm/100}, {codes.Under, 2000*mm + 200*mm/100}, {codes.AtMost, 1000*mm + 175*mm/100}} {
		c := checklist.Check{Ask: checklist.AskGap, Limits: []checklist.Limit{limit(tt.bound, tt.value)}}
		last := checklist.Outside
		for off := -300; off <= 300; off++ {
			got := tt.value + length.Length(off)*mm/100
			if tt.bound != codes.AtLeast {
				got = tt.value - length.Length(off)*mm/100
			}
			now := checklist.Evaluate(c, lengthAnswer(got), checklist.ToolTape, length.Metric).Limit
			if last == checklist.Inside && now != checklist.Inside {
				t.Fatalf("%s %v: %v is %q, and nearer the limit it was %q", tt.bound, tt.value, got, now, last)
			}
			last = now
		}
		if last != checklist.Inside {
			t.Errorf("%s %v: 3 mm inside is %q", tt.bound, tt.value, last)
		}
	}
}

// The order of a check's limits is irrelevant, the layout's result is apart from the limit's, the verdict follows the stated
// precedence, and every result is a finished sentence that claims nothing.
func TestResultsStandApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyCheck().Draw(t, "check")
		c.Ask = rapid.SampledFrom([]checklist.Ask{checklist.AskLength, checklist.AskSigned, checklist.AskGap}).Draw(t, "length ask")
		reading := lengthAnswer(length.Length(rapid.Int64Range(0, 3_000_000_000).Draw(t, "reading")))
		tool := anyTool().Draw(t, "tool")
		style := rapid.SampledFrom([]length.Style{length.FeetInches, length.InchFraction, length.Metric}).Draw(t, "style")
		got := checklist.Evaluate(c, reading, tool, style)

		mixed := c
		mixed.Limits = rapid.Permutation(c.Limits).Draw(t, "mixed")
		again := checklist.Evaluate(mixed, reading, tool, style)
		again.HeldTo = got.HeldTo
		if got != again {
			t.Fatalf("limits in another order: %+v, then %+v", got, again)
		}
		noLimits, noLayout := c, c
		noLimits.Limits, noLayout.HasTol = nil, false
		if alone := checklist.Evaluate(noLimits, reading, tool, style); alone.Layout != got.Layout || alone.Limit != checklist.NotHeld {
			t.Fatalf("without limits: %+v, with them %+v", alone, got)
		}
		if alone := checklist.Evaluate(noLayout, reading, tool, style); alone.Limit != got.Limit || alone.Layout != checklist.NotHeld {
			t.Fatalf("without a layout: %+v, with it %+v", alone, got)
		}
		want := checklist.Good
		switch {
		case got.Limit == checklist.Outside:
			want = checklist.FailsLimit
		case got.Limit == checklist.Uncertain:
			want = checklist.TooClose
		case got.Layout == checklist.Outside:
			want = checklist.OffLayout
		}
		if got.Verdict != want {
			t.Fatalf("verdict of %+v, want %q", got, want)
		}
		lower := strings.ToLower(got.Why)
		if !strings.HasSuffix(got.Why, ".") || slices.ContainsFunc([]string{"comply", "complies", "compliant", "passes code"}, func(word string) bool { return strings.Contains(lower, word) }) {
			t.Fatalf("Why = %q", got.Why)
		}
	})
}
