package checklist_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

func TestParseMoisture(t *testing.T) {
	for text, want := range map[string]checklist.Moisture{
		"19": 190, "19 %": 190, "19%": 190, " 18.5 ": 185, "0": 0, "7.0 %": 70, "300": 3000,
	} {
		if got, err := checklist.ParseMoisture(text); err != nil || got != want {
			t.Errorf("%q is %d, %v, want %d", text, got, err, want)
		}
	}
	for _, text := range []string{"", "%", "-3", "+3", "18.55", "18.", ".5", "18,5", "300.1", "wet", "1e2", "99999999999"} {
		if got, err := checklist.ParseMoisture(text); err == nil {
			t.Errorf("%q is taken as %s", text, got)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		m := checklist.Moisture(rapid.Int64Range(0, 3000).Draw(t, "tenths"))
		if back, err := checklist.ParseMoisture(m.String()); err != nil || back != m {
			t.Fatalf("%s is read as %s, %v", m, back, err)
		}
	})
}

// Dry means 19 % or less by default (PS 20, secondary text), the meter's doubt is 2 % (from memory of makers' data): nearer than that it is
// too close to call, and on the other side than the stock was entered it is off the layout, either way.
func TestMoistureAgainstWhatWasEntered(t *testing.T) {
	const dry, wet = false, true
	for _, tt := range []struct {
		got    checklist.Moisture
		wet    bool
		want   checklist.Verdict
		layout checklist.Outcome
		why    string
	}{
		{120, dry, checklist.Good, checklist.Inside, "12 % is no more than the 19 % that counts as dry here, as the stock was entered."},
		{170, dry, checklist.Good, checklist.Inside, "no more than the 19 %"},
		{171, dry, checklist.TooClose, checklist.Uncertain, "by less than the meter's own doubt of 2 %"},
		{190, dry, checklist.TooClose, checklist.Uncertain, "19 % is no more than the 19 %"},
		{191, dry, checklist.OffLayout, checklist.Outside, "19.1 % is over the 19 % that counts as dry here, and the stock was entered as dry. Enter"},
		{300, dry, checklist.OffLayout, checklist.Outside, "tests the gaps at their dry size too."},
		{300, wet, checklist.Good, checklist.Inside, "30 % is over the 19 % that counts as dry here, as the stock was entered."},
		{210, wet, checklist.Good, checklist.Inside, "over the 19 %"},
		{209, wet, checklist.TooClose, checklist.Uncertain, "by less than the meter's own doubt"},
		{190, wet, checklist.OffLayout, checklist.Outside, "and the stock was entered as wet. Enter the baluster stock as dry"},
		{100, wet, checklist.OffLayout, checklist.Outside, "has shrunk already."},
	} {
		entered := layout.StockDry
		if tt.wet {
			entered = layout.StockWet
		}
		c := find(t, checklist.Generate(source(t, "irc-2018", length.Inches, levelRun(), func(s *layout.Spec) { s.InfillMoisture = entered }, nil)), "k7d2.infill.moisture")
		r := checklist.Evaluate(c, checklist.Answer{Moisture: &tt.got}, checklist.ToolMeter, length.InchFraction)
		if r.Verdict != tt.want || r.Layout != tt.layout || r.Limit != checklist.NotHeld || !strings.Contains(r.Why, tt.why) {
			t.Errorf("%s of %s stock: %+v, want %s saying %q", tt.got, entered, r, tt.want, tt.why)
		}
	}
}

// What counts as dry is the job's own; the meter is the only tool that reads it, and nothing else is an answer.
func TestMoistureIsTheJobsOwn(t *testing.T) {
	checks := checklist.Generate(source(t, "irc-2018", length.Inches, levelRun(), func(s *layout.Spec) { s.DryMoisture, s.PostMoisture = 15, layout.StockWet }, nil))
	posts, rails := find(t, checks, "k7d2/P2.posts.moisture"), find(t, checks, "k7d2.rails.moisture")
	if !posts.Moist.Wet || posts.Moist.Dry != 150 || rails.Moist.Wet || rails.Moist.Dry != 150 || posts.HeldTo(length.Metric) != "over 15 %, entered as wet" || rails.HeldTo(length.Metric) != "at most 15 %, entered as dry" {
		t.Errorf("held to %s and %s", posts.HeldTo(length.Metric), rails.HeldTo(length.Metric))
	}
	for _, c := range []checklist.Check{posts, rails} {
		if !strings.Contains(c.How, "no correction for species, treatment or cold is worked out here") || !strings.Contains(c.Source, "the job's own figure") || len(c.Limits) != 0 {
			t.Errorf("%s: %s (%s)", c.ID, c.How, c.Source)
		}
		twelve, much := checklist.Moisture(120), checklist.Moisture(3001)
		if checklist.UsualTool(c, checklist.Answer{}) != checklist.ToolMeter {
			t.Errorf("%s is read with %s", c.ID, checklist.UsualTool(c, checklist.Answer{}))
		}
		if r := checklist.Evaluate(c, checklist.Answer{Moisture: &twelve}, checklist.ToolEye, length.Metric); r.Verdict != checklist.TooClose {
			t.Errorf("%s by eye is %s", c.ID, r.Verdict.Word())
		}
		for _, a := range []checklist.Answer{{Moisture: &much}, lengthAnswer(12 * mm), countAnswer(12), {Seen: checklist.SeenYes}, {Gauge: checklist.GaugeStopped}} {
			if sentence, ok := checklist.CheckAnswer(c, a); ok || sentence == "" {
				t.Errorf("%s takes %+v", c.ID, a)
			}
		}
	}
}

// A reading wetter than another never comes out better where the stock was entered as dry, nor drier where it was entered as wet.
func TestMoistureIsMonotone(t *testing.T) {
	rank := map[checklist.Verdict]int{checklist.OffLayout: 0, checklist.TooClose: 1, checklist.Good: 2}
	rapid.Check(t, func(t *rapid.T) {
		c := checklist.Check{Ask: checklist.AskMoist, Moist: &checklist.Moist{Dry: checklist.Moisture(rapid.Int64Range(0, 400).Draw(t, "dry")), Wet: rapid.Bool().Draw(t, "wet")}}
		low := checklist.Moisture(rapid.Int64Range(0, 3000).Draw(t, "low"))
		high := checklist.Moisture(rapid.Int64Range(int64(low), 3000).Draw(t, "high"))
		judge := func(m checklist.Moisture) int {
			return rank[checklist.Evaluate(c, checklist.Answer{Moisture: &m}, checklist.ToolMeter, length.Metric).Verdict]
		}
		if better, worse := judge(low), judge(high); c.Moist.Wet && better > worse || !c.Moist.Wet && better < worse {
			t.Fatalf("%s and %s against %+v: %d, %d", low, high, *c.Moist, better, worse)
		}
	})
}
