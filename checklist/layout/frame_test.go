package layout_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// ends says where the end joists of a run's frame begin and end: "near-far", a dash for none.
func ends(l layout.Layout) string {
	one := func(j *layout.Joist) string {
		if j == nil {
			return "-"
		}
		return j.Near.FormatBare(length.InchFraction) + " to " + j.Far.FormatBare(length.InchFraction)
	}
	if l.Frame == nil {
		return "none"
	}
	return one(l.Frame.Start) + ", " + one(l.Frame.End)
}

// TestFrameEnds: joists of 1 1/2 in at 16 in and posts of 3 1/2 in, unless the case has it otherwise. At a square corner the end joist
// stands against the outer face of the corner's post, 1 3/4 in past its centre; of a corner of two posts, against the outer face of the other
// one; at a wall, against the wall; and elsewhere the joists go on (plane geometry). At a
// run alongside the joists what stands there is the rim that they end at. Blocking of an end post fills the space that is left.
func TestFrameEnds(t *testing.T) {
	const first = `{"label": "R1", "start": "wall", "end": "corner", "length": 144, "joists": "across", "first_joist": 6}`
	for _, tt := range []struct {
		name, runs string
		run, post  int
		ends       string
		blocking   string // of the post
		stands     string // part of what is said of it
	}{
		{"square corner", first + `, {"label": "R2", "start_at": "R1", "turn": 90, "length": 72, "joists": "along"}`, 0, 3,
			"0 to 1 1/2, 145 3/4 to 147 1/4", "2 of 11 between joist 9 and the end joist, behind the post", `7 1/2" clear of joist 9 and against the face of the end joist`},
		{"its other run has no pieces of its own", first + `, {"label": "R2", "start_at": "R1", "turn": 90, "length": 72, "joists": "along"}`, 1, 1,
			"-3 1/4 to -1 3/4, -", "", `11" clear of that one, by the joists under R1. Its blocking is that of R1-P3.`},
		{"along an edge whose outer bay another run leaves", first + `, {"label": "R2", "start_at": "R1", "turn": 90, "length": 72, "joists": "along"}`, 1, 2,
			"-3 1/4 to -1 3/4, -", "2 of 11 between the outer joist and the next, one each side of the post", `11" clear of that one, by the joists under R1.`},
		{"straight on beyond an opening", first + `, {"label": "R2", "start_at": "R1", "turn": 90, "length": 72, "joists": "along"}, {"label": "R3", "start_at": "R2", "join": "opening", "join_by": 40, "length": 60, "joists": "along"}`, 2, 1,
			"-, -", "2 of 11 between the outer joist and the next, one each side of the post", `by the joists under R1.`},
		{"the next run's joists tell", `{"label": "R1", "start": "wall", "end": "corner", "length": 144, "joists": "along"}, {"label": "R2", "start_at": "R1", "turn": 90, "length": 72, "joists": "across", "first_joist": 10}`, 0, 3,
			"-, 145 3/4 to 147 1/4", "2 of 11 between the outer joist and the next, both on the datum side of the post, away from the corner", `11" clear of that one, by the joists under R2.`},
		{"the next run's own first joist ends the frame", `{"label": "R1", "start": "wall", "end": "corner", "length": 144, "joists": "along"}, {"label": "R2", "start_at": "R1", "turn": 90, "length": 72, "joists": "across", "first_joist": "-2 1/2"}`, 0, 3,
			"-, 145 3/4 to 147 1/4", "2 of 14 1/2 between the outer joist and the next, both on the datum side of the post, away from the corner", `14 1/2" clear of that one, by the joists under R2.`},
		{"nothing tells the outer bay", `{"label": "R1", "start": "wall", "length": 144, "joists": "along"}`, 0, 1,
			"-, -", "2 of 14 1/2 between the outer joist and the next, one each side of the post", `if its bay is a full one: measure it.`},
		{"corner to the left, deck on the left", `{"label": "R1", "start": "wall", "end": "corner", "length": 144, "joists": "across", "first_joist": 6}, {"label": "R2", "start_at": "R1", "turn": -90, "length": 72, "joists": "along"}`, 0, 3,
			"0 to 1 1/2, 145 3/4 to 147 1/4", "2 of 11 between joist 9 and the end joist, behind the post", ""},
		{"an inside corner: the frame goes on", first + `, {"label": "R2", "start_at": "R1", "turn": 90, "length": 72}, {"label": "R3", "start_at": "R2", "turn": 90, "length": 60, "joists": "across", "first_joist": 2}, {"label": "R4", "start_at": "R3", "turn": -90, "length": 60}`, 2, 2,
			"-3 1/4 to -1 3/4, -", "2 of 14 1/2 between joist 4 and joist 5, behind the post", ""},
		{"an angle: nothing is known past it", first + `, {"label": "R2", "start_at": "R1", "turn": 45, "length": 72}`, 0, 3, "0 to 1 1/2, -", "", "clear of joist 9. Towards the corner, which is not square, none is known, and so no blocking"},
		{"an angle, before it", first + `, {"label": "R2", "start_at": "R1", "turn": 45, "length": 72}`, 0, 2, "0 to 1 1/2, -", "2 of 14 1/2 between joist 6 and joist 7, behind the post", ""},
		{"corner of two posts, each 4 in back", first + `, {"label": "R2", "start_at": "R1", "join": "doubled", "join_by": 4, "turn": 90, "length": 72}`, 0, 3,
			"0 to 1 1/2, 149 3/4 to 151 1/4", "", "Its bolts run in at the height of those of the other post of the corner with R2"},
		{"free end", `{"label": "R1", "start": "wall", "length": 144, "joists": "across", "first_joist": 6}`, 0, 3, "0 to 1 1/2, -", "2 of 14 1/2 between joist 9 and joist 10, behind the post", ""},
		{"last joist given", `{"label": "R1", "start": "wall", "length": 144, "joists": "across", "first_joist": 6, "last_joist": 147}`, 0, 3,
			"0 to 1 1/2, 146 1/4 to 147 3/4", "2 of 11 1/2 between joist 9 and the end joist, behind the post", `the end joist, 1/2" clear`},
		{"last joist where the post stands", `{"label": "R1", "start": "wall", "length": 144, "joists": "across", "first_joist": 6, "last_joist": 145}`, 0, 3,
			"0 to 1 1/2, 144 1/4 to 145 3/4", "1 of 9 1/2 between joist 9 and the end joist", `Clashes with the end joist: 1 1/2" back towards the datum would clear its face, at 144 1/4"`},
		{"wall at the far end", `{"label": "R1", "start": "corner", "end": "wall", "length": 140, "joists": "across", "first_joist": 10}`, 0, 1,
			"-3 1/4 to -1 3/4, 138 1/2 to 140", "2 of 11 between the end joist and joist 1, behind the post", `against the face of the end joist and 7 1/2" clear of joist 1`},
		{"first joist at the wall", `{"label": "R1", "start": "wall", "length": 144, "joists": "across", "first_joist": "3/4"}`, 0, 3, "-, -", "2 of 14 1/2 one each side of joist 10", "Clashes with joist 10"},
		{"free end before the first joist", `{"label": "R1", "length": 144, "joists": "across", "first_joist": 8}`, 0, 1, "-, -", "", `5 1/2" clear of joist 1. None is known on its other side`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, layouts := planned(t, tt.runs)
			l := layouts[tt.run]
			if got := ends(l); got != tt.ends {
				t.Errorf("end joists %s, want %s", got, tt.ends)
			}
			p := l.Posts[tt.post-1]
			var blocking []string
			for _, b := range p.Blocking {
				blocking = append(blocking, fmt.Sprintf("%d of %s %s", b.Count, b.Length.FormatBare(length.InchFraction), b.Place))
			}
			if got := strings.Join(blocking, "; "); got != tt.blocking {
				t.Errorf("blocking of %s: %s, want %s", p.Label, got, tt.blocking)
			}
			if !strings.Contains(p.Joist, tt.stands) {
				t.Errorf("%s: %s, want it to say %q", p.Label, p.Joist, tt.stands)
			}
		})
	}
}

