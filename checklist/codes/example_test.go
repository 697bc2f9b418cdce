package codes_test

import (
	"fmt"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

func ExampleApply() {
	base, err := codes.Get("irc-2018")
	if err != nil {
		fmt.Println(err)
		return
	}
	rules, err := codes.Apply(base, []codes.Amendment{{
		Key: codes.GuardHeightLevel, Value: "42 in", SaidBy: "R. Sample", Office: "Sample Town building office", On: "2026-03-14",
	}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, key := range []string{codes.GuardHeightLevel, codes.OpeningLevel, codes.ClimbZoneLow} {
		f, ok := rules.Figure(key)
		if !ok {
			fmt.Println(key, "has no figure in this rule set")
			continue
		}
		fmt.Printf("%s: %s %s (%s)\n", f.Title, f.Bound, f.Show(length.InchFraction), f.Source())
	}
	// Output:
	// Height of a level guard: at least 42" (said by R. Sample, Sample Town building office, 2026-03-14; the code: at least 36 in, R312.1.2, 2018 IRC, official text)
	// Opening in a level guard: under 4" (R312.1.3, 2018 IRC, official text)
	// climb.zone_low has no figure in this rule set
}

func ExampleGuardRequired() {
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
	_, why := codes.GuardRequired(rules, []codes.DropPoint{
		{Out: 0, Drop: 28 * length.Inch}, {Out: 30 * length.Inch, Drop: 33 * length.Inch},
	})
	fmt.Println(why)
	// Output: A guard is required: the drop 30" out is 33", and the figure is over 30" within 36" of the edge (R312.1.1, 2018 IRC, official text).
}
