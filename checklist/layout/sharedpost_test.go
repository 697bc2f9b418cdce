package layout_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// TestUnlikeSharedPost: a run whose own posts are 5 1/2 in and 42 in high starts at a post of 3 1/2 in for 36 1/2 in. By hand: its first opening
// begins 1 3/4 in from the datum and its last ends 2 3/4 in before 80 in; with one post of 5 1/2 in between, 70 in are left for two bays. The post
// stands 36 1/2 less a cap of 1 in high, and 5 1/2 in lower than the run needs it.
func TestUnlikeSharedPost(t *testing.T) {
	_, layouts := planned(t, `{"label": "R1", "length": 80}, {"label": "R2", "start_at": "R1", "turn": 90, "length": 80, "overrides": {"post_width": "5 1/2", "post_depth": "5 1/2", "cap_width": "7 1/2", "level_height": 42}}`)
	own, post, bay := layouts[0].Posts[2], layouts[1].Posts[0], layouts[1].Bays[0].Planned
	if post.SharedAs != own.Label || post.Face != -inch(1.75) || post.Width != inch(3.5) || post.Top != inch(35.5) || post.Top != own.Top || post.Cut != own.Cut {
		t.Errorf("%s stands as %+v, in R2 as %+v", own.Label, own, post)
	}
	if bay.ClearTop != inch(35) || layouts[1].Posts[1].Face != inch(36.75) || layouts[1].Posts[1].Top != inch(41) {
		t.Errorf("opening of %v, next post %+v", bay.ClearTop, layouts[1].Posts[1])
	}
	for _, words := range []string{
		`R1-P3 is 3 1/2" by 3 1/2", as R1 has it; the posts of this run are 5 1/2" by 5 1/2": it differs by 2". This run is laid out from the post as it stands.`,
		`The top of R1-P3 stands at 35 1/2", by R1; by this run it would stand at 41", so it is 5 1/2" too short for it.`,
	} {
		if len(told(layouts[1], words)) != 1 || len(told(layouts[0], words)) != 0 {
			t.Errorf("%q is told in %v", words, layouts[1].Problems)
		}
	}
}

// TestWhatOfASharedPostIsAskedAbout: what differs is named with how much; what does not, or does not matter, is not.
func TestWhatOfASharedPostIsAskedAbout(t *testing.T) {
	const sides, top, caps = "it differs by", "too short for it", "their undersides are not level"
	for _, tt := range []struct{ name, spec, join, over, want string }{
		{"alike", ``, `"turn": 90`, ``, ""},
		{"the same stock the other way round", `{"post_depth": "5 1/2"}`, `"turn": 90`, `"post_width": "5 1/2", "post_depth": "3 1/2"`, ""},
		{"one side", ``, `"turn": 90`, `"post_depth": "5 1/2"`, `it differs by 2" on its broad side`},
		{"a higher guard", ``, `"turn": 90`, `"level_height": 42`, `so it is 5 1/2" too short for it`},
		{"a lower guard", `{"level_height": 42}`, `"turn": 90`, `"level_height": "36 1/2"`, `so it is 5 1/2" too long for it`},
		{"a thicker cap", ``, `"turn": 90`, `"cap_thickness": "1 1/2"`, caps},
		{"at the first post", ``, `"turn": 90, "join": "first post"`, `"post_width": "5 1/2"`, sides},
		{"two posts", ``, `"turn": 90, "join": "doubled", "join_by": 8`, `"post_depth": "5 1/2", "level_height": 42`, ""},
		{"beyond an opening", ``, `"join": "opening", "join_by": 40`, `"post_depth": "5 1/2", "level_height": 42`, ""},
		{"a flight has heights of its own", ``, `"kind": "rake", "start": "stair head", "riser": 7, "tread": 11, "risers": 4`, `"stair_height": 40`, ""},
		{"a flight of other posts", ``, `"kind": "rake", "start": "stair head", "riser": 7, "tread": 11, "risers": 4`, `"post_width": "5 1/2"`, sides},
	} {
		first, over := `{"label": "R1", "length": 60}, `, ""
		if tt.spec != "" {
			first = `{"label": "R1", "length": 60, "overrides": ` + tt.spec + `}, `
		}
		if tt.over != "" {
			over = `, "overrides": {` + tt.over + `}`
		}
		length := `, "length": 60`
		if tt.join[1:5] == "kind" {
			length = ""
		}
		_, layouts := planned(t, first+`{"label": "R2", "start_at": "R1", `+tt.join+length+over+`}`)
		asked := 0
		for _, words := range []string{sides, top, caps, "too long for it"} {
			asked += len(told(layouts[1], words))
		}
		if (asked > 0) != (tt.want != "") || tt.want != "" && len(told(layouts[1], tt.want)) != 1 {
			t.Errorf("%s: %v", tt.name, layouts[1].Problems)
		}
	}
}

