package layout_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// told lists the problems of a layout that hold a text.
func told(l layout.Layout, text string) []layout.Problem {
	var all []layout.Problem
	for _, p := range l.Problems {
		if strings.Contains(p.Sentence, text) {
			all = append(all, p)
		}
	}
	return all
}

// TestBoltLength: a post of 3 1/2 in on a rim of 1 1/2 with half-inch bolts wants 5 in and two diameters, 6 in; 89 and 38 mm with M12
// want 151, so 160 mm (washers, nut and thread as two diameters: common practice, no source).
func TestBoltLength(t *testing.T) {
	run := layout.Run{Label: "R1", Kind: layout.Level, Length: 72 * length.Inch, LengthOver: layout.OverCentres}
	for _, tt := range []struct {
		unit     length.Unit
		diameter length.Length
		want     length.Length
	}{{length.Inches, length.Inch / 2, 6 * length.Inch}, {length.Millimetres, 12 * length.Millimetre, 160 * length.Millimetre}} {
		spec := layout.DefaultSpec(tt.unit)
		spec.BoltDiameter = tt.diameter
		l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: rules(t, "irc-2021"), Unit: tt.unit})
		for _, b := range l.Posts[0].Bolts {
			if b.Length != tt.want {
				t.Errorf("%s bolt of %v: %v long, want %v", b.Name, tt.diameter, b.Length, tt.want)
			}
		}
	}
}

// TestBoltRoom: with joists of 1 1/2 in at 16 in from 3/4, a post centred on joist 1 has its bolts in the joist's end; one 2 in past
// it has them 1 1/4 in from its face, inside the 1 1/2 in wanted; one 4 in past it is clear. An obstruction is told by place.
func TestBoltRoom(t *testing.T) {
	for _, tt := range []struct {
		first length.Length
		want  string
	}{
		{0, "The bolts run into the end of joist 1."},
		{-2 * length.Inch, `The bolts come out 1 1/4" beside joist 1`},
		{-4 * length.Inch, ""},
	} {
		run := layout.Run{Label: "R1", Kind: layout.Level, Length: 72 * length.Inch, LengthOver: layout.OverCentres, Joists: layout.JoistsAcross, FirstJoist: tt.first}
		l := layout.Compute(layout.Input{Run: run, Spec: layout.DefaultSpec(length.Inches), Rules: rules(t, "irc-2021"), Unit: length.Inches})
		if got := l.Posts[0].Joist; strings.Contains(got, "bolts") != (tt.want != "") || !strings.Contains(got, tt.want) {
			t.Errorf("first joist at %v: %q, want %q", tt.first, got, tt.want)
		}
	}
	run := layout.Run{Label: "R1", Kind: layout.Level, Length: 72 * length.Inch, LengthOver: layout.OverCentres, Obstructions: []length.Length{73 * length.Inch, 40 * length.Inch}}
	l := layout.Compute(layout.Input{Run: run, Spec: layout.DefaultSpec(length.Inches), Rules: rules(t, "irc-2021"), Unit: length.Inches})
	if got := told(l, "the line of the bolts"); len(got) != 1 || got[0].Place != "R1-P2" || got[0].Field != "obstructions" {
		t.Errorf("obstructions at 73 and 40: %v, want one at R1-P2", got)
	}
}

// TestExistingPosts: posts that stand there already are neither cut nor bolted, and nothing is claimed of what holds them; bays and
// rails are laid out between them all the same.
func TestExistingPosts(t *testing.T) {
	run := layout.Run{Label: "R1", Kind: layout.Level, Length: 144 * length.Inch, LengthOver: layout.OverCentres, PostsAre: layout.PostsExisting,
		Posts: []length.Length{0, 70*length.Inch + length.Inch/4, 144 * length.Inch}, Joists: layout.JoistsAcross, FirstJoist: 0}
	l := layout.Compute(layout.Input{Run: run, Spec: layout.DefaultSpec(length.Inches), Rules: rules(t, "irc-2021"), Unit: length.Inches})
	for _, p := range l.Posts {
		if p.Cut != 0 || len(p.Bolts) != 0 || len(p.Blocking) != 0 || p.HoldDown != "" || p.JoistClsh || !strings.Contains(p.Joist, "nothing here says what holds it") {
			t.Errorf("%s: %+v", p.Label, p)
		}
	}
	if slices.ContainsFunc(l.Pieces, func(p layout.Piece) bool { return p.What == "post" || p.What == "blocking" }) {
		t.Error("a post that stands there is among the pieces to cut")
	}
	if got := l.Bays[0].Planned.ClearBottom; got != 66*length.Inch+3*length.Inch/4 {
		t.Errorf("first opening %v, want 66 3/4 in", got)
	}
}

