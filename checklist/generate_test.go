package checklist_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"newelbook/checklist"
	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

var update = flag.Bool("update", false, "write the golden files again")

// source lays out a run and joins what Generate needs.
func source(t testing.TB, set string, unit length.Unit, run layout.Run, change func(*layout.Spec), built map[int]layout.Opening) checklist.Source {
	t.Helper()
	base, err := codes.Get(set)
	if err != nil {
		t.Fatal(err)
	}
	rules, err := codes.Apply(base, nil)
	if err != nil {
		t.Fatal(err)
	}
	spec := layout.DefaultSpec(unit)
	spec.ConnectorTopGiven, spec.ConnectorBottomGiven = true, true
	if change != nil {
		change(&spec)
	}
	l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: rules, Unit: unit, Built: built})
	for _, p := range l.Problems {
		if p.Fatal {
			t.Fatalf("layout: %s: %s", p.Place, p.Sentence)
		}
	}
	return checklist.Source{Run: run, Spec: spec, Layout: l, Rules: rules, Style: unit.Style()}
}

func levelRun() layout.Run {
	return layout.Run{ID: "k7d2", Label: "R1", Kind: layout.Level, Start: layout.EndCorner, End: layout.EndFree, Length: 96 * in,
		LengthOver: layout.OverCentres, DeckHeight: 48 * in, Joists: layout.JoistsAcross, FirstJoist: in * 3 / 4}
}

func rakedRun() layout.Run {
	return layout.Run{ID: "m3x9", Label: "R2", Kind: layout.Rake, Start: layout.EndStairHead, End: layout.EndStairFoot,
		LengthOver: layout.OverCentres, DeckHeight: 36 * in, TotalRise: 36 * in, Tread: 10 * in, Nosing: in, StairFoot: "a concrete pad"}
}

func removableRun() layout.Run {
	return layout.Run{ID: "p4q8", Label: "R3", Kind: layout.Removable, Start: layout.EndFree, End: layout.EndFree, Length: 1500 * mm,
		LengthOver: layout.OverCentres, DeckHeight: 900 * mm, Joists: layout.JoistsAlong, FirstJoist: 19 * mm,
		RemovableWhy: "furniture goes in here", RemovableStore: "under the stair", SideClearance: 12 * mm}
}

// sample names the three runs whose whole catalogues are kept as golden files.
func samples(t testing.TB) map[string]checklist.Source {
	level := source(t, "irc-2018", length.Inches, levelRun(), func(s *layout.Spec) {
		s.BoltTop, s.BoltBottom, s.HoldDown = 2*in+in/2, 2*in+in/2, "a tested tension tie"
	}, map[int]layout.Opening{2: {Bottom: 44*in + in/4, Top: 44*in + in*5/8}})
	rake := source(t, "irc-2018", length.Inches, rakedRun(), func(s *layout.Spec) { s.PostsAtCap = layout.PostsThroughCap }, nil)
	measured := map[int]length.Length{1: 88 * mm}
	sleeves := source(t, "ontario-9.8", length.Millimetres, removableRun(), func(s *layout.Spec) {
		s.PostMount, s.SleeveMaterial, s.SleeveWall, s.SleeveClearance = layout.MountSleeve, layout.SleeveSteel, 6*mm, 5*mm
		s.CapThickness = 0
	}, nil)
	sleeves.MeasuredPost = measured
	sleeves.Layout = layout.Compute(layout.Input{Run: sleeves.Run, Spec: sleeves.Spec, Rules: sleeves.Rules, Unit: length.Millimetres, Posts: measured})
	return map[string]checklist.Source{"level-bolted": level, "raked": rake, "removable-sleeves": sleeves}
}

