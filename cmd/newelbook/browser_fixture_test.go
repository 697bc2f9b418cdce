package main

import (
	"bytes"
	"context"
	"io"
	"strings"
	"testing"
	"time"

	"newelbook/checklist"
	"newelbook/cmd/newelbook/demo/pictures"
	"newelbook/jobs"
	"newelbook/server"
	"newelbook/views"
	"newelbook/views/pack"
)

// fixture is a data folder that a test fills through the use cases before it is served.
type fixture struct {
	*testing.T
	dir   string
	data  *data
	ctx   context.Context
	by    jobs.By
	job   string   // id
	runs  []string // ids
	photo string   // id
	paper string   // id
	// The tokens of the links that were made, and the receipt of an answer.
	owner, inspector, gone, receipt string
}

// newFixture makes a data folder with the builder's account.
func newFixture(t *testing.T) *fixture {
	t.Helper()
	f := &fixture{T: t, dir: t.TempDir(), ctx: context.Background()}
	var err error
	if f.data, err = openData(f.ctx, env{out: io.Discard, err: io.Discard, now: moment}, f.dir, true); err != nil {
		t.Fatal(err)
	}
	hash, err := server.HashPassword(password)
	f.must(err)
	token, err := f.data.service.SetupToken(f.ctx)
	f.must(err)
	account, err := f.data.service.Setup(f.ctx, token, jobs.AccountInput{Name: builderName, Login: builderLogin, Hash: hash})
	f.must(err)
	f.by = jobs.By{Actor: account.Actor()}
	return f
}

func (f *fixture) must(err error) {
	f.Helper()
	if err != nil {
		f.Fatal(err)
	}
}

// serve closes the folder and serves it.
func (f *fixture) serve() *servingTest {
	f.Helper()
	f.must(f.data.Close())
	return serveLinked(f.T, f.dir)
}

// serveLinked serves a folder with links for guests, at its own address.
func serveLinked(t *testing.T, dir string) *servingTest {
	t.Helper()
	return mustServe(t, "serve", "--data", dir, "--listen", "127.0.0.1:0", "--public-url", ownAddress)
}

// withJob adds a job of three runs.
func (f *fixture) withJob() *fixture {
	f.Helper()
	var err error
	f.job, err = f.data.service.MakeJob(f.ctx, f.by, jobs.JobInput{
		Ref: "J-2", Name: "Deck guard at the mill", Site: "2 Invented Quay", Owner: ownerName, Builder: builderName, Contact: "Ring the yard (invented)",
		Permit: "P-78", Authority: "Town of Nowhere (invented)", Zone: journeyZone, Begun: "2026-05-04", RuleSet: "irc-2018", Units: "in",
		Spec: map[string]string{"connector_top": "1/4", "connector_bottom": "1/4", "bolt_top": "2 1/2", "bolt_bottom": "2 1/2", "joist_depth": "11 1/4", "infill_seat": "0"},
	})
	f.must(err)
	for _, run := range []jobs.RunInput{
		{Fields: map[string]string{"label": "R1", "kind": "level", "start": "wall", "end": "stair head", "length": "8'", "deck_height": "42", "joists": "across", "first_joist": "6"}},
		{Fields: map[string]string{"label": "R2", "kind": "rake", "start": "stair head", "start_at": "R1", "end": "stair foot", "total_rise": "42", "tread": "10 1/2", "nosing": "1", "deck_height": "42",
			"nosing_from": "4 1/4", "stringer": "closed risers", "foot_on": "pad", "stringer_below": "12 1/2", "handrail": "separate", "handrail_size": "1 1/2", "handrail_height": "36"}},
		{Fields: map[string]string{"label": "R3", "kind": "removable", "start": "free", "end": "free", "length": "5'", "deck_height": "26", "removable_why": "a boat is craned in here twice a year"},
			Overrides: map[string]string{"post_mount": "sleeve", "sleeve_material": "steel"}},
	} {
		id, err := f.data.service.SaveRun(f.ctx, f.by, f.job, run)
		f.must(err)
		f.runs = append(f.runs, id)
	}
	return f
}

// check is the id of the check of a key at the place of a label.
func (f *fixture) check(key, label string) string {
	f.Helper()
	rec, err := f.data.service.Record(f.ctx, f.job)
	f.must(err)
	sheet, err := rec.Sheet()
	f.must(err)
	for _, c := range sheet.Checks {
		if c.Check.Key == key && c.Check.Place.Label == label {
			return c.Check.ID
		}
	}
	f.Fatalf("no check %s at %s", key, label)
	return ""
}

// read takes one reading as it would be typed, or that a gauge was stopped.
func (f *fixture) read(key, label, text string) {
	f.Helper()
	in := jobs.ReadingInput{CheckID: f.check(key, label), Text: text}
	if text == string(checklist.GaugeStopped) {
		in.Text, in.Gauge = "", text
	}
	_, err := f.data.service.TakeReadings(f.ctx, f.by, f.job, []jobs.ReadingInput{in})
	f.must(err)
}