// TestExistingStairHead: a post that stands there already at the head of a flight is neither cut nor ordered, though the flight's guard meets it,
// nobody ticks it, and its bolts are not screened.
func TestExistingStairHead(t *testing.T) {
	job := layout.Job{Units: length.Millimetres, Rules: "new-zealand-f4-d1", Spec: layout.DefaultSpec(length.Millimetres)}
	job.Spec.LevelHeight, job.Spec.StairHeight = millimetre(1000), millimetre(900)
	job.Runs = []layout.Run{
		{ID: "a", Label: "R1", Kind: layout.Level, Length: millimetre(1800), End: layout.EndStairHead, PostsAre: layout.PostsExisting, Posts: []length.Length{0, millimetre(1800)}},
		{ID: "b", Label: "R2", Kind: layout.Rake, Start: layout.EndStairHead, StartAt: "R1", End: layout.EndStairFoot, Riser: millimetre(180), Tread: millimetre(280), Risers: 5, PostsAre: layout.PostsExisting},
	}
	layouts, err := layout.ComputeJob(job)
	if err != nil {
		t.Fatal(err)
	}
	if len(layouts[0].Meets) != 1 || len(layouts[1].Meets) != 1 {
		t.Fatalf("they do not meet: %v, %v", layouts[0].Meets, layouts[1].Meets)
	}
	for _, l := range layouts {
		for _, p := range l.Posts {
			if !p.Existing || p.Cut != 0 {
				t.Errorf("%s stands there and is cut to %v", p.Label, p.Cut)
			}
		}
		for _, p := range l.Pieces {
			if p.What == "post" {
				t.Errorf("%s is to be cut, and stands there", p.Label)
			}
		}
		for _, s := range l.Screens {
			if strings.Contains(s.What, "bolt") && (s.Screened || strings.Contains(s.Sentence, "200 lb")) {
				t.Errorf("%s: %s", l.Label, s.Sentence)
			}
		}
	}
	var text strings.Builder
	if err := layout.WriteText(&text, job, layouts); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(text.String(), "stands there  "); n != 3 {
		t.Errorf("%d of 3 posts stand there on the sheet", n)
	}
}

// TestWallEnds: what is still to come on a wall comes off the opening there and nowhere else, and the hardware of a wall is taken off
// that end of the rail alone. Posts keep their places.
func TestWallEnds(t *testing.T) {
	irc := rules(t, "irc-2021")
	rapid.Check(t, func(t *rapid.T) {
		spec := layout.DefaultSpec(length.Inches)
		spec.ConnectorBottom, spec.ConnectorBottomGiven = sixteenths(t, "post", 0, 1), true
		spec.ConnectorWall, spec.ConnectorWallGiven = sixteenths(t, "wall", 0, 2), true
		spec.InfillMode = rapid.SampledFrom([]string{layout.EqualGaps, layout.FixedCentres}).Draw(t, "mode")
		run := layout.Run{Label: "R1", Kind: layout.Level, Start: layout.EndWall, End: layout.EndFree, Length: sixteenths(t, "length", 40, 70), LengthOver: layout.OverCentres}
		bare := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: irc, Unit: length.Inches})
		run.Siding = sixteenths(t, "siding", 0, 2)
		sided := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: irc, Unit: length.Inches})
		a, b := bare.Bays[0].Planned, sided.Bays[0].Planned
		if a.ClearBottom-b.ClearBottom != run.Siding || bare.Posts[0].Centre != sided.Posts[0].Centre {
			t.Fatalf("siding of %v takes %v off, and moves the post by %v", run.Siding, a.ClearBottom-b.ClearBottom, bare.Posts[0].Centre-sided.Posts[0].Centre)
		}
		if b.Bottom.Allowance != spec.ConnectorWall || b.Bottom.AllowanceFar != spec.ConnectorBottom {
			t.Fatalf("allowances %v and %v, want %v at the wall and %v at the post", b.Bottom.Allowance, b.Bottom.AllowanceFar, spec.ConnectorWall, spec.ConnectorBottom)
		}
		if got := b.Bottom.Ideal; got != b.ClearBottom-spec.ConnectorWall-spec.ConnectorBottom || b.Bottom.Cut > got {
			t.Fatalf("rail of %v for an opening of %v", got, b.ClearBottom)
		}
		// The marks on the rail and those from the post face must name the same places, to the grid.
		off := b.Bottom.Allowance + (b.Bottom.Ideal-b.Bottom.Cut)/2
		for i, m := range b.Infill.Marks {
			if d := (m + off - b.Infill.FromPost[i]).Abs(); d > spec.Grid {
				t.Fatalf("mark %d stands %v apart on rail and from the post", i+1, d)
			}
		}
	})
}

