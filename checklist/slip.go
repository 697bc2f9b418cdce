package checklist

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"newelbook/checklist/length"
)

// Slip is what a length was perhaps meant to be, where another way of typing it agrees with the layout. It is a question, never a
// correction: the reading as typed may be the true one.
type Slip struct {
	Meant  string        // as it would have been typed
	Length length.Length // what that is
	Why    string        // a finished sentence: what the typed text is against the layout, and what may have happened
}

// How near the layout the other reading must be, and how much nearer than the typed one. Common practice, no source.
const (
	slipNear   = 20 // one part in so many of the nominal, where the tolerance is less
	slipNearer = 4  // times nearer than what was typed
	slipLong   = 24 // bytes: a longer text is no number with a slip in it
)

// Slipped compares a length as typed, a bare number being in unit, with the layout's nominal, and finds the slip that best explains
// a difference which the tolerance does not: feet for inches or inches for feet, the other system's unit, a fraction without its
// slash (38 for 3/8) or its space (413/8 for 41 3/8), feet and inches run together (38 for 3' 8"), a digit dropped or typed
// twice. A text that Parse refuses may be a slip too. There is none where the check has no nominal, where what was typed is
// within the tolerance or as near the layout as a guard is built, and where no slip comes within the tolerance or a twentieth.
func Slipped(c Check, typed string, unit length.Unit, style length.Style) (Slip, bool) {
	typed = strings.TrimSpace(typed)
	if c.Nominal == nil || len(typed) > slipLong || c.Ask != AskLength && c.Ask != AskGap && c.Ask != AskSigned {
		return Slip{}, false
	}
	near := max(2*c.Plus, 2*c.Minus, c.Nominal.Abs()/slipNear)
	off := func(l length.Length) length.Length { return (l - *c.Nominal).Abs() }
	got, err := length.Parse(typed, unit)
	if err == nil && off(got) <= near {
		return Slip{}, false
	}
	var found []Slip
	for _, o := range otherwise(typed, unit) {
		l, fault := length.Parse(o.text, unit)
		if fault != nil || !onTape(o.text) || off(l) > near || err == nil && off(got) <= slipNearer*off(l) {
			continue
		}
		found = append(found, Slip{Meant: o.text, Length: l, Why: slipWhy(typed, got, err, *c.Nominal, o.why, style)})
	}
	if len(found) == 0 {
		return Slip{}, false
	}
	return slices.MinFunc(found, func(a, b Slip) int { return cmp.Compare(off(a.Length), off(b.Length)) }), true
}

// slipWhy says what does not fit and what may have happened.
func slipWhy(typed string, got length.Length, err error, nominal length.Length, why string, style length.Style) string {
	if err != nil {
		return fmt.Sprintf("%s is no length, and the layout has %s: %s.", typed, nominal.Format(style), why)
	}
	return fmt.Sprintf("%s is far from the %s on the layout: %s.", got.Format(style), nominal.Format(style), why)
}

// retyped is another way in which a length may have been meant.
type retyped struct{ text, why string }

var (
	bareNumber   = regexp.MustCompile(`^([-+]?)(\d+(?:\.\d+)?|\d+ \d+/\d+)$`)
	feetAlone    = regexp.MustCompile(`^([-+]?)(\d+(?:\.\d+)?|\d+ \d+/\d+)\s*(?:'|ft)$`)
	inchesAlone  = regexp.MustCompile(`^([-+]?)(\d+(?:\.\d+)?)\s*(?:"|in)$`)
	digitsAlone  = regexp.MustCompile(`^([-+]?)(\d{2,6})$`)
	tapeFraction = regexp.MustCompile(`(^|\D)(1/2|[13]/4|[1357]/8|([13579]|1[135])/16)(\D|$)`)
	noSpace      = regexp.MustCompile(`^([-+]?)(\d{2,6})/(\d{1,2})$`)
)

// onTape says whether a text has no fraction, or one that a tape is marked with: 7/28 is nobody's slip.
func onTape(text string) bool {
	return !strings.Contains(text, "/") || tapeFraction.MatchString(text)
}

// otherwise lists the ways in which a typed length may have been meant, the likeliest first.
func otherwise(typed string, unit length.Unit) []retyped {
	var out []retyped
	add := func(why, format string, args ...any) { out = append(out, retyped{fmt.Sprintf(format, args...), why}) }
	if m := bareNumber.FindStringSubmatch(typed); m != nil {
		if unit == length.Millimetres {
			add("inches in a job in millimetres", `%s%s"`, m[1], m[2])
		} else {
			add("millimetres in a job in inches", "%s%s mm", m[1], m[2])
		}
		add("feet without their mark", "%s%s'", m[1], m[2])
	}
	if m := feetAlone.FindStringSubmatch(typed); m != nil {
		add("the mark of feet after inches", `%s%s"`, m[1], m[2])
	}
	if m := inchesAlone.FindStringSubmatch(typed); m != nil {
		add("the mark of inches after feet", "%s%s'", m[1], m[2])
		add("the mark of inches after millimetres", "%s%s mm", m[1], m[2])
	}
	if m := noSpace.FindStringSubmatch(typed); m != nil {
		for i := 1; i < len(m[2]); i++ {
			add("the space before the fraction left out", "%s%s %s/%s", m[1], m[2][:i], m[2][i:], m[3])
		}
	}
	if m := digitsAlone.FindStringSubmatch(typed); m != nil && unit != length.Millimetres {
		apart(add, m[1], m[2])
	}
	dropped(add, typed)
	return out
}

// apart takes digits that were run together for a fraction, a whole number with a fraction, and feet with inches.
func apart(add func(why, format string, args ...any), sign, digits string) {
	for i := 1; i < len(digits); i++ {
		add("the slash of the fraction left out", "%s%s/%s", sign, digits[:i], digits[i:])
		add("feet and inches run together", `%s%s' %s"`, sign, digits[:i], digits[i:])
		for j := i + 1; j < len(digits); j++ {
			add("the space and the slash of the fraction left out", "%s%s %s/%s", sign, digits[:i], digits[i:j], digits[j:])
		}
	}
}

// dropped puts a digit that was left out back in, anywhere, and takes out one that was typed twice.
func dropped(add func(why, format string, args ...any), typed string) {
	digit := func(i int) bool { return i >= 0 && i < len(typed) && typed[i] >= '0' && typed[i] <= '9' }
	for i := 0; i <= len(typed); i++ {
		if digit(i) && digit(i-1) && typed[i] == typed[i-1] {
			add("a digit typed twice", "%s%s", typed[:i], typed[i+1:])
		}
		if !digit(i) && !digit(i-1) {
			continue
		}
		for d := '0'; d <= '9'; d++ {
			if d == '0' && !digit(i-1) { // a zero in front changes nothing
				continue
			}
			add("a digit left out", "%s%c%s", typed[:i], d, typed[i:])
		}
	}
}
