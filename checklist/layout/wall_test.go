package layout_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// TestWallFaces: everything at a wall goes by its finished face. Worked by hand: a clear opening of 60 in was measured to bare sheathing, and
// 5/8 in of siding is to come, so 59 3/8 in stay open; the rails keep 1/4 in off it, the cap 1/8 in.
func TestWallFaces(t *testing.T) {
	change := func(s *layout.Spec) {
		s.ConnectorTop, s.ConnectorTopGiven, s.ConnectorBottom, s.ConnectorBottomGiven = inch(0.5), true, inch(0.375), true
		s.ConnectorWall, s.ConnectorWallGiven = inch(0.25), true
	}
	for _, tt := range []struct {
		name       string
		start, end layout.EndKind
		want       []layout.WallEnd
		length     length.Length
	}{
		{"datum", layout.EndWall, layout.EndFree, []layout.WallEnd{{Finished: inch(0.625), Top: inch(0.25), Bottom: inch(0.25), Cap: inch(0.125)}}, inch(61.75)},
		{"far end", layout.EndFree, layout.EndWall, []layout.WallEnd{{Far: true, Measured: inch(61.75), Finished: inch(61.125), Top: inch(0.25), Bottom: inch(0.25), Cap: inch(0.125)}}, inch(61.75)},
	} {
		l := computed(t, layout.Run{Kind: layout.Level, Start: tt.start, End: tt.end, ClearOpening: inch(60), Siding: inch(0.625), LengthOver: layout.OverCentres}, change)
		if len(l.Walls) != len(tt.want) {
			t.Fatalf("%s: walls %+v", tt.name, l.Walls)
		}
		for i, got := range l.Walls {
			if !strings.Contains(got.Says, `5/8" is still to come`) || !strings.Contains(got.Says, `1/4" at both rails, 1/8" at the cap`) {
				t.Errorf("%s: %s", tt.name, got.Says)
			}
			got.Says = ""
			if got != tt.want[i] {
				t.Errorf("%s: wall %+v, want %+v", tt.name, got, tt.want[i])
			}
		}
		if l.Length != tt.length || l.Bays[0].Planned.ClearTop != inch(59.375) {
			t.Errorf("%s: run of %v, opening of %v, want %v and 59 3/8 in", tt.name, l.Length, l.Bays[0].Planned.ClearTop, tt.length)
		}
	}
}

// TestWallReadBare: an opening that is longer than planned by what is still to come on the wall is asked about, also where that is on both its
// ends; one as planned, or longer by something else, or between posts, is not.
func TestWallReadBare(t *testing.T) {
	for _, tt := range []struct {
		end    layout.EndKind
		siding float64
		read   float64
		asks   bool
	}{
		{layout.EndFree, 1.25, 58.25, true}, // 57 in are planned: 60 less 1 3/4 of the last post and 1 1/4 to come
		{layout.EndFree, 1.25, 57, false},
		{layout.EndFree, 1.25, 59.25, false},
		{layout.EndFree, 0, 59.5, false},
		{layout.EndWall, 1.25, 60, true}, // 57 1/2 planned
		{layout.EndWall, 1.25, 58.75, false},
	} {
		l := layout.Compute(layout.Input{Run: layout.Run{Label: "R1", Kind: layout.Level, Start: layout.EndWall, End: tt.end, Length: inch(60), Siding: inch(tt.siding), LengthOver: layout.OverCentres},
			Spec: layout.DefaultSpec(length.Inches), Rules: rules(t, "irc-2018"), Unit: length.Inches, Built: map[int]layout.Opening{1: {Bottom: inch(tt.read), Top: inch(tt.read)}}})
		if got := mentions(l.Problems, "siding"); got != tt.asks {
			t.Errorf("%s, %g to come, read %g: asked about = %v: %v", tt.end, tt.siding, tt.read, got, l.Problems)
		}
	}
}

// TestWallMarks: from a wall, whatever is still to come on it, every post stands at a mark of the grid from the datum, and a cap keeps off every
// wall what it should, to half the grid, and off two of them never less.
func TestWallMarks(t *testing.T) {
	irc := rules(t, "irc-2021")
	rapid.Check(t, func(t *rapid.T) {
		spec := layout.DefaultSpec(length.Inches)
		spec.CapWallGap = length.Inch / 32 * length.Length(rapid.Int64Range(0, 16).Draw(t, "gap"))
		ends := []layout.EndKind{layout.EndFree, layout.EndWall}
		run := layout.Run{Label: "R1", Kind: layout.Level, Start: rapid.SampledFrom(ends).Draw(t, "start"), End: rapid.SampledFrom(ends).Draw(t, "end"), LengthOver: layout.OverCentres,
			Length: length.Inch / 64 * length.Length(rapid.Int64Range(40*64, 400*64).Draw(t, "length")), Siding: length.Inch / 64 * length.Length(rapid.Int64Range(0, 128).Draw(t, "siding"))}
		l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: irc, Unit: length.Inches})
		for i, p := range l.Posts {
			if last := i == len(l.Posts)-1 && run.End == layout.EndFree; !last && p.Face%spec.Grid != 0 && run.Start == layout.EndWall {
				t.Fatalf("%s has its face at %v from the datum", p.Label, p.Face)
			}
		}
		for _, wall := range l.Walls {
			gap := l.CapFrom - wall.Finished
			if wall.Far {
				gap = wall.Finished - l.CapTo
			}
			if gap != spec.CapWallGap {
				t.Fatalf("the cap is laid out %v off a wall, want %v", gap, spec.CapWallGap)
			}
		}
		total, space := length.Length(0), l.CapTo-l.CapFrom
		for _, c := range l.Cap {
			total += c.Length
		}
		switch {
		case len(l.Walls) == 2 && total > space:
			t.Fatalf("caps of %v in %v between walls", total, space)
		case len(l.Walls) < 2 && (total-space).Abs() > spec.Grid/2*length.Length(len(l.Cap)):
			t.Fatalf("caps of %v in %v", total, space)
		}
	})
}