// catalogueText writes checks as the golden files have them.
func catalogueText(checks []checklist.Check, style length.Style) string {
	var b strings.Builder
	stage := checklist.Stage("")
	for _, c := range checks {
		if c.Stage != stage {
			stage = c.Stage
			fmt.Fprintf(&b, "== %s ==\n\n", stage)
		}
		fmt.Fprintf(&b, "%s | %s %s | %s", c.ID, c.Place.Kind, c.Place.Label, c.Ask)
		if c.Hold {
			b.WriteString(" | hold")
		}
		if c.Photo != checklist.PhotoNone {
			fmt.Fprintf(&b, " | photo %s", c.Photo)
		}
		if c.Built {
			b.WriteString(" | built")
		}
		if c.Was != nil {
			fmt.Fprintf(&b, ", was %s", c.Was.Format(style))
		}
		fmt.Fprintf(&b, "\n  %s\n", c.Title)
		if held := checklist.Evaluate(c, checklist.Answer{}, checklist.ToolTape, style).HeldTo; held != "" {
			fmt.Fprintf(&b, "  held to %s\n", held)
		}
		if c.Sample != "" {
			fmt.Fprintf(&b, "  a sample: %s\n", c.Sample)
		}
		if c.Reference != "" {
			fmt.Fprintf(&b, "  from: %s\n", c.Reference)
		}
		for _, o := range c.Others {
			switch {
			case o.Alike:
				fmt.Fprintf(&b, "  or, held alike, from: %s\n", o.From)
			case o.Offset == nil:
				fmt.Fprintf(&b, "  or from: %s\n", o.From)
			case o.Down:
				fmt.Fprintf(&b, "  or from: %s, %s less the reading, by %s\n", o.From, o.Offset.Format(style), o.By)
			default:
				fmt.Fprintf(&b, "  or from: %s, the reading and %s, by %s\n", o.From, o.Offset.Format(style), o.By)
			}
		}
		if c.PhotoShows != "" {
			fmt.Fprintf(&b, "  shows %s\n", c.PhotoShows)
		}
		fmt.Fprintf(&b, "  how: %s\n  why: %s\n  source: %s\n\n", c.How, c.Reason, c.Source)
	}
	return b.String()
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", "generate", name+".golden")
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v (run with -update to write it)", err)
	}
	if got == string(want) {
		return
	}
	gotLines, wantLines := strings.Split(got, "\n"), strings.Split(string(want), "\n")
	for i := range max(len(gotLines), len(wantLines)) {
		g, w := "", ""
		if i < len(gotLines) {
			g = gotLines[i]
		}
		if i < len(wantLines) {
			w = wantLines[i]
		}
		if g != w {
			t.Fatalf("%s line %d:\n got %s\nwant %s", path, i+1, g, w)
		}
	}
}

func TestGenerateGolden(t *testing.T) {
	for name, s := range samples(t) {
		t.Run(name, func(t *testing.T) { golden(t, name, catalogueText(checklist.Generate(s), s.Style)) })
	}
	t.Run("job", func(t *testing.T) {
		golden(t, "job", catalogueText(checklist.GenerateJob(length.InchFraction, checklist.PhotosAsked), length.InchFraction))
	})
}

// everyCheck is the checks of all samples and of the job.
func everyCheck(t testing.TB) []checklist.Check {
	checks := checklist.GenerateJob(length.Metric, checklist.PhotosAsked)
	for _, s := range samples(t) {
		checks = append(checks, checklist.Generate(s)...)
	}
	base := source(t, "irc-2018", length.Inches, levelRun(), func(s *layout.Spec) { s.PostMount = layout.MountBase }, nil)
	checks = append(checks, checklist.Generate(base)...)
	for _, kind := range []string{layout.FillCables, layout.FillPanels} {
		filled := source(t, "wisconsin-sps-325", length.Inches, levelRun(), func(s *layout.Spec) { s.InfillKind = kind }, nil)
		checks = append(checks, checklist.Generate(filled)...)
	}
	return checks
}

// TestInfillOfEachKind: a bay owes the checks of what it is filled with, and of nothing else; the widest gap between cables is held
// to the rule set's own figure for them where it has one (SPS 325 Appendix B s. 13 item 4).
func TestInfillOfEachKind(t *testing.T) {
	for _, tt := range []struct {
		kind string
		want []string
		held string // clause behind the widest gap
	}{
		{layout.FillBalusters, []string{"infill.count", "infill.gap", "infill.gap_start", "infill.gap_end", "infill.firm", "infill.plumb"}, "opening.level"},
		{layout.FillCables, []string{"infill.cables", "infill.gap", "infill.count", "infill.support", "infill.firm", "infill.cable_ends"}, "opening.rope"},
		{layout.FillPanels, []string{"infill.count", "infill.gap", "infill.gap_start", "infill.gap_end", "infill.firm", "infill.panel_mark"}, "opening.level"},
	} {
		s := source(t, "wisconsin-sps-325", length.Inches, levelRun(), func(s *layout.Spec) { s.InfillKind = tt.kind }, nil)
		var got []string
		for _, c := range checklist.Generate(s) {
			if c.Stage != checklist.InfillSt || c.Place.Number != 1 {
				continue
			}
			got = append(got, c.Key)
			if c.Key == "infill.gap" && (len(c.Limits) != 1 || c.Limits[0].Key != tt.held) {
				t.Errorf("%s: the widest gap is held to %+v, want %s", tt.kind, c.Limits, tt.held)
			}
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%s: checks %v, want %v", tt.kind, got, tt.want)
		}
	}
}

