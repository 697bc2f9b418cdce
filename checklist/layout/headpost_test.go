package layout_test

import (
	"slices"
	"strings"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// headJob is a level run of 72 in along the deck's edge, with a flight of 6 by 8 (rake 0.75) that goes out from its last post, square to it; the
// posts are bolted inside a rim of 1 1/2 in. up says that the flight is described from its foot, and the level run goes on from its head.
func headJob(t *testing.T, up bool, change func(level, rake *layout.Run, spec *layout.Spec)) (level, rake layout.Layout) {
	t.Helper()
	spec := layout.DefaultSpec(length.Inches)
	spec.LevelHeight, spec.StairHeight, spec.PostMaxCentres, spec.Decking = inch(36), inch(36), inch(96), inch(1)
	spec.CapThickness, spec.CapWidth, spec.CapOverhang, spec.JoistWidth, spec.RakeBottom = inch(1), inch(5.5), inch(1), inch(1.5), 0
	a := layout.Run{ID: "a", Label: "R1", Kind: layout.Level, Length: inch(72), End: layout.EndStairHead}
	b := layout.Run{ID: "b", Label: "R2", Kind: layout.Rake, Start: layout.EndStairHead, StartAt: "R1", End: layout.EndStairFoot, Turn: 90, Riser: inch(6), Tread: inch(8), Risers: 6, Nosing: inch(1)}
	if up {
		a.Start, a.End, a.StartAt, a.Turn = layout.EndStairHead, layout.EndFree, "R2", 90
		b.Start, b.End, b.StartAt, b.Turn = layout.EndStairFoot, layout.EndStairHead, "", 0
	}
	change(&a, &b, &spec)
	runs := []layout.Run{a, b}
	if up {
		slices.Reverse(runs)
	}
	layouts, err := layout.ComputeJob(layout.Job{Units: length.Inches, Rules: "irc-2018", Spec: spec, Runs: runs})
	if err != nil {
		t.Fatal(err)
	}
	if up {
		slices.Reverse(layouts)
	}
	return layouts[0], layouts[1]
}

// headOf is the post at the head of a flight.
func headOf(l layout.Layout, up bool) layout.Post {
	if up {
		return l.Posts[len(l.Posts)-1]
	}
	return l.Posts[0]
}

// TestHeadNosing: a head post bolted inside the rim stands behind it, and the top nosing in front of it by rim, half the post and the nosing
// projection: 1 1/2, 1 3/4 and 1 make 4 1/4 in. Its downhill face is then 2 1/2 in behind the nosing, 1.875 in under the nosing line at 6 by 8.
// What is entered otherwise is taken, and what the framing cannot be is said.
func TestHeadNosing(t *testing.T) {
	const asks, problem = "it is not given", "cannot be behind the rim's outer face, which is 3 1/4\""
	for _, c := range []struct {
		name     string
		change   func(level, rake *layout.Run, spec *layout.Spec)
		up       bool
		downhill float64 // the nosing line over the landing at the head post's downhill face
		says     string  // what is asked or said; empty for nothing
		expects  string
	}{
		{"not given", func(_, _ *layout.Run, _ *layout.Spec) {}, false, 1.875, asks, `4 1/4", the rim's 1 1/2" and 1 3/4" from there to the post's centre and a nosing of 1"`},
		{"not given, from the foot", func(_, _ *layout.Run, _ *layout.Spec) {}, true, 1.875, asks, `4 1/4"`},
		{"not given, no nosing", func(_, b *layout.Run, _ *layout.Spec) { b.Nosing = 0 }, false, 1.125, asks, `3 1/4"`},
		{"as expected", func(_, b *layout.Run, _ *layout.Spec) { b.NosingFrom = inch(4.25) }, false, 1.875, "", ""},
		{"no overhang", func(_, b *layout.Run, _ *layout.Spec) { b.NosingFrom = inch(3.25) }, false, 1.125, "", ""},
		{"further out", func(_, b *layout.Run, _ *layout.Spec) { b.NosingFrom = inch(6) }, false, 3.1875, "", ""},
		{"behind the rim's face", func(_, b *layout.Run, _ *layout.Spec) { b.NosingFrom = inch(2) }, false, 0.1875, problem, `4 1/4"`},
		{"behind the rim's face, from the foot", func(_, b *layout.Run, _ *layout.Spec) { b.Length = inch(40) }, true, -1.3125, problem, `4 1/4"`},
		{"on a base", func(_, _ *layout.Run, s *layout.Spec) { s.PostMount = layout.MountBase }, false, -1.3125, "", ""},
		{"there already", func(a, _ *layout.Run, _ *layout.Spec) { a.PostsAre = layout.PostsExisting }, false, -1.3125, "", ""},
		// A tube of 1/4 in round 3 1/2 in with 1/4 in of play is 4 1/4 in wide outside.
		{"in a sleeve", func(_, _ *layout.Run, s *layout.Spec) {
			s.PostMount, s.SleeveMaterial, s.SleeveWall, s.SleeveClearance, s.SleeveSwelling = layout.MountSleeve, layout.SleeveSteel, inch(0.25), inch(0.25), 0
		}, false, (1.5 + 2.125 + 1 - 1.75) * 0.75, asks, `4 5/8"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, l := headJob(t, c.up, c.change)
			near(t, "nosing line at the downhill face", headOf(l, c.up).Stand.Downhill.Line.Inches(), c.downhill, 1e-6)
			var said []string
			for _, ask := range l.Stair.Asks {
				if strings.Contains(ask, asks) {
					said = append(said, ask)
				}
			}
			for _, p := range l.Problems {
				if strings.Contains(p.Sentence, "rim's outer face") {
					said = append(said, p.Sentence)
				}
			}
			if c.says == "" {
				if len(said) > 0 {
					t.Errorf("it says %q", said)
				}
				return
			}
			if len(said) != 1 || !strings.Contains(said[0], c.says) || !strings.Contains(said[0], c.expects) {
				t.Errorf("it says %q, want %q and %q", said, c.says, c.expects)
			}
		})
	}
}

// TestHeadRail: at the head the bottom rail passes over the rim and the decking, and is lowest at the deck's edge: on the nosing line it just
// clears; with the nosing taken 2 in in front of the centre of a post inside a rim of 1 1/2 in, it is 3 1/4 less 2 in, times 0.75, below.
func TestHeadRail(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(level, rake *layout.Run, spec *layout.Spec)
		want   string
	}{
		{"on the nosing line", func(_, b *layout.Run, _ *layout.Spec) { b.NosingFrom = inch(4.25) }, ""},
		{"above it", func(_, b *layout.Run, s *layout.Spec) { b.NosingFrom, s.RakeBottom = inch(4.25), inch(0.5) }, ""},
		{"below it", func(_, b *layout.Run, s *layout.Spec) { b.NosingFrom, s.RakeBottom = inch(4.25), inch(-0.5) }, `run into the decking at the head: its underside comes to 1/2" below the decking at the deck's edge, 2 1/2" in front`},
		{"a nosing behind the rim", func(_, b *layout.Run, _ *layout.Spec) { b.NosingFrom = inch(2) }, `run into the decking at the head: its underside comes to 15/16" below the decking at the deck's edge, 1 1/2" in front`},
		{"the same, into the rim", func(_, b *layout.Run, s *layout.Spec) { b.NosingFrom, s.RakeBottom = inch(2), inch(-0.25) }, `run into decking and rim at the head: its underside comes to 1 3/16"`},
		{"in front of a post on a base", func(_, b *layout.Run, s *layout.Spec) { s.PostMount = layout.MountBase }, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, l := headJob(t, false, c.change)
			var got string
			for _, p := range l.Problems {
				if strings.Contains(p.Sentence, "upper end of the bottom rail") {
					got = p.Sentence
				}
			}
			if !strings.Contains(got, c.want) || c.want == "" && got != "" {
				t.Errorf("it says %q, want %q", got, c.want)
			}
		})
	}
}
