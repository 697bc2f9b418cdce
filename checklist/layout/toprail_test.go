package layout_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// TestTopMarksStandPlumb: by the geometry alone, with posts as lines that lean and rails hung between them, every member drawn from its mark
// on the bottom rail to its mark on the top rail is plumb within a grid, on the level and on a rake either way, with plumb and square ends.
func TestTopMarksStandPlumb(t *testing.T) {
	irc, ontario := rules(t, "irc-2018"), rules(t, "ontario-9.8")
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t, irc, ontario)
		d.in.Spec.RailRakeEnd = rapid.SampledFrom([]string{layout.EndPlumb, layout.EndSquare}).Draw(t, "ends")
		d.in.Run.Start, d.in.Run.End = layout.EndFree, layout.EndFree
		if d.in.Run.Kind == layout.Rake && rapid.Bool().Draw(t, "down") {
			d.in.Run.Start, d.in.Run.End = layout.EndStairHead, layout.EndStairFoot
		}
		d.in.Run.ClearOpening = sixteenths(t, "clear", 20, 60)
		lean, wider := sixteenths(t, "lean", -1, 1), sixteenths(t, "wider at the top", -1, 1)
		m := layout.Opening{Bottom: d.in.Run.ClearOpening, Top: d.in.Run.ClearOpening + wider}
		over := 48 * length.Inch
		if d.in.Unit == length.Millimetres {
			over = 1200 * length.Millimetre
		}
		h := layout.Compute(d.in).Heights
		shift := float64(lean) * float64(h.TopRailTop-h.BottomRailTop) / float64(over)
		if rapid.Bool().Draw(t, "read at the other post") {
			// The far post leans as the near one does, and by what the openings differ.
			far := length.Length(math.Round((shift + float64(wider)) * float64(over) / float64(h.TopRailTop-h.BottomRailTop)))
			m.LeanTo = &far
		} else {
			m.LeanFrom = &lean
		}
		d.in.Built = map[int]layout.Opening{1: m}
		l := layout.Compute(d.in)
		p := l.Bays[0].Built
		if p == nil || p.Infill.Count == 0 {
			return
		}
		top := p.Infill.TopMarks
		if top == nil {
			if wider != 0 || p.Top.Allowance != p.Bottom.Allowance || math.Abs(shift) > float64(d.grid)/2+2 {
				t.Fatalf("no marks of its own, with a lean of %v, an opening %v wider: %q", lean, wider, p.Infill.TopNote)
			}
			top = p.Infill.Marks
		}
		cos, tan := 1.0, 0.0
		if s := l.Stair; s != nil {
			tan = float64(s.Riser) / float64(s.Tread)
			cos = 1 / math.Hypot(1, tan)
		}
		// Where the datum end of a rail's top edge stands from the face at its height: half of what its length lacks, and on square
		// ends that face uphill the depth times the tangent more.
		from := func(r layout.Rail) float64 {
			at := float64(r.Allowance) + float64(r.Ideal-r.Cut)*cos/2
			if d.in.Spec.RailRakeEnd == layout.EndSquare && d.in.Run.Down() {
				at += float64(d.in.Spec.RailDepth()) * tan * cos
			}
			return at
		}
		for i, mark := range top {
			bottom := from(p.Bottom) + float64(p.Infill.Marks[i])*cos
			if off := shift + from(p.Top) + float64(mark)*cos - bottom; math.Abs(off) > float64(d.grid)+8 {
				t.Fatalf("member %d of %d leans %v over its height: bottom mark %v, top mark %v", i+1, len(top), length.Length(off), p.Infill.Marks[i], mark)
			}
		}
	})
}

// TestTopMarks: what the sheet says of a top rail that is cut otherwise than its bottom rail. Figures by hand: from the top of one rail to
// that of the other it is 29 in, so that a lean of 1/2 in over 4 ft is 0.302 in between them.
func TestTopMarks(t *testing.T) {
	half, none, other := inch(0.5), inch(0), inch(-0.5)
	for _, c := range []struct {
		name      string
		built     layout.Opening
		connector float64 // of the top rail
		own       bool
		shift     float64 // of the top marks towards the datum end, less what the rail's own end moved
		says      string
		problem   string
	}{
		{name: "equal openings, no lean read", built: layout.Opening{Bottom: inch(68), Top: inch(68)}},
		{name: "equal openings, both lean alike", built: layout.Opening{Bottom: inch(68), Top: inch(68), LeanFrom: &half, LeanTo: &half}, own: true, shift: 0.302, says: "R1-P1 leans"},
		{name: "wider at the top, the near post plumb", built: layout.Opening{Bottom: inch(68), Top: inch(68.25), LeanFrom: &none}, own: true, says: "R1-P1 is plumb"},
		{name: "wider at the top by the near post", built: layout.Opening{Bottom: inch(68), Top: inch(68.3125), LeanFrom: &other}, own: true, shift: -0.302, says: "towards the datum"},
		{name: "read at the far post alone", built: layout.Opening{Bottom: inch(68), Top: inch(68), LeanTo: &half}, own: true, shift: 0.302, says: "R1-P2 leans"},
		{name: "wider at the top, no lean read", built: layout.Opening{Bottom: inch(68), Top: inch(68.25)}, says: "the lean of R1-P1 along the run is not read: read it"},
		{name: "leans that the openings deny", built: layout.Opening{Bottom: inch(68), Top: inch(68), LeanFrom: &half, LeanTo: &other}, own: true, shift: 0.302, says: "R1-P1 leans", problem: "measure both again before the top rail is marked"},
		{name: "other connectors at the top", built: layout.Opening{Bottom: inch(68), Top: inch(68)}, connector: 0.5, own: true, shift: 0.5, says: "The connectors of the top rail take another amount"},
	} {
		t.Run(c.name, func(t *testing.T) {
			spec := layout.DefaultSpec(length.Inches)
			spec.ConnectorTop = inch(c.connector)
			run := layout.Run{Label: "R1", Kind: layout.Level, Length: inch(72)}
			l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: rules(t, "irc-2018"), Unit: length.Inches, Built: map[int]layout.Opening{1: c.built}})
			near(t, "rails apart", (l.Heights.TopRailTop - l.Heights.BottomRailTop).Inches(), 29, 1e-9)
			in := l.Bays[0].Built.Infill
			if (in.TopMarks != nil) != c.own || c.says == "" && in.TopNote != "" || !strings.Contains(in.TopNote, c.says) {
				t.Fatalf("own marks %v, %q; want %v and %q", in.TopMarks, in.TopNote, c.own, c.says)
			}
			for i, m := range in.TopMarks {
				near(t, "top mark from bottom mark", (in.Marks[i] - m).Inches(), c.shift, 0.16)
			}
			if got := problemAt(l, "built"); (got != "") != (c.problem != "") || !strings.Contains(got, c.problem) {
				t.Errorf("problem %q, want %q", got, c.problem)
			}
			strips := layout.Strips(l, l.Bays[0], run, spec)
			switch top, err := layout.FindStrip(l, run, spec, "R1-B1 top"); {
			case c.own && (err != nil || !slices.Equal(top.Marks, in.TopMarks) || top.Rail.Cut != l.Bays[0].Built.Top.Cut):
				t.Errorf("the top strip has %v, error %v; want %v", top.Marks, err, in.TopMarks)
			case !c.own && c.says != "" && (err == nil || !strings.Contains(err.Error(), c.says)):
				t.Errorf("the top strip is refused with %v, want %q", err, c.says)
			case !c.own && c.says == "" && (len(strips) != 2 || !slices.Equal(strips[1].Marks, in.Marks)):
				t.Errorf("the top rail is not marked as the bottom one: %v", strips)
			}
		})
	}
}

