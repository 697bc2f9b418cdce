package views

import (
	"fmt"
	"slices"

	"newelbook/checklist/layout"
	"newelbook/views/draw"
)

// StripURL is the path of a rail's marks at full size, for printing. which is layout.RailTop or layout.RailBottom.
func StripURL(jobID, runID string, bay int, which string) string {
	return JobURL(jobID, "runs", runID, "strips", fmt.Sprintf("B%d", bay), which)
}

// full lists where the rails of bays that are alike have their strips at full size; none of a run that was taken out.
func (r runLayout) full(group []layout.Bay) []Place {
	var all []Place
	for _, b := range group {
		for _, s := range layout.Strips(r.l, b, r.run.Run, r.spec) {
			if len(s.Marks) > 0 && !r.run.Retired {
				all = append(all, Place{Label: s.Rail.Label, URL: StripURL(r.rec.Job.ID, r.run.ID, b.Number, s.Which)})
			}
		}
	}
	return all
}

// strips draws the mark strips of a shop sheet, for each group of bays that are alike; more than two stand two abreast. What the tape hooks on is
// said once for the sheet, or, where bays are of cables and their strips show the uprights between those, with the bay.
func (r runLayout) strips() [][]draw.Sheet {
	o := draw.StripOptions{Width: sheetWidth, Style: r.style, Brief: true}
	all := draw.Strips(r.l, r.run.Run, r.spec, o)
	// On a rake the marks of half a page's strip stand on end, which is slow to read: two of them keep the whole width.
	if n := len(slices.Concat(all...)); n > 2 || n == 2 && r.l.Stair == nil {
		o.Width = halfWidth
		return draw.Strips(r.l, r.run.Run, r.spec, o)
	}
	return all
}