// TestSleeveOfMeasuredPost: the sleeve follows the post as measured, and the planned size is kept beside it.
func TestSleeveOfMeasuredPost(t *testing.T) {
	spec := layout.DefaultSpec(length.Inches)
	spec.PostMount, spec.SleeveMaterial, spec.SleeveClearance, spec.SleeveHead = layout.MountSleeve, layout.SleeveSteel, 3*length.Inch/16, length.Inch/16
	run := layout.Run{Label: "R1", Kind: layout.Level, Length: 60 * length.Inch, LengthOver: layout.OverCentres, Joists: layout.JoistsAlong}
	in := layout.Input{Run: run, Spec: spec, Rules: rules(t, "irc-2021"), Unit: length.Inches, Posts: map[int]length.Length{2: 3*length.Inch + 9*length.Inch/16}}
	l := layout.Compute(in)
	if s := l.Posts[0].Sleeve; s.Inside != s.Planned || s.Inside != 3*length.Inch+11*length.Inch/16 {
		t.Errorf("P1: inside %v, planned %v, want 3 11/16 in", s.Inside, s.Planned)
	}
	if s := l.Posts[1].Sleeve; s.Inside != 3*length.Inch+3*length.Inch/4 || s.Planned != 3*length.Inch+11*length.Inch/16 {
		t.Errorf("P2: inside %v, planned %v, want 3 3/4 and 3 11/16 in", s.Inside, s.Planned)
	}
	for name, tt := range map[string]struct {
		change func(*layout.Spec)
		want   string
	}{
		"head proud":      {func(s *layout.Spec) { s.SleeveHead = length.Inch / 4 }, "screw head stands 1/4\" proud"},
		"lock in a hole":  {func(s *layout.Spec) { s.SleeveLock = s.BoltBottom + length.Inch/4 }, "move one of them"},
		"holes that meet": {func(s *layout.Spec) { s.JoistDepth = 5*length.Inch + length.Inch/4 }, "Fixings of the sleeve walls meet"},
		"post that swells": {func(s *layout.Spec) {
			s.SleeveClearance, s.PostWidth, s.PostDepth, s.Species = length.Inch/64, 5*length.Inch+length.Inch/2, 5*length.Inch+length.Inch/2, "southern-pine"
		},
			"it would seize"},
	} {
		changed := in
		tt.change(&changed.Spec)
		if len(told(l, tt.want)) != 0 {
			t.Errorf("%s: told of a sound sleeve", name)
		}
		if got := layout.Compute(changed); len(told(got, tt.want)) != 1 {
			t.Errorf("%s: problems %v, want one with %q", name, got.Problems, tt.want)
		}
	}
}

