package checklist_test

import (
	"strings"
	"testing"

	"newelbook/checklist"
	"newelbook/checklist/length"
)

// Where the authority accepts no photographs, every hold point that a photograph fills is an observation with a named witness: the same
// check by its id, still a hold point, with a photograph wanted that fills nothing. Nothing else changes.
func TestWitnessed(t *testing.T) {
	asked, refused := source(t, "irc-2021", length.Inches, levelRun(), nil, nil), source(t, "irc-2021", length.Inches, levelRun(), nil, nil)
	refused.Photos = checklist.PhotosRefused
	before := append(checklist.Generate(asked), checklist.GenerateJob(asked.Style, asked.Photos)...)
	after := append(checklist.Generate(refused), checklist.GenerateJob(refused.Style, refused.Photos)...)
	if len(before) != len(after) {
		t.Fatalf("%d checks, with photographs refused %d", len(before), len(after))
	}
	witnessed := 0
	for i, c := range after {
		was := before[i]
		if c.ID != was.ID || c.Hold != was.Hold || c.Stage != was.Stage || c.PhotoShows != was.PhotoShows || c.Subject() != was.Subject() {
			t.Errorf("%s became %s: %+v", was.ID, c.ID, c)
		}
		if was.Ask != checklist.AskPhoto || !was.Hold {
			if c.Witness || c.Ask != was.Ask {
				t.Errorf("%s: asked %s, witness %v; it was %s", c.ID, c.Ask, c.Witness, was.Ask)
			}
			continue
		}
		witnessed++
		if c.Ask != checklist.AskSeen || !c.Witness || c.Photo != checklist.PhotoWanted || !strings.Contains(c.How, c.PhotoShows) {
			t.Errorf("%s is asked as %+v", c.ID, c)
		}
	}
	if witnessed < 10 {
		t.Errorf("%d hold points are seen with a witness, want those of every post", witnessed)
	}
}

func TestWitnessedAnswers(t *testing.T) {
	s := source(t, "irc-2021", length.Inches, levelRun(), nil, nil)
	s.Photos = checklist.PhotosRefused
	c := find(t, checklist.Generate(s), "k7d2/P1.framing.photo_inside")
	for _, tt := range []struct {
		name    string
		a       checklist.Answer
		verdict checklist.Verdict
		why     string // part of it
	}{
		{"nobody named", checklist.Answer{Seen: checklist.SeenYes}, checklist.NotChecked, checklist.NoWitness},
		{"spaces named", checklist.Answer{Seen: checklist.SeenNo, Witness: "  "}, checklist.NotChecked, checklist.NoWitness},
		{"seen", checklist.Answer{Seen: checklist.SeenYes, Witness: "Iris Sample"}, checklist.Good, "Seen to be so, with Iris Sample as witness: the inside face square on"},
		{"seen not to be so", checklist.Answer{Seen: checklist.SeenNo, Witness: "Iris Sample"}, checklist.OffLayout, "Seen not to be so, with Iris Sample as witness"},
		{"left out", checklist.Answer{Seen: checklist.SeenNA, Reason: "nobody came"}, checklist.NotChecked, "a hold point is not met by that"},
	} {
		if got := checklist.Evaluate(c, tt.a, checklist.ToolEye, s.Style); got.Verdict != tt.verdict || !strings.Contains(got.Why, tt.why) {
			t.Errorf("%s: %s, %q; want %s with %q", tt.name, got.Verdict.Word(), got.Why, tt.verdict.Word(), tt.why)
		}
	}
}

// Where the permit is to be in every picture each check that asks for one says so, but that of the permit itself.
func TestPermitInView(t *testing.T) {
	s := source(t, "irc-2021", length.Inches, levelRun(), nil, nil)
	s.Photos = checklist.PermitInFrame
	said := 0
	for _, c := range append(checklist.Generate(s), checklist.GenerateJob(s.Style, s.Photos)...) {
		want := c.Ask == checklist.AskPhoto && c.Key != "framing.photo_permit"
		if got := strings.HasSuffix(c.PhotoShows, ", with the permit in view"); got != want {
			t.Errorf("%s shows %q", c.ID, c.PhotoShows)
		} else if got {
			said++
		}
	}
	if said == 0 {
		t.Error("no check says so")
	}
}
