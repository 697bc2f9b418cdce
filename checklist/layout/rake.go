package layout

import (
	"math"

	"newelbook/checklist/length"
)

// slope is the rake of a run, kept as rise and run and never as degrees. The zero value is level.
type slope struct{ rise, run length.Length }

// level says whether there is no rake.
func (s slope) level() bool { return s.rise == 0 || s.run == 0 }

// factor is the length along the rake for one of run; one on the level.
func (s slope) factor() float64 {
	if s.level() {
		return 1
	}
	return math.Hypot(float64(s.rise), float64(s.run)) / float64(s.run)
}

// along turns a length in plan into one along the rake, and a plumb cut's thickness into its vertical depth, to the nearest nanometre.
func (s slope) along(plan length.Length) length.Length {
	if s.level() {
		return plan
	}
	return nearestNM(float64(plan) * math.Hypot(float64(s.rise), float64(s.run)) / float64(s.run))
}

// plan turns a length along the rake into one in plan, to the nearest nanometre.
func (s slope) plan(along length.Length) length.Length {
	if s.level() {
		return along
	}
	return nearestNM(float64(along) * float64(s.run) / math.Hypot(float64(s.rise), float64(s.run)))
}

// angle is the degrees above level.
func (s slope) angle() float64 {
	if s.level() {
		return 0
	}
	return math.Atan2(float64(s.rise), float64(s.run)) * 180 / math.Pi
}

// nearestNM rounds nanometres, halves away from zero.
func nearestNM(nm float64) length.Length { return length.Length(math.Round(nm)) }

// TriangleSphere returns the largest sphere that passes through the triangle of riser, tread and bottom rail, to the
// nearest nanometre. rail is the rail's underside above the nosing line, plumb; it may be negative. It assumes a closed
// riser or cut stringer in the plane of the guard. Zero when riser or tread is not above zero.
//
// d = (r + t - sqrt(r^2 + t^2)) (1 + n/t + v/r): the circle in the triangle of riser and tread, scaled up by what nosing
// and rail add to it (geometry of the stated shape).
func TriangleSphere(riser, tread, nosing, rail length.Length) length.Length {
	if riser <= 0 || tread <= 0 {
		return 0
	}
	r, t := float64(riser), float64(tread)
	d := (r + t - math.Hypot(r, t)) * (1 + float64(nosing)/t + float64(rail)/r)
	return nearestNM(math.Max(d, 0))
}

// TriangleRail returns the height of the rail's underside above the nosing line at which a sphere just passes through the
// triangle of riser, tread and bottom rail: the rail must stand lower than this to stop it.
func TriangleRail(riser, tread, nosing, sphere length.Length) length.Length {
	if riser <= 0 || tread <= 0 {
		return 0
	}
	r, t := float64(riser), float64(tread)
	return nearestNM(r * (float64(sphere)/(r+t-math.Hypot(r, t)) - 1 - float64(nosing)/t))
}

// EqualRisers returns the fewest equal risers of a total rise that are no higher than most, and the riser to the nearest
// nanometre. Zeros when either length is not above zero.
func EqualRisers(total, most length.Length) (risers int, riser length.Length) {
	if total <= 0 || most <= 0 {
		return 0, 0
	}
	risers = ceilDiv(total, most)
	return risers, ratio{int64(total), int64(risers)}.nearest()
}
