package layout

import (
	"fmt"
	"strings"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// Sections of a handrail. A recessed one is a larger rail with a finger recess on both sides.
const (
	GripRound    = "round"
	GripPlain    = "not round"
	GripRecessed = "finger recess"
)

// Grip is the section of what a hand holds along a flight, and the figures that it was held to.
type Grip struct {
	Name  string        `json:"name"`  // the separate handrail, the cap, the top rail
	Shape string        `json:"shape"` // GripRound and so on
	Wide  length.Length `json:"wide"`  // across; of a round one its diameter
	Deep  length.Length `json:"deep"`  // from top to bottom; of a round one its diameter
	// The recess of GripRecessed, on either side: where it starts below the top, how deep it goes, within what of the widest part it
	// is as deep as that, and over what height it stays so.
	RecessFrom   length.Length `json:"recess_from,omitempty"`
	RecessDepth  length.Length `json:"recess_depth,omitempty"`
	RecessWithin length.Length `json:"recess_within,omitempty"`
	RecessRun    length.Length `json:"recess_run,omitempty"`
	Tested       []Tested      `json:"tested"` // each size against each figure of the rule set
	Inside       bool          `json:"inside"` // of every figure that the rule set has, and it has one
}

// gripTest is one size of a grip and the figures on it.
type gripTest struct {
	what      string // as it follows the size in a sentence
	size      length.Length
	low, high string
}

// grip says whether a hand closes on what serves as the handrail, or on the top of the guard where nothing was said: a round one
// by its diameter, any other by the length around it and across it, a larger one by its finger recess.
func (w *work) grip() (words string, graspable bool, shape *Grip) {
	g, tests, missing := w.gripOf()
	if missing != "" {
		return missing, false, nil
	}
	g.Inside = true
	known := false
	var parts []string
	for _, t := range tests {
		var figures []string
		for _, key := range []string{t.low, t.high} {
			if lim := limitOf(w.in.Rules, key, w.style); lim.known {
				known = true
				inside := lim.passes(t.size)
				g.Inside = g.Inside && inside
				value, figure := lim.against(t.size, w.style)
				g.Tested = append(g.Tested, Tested{Key: key, What: upperFirst(t.what), Value: value, Figure: string(lim.figure.Bound) + " " + figure, Source: lim.figure.Source(), Inside: inside})
				figures = append(figures, fmt.Sprintf("%s %s (%s)", lim.figure.Bound, figure, lim.figure.Source()))
			}
		}
		part := w.text(t.size) + " " + t.what
		if len(figures) > 0 {
			part += ", figure " + strings.Join(figures, " and ")
		}
		parts = append(parts, part)
	}
	name := g.Name
	if g.Shape == GripRound {
		name += ", round,"
	}
	if !known {
		g.Inside = false
		return fmt.Sprintf("There is no figure in this rule set for the grip of a handrail; %s measures %s. Close a hand round it, and ask the authority.", name, strings.Join(parts, "; ")), false, &g
	}
	end := "It is inside the figures of a grip."
	switch {
	case g.Inside:
	case g.Shape == GripRecessed:
		end = "It is outside the figures of a grip with a finger recess."
	default:
		end = "It is outside the figures of a grip: it is no handrail unless it has a finger recess on both sides."
	}
	return fmt.Sprintf("%s measures %s. %s", upperFirst(name), strings.Join(parts, "; "), end), g.Inside, &g
}

// gripOf is what the hand holds and its sizes; missing says what is not given.
func (w *work) gripOf() (g Grip, tests []gripTest, missing string) {
	const unknown = "The size of the handrail is not given: close a hand round it on site."
	if w.run.Handrail != HandrailSeparate {
		g = Grip{Name: "the cap", Shape: GripPlain, Wide: w.spec.CapWidth, Deep: w.spec.CapThickness}
		if g.Deep <= 0 || w.spec.PostsAtCap == PostsThroughCap {
			g = Grip{Name: "the top rail", Shape: GripPlain, Wide: w.spec.RailThickness, Deep: w.spec.RailWidth}
			if w.spec.RailOrientation == RailFlat {
				g.Wide, g.Deep = g.Deep, g.Wide
			}
		}
		if g.Wide <= 0 || g.Deep <= 0 {
			return g, nil, unknown
		}
		return g, plainGrip(g, 0), ""
	}
	g = Grip{Name: "the separate handrail", Shape: w.run.HandrailShape, Wide: w.run.HandrailSize, Deep: w.run.HandrailDeep}
	if g.Wide <= 0 {
		return g, nil, unknown
	}
	switch g.Shape {
	case GripPlain, GripRecessed:
		if g.Deep <= 0 {
			return g, nil, "The depth of the handrail is not given: close a hand round it on site."
		}
	default:
		g.Shape, g.Deep = GripRound, g.Wide
		return g, []gripTest{{"across", g.Wide, codes.HandrailGripDiameterMin, codes.HandrailGripDiameterMax}}, ""
	}
	if g.Shape == GripPlain {
		return g, plainGrip(g, w.run.HandrailAround), ""
	}
	return w.recessed(g)
}

// plainGrip is the sizes of a grip that is not round; around is as measured, else that of square corners.
func plainGrip(g Grip, around length.Length) []gripTest {
	if around == 0 {
		around = 2 * (g.Wide + g.Deep)
	}
	return []gripTest{
		{"around", around, codes.HandrailGripPerimeterMin, codes.HandrailGripPerimeterMax},
		{"across", max(g.Wide, g.Deep), "", codes.HandrailGripSectionMax},
	}
}

// recessed is the sizes of a grip with a finger recess. One no longer around than the figure from which a recess is needed is held to the
// figures of any other that is not round.
func (w *work) recessed(g Grip) (Grip, []gripTest, string) {
	if len(w.run.HandrailRecess) != 4 || w.run.HandrailAround <= 0 {
		return g, nil, "The finger recess is not given in full: measure around the handrail, and where the recess starts, how deep it goes, within what of the widest part, and over what height."
	}
	r := w.run.HandrailRecess
	g.RecessFrom, g.RecessDepth, g.RecessWithin, g.RecessRun = r[0], r[1], r[2], r[3]
	if over := limitOf(w.in.Rules, codes.HandrailRecessPerimeter, w.style); over.known && !over.passes(w.run.HandrailAround) {
		return g, plainGrip(g, w.run.HandrailAround), ""
	}
	return g, []gripTest{
		{"around", w.run.HandrailAround, "", codes.HandrailRecessPerimeter},
		{"from the top to the recess", g.RecessFrom, "", codes.HandrailRecessStartMax},
		{"deep in the recess", g.RecessDepth, codes.HandrailRecessDepthMin, ""},
		{"below the widest part to that depth", g.RecessWithin, "", codes.HandrailRecessWithinMax},
		{"of height over which the recess keeps it", g.RecessRun, codes.HandrailRecessRunMin, ""},
		{"wide above the recess", g.Wide, codes.HandrailRecessTopMin, codes.HandrailRecessTopMax},
	}, ""
}
