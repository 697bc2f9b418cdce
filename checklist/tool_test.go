package checklist_test

import (
	"testing"

	"newelbook/checklist"
	"newelbook/checklist/length"
)

// Steel tape and rule: OIML R 35, class II, 0.3 mm + 0.2 mm for each metre begun; reading, hook, bubble, gauge and estimate
// are common practice with no source.
func TestToolUncertainty(t *testing.T) {
	for _, tt := range []struct {
		tool checklist.Tool
		at   length.Length
		want length.Length
	}{
		{checklist.ToolTape, 0, mm * 17 / 10},
		{checklist.ToolTape, 4 * in, mm * 17 / 10},
		{checklist.ToolTape, 1000 * mm, mm * 17 / 10},
		{checklist.ToolTape, 1000*mm + 1, mm * 19 / 10},
		{checklist.ToolTape, 36 * in, mm * 17 / 10},
		{checklist.ToolTape, 42 * in, mm * 19 / 10},
		{checklist.ToolTape, 2400 * mm, mm * 21 / 10},
		{checklist.ToolTape, -2400 * mm, mm * 21 / 10},
		{checklist.ToolRule, 4 * in, mm * 13 / 10},
		{checklist.ToolLevel, in / 8, mm * 19 / 10},
		{checklist.ToolGauge, 4 * in, mm / 2},
		{checklist.ToolEye, 4 * in, in / 2},
		{checklist.ToolHand, 4 * in, in / 2},
		{"", 4 * in, in / 2},
		// Classes I and III of OIML R 35: 0.1 + 0.1 and 0.6 + 0.4 mm a metre begun.
		{checklist.ToolTapeI, 4 * in, mm * 14 / 10},
		{checklist.ToolTapeI, 42 * in, mm * 15 / 10},
		{checklist.ToolTapeIII, 4 * in, mm * 22 / 10},
		{checklist.ToolTapeIII, 2400 * mm, mm * 30 / 10},
		{checklist.ToolFolding, 42 * in, mm * 22 / 10},
		{checklist.ToolDigital, in / 8, mm * 34 / 10},
		{checklist.ToolLaser, 9000 * mm, 2 * mm},
		{checklist.ToolMeter, 4 * in, in / 2},
		// The job's own, with the doubt that it was stated to have; none stated is no tool.
		{checklist.OwnTape(in / 32), 42 * in, in / 32},
		{checklist.OwnTape(mm / 2), 0, mm / 2},
		{checklist.OwnTape(0), 4 * in, in / 2},
		{checklist.ToolOwn, 4 * in, in / 2},
		{"own tape, out by up to -1 mm", 4 * in, in / 2},
	} {
		if got := tt.tool.Uncertainty(tt.at); got != tt.want {
			t.Errorf("%q at %v: %v, want %v", tt.tool, tt.at, got, tt.want)
		}
	}
	// About 1/16 in under a metre, as the shop has it.
	if got, want := checklist.ToolTape.Uncertainty(4*in).Format(length.InchFraction), `1/16"`; got != want {
		t.Errorf("tape at 4 in: %s, want %s", got, want)
	}
}

// A better tape decides what a worse one leaves too close to call; the class is kept with the reading.
func TestToolDecides(t *testing.T) {
	c := checklist.Check{Ask: checklist.AskLength, Limits: []checklist.Limit{limit("at least", 42*in)}}
	at := 42*in + 16*mm/10
	for tool, want := range map[checklist.Tool]checklist.Verdict{
		checklist.ToolTapeI: checklist.Good, checklist.ToolTape: checklist.TooClose, checklist.ToolTapeIII: checklist.TooClose,
		checklist.OwnTape(in / 32): checklist.Good, checklist.OwnTape(in / 8): checklist.TooClose, checklist.ToolLaser: checklist.TooClose,
	} {
		if got := checklist.Evaluate(c, lengthAnswer(at), tool, length.InchFraction); got.Verdict != want {
			t.Errorf("%s: %s %s", tool, got.Verdict.Word(), got.Why)
		}
	}
}

func TestToolWords(t *testing.T) {
	for _, tool := range append(checklist.Tools(), checklist.ToolOwn, checklist.OwnTape(in/32)) {
		if tool.Words(length.InchFraction) == "" {
			t.Errorf("%q has no words", tool)
		}
	}
	if got := checklist.OwnTape(in / 32).Words(length.InchFraction); got != `the job's own tape, out by up to 1/32"` {
		t.Errorf("own tape: %s", got)
	}
}
