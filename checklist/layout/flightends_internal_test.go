package layout

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// footByTrial is footSphere by trying centres on a fine net: the least distance to every edge is the radius there.
func footByTrial(post, nosing, riser, rake, rail, step float64) float64 {
	most := 0.0
	for x := post; x <= nosing; x += step {
		for y := 0.0; y < riser+rail+rake*nosing+riser; y += step {
			toRail := (riser + rail + rake*x - y) / math.Hypot(1, rake)
			toRiser := math.Hypot(nosing-x, math.Max(y-riser, 0))
			r := math.Min(math.Min(x-post, y), math.Min(toRail, toRiser))
			r = math.Min(r, math.Hypot(x, y-riser)) // the nosing's tip
			most = math.Max(most, r)
		}
	}
	return 2 * most
}

// TestFootSphere compares the sphere at the foot with one found by trial, in inches.
func TestFootSphere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		of := func(name string, least, most float64) float64 { return rapid.Float64Range(least, most).Draw(t, name) }
		nosing, riser, tread, rail := of("nosing", 0, 1.5), of("riser", 5, 8), of("tread", 9, 13), of("rail", -1, 2)
		post := -of("ahead", -1, 12)
		if post > nosing-0.25 {
			return
		}
		const step = 0.04
		got, want := footSphere(post, nosing, riser, riser/tread, rail), footByTrial(post, nosing, riser, riser/tread, rail, step)
		if got < want-1e-6 || got > want+6*step {
			t.Fatalf("%.3f, by trial %.3f", got, want)
		}
	})
}

// TestFootSphereByHand: a post far enough in front leaves the circle between ground, riser and rail; one close to the riser a ball as wide
// as the gap; and at the head the circle in the right triangle of 3, 4 and 5 has a diameter of 2.
func TestFootSphereByHand(t *testing.T) {
	if got := footSphere(-3, 0, 7, 0.7, 0); math.Abs(got-3) > 1e-6 {
		t.Errorf("3 in between post and riser pass a ball of %v, want 3", got)
	}
	if got := headSphere(4, 0.75, 0); math.Abs(got-2) > 1e-9 {
		t.Errorf("at the head %v, want 2", got)
	}
	if got := headSphere(2, 0.75, -2); got != 0 {
		t.Errorf("under a rail that meets the landing %v, want 0", got)
	}
}
