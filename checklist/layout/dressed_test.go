package layout_test

import (
	"strings"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// Sizes by PS 20. The check values F01, F02 and F03 are among them.
func TestDressed(t *testing.T) {
	for _, tt := range []struct {
		id, name    string
		green       bool
		thick, wide float64 // inches
	}{
		{"F01", "2x4", false, 1.5, 3.5}, {"F01", "2x4", true, 1.5625, 3.5625},
		{"F02", "4x4", false, 3.5, 3.5}, {"F02", "6x6", false, 5.5, 5.5}, {"F02", "8x8", false, 7.25, 7.25},
		{"F03", "5/4x6", false, 1, 5.5}, {"F03", "2x6", false, 1.5, 5.5}, {"F03", "2x8", false, 1.5, 7.25}, {"F03", "2x10", false, 1.5, 9.25}, {"F03", "2x12", false, 1.5, 11.25},
		{"", "1x4", false, 0.75, 3.5}, {"", "1x4", true, 0.78125, 3.5625}, {"", "5/4x6", true, 1.03125, 5.625}, {"", "3x4", false, 2.5, 3.5},
		{"", "2x8", true, 1.5625, 7.5}, {"", "2x12", true, 1.5625, 11.5}, {"", "6x6", true, 5.5, 5.5}, {"", "8x8", true, 7.5, 7.5}, {"", "6 X 8", false, 5.5, 7.25},
	} {
		thick, wide, ok := layout.Dressed(tt.name, tt.green)
		if !ok || thick != inch(tt.thick) || wide != inch(tt.wide) {
			t.Errorf("%s Dressed(%q, green %t) = %v by %v, %t, want %v by %v in", tt.id, tt.name, tt.green, thick, wide, ok, tt.thick, tt.wide)
		}
	}
	for _, name := range []string{"", "4", "89x89", "2x5", "9x9", "6x4", "8x12", "2x4x6", "two by four", "0x4"} {
		if thick, wide, ok := layout.Dressed(name, false); ok || thick != 0 || wide != 0 {
			t.Errorf("Dressed(%q) = %v by %v, %t, want none", name, thick, wide, ok)
		}
	}
}

// A post entered with the yard's name for its size is told; one that was measured, and rough stock under another name, is not.
func TestStockEnteredByName(t *testing.T) {
	for _, tt := range []struct {
		name        string
		width, deep length.Length
		want        string
	}{
		{"4x4", 4 * length.Inch, 4 * length.Inch, `The posts are entered as 4", which is what the yard calls a 4x4 and not its size: dressed and dry it measures 3 1/2" by 3 1/2"`},
		{"6x6", inch(5.5), 6 * length.Inch, `The posts are entered as 6"`},
		{"4x4", inch(3.5), inch(3.5), ""},
		{"4x4", inch(3.5625), inch(3.5625), ""},
		{"rough 4x4", 4 * length.Inch, 4 * length.Inch, ""},
		{"89x89", 4 * length.Inch, 4 * length.Inch, ""},
	} {
		spec := layout.DefaultSpec(length.Inches)
		spec.PostNominal, spec.PostWidth, spec.PostDepth = tt.name, tt.width, tt.deep
		l := layout.Compute(layout.Input{Run: layout.Run{Label: "R1", Kind: layout.Level, Length: 72 * length.Inch}, Spec: spec, Rules: rules(t, "irc-2018"), Unit: length.Inches})
		got := ""
		for _, p := range l.Problems {
			if strings.Contains(p.Sentence, "the yard calls") {
				got += p.Sentence
			}
		}
		if (got == "") != (tt.want == "") || !strings.HasPrefix(got, tt.want) {
			t.Errorf("%s of %v by %v: %q, want %q", tt.name, tt.width, tt.deep, got, tt.want)
		}
	}
}
