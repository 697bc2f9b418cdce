package layout

import "newelbook/checklist/length"

// Joist is one joist whose end meets the rim under a run: its number from the datum, and its centre, near and far face from there.
type Joist struct {
	Number            int
	Centre, Near, Far length.Length
}

// Joists lists the joists under a run whose centres stand from one place to another, both from the datum and included. There are none
// where the joists do not meet the edge end on, or are not given; spec is the run's, its overrides laid over the job's.
func Joists(r Run, spec Spec, from, to length.Length) []Joist {
	width, spacing := spec.JoistWidth, spec.JoistSpacing
	if r.Joists != JoistsAcross || width <= 0 || spacing <= width {
		return nil
	}
	var all []Joist
	for n := max(0, ceilDiv(from-r.FirstJoist, spacing)); ; n++ {
		centre := r.FirstJoist + length.Length(n)*spacing
		if centre > to {
			return all
		}
		near := centre - width/2
		all = append(all, Joist{Number: n + 1, Centre: centre, Near: near, Far: near + width})
	}
}
