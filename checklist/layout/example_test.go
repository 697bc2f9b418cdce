package layout_test

import (
	"fmt"
	"strings"

	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// A job description is read, laid out run by run, and its marks shown.
func ExampleReadJob() {
	job, faults := layout.ReadJob(strings.NewReader(`{
		"units": "in", "rules": "irc-2018",
		"spec": {"infill_width": "1 1/2", "connector_top": 0, "connector_bottom": 0},
		"runs": [{"length": "6'"}]
	}`))
	if len(faults) > 0 {
		fmt.Println(faults)
		return
	}
	layouts, err := layout.ComputeJob(job)
	if err != nil {
		fmt.Println(err)
		return
	}
	infill := layouts[0].Bays[0].Planned.Infill
	fmt.Println(infill.Count, "balusters, gap", infill.Gap.FormatFine(length.InchFraction))
	for _, mark := range infill.Marks[:3] {
		fmt.Println(mark.Format(length.InchFraction))
	}
	// Output:
	// 13 balusters, gap 3.500"
	// 4 1/4"
	// 9 1/4"
	// 14 1/4"
}

// One run is laid out from its description, the specification and the rule set.
func ExampleCompute() {
	base, err := codes.Get("irc-2018")
	if err != nil {
		fmt.Println(err)
		return
	}
	applied, err := codes.Apply(base, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	run := layout.DefaultRun(layout.Level, length.Inches)
	run.Label, run.Length = "R1", 150*length.Inch
	l := layout.Compute(layout.Input{Run: run, Spec: layout.DefaultSpec(length.Inches), Rules: applied, Unit: length.Inches})
	for _, p := range l.Posts {
		fmt.Println(p.Label, p.Centre.Format(length.InchFraction))
	}
	// Output:
	// R1-P1 0"
	// R1-P2 50"
	// R1-P3 100"
	// R1-P4 150"
}

func ExampleLeastCount() {
	clear, member, gap := 72*length.Inch, 3*length.Inch/2, 4*length.Inch
	n := layout.LeastCount(clear, member, gap)
	fmt.Println(n, layout.EqualGap(clear, member, n).Format(length.InchFraction))
	// Output: 13 3 3/4"
}
