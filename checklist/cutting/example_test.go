package cutting_test

import (
	"fmt"

	"newelbook/checklist/cutting"
	"newelbook/checklist/length"
)

// The rails and balusters of two invented bays out of stock of 8 and 12 ft.
func ExamplePlan() {
	const in, ft = length.Inch, length.Foot
	res := cutting.Plan(cutting.Input{
		Pieces: []cutting.Piece{
			{Label: "R1-B1 top", Length: 70 * in, Count: 1},
			{Label: "R1-B1 bottom", Length: 70 * in, Count: 1},
			{Label: "R1-B2 top", Length: 58*in + in/2, Count: 1},
			{Label: "R1-B2 balusters", Length: 32 * in, Count: 4},
		},
		Stock:   []cutting.Stock{{Length: 8 * ft}, {Length: 12 * ft}},
		Kerf:    in / 8,
		EndTrim: in / 4,
		Style:   length.InchFraction,
	})
	fmt.Println(res.Why)
	for _, b := range res.Boards {
		fmt.Printf("%s, %s left:\n", b.Stock.Format(length.InchFraction), b.Left.Format(length.InchFraction))
		for _, c := range b.Cuts {
			fmt.Printf("  %s from %s: %s\n", c.Length.Format(length.InchFraction), c.From.Format(length.InchFraction), c.Label)
		}
	}
	// Output:
	// 3 boards; 3 is the least possible.
	// 144", 3 1/4" left:
	//   70" from 1/4": R1-B1 bottom
	//   70" from 70 3/8": R1-B1 top
	// 144", 20 5/8" left:
	//   58 1/2" from 1/4": R1-B2 top
	//   32" from 58 7/8": R1-B2 balusters
	//   32" from 91": R1-B2 balusters
	// 96", 31 1/4" left:
	//   32" from 1/4": R1-B2 balusters
	//   32" from 32 3/8": R1-B2 balusters
}
