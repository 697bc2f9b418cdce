package layout

import (
	"fmt"

	"newelbook/checklist/length"
)

// Uneven is how far the risers or the treads of a flight differ. Steps are numbered from the foot; zeros where fewer than
// two are known.
type Uneven struct {
	Spread   length.Length `json:"spread"`   // the greatest less the smallest
	High     int           `json:"high"`     // number of the greatest
	Low      int           `json:"low"`      // number of the smallest
	Adjacent length.Length `json:"adjacent"` // the greatest difference between neighbours
	Pair     int           `json:"pair"`     // the lower of those two neighbours
}

// Uniformity returns how far the values differ, the lowest step first. Of several alike the lowest is named.
func Uniformity(values []length.Length) Uneven {
	var u Uneven
	if len(values) < 2 {
		return u
	}
	u.High, u.Low, u.Pair = 1, 1, 1
	for i, v := range values {
		if v > values[u.High-1] {
			u.High = i + 1
		}
		if v < values[u.Low-1] {
			u.Low = i + 1
		}
		if i == 0 {
			continue
		}
		if d := (v - values[i-1]).Abs(); d > u.Adjacent {
			u.Adjacent, u.Pair = d, i
		}
	}
	u.Spread = values[u.High-1] - values[u.Low-1]
	return u
}

// total adds lengths up.
func total(values []length.Length) length.Length {
	var sum length.Length
	for _, v := range values {
		sum += v
	}
	return sum
}

// risers lists every riser of the flight from the foot: as measured, or alike but for what a landing at the foot takes off
// the first. It is nil where they are taken to be alike.
func (w *work) risers(s *Stair) []length.Length {
	if len(w.run.RisersMeasured) > 1 {
		return w.run.RisersMeasured
	}
	if w.run.LandingHeight == 0 || s.Risers < 2 || s.Risers > mostCount {
		return nil
	}
	all := make([]length.Length, s.Risers)
	for i := range all {
		all[i] = s.Riser
	}
	all[0] -= w.run.LandingHeight
	return all
}

// stepsFit holds the figures of a flight against each other: risers and treads as measured, their number and the total rise.
func (w *work) stepsFit(s *Stair) {
	r := w.run
	// Each step is read to the grid, so that many of them may be out by half of it each.
	slack := func(n int) length.Length { return length.Length(min(n, mostCount)) * (w.spec.Grid + 1) / 2 }
	if made := length.Length(s.Risers) * r.Riser; r.Riser > 0 && r.TotalRise > 0 && (made-r.TotalRise).Abs() > slack(s.Risers) {
		w.problem(r.Label, "risers", "%s of %s make %s, not the total rise of %s: measure both again, or correct the number of risers. The rake is laid out from the riser and the tread.",
			upperFirst(plural(s.Risers, "riser")), w.text(r.Riser), w.text(made), w.text(r.TotalRise))
	}
	if n := len(r.RisersMeasured); n > 0 {
		if n != s.Risers {
			w.problem(r.Label, "risers_measured", "%s are given one by one, and the flight has %d: measure every riser, the first and the last included.", upperFirst(plural(n, "riser")), s.Risers)
		} else if sum := total(r.RisersMeasured); (sum - s.TotalRise).Abs() > slack(n) {
			w.problem(r.Label, "total_rise", "The risers as measured add up to %s, and the layout has a total rise of %s: measure both again.", w.text(sum), w.text(s.TotalRise))
		}
	}
	if n := len(r.TreadsMeasured); n > 0 {
		mean := ratio{int64(total(r.TreadsMeasured)), int64(n)}.nearest()
		if n != s.Treads {
			w.problem(r.Label, "treads_measured", "%s are given one by one, and %s has %d: measure every tread from nosing to nosing.", upperFirst(plural(n, "tread")), "a flight of "+plural(s.Risers, "riser"), s.Treads)
		}
		if (mean - s.Tread).Abs() > w.spec.Grid {
			w.problem(r.Label, "tread", "The treads as measured average %s, and the tread run is %s: the rake is laid out from the tread run, so enter the average there.", w.text(mean), w.text(s.Tread))
		}
	}
}

// uneven holds the differences between the steps to the rule set and names the worst pair.
func (w *work) uneven(s *Stair) {
	risers := w.risers(s)
	s.RiserUneven, s.TreadUneven = Uniformity(risers), Uniformity(w.run.TreadsMeasured)
	field := "risers_measured"
	if len(w.run.RisersMeasured) < 2 {
		field = "landing_height"
	}
	for _, u := range []struct {
		one, field            string
		values                []length.Length
		found                 Uneven
		spread, near, variant string
	}{
		{"riser", field, risers, s.RiserUneven, riserUniform, riserAdjacent, riserVariation},
		{"tread", "treads_measured", w.run.TreadsMeasured, s.TreadUneven, treadUniform, treadAdjacent, ""},
	} {
		if len(u.values) < 2 {
			continue
		}
		named := func(i int) string { return fmt.Sprintf("%s %d (%s)", u.one, i, w.text(u.values[i-1])) }
		if u.found.Spread == 0 {
			w.say("Stair: every %s is %s.", u.one, w.text(u.values[0]))
		} else {
			w.say("Stair: the greatest difference is %s, %s against %s; between neighbours %s, %s against %s.", w.text(u.found.Spread), named(u.found.High), named(u.found.Low),
				w.text(u.found.Adjacent), named(u.found.Pair), named(u.found.Pair+1))
		}
		between := func(a, b int, words string) string {
			if u.values[a-1] == u.values[b-1] {
				return words
			}
			return words + ", " + named(a) + " against " + named(b) + ","
		}
		w.test(u.spread, u.field, between(u.found.High, u.found.Low, fmt.Sprintf("The difference between the greatest and the smallest %s", u.one)), u.found.Spread)
		w.test(u.near, u.field, between(u.found.Pair, u.found.Pair+1, fmt.Sprintf("The difference between neighbouring %ss", u.one)), u.found.Adjacent)
		if u.variant == "" {
			continue
		}
		var off length.Length
		for _, v := range u.values {
			off = max(off, (v - s.Riser).Abs())
		}
		w.test(u.variant, u.field, fmt.Sprintf("The greatest difference of a riser from the %s of the layout", w.text(s.Riser)), off)
	}
	if len(w.run.RisersMeasured) == 0 {
		s.Asks = append(s.Asks, "Measure the first riser from the finished landing or ground and the last to the finished decking: they are where a flight is most often uneven.")
	}
}
