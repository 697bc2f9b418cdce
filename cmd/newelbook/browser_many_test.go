package main

import (
	"context"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"

	"newelbook/checklist"
	"newelbook/checklist/length"
	"newelbook/jobs"
)

// mostTaps is how many taps and keys a framing stage of twelve posts may take, beyond the digits and fractions of its numbers.
const mostTaps = 60

// withTwelvePosts adds a job with one level run of twelve posts.
func (f *fixture) withTwelvePosts() *fixture {
	f.Helper()
	f.withJob()
	run, err := f.data.service.SaveRun(f.ctx, f.by, f.job, jobs.RunInput{Fields: map[string]string{"label": "R9", "kind": "level", "start": "free", "end": "free", "length": "64'", "deck_height": "42", "joists": "across", "first_joist": "6"}})
	f.must(err)
	rec, err := f.data.service.Record(f.ctx, f.job)
	f.must(err)
	if v, _ := rec.Layout(run); len(v.Layout.Posts) != 12 {
		f.Fatalf("the run has %d posts, want 12", len(v.Layout.Posts))
	}
	for i := range f.runs {
		r, _ := rec.Run(f.runs[len(f.runs)-1-i])
		f.must(f.data.service.RetireRun(f.ctx, f.by, f.job, r.ID, r.Version))
	}
	f.runs = []string{run}
	return f
}

// framing is the job's framing stage as it is on disk.
func framing(t *testing.T, s *servingTest, f *fixture) (*jobs.Record, *jobs.StageSheet) {
	t.Helper()
	rec := recorded(t, s, f)
	return rec, stageOf(t, rec, checklist.Framing)
}

// onDisk is a stage of the job as it is on disk.
func onDisk(t *testing.T, s *servingTest, f *fixture, stage checklist.Stage) *jobs.StageSheet {
	t.Helper()
	return stageOf(t, recorded(t, s, f), stage)
}

func stageOf(t *testing.T, rec *jobs.Record, stage checklist.Stage) *jobs.StageSheet {
	t.Helper()
	sheet, err := rec.Sheet()
	if err != nil {
		t.Fatal(err)
	}
	st, _ := sheet.Stage(stage)
	return st
}

// recorded is the job's record as it is on disk.
func recorded(t *testing.T, s *servingTest, f *fixture) *jobs.Record {
	t.Helper()
	d, err := openData(f.ctx, env{out: s.out, err: s.out, now: moment}, f.dir, false)
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	rec, err := d.service.Record(f.ctx, f.job)
	f.must(err)
	return rec
}

// manyPosts takes all readings of a framing stage with twelve posts on a phone, with the number pad, one question at a time, and counts.
func manyPosts(t *testing.T, browser context.Context) {
	f := newFixture(t).withTwelvePosts()
	rec, err := f.data.service.Record(f.ctx, f.job)
	f.must(err)
	sheet, err := rec.Sheet()
	f.must(err)
	st, _ := sheet.Stage(checklist.Framing)
	s := f.serve()
	p := newPerson(t, browser, s.address, 390)
	p.signIn()
	p.open(f.url("stages", "framing"))
	p.taps, p.keyed = 0, 0
	numbers, want := 0, 0
	var asked []string
	for _, c := range st.Checks {
		if c.Check.Ask == checklist.AskPhoto {
			continue
		}
		want++
		key := c.Check.Key + " " + string(c.Check.Ask)
		if slices.Contains(asked, key) {
			continue
		}
		asked = append(asked, key)
		places := same(st, c.Check)
		title := c.Check.Title
		if len(places) == 1 {
			title = places[0].Place.Label + " " + title
		}
		p.follow(title)
		if len(places) > 1 {
			p.seesNot("Yes at all", "Reading at")
			p.follow("All 1")
		}
		switch {
		case c.Check.Ask == checklist.AskSeen && len(places) > 1:
			p.sees(places[0].Place.Label+", "+places[1].Place.Label, places[len(places)-1].Place.Label)
			p.do(p.tapAt(p.spot(`return [...document.querySelectorAll('label')].find(l => text(l).startsWith('Yes at all'))`)))
		case c.Check.Ask == checklist.AskSeen:
			p.choose("Is it so at", "Yes")
		default:
			for _, at := range places {
				label := "Reading at " + at.Place.Label
				p.until("the box of "+at.Place.Label+" is not in hand", func() bool { return p.focused() == label })
				if got := p.value(label); got != "" {
					p.Errorf("%s is filled in with %q", label, got)
				}
				numbers += p.pad(at.Nominal.Round(length.Inch / 16))
			}
		}
		p.follow("Save the reading")
		p.sees("Just recorded")
	}
	beyond := p.taps + p.keyed - numbers
	t.Logf("%d checks of 12 posts: %d taps, of them %d of numbers; %d beyond the numbers", want, p.taps, numbers, beyond)
	if beyond >= mostTaps {
		t.Errorf("%d taps and keys beyond the numbers, want fewer than %d", beyond, mostTaps)
	}
	rec, st = framing(t, s, f)
	if len(rec.Readings) != want || want < 100 {
		t.Errorf("%d readings are recorded, want %d", len(rec.Readings), want)
	}
	for _, c := range st.Checks {
		if c.Check.Ask != checklist.AskPhoto && c.Verdict() != checklist.Good {
			t.Errorf("%s is %s", c.Check.ID, c.Verdict().Word())
		}
	}
}