// TestThickSleeveWall: steel tube is taken to have walls of up to 1/2 in (common practice, no source). A thicker one is told once for the run, in words that
// lead to its field; a wall of wood may be as thick as it is.
func TestThickSleeveWall(t *testing.T) {
	const says = "The wall of a steel sleeve is entered as %s, as of wood"
	for _, c := range []struct {
		unit     length.Unit
		material string
		wall     string
		told     bool
	}{
		{length.Inches, layout.SleeveSteel, `1 1/2"`, true},
		{length.Inches, layout.SleeveSteel, `9/16"`, true},
		{length.Inches, layout.SleeveSteel, `1/2"`, false},
		{length.Inches, layout.SleeveSteel, `1/4"`, false},
		{length.Inches, layout.SleeveWood, `1 1/2"`, false},
		{length.Millimetres, layout.SleeveSteel, "38 mm", true},
		{length.Millimetres, layout.SleeveSteel, "13 mm", true},
		{length.Millimetres, layout.SleeveSteel, "12 mm", false},
	} {
		wall, err := length.Parse(c.wall, c.unit)
		if err != nil {
			t.Fatal(err)
		}
		spec := layout.DefaultSpec(c.unit)
		spec.PostMount, spec.SleeveMaterial, spec.SleeveWall = layout.MountSleeve, c.material, wall
		run := layout.Run{Label: "R1", Kind: layout.Level, Length: 144 * length.Inch, LengthOver: layout.OverCentres}
		l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: rules(t, "irc-2021"), Unit: c.unit})
		got := told(l, "The wall of a steel sleeve")
		if !c.told {
			if len(got) != 0 {
				t.Errorf("%s wall of %s: %v", c.material, c.wall, got)
			}
			continue
		}
		if len(got) != 1 || got[0].Place != "R1" || got[0].Field != "sleeve_wall" || !strings.Contains(got[0].Sentence, fmt.Sprintf(says, c.wall)) {
			t.Errorf("%s wall of %s: %v, want it told once", c.material, c.wall, got)
		}
		if s, want := l.Posts[0].Sleeve, max(spec.PostWidth, spec.PostDepth)+spec.SleeveClearance+spec.SleeveSwelling+2*wall; s.Outside != want {
			t.Errorf("the sleeve with a wall of %s is %v outside, want %v", c.wall, s.Outside, want)
		}
	}
}

// TestCapScrews: six diameters of a 3/16 in screw are 1 1/8 in (NDS 12.1.5.6, secondary text). Through a cap of 1 in into a rail of
// 3 1/2 in on edge, screws from 2 1/8 in to under 4 1/2 in will do; into a flat rail of 1 1/2 in, to under 2 1/2 in.
func TestCapScrews(t *testing.T) {
	run := layout.Run{Label: "R1", Kind: layout.Level, Length: 60 * length.Inch, LengthOver: layout.OverCentres}
	for _, tt := range []struct {
		screw length.Length
		lies  string
		want  string
	}{
		{2*length.Inch + length.Inch/8, layout.RailOnEdge, ""},
		{2 * length.Inch, layout.RailOnEdge, "keep only 1\""},
		{4*length.Inch + length.Inch/2, layout.RailOnEdge, "break through"},
		{2*length.Inch + length.Inch/2, layout.RailFlat, "break through"},
		{2*length.Inch + length.Inch/4, layout.RailFlat, ""},
	} {
		spec := layout.DefaultSpec(length.Inches)
		spec.ScrewLength, spec.RailOrientation, spec.CapThickness = tt.screw, tt.lies, length.Inch
		l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: rules(t, "irc-2021"), Unit: length.Inches})
		got := told(l, "Screws of")
		if (tt.want == "") != (len(got) == 0) || tt.want != "" && !strings.Contains(got[0].Sentence, tt.want) {
			t.Errorf("%v into a rail %s: %v, want %q", tt.screw, tt.lies, got, tt.want)
		}
	}
	if layout.WoodScrewPenetration(3*length.Inch/16) != length.Inch+length.Inch/8 {
		t.Error("six diameters of 3/16 in are not 1 1/8 in")
	}
}

