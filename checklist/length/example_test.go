package length_test

import (
	"errors"
	"fmt"

	"newelbook/checklist/length"
)

func ExampleParse() {
	for _, text := range []string{`41 3/8`, `3'-5 3/8"`, `1050.925 mm`} {
		l, err := length.Parse(text, length.Inches)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(l.Format(length.InchFraction), "=", l.Format(length.FeetInches), "=", l.Format(length.Metric))
	}
	// Output:
	// 41 3/8" = 3' 5 3/8" = 1050.93 mm
	// 41 3/8" = 3' 5 3/8" = 1050.93 mm
	// 41 3/8" = 3' 5 3/8" = 1050.93 mm
}

func ExampleParse_refused() {
	_, err := length.Parse("forty-one", length.Inches)
	var refused *length.Error
	if errors.As(err, &refused) {
		fmt.Println(refused.Sentence())
	}
	// Output: Enter a length such as 41 3/8 or 3' 5 3/8".
}

func ExampleLength_Round() {
	ideal := 61 * length.Inch / 17
	fmt.Println(ideal.Round(length.Inch / 16).Format(length.InchFraction))
	fmt.Println(ideal.RoundDown(length.Inch / 16).Format(length.InchFraction))
	// Output:
	// 3 9/16"
	// 3 9/16"
}

func ExampleLength_FormatAgainst() {
	limit := 4 * length.Inch
	gap := limit + length.Inch/250
	value, lim := gap.FormatAgainst(limit, length.InchFraction)
	fmt.Printf("%s, limit %s\n", value, lim)
	// Output: 4.004", limit 4.000"
}

func ExampleMulDiv() {
	// The third of 26 equal centres in 102 3/8 in, from the datum.
	run := 102*length.Inch + 24*length.SixtyFourth
	fmt.Println(length.MulDiv(run, 3, 26).Format(length.InchFraction))
	// Output: 11 13/16"
}
