package checklist_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"newelbook/checklist"
)

// TestCatalogueIsComplete names what a careful foreman measures or looks at, and the checks that ask for it: common practice, no source,
// beside the clauses that the checks themselves name. ask is how it must be answered.
func TestCatalogueIsComplete(t *testing.T) {
	every := everyCheck(t)
	for _, tt := range []struct {
		what string
		ask  checklist.Ask
		keys []string
	}{
		{"plumb both ways, while it can be put right", checklist.AskSigned, []string{"framing.plumb_along", "framing.plumb_across"}},
		{"plumb both ways, as it stands", checklist.AskSigned, []string{"posts.plumb_along", "posts.plumb_across"}},
		{"out-of-parallel openings", checklist.AskLength, []string{"posts.opening_bottom", "posts.opening_top"}},
		{"bolt edge distances", checklist.AskLength, []string{"framing.bolt_upper", "framing.bolt_lower"}},
		{"moisture content", checklist.AskMoist, []string{"posts.moisture", "rails.moisture"}},
		{"wet stock", checklist.AskMoist, []string{"infill.moisture"}},
		{"screw length and metal", checklist.AskSeen, []string{"rails.screw_size"}},
		{"metal against species that stain", checklist.AskSeen, []string{"rails.screws_metal"}},
		{"metals that go together", checklist.AskSeen, []string{"rails.metals"}},
		{"connectors seated", checklist.AskSeen, []string{"rails.connectors"}},
		{"connectors the right way round", checklist.AskSeen, []string{"rails.connectors_way"}},
		{"every baluster locked", checklist.AskSeen, []string{"infill.firm"}},
		{"firmness by hand", checklist.AskSeen, []string{"post_tops.firm"}},
		{"cap overhang at several stations", checklist.AskLength, []string{"caps.overhang_start", "caps.overhang_middle", "caps.overhang_end"}},
		{"end grain sealed", checklist.AskSeen, []string{"rails.ends_sealed", "caps.end_sealed", "post_tops.end_sealed"}},
		{"caps matching the measured post", checklist.AskLength, []string{"post_tops.cap_size"}},
		{"reference consistency", checklist.AskSeen, []string{"posts.one_reference"}},
		{"heights with a reference", checklist.AskLength, []string{"posts.top", "rails.height_start", "rails.height_end", "caps.height_start", "caps.height_end", "caps.height_lowest"}},
		{"blocking and fixings before they are hidden", checklist.AskSeen, []string{"framing.blocking", "framing.bolts_through", "framing.unnotched", "framing.hold_down"}},
		{"sleeves", checklist.AskSeen, []string{"framing.sleeve_fixed", "framing.sleeve_heads", "framing.sleeve_drain"}},
		{"openings with a gauge", checklist.AskGap, []string{"infill.gap", "infill.gap_start", "infill.gap_end", "rails.under", "rails.triangle", "rails.gauge_foot", "rails.gauge_head"}},
		{"uneven steps", checklist.AskLength, []string{"framing.riser_1", "framing.risers_differ", "framing.tread_least", "framing.treads_differ"}},
		{"a handrail that a hand can close on", checklist.AskSeen, []string{"caps.handrail"}},
	} {
		for _, key := range tt.keys {
			i := slices.IndexFunc(every, func(c checklist.Check) bool { return c.Key == key && c.Ask == tt.ask })
			if i < 0 {
				t.Errorf("%s: no check %s is answered by %s", tt.what, key, tt.ask)
			}
		}
	}
	cap, found := checklist.Check{}, false
	for _, c := range every {
		if c.ID == "p4q8/P1.post_tops.cap_size" {
			cap, found = c, true
		}
	}
	if !found || !cap.Built || *cap.Nominal != 88*mm {
		t.Errorf("the post cap does not follow the post as measured: %+v", cap)
	}
}

var (
	sentences = regexp.MustCompile(`[.?!] [A-Z0-9]`)
	sampled   = regexp.MustCompile(`(?i)\b(widest|largest|smallest|highest|worst|furthest off|at one of each|measure one)\b`)
)

// Each check gives its reason in one sentence; where one place or piece stands for many, the check says that it is a sample and of what.
func TestReasonsAndSamples(t *testing.T) {
	derived := []string{"framing.risers_differ", "framing.risers_next", "framing.treads_differ"}                                                   // worked out from every riser or tread
	single := []string{"caps.mitre_start", "caps.mitre_end", "infill.gap_start", "infill.gap_end", "handover.side_clearance", "rails.rake_bottom"} // one gap, at its widest
	for _, c := range everyCheck(t) {
		if sentences.MatchString(c.Reason) {
			t.Errorf("%s gives more than one sentence as its reason: %q", c.ID, c.Reason)
		}
		if slices.Contains(derived, c.Key) || slices.Contains(single, c.Key) || c.Ask == checklist.AskPhoto {
			continue
		}
		if sampled.MatchString(c.How) && c.Sample == "" {
			t.Errorf("%s reads one for many and does not say so: %q", c.ID, c.How)
		}
		if strings.HasSuffix(c.Sample, ".") || c.Sample != strings.TrimSpace(c.Sample) {
			t.Errorf("%s: sample %q", c.ID, c.Sample)
		}
	}
}