// pad taps a length on the number pad and returns how many keys that took.
func (p *person) pad(l length.Length) int {
	p.Helper()
	before := p.taps
	whole, fraction, _ := strings.Cut(l.FormatBare(length.InchFraction), " ")
	if strings.Contains(whole, "/") {
		whole, fraction = "", whole
	}
	for _, digit := range whole {
		p.tapKey(string(digit))
	}
	if fraction == "" {
		fraction = "even"
	}
	p.tapKey(fraction)
	return p.taps - before
}

// same are the checks that ask the same at each place, in their order.
func same(st *jobs.StageSheet, c checklist.Check) []checklist.Check {
	var out []checklist.Check
	for _, o := range st.Checks {
		if o.Check.Key == c.Key && o.Check.Ask == c.Ask {
			out = append(out, o.Check)
		}
	}
	return out
}

// manyByKeyboard fills a table of twelve readings with keys alone: Enter and Tab go from box to box, a fault stays beside its box with
// nothing lost, and a slip is asked about.
func manyByKeyboard(t *testing.T, browser context.Context) {
	f := newFixture(t).withTwelvePosts()
	s := f.serve()
	p := newPerson(t, browser, s.address, 1280)
	p.signIn()
	p.open(f.url("stages", "framing"))
	p.follow("Lower bolt above the underside of the framing")
	p.follow("All 12 left")
	p.keyed = 0
	typed := 0
	label := func(n int) string { return "Reading at R9-P" + strconv.Itoa(n) }
	for n := 1; n <= 12; n++ {
		text := map[int]string{4: "2 1/", 7: "218"}[n]
		if text == "" {
			text = "2 1/8"
		}
		p.until("the keyboard is not at "+label(n), func() bool { return p.focused() == label(n) })
		p.keys(text)
		typed += len(text)
		switch {
		case n == 12:
			p.enter(http.StatusUnprocessableEntity)
		case n%2 == 0:
			p.keys(kb.Tab)
		default:
			p.keyed++
			p.do(pressEnter())
		}
	}
	if got := p.keyed - typed; got != 12 {
		t.Errorf("%d keys beyond the numbers, want one for each", got)
	}
	p.sees("Did you mean 2 1/8?", "Take 2 1/8", "Keep 218")
	for n, want := range map[int]string{1: "2 1/8", 4: "2 1/", 7: "218", 12: "2 1/8"} {
		if got := p.value(label(n)); got != want {
			t.Errorf("%s holds %q when the page comes back, want %q", label(n), got, want)
		}
	}
	p.putRight(map[string]string{label(4): "2 1/"})
	p.fill(label(4), "2 1/16")
	p.follow("Take 2 1/8")
	p.sees("Just recorded", "2 1/16")
	rec, _ := framing(t, s, f)
	if len(rec.Readings) != 12 {
		t.Errorf("%d readings are recorded, want 12", len(rec.Readings))
	}
}

// mostGaugeTaps is how many taps eleven bays tried with a gauge may take, from the stage's page to the answers recorded: the question, all
// places, one bay that let the gauge pass, the rest stopped, and saving.
const mostGaugeTaps = 5

