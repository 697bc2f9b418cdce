package layout_test

import (
	"slices"
	"strings"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// computed lays out a run under the 2018 IRC with the defaults changed by change.
func computed(t testing.TB, run layout.Run, change func(*layout.Spec)) layout.Layout {
	t.Helper()
	spec := layout.DefaultSpec(length.Inches)
	if change != nil {
		change(&spec)
	}
	if run.Label == "" {
		run.Label = "R1"
	}
	return layout.Compute(layout.Input{Run: run, Spec: spec, Rules: rules(t, "irc-2018"), Unit: length.Inches})
}

func faces(l layout.Layout) []string {
	var all []string
	for _, p := range l.Posts {
		all = append(all, p.Face.FormatBare(length.InchFraction))
	}
	return all
}

func TestPosts(t *testing.T) {
	tests := []struct {
		name   string
		run    layout.Run
		faces  string // datum-side faces
		clears string
		fields string // of the problems that are not about connectors
	}{
		{"equal bays over centres", layout.Run{Length: inch(150)}, "-1 3/4 48 1/4 98 1/4 148 1/4", "46 1/2 46 1/2 46 1/2", ""},
		{"equal bays over faces", layout.Run{Length: inch(147.5), LengthOver: layout.OverFaces}, "0 72 144", "68 1/2 68 1/2", ""},
		{"between walls the clear lengths are equal", layout.Run{Length: inch(151), Start: layout.EndWall, End: layout.EndWall}, "48 99 1/2", "48 48 48", ""},
		{"a wall at the datum", layout.Run{Length: inch(100), Start: layout.EndWall}, "47 3/8 98 1/4", "47 3/8 47 3/8", ""},
		{"exactly the greatest centres", layout.Run{Length: inch(72)}, "-1 3/4 70 1/4", "68 1/2", ""},
		{"a hair over them", layout.Run{Length: inch(72) + 1}, "-1 3/4 34 1/4 70 1/4", "32 1/2 32 1/2", ""},
		{"typed posts, ends repeated, out of order", layout.Run{Length: inch(120), Posts: []length.Length{inch(70), 0, inch(30), inch(120)}}, "-1 3/4 28 1/4 68 1/4 118 1/4", "26 1/2 36 1/2 46 1/2", ""},
		{"typed posts too far apart, beyond the end and on each other", layout.Run{Length: inch(120), Posts: []length.Length{inch(80), inch(82), inch(130)}}, "-1 3/4 78 1/4 118 1/4", "76 1/2 36 1/2", "posts posts posts"},
		{"single bay of a clear opening", layout.Run{ClearOpening: inch(80)}, "-1 3/4 81 3/4", "80", "clear_opening"},
		{"no length", layout.Run{}, "", "", "length"},
		{"shorter than its posts", layout.Run{Length: inch(3)}, "", "", "length"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if tt.run.Kind == "" {
				tt.run.Kind = layout.Level
			}
			l := computed(t, tt.run, nil)
			if got := strings.Join(faces(l), " "); got != tt.faces {
				t.Errorf("faces at %s, want %s", got, tt.faces)
			}
			var clears, fields []string
			for _, b := range l.Bays {
				clears = append(clears, b.Planned.ClearBottom.FormatBare(length.InchFraction))
			}
			for _, p := range l.Problems {
				if !strings.HasPrefix(p.Field, "connector") {
					fields = append(fields, p.Field)
				}
			}
			if got := strings.Join(clears, " "); got != tt.clears {
				t.Errorf("openings %s, want %s", got, tt.clears)
			}
			if got := strings.Join(fields, " "); got != tt.fields {
				t.Errorf("problems %v, want %s", l.Problems, tt.fields)
			}
		})
	}
}

