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
	// Height of a level guard: at least 42" (said by R. Sample, Sample Town building office, 14 Mar 2026; the code: at least 36 in, R312.1.2, 2018 IRC, official text)
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
	}, length.InchFraction)
	fmt.Println(why)
	// Output: A guard is required: the drop 30" out is 33", and the figure is over 30" within 36" of the edge (R312.1.1, 2018 IRC, official text).
}

func ExampleCompare() {
	var rules []codes.Applied
	for _, id := range []string{"ontario-9.8", "nbc-2020"} {
		base, err := codes.Get(id)
		if err != nil {
			fmt.Println(err)
			return
		}
		applied, err := codes.Apply(base, nil)
		if err != nil {
			fmt.Println(err)
			return
		}
		rules = append(rules, applied)
	}
	for _, d := range codes.Compare(rules[0], rules[1]) {
		switch {
		case d.A == nil:
			fmt.Printf("%s: only in the second, %s %s\n", d.Title, d.B.Bound, d.B.Text)
		case d.B == nil:
			fmt.Printf("%s: only in the first, %s %s\n", d.Title, d.A.Bound, d.A.Text)
		default:
			fmt.Printf("%s: %s %s against %s %s\n", d.Title, d.A.Bound, d.A.Text, d.B.Bound, d.B.Text)
		}
	}
	// Output:
	// Round grip, greatest diameter: only in the second, at most 43 mm
	// Round grip, least diameter: only in the second, at least 30 mm
	// Grip that is not round, greatest perimeter: only in the second, at most 125 mm
	// Grip that is not round, least perimeter: only in the second, at least 100 mm
	// Grip that is not round, greatest size across: only in the second, at most 45 mm
	// Greatest height of a handrail: only in the second, at most 1070 mm
	// Least height of a handrail: only in the second, at least 865 mm
	// Handrail clear of the wall: only in the second, at least 50 mm
	// Opening in a level guard: at most 100 mm against under 100 mm
	// Opening in a guard along a stair: at most 100 mm against under 100 mm
	// Triangle of riser, tread and bottom rail: at most 100 mm against under 100 mm
	// Opening under the bottom rail: at most 100 mm against under 100 mm
	// Opening in a guard that is not required, if it stops a child: at most 100 mm against under 100 mm
	// Risers in a flight that call for a handrail: only in the second, over 3
}