// TestJoistsDisagree: at a square corner the joists meet the one edge end on and run along the other, and on one straight edge they are
// alike; where the description has it otherwise the run is asked for by name, and both are laid out.
func TestJoistsDisagree(t *testing.T) {
	for _, tt := range []struct{ second, want string }{
		{`"turn": 90, "joists": "across"`, "Joists meet both R1 and this run end on"},
		{`"turn": 90, "joists": "along"`, ""},
		{`"turn": 90`, ""},
		{`"turn": 45, "joists": "across"`, ""},
		{`"turn": 0, "join": "opening", "join_by": 40, "joists": "along"`, "R1 and this run stand on one straight edge"},
		{`"turn": 0, "join": "opening", "join_by": 40, "joists": "across"`, ""},
	} {
		_, layouts := planned(t, `{"label": "R1", "end": "corner", "length": 96, "joists": "across", "first_joist": -4}, {"label": "R2", "start_at": "R1", "length": 72, `+tt.second+`}`)
		got := told(layouts[1], "look which of the two")
		if len(got) != 0 != (tt.want != "") || tt.want != "" && !strings.Contains(got[0].Sentence, tt.want) {
			t.Errorf("%s: %v, want %q", tt.second, got, tt.want)
		}
		if len(layouts[1].Posts) == 0 {
			t.Errorf("%s: nothing is laid out", tt.second)
		}
	}
}

