package store_test

import (
	"errors"
	"slices"
	"testing"

	"newelbook/checklist"
	"newelbook/checklist/codes"
	"newelbook/checklist/length"
	"newelbook/jobs"
)

// amend lays an authority's own figure over the job's rules.
func (x *site) amend(t *testing.T, key, value string) {
	t.Helper()
	err := x.service.Amend(t.Context(), builder, x.job, jobs.AmendmentInput{
		Version: x.record(t).Job.Version, Key: key, Value: value, SaidBy: "R. Sample", Office: "Sample Town", On: "2026-05-01",
	})
	if err != nil {
		t.Fatal(err)
	}
}

// An authority's figure that no longer holds stays in the record with who ended it, when and why, and a reading keeps the figure
// it was judged against.
func TestAmendmentHistory(t *testing.T) {
	x := newSite(t, open(t))
	x.run(t, "R1", "12'")
	height := func() codes.AppliedFigure {
		f, _ := x.sheet(t).Rules.Figure(codes.GuardHeightLevel)
		return f
	}
	x.amend(t, codes.GuardHeightLevel, "42 in")
	c := x.check(t, "caps.height_lowest")
	x.take(t, jobs.ReadingInput{CheckID: c.Check.ID, Text: "40"})
	if got := x.check(t, "caps.height_lowest").Verdict(); got != checklist.FailsLimit {
		t.Fatalf("40 in under 42 in comes to %q", got)
	}
	x.amend(t, codes.GuardHeightLevel, "39 in")
	if err := x.service.Withdraw(t.Context(), builder, x.job, jobs.WithdrawalInput{Version: x.record(t).Job.Version, Key: codes.GuardHeightLevel, Why: " The letter was about another site. "}); err != nil {
		t.Fatal(err)
	}
	if f := height(); f.Amendment != nil || f.Value != 36*length.Inch {
		t.Errorf("after it was withdrawn the height is %s, amended %v", f.Text, f.Amendment)
	}
	job := x.record(t).Job
	if len(job.Amendments) != 0 || len(job.Past) != 2 {
		t.Fatalf("%d amendments hold and %d are past, want none and two", len(job.Amendments), len(job.Past))
	}
	first, second := job.Past[0], job.Past[1]
	if !first.Replaced || first.Amendment.Value != "42 in" || first.Why != "The authority gave another figure: 39 in." || first.EndedBy != builder.Actor {
		t.Errorf("the replaced one: %+v", first)
	}
	if second.Replaced || second.Amendment.Value != "39 in" || second.Why != "The letter was about another site." || second.Ended.IsZero() || !second.Ended.After(first.Ended) {
		t.Errorf("the withdrawn one: %+v", second)
	}
	again := x.check(t, "caps.height_lowest")
	if again.Verdict() != checklist.FailsLimit || again.Current.Check.Limits[0].Value != 42*length.Inch || !again.Moved {
		t.Errorf("the reading now says %q, held to %v, moved %t: it was judged again", again.Verdict(), again.Current.Check.Limits[0].Value, again.Moved)
	}
	if found := findings(t, x.store); len(found) > 0 {
		t.Errorf("the chain and the tables differ: %+v", found)
	}
}

func TestWithdrawRefuses(t *testing.T) {
	x := newSite(t, open(t))
	x.amend(t, codes.BoltEdgeMin, "2 1/2 in") // of the practice beside the rule set
	version := x.record(t).Job.Version
	for _, tt := range []struct {
		name   string
		by     jobs.By
		in     jobs.WithdrawalInput
		fields []string // empty: refused otherwise
		want   error
	}{
		{"crew", crew, jobs.WithdrawalInput{Version: version, Key: codes.BoltEdgeMin, Why: "No."}, nil, jobs.ErrForbidden},
		{"no reason", builder, jobs.WithdrawalInput{Version: version, Key: codes.BoltEdgeMin, Why: " "}, []string{"why"}, nil},
		{"a figure that nobody amended", builder, jobs.WithdrawalInput{Version: version, Key: codes.OpeningLevel, Why: "No."}, []string{"withdrawn"}, nil},
		{"neither", builder, jobs.WithdrawalInput{Version: version}, []string{"withdrawn", "why"}, nil},
	} {
		err := x.service.Withdraw(t.Context(), tt.by, x.job, tt.in)
		if tt.want != nil {
			if !errors.Is(err, tt.want) {
				t.Errorf("%s: %v, want %v", tt.name, err, tt.want)
			}
			continue
		}
		var invalid *jobs.InvalidError
		if !errors.As(err, &invalid) {
			t.Errorf("%s: %v, want an InvalidError", tt.name, err)
			continue
		}
		var fields []string
		for _, f := range invalid.Fields {
			fields = append(fields, f.Field)
		}
		if !slices.Equal(fields, tt.fields) {
			t.Errorf("%s: faults at %q, want %q", tt.name, fields, tt.fields)
		}
	}
	var conflict *jobs.ConflictError
	if err := x.service.Withdraw(t.Context(), builder, x.job, jobs.WithdrawalInput{Version: version - 1, Key: codes.BoltEdgeMin, Why: "No."}); !errors.As(err, &conflict) {
		t.Errorf("a stale form: %v, want a ConflictError", err)
	}
	if job := x.record(t).Job; len(job.Amendments) != 1 || len(job.Past) != 0 || job.Version != version {
		t.Errorf("a refused withdrawal changed the job: %+v, %+v", job.Amendments, job.Past)
	}
}

// An amendment that another rule set has no place for no longer locks the job in: it can be withdrawn.
func TestWithdrawFreesTheRuleSet(t *testing.T) {
	x := newSite(t, open(t))
	x.amend(t, codes.LoadGlassFactor, "5")
	in := jobInput()
	in.Version, in.RuleSet = x.record(t).Job.Version, "ontario-9.8"
	var invalid *jobs.InvalidError
	if err := x.service.ChangeJob(t.Context(), builder, x.job, in); !errors.As(err, &invalid) {
		t.Fatalf("ChangeJob = %v, want it refused", err)
	}
	if err := x.service.Withdraw(t.Context(), builder, x.job, jobs.WithdrawalInput{Version: in.Version, Key: codes.LoadGlassFactor, Why: "There is no glass."}); err != nil {
		t.Fatal(err)
	}
	in.Version++
	if err := x.service.ChangeJob(t.Context(), builder, x.job, in); err != nil {
		t.Errorf("after it was withdrawn: %v", err)
	}
}
