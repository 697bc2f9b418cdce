package checklist

import (
	"strings"

	"newelbook/checklist/length"
)

// Tool is what a reading was taken with. The job's own tape carries its stated doubt, so that a reading keeps it: see OwnTape.
type Tool string

// Tools.
const (
	ToolTape    Tool = "tape"          // steel tape, OIML R 35 class II, with reading and hook
	ToolTapeI   Tool = "tape, class I" // the same of class I
	ToolTapeIII Tool = "tape, class III"
	ToolRule    Tool = "rule"          // steel rule, class II: no hook
	ToolFolding Tool = "folding rule"  // of wood or plastic, class III
	ToolLevel   Tool = "level"         // spirit level and rule
	ToolDigital Tool = "digital level" // and rule
	ToolLaser   Tool = "laser"         // laser distance meter
	ToolGauge   Tool = "gauge"         // a ball or block of the limit's size
	ToolMeter   Tool = "moisture meter"
	ToolEye     Tool = "eye"
	ToolHand    Tool = "hand"
	ToolOwn     Tool = "own tape" // the job's own, with the doubt that its specification states
)

// Parts of the uncertainty of the tools.
const (
	metre = 1000 * length.Millimetre
	tenth = length.Millimetre / 10

	// Reading to half of a sixteenth of an inch, rounded up. Common practice, no source.
	reading = 8 * tenth
	// Play and wear of a tape's hook. Common practice, no source.
	hook = 4 * tenth
	// A builder's spirit level over 1.2 m at 0.5 mm a metre. From memory of makers' data.
	bubble = 6 * tenth
	// A digital level over 1.2 m at a tenth of a degree, the last digit that it shows: 1.2 m times the tangent, rounded up. From memory
	// of makers' data.
	digits = 21 * tenth
	// A laser distance meter up to 10 m, its last digit and its foot against the face included. From memory of makers' data.
	laser = 20 * tenth
	// How true a shop-made ball or block is. Common practice, no source.
	shopGauge = 5 * tenth
	// A length judged by eye or hand is an estimate: half an inch. Common practice, no source.
	estimate = length.Inch / 2
)

// tapeClass is the greatest error of a tape or rule: base, and more for each metre begun.
type tapeClass struct{ base, perMetre length.Length }

// Accuracy classes I, II and III (OIML R 35; the figures and the rounding up to whole metres are from memory).
var (
	classI   = tapeClass{tenth, tenth}
	classII  = tapeClass{3 * tenth, 2 * tenth}
	classIII = tapeClass{6 * tenth, 4 * tenth}
)

func (c tapeClass) at(l length.Length) length.Length {
	return c.base + c.perMetre*max(l.RoundUp(metre).Abs()/metre, 1)
}

// Tools lists the tools in the order in which they are offered.
func Tools() []Tool {
	return []Tool{ToolTape, ToolTapeI, ToolTapeIII, ToolRule, ToolFolding, ToolLevel, ToolDigital, ToolLaser, ToolGauge, ToolMeter, ToolEye, ToolHand}
}

const ownTape = string(ToolOwn) + ", out by up to "

// OwnTape is the job's own tape with its stated doubt, at any length, reading and hook included.
func OwnTape(doubt length.Length) Tool { return Tool(ownTape + doubt.String()) }

// Stated is what a job's own tape was stated to be out by; of any other tool nothing was stated.
func (t Tool) Stated() (length.Length, bool) {
	text, own := strings.CutPrefix(string(t), ownTape)
	if !own {
		return 0, false
	}
	l, err := length.Parse(text, length.Millimetres)
	return l, err == nil && l > 0
}

// Uncertainty is how far a length read with the tool may be out, either way. The parts are added straight, which is
// the cautious sum:
//
//   - steel tape: 0.3 mm + 0.2 mm for each metre begun (OIML R 35, class II), 0.8 mm of reading and 0.4 mm of hook.
//     That is 1.7 mm, about 1/16 in, under one metre; 1.9 mm at a guard's height; 2.1 mm across a bay of 2.4 m;
//   - of class I: 0.1 mm + 0.1 mm for each metre begun; of class III: 0.6 mm + 0.4 mm;
//   - the job's own: what its specification states, which covers reading and hook;
//   - rule: as a tape, without the hook: 1.3 mm under one metre; a folding rule, as class III: 1.8 mm;
//   - level: as a rule, and 0.6 mm for the bubble; a digital one as a rule, and 2.1 mm for its last digit;
//   - laser: 2 mm;
//   - gauge, where a length is given for it: 0.5 mm;
//   - eye, hand, a moisture meter, which measures no length, and a tool that was not named: 1/2 in.
func (t Tool) Uncertainty(at length.Length) length.Length {
	switch t {
	case ToolTape:
		return classII.at(at) + reading + hook
	case ToolTapeI:
		return classI.at(at) + reading + hook
	case ToolTapeIII:
		return classIII.at(at) + reading + hook
	case ToolRule:
		return classII.at(at) + reading
	case ToolFolding:
		return classIII.at(at) + reading
	case ToolLevel:
		return classII.at(at) + reading + bubble
	case ToolDigital:
		return classII.at(at) + reading + digits
	case ToolLaser:
		return laser
	case ToolGauge:
		return shopGauge
	}
	if own, ok := t.Stated(); ok {
		return own
	}
	return estimate
}

// Words names the tool as people do, with a stated doubt in style; it is empty for a tool that was not named.
func (t Tool) Words(style length.Style) string {
	if own, ok := t.Stated(); ok {
		return "the job's own tape, out by up to " + own.Format(style)
	}
	switch t {
	case ToolTape, ToolTapeI, ToolTapeIII:
		return "steel " + string(t)
	case ToolRule:
		return "steel rule"
	case ToolLevel, ToolDigital:
		return string(t) + " and rule"
	case ToolLaser:
		return "laser distance meter"
	case ToolFolding, ToolGauge, ToolMeter:
		return string(t)
	case ToolEye, ToolHand:
		return "by " + string(t)
	case ToolOwn:
		return "the job's own tape"
	}
	return ""
}

// possessive names the tool in a sentence about its uncertainty.
func (t Tool) possessive() string {
	if _, own := t.Stated(); own {
		return "the stated doubt of the job's own tape"
	}
	switch t {
	case ToolEye, ToolHand:
		return "the doubt of judging by " + string(t)
	case ToolTape, ToolTapeI, ToolTapeIII, ToolRule, ToolFolding, ToolLevel, ToolDigital, ToolLaser, ToolGauge:
		name, _, _ := strings.Cut(string(t), ",")
		return "the " + name + "'s own doubt"
	}
	return "the doubt of a tool that was not named"
}
