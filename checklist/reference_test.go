package checklist_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// takenFrom is a length with what it was taken from.
func takenFrom(l length.Length, from checklist.Reference) checklist.Answer {
	return checklist.Answer{Length: &l, From: from}
}

// A height taken from the framing or a post's top, a place taken from the far end or the post before: what each comes to on the
// eight-foot run with its 1 in decking, finished at 36 1/2 in. It is not judged, and what it would come to is said. Plain arithmetic.
func TestTakenElsewhere(t *testing.T) {
	s := source(t, "irc-2018", length.Inches, levelRun(), func(s *layout.Spec) { s.PostsAtCap = layout.PostsThroughCap }, nil)
	s.MeasuredTop = map[int]length.Length{3: 41 * in}
	checks := checklist.Generate(s)
	for _, tt := range []struct {
		id    string
		got   length.Length
		from  checklist.Reference
		comes length.Length
		would string
		by    string
	}{
		{"k7d2.caps.height_start", 37*in + in/2, checklist.FromFraming, 36*in + in/2, "would be good", `decking's 1" on the layout`},
		{"k7d2.caps.height_start", 36*in + in/2, checklist.FromFraming, 35*in + in/2, "would fail the limit", `decking's 1" on the layout`},
		{"k7d2.caps.height_start", 37 * in, checklist.FromFraming, 36 * in, "would be too close to call", `decking's 1" on the layout`},
		{"k7d2.caps.height_start", 4 * in, checklist.FromPostTop, 36*in + in/2, "would be good", `post's top at 40 1/2" on the layout`},
		{"k7d2.caps.height_end", 4*in + in/2, checklist.FromPostTop, 36*in + in/2, "would be good", `post's top as measured at 41"`},
		{"k7d2/P2.framing.place", 48 * in, checklist.FromFarEnd, 48 * in, "would be good", `run's 96" on the layout`},
		{"k7d2/P3.framing.place", 48*in + in/2, checklist.FromLastPost, 96*in + in/2, "would be off the layout", `place of R1-P2 on the layout, 48"`},
	} {
		c := find(t, checks, tt.id)
		got := checklist.Evaluate(c, takenFrom(tt.got, tt.from), checklist.ToolTape, length.InchFraction)
		if got.Verdict != checklist.NotChecked || got.Limit != checklist.NotHeld || got.Layout != checklist.NotHeld || got.Comes == nil || *got.Comes != tt.comes {
			t.Errorf("%s of %v from %s: %+v, want %v and no verdict", tt.id, tt.got, tt.from, got, tt.comes)
		}
		for _, want := range []string{"was taken from " + string(tt.from), tt.would, tt.by, "Read it from " + string(c.Reference)} {
			if !strings.Contains(got.Why, want) {
				t.Errorf("%s of %v from %s says %q, not %q", tt.id, tt.got, tt.from, got.Why, want)
			}
		}
	}
}

// Where the layout does not say what a reading comes to, nothing is worked out; where the figures hold from either reference, it is judged.
func TestOtherReferences(t *testing.T) {
	checks := checklist.Generate(source(t, "irc-2018", length.Inches, levelRun(), nil, nil))
	overhang := find(t, checks, "k7d2.caps.overhang_middle")
	if r := checklist.Evaluate(overhang, takenFrom(in, checklist.FromRail), checklist.ToolTape, length.InchFraction); r.Verdict != checklist.NotChecked || r.Comes != nil || !strings.Contains(r.Why, "The layout does not say") {
		t.Errorf("an overhang off the rail: %+v", r)
	}
	for _, from := range []checklist.Reference{"", checklist.FromPostFace, checklist.FromString} {
		if r := checklist.Evaluate(overhang, takenFrom(in, from), checklist.ToolTape, length.InchFraction); r.Verdict != checklist.Good || r.Comes != nil {
			t.Errorf("an overhang from %q: %+v", from, r)
		}
	}
	height := find(t, checks, "k7d2.caps.height_lowest")
	four := 4
	for name, a := range map[string]checklist.Answer{
		"a reference of another check": takenFrom(36*in, checklist.FromDatum),
		"a reference with no length":   {Seen: checklist.SeenNA, Reason: "gone", From: checklist.FromDecking},
		"a reference with a count":     {Count: &four, From: checklist.FromDecking},
	} {
		if sentence, ok := checklist.CheckAnswer(height, a); ok && a.Seen != checklist.SeenNA {
			t.Errorf("%s is taken: %q", name, sentence)
		}
	}
	raked := checklist.Generate(source(t, "irc-2018", length.Inches, rakedRun(), nil, nil))
	k := find(t, raked, "m3x9/B1.rails.height_start")
	if k.Reference != checklist.FromNosings || len(k.Others) != 2 || k.Others[0].Offset != nil || k.Others[1].Offset != nil {
		t.Errorf("a raked rail's height is taken from %s or %+v: the same rail meets the faces of a post at different heights", k.Reference, k.Others)
	}
}

