package store_test

import (
	"errors"
	"strings"
	"testing"

	"newelbook/checklist"
	"newelbook/jobs"
)

// removableRun saves a length of guard that lifts out.
func (x *site) removableRun(t *testing.T, label string) string {
	t.Helper()
	id, err := x.service.SaveRun(t.Context(), builder, x.job, jobs.RunInput{
		Fields:    map[string]string{"label": label, "kind": "removable", "start": "free", "end": "free", "length": "5'", "deck_height": "26", "removable_why": "a boat is craned in here", "removable_store": "behind the shed"},
		Overrides: map[string]string{"post_mount": "sleeve"},
	})
	if err != nil {
		t.Fatal(err)
	}
	return id
}

// answers gives the answer of an owner or inspector to a pack.
func (x *site) answers(t *testing.T, role jobs.Role, n int, in jobs.AnswerInput) {
	t.Helper()
	_, token, err := x.service.MakeLink(t.Context(), builder, x.job, jobs.LinkInput{Pack: n, For: string(role), Name: "C. Sample", Days: 7})
	if err != nil {
		t.Fatal(err)
	}
	in.Name = string(role) + " Sample"
	if _, err := x.service.Answer(t.Context(), token, "", "", in); err != nil {
		t.Fatal(err)
	}
}

// setPermit gives the job a permit number, or takes it away.
func (x *site) setPermit(t *testing.T, permit string) {
	t.Helper()
	in := jobInput()
	in.Permit, in.Version = permit, x.record(t).Job.Version
	if err := x.service.ChangeJob(t.Context(), builder, x.job, in); err != nil {
		t.Fatal(err)
	}
}

// A removable length opens a deviation by itself. The builder cannot end it; the owner's acceptance does, and under a permit the
// authority's besides. What does not speak of it leaves it open.
func TestRemovableEndsByTheAnswersAlone(t *testing.T) {
	accepted := jobs.AnswerInput{Kind: "accepted"}
	outcome := func(stage, outcome, place string) jobs.AnswerInput {
		return jobs.AnswerInput{Kind: "outcome", Outcome: outcome, Stage: stage, Place: place, On: "2026-05-01"}
	}
	type said struct {
		by jobs.Role
		in jobs.AnswerInput
	}
	for name, tt := range map[string]struct {
		permit string
		said   []said
		early  bool // to a pack from before the length was described
		ends   bool
	}{
		"owner, no permit":                    {"", []said{{jobs.RoleOwner, accepted}}, false, true},
		"owner of that length, no permit":     {"", []said{{jobs.RoleOwner, jobs.AnswerInput{Kind: "accepted", Place: "r9"}}}, false, true},
		"owner of another place":              {"", []said{{jobs.RoleOwner, jobs.AnswerInput{Kind: "accepted", Place: "R1-B2"}}}, false, false},
		"owner to an earlier pack":            {"", []said{{jobs.RoleOwner, accepted}}, true, false},
		"owner refuses":                       {"", []said{{jobs.RoleOwner, jobs.AnswerInput{Kind: "declined", Text: "It rattles."}}}, false, false},
		"owner asks":                          {"", []said{{jobs.RoleOwner, jobs.AnswerInput{Kind: "remark", Text: "Why?"}}}, false, false},
		"authority alone, no permit":          {"", []said{{jobs.RoleInspector, outcome("", jobs.OutcomeAccepted, "")}}, false, false},
		"owner under a permit":                {"P-1", []said{{jobs.RoleOwner, accepted}}, false, false},
		"authority under a permit":            {"P-1", []said{{jobs.RoleInspector, outcome("", jobs.OutcomeAccepted, "")}}, false, false},
		"both under a permit":                 {"P-1", []said{{jobs.RoleOwner, accepted}, {jobs.RoleInspector, outcome("handover", jobs.OutcomeAccepted, "")}}, false, true},
		"both, the other way round":           {"P-1", []said{{jobs.RoleInspector, outcome("", jobs.OutcomeAccepted, "R9")}, {jobs.RoleOwner, accepted}}, false, true},
		"the authority accepted the framing":  {"P-1", []said{{jobs.RoleOwner, accepted}, {jobs.RoleInspector, outcome("framing", jobs.OutcomeAccepted, "")}}, false, false},
		"the authority calls again":           {"P-1", []said{{jobs.RoleOwner, accepted}, {jobs.RoleInspector, outcome("", jobs.OutcomeCorrect, "")}}, false, false},
		"the owner took it back before":       {"P-1", []said{{jobs.RoleOwner, accepted}, {jobs.RoleOwner, jobs.AnswerInput{Kind: "declined", Text: "Not that way."}}, {jobs.RoleInspector, outcome("", jobs.OutcomeAccepted, "")}}, false, false},
		"the authority corrects, then agrees": {"P-1", []said{{jobs.RoleOwner, accepted}, {jobs.RoleInspector, outcome("", jobs.OutcomeCorrect, "")}, {jobs.RoleInspector, outcome("", jobs.OutcomeAccepted, "")}}, false, true},
	} {
		t.Run(name, func(t *testing.T) {
			x := newSite(t, open(t))
			x.setPermit(t, tt.permit)
			n := x.issue(t)
			x.removableRun(t, "R9")
			if !tt.early {
				n = x.issue(t)
			}
			d := x.record(t).Deviations[0]
			if d.Kind != jobs.DevRemovable || d.State != jobs.DevOpen || d.Stage != checklist.Handover {
				t.Fatalf("the removable length opened %+v", d)
			}
			for _, state := range []jobs.DeviationState{jobs.DevAccepted, jobs.DevReferred} {
				var bad *jobs.InvalidError
				err := x.service.EndDeviation(t.Context(), builder, x.job, jobs.DeviationInput{ID: d.ID, Version: d.Version, State: string(state), Reason: "Said so.", Name: "A. Sample"})
				if !errors.As(err, &bad) || !strings.Contains(bad.Fields[0].Message, "the owner acknowledges it") || strings.Contains(bad.Fields[0].Message, "authority") != (tt.permit != "") {
					t.Errorf("%s by hand = %v, want it refused with whom it waits for", state, err)
				}
			}
			for _, s := range tt.said {
				x.answers(t, s.by, n, s.in)
			}
			d = x.record(t).Deviations[0]
			switch {
			case tt.ends != (d.State == jobs.DevAccepted):
				t.Errorf("it is %q, want ended %v", d.State, tt.ends)
			case tt.ends && (!strings.Contains(d.Name, "owner Sample") || strings.Contains(d.Name, "inspector Sample") != (tt.permit != "")):
				t.Errorf("ended by %q: %s", d.Name, d.Reason)
			}
			x.agree(t)
		})
	}
}

