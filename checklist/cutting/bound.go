package cutting

// simpleBound is a lower bound on the number of boards, were all of them as long as the longest: the larger of the volume
// bound and L2 of Martello and Toth (1990).
//
// L2 takes a limit k up to half of the room. Pieces longer than room-k stand alone (n1); pieces over half the room stand
// apart (n2); those from k to half go into what the second kind leaves free or into boards of their own. The best k is
// found among the sizes; on distinct sizes with counts it takes one pass for each k.
func simpleBound(p *problem) int64 {
	room := p.class[0].room
	best := over(p.volume(), room)
	for first := len(p.size) - 1; first >= 0 && 2*p.size[first] <= room; first-- {
		if p.need[first] == 0 {
			continue
		}
		best = max(best, boundAt(p, room, p.size[first]))
	}
	return max(best, boundAt(p, room, room/2+1))
}

// boundAt is L2 for one k. When k is above half the room nothing is small, and it counts the pieces over half.
func boundAt(p *problem, room, k int64) int64 {
	var alone, apart, volume, free int64
	for i, size := range p.size {
		n := int64(p.need[i])
		switch {
		case size > room-k && 2*size > room:
			alone += n
		case 2*size > room:
			apart += n
			free += n * (room - size)
		case size >= k:
			volume += n * size
		}
	}
	extra := int64(0)
	if volume > free {
		extra = over(volume-free, room)
	}
	return alone + apart + extra
}

// over is a divided by b, rounded up.
func over(a, b int64) int64 { return (a + b - 1) / b }
