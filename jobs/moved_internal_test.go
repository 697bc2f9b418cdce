package jobs

import (
	"testing"

	"newelbook/checklist"
	"newelbook/checklist/length"
)

func TestMoved(t *testing.T) {
	at := func(nominal, tol length.Length) checklist.Check {
		return checklist.Check{Nominal: &nominal, Plus: tol, Minus: tol, HasTol: true}
	}
	limited := at(100, 5)
	limited.Limits = []checklist.Limit{{Key: "a", Value: 7}}
	two, three := 2, 3
	for name, c := range map[string]struct {
		then, now checklist.Check
		want      bool
	}{
		"nothing":                              {at(100, 5), at(100, 5), false},
		"a nominal by its tolerance":           {at(100, 5), at(105, 5), false},
		"a nominal by more":                    {at(100, 5), at(94, 5), true},
		"a tolerance":                          {at(100, 5), at(100, 4), true},
		"a limit":                              {at(100, 5), limited, true},
		"a nominal that is gone":               {at(100, 5), checklist.Check{Plus: 5, Minus: 5, HasTol: true}, true},
		"a moisture by what it was entered as": {checklist.Check{Moist: &checklist.Moist{Dry: 190}}, checklist.Check{Moist: &checklist.Moist{Dry: 190, Wet: true}}, true},
		"the same moisture":                    {checklist.Check{Moist: &checklist.Moist{Dry: 190}}, checklist.Check{Moist: &checklist.Moist{Dry: 190}}, false},
		"what it may be taken from":            {checklist.Check{}, checklist.Check{Others: []checklist.Otherwise{{From: checklist.FromPostTop}}}, false},
		"a count":                              {checklist.Check{Count: &two}, checklist.Check{Count: &three}, true},
		"an observation":                       {checklist.Check{}, checklist.Check{}, false},
	} {
		if got := moved(c.then, c.now); got != c.want {
			t.Errorf("%s: moved = %v, want %v", name, got, c.want)
		}
	}
}