func TestJoists(t *testing.T) {
	tests := []struct {
		name  string
		first float64
		gap   float64
		clash bool
		count int // pieces of blocking
	}{
		{"between joists", 8, 5.5, false, 2},
		{"on a joist", 0, -2.5, true, 2},
		{"edge of the post at a joist's face", 2.5, 0, false, 2},
		{"over it by less than can be marked", 2.484375, 0, false, 2},
		{"just over it", 2.4375, -0.0625, true, 2},
		{"before the first joist", 60, 9.5, false, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			run := layout.Run{Kind: layout.Level, Length: inch(96), Posts: []length.Length{inch(48)}, Joists: layout.JoistsAcross, FirstJoist: inch(tt.first)}
			p := computed(t, run, nil).Posts[1]
			if p.JoistGap != inch(tt.gap) || p.JoistClsh != tt.clash {
				t.Errorf("gap %v, clash %v: %s", p.JoistGap, p.JoistClsh, p.Joist)
			}
			n := 0
			for _, b := range p.Blocking {
				n += b.Count
				if b.Length != inch(14.5) {
					t.Errorf("blocking %v, want 14 1/2 in between joists at 16 in", b.Length)
				}
			}
			if n != tt.count {
				t.Errorf("%d pieces of blocking, want %d", n, tt.count)
			}
		})
	}
}

func TestBoltsAndHoldDown(t *testing.T) {
	run := layout.Run{Kind: layout.Level, Length: inch(72), DeckHeight: inch(40)}
	l := computed(t, run, func(s *layout.Spec) { s.HoldDown = "an invented hold-down" })
	want := []layout.Bolt{{Name: "upper", FromTop: inch(2.125), FromBottom: inch(7.125), Length: inch(6)}, {Name: "lower", FromTop: inch(7.125), FromBottom: inch(2.125), Length: inch(6)}}
	if !slices.Equal(l.Posts[0].Bolts, want) {
		t.Errorf("bolts = %v", l.Posts[0].Bolts)
	}
	if h := l.Posts[0].HoldDown; !strings.Contains(h, "1,800 lb") || !strings.Contains(h, "an invented hold-down") {
		t.Errorf("hold-down: %q", h)
	}
	run.DeckHeight = inch(20)
	if h := computed(t, run, nil).Posts[0].HoldDown; h != "" {
		t.Errorf("a hold-down is called for where no guard is required: %q", h)
	}
	if l := computed(t, run, func(s *layout.Spec) { s.BoltTop = inch(1.5) }); !mentions(l.Problems, "bolt_top") {
		t.Error("a bolt 1 1/2 in from the edge passes unsaid")
	}
	if l := computed(t, run, func(s *layout.Spec) { s.BoltTop = inch(8) }); !mentions(l.Problems, "bolt_top") || l.Screens[0].Screened {
		t.Error("an upper bolt under the lower one passes unsaid, or is screened")
	}
}

func TestSleeve(t *testing.T) {
	run := layout.Run{Kind: layout.Removable, Length: inch(60), RemovableWhy: "a boat", Joists: layout.JoistsAlong}
	change := func(s *layout.Spec) {
		s.PostMount, s.SleeveMaterial, s.SleeveWall = layout.MountSleeve, layout.SleeveSteel, inch(0.25)
		s.SleeveClearance, s.SleeveSwelling, s.PostDepth = inch(0.1875), inch(0.0625), inch(3.625)
	}
	l := computed(t, run, change)
	s := l.Posts[0].Sleeve
	if s == nil || s.Inside != inch(3.875) || s.Outside != inch(4.375) || s.Height != inch(10.25) {
		t.Fatalf("sleeve = %+v", s)
	}
	heights := map[string][]length.Length{}
	for _, h := range s.Holes {
		wall, _, _ := strings.Cut(h.Wall, " (")
		heights[wall] = append(heights[wall], h.Height)
		if want := map[string]length.Length{"shank clearance": inch(0.5625), "head access": inch(1)}[h.For]; h.Size != want {
			t.Errorf("%s hole is %v", h.For, h.Size)
		}
	}
	if !slices.Equal(heights["outer"], heights["inner"]) || !slices.Equal(heights["datum side"], heights["far side"]) {
		t.Errorf("a fixing's two holes stand at differing heights: %v", heights)
	}
	for _, h := range heights["outer"] {
		if slices.Contains(heights["datum side"], h) {
			t.Errorf("neighbouring walls are fixed at the same height: %v", heights)
		}
	}
	if l.Lift == nil || l.Lift.Rise != inch(10.25) || l.Lift.Weight < 5 || l.Lift.Weight > 40 {
		t.Errorf("lift = %+v", l.Lift)
	}
	if l := computed(t, run, nil); !mentions(l.Problems, "post_mount") {
		t.Error("a removable length on bolted posts passes unsaid")
	}
}