// TestTopGapsAreHeld: a gap that the lean of the datum post opens at the top counts. A bay whose gaps are just inside the limit at the
// bottom takes a member more where the post leans away from it.
func TestTopGapsAreHeld(t *testing.T) {
	spec := layout.DefaultSpec(length.Inches)
	spec.InfillGap = inch(3.9375)
	run := layout.Run{Label: "R1", Kind: layout.Level, Length: inch(72)}
	for _, c := range []struct {
		lean  float64
		count int
	}{{0, 10}, {-0.25, 11}, {0.25, 11}} {
		lean := inch(c.lean)
		clear := inch(10*0.75 + 11*3.90625) // eleven gaps of 3 29/32
		l := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: rules(t, "irc-2018"), Unit: length.Inches, Built: map[int]layout.Opening{1: {Bottom: clear, Top: clear, LeanFrom: &lean}}})
		if in := l.Bays[0].Built.Infill; in.Count != c.count {
			t.Errorf("with a lean of %v: %d members, the widest gap %v; want %d", c.lean, in.Count, in.Largest, c.count)
		}
	}
}

// TestLeanThatDecidesTheCount: an opening of 53 in with 11 balusters of 3/4 in has twelve gaps of 3.729 in; 7/16 in wider at the top its two end spaces have 7.896 in between
// them, so that one is 3.948 in or more and up to 4.167 in, and under 4 in is wanted: the lean decides. Once it is read nothing is asked, nor where no space can be over.
func TestLeanThatDecidesTheCount(t *testing.T) {
	const runs = `{"label": "R1", "length": "56 1/2", "length_over": "post centres"}], "built": [{"run": "R1", "bay": 1, "bottom": "53", "top": %s}`
	for _, tt := range []struct{ name, top, says string }{
		{"unread", `"53 7/16"`, `add up to 7 15/16", so that one of them is 3 31/32" or more and may be 4 3/16"; an opening is to be under 4"`},
		{"certain", `"54"`, `so that one of them is 4 1/4" or more; an opening`},
		{"within", `"53 3/16"`, ""},
		{"narrower", `"52 1/2"`, ""},
		{"read", `"53 7/16", "lean_from": "-7/16"`, ""},
	} {
		_, layouts := planned(t, fmt.Sprintf(runs, tt.top))
		got := told(layouts[0], "Read the lean of R1-P1 along the run before any baluster is cut")
		if len(got) > 1 || (len(got) == 1) != (tt.says != "") || len(got) == 1 && !strings.Contains(got[0].Sentence, tt.says) {
			t.Errorf("%s: %v", tt.name, got)
		}
	}
}

// TestWhyOneMoreForALean: an opening of 53 1/4 in takes 11 balusters of 3/4 in with gaps of 3.75 in, the design gap, and 12 with gaps of 3.404 in. Where its first post leans towards the
// datum by 3/4 in over 48 in, 0.453 in over the 29 in between the rails, the first gap at the top rail is wider by that, so that 12 do not do either, which is said to be the
// lean's doing and not the rounding's.
func TestWhyOneMoreForALean(t *testing.T) {
	_, layouts := planned(t, `{"label": "R1", "length": "56 3/4"}], "built": [{"run": "R1", "bay": 1, "bottom": "53 1/4", "top": "53 3/4", "lean_from": "-3/4", "lean_to": "0"}`)
	built := layouts[0].Bays[0].Built
	if why := strings.Join(built.Infill.Why, " "); built.Infill.Count != 13 || !strings.Contains(why, "11 balusters would be at the bottom rail; at the top rail a gap comes to 4 ") || !strings.Contains(why, `R1-P1 leans 0.453" towards the datum`) || strings.Contains(why, "rounding") {
		t.Errorf("%d balusters: %s", built.Infill.Count, why)
	}
}