var (
	catalogueKey = regexp.MustCompile(`^(framing|posts|rails|infill|caps|post_tops|handover)\.[a-z]+(_[a-z]+)*(_[1-9][0-9]?)?$`)
	claims       = regexp.MustCompile(`(?i)compl(y|ies|iant|iance)|passes code|approved`)
)

func TestEveryCheckIsWhole(t *testing.T) {
	stages := map[string]checklist.Stage{"framing": checklist.Framing, "posts": checklist.Posts, "rails": checklist.Rails, "infill": checklist.InfillSt,
		"caps": checklist.Caps, "post_tops": checklist.PostTops, "handover": checklist.Handover}
	for _, c := range everyCheck(t) {
		if c.ID != c.Place.ID+"."+c.Key || !catalogueKey.MatchString(c.Key) {
			t.Errorf("id %q of key %q at %q", c.ID, c.Key, c.Place.ID)
		}
		prefix, _, _ := strings.Cut(c.Key, ".")
		if stages[prefix] != c.Stage {
			t.Errorf("%s is at stage %q", c.ID, c.Stage)
		}
		if c.Title == "" || c.Source == "" || !strings.HasSuffix(c.How, ".") || !strings.HasSuffix(c.Reason, ".") || c.Limits == nil {
			t.Errorf("%s lacks something: %+v", c.ID, c)
		}
		if text := c.Title + c.How + c.Reason + c.PhotoShows; claims.MatchString(text) || strings.Contains(text, "  ") || strings.Contains(text, "..") {
			t.Errorf("%s says %q", c.ID, text)
		}
		if (c.Ask == checklist.AskPhoto) != (c.Photo != checklist.PhotoNone) || (c.PhotoShows != "") != (c.Ask == checklist.AskPhoto) {
			t.Errorf("%s: photograph %q shows %q", c.ID, c.Photo, c.PhotoShows)
		}
		for _, l := range c.Limits {
			if !l.Bound.Known() || l.Value <= 0 || l.Clause == "" || l.Edition == "" || l.Standing == "" {
				t.Errorf("%s: limit %+v", c.ID, l)
			}
		}
		if c.Built != (c.Was != nil) && c.Ask == checklist.AskLength {
			t.Errorf("%s: built %t, was %v", c.ID, c.Built, c.Was)
		}
	}
}

// Ids are unique, and Generate gives the same checks in the same order: by stage, then posts, bays and run.
func TestGenerateIsStable(t *testing.T) {
	kinds := []checklist.PlaceKind{checklist.PlacePost, checklist.PlaceBay, checklist.PlaceRun}
	for name, s := range samples(t) {
		checks := checklist.Generate(s)
		ids := map[string]bool{}
		last := [3]int{}
		for _, c := range checks {
			if ids[c.ID] {
				t.Errorf("%s: id %s twice", name, c.ID)
			}
			ids[c.ID] = true
			now := [3]int{slices.Index(checklist.Stages(), c.Stage), slices.Index(kinds, c.Place.Kind), c.Place.Number}
			if slices.Compare(now[:], last[:]) < 0 {
				t.Errorf("%s: %s stands after %v", name, c.ID, last)
			}
			last = now
		}
		again := checklist.Generate(s)
		if catalogueText(again, s.Style) != catalogueText(checks, s.Style) {
			t.Errorf("%s: a second Generate differs", name)
		}
	}
}

// Height and opening figures bind required guards only; load and edge distances bind all (R312.1 against R301.5, a building
// official's reading, secondary text). At exactly 30 in no guard is asked for (R312.1.1).
func TestGenerateVoluntaryGuard(t *testing.T) {
	for _, tt := range []struct {
		drop     length.Length
		required bool
	}{{30 * in, false}, {30*in + in/100, true}} {
		run := levelRun()
		run.DeckHeight = tt.drop
		var heights, openings, edges int
		for _, c := range checklist.Generate(source(t, "irc-2018", length.Inches, run, nil, nil)) {
			for _, l := range c.Limits {
				switch {
				case strings.HasPrefix(l.Key, "guard.height"):
					heights++
				case strings.HasPrefix(l.Key, "opening."):
					openings++
				case l.Key == codes.BoltEdgeMin:
					edges++
				}
			}
			if c.Key == "caps.height_lowest" && strings.Contains(c.Source, `at least 36" (R312.1.2, 2018 IRC, official text) is told here and is no limit`) == tt.required {
				t.Errorf("drop %v: source %q", tt.drop, c.Source)
			}
		}
		if (heights > 0) != tt.required || (openings > 0) != tt.required || edges == 0 {
			t.Errorf("drop %v: %d height, %d opening, %d edge limits, required %t", tt.drop, heights, openings, edges, tt.required)
		}
	}
}

