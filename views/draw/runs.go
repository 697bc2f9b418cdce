package draw

import (
	"regexp"
	"strings"
)

// RunKind says how a run of a text is set.
type RunKind int

// Kinds of run.
const (
	Plain    RunKind = iota
	Whole            // the whole number of a mixed number with its blank, which is set narrow
	Fraction         // 15/16, set as a fraction
)

// Run is a piece of a text that is set in one way.
type Run struct {
	Kind RunKind
	Body string
}

// fraction finds a fraction with what stands before it: a whole number and a blank, or nothing.
var fraction = regexp.MustCompile(`(?:\b(\d+ ))?\b(\d{1,2}/\d{1,2})\b`)

// unitMark finds the straight marks of feet and inches behind a figure.
var unitMark = regexp.MustCompile(`(\d)(['"])`)

// Runs splits a text into runs, so that every writer sets fractions in the same places. Joined, the runs are the text
// again, but for a straight foot or inch mark behind a figure, which becomes a true prime. Dates such as 1/12/2026 are
// left alone. An empty text has no runs.
func Runs(text string) []Run {
	if strings.ContainsAny(text, `'"`) { // a pattern costs far more than a look, and a drawing measures hundreds of texts
		text = unitMark.ReplaceAllStringFunc(text, func(m string) string {
			if strings.HasSuffix(m, "'") {
				return m[:len(m)-1] + "′"
			}
			return m[:len(m)-1] + "″"
		})
	}
	if text != "" && !strings.Contains(text, "/") {
		return []Run{{Kind: Plain, Body: text}}
	}
	var runs []Run
	add := func(k RunKind, body string) {
		if body != "" {
			runs = append(runs, Run{Kind: k, Body: body})
		}
	}
	last := 0
	for _, m := range fraction.FindAllStringSubmatchIndex(text, -1) {
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

// joined says that text[from:to] is part of something longer, such as a date, a path or a decimal.
func joined(text string, from, to int) bool {
	if from > 0 && strings.IndexByte("/.", text[from-1]) >= 0 {
		return true
	}
	if to == len(text) {
		return false
	}
	return text[to] == '/' || text[to] == '.' && to+1 < len(text) && text[to+1] >= '0' && text[to+1] <= '9'
}