// TestRakeHeights holds the plumb measures of a 7 3/4 by 10 rake to the trade's own figures.
func TestRakeHeights(t *testing.T) {
	run := layout.Run{Kind: layout.Rake, Riser: inch(7.75), Tread: inch(10), Risers: 5}
	l := computed(t, run, func(s *layout.Spec) {
		s.CapThickness, s.StairHeight, s.LevelHeight = inch(1.5), inch(34), inch(36)
	})
	near(t, "cap, plumb", l.Heights.CapVertical.Inches(), 1.90, 0.01)
	near(t, "rail on edge, plumb", l.Heights.RailVertical.Inches(), 4.43, 0.01)
	near(t, "jog at a post", l.Stair.PostJog.Inches(), 2.71, 0.01)
	near(t, "joint behind the top nosing", l.Stair.Joint.Inches(), 2.58, 0.01)
	rail := l.Bays[0].Planned.Top
	near(t, "rail", rail.Ideal.Inches(), 36.5*1.26516, 0.001)
	near(t, "bevel", rail.Bevel, 37.776, 0.001)
	if got := l.Heights.TopRailTop - l.Heights.RailVertical - l.Heights.BottomRailTop; got.RoundDown(inch(0.0625)) != l.Bays[0].Planned.Infill.Cut {
		t.Errorf("baluster %v in a space of %v", l.Bays[0].Planned.Infill.Cut, got)
	}
}

func TestHeights(t *testing.T) {
	run := layout.Run{Kind: layout.Level, Length: inch(72), DeckHeight: inch(40)}
	h := computed(t, run, nil).Heights
	if h.Finished != inch(36.5) || h.TopRailTop != inch(35.5) || h.BottomRailTop != inch(6.5) || h.PostTop != inch(35.5) {
		t.Errorf("heights = %+v", h)
	}
	l := computed(t, run, func(s *layout.Spec) { s.PostsAtCap, s.RailOrientation = layout.PostsThroughCap, layout.RailFlat })
	if l.Heights.PostTop != inch(40.5) || l.Heights.BottomRailTop != inch(4.5) || l.Posts[0].Cut != inch(40.5+10.25) {
		t.Errorf("heights with posts through the cap = %+v, post %v", l.Heights, l.Posts[0].Cut)
	}
	if l := computed(t, run, func(s *layout.Spec) { s.LevelHeight = inch(35.9375) }); !mentions(l.Problems, "level_height") {
		t.Error("a guard under its limit passes unsaid")
	}
	if l := computed(t, run, func(s *layout.Spec) { s.UnderRail = inch(4) }); !mentions(l.Problems, "under_rail") {
		t.Error("4 in under the bottom rail passes unsaid: the limit is under 4 in")
	}
	// Ontario: the low height needs a drop that has been given.
	low := layout.Input{Run: layout.Run{Label: "R1", Kind: layout.Level, Length: millimetre(1800)}, Spec: layout.DefaultSpec(length.Millimetres), Rules: rules(t, "ontario-9.8"), Unit: length.Millimetres}
	if got := layout.Compute(low).Heights.Finished; got != millimetre(1082) {
		t.Errorf("height with no drop given = %v, want the general limit and 12 mm", got)
	}
	low.Run.DeckHeight = millimetre(1800)
	if got := layout.Compute(low).Heights.Finished; got != millimetre(912) {
		t.Errorf("height at a drop of 1800 mm = %v, want the low limit and 12 mm", got)
	}
}

