package codes_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"newelbook/checklist/codes"
)

// topic is something that a job of guards may ask a code about, and the figures that answer it: one of them is enough.
type topic struct {
	name string
	keys []string
}

// topics lists what every rule set is asked about, in the order of a job.
func topics() []topic {
	return []topic{
		{"guard required: drop", []string{codes.GuardTriggerDrop}},
		{"guard required: distance out", []string{codes.GuardTriggerZone}},
		{"guard required: slope of the ground", []string{codes.GuardTriggerSlope}},
		{"guard height: level", []string{codes.GuardHeightLevel}},
		{"guard height: level, low deck", []string{codes.GuardHeightLevelLow}},
		{"guard height: stair", []string{codes.GuardHeightStair}},
		{"guard height: top as handrail", []string{codes.GuardHandrailTopMin}},
		{"guard height: landing", []string{codes.GuardHeightLanding}},
		{"opening: level", []string{codes.OpeningLevel}},
		{"opening: stair", []string{codes.OpeningStair}},
		{"opening: triangle", []string{codes.OpeningTriangle}},
		{"opening: under the bottom rail", []string{codes.OpeningUnderRail}},
		{"opening: rope or cable", []string{codes.OpeningRope}},
		{"opening: open risers", []string{codes.OpeningOpenRiser, codes.StairOpenRisers}},
		{"climbing: zone or rule", []string{codes.ClimbZoneLow, codes.ClimbRule}},
		{"stair: greatest riser", []string{codes.StairRiserMax}},
		{"stair: least riser", []string{codes.StairRiserMin}},
		{"stair: least tread", []string{codes.StairTreadMin}},
		{"stair: greatest tread", []string{codes.StairTreadMax}},
		{"stair: two risers and a tread", []string{codes.StairRelationMax}},
		{"stair: pitch", []string{codes.StairPitchMax}},
		{"stair: even risers", []string{codes.StairRiserUniform}},
		{"stair: even treads", []string{codes.StairTreadUniform}},
		{"stair: nosing", []string{codes.StairNosingMax}},
		{"handrail: when required", []string{codes.StairHandrailRisers}},
		{"handrail: height", []string{codes.HandrailHeightMin}},
		{"handrail: grip", []string{codes.HandrailGripPerimeterMax}},
		{"handrail: clear of the wall", []string{codes.HandrailWallClearanceMin}},
		{"load: on the top, at a point", []string{codes.LoadGuardPoint}},
		{"load: on the top, along it", []string{codes.LoadGuardLine}},
		{"load: direction", []string{codes.LoadGuardDirection, codes.LoadGuardVertical}},
		{"load: infill", []string{codes.LoadInfillPoint, codes.LoadInfillUniform}},
		{"post: notching", []string{codes.PostNotch4x4}},
		{"post: path of the load", []string{codes.PostLoadPath, codes.PostSideMounted}},
		{"post: bolts from the edge", []string{codes.BoltEdgeMin}},
		{"fasteners: treated wood", []string{codes.FastenerTreated, codes.FastenerMechanicalZinc}},
		{"fasteners: near salt water", []string{codes.FastenerCoastalZone}},
	}
}

const coverageHead = `What each rule set can be asked, so that a gap is seen.

official    the figure was seen in the text itself
secondary   it was seen quoted elsewhere
memory      it is recalled and was not seen: confirm it before relying on it
-           the rule set has no figure: its code is silent, or it was not read; nothing is judged, and the sheet says so

The figures of practice that stand beside every rule set (bolts from the edge, hold-down, centres of posts) are not counted here.
`

// Every rule set by every topic. A change of a cell is a change of what the program can be asked in a place; the lists under
// the table are what a person looks up by hand there.
func TestCoverage(t *testing.T) {
	var out bytes.Buffer
	out.WriteString(coverageHead)
	heads := []string{"irc18", "irc21", "irc24", "ibc21", "wisc", "calif", "exist", "nbc", "ont", "eng", "ire", "aus", "nz"}
	if len(heads) != len(codes.IDs()) {
		t.Fatalf("%d columns for %d rule sets", len(heads), len(codes.IDs()))
	}
	line := func(name string, cells []string) {
		text := fmt.Sprintf("%-38s", name)
		for _, c := range cells {
			text += fmt.Sprintf("%-10s", c)
		}
		fmt.Fprintln(&out, strings.TrimRight(text, " "))
	}
	fmt.Fprintln(&out)
	line("", heads)
	sets := codes.All()
	lacks := make([][]string, len(sets))
	for _, topic := range topics() {
		var cells []string
		for i, set := range sets {
			cell := "-"
			for _, key := range topic.keys {
				if f, found := set.Figure(key); found {
					cell, _, _ = strings.Cut(string(f.Standing), " ")
					break
				}
			}
			if cell == "-" {
				lacks[i] = append(lacks[i], topic.name)
			}
			cells = append(cells, cell)
		}
		line(topic.name, cells)
	}
	fmt.Fprintln(&out, "\nWhat each lacks")
	for i, set := range sets {
		fmt.Fprintf(&out, "  %s (%d of %d topics): %s\n", set.ID, len(lacks[i]), len(topics()), orNone(lacks[i]))
	}
	golden(t, "coverage.golden", out.Bytes())
}

func orNone(list []string) string {
	if len(list) == 0 {
		return "nothing of these"
	}
	return strings.Join(list, "; ")
}

// A topic that no rule set answers is a slip of its keys.
func TestEveryTopicIsAnswered(t *testing.T) {
	for _, topic := range topics() {
		answered := false
		for _, set := range codes.All() {
			for _, key := range topic.keys {
				if _, found := set.Figure(key); found {
					answered = true
				}
			}
		}
		if !answered {
			t.Errorf("no rule set answers %q", topic.name)
		}
	}
}
