package layout

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"newelbook/checklist/length"
)

// standing is a post as it stands in plan, its sides along and across its run.
type standing struct {
	label         string
	outline       int
	at            PlanPoint
	width, depth  float64
	ux, uy        float64 // along the run
	reach         float64 // from its centre to its farthest corner
	run, position int
}

// clashes names posts that stand in one another and runs that cross.
func (b *planner) clashes() {
	var all []standing
	for i, r := range b.plan.Runs {
		for j, p := range r.Posts {
			if p.SharedAs != "" {
				continue
			}
			w, d := float64(r.PostWidth)/2, float64(r.PostDepth)/2
			all = append(all, standing{p.Label, r.Outline, p.At, w, d, cos(r.Direction), sin(r.Direction), math.Hypot(w, d), i, j})
		}
	}
	slices.SortFunc(all, func(a, c standing) int {
		return cmp.Or(cmp.Compare(a.outline, c.outline), cmp.Compare(a.at.X, c.at.X), a.order(c))
	})
	farthest := 0.0
	for _, p := range all {
		farthest = max(farthest, p.reach)
	}
	var found [][2]standing
	for i, p := range all {
		for _, q := range all[i+1:] {
			if q.outline != p.outline || float64(q.at.X-p.at.X) > 2*farthest {
				break
			}
			if p.overlaps(q) {
				pair := [2]standing{p, q}
				slices.SortFunc(pair[:], standing.order)
				found = append(found, pair)
			}
		}
	}
	slices.SortFunc(found, func(a, c [2]standing) int { return cmp.Or(a[0].order(c[0]), a[1].order(c[1])) })
	for _, pair := range found {
		b.problem(pair[1].label, "turn", "%s and %s stand in one another in plan: look at the lengths and the turns of their runs.", pair[0].label, pair[1].label)
	}
	for i, r := range b.plan.Runs {
		for _, o := range b.plan.Runs[:i] {
			if r.Outline == o.Outline && crossing(o, r) {
				b.problem(r.Label, "turn", "%s and %s cross in plan: look at their lengths and turns.", o.Label, r.Label)
			}
		}
	}
}

func (b *planner) problem(place, field, format string, args ...any) {
	b.plan.Problems = append(b.plan.Problems, Problem{Place: place, Field: field, Sentence: fmt.Sprintf(format, args...)})
}

// order puts posts in the order of their runs, and along each.
func (p standing) order(q standing) int {
	return cmp.Or(cmp.Compare(p.run, q.run), cmp.Compare(p.position, q.position))
}

// overlaps says whether two posts share wood: no line along a side of either keeps them apart.
func (p standing) overlaps(q standing) bool {
	dx, dy := float64(q.at.X-p.at.X), float64(q.at.Y-p.at.Y)
	if math.Hypot(dx, dy) >= p.reach+q.reach {
		return false
	}
	const touch = 1000 // nanometres: posts that touch do not overlap
	for _, axis := range [][2]float64{{p.ux, p.uy}, {-p.uy, p.ux}, {q.ux, q.uy}, {-q.uy, q.ux}} {
		if math.Abs(dx*axis[0]+dy*axis[1]) >= p.across(axis)+q.across(axis)-touch {
			return false
		}
	}
	return true
}

// across is half the size of the post along an axis.
func (p standing) across(axis [2]float64) float64 {
	along, over := p.ux*axis[0]+p.uy*axis[1], -p.uy*axis[0]+p.ux*axis[1]
	return p.width*math.Abs(along) + p.depth*math.Abs(over)
}

// crossing says whether two runs cross away from their ends.
func crossing(a, c PlanRun) bool {
	side := func(p, q, r PlanPoint) float64 {
		return float64(q.X-p.X)*float64(r.Y-p.Y) - float64(q.Y-p.Y)*float64(r.X-p.X)
	}
	for _, s := range [][3]PlanPoint{{a.Start, a.End, c.Start}, {a.Start, a.End, c.End}, {c.Start, c.End, a.Start}, {c.Start, c.End, a.End}} {
		if near(s[0], s[1], side(s[0], s[1], s[2])) {
			return false // an end on the other run is a joint, or posts that clash
		}
	}
	return side(a.Start, a.End, c.Start)*side(a.Start, a.End, c.End) < 0 && side(c.Start, c.End, a.Start)*side(c.Start, c.End, a.End) < 0
}

// near says that a point is within a millimetre of the line from p to q, by the area that the three span.
func near(p, q PlanPoint, area float64) bool {
	size := math.Hypot(float64(q.X-p.X), float64(q.Y-p.Y))
	return size == 0 || math.Abs(area)/size < float64(length.Millimetre)
}