// A bottom rail in the zone that must be free of footholds is told where the rule set asks for the zone at that drop: Australia
// over 4 m only (Housing Provisions 11.3.4, from memory), and where the drop was not given.
func TestBottomRailInClimbZone(t *testing.T) {
	for _, tt := range []struct {
		set  string
		drop float64
		told bool
	}{{"australia-ncc-2022", 0, true}, {"australia-ncc-2022", 4000, false}, {"australia-ncc-2022", 4001, true}, {"ontario-9.8", 1500, true}} {
		in := layout.Input{Run: layout.Run{Label: "R1", Kind: layout.Level, Length: millimetre(1800), DeckHeight: millimetre(tt.drop)},
			Spec: layout.DefaultSpec(length.Millimetres), Rules: rules(t, tt.set), Unit: length.Millimetres}
		in.Spec.UnderRail = millimetre(90)
		told := slices.ContainsFunc(layout.Compute(in).Problems, func(p layout.Problem) bool { return strings.Contains(p.Sentence, "nothing may help climbing") })
		if told != tt.told {
			t.Errorf("%s at a drop of %v mm: told %t, want %t", tt.set, tt.drop, told, tt.told)
		}
	}
}

func TestFixedCentres(t *testing.T) {
	tests := []struct {
		clear     float64
		count     int
		centredOn string
		end       float64
	}{
		{68.5, 17, "member", 1.875}, // 16 would leave 3 7/8
		{66.5, 16, "space", 2.875},
		{70.5, 17, "member", 2.875}, // 18 would leave 7/8, further from 2 in
		{4.75, 1, "member", 2},
		{0.75, 0, "space", 0.75}, // a gap within the limit needs none
	}
	for _, tt := range tests {
		run := layout.Run{Kind: layout.Level, ClearOpening: inch(tt.clear)}
		in := computed(t, run, func(s *layout.Spec) { s.InfillMode = layout.FixedCentres }).Bays[0].Planned.Infill
		if in.Count != tt.count || in.CentredOn != tt.centredOn || in.EndGap != inch(tt.end) || in.LastGap != inch(tt.end) {
			t.Errorf("%v in: %d on a %s, ends %v and %v; want %d on a %s, %v in", tt.clear, in.Count, in.CentredOn, in.EndGap, in.LastGap, tt.count, tt.centredOn, tt.end)
		}
	}
}

// TestRoundedMarksAddAMember: bays whose ideal gap is within limit and design gap, but whose rounded marks are not.
func TestRoundedMarksAddAMember(t *testing.T) {
	for _, clear := range []float64{20.3125, 20.375, 25.75} {
		in := oneBay(t, inch(clear), millimetre(38), inch(4), rules(t, "irc-2018"))
		if in.Count != in.Least+1 || in.Largest >= inch(4) || !strings.Contains(strings.Join(in.Why, " "), "on rounded marks") {
			t.Errorf("%v in: %d members, least %d, largest gap %v: %v", clear, in.Count, in.Least, in.Largest, in.Why)
		}
	}
}

// TestDesignGapOnTheMarks is worked by hand in sixteenths. 18 13/16 is 301: three members of 24 leave four gaps of 57 1/4. Their centres,
// 69 1/4, 150 1/2 and 231 3/4, go to 69, 151 and 232, with 58 between the first two: 3 5/8, and 3.67 once 3 % of 1 1/2 in of cedar is lost,
// although the exact gap dries to 3.623. 25 1/16 is 401: two members of 300 mm, 188.976, leave 7.682; between centres at 102 and 299 are
// 8.024, over 1/2 in, and a third does not fit.
func TestDesignGapOnTheMarks(t *testing.T) {
	for _, tt := range []struct {
		what               string
		clear, member, gap length.Length
		moisture           string
		count, least, said int // said counts the problems that say so
		why                string
	}{
		{"dry", inch(18.8125), inch(1.5), inch(3.625), layout.StockDry, 3, 3, 0, "One fewer would leave"},
		{"wet", inch(18.8125), inch(1.5), inch(3.625), layout.StockWet, 4, 3, 0, "3 balusters would be, but for the rounding: on rounded marks, once the stock has dried, a gap comes to 3 43/64"},
		{"wet, a wider gap", inch(18.8125), inch(1.5), inch(3.6875), layout.StockWet, 3, 3, 0, "One fewer would leave"},
		{"no count", inch(25.0625), millimetre(300), inch(0.5), layout.StockDry, 2, 2, 1, "One more would not fit"},
	} {
		run := layout.Run{Label: "R1", Kind: layout.Level, ClearOpening: tt.clear}
		l := computed(t, run, func(s *layout.Spec) {
			s.InfillWidth, s.InfillGap, s.InfillMoisture = tt.member, tt.gap, tt.moisture
		})
		in := l.Bays[0].Planned.Infill
		if in.Count != tt.count || in.Least != tt.least || !strings.Contains(strings.Join(in.Why, " "), tt.why) {
			t.Errorf("%s: %d members, least %d, want %d and %d: %v", tt.what, in.Count, in.Least, tt.count, tt.least, in.Why)
		}
		if got := told(l, "On this marking grid no count of balusters keeps within the design gap"); len(got) != tt.said {
			t.Errorf("%s: said %v", tt.what, got)
		}
	}
}