// TestLongerThanStock: with boards of 48 in, which give 47 in between trims of 1/2 in, the run itself says which of its pieces come out of none,
// once and with their number: rails of 68 1/2 in in two bays, and both pieces of cap.
func TestLongerThanStock(t *testing.T) {
	spec := layout.DefaultSpec(length.Inches)
	spec.StockLengths = []length.Length{48 * length.Inch}
	run := layout.Run{Label: "R1", Kind: layout.Level, Length: 144 * length.Inch, LengthOver: layout.OverCentres}
	l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: rules(t, "irc-2021"), Unit: length.Inches})
	got := told(l, "No stock length")
	if len(got) != 1 || got[0].Field != "stock_lengths" {
		t.Fatalf("problems %v, want one of the stock", l.Problems)
	}
	want := `No stock length holds 2 top rails of 68 1/2", 2 bottom rails of 68 1/2", 2 cap rails of 74 3/4": the longest gives 47" once both ends are trimmed. List longer stock, or divide the length.`
	if got[0].Sentence != want {
		t.Errorf("it says %q, want %q", got[0].Sentence, want)
	}
	// A piece that takes more of a board than its length as listed is told by both: between a square post and one turned by 22 1/2 degrees are 60 - 1 3/4 - 1.894 in,
	// and the long point of a rail of 1 1/2 in stands out 0.311 in (plane geometry).
	_, layouts := planned(t, `{"label": "R1", "length": 60}, {"label": "R2", "start_at": "R1", "turn": 45, "length": 60}], "spec": {"stock_lengths": ["48"]}, "built": [`)
	if got := told(layouts[0], `1 top rail of 56 5/8" over the points of its ends (56 5/16" as listed)`); len(got) != 1 {
		t.Errorf("of bevelled rails it says %v", layouts[0].Problems)
	}
	spec.StockLengths = []length.Length{96 * length.Inch}
	if l = layout.Compute(layout.Input{Run: run, Spec: spec, Rules: rules(t, "irc-2021"), Unit: length.Inches}); len(told(l, "No stock length")) != 0 {
		t.Errorf("problems %v with boards of 96 in", l.Problems)
	}
}

// TestSleeveFixings: fixings of a steel sleeve hold where there is framing, and what covers a wall that they are driven through goes in after them.
// A sleeve of 4 3/16 in stands in runs of 60 in, with joists of 1 1/2 in at 16 in: between joists at 5 1/4 and 21 1/4 in, against the far face of one at
// -2 27/32 in, or alongside them. Holes for shanks of 1/2 in are 9/16 in, 1/16 in over (check value E28); two pairs of one wall stand (9/16 + 1) / 2 and
// 1/4 in apart, 1 1/16 in on the grid (plane geometry, 1/4 in common practice).
func TestSleeveFixings(t *testing.T) {
	const in = length.Inch
	for _, tt := range []struct {
		name, fields string
		walls        []string
		order        string
		shift        length.Length
	}{
		{"between joists", `"joists": "across", "first_joist": "-10 3/4"`, []string{"outer (against the rim)", "inner", "inner (against the blocking)", "outer"}, "on the bench, through the outer wall", in + in/16},
		{"against a joist on the datum side", `"joists": "across", "first_joist": "-2 27/32"`, []string{"outer (against the rim)", "inner", "datum side (against joist 1)", "far side"}, "before the blocking behind it goes in", in},
		{"alongside the joists", `"joists": "along"`, []string{"outer (against the outer joist)", "inner", "datum side (against the blocking)", "far side"}, "sleeve with its fixings, blocking on the far side", in},
		{"joists not given", `"joists": ""`, []string{"outer (against the rim)", "inner"}, "What framing stands beside it is not known", 0},
		{"a joist in its place", `"joists": "across", "first_joist": "1"`, []string{"outer (against the rim)", "inner"}, "What framing stands beside it is not known", 0},
	} {
		job, faults := layout.ReadJob(strings.NewReader(`{"units": "in", "rules": "irc-2021", "spec": {"post_mount": "sleeve", "sleeve_material": "steel", "sleeve_wall": "1/4", "sleeve_clearance": "3/16", "sleeve_head": "1/16"},
			"runs": [{"label": "R1", "kind": "removable", "length": 60, ` + tt.fields + `}]}`))
		if len(faults) > 0 {
			t.Fatalf("%s: %v", tt.name, faults)
		}
		layouts, err := layout.ComputeJob(job)
		if err != nil {
			t.Fatal(err)
		}
		s := layouts[0].Posts[0].Sleeve
		var walls []string
		heights := map[string][]length.Length{}
		for _, h := range s.Holes {
			if !slices.Contains(walls, h.Wall) {
				walls = append(walls, h.Wall)
			}
			heights[h.Wall] = append(heights[h.Wall], h.Height)
			if want := map[string]length.Length{"shank clearance": 9 * in / 16, "head access": in}[h.For]; h.Size != want {
				t.Errorf("%s: the %s hole is %v, want %v", tt.name, h.For, h.Size, want)
			}
		}
		if !slices.Equal(walls, tt.walls) {
			t.Errorf("%s: holes in %q, want %q: %s", tt.name, walls, tt.walls, layouts[0].Posts[0].Joist)
			continue
		}
		if len(walls) == 4 {
			if got := heights[walls[2]][0] - heights[walls[0]][0]; got != tt.shift {
				t.Errorf("%s: the pairs stand %v apart, want %v", tt.name, got, tt.shift)
			}
		}
		if !strings.Contains(s.Order, tt.order) || !strings.Contains(s.Note, "It stands on a plate under the sleeve, with a drain") {
			t.Errorf("%s: %q and %q, want %q", tt.name, s.Note, s.Order, tt.order)
		}
	}
	// 12.7 mm and 1/32 to 1/16 in more is 13.49 to 14.29 mm: 14.
	spec := layout.DefaultSpec(length.Millimetres)
	spec.PostMount, spec.SleeveMaterial = layout.MountSleeve, layout.SleeveSteel
	l := layout.Compute(layout.Input{Run: layout.Run{Label: "R1", Kind: layout.Level, Length: 60 * in}, Spec: spec, Rules: rules(t, "irc-2021"), Unit: length.Millimetres})
	if got := l.Posts[0].Sleeve.Holes[0].Size; got != 14*length.Millimetre {
		t.Errorf("a metric shank hole is %v, want 14 mm", got)
	}
}

