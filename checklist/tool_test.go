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
