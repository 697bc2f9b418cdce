package jobs

import (
	"slices"

	"newelbook/checklist"
	"newelbook/checklist/layout"
)

// elsewhere says whether a place stood somewhere else on an earlier version of its run's layout. Posts and bays keep their
// numbers when a run is laid out anew, so that what was seen at post 3 may have been seen at another post; by less than its
// own width a post is taken to be the same. What was recorded of another spot fills no hold point.
func (r *Record) elsewhere(place checklist.Place, version int) bool {
	versions := r.Layouts[place.RunID]
	i := slices.IndexFunc(versions, func(v LayoutVersion) bool { return v.Version == version })
	if i < 0 || i == len(versions)-1 {
		return false
	}
	then, now := &versions[i].Layout, &versions[len(versions)-1].Layout
	switch n := place.Number; place.Kind {
	case checklist.PlacePost:
		return postMoved(then, now, n)
	case checklist.PlaceBay:
		if n < 1 || n > min(len(then.Bays), len(now.Bays)) {
			return false
		}
		a, b := then.Bays[n-1], now.Bays[n-1]
		return a.FromPost != b.FromPost || a.ToPost != b.ToPost || postMoved(then, now, a.FromPost) || postMoved(then, now, a.ToPost)
	}
	return false
}

// postMoved says whether the post of a number stands further off than its width from where it stood; a wall, which has
// number 0, does not move.
func postMoved(then, now *layout.Layout, number int) bool {
	of := func(l *layout.Layout) int {
		return slices.IndexFunc(l.Posts, func(p layout.Post) bool { return p.Number == number })
	}
	i, k := of(then), of(now)
	return i >= 0 && k >= 0 && (now.Posts[k].Centre-then.Posts[i].Centre).Abs() >= now.Posts[k].Width
}