// A figure that the rule set lacks gives no limit, and the source says so.
func TestGenerateWithoutFigures(t *testing.T) {
	s := source(t, "irc-2018", length.Inches, levelRun(), nil, nil)
	s.Rules = codes.Applied{}
	for _, c := range checklist.Generate(s) {
		for _, l := range c.Limits {
			if l.Key != codes.BoltEdgeMin {
				t.Errorf("%s is held to %s", c.ID, l.Key)
			}
		}
		if c.Key == "infill.gap" && !strings.Contains(c.Source, "there is no figure for it in this rule set") {
			t.Errorf("%s: source %q", c.ID, c.Source)
		}
	}
}

// The job's own figure is the limit, and it names who said so.
func TestGenerateAmended(t *testing.T) {
	s := source(t, "irc-2018", length.Inches, levelRun(), nil, nil)
	rules, err := codes.Apply(s.Rules.RuleSet(), []codes.Amendment{{Key: codes.GuardHeightLevel, Value: "42 in", SaidBy: "R. Sample", Office: "Sample Town"}})
	if err != nil {
		t.Fatal(err)
	}
	s.Rules = rules
	c := find(t, checklist.Generate(s), "k7d2.caps.height_lowest")
	if len(c.Limits) != 1 || c.Limits[0].Value != 42*in || c.Limits[0].Amended != "R. Sample, Sample Town" {
		t.Errorf("limits are %+v", c.Limits)
	}
}

// Where the rule set says how hard a ball is pushed, the gauge is pushed so (SPS 325 Appendix B s. 13 items 1 and 2: 4 lb); elsewhere nothing
// is made up.
func TestGenerateGaugeForce(t *testing.T) {
	for set, want := range map[string]bool{"wisconsin-sps-325": true, "irc-2018": false} {
		c := find(t, checklist.Generate(source(t, set, length.Inches, levelRun(), nil, nil)), "k7d2/B1.infill.gap")
		if strings.Contains(c.How, "Push the gauge with 4 lb (Section 13") != want {
			t.Errorf("%s: %q", set, c.How)
		}
	}
}

// A post shared with another run is checked under that run alone.
func TestGenerateSharedPost(t *testing.T) {
	s := source(t, "irc-2018", length.Inches, levelRun(), nil, nil)
	s.Layout.Posts[0].SharedAs = "R4-P5"
	for _, c := range checklist.Generate(s) {
		if c.Place.ID == "k7d2/P1" {
			t.Errorf("%s is asked again", c.ID)
		}
	}
}

// Once a bay is measured, its rails and infill are asked for as built, beside what was planned; the opening itself stays
// held to the plan.
// Bolts through a stringer are asked for by its own edges, square to them, each as far as the layout has it and held to the edge distance; a post at
// the head of the flight has its bolts in the framing.
func TestGenerateStringer(t *testing.T) {
	for kind, upper := range map[string]string{layout.StringerCut: "Upper bolt below the notches of the stringer", layout.StringerClosed: "Upper bolt below the stringer's upper edge"} {
		run := rakedRun()
		run.PostsOn, run.Stringer, run.StringerDepth, run.Posts, run.StairFoot = layout.OnStringer, kind, 14*in, []length.Length{20 * in}, ""
		s := source(t, "irc-2018", length.Inches, run, func(s *layout.Spec) { s.BoltTop, s.BoltBottom = 2*in+in/2, 2*in+in/4 }, nil)
		titles := map[string]string{}
		for _, c := range checklist.Generate(s) {
			titles[c.Place.Label+" "+c.Key] = c.Title
			if c.Place.Number != 2 || c.Key != "framing.bolt_upper" && c.Key != "framing.bolt_lower" {
				continue
			}
			want := s.Spec.BoltTop
			if c.Key == "framing.bolt_lower" {
				want = s.Spec.BoltBottom
			}
			if c.Nominal == nil || *c.Nominal != want || !strings.Contains(strings.ToLower(c.How), "square") || !slices.ContainsFunc(c.Limits, func(l checklist.Limit) bool { return l.Key == codes.BoltEdgeMin }) {
				t.Errorf("%s: %s wants %v, how: %s, limits %v", kind, c.Key, c.Nominal, c.How, c.Limits)
			}
		}
		for at, want := range map[string]string{"R2-P1 framing.bolt_upper": "Upper bolt below the top of the framing", "R2-P2 framing.bolt_upper": upper, "R2-P2 framing.bolt_lower": "Lower bolt above the stringer's lower edge"} {
			if titles[at] != want {
				t.Errorf("%s, %s: %q, want %q", kind, at, titles[at], want)
			}
		}
	}
}

