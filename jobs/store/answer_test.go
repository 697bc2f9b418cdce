package store_test

import (
	"errors"
	"strings"
	"testing"

	"newelbook/jobs"
)

// What a guest sends is bounded, and only an outcome has an outcome and a date.
func TestAnswersAreBounded(t *testing.T) {
	x := newSite(t, open(t))
	_, token, err := x.service.MakeLink(t.Context(), builder, x.job, jobs.LinkInput{Pack: x.issue(t), For: "inspector", Name: "B. Sample", Days: 7})
	if err != nil {
		t.Fatal(err)
	}
	for field, in := range map[string]jobs.AnswerInput{
		"text":      {Kind: "remark", Name: "B. Sample", Text: strings.Repeat("é", 4001)},
		"place":     {Kind: "remark", Name: "B. Sample", Text: "r", Place: strings.Repeat("x", 201)},
		"name":      {Kind: "remark", Name: strings.Repeat("x", 201), Text: "r"},
		"office":    {Kind: "remark", Name: "B. Sample", Text: "r", Office: strings.Repeat("x", 201)},
		"signature": {Kind: "remark", Name: "B. Sample", Text: "r", Signature: "10,20 30,9999"},
		"stage":     {Kind: "remark", Name: "B. Sample", Text: "r", Stage: "roofing"},
	} {
		var bad *jobs.InvalidError
		if _, err := x.service.Answer(t.Context(), token, "", "", in); !errors.As(err, &bad) || len(bad.Fields) != 1 || bad.Fields[0].Field != field {
			t.Errorf("too much in %s = %v, want one fault there", field, err)
		}
	}
	in := jobs.AnswerInput{Kind: "remark", Name: "B. Sample", Text: strings.Repeat("é", 4000), Outcome: "accepted", On: "soon", Stage: "framing", Signature: "10,20 30,40;500,200"}
	if _, err := x.service.Answer(t.Context(), token, "", "", in); err != nil {
		t.Fatal(err)
	}
	if a := x.record(t).Answers[0]; a.Outcome != "" || a.On != "" || a.Stage != "framing" {
		t.Errorf("a remark is kept with outcome %q on %q of %q, want neither outcome nor date", a.Outcome, a.On, a.Stage)
	}
	if got := x.record(t).Answers[0].Signature; got != in.Signature {
		t.Errorf("the drawn signature is kept as %q", got)
	}
	x.agree(t)
}