// TestBoltsThroughBlocking: two pieces of 1 1/2 in tight behind a post between joists leave no room for nut and washer, so that half-inch bolts go
// through rim, post and 3 in of blocking, 8 in, and are 9 in long; through one piece beside a joist that the post clashes with, 7 1/2 in. Blocking beside
// the post of a run alongside the joists lets them pass: 6 in. 38 mm joists, posts of 89 and M12: 227 mm, and so 230. Text, order and check say it alike.
func TestBoltsThroughBlocking(t *testing.T) {
	for _, tt := range []struct {
		name, units, fields string
		blocking, long      length.Length
		through             string
	}{
		{"between joists", "in", `"joists": "across", "first_joist": "-8"`, 3 * length.Inch, 9 * length.Inch, `rim, post and 3" of blocking`},
		{"one piece beside a joist", "in", `"joists": "across", "first_joist": "-1"`, 3 * length.Inch / 2, 7*length.Inch + length.Inch/2, `rim, post and 1 1/2" of blocking`},
		{"alongside", "in", `"joists": "along"`, 0, 6 * length.Inch, "rim and post"},
		{"joists not given", "in", `"joists": ""`, 0, 6 * length.Inch, "rim and post"},
		{"between joists, metric", "mm", `"joists": "across", "first_joist": "-200"`, 76 * length.Millimetre, 230 * length.Millimetre, "rim, post and 76 mm of blocking"},
	} {
		job, faults := layout.ReadJob(strings.NewReader(`{"units": "` + tt.units + `", "rules": "irc-2021", "spec": {"bolt_diameter": "12 mm"}, "runs": [{"label": "R1", "length": "60 in", ` + tt.fields + `}]}`))
		if tt.units == "in" {
			job.Spec.BoltDiameter = length.Inch / 2
		}
		if len(faults) > 0 {
			t.Fatalf("%s: %v", tt.name, faults)
		}
		layouts, err := layout.ComputeJob(job)
		if err != nil {
			t.Fatal(err)
		}
		p := layouts[0].Posts[0]
		for _, b := range p.Bolts {
			if b.Blocking != tt.blocking || b.Length != tt.long || p.Through(b, job.Units.Style()) != tt.through {
				t.Errorf("%s: %s bolt of %v through %s, want %v through %s: %s", tt.name, b.Name, b.Length, p.Through(b, job.Units.Style()), tt.long, tt.through, p.Joist)
			}
		}
		want := "through " + tt.through + " and two diameters of washers and nut, " + tt.long.Format(job.Units.Style()) + " long."
		if !slices.ContainsFunc(layouts[0].Working, func(line string) bool {
			return strings.HasPrefix(line, "Bolts at R1-P1") && strings.HasSuffix(line, want)
		}) {
			t.Errorf("%s: the working does not say %q: %q", tt.name, want, layouts[0].Working)
		}
	}
}

