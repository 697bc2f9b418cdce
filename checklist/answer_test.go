package checklist_test

import (
	"testing"

	"newelbook/checklist"
	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

func TestCheckAnswerTakes(t *testing.T) {
	gap := checklist.Check{Ask: checklist.AskGap, Limits: []checklist.Limit{limit(codes.Under, 4*in)}}
	for _, tt := range []struct {
		name   string
		check  checklist.Check
		answer checklist.Answer
	}{
		{"length", checklist.Check{Ask: checklist.AskLength}, lengthAnswer(in)},
		{"length of nothing", checklist.Check{Ask: checklist.AskLength}, lengthAnswer(0)},
		{"signed", checklist.Check{Ask: checklist.AskSigned}, lengthAnswer(-in)},
		{"count", checklist.Check{Ask: checklist.AskCount}, countAnswer(0)},
		{"gap", gap, lengthAnswer(in)},
		{"gauge", gap, checklist.Answer{Gauge: checklist.GaugeStopped}},
		{"yes", checklist.Check{Ask: checklist.AskSeen}, checklist.Answer{Seen: checklist.SeenYes}},
		{"no, with a remark", checklist.Check{Ask: checklist.AskSeen}, checklist.Answer{Seen: checklist.SeenNo, Reason: "one nail short"}},
		{"not applicable, with a reason", checklist.Check{Ask: checklist.AskSeen}, checklist.Answer{Seen: checklist.SeenNA, Reason: "no sleeve here"}},
		{"photograph that cannot be taken", checklist.Check{Ask: checklist.AskPhoto}, checklist.Answer{Seen: checklist.SeenNA, Reason: "the duct is in the way"}},
		{"length out of reach", checklist.Check{Ask: checklist.AskLength}, checklist.Answer{Seen: checklist.SeenNA, Reason: "over the pond"}},
	} {
		if sentence, ok := checklist.CheckAnswer(tt.check, tt.answer); !ok || sentence != "" {
			t.Errorf("%s: refused with %q", tt.name, sentence)
		}
	}
}

func TestCheckAnswerRefuses(t *testing.T) {
	one, two := length.Length(1), 2
	for _, tt := range []struct {
		name   string
		check  checklist.Check
		answer checklist.Answer
		want   string
	}{
		{"no length", checklist.Check{Ask: checklist.AskLength}, checklist.Answer{}, "Enter the length as measured."},
		{"no signed length", checklist.Check{Ask: checklist.AskSigned}, checklist.Answer{}, "Enter the length with its direction, such as -1/8 or 3 mm."},
		{"no count", checklist.Check{Ask: checklist.AskCount}, checklist.Answer{}, "Enter the count as a whole number."},
		{"no observation", checklist.Check{Ask: checklist.AskSeen}, checklist.Answer{}, "Answer yes, no, or not applicable with a reason."},
		{"no gap", checklist.Check{Ask: checklist.AskGap}, checklist.Answer{}, "Enter the gap as measured, or whether a gauge was stopped or passed."},
		{"no photograph", checklist.Check{Ask: checklist.AskPhoto}, checklist.Answer{}, "File the photograph, or enter why it cannot be taken."},
		{"two answers", checklist.Check{Ask: checklist.AskLength}, checklist.Answer{Length: &one, Count: &two}, "Give one answer only: enter the length as measured."},
		{"not applicable, no reason", checklist.Check{Ask: checklist.AskSeen}, checklist.Answer{Seen: checklist.SeenNA}, "Enter why this does not apply."},
		{"not applicable, blank reason", checklist.Check{Ask: checklist.AskSeen}, checklist.Answer{Seen: checklist.SeenNA, Reason: "  "}, "Enter why this does not apply."},
		{"no photograph, no reason", checklist.Check{Ask: checklist.AskPhoto}, checklist.Answer{Seen: checklist.SeenNA}, "Enter why the photograph cannot be taken."},
		{"negative length", checklist.Check{Ask: checklist.AskLength}, lengthAnswer(-1), "The length must not be negative."},
		{"negative gap", checklist.Check{Ask: checklist.AskGap}, lengthAnswer(-1), "The gap must not be negative."},
		{"negative count", checklist.Check{Ask: checklist.AskCount}, countAnswer(-1), "The count must not be negative."},
		{"a count for a length", checklist.Check{Ask: checklist.AskLength}, countAnswer(1), "Enter the length as measured."},
		{"a length for a count", checklist.Check{Ask: checklist.AskCount}, lengthAnswer(1), "Enter the count as a whole number."},
		{"seen for a gap", checklist.Check{Ask: checklist.AskGap}, checklist.Answer{Seen: checklist.SeenYes}, "Enter the gap as measured, or whether a gauge was stopped or passed."},
		{"a length for an observation", checklist.Check{Ask: checklist.AskSeen}, lengthAnswer(1), "Answer yes, no, or not applicable with a reason."},
		{"another word", checklist.Check{Ask: checklist.AskSeen}, checklist.Answer{Seen: "perhaps"}, "Answer yes, no, or not applicable with a reason."},
		{"another word of a gauge", checklist.Check{Ask: checklist.AskGap, Limits: []checklist.Limit{limit(codes.Under, in)}}, checklist.Answer{Gauge: "stuck"},
			"Enter whether the gauge was stopped or passed."},
		{"a gauge of no size", checklist.Check{Ask: checklist.AskGap}, checklist.Answer{Gauge: checklist.GaugeStopped},
			"No limit gives a gauge its size here: enter the gap as measured."},
		{"a gauge of a least size", checklist.Check{Ask: checklist.AskGap, Limits: []checklist.Limit{limit(codes.Under, 2*in), limit(codes.AtLeast, in)}},
			checklist.Answer{Gauge: checklist.GaugeStopped}, "A gauge answers only a greatest size: enter the gap as measured."},
		{"a check of another kind", checklist.Check{Ask: "colour"}, lengthAnswer(1), "This check asks for nothing that can be answered."},
	} {
		if sentence, ok := checklist.CheckAnswer(tt.check, tt.answer); ok || sentence != tt.want {
			t.Errorf("%s: CheckAnswer = %q, %v, want %q, false", tt.name, sentence, ok, tt.want)
		}
	}
}
