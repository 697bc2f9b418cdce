package layout

import (
	"fmt"
	"strings"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// Keys of the figures on uneven steps.
const (
	riserUniform   = codes.StairRiserUniform
	riserAdjacent  = codes.StairRiserUniformAdjacent
	riserVariation = codes.StairRiserVariation
	treadUniform   = codes.StairTreadUniform
	treadAdjacent  = codes.StairTreadUniformAdjacent
)

// Tested is one figure of the rule set that the stair was held to. It says what was found against which figure and approves
// nothing.
type Tested struct {
	Key    string `json:"key"`    // of the figure
	What   string `json:"what"`   // what was held to it, "The riser"
	Value  string `json:"value"`  // what it is
	Figure string `json:"figure"` // "at most 7 3/4""
	Source string `json:"source"` // clause, edition and standing
	Inside bool   `json:"inside"`
}

// Sentence says what was found against which figure.
func (t Tested) Sentence() string {
	word := "inside"
	if !t.Inside {
		word = "outside"
	}
	return fmt.Sprintf("%s is %s, %s the figure of %s (%s).", t.What, t.Value, word, t.Figure, t.Source)
}

// Name is what was held, for a table: without the comma that leads on to its value in a sentence.
func (t Tested) Name() string { return strings.TrimSuffix(t.What, ",") }

// test holds a length of the stair to the rule set's figure of that key, if it has one.
func (w *work) test(key, field, what string, value length.Length) {
	lim := limitOf(w.in.Rules, key, w.style)
	if !lim.known {
		w.untested(key)
		return
	}
	text, figure := lim.against(value, w.style)
	t := Tested{Key: key, What: what, Value: text, Figure: fmt.Sprintf("%s %s", lim.figure.Bound, figure), Source: lim.figure.Source(), Inside: lim.passes(value)}
	if !t.Inside {
		w.problem(w.run.Label, field, "%s is %s; the figure is %s.", what, text, lim.words)
	}
	w.out.Stair.Tested = append(w.out.Stair.Tested, t)
}

// testNumber is test for a figure that is not a length: text is the value as shown.
func (w *work) testNumber(key, field, what string, value float64, text string) {
	f, ok := w.in.Rules.Figure(key)
	if !ok || f.Kind == codes.KindLength {
		w.untested(key)
		return
	}
	t := Tested{Key: key, What: what, Value: text, Figure: fmt.Sprintf("%s %s", f.Bound, f.Text), Source: f.Source(), Inside: f.Bound.TestNumber(value, f.Number)}
	if !t.Inside {
		w.problem(w.run.Label, field, "%s is %s; the figure is %s (%s).", what, text, t.Figure, t.Source)
	}
	w.out.Stair.Tested = append(w.out.Stair.Tested, t)
}

// untestedNames are the figures of a stair in words, for saying that a rule set lacks them.
var untestedNames = map[string]string{
	codes.StairRiserMax: "the greatest riser", codes.StairRiserMin: "the least riser", codes.StairTreadMin: "the least tread", codes.StairTreadMax: "the greatest tread",
	codes.StairPitchMax: "the greatest pitch", codes.StairRelationMin: "the least of two risers and a tread", codes.StairRelationMax: "the greatest of two risers and a tread",
	codes.StairNosingMin: "the least nosing", codes.StairNosingMax: "the greatest nosing", codes.StairFlightRisersMax: "the risers in one flight",
	riserUniform: "uneven risers", riserAdjacent: "neighbouring risers", treadUniform: "uneven treads", treadAdjacent: "neighbouring treads",
	codes.HandrailHeightMin: "the least height of a handrail", codes.HandrailHeightMax: "the greatest height of a handrail",
}

// untested notes that the rule set has no figure of that key.
func (w *work) untested(key string) {
	if name := untestedNames[key]; name != "" {
		w.lacking = append(w.lacking, name)
	}
}

// sayUntested says once what the rule set has no figure for.
func (w *work) sayUntested() {
	if len(w.lacking) > 0 {
		w.say("Stair: this rule set has no figure for %s: ask the authority.", strings.Join(w.lacking, ", "))
	}
}

// stairFigures holds the steps to the rule set: riser, tread, pitch, two risers and a tread, nosing, length of the flight.
func (w *work) stairFigures(s *Stair) {
	w.test(codes.StairRiserMax, "riser", "The riser", s.Riser)
	w.test(codes.StairRiserMin, "riser", "The riser", s.Riser)
	w.test(codes.StairTreadMin, "tread", "The tread", s.Tread)
	w.test(codes.StairTreadMax, "tread", "The tread", s.Tread)
	w.testNumber(codes.StairPitchMax, "tread", "The pitch", s.Angle, fmt.Sprintf("%.2f degrees", s.Angle))
	w.test(codes.StairRelationMin, "tread", "Two risers and a tread", s.StepSum)
	w.test(codes.StairRelationMax, "tread", "Two risers and a tread", s.StepSum)
	w.nosing(s)
	if s.Risers > 0 {
		w.testNumber(codes.StairFlightRisersMax, "risers", "The number of risers in the flight", float64(s.Risers), fmt.Sprint(s.Risers))
	}
	w.uneven(s)
}

// nosing holds the nosing's projection to the rule set, or asks for it where the tread is short enough to need one.
func (w *work) nosing(s *Stair) {
	needed := true
	if f, ok := w.in.Rules.Figure(codes.StairNosingTread); ok {
		needed = !f.Bound.Test(s.Tread, f.Value)
	}
	if s.Nosing > 0 {
		if needed {
			w.test(codes.StairNosingMin, "nosing", "The nosing", s.Nosing)
		}
		w.test(codes.StairNosingMax, "nosing", "The nosing", s.Nosing)
		return
	}
	if lim := limitOf(w.in.Rules, codes.StairNosingMin, w.style); lim.known && needed {
		s.Asks = append(s.Asks, fmt.Sprintf("Measure the projection of the nosings: none is entered, and for a tread of %s the figure is %s.", w.text(s.Tread), lim.words))
	}
}