// TestWetStock: wet members are counted by their dry size.
func TestWetStock(t *testing.T) {
	// 1 1/2 in cedar loses 3 % to 12 % moisture: 0.045 in a gap.
	clear := 13*inch(1.5) + 14*inch(3.74)
	run := layout.Run{Kind: layout.Level, ClearOpening: clear}
	for _, tt := range []struct {
		moisture string
		count    int
	}{{layout.StockDry, 13}, {layout.StockWet, 14}} {
		in := computed(t, run, func(s *layout.Spec) { s.InfillWidth, s.InfillMoisture = inch(1.5), tt.moisture }).Bays[0].Planned.Infill
		if in.Count != tt.count {
			t.Errorf("%s: %d members, want %d: %v", tt.moisture, in.Count, tt.count, in.Why)
		}
	}
}

func TestBuilt(t *testing.T) {
	in := layout.Input{
		Run:  layout.Run{Label: "R1", Kind: layout.Level, Length: inch(144)},
		Spec: layout.DefaultSpec(length.Inches), Rules: rules(t, "irc-2018"), Unit: length.Inches,
		Built: map[int]layout.Opening{1: {Bottom: inch(68), Top: inch(68.375)}, 2: {Top: inch(60)}, 7: {Top: inch(60)}},
	}
	l := layout.Compute(in)
	first, second := l.Bays[0], l.Bays[1]
	if first.Planned.Bottom.Cut != inch(68.5) || first.Built.Bottom.Cut != inch(68) || first.Built.Top.Cut != inch(68.375) || first.Used() != first.Built {
		t.Errorf("planned %+v, built %+v", first.Planned, first.Built)
	}
	if second.Built.Bottom.Cut != inch(60) || second.Built.Infill.Count >= second.Planned.Infill.Count {
		t.Errorf("built from the top alone: %+v", second.Built)
	}
	if !mentions(l.Problems, "tol_opening") || !mentions(l.Problems, "built") {
		t.Errorf("problems = %v", l.Problems)
	}
	for _, p := range l.Pieces {
		if want := map[bool]string{true: "as built", false: "planned"}[p.What != "post" && p.What != "blocking"]; p.Version != want {
			t.Errorf("%s is %s, want %s", p.Label, p.Version, want)
		}
	}
}

func TestCap(t *testing.T) {
	lengths := func(l layout.Layout) string {
		var all []string
		for _, p := range l.Cap {
			all = append(all, p.Length.FormatBare(length.InchFraction))
		}
		return strings.Join(all, " ")
	}
	tests := []struct {
		name   string
		run    layout.Run
		change func(*layout.Spec)
		want   string
	}{
		{"free ends", layout.Run{Length: inch(144)}, nil, "149 1/2"},
		{"joints over posts", layout.Run{Length: inch(288)}, nil, "146 3/4 146 3/4"},
		{"wall to corner", layout.Run{Length: inch(100), Start: layout.EndWall, End: layout.EndCorner}, nil, "102 5/8"},
		{"through the cap", layout.Run{Length: inch(144)}, func(s *layout.Spec) { s.PostsAtCap = layout.PostsThroughCap }, "68 1/2 68 1/2"},
		{"through the cap, from a wall", layout.Run{Length: inch(142.25), Start: layout.EndWall}, func(s *layout.Spec) { s.PostsAtCap = layout.PostsThroughCap }, "68 3/8 68 1/2"},
		{"none", layout.Run{Length: inch(144)}, func(s *layout.Spec) { s.CapThickness = 0 }, ""},
	}
	for _, tt := range tests {
		tt.run.Kind = layout.Level
		if got := lengths(computed(t, tt.run, tt.change)); got != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, got, tt.want)
		}
	}
}

