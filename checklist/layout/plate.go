package layout

import (
	"math"
	"sort"

	"newelbook/checklist/length"
)

// plate is a thing at a corner of two posts, seen from above: how far it goes along its run from its post's centre, towards the corner and away
// from it, and half of what it takes across.
type plate struct{ to, tail, half length.Length }

// bare is a side's post, and socket what of it stands among the joists.
func bare(s cornerSide) plate {
	return plate{s.spec.PostWidth / 2, s.spec.PostWidth / 2, s.spec.PostDepth / 2}
}

func socket(s cornerSide) plate {
	wide, deep := s.held()
	return plate{wide / 2, wide / 2, deep / 2}
}

// socketName is what socket is of.
func (s cornerSide) socketName() string {
	if s.spec.PostMount == MountSleeve {
		return "sleeve"
	}
	return "post"
}

// lid is a side's post with the cap over it.
func lid(s cornerSide) plate {
	p := bare(s)
	if !s.spec.capOver() {
		return p
	}
	return plate{p.to + max(0, s.spec.CapOverhang), 4 * s.spec.CapWidth, max(p.half, s.spec.CapWidth/2)}
}

// grown is the plate with so much more all round.
func (p plate) grown(by length.Length) plate { return plate{p.to + by, p.tail + by, p.half + by} }

// least is the smallest set-back, up to the grid, at which no post or sleeve of the one run stands in one of the other, and a length that lifts
// out has its clearance.
func (c corner) least() length.Length {
	least := c.leastOf(socket, 0)
	if c.lifts() {
		wanted := max(c.own.clear, c.other.clear)
		least = max(least, c.leastOf(socket, wanted), c.leastOf(lid, wanted))
	}
	return least
}

// clear is the least distance between the two runs at a set-back, caps and sleeves counted; negative where they stand in one another.
func (c corner) clear(back length.Length) length.Length {
	return min(c.gap(lid, back), c.gap(socket, back))
}

// clearAcross is the same across an opening that is so wide between the posts.
func clearAcross(own, other cornerSide, opening length.Length) length.Length {
	past := func(of func(cornerSide) plate) length.Length {
		return of(own).to - bare(own).to + of(other).to - bare(other).to
	}
	return opening - max(past(lid), past(socket))
}

// leastOf is the smallest set-back, up to the grid, at which things of the two runs stand so far clear of each other. Two runs that turn back on
// each other have none: theirs is half of a post.
func (c corner) leastOf(of func(cornerSide) plate, clear length.Length) length.Length {
	own, other := of(c.own), of(c.other)
	least, most := c.touching(own, other), c.touching(own.grown(clear), other)
	if math.IsInf(least, 0) {
		return c.own.spec.PostWidth / 2
	}
	grid := max(c.own.spec.Grid, c.other.spec.Grid, 1)
	from := length.Length(math.Ceil(least - 1e-3)).RoundUp(grid)
	steps := max(0, int(math.Ceil((most-float64(from))/float64(grid))))
	return from + grid*length.Length(sort.Search(steps, func(n int) bool { return c.gap(of, from+grid*length.Length(n)) >= clear }))
}

// touching is the set-back at which two plates touch: by one of the four lines along their sides (two convex figures stand clear of each other
// where such a line parts them; plane geometry).
func (c corner) touching(own, other plate) float64 {
	across, along := sin(c.turn), cos(c.turn)
	least := math.Inf(1)
	for _, p := range [2][2]plate{{own, other}, {other, own}} {
		to, half, farTo, farHalf := float64(p[0].to), float64(p[0].half), float64(p[1].to), float64(p[1].half)
		end := farTo * along
		if along < 0 { // the other run comes back past the end of the one
			end = -float64(p[1].tail) * along
		}
		least = min(least, (to+end+farHalf*across)/(1+along)) // the end of the one
		if across > 0 {                                       // the side of the one
			least = min(least, farTo+(half+farHalf*math.Abs(along))/across)
		}
	}
	return least
}

// gap is the clear distance between two things at a set-back, to the nearest nanometre; where they stand in one another, how far the one would
// have to move, negative.
func (c corner) gap(of func(cornerSide) plate, back length.Length) length.Length {
	own, other := of(c.own), of(c.other)
	across, along := sin(c.turn), cos(c.turn)
	apart, nearest := math.Inf(-1), math.Inf(1)
	for _, p := range [2][2]plate{{own, other}, {other, own}} {
		// In the system of the first plate the corner stands past its centre, and the second runs off from there at the turn.
		var xs, ys []float64
		for _, u := range []float64{float64(back - p[1].to), float64(back + p[1].tail)} {
			for _, v := range []float64{-float64(p[1].half), float64(p[1].half)} {
				x, y := float64(back)+u*along-v*across, u*across+v*along
				xs, ys = append(xs, x), append(ys, y)
				past := max(x-float64(p[0].to), -float64(p[0].tail)-x, 0)
				nearest = min(nearest, math.Hypot(past, max(math.Abs(y)-float64(p[0].half), 0)))
			}
		}
		least := func(all []float64, sign float64) float64 {
			return min(sign*all[0], sign*all[1], sign*all[2], sign*all[3])
		}
		half := float64(p[0].half)
		apart = max(apart, least(xs, 1)-float64(p[0].to), least(xs, -1)-float64(p[0].tail), least(ys, 1)-half, least(ys, -1)-half)
	}
	if apart < 0 {
		return nearestNM(apart)
	}
	return nearestNM(nearest)
}
