package views

import (
	"fmt"
	"strings"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/views/draw"
)

// StripURL is the path of a rail's marks at full size, for printing. which is layout.RailTop or layout.RailBottom.
func StripURL(jobID, runID string, bay int, which string) string {
	return JobURL(jobID, "runs", runID, "strips", fmt.Sprintf("B%d", bay), which)
}

// strips adds to m what is marked on the rails of bays that are alike: the mark strip for a drawing of the given width, zero for none,
// and where each rail's strip at full size is.
func (r runLayout) strips(m *Marks, group []layout.Bay, width float64) {
	alike := layout.Strips(r.l, group[0], r.run.Run, r.spec)
	if len(alike) == 0 || len(alike[0].Marks) == 0 {
		return
	}
	labels, rails := make([]string, len(group)), make([]string, len(alike))
	for i, s := range alike {
		rails[i] = s.Which
	}
	for i, b := range group {
		labels[i] = b.Label
		for _, s := range alike {
			if !r.run.Retired {
				m.Full = append(m.Full, Place{Label: b.Label + " " + s.Which, URL: StripURL(r.rec.Job.ID, r.run.ID, b.Number, s.Which)})
			}
		}
	}
	if width > 0 {
		m.OnStrip = group[0].Used().Infill.Cables == nil
		o := draw.StripOptions{Width: width, Longest: r.longestRail(), Style: r.style, Names: strings.Join(labels, ", ") + " " + strings.Join(rails, " and "), Brief: m.OnStrip}
		m.Strip = &Drawing{Sheet: draw.Strip(alike[0], o)}
	}
}

// longestRail is the longest rail that has marks, so that all strips of a run are to one scale.
func (r runLayout) longestRail() length.Length {
	var longest length.Length
	for _, b := range r.l.Bays {
		if used := b.Used(); used != nil {
			longest = max(longest, used.Bottom.Cut)
		}
	}
	return longest
}