// TestImpossibleBayLeavesTheRest: a bay that cannot be laid out has a fatal problem, and the others stand.
func TestImpossibleBayLeavesTheRest(t *testing.T) {
	run := layout.Run{Kind: layout.Level, Length: inch(80), Posts: []length.Length{inch(4)}}
	l := computed(t, run, func(s *layout.Spec) {
		s.ConnectorTop, s.ConnectorBottom, s.ConnectorTopGiven, s.ConnectorBottomGiven = inch(0.5), inch(0.5), true, true
	})
	if l.Bays[0].Planned != nil || l.Bays[1].Planned == nil {
		t.Fatalf("bays = %+v", l.Bays)
	}
	want := `The opening of 1/2" is used up by the connector allowance of 1/2" at each end: no rail fits.`
	if !slices.ContainsFunc(l.Problems, func(p layout.Problem) bool {
		return p.Fatal && p.Place == "R1-B1" && p.Sentence == want
	}) {
		t.Errorf("problems = %v", l.Problems)
	}
}

// TestConnectorsAskForADryFit: an allowance that nobody has measured is named once a run, and is not fatal.
func TestConnectorsAskForADryFit(t *testing.T) {
	l := computed(t, layout.Run{Kind: layout.Level, Length: inch(288)}, nil)
	n := 0
	for _, p := range l.Problems {
		if strings.Contains(p.Sentence, "dry-fit the first bay") && !p.Fatal {
			n++
		}
	}
	if n != 2 || l.Bays[0].Planned.Top.Cut != inch(68.5) {
		t.Errorf("%d problems, rail %v", n, l.Bays[0].Planned.Top.Cut)
	}
}

func TestSharedPostIsCutOnce(t *testing.T) {
	_, layouts := readJob(t, "deck.json")
	last := layouts[0].Posts[len(layouts[0].Posts)-1].Label
	if got := layouts[1].Posts[0].SharedAs; got != last {
		t.Errorf("first post of R2 is shared as %q, want %q", got, last)
	}
	for _, p := range layouts[1].Pieces {
		if p.Label == "R2-P1" {
			t.Error("the shared post is cut twice")
		}
	}
}

func BenchmarkHundredBays(b *testing.B) {
	in := layout.Input{
		Run:  layout.Run{Label: "R1", Kind: layout.Level, Length: 7200 * length.Inch},
		Spec: layout.DefaultSpec(length.Inches), Rules: rules(b, "irc-2018"), Unit: length.Inches,
	}
	if n := len(layout.Compute(in).Bays); n != 100 {
		b.Fatalf("%d bays, want 100", n)
	}
	for b.Loop() {
		layout.Compute(in)
	}
}

// TestHeightOnTheFigure: a guard set on its figure, or so little over it that rail and cap dry by more, says so. By the linear method (Wood
// Handbook, from memory) from 19 to 12 % a height of 4 1/2 in of a species with 5 % tangential shrinkage loses 4 1/2 x 5 % x 7 / 30 = 0.053 in.
func TestHeightOnTheFigure(t *testing.T) {
	for _, tt := range []struct {
		height length.Length
		want   string
	}{
		{inch(36), "has nothing over the figure of at least 36\", and rail and cap may dry by about 0.05"},
		{inch(36) + length.Inch/32, "has only 0.031\" over the figure"},
		{inch(36) + length.Inch/16, ""},
		{inch(36.5), ""},
		{inch(35), ""}, // told otherwise
	} {
		run := layout.Run{Kind: layout.Level, Length: inch(72), DeckHeight: inch(40)}
		l := computed(t, run, func(s *layout.Spec) { s.LevelHeight, s.Species = tt.height, "western-redcedar" })
		got := told(l, "can fall below")
		if len(got) != 0 != (tt.want != "") || tt.want != "" && !strings.Contains(got[0].Sentence, tt.want) {
			t.Errorf("at %v: %v, want %q", tt.height, got, tt.want)
		}
	}
}