// day is the job's today.
func (f *fixture) day() string { return moment().In(zoneOf(f, journeyZone)).Format(time.DateOnly) }

// withEvidence adds readings with every verdict, a photograph, a paper, a cover, a page of the diary, two packs, links and answers.
func (f *fixture) withEvidence() *fixture {
	f.Helper()
	f.withJob()
	f.read("framing.bolt_upper", "R1-P1", "1")
	f.read("framing.bolt_upper", "R1-P2", "2 5/8")
	f.read("framing.bolt_lower", "R1-P1", "2")
	f.read("posts.opening_bottom", "R1-B1", "46")
	f.read("infill.gap", "R1-B2", string(checklist.GaugeStopped))
	body, err := pictures.Draw(pictures.Wide, pictures.Params{Label: "R1-P1", At: moment().Add(-time.Hour)})
	f.must(err)
	facts, err := f.data.media.Intake(f.ctx, bytes.NewReader(body))
	f.must(err)
	photos, err := f.data.service.AddPhotos(f.ctx, f.by, f.job, []jobs.PhotoInput{{Facts: facts, Name: "wide.jpg", CheckID: f.check("framing.photo_wide", "R1-P1"), Caption: "The post in its place."}})
	f.must(err)
	f.photo = photos[0].ID
	f.must(f.data.service.CloseStage(f.ctx, f.by, f.job, jobs.CloseInput{Stage: string(checklist.Framing), Reason: "Seen on site (invented)."}))
	f.must(f.data.service.CoverRun(f.ctx, f.by, f.job, jobs.CoverInput{RunID: f.runs[0], On: f.day(), Reason: "Decked over (invented)."}))
	f.must(f.data.service.SaveDiary(f.ctx, f.by, f.job, jobs.DiaryInput{Day: f.day(), Weather: "Dry", People: "Ada Sample, 8", Work: "Framing.", FallProtection: "Barrier along the edge."}))
	label, err := f.data.media.IntakePaper(f.ctx, bytes.NewReader(body))
	f.must(err)
	f.paper, err = f.data.service.AddPaper(f.ctx, f.by, f.job, jobs.PaperInput{Facts: label, Name: "label.jpg", Kind: string(jobs.PaperLabel), Title: "Rail connector, care (invented)", Issuer: "A maker (invented)", PlaceID: f.runs[0]})
	f.must(err)
	for range 2 {
		_, err = f.data.packs.Issue(f.ctx, f.by, f.job, pack.Order{Purpose: "framing inspection"})
		f.must(err)
	}
	link := func(role jobs.Role, name string, n int) (id, token string) {
		id, token, err := f.data.service.MakeLink(f.ctx, f.by, f.job, jobs.LinkInput{Pack: n, For: string(role), Name: name, Days: 30})
		f.must(err)
		return id, token
	}
	_, f.owner = link(jobs.RoleOwner, ownerName, 1)
	_, f.inspector = link(jobs.RoleInspector, inspectorName, 2)
	id, gone := link(jobs.RoleOwner, ownerName, 2)
	f.gone = gone
	f.must(f.data.service.RevokeLink(f.ctx, f.by, f.job, id))
	f.receipt, err = f.data.service.Answer(f.ctx, f.owner, "", "", jobs.AnswerInput{Kind: string(jobs.AnswerDecline), Name: ownerName, Text: "One gap looks wide (invented)."})
	f.must(err)
	return f
}

// signIn signs the builder in.
func (p *person) signIn() {
	p.Helper()
	p.open("/sign-in")
	p.fill("Sign-in name", builderLogin)
	p.fill("Password", password)
	p.follow("Sign in")
}

// deviation is the id of the newest deviation.
func (f *fixture) deviation() string {
	f.Helper()
	rec, err := f.data.service.Record(f.ctx, f.job)
	f.must(err)
	if len(rec.Deviations) == 0 {
		f.Fatal("no deviation was opened")
	}
	return rec.Deviations[len(rec.Deviations)-1].ID
}

// url is an address of the job.
func (f *fixture) url(parts ...string) string { return views.JobURL(f.job, parts...) }

// askURL is where a question is asked at the places of these labels.
func (f *fixture) askURL(key string, labels ...string) string {
	f.Helper()
	var places []string
	for _, label := range labels {
		places = append(places, f.place(label))
	}
	stage, _, _ := strings.Cut(key, ".")
	return views.AskURL(f.job, checklist.Stage(stage), key, places...)
}

// place is the id of the place of a label.
func (f *fixture) place(label string) string {
	f.Helper()
	rec, err := f.data.service.Record(f.ctx, f.job)
	f.must(err)
	for _, place := range rec.Places() {
		if place.Label == label {
			return place.ID
		}
	}
	f.Fatalf("no place %s", label)
	return ""
}