// A length that no longer lifts out has nobody to wait for.
func TestRemovableNoMore(t *testing.T) {
	x := newSite(t, open(t))
	id := x.removableRun(t, "R9")
	run, _ := x.record(t).Run(id)
	if err := x.service.RetireRun(t.Context(), builder, x.job, id, run.Version); err != nil {
		t.Fatal(err)
	}
	d := x.record(t).Deviations[0]
	err := x.service.EndDeviation(t.Context(), builder, x.job, jobs.DeviationInput{ID: d.ID, Version: d.Version, State: "accepted", Reason: "Taken out of the job.", Name: "A. Sample"})
	if got := x.record(t).Deviations[0].State; err != nil || got != jobs.DevAccepted {
		t.Errorf("ending it by hand = %v and %q", err, got)
	}
	x.agree(t)
}

// The deviation says why the length lifts out where that was said, and no more where it was not.
func TestRemovableWhy(t *testing.T) {
	for why, want := range map[string]string{
		"":                          "R9 is a removable length. Most places",
		"a boat is craned in here.": "R9 is a removable length (a boat is craned in here). Most places",
	} {
		x := newSite(t, open(t))
		_, err := x.service.SaveRun(t.Context(), builder, x.job, jobs.RunInput{Fields: map[string]string{"label": "R9", "kind": "removable", "start": "free", "end": "free", "length": "5'", "deck_height": "26", "removable_why": why}})
		if err != nil {
			t.Fatal(err)
		}
		if got := x.record(t).Deviations[0].What; !strings.HasPrefix(got, want) {
			t.Errorf("removable because of %q: the deviation says %q, want it to begin %q", why, got, want)
		}
	}
}