// TestBaseOverJoists: a post on a surface base stands over the framing, so a joist under it is no clash, and the base is blocked on both
// sides of it.
func TestBaseOverJoists(t *testing.T) {
	run := layout.Run{Kind: layout.Level, Length: inch(96), Posts: []length.Length{inch(48)}, Joists: layout.JoistsAcross, FirstJoist: 0}
	p := computed(t, run, func(s *layout.Spec) { s.PostMount = layout.MountBase }).Posts[1]
	if p.JoistClsh || p.Joist != "Its base stands over joist 4." || len(p.Blocking) != 1 || p.Blocking[0].Count != 6 || len(p.Blocked) != 2 {
		t.Errorf("%q, clash %v, blocking %v in %v", p.Joist, p.JoistClsh, p.Blocking, p.Blocked)
	}
	run.FirstJoist = inch(8)
	if p = computed(t, run, func(s *layout.Spec) { s.PostMount = layout.MountBase }).Posts[1]; !strings.HasPrefix(p.Joist, "Its base stands between joist 3") {
		t.Errorf("between joists: %q", p.Joist)
	}
}

// TestFrameProperties: of any run the joists stand in order and clear of one another, none past the ends of the frame; every piece of
// blocking is as long as the space that it goes into, up to the grid, and no joist stands in that space, which both its ends touch.
func TestFrameProperties(t *testing.T) {
	irc := rules(t, "irc-2018")
	rapid.Check(t, func(t *rapid.T) {
		spec := layout.DefaultSpec(length.Inches)
		spec.JoistSpacing = sixteenths(t, "spacing", 6, 24)
		spec.PostMount = rapid.SampledFrom([]string{layout.MountBolted, layout.MountSleeve, layout.MountBase}).Draw(t, "mount")
		kinds := []layout.EndKind{layout.EndWall, layout.EndFree, layout.EndCorner}
		run := layout.Run{Label: "R1", Kind: layout.Level, Length: sixteenths(t, "length", 24, 300), Joists: layout.JoistsAcross,
			Start: rapid.SampledFrom(kinds).Draw(t, "start"), End: rapid.SampledFrom(kinds).Draw(t, "end"),
			FirstJoist: sixteenths(t, "first", -20, 40)}
		if rapid.Bool().Draw(t, "last given") {
			run.LastJoist = run.Length + sixteenths(t, "last", -20, 20)
		}
		l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: irc, Unit: length.Inches, Joint: layout.NewJoints([]layout.Run{run}, spec, length.Inches).Of(run, nil)})
		far := run.Length + 400*length.Inch
		joists := layout.Joists(run, spec, l.Frame, -far, far)
		for i := 1; i < len(joists); i++ {
			if joists[i].Near < joists[i-1].Far {
				t.Fatalf("%s from %v to %v and %s from %v to %v overlap", joists[i-1].Name(), joists[i-1].Near, joists[i-1].Far, joists[i].Name(), joists[i].Near, joists[i].Far)
			}
		}
		if f := l.Frame; f.End != nil && joists[len(joists)-1] != *f.End || f.Start != nil && joists[0] != *f.Start {
			t.Fatalf("joists go on past an end of the frame: %v", joists)
		}
		for _, p := range l.Posts {
			pieces := 0
			for _, b := range p.Blocking {
				pieces += b.Count
			}
			for n, s := range p.Blocked {
				b := p.Blocking[min(n, len(p.Blocking)-1)]
				if gap := s.To - s.From; b.Length > gap || gap-b.Length >= spec.Grid {
					t.Fatalf("%s: blocking of %v for a space of %v", p.Label, b.Length, gap)
				}
				starts, stops := false, false
				for _, j := range joists {
					if j.Near < s.To && j.Far > s.From {
						t.Fatalf("%s: %s from %v to %v stands in the space from %v to %v", p.Label, j.Name(), j.Near, j.Far, s.From, s.To)
					}
					starts, stops = starts || j.Far == s.From, stops || j.Near == s.To
				}
				if !starts || !stops {
					t.Fatalf("%s: the space from %v to %v is not between joists: %v", p.Label, s.From, s.To, joists)
				}
			}
			if pieces < len(p.Blocked) || len(p.Blocked) == 0 && pieces > 0 {
				t.Fatalf("%s: %d pieces of blocking for %d spaces", p.Label, pieces, len(p.Blocked))
			}
			// The clear distance by every joist there is, apart from what is less than can be marked.
			near, end := p.Footprint()
			nearest := far
			for _, j := range joists {
				nearest = min(nearest, max(j.Near-end, near-j.Far))
			}
			clash := nearest < 0 && !layout.Touches(nearest, spec.Grid) // it may clash with two, and either is told
			if spec.PostMount != layout.MountBase && (p.JoistClsh != clash || !clash && !layout.Touches(nearest, spec.Grid) && p.JoistGap != nearest) {
				t.Fatalf("%s at %v: %v clear, want %v (%s; joists %v)", p.Label, p.Centre, p.JoistGap, nearest, p.Joist, joists)
			}
		}
	})
}

