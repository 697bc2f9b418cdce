package pictures

import "strings"

// Marked is the sentence that stands in every picture.
const Marked = "Drawn for the demonstration, not a photograph"

// frame is the part of the sheet that holds the scene.
type frame struct{ x, y, w, h float64 }

// at is the place across and down the frame, each 0 to 1.
func (f frame) at(across, down float64) pt { return pt{f.x + f.w*across, f.y + f.h*down} }

// middle is where a scene's camera aims.
func (f frame) middle() pt { return f.at(0.5, 0.5) }

const (
	margin  = 30.0
	caption = 112.0
)

func frameOf(w, h int) frame {
	return frame{margin, margin, float64(w) - 2*margin, float64(h) - 2*margin - caption + 14}
}

// finish trims the scene to its frame and writes what stands about it.
func (s *scene) finish() {
	f, w, h := s.frame, float64(s.w), float64(s.h)
	edges := [][]pt{
		rect(0, 0, w, f.y), rect(0, f.y+f.h, w, h-f.y-f.h),
		rect(0, f.y, f.x, f.h), rect(f.x+f.w, f.y, w-f.x-f.w, f.h),
	}
	s.fill(edges, ink{col: paper, alpha: 1})
	s.fill(edges, ink{col: hex(0xefe4cc), alpha: 0.3, wash: true, mottle: 0.9})
	s.outline([]pt{f.at(0, 0), f.at(1, 0), f.at(1, 1), f.at(0, 1)}, soft(3))
	if s.p.Permit != "" && s.kind != PermitCard {
		s.slip()
	}
	if s.p.Tag != nil {
		s.placeTag(*s.p.Tag)
	}
	s.strip(f.at(0, 0), -42)
	s.strip(f.at(1, 0), 42)
	s.stamp()
	s.words()
}

// strip is a piece of paper tape over a corner.
func (s *scene) strip(c pt, degrees float64) {
	p := turned(rect(-52, -17, 104, 34), c, degrees)
	s.fill([][]pt{shifted(p, 2, 3)}, ink{col: hex(0x5c5055), alpha: 0.25, wash: true})
	s.fill([][]pt{p}, ink{col: hex(0xe9dcb2), alpha: 0.9, mottle: 0.2})
	s.outline(p, lead{graphite, 1.2, 0.3})
}

// stamp sets the mark that this is no photograph.
func (s *scene) stamp() {
	const wide, high = 336.0, 74.0
	c := pt{float64(s.w) - margin - wide/2, float64(s.h) - margin - high/2 + 10}
	k := ink{col: redLead, alpha: 0.9, tooth: 0.3}
	s.loop(turned(rect(-wide/2, -high/2, wide, high), c, -1.2), lead{redLead, 3.4, 0.85})
	s.loop(turned(rect(-wide/2+6, -high/2+6, wide-12, high-12), c, -1.2), lead{redLead, 1.4, 0.6})
	first, second, _ := strings.Cut(Marked, ", ")
	s.write(s.faces.bold, 23.5, c.add(pt{0, -5}), centred, -1.2, first+",", k)
	s.write(s.faces.bold, 23.5, c.add(pt{0, 23}), centred, -1.2, second, k)
}

// words writes the label and the note under the frame.
func (s *scene) words() {
	base := float64(s.h) - 34
	room := s.frame.w - 336 - 28
	x := margin + 4
	if s.p.Label != "" {
		size := fit(s.faces.bold, 62, room*0.6, s.p.Label)
		t := s.write(s.faces.bold, size, pt{x, base}, fromLeft, 0, s.p.Label, ink{col: graphite, alpha: 0.96, tooth: 0.15})
		s.line([]pt{{x - 2, base + 13}, {x + t.width + 6, base + 11}}, lead{verdigr, 3.4, 0.9})
		x += t.width + 26
		room -= t.width + 26
	}
	note := s.p.Note
	if s.p.Measure != "" && !s.said {
		if note != "" {
			note += ", "
		}
		note += "tape reads " + s.p.Measure
	}
	if note == "" {
		return
	}
	size, lines := s.wrap(note, room)
	for i, line := range lines {
		y := base + float64(i-len(lines)+1)*size*1.16 + 4
		s.write(s.faces.pencilled, size, pt{x, y}, fromLeft, 0, line, ink{col: graphite, alpha: 0.9, tooth: 0.15})
	}
}

// wrap breaks a note into as many as three lines, smaller as it grows longer; what still has no room is cut.
func (s *scene) wrap(note string, room float64) (float64, []string) {
	for _, size := range []float64{32, 28, 24, 21} {
		most := 2
		if size <= 24 {
			most = 3
		}
		if lines := s.broken(note, size, room); len(lines) <= most {
			return size, lines
		}
	}
	lines := s.broken(note, 21, room)[:3]
	lines[2] += " ..."
	return 21, lines
}

func (s *scene) broken(note string, size, room float64) []string {
	var lines []string
	line := ""
	for word := range strings.FieldsSeq(note) {
		longer := line + " " + word
		if line == "" {
			longer = word
		}
		if line != "" && set(s.faces.pencilled, size, longer).width > room {
			lines = append(lines, line)
			longer = word
		}
		line = longer
	}
	return append(lines, line)
}

// slip is the permit's number on a card in the corner, for authorities that want it in every picture.
func (s *scene) slip() {
	const wide, high = 214.0, 92.0
	c := s.frame.at(1, 0).add(pt{-wide/2 - 26, high/2 + 34})
	card := turned(rect(-wide/2, -high/2, wide, high), c, 1.4)
	s.fill([][]pt{shifted(card, 5, 7)}, ink{col: hex(0x5c5055), alpha: 0.42, wash: true})
	s.fill([][]pt{card}, ink{col: hex(0xfffdf6), alpha: 1})
	s.wash(turned(rect(-wide/2, -high/2, wide, 30), c, 1.4), verdigr, 0.95)
	s.outline(card, soft(2))
	s.write(s.faces.bold, 22, c.add(pt{0, -high/2 + 23}), centred, 1.4, "PERMIT", ink{col: paper, alpha: 1})
	size := fit(s.faces.bold, 38, wide-24, s.p.Permit)
	s.write(s.faces.bold, size, c.add(pt{0, 28}), centred, 1.4, s.p.Permit, ink{col: graphite, alpha: 0.96})
}
