package store_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"newelbook/checklist"
	"newelbook/jobs"
)

// paperInput is a paper in which nothing is wrong.
func paperInput(n int) jobs.PaperInput {
	return jobs.PaperInput{Facts: paperFacts(n), Name: "scan.pdf", Kind: string(jobs.PaperDrawing), Title: "Framing plan", On: "2026-05-01", Issuer: "Building office", PlaceID: "job"}
}

func TestPaperInput(t *testing.T) {
	x := newSite(t, open(t))
	run := x.run(t, "R1", "144")
	dev, err := x.service.OpenDeviation(t.Context(), crew, x.job, jobs.DeviationInput{PlaceID: run, Stage: "rails", What: "The rail is chipped."})
	if err != nil {
		t.Fatal(err)
	}
	for i, tt := range []struct {
		change func(*jobs.PaperInput)
		fields string // that are at fault
	}{
		{func(*jobs.PaperInput) {}, ""},
		{func(in *jobs.PaperInput) { in.On = "" }, ""},
		{func(in *jobs.PaperInput) { in.PlaceID, in.Rests = run+"/P1", "deviation:"+dev }, ""},
		{func(in *jobs.PaperInput) { *in = jobs.PaperInput{Facts: in.Facts} }, "kind title issuer place"},
		{func(in *jobs.PaperInput) {
			in.Kind, in.On, in.PlaceID, in.Rests = "a poem", "4 May", "nowhere", "deviation:gone"
		}, "kind on place rests"},
		{func(in *jobs.PaperInput) { in.On = "2026-05-05" }, "on"}, // tomorrow
		{func(in *jobs.PaperInput) { in.Title, in.Issuer = strings.Repeat("x", 201), " \t" }, "title issuer"},
		{func(in *jobs.PaperInput) { in.Rests = "amendment:guard_height" }, "rests"}, // no such figure is in force
		{func(in *jobs.PaperInput) { in.Facts = paperFacts(0) }, "file"},             // attached already
	} {
		in := paperInput(i)
		tt.change(&in)
		_, err := x.service.AddPaper(t.Context(), crew, x.job, in)
		var bad *jobs.InvalidError
		var got []string
		if errors.As(err, &bad) {
			for _, f := range bad.Fields {
				got = append(got, f.Field)
			}
		} else if err != nil {
			t.Fatal(err)
		}
		if strings.Join(got, " ") != tt.fields {
			t.Errorf("case %d: faults at %v, want %q", i, got, tt.fields)
		}
	}
	papers := x.record(t).Papers
	if len(papers) != 3 || papers[2].Number != 3 || papers[2].DeviationID != dev || papers[2].Place.Label != "R1-P1" || papers[0].By != crew.Actor {
		t.Errorf("papers %+v", papers)
	}
}

// A paper is described anew and withdrawn by the builder alone, over the version that stands, and is never gone.
func TestPaperWithdrawn(t *testing.T) {
	x := newSite(t, open(t))
	x.run(t, "R1", "144")
	in := paperInput(1)
	id, err := x.service.AddPaper(t.Context(), crew, x.job, in)
	if err != nil {
		t.Fatal(err)
	}
	why := jobs.WithdrawPaperInput{ID: id, Version: 1, Why: "Replaced by sheet 2."}
	if err := x.service.WithdrawPaper(t.Context(), crew, x.job, why); !errors.Is(err, jobs.ErrForbidden) {
		t.Errorf("withdrawn by crew: %v", err)
	}
	var bad *jobs.InvalidError
	if err := x.service.WithdrawPaper(t.Context(), builder, x.job, jobs.WithdrawPaperInput{ID: id, Version: 1, Why: " "}); !errors.As(err, &bad) || bad.Fields[0].Field != "why" {
		t.Errorf("withdrawn without a reason: %v", err)
	}
	in.ID, in.Version, in.Title = id, 1, "Framing plan, sheet 1"
	if err := x.service.DescribePaper(t.Context(), builder, x.job, in); err != nil {
		t.Fatal(err)
	}
	var conflict *jobs.ConflictError
	if err := x.service.WithdrawPaper(t.Context(), builder, x.job, why); !errors.As(err, &conflict) {
		t.Errorf("withdrawn over an older version: %v", err)
	}
	why.Version = 2
	if err := x.service.WithdrawPaper(t.Context(), builder, x.job, why); err != nil {
		t.Fatal(err)
	}
	in.Version = 3
	if err := x.service.DescribePaper(t.Context(), builder, x.job, in); !errors.As(err, &bad) {
		t.Errorf("described after it was withdrawn: %v", err)
	}
	r := x.record(t)
	p, ok := r.Paper(id)
	if !ok || p.Holds() || p.Why != why.Why || p.Title != "Framing plan, sheet 1" || p.WithdrawnBy != builder.Actor || len(r.PapersInForce()) != 0 {
		t.Errorf("withdrawn paper %+v", p)
	}
	if again, err := x.service.AddPaper(t.Context(), crew, x.job, paperInput(1)); err != nil || again == id {
		t.Errorf("the same file after the paper was withdrawn: %s, %v", again, err)
	}
	x.agree(t)
}

