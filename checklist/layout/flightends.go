package layout

import (
	"fmt"
	"math"

	"newelbook/checklist/length"
)

// flightEnds works out the two openings under a raked bottom rail that are not the triangle of a step: in front of the lowest riser as
// far as the foot post, and over the landing as far as the post at the head. Both assume what the triangle does: closed risers or a cut
// stringer in the plane of the guard, and level ground at the foot (geometry of the stated shape).
func (w *work) flightEnds(all []support) {
	s := w.out.Stair
	if s == nil || len(all) < 2 {
		return
	}
	w.checkNosing(all)
	w.headRail(all)
	if !s.Screened {
		return
	}
	foot, head := all[0], all[len(all)-1]
	if w.run.Down() {
		foot, head = head, foot
	}
	rake := float64(w.slope.rise) / float64(w.slope.run)
	riser := s.Riser
	if each := w.risers(s); len(each) > 0 {
		riser = each[0]
	}
	if steps := w.steps(s); steps.over != nil {
		rake = steps.slope
	}
	uphill := max(w.up(foot.near), w.up(foot.far()))
	if uphill >= s.Nosing {
		w.say("Stair: the foot post closes the guard at the lowest riser: there is no opening in front of it.")
	} else {
		s.FootSphere = nearestNM(footSphere(float64(uphill), float64(s.Nosing), float64(riser), rake, float64(w.spec.RakeBottom)))
		w.holdEnd(s.FootSphere, "at the foot, between the post and the lowest riser", "Set the post nearer to the riser, or the rail lower.")
	}
	behind := min(w.up(head.near), w.up(head.far())) - s.Run
	sphere := headSphere(float64(behind), rake, float64(w.spec.RakeBottom))
	switch {
	case behind <= 0:
		w.say("Stair: the post at the head stands at the top nosing or in front of it: the opening beside it is no larger than the triangle.")
	case sphere > 2*float64(behind):
		s.Asks = append(s.Asks, "The opening beside the post at the head is not screened: the ball would hang over the top nosing. Try it with a gauge.")
	default:
		s.HeadSphere = nearestNM(sphere)
		w.holdEnd(s.HeadSphere, "at the head, between the top nosing and the post", "Set the post nearer to the nosing, or the rail lower.")
	}
	s.Asks = append(s.Asks, fmt.Sprintf("The openings at the foot and the head of the flight are worked out for level ground: try both with a gauge; %s. Ask the authority whether this figure of the triangle holds for them.", w.triangleGauge()))
}

// holdEnd says what passes at an end of the flight and holds it to the figure of the triangle.
func (w *work) holdEnd(sphere length.Length, where, do string) {
	w.say("Stair: the largest sphere under the bottom rail %s is %s, rounded up.", where, sphere.FormatUp(w.style))
	lim := w.triangleLimit()
	if !lim.known {
		return
	}
	s := w.out.Stair
	value, figure := sphere.FormatUpAgainst(lim.figure.Value, w.style)
	s.Tested = append(s.Tested, Tested{Key: lim.figure.Key, What: "The largest sphere " + where, Value: value, Figure: fmt.Sprintf("%s %s", lim.figure.Bound, figure), Source: lim.figure.Source(), Inside: lim.passes(sphere)})
	if !lim.passes(sphere) {
		w.problem(w.run.Label, "rake_bottom", "A sphere of %s passes under the bottom rail %s; the figure is %s. %s", value, where, lim.words, do)
	}
}

// footSphere is the largest sphere between the ground, a post whose face stands at post, the lowest riser and a rail that rises by rake to
// one of run and stands rail above the nosing line; places count up the flight from the lowest nosing, the riser stands nosing behind it.
func footSphere(post, nosing, riser, rake, rail float64) float64 {
	low, high := 0.0, nosing-post+riser+math.Abs(rail) // a radius that passes, one that does not
	for range 60 {
		if r := (low + high) / 2; footPasses(r, post, nosing, riser, rake, rail) {
			low = r
		} else {
			high = r
		}
	}
	return 2 * low
}

// footPasses says whether a circle of radius r has room there: its centre at some place x from the post to the riser, on the ground or
// over the nosing, and under the rail. The room under the rail grows along the ground, and is convex over the nosing's tip and over the
// riser's edge, so that only the ends of those stretches need a try.
func footPasses(r, post, nosing, riser, rake, rail float64) bool {
	under := func(x float64) float64 { return riser + rail + rake*x - r*math.Hypot(1, rake) } // highest centre
	first := post + r
	// On the ground, in front of the riser and clear of the nosing's tip over it.
	x := nosing - r
	if tip := riser - r; math.Abs(tip) < r {
		if beside := math.Sqrt(r*r - tip*tip); math.Abs(x) < beside {
			x = -beside
		}
	}
	if x >= first && under(x) >= r {
		return true
	}
	over := func(x float64) float64 { // lowest centre
		y := r
		for _, edge := range []float64{0, nosing} {
			if d := math.Abs(edge - x); d < r {
				y = math.Max(y, riser+math.Sqrt(r*r-d*d))
			}
		}
		return y
	}
	for _, x := range []float64{first, -r, nosing / 2, nosing} {
		if x >= first && x <= nosing && under(x) >= over(x) {
			return true
		}
	}
	return false
}

// headSphere is the largest sphere between the landing, a post's face that stands behind the top nosing by so much, and the rail: the circle
// in their right triangle. It fits where its radius is no more than behind.
func headSphere(behind, rake, rail float64) float64 {
	return math.Max((rail+rake*behind)*steps{slope: rake}.reach(), 0)
}
