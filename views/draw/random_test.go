package draw_test

import (
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/views/draw"
)

// ruleSets are the rule sets that random runs are laid out under, by unit.
func ruleSets(t testing.TB) map[length.Unit]codes.Applied {
	t.Helper()
	sets := map[length.Unit]codes.Applied{}
	for unit, id := range map[length.Unit]string{length.Inches: "irc-2018", length.Millimetres: "ontario-9.8"} {
		base, err := codes.Get(id)
		if err != nil {
			t.Fatal(err)
		}
		if sets[unit], err = codes.Apply(base, nil); err != nil {
			t.Fatal(err)
		}
	}
	return sets
}

// sixteenths draws a length in whole sixteenths of an inch; least and most are counted in inches.
func sixteenths(t *rapid.T, name string, least, most int) length.Length {
	return length.Length(rapid.IntRange(least*16, most*16).Draw(t, name)) * length.Inch / 16
}

// oneOf draws one of some values.
func oneOf[V any](t *rapid.T, name string, values ...V) V {
	return rapid.SampledFrom(values).Draw(t, name)
}

// aRun draws a level run in either unit, on any framing, its stock sensible.
func aRun(t *rapid.T, sets map[length.Unit]codes.Applied) layout.Input {
	unit := oneOf(t, "unit", length.Inches, length.Millimetres)
	spec := layout.DefaultSpec(unit)
	spec.PostWidth = oneOf(t, "post", spec.PostWidth, 140*length.Millimetre, 5*length.Inch+length.Inch/2)
	spec.PostDepth = oneOf(t, "deep", spec.PostWidth, spec.PostDepth)
	spec.InfillWidth = oneOf(t, "member", length.Inch*3/4, 38*length.Millimetre, length.Inch*3/2, 19*length.Millimetre)
	spec.InfillGap = oneOf(t, "gap", 2*length.Inch, length.Inch*15/4, 95*length.Millimetre)
	spec.InfillMode = oneOf(t, "mode", layout.EqualGaps, layout.FixedCentres)
	spec.RailOrientation = oneOf(t, "rail", layout.RailOnEdge, layout.RailFlat)
	spec.ConnectorTop, spec.ConnectorBottom = sixteenths(t, "top", 0, 1), sixteenths(t, "bottom", 0, 1)
	spec.PostMaxCentres = sixteenths(t, "centres", 30, 96)
	run := layout.DefaultRun(layout.Level, unit)
	run.ID, run.Label, run.Length = "r", "R1", sixteenths(t, "length", 24, 240)+length.Length(rapid.IntRange(0, 3).Draw(t, "odd"))
	run.Start = oneOf(t, "start", layout.EndFree, layout.EndWall, layout.EndCorner)
	run.End = oneOf(t, "end", layout.EndFree, layout.EndWall, layout.EndCorner)
	run.LengthOver = oneOf(t, "over", layout.OverCentres, layout.OverFaces)
	return layout.Input{Run: run, Spec: spec, Rules: sets[unit], Unit: unit}
}

// framed draws how the posts of a run are held.
func framed(t *rapid.T, in *layout.Input) {
	run, spec := &in.Run, &in.Spec
	run.Joists = oneOf(t, "joists", "", layout.JoistsAcross, layout.JoistsAlong)
	run.FirstJoist = sixteenths(t, "first joist", 0, 16)
	spec.JoistSpacing = oneOf(t, "spacing", 12*length.Inch, 16*length.Inch, 24*length.Inch, 400*length.Millimetre)
	spec.JoistDepth = oneOf(t, "joist", 7*length.Inch+length.Inch/4, 9*length.Inch+length.Inch/4, 11*length.Inch+length.Inch/4, 235*length.Millimetre)
	spec.Decking = sixteenths(t, "decking", 1, 2)
	spec.PostMount = oneOf(t, "mount", layout.MountBolted, layout.MountSleeve, layout.MountBase)
	spec.BaseStandOffGiven, spec.BaseStandOff = true, sixteenths(t, "stand-off", 0, 2)
	spec.BoltTop, spec.BoltBottom = sixteenths(t, "upper bolt", 1, 3), sixteenths(t, "lower bolt", 1, 3)
	spec.BoltDiameter = oneOf(t, "bolt", length.Inch/2, length.Inch*5/8, 12*length.Millimetre)
	spec.HoldDown = oneOf(t, "hold-down", "", "an invented hold-down, 1,800 lb")
	spec.SleeveMaterial = oneOf(t, "sleeve", layout.SleeveSteel, layout.SleeveWood)
	spec.SleeveWall = oneOf(t, "wall", length.Inch/4, 6*length.Millimetre, length.Inch+length.Inch/2)
	spec.SleeveClearance = sixteenths(t, "clearance", 0, 1)
}

