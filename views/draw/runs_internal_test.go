package draw

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Runs, as patterns say it.
var (
	fractionPattern = regexp.MustCompile(`(?:\b(\d+ ))?\b(\d{1,2}/\d{1,2})\b`)
	markPattern     = regexp.MustCompile(`(\d)(['"])`)
)

func runsByPattern(text string) []Run {
	text = markPattern.ReplaceAllStringFunc(text, func(m string) string {
		return m[:1] + map[string]string{"'": "′", `"`: "″"}[m[1:]]
	})
	var runs []Run
	add := func(k RunKind, body string) {
		if body != "" {
			runs = append(runs, Run{Kind: k, Body: body})
		}
	}
	last := 0
	for _, m := range fractionPattern.FindAllStringSubmatchIndex(text, -1) {
		if joined(text, m[4], m[1]) {
			continue
		}
		add(Plain, text[last:m[0]])
		if m[2] >= 0 {
			add(Whole, text[m[2]:m[3]])
		}
		add(Fraction, text[m[4]:m[5]])
		last = m[1]
	}
	add(Plain, text[last:])
	return runs
}

// TestRunsFollowThePatterns holds what is written out to what the patterns say, on texts of the characters that matter.
func TestRunsFollowThePatterns(t *testing.T) {
	pieces := rapid.SampledFrom([]string{"0", "1", "12", "345", "/", "/", " ", " ", ".", "'", `"`, "a", "_", "-", "′", "½", "\xff", "1/2", "3 1/4", "15/16\""})
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(pieces, 0, 14).Draw(t, "pieces"), "")
		if got, want := Runs(text), runsByPattern(text); !slices.Equal(got, want) {
			t.Fatalf("Runs(%q) = %+v, want %+v", text, got, want)
		}
	})
}
