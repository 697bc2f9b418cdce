package layout_test

import (
	"strings"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// TestBaseStandOff is worked by hand. A finished top of 36 1/2 in less a cap of 1 puts the post's top at 35 1/2 above the decking, and that is
// its length less what the base holds it up by; blocking under it is of pieces 1 1/2 thick side by side, three for a post of 3 1/2, in spaces of
// 16 less 1 1/2.
func TestBaseStandOff(t *testing.T) {
	for _, tt := range []struct {
		name     string
		given    bool
		off, cut float64
		foot     string
	}{
		{"not given", false, 0, 35.5, "how far the base holds it up is not given, and comes off"},
		{"none", true, 0, 35.5, "Its end stands on the decking in the base."},
		{"an inch", true, 1, 34.5, `Its end stands 1" off the decking in the base, and it is cut that much shorter.`},
		{"a thin plate", true, 0.1, 35.4375, "off the decking"}, // 35.4, up to the sixteenth
	} {
		run := layout.Run{Kind: layout.Level, Length: inch(96), Posts: []length.Length{inch(48)}, Joists: layout.JoistsAcross, FirstJoist: inch(8)}
		l := computed(t, run, func(s *layout.Spec) {
			s.PostMount, s.LevelHeight, s.BaseStandOffGiven, s.BaseStandOff = layout.MountBase, inch(36.5), tt.given, inch(tt.off)
		})
		p := l.Posts[1]
		if p.Cut != inch(tt.cut) || !strings.Contains(p.Foot, tt.foot) {
			t.Errorf("%s: cut %v, %q; want %v, %q", tt.name, p.Cut, p.Foot, tt.cut, tt.foot)
		}
		if len(p.Blocking) != 1 || p.Blocking[0].Count != 3 || p.Blocking[0].Length != inch(14.5) || !strings.Contains(p.Blocking[0].Place, "under the base") {
			t.Errorf("%s: blocking %+v", tt.name, p.Blocking)
		}
		if strings.Contains(p.Blocking[0].Place, "behind") {
			t.Errorf("%s: blocking is called for behind a post on a base", tt.name)
		}
	}
}

// TestBaseOnAFlight: the same comes off a foot post on a pad and off posts on treads, whatever the level posts stand in, and off none that
// is bolted to the stringer or goes into a footing.
func TestBaseOnAFlight(t *testing.T) {
	for _, tt := range []struct {
		on, foot string
		off      [2]float64 // of the foot post, and of the one in the middle
	}{
		{layout.OnStringer, layout.OnPad, [2]float64{1.5, 0}},
		{layout.OnTreads, layout.OnPad, [2]float64{1.5, 1.5}},
		{layout.OnStringer, "", [2]float64{0, 0}},
		{layout.OnTreads, layout.OnFooting, [2]float64{0, 1.5}},
	} {
		run := layout.Run{Kind: layout.Rake, Riser: inch(7.5), Tread: inch(10), Risers: 6, Start: layout.EndStairFoot, End: layout.EndStairHead,
			PostsOn: tt.on, FootOn: tt.foot, FootBelow: inch(24), Posts: []length.Length{inch(26)}, NosingFrom: inch(3)}
		flight := func(off float64) layout.Layout {
			return computed(t, run, func(s *layout.Spec) { s.BaseStandOffGiven, s.BaseStandOff = true, inch(off) })
		}
		without, with := flight(0), flight(1.5)
		for i, off := range tt.off {
			if got := without.Posts[i].Cut - with.Posts[i].Cut; got != inch(off) || with.Posts[i].StandOff != inch(off) {
				t.Errorf("%s, foot %q: %s is %v shorter, want %v", tt.on, tt.foot, with.Posts[i].Label, got, off)
			}
		}
	}
}

// TestBaseBlockingUnknown: where the joists are not known there is no piece, and the sheet says how it is cut; alongside them the pieces run
// inward over the bay, as many as the post is wide.
func TestBaseBlockingUnknown(t *testing.T) {
	base := func(s *layout.Spec) { s.PostMount = layout.MountBase }
	p := computed(t, layout.Run{Kind: layout.Level, Length: inch(96)}, base).Posts[0]
	if len(p.Blocking) != 0 || !strings.HasSuffix(p.Joist, "Cut the blocking under its base to the space as measured.") {
		t.Errorf("joists not given: %v, %q", p.Blocking, p.Joist)
	}
	p = computed(t, layout.Run{Kind: layout.Level, Length: inch(96), Joists: layout.JoistsAlong}, base).Posts[0]
	if len(p.Blocking) != 1 || p.Blocking[0].Count != 3 || p.Blocking[0].Length != inch(14.5) || p.JoistClsh {
		t.Errorf("alongside: %+v, %q", p.Blocking, p.Joist)
	}
}

// TestRoundingIsSaid is worked by hand on a grid of 1 mm. A top at 926.4 less a cap of 28 puts the post's end at 898.4, which is cut to 899; two
// centres of 1,200 and half a post of 89 and an overhang of 25.25 at each end make a cap of 2,539.5, to the nearest 2,540. What is on the grid
// says nothing of rounding.
func TestRoundingIsSaid(t *testing.T) {
	for _, tt := range []struct {
		finished, overhang, post, cap float64
		said                          []string
		unsaid                        []string
	}{
		{926.4, 25.25, 899, 2540, []string{"rounded up to the next 1 mm, not to the nearest as marks are", "lengths off the grid go to the nearest 1 mm"}, nil},
		{926, 25.5, 898, 2540, nil, []string{"rounded up", "to the nearest"}},
	} {
		spec := layout.DefaultSpec(length.Millimetres)
		spec.PostMount, spec.LevelHeight, spec.CapThickness, spec.CapOverhang = layout.MountBase, millimetre(tt.finished), millimetre(28), millimetre(tt.overhang)
		run := layout.Run{Label: "R1", Kind: layout.Level, Length: millimetre(2400), Posts: []length.Length{millimetre(1200)}}
		l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: rules(t, "ontario-9.8"), Unit: length.Millimetres})
		if got, cap := l.Posts[0].Cut, l.Cap[0].Length; got != millimetre(tt.post) || cap != millimetre(tt.cap) {
			t.Errorf("post %v and cap %v, want %v and %v", got, cap, tt.post, tt.cap)
		}
		all := strings.Join(l.Working, " ")
		for _, words := range tt.said {
			if !strings.Contains(all, words) {
				t.Errorf("a top at %v: not said %q: %s", tt.finished, words, all)
			}
		}
		for _, words := range tt.unsaid {
			if strings.Contains(all, words) {
				t.Errorf("a top at %v: said %q", tt.finished, words)
			}
		}
	}
}
