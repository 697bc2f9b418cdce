package layout_test

import (
	"slices"
	"strings"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// drillOf is the hole of a layout whose name begins so.
func drillOf(l layout.Layout, name string) (layout.Drill, bool) {
	i := slices.IndexFunc(l.Drilling, func(d layout.Drill) bool { return strings.HasPrefix(d.For, name) })
	if i < 0 {
		return layout.Drill{}, false
	}
	return l.Drilling[i], true
}

// TestDrilling: every figure against its rule, worked out by hand. Bolts: 1/2 + 1/32 = 17/32 to 1/2 + 1/16 = 9/16 (check value E28); 12.7 mm and 0.79
// to 1.59 mm more are drills of 13.5 to 14.2 mm. Screws of 3/16 in: root 2/3 of that, 1/8 in (Wood Handbook ch. 8), lead hole 7/8 of the root in
// redcedar, 7/64 in, and all of it in white oak of G 0.73 (NDS 12.1.5.3, memory). Lags of 1/2 in: 0.300 in is the least in southern pine, 0.350 the
// most in spruce-pine-fir (E22, E24): drills of 5/16 and 11/32; the shank 1/2 (E27); a lag of 4 in has 2 1/2 in of thread (E29); an inch of it is worth
// 291 and 437 lb (E18). Cables of 3/16 in: 1/4 in (common practice).
func TestDrilling(t *testing.T) {
	const in, mm = length.Inch, length.Millimetre
	for _, tt := range []struct {
		name        string
		unit        length.Unit
		change      func(*layout.Spec)
		hole        string
		least, most length.Length
		says        string
	}{
		{"bolts", length.Inches, nil, "bolts", 17 * in / 32, 9 * in / 16, `Bolts, 1/2": 17/32" to 9/16" (1/32 to 1/16 in over the bolt, NDS 12.1.3.2, secondary text).`},
		{"bolts, metric", length.Millimetres, nil, "bolts", 135 * mm / 10, 142 * mm / 10, "13.5 mm to 14.2 mm"},
		{"lead hole", length.Inches, nil, "lead holes", 7 * in / 64, 7 * in / 64, `Lead holes for screws, 3/16": 7/64" (7/8 of the root in Western redcedar, the root two thirds of the diameter (Wood Handbook ch. 8, official text), NDS 12.1.5.3, memory).`},
		{"lead hole in oak", length.Inches, func(s *layout.Spec) { s.Species = "white-oak" }, "lead holes", in / 8, in / 8, "all of the root in White oak"},
		{"clearance", length.Inches, nil, "screws through the cap", 3 * in / 16, 3 * in / 16, "so that it draws the cap down, common practice, no source"},
		{"lags", length.Inches, func(s *layout.Spec) {
			s.PostMount, s.SleeveMaterial, s.SleeveWall = layout.MountSleeve, layout.SleeveSteel, in/4
		}, "lag screws", 5 * in / 16, 11 * in / 32,
			`For the shank first 1/2", as deep as that is without thread (NDS 12.1.4.2, secondary text). A lag of 4" has at least 2 1/2" of thread, one of 6" 3 1/2" (ASME B18.2.1, secondary text). An inch of thread is worth 291 lb of pull in Spruce-pine-fir, 437 in Southern pine`},
		{"cables", length.Inches, func(s *layout.Spec) { s.InfillKind = layout.FillCables }, "cables", in / 4, in / 4, "1/16 in over the cable, common practice, no source"},
	} {
		spec := layout.DefaultSpec(tt.unit)
		if tt.change != nil {
			tt.change(&spec)
		}
		run := layout.DefaultRun(layout.Level, tt.unit)
		run.Label, run.Length = "R1", 72*in
		l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: rules(t, "irc-2021"), Unit: tt.unit})
		d, ok := drillOf(l, tt.hole)
		if !ok || d.Least != tt.least || d.Most != tt.most {
			t.Errorf("%s: %+v, want %v to %v", tt.name, d, tt.least, tt.most)
		}
		if says := d.Says(tt.unit.Style()); !strings.Contains(says, tt.says) {
			t.Errorf("%s says %q, want %q", tt.name, says, tt.says)
		}
	}
	// A hole is asked for only where its fastener is.
	spec := layout.DefaultSpec(length.Inches)
	spec.PostMount, spec.CapThickness = layout.MountSleeve, 0
	run := layout.DefaultRun(layout.Level, length.Inches)
	run.Label, run.Length = "R1", 72*in
	l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: rules(t, "irc-2021"), Unit: length.Inches})
	for _, name := range []string{"bolts", "screws through the cap", "lag screws", "cables"} {
		if _, ok := drillOf(l, name); ok {
			t.Errorf("a run in wood sleeves with no cap is given %s", name)
		}
	}
}
