package checklist_test

import (
	"fmt"

	"newelbook/checklist"
	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

func ExampleEvaluate() {
	gap := checklist.Check{Ask: checklist.AskGap, Title: "Widest gap in the bay", Limits: []checklist.Limit{{
		Key: codes.OpeningLevel, Bound: codes.Under, Value: 4 * length.Inch, Clause: "R312.1.3", Edition: "2018 IRC", Standing: "official text",
	}}}
	for _, text := range []string{`3 3/4`, `3 15/16`, `4`} {
		reading, err := length.Parse(text, length.Inches)
		if err != nil {
			fmt.Println(err)
			return
		}
		result := checklist.Evaluate(gap, checklist.Answer{Length: &reading}, checklist.ToolTape, length.InchFraction)
		fmt.Printf("%s: %s\n", result.Verdict.Word(), result.Why)
	}
	fmt.Println(checklist.Evaluate(gap, checklist.Answer{}, checklist.ToolTape, length.InchFraction).Verdict.Word())
	// Output:
	// good: 3 3/4" is under 4" by 1/4" (R312.1.3, 2018 IRC, official text).
	// too close to call: 3 15/16" is under 4" by 1/16", no more than the tape's own doubt of 1/16": measure again with care, or try a gauge.
	// fails the limit: 4" is not under 4" (R312.1.3, 2018 IRC, official text).
	// not checked
}

func ExampleGenerate() {
	base, err := codes.Get("irc-2018")
	if err != nil {
		fmt.Println(err)
		return
	}
	rules, err := codes.Apply(base, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	run := layout.Run{ID: "k7d2", Label: "R1", Kind: layout.Level, Start: layout.EndFree, End: layout.EndFree, Length: 72 * length.Inch,
		LengthOver: layout.OverCentres, DeckHeight: 48 * length.Inch}
	spec := layout.DefaultSpec(length.Inches)
	sheet := layout.Compute(layout.Input{Run: run, Spec: spec, Rules: rules, Unit: length.Inches})
	for _, c := range checklist.Generate(checklist.Source{Run: run, Spec: spec, Layout: sheet, Rules: rules, Style: length.InchFraction}) {
		if c.Stage == checklist.Caps && c.Place.Kind == checklist.PlaceRun && len(c.Limits) > 0 {
			fmt.Printf("%s: %s\n", c.ID, c.Title)
		}
	}
	// Output:
	// k7d2.caps.height_start: Finished height at the datum end
	// k7d2.caps.height_end: Finished height at the far end
	// k7d2.caps.height_lowest: Finished height where it is least
}
