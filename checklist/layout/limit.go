package layout

import (
	"fmt"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// limit is one length of the rule set that a layout is tested against. The zero value is no figure: everything passes, and
// the layout says that it was not tested.
type limit struct {
	figure codes.AppliedFigure
	known  bool
	words  string // "under 4" (R312.1.3, ...)", for a sentence
}

// limitOf returns the rule set's length of that key.
func limitOf(rules codes.Applied, key string, style length.Style) limit {
	f, ok := rules.Figure(key)
	if !ok || f.Kind != codes.KindLength {
		return limit{words: "not given in this rule set"}
	}
	return limit{figure: f, known: true, words: fmt.Sprintf("%s %s (%s)", f.Bound, f.Value.FormatFigure(style), f.Source())}
}

// passes says whether a value keeps to the limit.
func (l limit) passes(value length.Length) bool {
	return !l.known || l.figure.Bound.Test(value, l.figure.Value)
}

// against shows a value in the fineness that tells it from the limit.
func (l limit) against(value length.Length, style length.Style) (text, lim string) {
	return value.FormatAgainst(l.figure.Value, style)
}

// defaultSpecies is the species of a new job.
const defaultSpecies = "western-redcedar"

// speciesChoices offers every species that the rules know.
func speciesChoices() []Choice {
	var choices []Choice
	for _, s := range codes.AllSpecies() {
		choices = append(choices, Choice{Value: s.Key, Label: s.Name})
	}
	return choices
}
