package pack

// box is the smallest thing that the page break doesn't cut: a line, a row, a figure with its caption.
type box struct {
	height float64
	before float64 // room above, dropped at the top of a page
	keep   bool    // never parted from the box after it
	broad  bool    // wants a landscape page of its own
	fresh  bool    // starts a new page
	part   string  // the part of the pack that it stands in, for the running head
	head   *box    // what is drawn again above this box where it starts a page
	draw   func(p *page, x, y float64)
}

// frame is the room on a page, in points from the page's edges. foot is given up besides on the first page.
type frame struct {
	left, right, top, bottom float64
	foot                     float64
}

// flow places boxes on pages.
type flow struct {
	paper   Paper
	frame   frame
	pages   []*page
	y       float64
	open    bool // something stands on the current page
	newPage func(w, h float64) *page
}

// width is the measure of an upright page.
func (f *flow) width() float64 {
	w, _ := f.paper.points()
	return w - f.frame.left - f.frame.right
}

// broadWidth is the measure of a landscape page.
func (f *flow) broadWidth() float64 {
	_, h := f.paper.points()
	return h - f.frame.left - f.frame.right
}

// depth is the height of the room on an upright page other than the first.
func (f *flow) depth() float64 {
	_, h := f.paper.points()
	return h - f.frame.top - f.frame.bottom
}

// broadDepth is the height of the room on a landscape page.
func (f *flow) broadDepth() float64 {
	w, _ := f.paper.points()
	return w - f.frame.top - f.frame.bottom
}

func (f *flow) start(broad bool, part string) *page {
	w, h := f.paper.points()
	if broad {
		w, h = h, w
	}
	p := f.newPage(w, h)
	p.index = len(f.pages)
	p.section = part
	f.pages = append(f.pages, p)
	f.y, f.open = f.frame.top, false
	return p
}

// limit is how far down the current page may be filled.
func (f *flow) limit(p *page) float64 {
	if p.index == 0 {
		return p.h - f.frame.bottom - f.frame.foot
	}
	return p.h - f.frame.bottom
}

// place puts the boxes on pages, in order. Boxes kept together that are taller than a whole page are parted after all.
func (f *flow) place(boxes []box) {
	var p *page
	broad := false
	for i := 0; i < len(boxes); {
		j := i
		for j < len(boxes)-1 && boxes[j].keep {
			j++
		}
		chain := boxes[i : j+1]
		turned := false
		for _, b := range chain {
			turned = turned || b.broad
		}
		if p == nil || turned != broad || turned || chain[0].fresh && f.open || !f.fits(p, chain) && f.open {
			p = f.start(turned, chain[0].part)
			broad = turned
		}
		for k := range chain {
			if k > 0 && !f.fits(p, chain[k:k+1]) {
				p = f.start(turned, chain[k].part)
			}
			f.put(p, &chain[k])
		}
		i = j + 1
	}
}

func (f *flow) fits(p *page, chain []box) bool {
	need := 0.0
	for i, b := range chain {
		if i > 0 || f.open {
			need += b.before
		} else if b.head != nil {
			need += b.head.height
		}
		need += b.height
	}
	return f.y+need <= f.limit(p)+0.01
}

func (f *flow) put(p *page, b *box) {
	if f.open {
		f.y += b.before
	} else if b.head != nil {
		b.head.draw(p, f.frame.left, f.y)
		f.y += b.head.height
	}
	b.draw(p, f.frame.left, f.y)
	f.y += b.height
	f.open = true
}
