package store_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"newelbook/checklist"
	"newelbook/jobs"
)

// A hold point that is said not to apply, seen or photographed, is outstanding: the stage closes over a deviation that names it, and over
// none in silence; only the builder closes over one.
func TestExcusedHoldPointClosesOverADeviation(t *testing.T) {
	for key, says := range map[string]string{
		"framing.blocking":     "not checked, because The joist hides it.",
		"framing.photo_inside": "no photograph, because The joist hides it.",
	} {
		x := newSite(t, open(t))
		x.run(t, "R1", "144")
		c := x.check(t, key).Check
		x.take(t, jobs.ReadingInput{CheckID: c.ID, Seen: string(checklist.SeenNA), Reason: "The joist hides it"})
		x.complete(t, checklist.Framing)
		names := func(o jobs.Outstanding) bool {
			return o.CheckID == c.ID && o.Hold && strings.Contains(o.Sentence, says)
		}
		in := jobs.CloseInput{Stage: string(checklist.Framing)}
		var blocked *jobs.BlockedError
		if err := x.service.CloseStage(t.Context(), builder, x.job, in); !errors.As(err, &blocked) || !slices.ContainsFunc(blocked.Outstanding, names) {
			t.Errorf("%s: closing with no reason = %v, want it refused with %q", key, err, says)
		}
		in.Reason = "Seen from below."
		if err := x.service.CloseStage(t.Context(), crew, x.job, in); !errors.Is(err, jobs.ErrForbidden) {
			t.Errorf("%s: the crew closing over it = %v, want it refused", key, err)
		}
		if err := x.service.CloseStage(t.Context(), builder, x.job, in); err != nil {
			t.Fatal(err)
		}
		d := x.deviation(t)
		if d.Kind != jobs.DevMissing || !slices.ContainsFunc(d.Missing, func(s string) bool { return strings.Contains(s, says) }) {
			t.Errorf("%s: closed over %+v, want a deviation that names %q", key, d, says)
		}
		x.agree(t)
	}
}