// A reading that is off the layout, and would be on it from another reference, is asked about: nobody may have said where it was taken.
func TestPerhapsFromElsewhere(t *testing.T) {
	checks := checklist.Generate(source(t, "irc-2018", length.Inches, levelRun(), nil, nil))
	for _, tt := range []struct {
		id   string
		got  length.Length
		want string
	}{
		{"k7d2/P3.framing.place", 48 * in, "If it was taken from the post before, it comes to 96"},
		{"k7d2.caps.height_start", 37*in + in/2, "If it was taken from the top of the framing"},
		{"k7d2/B1.rails.height_end", 0, "If it was taken from the top of the post"},
		{"k7d2.caps.height_start", 39 * in, ""},
	} {
		r := checklist.Evaluate(find(t, checks, tt.id), lengthAnswer(tt.got), checklist.ToolTape, length.InchFraction)
		if asked := strings.Contains(r.Why, "If it was taken"); asked != (tt.want != "") || !strings.Contains(r.Why, tt.want) {
			t.Errorf("%s of %v says %q, want %q", tt.id, tt.got, r.Why, tt.want)
		}
	}
}

// What is taken from elsewhere has no verdict whatever it reads, and what it comes to and what a tape would show are each other's inverse.
func TestElsewhereIsNeverJudged(t *testing.T) {
	checks := everyCheck(t)
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(checks).Filter(func(c checklist.Check) bool { return len(c.Others) > 0 }).Draw(t, "check")
		o := rapid.SampledFrom(c.Others).Draw(t, "other")
		got := length.Length(rapid.Int64Range(0, int64(200*in)).Draw(t, "reading"))
		r := checklist.Evaluate(c, takenFrom(got, o.From), checklist.ToolTape, length.Metric)
		if o.Alike {
			if r != checklist.Evaluate(c, lengthAnswer(got), checklist.ToolTape, length.Metric) {
				t.Fatalf("%s from %s is judged otherwise", c.ID, o.From)
			}
			return
		}
		if r.Verdict != checklist.NotChecked || r.Limit != checklist.NotHeld || r.Layout != checklist.NotHeld || (r.Comes != nil) != (o.Offset != nil) {
			t.Fatalf("%s of %v from %s: %+v", c.ID, got, o.From, r)
		}
		if r.Comes == nil {
			return
		}
		at := c
		at.Nominal = r.Comes
		if back := at.AsReadFrom(o.From); *back.Nominal != got {
			t.Fatalf("%s: %v from %s comes to %v, which would read %v there", c.ID, got, o.From, *r.Comes, *back.Nominal)
		}
	})
}

// Every height, overhang and post place says what it is taken from, and lengths with one way to take them say nothing.
func TestWhichChecksHaveAReference(t *testing.T) {
	want := map[string]checklist.Reference{
		"framing.place": checklist.FromDatum, "posts.top": checklist.FromDecking, "rails.height": checklist.FromDecking, "caps.height": checklist.FromDecking,
		"caps.overhang": checklist.FromPostFace,
	}
	seen := map[string]bool{}
	for _, c := range checklist.Generate(source(t, "irc-2018", length.Inches, levelRun(), nil, nil)) {
		id, title := checklist.Question(c)
		if c.Ask == checklist.AskSeen || c.Ask == checklist.AskPhoto {
			continue
		}
		if c.Reference != want[id] || (c.Reference == "") != (len(c.Others) == 0) || title == "" {
			t.Errorf("%s is taken from %q, want %q", c.ID, c.Reference, want[id])
		}
		seen[id] = true
	}
	for id := range want {
		if !seen[id] {
			t.Errorf("%s is not asked", id)
		}
	}
}
