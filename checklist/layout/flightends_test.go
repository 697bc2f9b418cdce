package layout_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// TestFlightEnds: the foot is open where its post stands in front of the lowest riser, the head where its post stands behind the top
// nosing; what passes there is held to the figure of the triangle and put into words.
func TestFlightEnds(t *testing.T) {
	for _, c := range []struct {
		name             string
		foot, beyond     float64 // centre of the foot post in front of the lowest nosing, of the head post behind the top one
		footLow, footTop float64 // the sphere at the foot lies between
		head             float64
		rail             float64 // above the nosing line
		problem          bool
	}{
		{"posts at the nosings", 0, 1.75, 0, 0, 0, 0, false},
		{"a foot post 4 1/4 in clear of the riser", 6, 1.75, 4.25, 5.1, 0, 0, false},
		{"a foot post far in front: the triangle of a step again", 20, 1.75, 5.098, 5.099, 0, 0, false},
		{"the same under a higher rail", 20, 1.75, 6.01, 6.1, 0, 1.4, true},
		{"a head post 8 in behind the nosing", 0, 9.75, 0, 0, (0.775 + 1 - math.Hypot(1, 0.775)) * 8, 0, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			run := layout.Run{Riser: inch(7.75), Tread: inch(10), Risers: 5, Stringer: layout.StringerRisers, NosingFrom: inch(c.foot), Length: inch(c.foot + 40 + c.beyond)}
			l := rakeWith(t, "irc-2018", length.Inches, run, func(s *layout.Spec) { s.RakeBottom = inch(c.rail) })
			s := l.Stair
			if got := s.FootSphere.Inches(); got < c.footLow || got > c.footTop {
				t.Errorf("at the foot %v, want %v to %v", got, c.footLow, c.footTop)
			}
			near(t, "at the head", s.HeadSphere.Inches(), c.head, 1e-6)
			if got := slices.ContainsFunc(l.Problems, func(p layout.Problem) bool { return strings.Contains(p.Sentence, "under the bottom rail at the foot") }); got != c.problem {
				t.Errorf("a problem at the foot %v, want %v: %v", got, c.problem, l.Problems)
			}
			if n := 1 + min(1, int(s.FootSphere)) + min(1, int(s.HeadSphere)); n != 1+count(s.Tested, "The largest sphere at the") {
				t.Errorf("%d openings were worked out, and held to a figure: %v", n, s.Tested)
			}
		})
	}
}

// count is how many of what was tested begin so.
func count(tested []layout.Tested, begin string) (n int) {
	for _, x := range tested {
		if strings.HasPrefix(x.What, begin) {
			n++
		}
	}
	return n
}