// raked makes a run the guard of a flight, up or down, half of the time.
func raked(t *rapid.T, in *layout.Input) {
	if !rapid.Bool().Draw(t, "rake") {
		return
	}
	run := &in.Run
	run.Kind, run.Length, run.Riser, run.Tread, run.Risers = layout.Rake, 0, sixteenths(t, "riser", 5, 8), sixteenths(t, "tread", 9, 13), rapid.IntRange(3, 12).Draw(t, "risers")
	run.Start, run.End = layout.EndStairFoot, layout.EndStairHead
	if rapid.Bool().Draw(t, "down") {
		run.Start, run.End = run.End, run.Start
	}
	in.Spec.RailRakeEnd = oneOf(t, "rail ends", layout.EndPlumb, layout.EndSquare)
}

// withinPaper holds every item to the sheet.
func withinPaper(t rapid.TB, s draw.Sheet) {
	t.Helper()
	for _, it := range s.Items {
		var all []draw.Point
		switch v := it.(type) {
		case draw.Line:
			all = []draw.Point{v.A, v.B}
		case draw.Outline:
			all = v.Points
		case draw.Circle:
			all = []draw.Point{{X: v.Centre.X - v.Radius, Y: v.Centre.Y - v.Radius}, {X: v.Centre.X + v.Radius, Y: v.Centre.Y + v.Radius}}
		}
		for _, p := range all {
			if p.X < 0 || p.Y < 0 || p.X > s.Width || p.Y > s.Height {
				t.Errorf("%T at %v leaves the sheet of %.1f by %.1f", it, p, s.Width, s.Height)
			}
		}
	}
}

// TestRandomDetails: of any run, the framing detail of every post letters what the layout has, text clear of text and all on the sheet,
// and draws every bolt, every piece of blocking and every hole of a sleeve at its own place and size.
func TestRandomDetails(t *testing.T) {
	sets := ruleSets(t)
	rapid.Check(t, func(t *rapid.T) {
		in := aRun(t, sets)
		framed(t, &in)
		l := layout.Compute(in)
		width := oneOf(t, "width", 105.0, 170, 182)
		for _, p := range l.Posts {
			o := draw.DetailOptions{Width: width, Style: in.Unit.Style(), Run: in.Run, Spec: in.Spec}
			s := draw.Detail(l, p, o)
			textsApart(t, s)
			withinPaper(t, s)
			if s.Width > o.Width {
				t.Errorf("%s: sheet is %.1f wide on %g of paper at %s", p.Label, s.Width, o.Width, s.Scale)
			}
			detailSays(t, p, s, o)
			for _, says := range onLines(s) {
				t.Error(says)
			}
			detailBolts(t, p, s, o)
			detailBlocking(t, p, s, o)
			detailHoles(t, p, s, o)
		}
	})
}

// TestRandomStrips: of any run, level or raked, every rail's strip bears each of its marks at its place to scale, lettered clear of each other.
func TestRandomStrips(t *testing.T) {
	sets := ruleSets(t)
	rapid.Check(t, func(t *rapid.T) {
		in := aRun(t, sets)
		raked(t, &in)
		l := layout.Compute(in)
		width, brief := oneOf(t, "width", 110.0, 170, 182), rapid.Bool().Draw(t, "brief")
		for _, group := range layout.Alike(l) {
			for _, s := range layout.Strips(l, group[0], in.Run, in.Spec) {
				stripIsTrue(t, s, draw.StripOptions{Width: width, Style: in.Unit.Style(), Names: s.Rail.Label, Brief: brief})
			}
		}
	})
}

// TestRandomFullStrips: the same at full size, over the sheets of either paper.
func TestRandomFullStrips(t *testing.T) {
	sets := ruleSets(t)
	rapid.Check(t, func(t *rapid.T) {
		in := aRun(t, sets)
		raked(t, &in)
		l := layout.Compute(in)
		o := draw.FullStripOptions{Paper: oneOf(t, "paper", draw.FullA4, draw.FullLetter), Style: in.Unit.Style(), Job: "Job S-1", Layout: l.Label + ", layout v1, planned"}
		for _, group := range layout.Alike(l) {
			for _, s := range layout.Strips(l, group[0], in.Run, in.Spec) {
				sheets := draw.FullStrip(s, o)
				for _, sheet := range sheets {
					textsApart(t, sheet)
					withinPaper(t, sheet)
				}
				fullStripIsTrue(t, s, o, sheets)
			}
		}
	})
}
