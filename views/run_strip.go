package views

import (
	"fmt"
	"slices"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
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

// onFace gives the marks of a bay whose rails are bevelled in plan at their datum end from the cut on the face that its strips show, with the hook that goes
// with them: no figure stands beside a hook that it is not measured from. It says whether they are.
func (r runLayout) onFace(m *Marks, b layout.Bay) bool {
	used := b.Used()
	if used == nil || used.Bottom.SkewFrom == 0 || used.Infill.Count == 0 {
		return false
	}
	for _, s := range layout.Strips(r.l, b, r.run.Run, r.spec) {
		lettered := make([]length.Length, len(s.Marks))
		for i, mark := range s.Marks {
			lettered[i] = s.Lettered(mark)
		}
		if s.Which == layout.RailBottom {
			m.Marks, m.Hook = r.bare(lettered), "Hook the tape on "+s.Hook+"."
		} else if m.Top != nil {
			m.Top = r.bare(lettered)
		}
	}
	return true
}