func TestGenerateBuiltBay(t *testing.T) {
	run := levelRun()
	plan := checklist.Generate(source(t, "irc-2018", length.Inches, run, nil, nil))
	built := checklist.Generate(source(t, "irc-2018", length.Inches, run, nil, map[int]layout.Opening{1: {Bottom: 44 * in, Top: 44 * in}}))
	for _, key := range []string{"rails.top_length", "rails.bottom_length"} {
		before, after := find(t, plan, "k7d2/B1."+key), find(t, built, "k7d2/B1."+key)
		if before.Built || before.Was != nil {
			t.Errorf("%s is built before it was measured", key)
		}
		if !after.Built || after.Was == nil || *after.Was != *before.Nominal || *after.Nominal != 44*in {
			t.Errorf("%s: nominal %v, was %v, planned %v", key, after.Nominal, after.Was, before.Nominal)
		}
	}
	for _, key := range []string{checklist.KeyOpeningBottom, checklist.KeyOpeningTop} {
		if before, after := find(t, plan, "k7d2/B1."+key), find(t, built, "k7d2/B1."+key); *before.Nominal != *after.Nominal || after.Built {
			t.Errorf("%s: nominal %v, planned %v", key, after.Nominal, before.Nominal)
		}
	}
	if other := find(t, built, "k7d2/B2.rails.top_length"); other.Built {
		t.Error("a bay that was not measured is built")
	}
}

// A sleeve and a post cap follow the post as measured.
func TestGenerateMeasuredPost(t *testing.T) {
	s := samples(t)["removable-sleeves"]
	for _, tt := range []struct {
		id    string
		want  length.Length
		built bool
	}{
		{"p4q8/P1.framing.sleeve_inside", 93 * mm, true},
		{"p4q8/P2.framing.sleeve_inside", 94 * mm, false},
		{"p4q8/P1.post_tops.cap_size", 88 * mm, true},
		{"p4q8/P2.post_tops.cap_size", 89 * mm, false},
	} {
		if c := find(t, checklist.Generate(s), tt.id); *c.Nominal != tt.want || c.Built != tt.built {
			t.Errorf("%s: nominal %v built %t, want %v %t", tt.id, c.Nominal, c.Built, tt.want, tt.built)
		}
	}
}

// Ontario's lower height holds only where the drop has been given and allows it (9.8.8.3.(3), 1,800 mm inclusive).
func TestGenerateLowHeight(t *testing.T) {
	for _, tt := range []struct{ drop, want length.Length }{
		{0, 1070 * mm}, {1800 * mm, 900 * mm}, {1801 * mm, 1070 * mm},
	} {
		run := removableRun()
		run.Kind, run.DeckHeight = layout.Level, tt.drop
		c := find(t, checklist.Generate(source(t, "ontario-9.8", length.Millimetres, run, nil, nil)), "p4q8.caps.height_lowest")
		if len(c.Limits) != 1 || c.Limits[0].Value != tt.want {
			t.Errorf("drop %v: limits %+v, want %v", tt.drop, c.Limits, tt.want)
		}
	}
}

// Australia asks for the zone free of footholds over a drop of more than 4 m (Housing Provisions 11.3.4, from memory); where
// the drop was not given the check stays. Other rule sets name no drop.
func TestGenerateClimbZone(t *testing.T) {
	for _, tt := range []struct {
		set   string
		drop  length.Length
		asked bool
	}{
		{"australia-ncc-2022", 0, true}, {"australia-ncc-2022", 4000 * mm, false}, {"australia-ncc-2022", 4001 * mm, true},
		{"ontario-9.8", 700 * mm, true}, {"irc-2018", 5000 * mm, false},
	} {
		run := levelRun()
		run.DeckHeight = tt.drop
		checks := checklist.Generate(source(t, tt.set, length.Millimetres, run, nil, nil))
		if asked := slices.ContainsFunc(checks, func(c checklist.Check) bool { return c.Key == "infill.climb" }); asked != tt.asked {
			t.Errorf("%s, drop %v: asked for footholds %t, want %t", tt.set, tt.drop, asked, tt.asked)
		}
	}
}

func find(t testing.TB, checks []checklist.Check, id string) checklist.Check {
	t.Helper()
	i := slices.IndexFunc(checks, func(c checklist.Check) bool { return c.ID == id })
	if i < 0 {
		t.Fatalf("no check %s", id)
	}
	return checks[i]
}