// TestCornerBolts: the post of a square corner between two runs is bolted both ways, the second pair one and a half diameters nearer the
// middle; with 1/2 in bolts 2 1/8 in from the edges of 9 1/4 in framing that is at 2 7/8 in. A corner of two posts, one that nothing goes on from
// and one that is not square have one pair; shallow framing that has no room for a second says so.
func TestCornerBolts(t *testing.T) {
	const first = `{"label": "R1", "end": "corner", "length": 96, "deck_height": 48}`
	for _, tt := range []struct {
		name, runs string
		corner     string // from the top: upper, lower
		other      string // of the first post of R2
	}{
		{"two runs", first + `, {"label": "R2", "start_at": "R1", "turn": 90, "length": 72}`, "2 7/8 6 3/8", "2 7/8 6 3/8"},
		{"two posts", first + `, {"label": "R2", "start_at": "R1", "turn": 90, "join": "doubled", "length": 72}`, "", "2 1/8 7 1/8"},
		{"not square", first + `, {"label": "R2", "start_at": "R1", "turn": 45, "length": 72}`, "", ""},
		{"nothing goes on", first + `, {"label": "R2", "length": 72}`, "", "2 1/8 7 1/8"},
		{"two off one post", `{"label": "R1", "start": "corner", "length": 96, "deck_height": 48}, {"label": "R2", "start_at": "R1", "join": "first post", "turn": 90, "length": 72}`, "2 7/8 6 3/8", "2 7/8 6 3/8"},
	} {
		_, layouts := planned(t, tt.runs)
		places := func(bolts []layout.Bolt) string {
			var all []string
			for _, b := range bolts {
				if b.FromTop+b.FromBottom != inch(9.25) {
					t.Errorf("%s: %v and %v do not make up the framing", tt.name, b.FromTop, b.FromBottom)
				}
				all = append(all, b.FromTop.FormatBare(length.InchFraction))
			}
			return strings.Join(all, " ")
		}
		post := layouts[0].Posts[len(layouts[0].Posts)-1]
		if strings.Contains(tt.runs, layout.JoinFirst) {
			post = layouts[0].Posts[0]
		}
		if got := places(post.Corner); got != tt.corner {
			t.Errorf("%s: second pair at %q, want %q", tt.name, got, tt.corner)
		}
		if got := places(layouts[1].Posts[0].Bolts); got != tt.other {
			t.Errorf("%s: R2-P1 at %q, want %q", tt.name, got, tt.other)
		}
		screens := 0
		for _, s := range layouts[0].Screens {
			if strings.Contains(s.What, "second pair") {
				screens++
				// 200 lb at 36 1/2 in, 1 in of decking and 6 3/8 in down, over 3 1/2 in between the bolts (moments about the lower bolt).
				near(t, "tension of the second pair", s.Value, 200*(36.5+1+6.375)/3.5, 0.01)
			}
		}
		if screens != 0 != (tt.corner != "") {
			t.Errorf("%s: %d screens of a second pair", tt.name, screens)
		}
	}
	_, layouts := planned(t, `{"label": "R1", "end": "corner", "length": 96, "overrides": {"joist_depth": "5 1/2"}}, {"label": "R2", "start_at": "R1", "turn": 90, "length": 72}`)
	if got := told(layouts[0], "no room in framing"); len(got) != 1 || got[0].Place != "R1-P3" {
		t.Errorf("framing of 5 1/2 in: %v", got)
	}
}

