package pictures

// Tag is a place tag that hangs in a scene: the modules of its code, row by row, Side of them a side, and the label below it.
type Tag struct {
	Side  int
	Black []bool
	Label string
}

// Sizes of a tag in pixels. A module of seven is well above the two at which a code is still read.
const (
	module = 7.0
	light  = 4.0 // modules of light around the code
)

// placeTag hangs a tag in the corner of the frame.
func (s *scene) placeTag(t Tag) {
	const degrees, below = -1.2, 54.0
	code := module * (float64(t.Side) + 2*light)
	c := s.frame.at(0, 0).add(pt{code/2 + 30, (code+below)/2 + 40})
	card := turned(rect(-code/2, -(code+below)/2, code, code+below), c, degrees)
	s.fill([][]pt{shifted(card, 5, 7)}, ink{col: hex(0x5c5055), alpha: 0.42, wash: true})
	s.fill([][]pt{card}, ink{col: hex(0xffffff), alpha: 1})
	var dark [][]pt
	for i, black := range t.Black {
		if black {
			x, y := float64(i%t.Side)+light, float64(i/t.Side)+light
			dark = append(dark, turned(rect(-code/2+x*module, -(code+below)/2+y*module, module+0.4, module+0.4), c, degrees))
		}
	}
	s.fill(dark, ink{col: hex(0x101010), alpha: 1})
	s.outline(card, soft(2))
	s.write(s.faces.bold, fit(s.faces.bold, 46, code-24, t.Label), c.add(pt{0, (code+below)/2 - 22}), centred, degrees, t.Label, ink{col: graphite, alpha: 0.96})
}