// TestCornerBoltsThroughBlocking: the post in a corner of a run alongside the joists has both pieces of its blocking beside it, away from the corner:
// its first pair of bolts passes them, the second goes through 3 in of them. The run beyond the corner says the same of the pair that they share.
func TestCornerBoltsThroughBlocking(t *testing.T) {
	job, faults := layout.ReadJob(strings.NewReader(`{"units": "in", "rules": "irc-2021", "spec": {"joist_depth": "11 1/4"}, "runs": [
		{"label": "R1", "start": "wall", "end": "corner", "length": 72, "joists": "along"}, {"label": "R2", "start": "corner", "start_at": "R1", "turn": 90, "length": 72, "joists": "across", "first_joist": 10}]}`))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	layouts, err := layout.ComputeJob(job)
	if err != nil {
		t.Fatal(err)
	}
	p := layouts[0].Posts[len(layouts[0].Posts)-1]
	if len(p.Corner) != 2 || p.Bolts[0].Length != 6*length.Inch || p.Corner[0].Length != 9*length.Inch {
		t.Errorf("%s: bolts %v, second pair %v, want 6 in and 9 in", p.Label, p.Bolts, p.Corner)
	}
	if q := layouts[1].Posts[0]; q.SharedAs != p.Label || q.Bolts[0].Length != 9*length.Inch {
		t.Errorf("%s as %s: bolts %v, want 9 in", p.Label, q.Label, q.Bolts)
	}
}

// TestHeadHole is worked by hand: a hex head of a lag of 1/2 in is 3/4 across its flats and 0.866 across its corners; with 3 mm, 0.118, for a
// socket it wants 0.984. One of 12.7 mm is 22.0 across, and 5/8 in 1.083, wanting 1.201.
func TestHeadHole(t *testing.T) {
	for _, tt := range []struct {
		lag, hole float64
		tight     bool
	}{{0.5, 1, false}, {0.5, 0.9375, true}, {0.5, 22 / 25.4, true}, {0.625, 1.1875, true}, {0.625, 1.25, false}} {
		l := computed(t, layout.Run{Kind: layout.Level, Length: inch(96), Joists: layout.JoistsAcross}, func(s *layout.Spec) {
			s.PostMount, s.SleeveMaterial, s.SleeveWall, s.BoltDiameter, s.SleeveHeadHole = layout.MountSleeve, layout.SleeveSteel, inch(0.25), inch(tt.lag), inch(tt.hole)
		})
		if got := told(l, "too tight for a fixing of"); len(got) != map[bool]int{true: 1, false: 0}[tt.tight] {
			t.Errorf("a hole of %v for a lag of %v: %v", tt.hole, tt.lag, got)
		}
		if note := l.Posts[0].Sleeve.Note; !strings.Contains(note, "must pass the fixing's head") {
			t.Errorf("nothing is said of heads: %s", note)
		}
	}
	wood := computed(t, layout.Run{Kind: layout.Level, Length: inch(96)}, func(s *layout.Spec) {
		s.PostMount, s.SleeveMaterial, s.SleeveHeadHole = layout.MountSleeve, layout.SleeveWood, inch(0.25)
	})
	if note := wood.Posts[0].Sleeve.Note; strings.Contains(note, "head access") || len(told(wood, "too tight for a fixing of")) > 0 {
		t.Errorf("a wood sleeve has no such holes: %s", note)
	}
}
