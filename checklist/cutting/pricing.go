package cutting

import (
	"cmp"
	"slices"
	"sort"
)

// pairWidths is the number of widths of room for which the best pair of items is worked out.
const pairWidths = 2_048

// shop looks for the pattern of one class that is worth most at given prices: a knapsack with a limited count of each
// size, by depth-first search with the bound of the best price for its length. All values are whole numbers.
type shop struct {
	items    []item
	shortest []int64 // of the items from each on
	bySize   []item  // rising size, price of the dearest up to there
	pairs    []int64 // what two items are worth at most in each width of room, zero when not known yet; nil for few items
	width    int64
	steps    *budget
	tries    int // that this search may still make

	now   []int
	found []pattern // each worth more than the one before
	worth int64
	cut   bool // ended before its end
}

// item is a size that has a price.
type item struct {
	size        int64
	price       int64
	index, most int
	rate        float64 // price by length
}

// newShop sorts the sizes of the problem by price for length.
func newShop(p *problem, price []int64, steps *budget) *shop {
	s := &shop{steps: steps}
	for i, n := range p.need {
		if n > 0 && price[i] > 0 {
			s.items = append(s.items, item{p.size[i], price[i], i, n, float64(price[i]) / float64(p.size[i])})
		}
	}
	s.bySize = slices.Clone(s.items)
	slices.SortFunc(s.bySize, func(a, b item) int { return cmp.Compare(a.size, b.size) })
	for i := 1; i < len(s.bySize); i++ {
		s.bySize[i].price = max(s.bySize[i].price, s.bySize[i-1].price)
	}
	slices.SortFunc(s.items, func(a, b item) int {
		return cmp.Or(cmp.Compare(b.rate, a.rate), cmp.Compare(a.index, b.index))
	})
	s.shortest = make([]int64, len(s.items)+1)
	s.shortest[len(s.items)] = 1<<63 - 1
	for i := len(s.items) - 1; i >= 0; i-- {
		s.shortest[i] = min(s.shortest[i+1], s.items[i].size)
	}
	s.now = make([]int, len(s.items))
	if len(s.items) > fewRows {
		s.width = p.class[0].room/pairWidths + 1
		s.pairs = make([]int64, pairWidths+1)
	}
	return s
}

// best returns the patterns found for a board of the class that are worth more than the floor, the last worth most, and
// a value that no pattern exceeds: the floor when none was found. When the search ends before its end that value is
// the bound of the whole.
func (s *shop) best(c int, room, floor int64, tries int) (found []pattern, atMost int64) {
	s.found, s.worth, s.cut, s.tries = nil, floor, false, tries
	s.search(c, 0, room, 0)
	s.steps.spend(1 + (tries-s.tries)/2)
	if s.cut {
		if len(s.items) == 0 {
			return nil, floor
		}
		return s.found, max(s.worth, ceiling(room, s.items[0].rate))
	}
	return s.found, s.worth
}

// ceiling is room times rate, with more than the rounding errors of both added: never below the true product.
func ceiling(room int64, rate float64) int64 {
	product := float64(room) * rate
	if product >= 1<<62 {
		return 1 << 62
	}
	return int64(product*(1+1e-12)) + 2
}

// search adds items from the given one on to a board with that room left and that value so far.
func (s *shop) search(c, from int, room, value int64) {
	if value > s.worth {
		s.worth = value
		s.found = append(s.found, s.pattern(c))
	}
	if room < s.shortest[from] || s.cut {
		return
	}
	if room-s.shortest[from] < s.shortest[from] && value+s.single(room) <= s.worth {
		return
	}
	if s.pairs != nil && room-2*s.shortest[from] < s.shortest[from] && value+s.pair(room) <= s.worth {
		return
	}
	for i := from; i < len(s.items); i++ {
		it := &s.items[i]
		if value+ceiling(room, it.rate) <= s.worth {
			return
		}
		if s.tries--; s.tries <= 0 {
			s.cut = true
			return
		}
		if it.size > room {
			continue
		}
		for n := int(min(int64(it.most), room/it.size)); n > 0; n-- {
			s.now[i] = n
			s.search(c, i+1, room-int64(n)*it.size, value+int64(n)*it.price)
		}
		s.now[i] = 0
	}
}

// single is the price of the dearest single item that fits the room.
func (s *shop) single(room int64) int64 {
	i := sort.Search(len(s.bySize), func(i int) bool { return s.bySize[i].size > room })
	if i == 0 {
		return 0
	}
	return s.bySize[i-1].price
}

// pair is more than or just what any two items are worth that fit the room, or one alone: what they are worth in the
// room rounded up to a whole number of widths.
func (s *shop) pair(room int64) int64 {
	at := room / s.width
	if s.pairs[at] > 0 {
		return s.pairs[at]
	}
	room = (at + 1) * s.width
	most := s.single(room)
	other := len(s.bySize) - 1
	for _, one := range s.bySize {
		for other >= 0 && one.size+s.bySize[other].size > room {
			other--
		}
		if other < 0 {
			break
		}
		most = max(most, one.price+s.bySize[other].price)
	}
	s.tries -= len(s.bySize) / 8
	s.pairs[at] = most
	return most
}

// pattern is what is on the board now.
func (s *shop) pattern(c int) pattern {
	pt := pattern{class: c}
	for i, n := range s.now {
		if n > 0 {
			pt.uses = append(pt.uses, use{s.items[i].index, n})
		}
	}
	slices.SortFunc(pt.uses, func(a, b use) int { return cmp.Compare(a.size, b.size) })
	return pt
}
