package jobs

import (
	"fmt"
	"slices"

	"newelbook/checklist"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// measuredPosts are a run's posts as measured, by one check of each, from readings by check. A length that was taken from another reference
// than the check's own is none.
func measuredPosts(runID string, posts int, key string, history map[string][]Reading) map[int]length.Length {
	out := map[int]length.Length{}
	for n := 1; n <= posts; n++ {
		id := fmt.Sprintf("%s/P%d.%s", runID, n, key)
		if x := currentOf(history[id]); x != nil && x.Answer.Length != nil && !x.Check.TakenElsewhere(x.Answer) {
			out[n] = *x.Answer.Length
		}
	}
	return out
}

// read gathers the readings of a run by check, of these keys alone.
func (r *Record) read(runID string, keys ...string) map[string][]Reading {
	history := map[string][]Reading{}
	for _, x := range r.Readings {
		if x.Check.Place.RunID == runID && slices.Contains(keys, x.Check.Key) {
			history[x.CheckID] = append(history[x.CheckID], x)
		}
	}
	return history
}

// openings are the clear openings of a run's bays as measured, with the lean of the posts beside them: what rails and infill are computed
// from again. What was measured while the run had another number of bays is left out: the bay of that number was another length of it.
func (r *Record) openings(runID string, bays []layout.Bay) map[int]layout.Opening {
	out := map[int]layout.Opening{}
	leans := map[int]*length.Length{}
	for _, readings := range r.read(runID, checklist.KeyOpeningBottom, checklist.KeyOpeningTop, checklist.KeyPostLean) {
		x := currentOf(readings)
		if x == nil || x.Answer.Length == nil {
			continue
		}
		if v, ok := find(r.Layouts[runID], func(v LayoutVersion) bool { return v.Version == x.LayoutVersion }); ok && len(v.Layout.Bays) != len(bays) {
			continue
		}
		n := x.Check.Place.Number
		o := out[n]
		switch x.Check.Key {
		case checklist.KeyOpeningBottom:
			o.Bottom = *x.Answer.Length
		case checklist.KeyOpeningTop:
			o.Top = *x.Answer.Length
		default:
			leans[n] = x.Answer.Length
			continue
		}
		out[n] = o
	}
	for _, b := range bays {
		if o, ok := out[b.Number]; ok {
			o.LeanFrom, o.LeanTo = leans[b.FromPost], leans[b.ToPost]
			out[b.Number] = o
		}
	}
	return out
}
