package store_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"newelbook/checklist"
	"newelbook/checklist/length"
	"newelbook/jobs"
)

// A height taken from the framing on one post and from the decking on the next is pointed out with both places, keeps the stage from
// closing in silence and is judged only when it is read from where the figures hold.
func TestMixedReferences(t *testing.T) {
	x := newSite(t, open(t))
	run := x.run(t, "R1", "12'")
	at := func(n string) string { return run + "/P" + n + "." + checklist.KeyPostTop }
	nominal := x.check(t, checklist.KeyPostTop).Check.Nominal
	take := func(in ...jobs.ReadingInput) {
		t.Helper()
		if _, err := x.service.TakeReadings(t.Context(), crew, x.job, in); err != nil {
			t.Fatal(err)
		}
	}
	take(jobs.ReadingInput{CheckID: at("1"), Text: nominal.String()}, jobs.ReadingInput{CheckID: at("2"), Text: (*nominal + length.Inch).String(), From: string(checklist.FromFraming)})
	sheet := x.sheet(t)
	if len(sheet.Mixed) != 1 {
		t.Fatalf("pointed out: %+v", sheet.Mixed)
	}
	m := sheet.Mixed[0]
	if m.Stage != checklist.Posts || m.Run.ID != run || len(m.Taken) != 2 || !slices.Equal(m.Taken[0].Places, []string{"R1-P1"}) || !slices.Equal(m.Taken[1].Places, []string{"R1-P2"}) ||
		!strings.Contains(m.Sentence, "from the finished decking at R1-P1; from the top of the framing at R1-P2") {
		t.Errorf("pointed out as %+v", m)
	}
	one, _ := sheet.Check(at("1"))
	other, _ := sheet.Check(at("2"))
	if one.Verdict() != checklist.Good || one.Current.Answer.From != checklist.FromDecking || other.Verdict() != checklist.NotChecked || other.Deviation != nil {
		t.Errorf("judged as %q and %q with %+v", one.Verdict(), other.Verdict(), other.Deviation)
	}
	if c := other.Current.Result.Comes; c == nil || *c != *nominal {
		t.Errorf("it comes to %v, want %v", c, *nominal)
	}
	posts, _ := sheet.Stage(checklist.Posts)
	if !slices.ContainsFunc(posts.Outstanding, func(o jobs.Outstanding) bool {
		return o.CheckID == at("2") && strings.Contains(o.Sentence, "taken from the top of the framing, not from the finished decking")
	}) {
		t.Errorf("the stage owes %+v", posts.Outstanding)
	}
	unfinished, err := x.record(t).Unfinished()
	if err != nil || !slices.Contains(unfinished, m.Sentence) {
		t.Errorf("a pack would say %q, %v", unfinished, err)
	}
	_, err = x.service.TakeReadings(t.Context(), crew, x.job, []jobs.ReadingInput{{CheckID: at("3"), Text: "36 in", From: "the neighbour's fence"}})
	var bad *jobs.InvalidError
	if !errors.As(err, &bad) || !strings.Contains(bad.Fields[0].Message, "Choose from the list what the length was taken from.") {
		t.Errorf("a reference of nobody's: %v", err)
	}
	take(jobs.ReadingInput{CheckID: at("2"), Text: nominal.String()})
	if left := x.sheet(t).Mixed; len(left) != 0 {
		t.Errorf("still pointed out: %+v", left)
	}
	x.agree(t)
}

// A slip is looked for against what the tape shows from where the length was taken: the second post of eighteen feet stands six
// from the datum and twelve from the far end.
func TestSlipFromElsewhere(t *testing.T) {
	x := newSite(t, open(t))
	id := x.run(t, "R1", "18'") + "/P2.framing.place"
	if c, _ := x.sheet(t).Check(id); *c.Check.Nominal != 6*length.Foot {
		t.Fatalf("the post stands at %v", *c.Check.Nominal)
	}
	for _, tt := range []struct {
		text, from string
		meant      string
	}{
		{"72", "", ""}, {"12", "", ""}, {"6", "", "6'"},
		{"144", string(checklist.FromFarEnd), ""}, {"12", string(checklist.FromFarEnd), "12'"}, {"6", string(checklist.FromFarEnd), ""},
	} {
		_, err := x.service.TakeReadings(t.Context(), crew, x.job, []jobs.ReadingInput{{CheckID: id, Text: tt.text, From: tt.from, AskSlips: true}})
		meant := ""
		var bad *jobs.InvalidError
		if errors.As(err, &bad) {
			meant = bad.Fields[0].Meant
		}
		if meant != tt.meant {
			t.Errorf("%s from %q: meant %q, want %q", tt.text, tt.from, meant, tt.meant)
		}
	}
}
