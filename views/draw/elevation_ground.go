package draw

import (
	"math"
	"strings"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

const (
	wallThickness = 90.0 // of a house wall as drawn, in millimetres of the real thing; only its face matters
	edgeBeyond    = 60.0 // of the decking past the last post, likewise
	treadNosing   = 30.0 // thickness of a tread as drawn where the specification has no decking
	deepest       = 8.0  // paper between framing and ground before the ground is broken off, in millimetres
)

// holds says whether the specification tells what holds the posts.
func (e *elevation) holds() bool { return e.o.Spec.JoistDepth > 0 }

// edge is the extent of the decking.
func (e *elevation) edge() (from, to float64) {
	from, to = e.low-edgeBeyond, e.high+edgeBeyond
	if e.wallAt(true) {
		from = 0
	}
	if e.wallAt(false) {
		to = mm(e.l.Length)
	}
	return from, to
}

// wallAt says whether the run ends at a wall.
func (e *elevation) wallAt(start bool) bool {
	if len(e.bays) == 0 {
		return false
	}
	if start {
		return e.bays[0].FromPost == 0
	}
	return e.bays[len(e.bays)-1].ToPost == 0
}

// wallFace is the finished face of the wall at an end of the run; the end of the run where there is none.
func (e *elevation) wallFace(far bool) length.Length {
	for _, w := range e.l.Walls {
		if w.Far == far {
			return w.Finished
		}
	}
	if far {
		return e.l.Length
	}
	return 0
}

// depth is how far the framing reaches below the decking's top.
func (e *elevation) depth() float64 {
	if !e.holds() {
		return 0
	}
	return mm(e.o.Spec.Decking + e.o.Spec.JoistDepth)
}

// ground draws walls, and the ground under a level run, broken off where it is far below.
func (e *elevation) ground() {
	for _, w := range e.l.Walls {
		e.wall(w)
	}
	z, _, ok := e.grade()
	if !ok {
		return
	}
	from, to := e.edge()
	e.line(from, z, to, z, Medium, Solid, Faint)
	for x := from; x < to-2*e.den; x += 7 * e.den {
		for k := range 3 {
			a := x + float64(k)*1.2*e.den
			e.line(a+1.4*e.den, z, a, z-1.4*e.den, Hairline, Solid, Faint)
		}
	}
}

// wall hatches the wall at an end of the run up to the face that was measured to, and leaves what is still to come on it empty, before its
// finished face.
func (e *elevation) wall(w layout.WallEnd) {
	out := -1.0 // the way into the wall
	if w.Far {
		out = 1
	}
	measured, finished := mm(w.Measured), mm(w.Finished)
	back := measured + out*wallThickness
	low, high := -e.floor()*e.den, math.Max(mm(e.l.Heights.Finished), mm(e.l.Heights.PostTop))+80
	if e.l.Stair != nil {
		low = math.Min(e.step(measured), e.step(back))
	}
	high += math.Max(e.ref(measured), e.ref(back))
	e.put(Outline{Points: e.rect(math.Min(measured, back), low, math.Max(measured, back), high), Weight: Hairline, Tone: Faint, Fill: Hatch})
	if measured != finished {
		e.put(Outline{Points: e.rect(math.Min(measured, finished), low, math.Max(measured, finished), high), Weight: Hairline, Dash: Hidden, Tone: Faint})
	}
	e.line(finished, low, finished, high, Medium, Solid, Ink)
}

// grade is the height of the ground as drawn, and whether it is nearer than it should be.
func (e *elevation) grade() (z float64, broken, ok bool) {
	if e.l.Stair != nil || e.o.Brief || e.o.Run.Drop(nil) <= 0 {
		return 0, false, false
	}
	z = -mm(e.o.Run.Drop(nil))
	if -z > e.depth()+deepest*e.den {
		return -e.depth() - 5.5*e.den, true, true
	}
	return z, false, true
}

// groundName writes how far down the ground is.
func (e *elevation) groundName() {
	z, broken, ok := e.grade()
	if !ok {
		return
	}
	size := wordType * e.size
	words := []string{"ground, " + e.text(e.o.Run.Drop(nil)) + " down"}
	if len(e.o.Run.Drops) > 1 {
		words[0] += " at most"
	}
	if broken {
		words = append(words, "not to scale")
	}
	if !e.wide() {
		from, _ := e.edge()
		e.label(Text{At: Point{from/e.den + 1, -z/e.den + 1.8 + size}, Body: strings.Join(words, ", "), Size: size, Tone: Faint})
		return
	}
	y := math.Max(-z/e.den, bottomOf(e.boxes)+size*0.9)
	for i, w := range words {
		e.rowName(w, y+float64(i)*size*1.15)
	}
}

// framed cuts what is drawn of an edge down to where its frame ends, or is known; at is a place of the run as the drawing has it.
func framed(f *layout.Frame, from, to float64, at func(length.Length) float64) (float64, float64) {
	if f == nil {
		return from, to
	}
	if f.Start != nil {
		from = math.Max(from, at(f.Start.Near))
	}
	if f.KnownFrom != nil {
		from = math.Max(from, at(*f.KnownFrom))
	}
	if f.End != nil {
		to = math.Min(to, at(f.End.Far))
	}
	if f.KnownTo != nil {
		to = math.Min(to, at(*f.KnownTo))
	}
	return from, to
}

// framing draws the edge of the deck: decking, rim, and behind it joists and blocking.
func (e *elevation) framing() {
	if e.l.Stair != nil {
		return
	}
	from, to := e.edge()
	s := e.o.Spec
	if !e.holds() {
		e.line(from, 0, to, 0, Medium, Solid, Faint)
		return
	}
	e.put(Outline{Points: e.rect(from, -mm(s.Decking), to, 0), Weight: Medium, Tone: Faint})
	if e.o.Brief {
		return
	}
	from, to = framed(e.l.Frame, from, to, mm)
	e.put(Outline{Points: e.rect(from, -e.depth(), to, -mm(s.Decking)), Weight: Medium, Tone: Faint})
	for _, j := range layout.Joists(e.o.Run, s, e.l.Frame, -s.JoistSpacing, e.l.Length+s.JoistSpacing) {
		if near, far := mm(j.Near), mm(j.Far); near >= from && far <= to {
			e.put(Outline{Points: e.rect(near, -e.depth(), far, -mm(s.Decking)), Weight: Hairline, Dash: Hidden, Tone: Faint})
		}
	}
	for _, p := range e.l.Posts {
		for _, b := range p.Blocked {
			e.put(Outline{Points: e.rect(math.Max(mm(b.From), from), -e.depth()+6, math.Min(mm(b.To), to), -mm(s.Decking)-6), Weight: Light, Dash: Hidden})
		}
	}
}

// step is the height of the walking surface of the stair at x.
func (e *elevation) step(x float64) float64 {
	st := e.l.Stair
	if st == nil || st.Tread <= 0 {
		return 0
	}
	if x -= mm(e.l.Stair.NosingFrom); e.o.Run.Down() {
		x = mm(st.Run) - x
	}
	if x < 0 {
		return mm(e.o.Run.LandingHeight)
	}
	return math.Min(math.Floor(x/mm(st.Tread)+1e-9)+1, float64(st.Risers)) * mm(st.Riser)
}

// stairs draws the steps with their nosings, the floor or landing at the foot, the landing at the top, and the nosing line.
func (e *elevation) stairs() {
	st := e.l.Stair
	if st == nil || st.Tread <= 0 || st.Risers == 0 {
		return
	}
	r, t, n := mm(st.Riser), mm(st.Tread), mm(st.Nosing)
	board := mm(e.o.Spec.Decking)
	if board <= 0 {
		board = treadNosing
	}
	length := float64(st.Treads) * t
	x := e.flight // u runs up the stair from its first nosing
	u, z, from := -math.Max(t, 250), mm(e.o.Run.LandingHeight), len(e.items)
	to := func(u2, z2 float64) {
		e.line(x(u), z, x(u2), z2, Medium, Solid, Faint)
		u, z = u2, z2
	}
	for i := range st.Risers {
		nosing, tread := float64(i)*t, float64(i+1)*r
		to(nosing+n, z)
		if n > 0 {
			to(nosing+n, tread-board)
			to(nosing, z)
			to(nosing, tread)
		} else {
			to(nosing, tread)
		}
	}
	to(length+math.Max(t, 250), z)
	e.shorten(from)
	e.line(x(-40), e.ref(x(-40)), x(length+40), e.ref(x(length+40)), Hairline, Centre, Ink)
}

// flightRight is how far a flight reaches to the right, in millimetres from the datum: to the end of its guard, or to its last nosing there.
func (e *elevation) flightRight() float64 {
	last := e.flight(float64(e.l.Stair.Treads) * mm(e.l.Stair.Tread))
	if e.o.Run.Down() {
		last = e.flight(0)
	}
	return math.Max(e.high, last)
}

// shorten ends the strokes drawn from an item on where the heights of a flight begin, at its right.
func (e *elevation) shorten(from int) {
	right := e.flightRight()/e.den + extensionGap
	for i, it := range e.items[from:] {
		if l, ok := it.(Line); ok {
			l.A.X, l.B.X = math.Min(l.A.X, right), math.Min(l.B.X, right)
			e.items[from+i] = l
		}
	}
}