// TestSharedPostsAsTheyStand: the first opening of a run ends where its centre line meets the post that it shares, of the size that it has in the
// run that it belongs to and turned as that one has it, also where a third run starts there.
func TestSharedPostsAsTheyStand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		own := layout.DefaultSpec(length.Inches)
		own.PostWidth, own.PostDepth = sixteenths(t, "wide", 2, 8), sixteenths(t, "deep", 2, 8)
		turns := rapid.SliceOfN(rapid.IntRange(-170, 170), 2, 2).Draw(t, "turns")
		join := rapid.SampledFrom([]string{layout.JoinShared, layout.JoinFirst}).Draw(t, "join")
		runs := []layout.Run{{Label: "R1", Kind: layout.Level, Length: 96 * length.Inch}}
		for i, turn := range turns {
			r := layout.Run{Label: []string{"R2", "R3"}[i], Kind: layout.Level, Length: 60 * length.Inch, StartAt: "R1", Join: join, Turn: turn,
				Overrides: []layout.Override{{Key: "post_width", Text: "4"}, {Key: "post_depth", Text: "3"}}}
			if i == 1 && join == layout.JoinFirst {
				r.StartAt = "R2" // whose first post is that of the first run
			}
			runs = append(runs, r)
		}
		for i := range runs {
			runs[i].ID = runs[i].Label
		}
		layouts, err := layout.ComputeJob(layout.Job{Units: length.Inches, Rules: "irc-2018", Spec: own, Runs: runs})
		if err != nil {
			t.Fatal(err)
		}
		// Degrees that the post is turned from the first run: at its end halving the corner with the second one.
		stands, way := 0.0, 0
		if join == layout.JoinShared && turns[0]%90 != 0 {
			stands = float64(turns[0]) / 2
		}
		for i, l := range layouts[1:] {
			way += turns[i]
			if join == layout.JoinShared {
				way = turns[i]
			}
			out, _ := meetsPost(own.PostWidth.Inches(), own.PostDepth.Inches(), stands-float64(way))
			if post := l.Posts[0]; math.Abs((post.Face+post.Width).Inches()-out) > 1e-5 || math.Abs(l.Bays[0].Planned.ClearTop.Inches()-(60-out-2)) > 1e-5 {
				t.Fatalf("%s begins at %v, want %v; opening %v", l.Label, (post.Face + post.Width).Inches(), out, l.Bays[0].Planned.ClearTop.Inches())
			}
		}
	})
}

// TestSharedPostHasItsPiecesOnce: a post that two runs share is cut, blocked and sleeved once, with the run that it belongs to, however they join; the other run
// says whose it is. Two runs of two bays of 48 in have five posts.
func TestSharedPostHasItsPiecesOnce(t *testing.T) {
	const steel, wood = `, "sleeve_material": "steel", "sleeve_wall": "1/4"`, `, "sleeve_material": "wood"`
	for join, second := range map[string]string{
		"at a corner":       `"start_at": "R1", "turn": 90, "joists": "along"`,
		"straight on":       `"start_at": "R1", "turn": 0, "joists": "across", "first_joist": 8`,
		"at an angle":       `"start_at": "R1", "turn": 45, "joists": "across", "first_joist": 8`,
		"off a first post":  `"start_at": "R1", "join": "first post", "turn": 90, "joists": "along"`,
		"on from the first": `"start_at": "R1", "join": "first post", "turn": 180, "joists": "across", "first_joist": 8`,
	} {
		for mount, spec := range map[string]string{"bolted": "", "sleeve": steel, "sleeve of wood": wood, "base": ""} {
			over := fmt.Sprintf(`, "overrides": {"post_mount": %q%s}`, strings.TrimSuffix(mount, " of wood"), spec)
			_, layouts := planned(t, `{"label": "R1", "length": 96, "posts": ["0", "48", "96"], "joists": "across", "first_joist": 8`+over+`}, {"label": "R2", "length": 96, "posts": ["0", "48", "96"], `+second+over+`}`)
			count := map[string]int{}
			for _, l := range layouts {
				for _, p := range l.Pieces {
					count[p.What] += p.Count
				}
			}
			sleeves := map[string]int{"sleeve": count["steel sleeve"], "sleeve of wood": count["wood sleeve wall"] / 4}[mount]
			if want := map[string]int{"sleeve": 5, "sleeve of wood": 5}[mount]; count["post"] != 5 || sleeves != want {
				t.Errorf("%s, %s: %d posts and %d sleeves, want 5 and %d", join, mount, count["post"], sleeves, want)
			}
			shared := layouts[1].Posts[0]
			if len(shared.Blocking) > 0 || shared.Sleeve != nil && (len(shared.Sleeve.Holes) > 0 || !strings.HasPrefix(shared.Sleeve.Note, "Made and fixed with "+shared.SharedAs)) {
				t.Errorf("%s, %s: %s has blocking %v and sleeve %+v of its own", join, mount, shared.Label, shared.Blocking, shared.Sleeve)
			}
			if shared.SharedAs == "" || shared.Turned == 0 && !strings.Contains(shared.Joist, "Its blocking is that of "+shared.SharedAs) {
				t.Errorf("%s, %s: %s, %q", join, mount, shared.SharedAs, shared.Joist)
			}
		}
	}
}
