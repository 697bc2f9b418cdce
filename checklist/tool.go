package checklist

import "newelbook/checklist/length"

// Parts of the uncertainty of the tools.
const (
	// Greatest error of a steel tape or rule of accuracy class II: 0.3 mm + 0.2 mm for each metre begun
	// (OIML R 35; the rounding up to whole metres is from memory).
	classIIBase     = 300_000 * length.Nanometre
	classIIPerMetre = 200_000 * length.Nanometre
	metre           = 1000 * length.Millimetre

	// Reading to half of a sixteenth of an inch, rounded up. Common practice, no source.
	reading = 800_000 * length.Nanometre
	// Play and wear of a tape's hook. Common practice, no source.
	hook = 400_000 * length.Nanometre
	// A builder's spirit level over 1.2 m at 0.5 mm a metre. From memory of makers' data.
	bubble = 600_000 * length.Nanometre
	// How true a shop-made ball or block is. Common practice, no source.
	shopGauge = 500_000 * length.Nanometre
	// A length judged by eye or hand is an estimate: half an inch. Common practice, no source.
	estimate = length.Inch / 2
)

// Tools lists the tools in the order in which they are offered.
func Tools() []Tool {
	return []Tool{ToolTape, ToolRule, ToolLevel, ToolGauge, ToolEye, ToolHand}
}

// Uncertainty is how far a length read with the tool may be out, either way. The parts are added straight, which is
// the cautious sum:
//
//   - steel tape: 0.3 mm + 0.2 mm for each metre begun (OIML R 35, class II), 0.8 mm of reading and 0.4 mm of hook.
//     That is 1.7 mm, about 1/16 in, under one metre; 1.9 mm at a guard's height; 2.1 mm across a bay of 2.4 m;
//   - rule: as a tape, without the hook: 1.3 mm under one metre;
//   - level: as a rule, and 0.6 mm for the bubble;
//   - gauge, where a length is given for it: 0.5 mm;
//   - eye, hand, and a tool that was not named: 1/2 in.
func (t Tool) Uncertainty(at length.Length) length.Length {
	steel := classIIBase + classIIPerMetre*max(at.RoundUp(metre).Abs()/metre, 1)
	switch t {
	case ToolTape:
		return steel + reading + hook
	case ToolRule:
		return steel + reading
	case ToolLevel:
		return steel + reading + bubble
	case ToolGauge:
		return shopGauge
	}
	return estimate
}

// possessive names the tool in a sentence about its uncertainty.
func (t Tool) possessive() string {
	switch t {
	case ToolTape, ToolRule, ToolLevel, ToolGauge:
		return "the " + string(t) + "'s own doubt"
	case ToolEye, ToolHand:
		return "the doubt of judging by " + string(t)
	}
	return "the doubt of a tool that was not named"
}
