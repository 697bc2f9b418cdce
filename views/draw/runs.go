package draw

import "strings"

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

// Runs splits a text into runs, so that every writer sets fractions in the same places. A fraction is one or two figures, a
// stroke, and one or two figures, and none of a longer word; a whole number and one blank may stand before it. Joined, the
// runs are the text again, but for a straight foot or inch mark behind a figure, which becomes a true prime. Dates such as
// 1/12/2026 are left alone. An empty text has no runs.
//
// It is written out because drawings measure and pages set hundreds of texts: matching patterns took most of that time.
func Runs(text string) []Run {
	text = primed(text)
	var runs []Run
	add := func(k RunKind, body string) {
		if body != "" {
			runs = append(runs, Run{Kind: k, Body: body})
		}
	}
	last, free := 0, 0 // what is in runs already, and what no fraction found before has used
	for at := 0; ; at++ {
		next := strings.IndexByte(text[at:], '/')
		if next < 0 {
			break
		}
		at += next
		whole, from, to, ok := fraction(text, at, free)
		if !ok {
			continue
		}
		free = to
		if joined(text, from, to) {
			continue
		}
		add(Plain, text[last:whole])
		add(Whole, text[whole:from])
		add(Fraction, text[from:to])
		last = to
	}
	add(Plain, text[last:])
	return runs
}

// primed has true primes for the straight marks of feet and inches behind a figure.
func primed(text string) string {
	if !strings.ContainsAny(text, `'"`) {
		return text
	}
	var b strings.Builder
	for i := range len(text) {
		switch c := text[i]; {
		case c == '\'' && i > 0 && isFigure(text[i-1]):
			b.WriteString("′")
		case c == '"' && i > 0 && isFigure(text[i-1]):
			b.WriteString("″")
		default:
			b.WriteByte(c)
		}
	}
	return b.String()
}

// fraction finds the fraction text[from:to] about the stroke at, with the whole number and blank text[whole:from] before it, none
// of it before free.
func fraction(text string, at, free int) (whole, from, to int, ok bool) {
	for from = at; from > free && isFigure(text[from-1]); from-- {
	}
	for to = at + 1; to < len(text) && isFigure(text[to]); to++ {
	}
	const most = 2 // figures over and under
	if from == at || at-from > most || to == at+1 || to-at-1 > most || from > 0 && isWord(text[from-1]) || to < len(text) && isWord(text[to]) {
		return 0, 0, 0, false
	}
	whole = from
	if from > free && text[from-1] == ' ' {
		n := from - 1
		for n > free && isFigure(text[n-1]) {
			n--
		}
		if n < from-1 && (n == 0 || !isWord(text[n-1])) {
			whole = n
		}
	}
	return whole, from, to, true
}

func isFigure(c byte) bool { return '0' <= c && c <= '9' }

func isWord(c byte) bool {
	return isFigure(c) || 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || c == '_'
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