// The observation that a surface base has a published test names the report; when that is withdrawn, the record says so.
func TestReadingRestsOnPaper(t *testing.T) {
	x := newSite(t, open(t))
	in := jobInput()
	in.Version, in.Spec = 1, map[string]string{"post_mount": "base", "base_test": "Invented base, 200 lb at 36 in"}
	if err := x.service.ChangeJob(t.Context(), builder, x.job, in); err != nil {
		t.Fatal(err)
	}
	x.run(t, "R1", "144")
	report := paperInput(1)
	report.Kind = string(jobs.PaperTest)
	id, err := x.service.AddPaper(t.Context(), crew, x.job, report)
	if err != nil {
		t.Fatal(err)
	}
	base := x.check(t, checklist.KeyBaseTest)
	if jobs.PaperFor(base.Check) != jobs.PaperTest {
		t.Fatalf("%s rests on %q", base.Check.ID, jobs.PaperFor(base.Check))
	}
	for _, wrong := range []jobs.ReadingInput{
		{Field: "f", CheckID: base.Check.ID, Seen: "yes", PaperID: "gone"},
		{Field: "f", CheckID: x.check(t, "framing.base_fixed").Check.ID, Seen: "yes", PaperID: id},
	} {
		var bad *jobs.InvalidError
		if _, err := x.service.TakeReadings(t.Context(), crew, x.job, []jobs.ReadingInput{wrong}); !errors.As(err, &bad) {
			t.Errorf("%+v: %v", wrong, err)
		}
	}
	x.take(t, jobs.ReadingInput{CheckID: base.Check.ID, Seen: "yes", PaperID: id})
	if on := x.sheet(t).ReadingsOn(id); len(on) != 1 || on[0].CheckID != base.Check.ID {
		t.Errorf("readings that rest on the report: %+v", on)
	}
	if _, err := x.service.SameRest(t.Context(), crew, x.job, base.Check.ID, nil); err != nil {
		t.Fatal(err)
	}
	posts := len(x.sheet(t).ReadingsOn(id))
	if posts < 2 {
		t.Errorf("%d readings rest on the report after the rest of the run was said to be the same", posts)
	}
	said := func() bool {
		open, err := x.record(t).Unfinished()
		if err != nil {
			t.Fatal(err)
		}
		return slices.ContainsFunc(open, func(s string) bool { return strings.HasPrefix(s, "Paper 1 was withdrawn") })
	}
	if said() {
		t.Error("a paper that holds is said to be withdrawn")
	}
	if err := x.service.WithdrawPaper(t.Context(), builder, x.job, jobs.WithdrawPaperInput{ID: id, Version: 1, Why: "For another base."}); err != nil {
		t.Fatal(err)
	}
	if !said() {
		t.Error("nothing says that a reading rests on a paper that was withdrawn")
	}
}