// manyGauges answers the widest gap of eleven bays with one gauge on a phone: where it passed is said at its bay, the rest with one tap,
// and nothing is filled in beforehand.
func manyGauges(t *testing.T, browser context.Context) {
	f := newFixture(t).withTwelvePosts()
	s := f.serve()
	p := newPerson(t, browser, s.address, 390)
	p.signIn()
	p.open(f.url("stages", "infill"))
	p.taps, p.keyed = 0, 0
	p.follow("Widest gap in the bay")
	p.follow("All 11 left")
	p.sees("Stopped at all 11", "I tried a gauge of 4″ at each: R9-B1, R9-B2")
	for n := 1; n <= 11; n++ {
		if got := p.value("Reading at R9-B" + strconv.Itoa(n)); got != "" {
			t.Errorf("bay %d is filled in with %q", n, got)
		}
	}
	p.choose("Or a gauge of 4″ at R9-B7", "Passed")
	p.do(p.tapAt(p.spot(`return [...document.querySelectorAll('label')].find(l => text(l).startsWith('Stopped at all'))`)))
	p.follow("Save the readings")
	p.sees("Just recorded", "gauge passed")
	if p.taps+p.keyed > mostGaugeTaps {
		t.Errorf("%d taps and %d keys, want %d at most", p.taps, p.keyed, mostGaugeTaps)
	}
	t.Logf("eleven bays tried with a gauge: %d taps", p.taps)
	for _, c := range onDisk(t, s, f, checklist.InfillSt).Checks {
		if c.Check.Key != "infill.gap" {
			continue
		}
		want, verdict := checklist.GaugeStopped, checklist.Good
		if c.Check.Place.Number == 7 {
			want, verdict = checklist.GaugePassed, checklist.FailsLimit
		}
		if c.Current == nil || c.Current.Answer.Gauge != want || c.Current.Tool != checklist.ToolGauge || c.Verdict() != verdict {
			t.Errorf("%s is %s with %+v", c.Check.ID, c.Verdict().Word(), c.Current)
		}
	}
}

// oneReference takes the heights of all post tops in a table: each is from the decking until one tap says otherwise. What was taken from
// elsewhere is not judged, what it comes to is said, and the stage, the deviations and a later pack point out that they do not compare.
func oneReference(t *testing.T, browser context.Context) {
	f := newFixture(t).withTwelvePosts()
	s := f.serve()
	p := newPerson(t, browser, s.address, 390)
	p.signIn()
	p.open(f.url("stages", "posts"))
	p.follow("Height of the post")
	p.follow("All 12 left")
	for n := 1; n <= 12; n++ {
		at := "R9-P" + strconv.Itoa(n)
		p.fill("Reading at "+at, "35 1/2")
		if n == 3 {
			p.fill("Reading at "+at, "36 1/2")
			p.taps = 0
			p.choose("Taken at "+at+" from", "Top of the framing")
			if p.taps != 1 {
				t.Errorf("saying what a height was taken from takes %d taps, want 1", p.taps)
			}
		}
	}
	p.follow("Save the readings")
	const pointed = "Heights of the post tops of R9 were not taken from one reference: from the finished decking at R9-P1, R9-P2, R9-P4"
	p.sees("Just recorded", "By the decking's 1″ on the layout it comes to 35 1/2″ from there, where it would be good.", pointed, "from the top of the framing at R9-P3.")
	p.open(f.url("deviations"))
	p.sees("Not taken from one reference", pointed)
	p.follow("R9 Heights of the post tops")
	p.sees("R9-P3", "Read it from the finished decking for a verdict.")
	p.fill("Reading at R9-P3", "35 1/2")
	p.follow("Save the reading")
	p.open(f.url("deviations"))
	p.seesNot("Not taken from one reference")
	for _, c := range onDisk(t, s, f, checklist.Posts).Checks {
		if c.Check.Key == checklist.KeyPostTop && (c.Verdict() != checklist.Good || c.Current.Answer.From != checklist.FromDecking) {
			t.Errorf("%s is %s from %q", c.Check.ID, c.Verdict().Word(), c.Current.Answer.From)
		}
	}
}