// TestFirstJoistNotGiven: at a square corner the row then begins against the corner's post: joists of 1 1/2 in at 16 in stand at -2 1/2 and
// 13 1/2 in, and the run alongside finds a full bay of 14 1/2 in.
func TestFirstJoistNotGiven(t *testing.T) {
	_, layouts := planned(t, `{"label": "R1", "start": "wall", "end": "corner", "length": 96, "joists": "along"}, {"label": "R2", "start_at": "R1", "turn": 90, "length": 72, "joists": "across"}`)
	run := layout.Run{Joists: layout.JoistsAcross}
	joists := layout.Joists(run, layout.DefaultSpec(length.Inches), layouts[1].Frame, inch(-10), inch(20))
	if len(joists) != 2 || joists[0].Centre != inch(-2.5) || joists[1].Centre != inch(13.5) || joists[0].Number != 1 {
		t.Errorf("joists %v, want the first two at -2 1/2 and 13 1/2 in", joists)
	}
	if p := layouts[1].Posts[0]; p.JoistClsh || !strings.Contains(p.Joist, `against the face of joist 1`) {
		t.Errorf("the corner's post: %s", p.Joist)
	}
	if p := layouts[0].Posts[0]; !strings.Contains(p.Joist, `14 1/2" clear of that one, by the joists under R2`) {
		t.Errorf("the run alongside: %s", p.Joist)
	}
}

// TestBaysDisagree: where the runs at both ends of an edge alongside the joists make something else of its bay, it is asked for.
func TestBaysDisagree(t *testing.T) {
	for first, want := range map[string]int{`"-2 1/2"`: 1, `10`: 0} { // R1 leaves 11 in, and from -1 3/4 to 9 1/4 is 11 in too
		_, layouts := planned(t, `{"label": "R1", "start": "wall", "end": "corner", "length": 144, "joists": "across", "first_joist": 6}, {"label": "R2", "start_at": "R1", "turn": 90, "end": "corner", "length": 72, "joists": "along"},
			{"label": "R3", "start_at": "R2", "turn": 90, "end": "wall", "length": 144, "joists": "across", "first_joist": `+first+`}`)
		if got := told(layouts[1], "measure it, and enter the first joist of both"); len(got) != want {
			t.Errorf("first joist at %s: %v, want %d", first, got, want)
		}
	}
}

// TestLastJoistInThePost: a last joist that stands inside a square corner's post is asked about.
func TestLastJoistInThePost(t *testing.T) {
	for last, want := range map[string]int{"121 1/2": 1, "122 1/2": 0, "124": 0} { // the post of 120 in reaches 121 3/4
		_, layouts := planned(t, `{"label": "R1", "end": "corner", "length": 120, "joists": "across", "first_joist": -4, "last_joist": "`+last+`"}`)
		if got := told(layouts[0], "stands inside the corner's post"); len(got) != want {
			t.Errorf("last joist at %s: %v, want %d", last, got, want)
		}
	}
}

// TestCornerOfBroadPosts: posts of 3 1/2 in along and 5 1/2 in across their runs stand with their outer faces 2 3/4 in from the centre line, and the
// framing of the other run stands against those: 122 3/4 in from a datum 120 in away, 1 in clear of the corner's own post. The second pair of
// bolts goes through 3 1/2 in of post, 1 in of packing, 1 1/2 in of rim and two diameters of 1/2 in: 7 in.
func TestCornerOfBroadPosts(t *testing.T) {
	job := func(wide, deep string) []layout.Layout {
		job, faults := layout.ReadJob(strings.NewReader(`{"units": "in", "rules": "irc-2018", "spec": {"post_width": "` + wide + `", "post_depth": "` + deep + `"}, "runs": [
			{"label": "R1", "end": "corner", "length": 120, "joists": "across", "first_joist": -4}, {"label": "R2", "start_at": "R1", "turn": 90, "length": 72, "joists": "along"}]}`))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		layouts, err := layout.ComputeJob(job)
		if err != nil {
			t.Fatal(err)
		}
		return layouts
	}
	l := job("3 1/2", "5 1/2")[0]
	p := l.Posts[len(l.Posts)-1]
	if l.Frame.End.Near != inch(122.75) || p.Corner[0].Length != inch(7) || !strings.Contains(p.Joist, `Pack out the 1" between`) {
		t.Errorf("framing from %v, second pair of %v: %s", l.Frame.End.Near, p.Corner[0].Length, p.Joist)
	}
	// The other way round the second pair goes through 5 1/2 in of post, which stands 1 in where the other run's framing is to be.
	l = job("5 1/2", "3 1/2")[0]
	p = l.Posts[len(l.Posts)-1]
	if l.Frame.End.Near != inch(121.75) || p.Corner[0].Length != inch(8) || !p.JoistClsh {
		t.Errorf("framing from %v, second pair of %v: %s", l.Frame.End.Near, p.Corner[0].Length, p.Joist)
	}
}
