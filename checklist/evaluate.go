package checklist

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"newelbook/checklist/length"
)

// Evaluate says what one reading came to, with lengths shown in style. It holds the answer against the code limits and
// against the layout, and keeps the two results apart.
//
// A limit is compared exactly: under and over are strict, at most and at least take the figure itself. Acceptance is
// guarded (JCGM 106, guard band equal to the tool's uncertainty): a reading inside a limit by less than that uncertainty
// is Uncertain. Rejection is not guarded: a reading outside by a nanometre is Outside. Where several limits bind, the worst
// governs. The layout's tolerance is a working figure and takes its own ends; no uncertainty is taken off it. Moisture alone is
// held to the layout with the meter's doubt, which is large against its figure.
//
// A length taken from another reference than the check's figures hold from is not judged, so it is not checked; what it comes to is said.
//
// The verdict follows a stated precedence: fails the limit, too close to call, off the layout, good. The zero Answer, and
// one that CheckAnswer refuses, is not checked. So is "not applicable", except for an observation that is neither a hold
// point nor held to a limit: nothing that should have been measured, and no hold point, is met by leaving it out. An answer
// to a photograph check is the say of whoever filed it; that there is a photograph is for the caller to hold.
func Evaluate(c Check, a Answer, t Tool, style length.Style) Result {
	if sentence, ok := CheckAnswer(c, a); !ok {
		if a.given() == 0 {
			sentence = "Not checked yet."
		}
		return Result{Why: sentence, HeldTo: heldTo(c, style)}
	}
	r := Result{HeldTo: heldTo(c, style)}
	switch {
	case a.Seen == SeenNA:
		r.Why = notApplicable(c, a.Reason)
		if c.Ask == AskSeen && !c.Hold && len(c.Limits) == 0 {
			r.Verdict = Good
		}
		return r
	case c.TakenElsewhere(a):
		return elsewhere(c, a, t, style)
	case a.Length != nil:
		r = measured(c, *a.Length, t, style)
	case a.Count != nil:
		r.Layout, r.Why = counted(c, *a.Count)
	case a.Moisture != nil:
		r.Layout, r.Why = moist(c, *a.Moisture, t)
	case a.Gauge != "":
		r.Limit, r.Why = gauged(c, a.Gauge, style)
	default:
		r.Limit, r.Layout, r.Why = seen(c, a)
	}
	r.Verdict = verdict(r.Limit, r.Layout)
	r.HeldTo = heldTo(c, style)
	return r
}

// verdict is the precedence of the verdicts.
func verdict(limit, lay Outcome) Verdict {
	switch {
	case limit == Outside:
		return FailsLimit
	case limit == Uncertain, lay == Uncertain:
		return TooClose
	case lay == Outside:
		return OffLayout
	}
	return Good
}

// measured judges a length.
func measured(c Check, got length.Length, t Tool, style length.Style) Result {
	r := Result{Doubt: t.Uncertainty(got)}
	held := got
	if c.Ask == AskSigned {
		held = got.Abs() // a limit on a signed reading bounds its size
	}
	var worst *holding
	for _, l := range c.Limits {
		// The guard band is the uncertainty at the limit: at the reading it would grow by a step at each metre, and a
		// reading nearer the limit could come out better.
		h := l.hold(held, t.Uncertainty(l.Value))
		if worst == nil || worse(h, *worst) < 0 {
			worst = &h
		}
	}
	if worst != nil {
		r.Limit, r.Margin, r.Doubt = worst.outcome, worst.margin, worst.doubt
	}
	if c.Nominal != nil && c.HasTol {
		r.Layout = Inside
		if got < *c.Nominal-c.Minus || got > *c.Nominal+c.Plus {
			r.Layout = Outside
		}
	}
	r.Why = whyMeasured(c, got, worst, r, t, style)
	if r.Layout == Outside {
		r.Why += perhapsFrom(c, got, style)
	}
	return r
}

// counted judges a count.
func counted(c Check, got int) (Outcome, string) {
	switch {
	case c.Count == nil:
		return NotHeld, fmt.Sprintf("%d was counted; the layout has no count to hold it to.", got)
	case got == *c.Count:
		return Inside, fmt.Sprintf("%d was counted, as on the layout.", got)
	}
	return Outside, fmt.Sprintf("%d was counted; the layout has %d.", got, *c.Count)
}

// Gauge is the limit whose size a go or no-go gauge of the check has, the smallest one, where a gauge can answer it.
func (c Check) Gauge() (Limit, bool) {
	if _, ok := CheckAnswer(c, Answer{Gauge: GaugeStopped}); !ok {
		return Limit{}, false
	}
	return slices.MinFunc(c.Limits, func(a, b Limit) int {
		return cmp.Or(cmp.Compare(a.Value, b.Value), compareLimits(a, b))
	}), true
}

// gauged judges a go or no-go gauge.
func gauged(c Check, g Gauge, style length.Style) (Outcome, string) {
	least, _ := c.Gauge()
	size := least.Value.FormatSet(style)
	if g == GaugePassed {
		return Outside, fmt.Sprintf("A %s gauge passed, so the opening is not %s %s (%s).", size, least.Bound, least.Value.FormatFigure(style), least.citation())
	}
	return Inside, fmt.Sprintf("A %s gauge was stopped (%s %s, %s).", size, least.Bound, least.Value.FormatFigure(style), least.citation())
}

// seen judges an observation or a photograph.
func seen(c Check, a Answer) (limit, lay Outcome, why string) {
	outcome, says, s := Inside, "Seen to be so: ", a.Seen
	switch {
	case c.Witness && s == SeenNo:
		outcome, says = Outside, "Seen not to be so, with "+a.Witness+" as witness: "
	case c.Witness:
		says = "Seen to be so, with " + a.Witness + " as witness: "
	case s == SeenNo && c.Ask == AskPhoto:
		outcome, says = Outside, "The photograph does not show it: "
	case s == SeenNo:
		outcome, says = Outside, "Seen not to be so: "
	case c.Ask == AskPhoto:
		says = "Filed as showing: "
	}
	what := c.Title
	if (c.Ask == AskPhoto || c.Witness) && c.PhotoShows != "" {
		what = c.PhotoShows
	}
	if len(c.Limits) == 0 {
		return NotHeld, outcome, says + lowerFirst(sentence(what))
	}
	cited := slices.MinFunc(c.Limits, compareLimits)
	return outcome, NotHeld, fmt.Sprintf("%s%s (%s).", says, lowerFirst(strings.TrimSuffix(what, ".")), cited.citation())
}

// notApplicable says what leaving a check out comes to.
func notApplicable(c Check, reason string) string {
	reason = lowerFirst(sentence(reason))
	switch {
	case c.Ask == AskPhoto:
		return "No photograph, because " + reason
	case c.Ask == AskSeen && !c.Hold && len(c.Limits) == 0:
		return "Not applicable: " + reason
	case c.Hold:
		return "Not checked, said not to apply; a hold point is not met by that: " + reason
	}
	return "Not measured, said not to apply: " + reason
}

// sentence ends a text with a full stop.
func sentence(text string) string {
	text = strings.TrimSpace(text)
	if strings.HasSuffix(text, ".") || strings.HasSuffix(text, "?") {
		return text
	}
	return text + "."
}

// lowerFirst puts the first letter in lower case, unless the word is written in capitals or holds a number.
func lowerFirst(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	second, _ := utf8.DecodeRuneInString(text[size:])
	if unicode.IsUpper(second) || unicode.IsDigit(second) || second == '-' {
		return text
	}
	return string(unicode.ToLower(first)) + text[size:]
}
