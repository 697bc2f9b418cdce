package checklist

import "strings"

// given counts the kinds of answer that a holds.
func (a Answer) given() int {
	n := 0
	for _, set := range []bool{a.Length != nil, a.Count != nil, a.Moisture != nil, a.Seen != "", a.Gauge != ""} {
		if set {
			n++
		}
	}
	return n
}

// CheckAnswer says whether an answer can be taken for a check. When it cannot, the sentence says what to enter. The zero
// Answer is refused: it is no answer. Not applicable, which for a photograph means that it cannot be taken, needs a reason
// and is taken for every check; what it comes to is up to Evaluate.
func CheckAnswer(c Check, a Answer) (sentence string, ok bool) {
	switch {
	case a.given() == 0:
		return wanted(c), false
	case a.given() > 1:
		return "Give one answer only: " + lowerFirst(wanted(c)), false
	case a.Seen == SeenNA && strings.TrimSpace(a.Reason) == "":
		if c.Ask == AskPhoto {
			return "Enter why the photograph cannot be taken.", false
		}
		return "Enter why this does not apply.", false
	case a.Seen == SeenNA:
		return "", true
	}
	if _, other := c.Otherwise(a.From); a.From != "" && (a.Length == nil || a.From != c.Reference && !other) {
		return "Choose from the list what the length was taken from.", false
	}
	switch c.Ask {
	case AskLength, AskSigned:
		switch {
		case a.Length == nil:
			return wanted(c), false
		case c.Ask == AskLength && *a.Length < 0:
			return "The length must not be negative.", false
		}
	case AskCount:
		switch {
		case a.Count == nil:
			return wanted(c), false
		case *a.Count < 0:
			return "The count must not be negative.", false
		}
	case AskMoist:
		switch {
		case a.Moisture == nil:
			return wanted(c), false
		case *a.Moisture < 0 || *a.Moisture > mostMoisture:
			return "The moisture must be a percentage that wood can have.", false
		}
	case AskGap:
		switch {
		case a.Gauge != "":
			return checkGauge(c, a.Gauge)
		case a.Length == nil:
			return wanted(c), false
		case *a.Length < 0:
			return "The gap must not be negative.", false
		}
	case AskSeen, AskPhoto:
		if a.Seen != SeenYes && a.Seen != SeenNo {
			return wanted(c), false
		}
		if c.Witness && strings.TrimSpace(a.Witness) == "" {
			return NoWitness, false
		}
	default:
		return "This check asks for nothing that can be answered.", false
	}
	return "", true
}

// NoWitness says what an answer lacks that is to name a witness.
const NoWitness = "Enter who saw it with you: the authority accepts no photograph of it."

// checkGauge refuses a gauge that cannot answer the check: a gauge has the size of an upper limit.
func checkGauge(c Check, g Gauge) (sentence string, ok bool) {
	if g != GaugeStopped && g != GaugePassed {
		return "Enter whether the gauge was stopped or passed.", false
	}
	if len(c.Limits) == 0 {
		return "No limit gives a gauge its size here: enter the gap as measured.", false
	}
	for _, l := range c.Limits {
		if !l.upper() {
			return "A gauge answers only a greatest size: enter the gap as measured.", false
		}
	}
	return "", true
}

// wanted says what to enter for a check.
func wanted(c Check) string {
	switch c.Ask {
	case AskSigned:
		return "Enter the length with its direction, such as -1/8 or 3 mm."
	case AskCount:
		return "Enter the count as a whole number."
	case AskMoist:
		return "Enter the moisture as a percentage, such as 16 or 16.5."
	case AskSeen:
		return "Answer yes, no, or not applicable with a reason."
	case AskGap:
		return "Enter the gap as measured, or whether a gauge was stopped or passed."
	case AskPhoto:
		return "File the photograph, or enter why it cannot be taken."
	}
	return "Enter the length as measured."
}
