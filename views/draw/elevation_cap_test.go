package draw_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/views/draw"
)

// TestMitredCapInElevation: of a run of 90 in between a turn to the right and one to the left the cap of 5 1/2 in is seen from long point to long
// point, 95 1/2 in, whatever the run says that its ends are. Its near edge, the right one, begins 5 1/2 in after the far one at the datum.
func TestMitredCapInElevation(t *testing.T) {
	runs := []layout.Run{}
	for i, turn := range []int{0, 90, -90} {
		r := layout.DefaultRun(layout.Level, length.Inches)
		r.Label, r.Length, r.Turn = fmt.Sprintf("R%d", i+1), 90*length.Inch, turn
		if r.ID = r.Label; i > 0 {
			r.StartAt = fmt.Sprintf("R%d", i)
		}
		runs = append(runs, r)
	}
	spec := layout.DefaultSpec(length.Inches)
	layouts, err := layout.ComputeJob(layout.Job{Units: length.Inches, Rules: "irc-2018", Spec: spec, Runs: runs})
	if err != nil {
		t.Fatal(err)
	}
	s := draw.Elevation(layouts[1], draw.ElevationOptions{Width: 260, Style: length.InchFraction, Run: runs[1], Spec: spec})
	var den float64
	if _, err := fmt.Sscanf(s.Scale, "1:%g", &den); err != nil {
		t.Fatal(err)
	}
	inches := func(paper float64) float64 { return paper * den / 25.4 }
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-6 }
	var from, top float64
	capped, arris := false, 0
	for _, it := range s.Items {
		switch it := it.(type) {
		case draw.Outline:
			if p := it.Points; len(p) == 4 && near(inches(p[1].X-p[0].X), 95.5) && near(inches(math.Abs(p[2].Y-p[1].Y)), 1) {
				capped, from, top = true, p[0].X, math.Min(p[0].Y, p[2].Y)
			}
		case draw.Line:
			if capped && near(it.A.X, it.B.X) && near(math.Min(it.A.Y, it.B.Y), top) && near(inches(it.A.X-from), 5.5) {
				arris++
			}
		case draw.Text:
			if strings.Contains(it.Body, "free end") {
				t.Errorf("lettered %q", it.Body)
			}
		}
	}
	if !capped || arris != 1 {
		t.Errorf("cap of 95 1/2 in drawn: %v; begins of its near edge: %d", capped, arris)
	}
}
