package draw

import (
	"fmt"
	"math"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// ElevationOptions say how an elevation is drawn. Width is the paper there is, in millimetres; the sheet is never wider
// where a scale of the series fits. Run and Spec are what the layout was computed from, the run's overrides laid over the
// specification; without them the drawing leaves out what a layout does not say: joists, decking, ground, what the ends
// are, and which way a stair goes (it is then drawn from its foot). Brief leaves out the framing, the gap and the smaller
// heights, and sets the lettering larger, for a drawing that stays in view. Height is the greatest height where a scale of
// the series keeps to it; zero is as high as wide.
type ElevationOptions struct {
	Width, Height float64
	Style         length.Style
	Run           layout.Run
	Spec          layout.Spec
	Brief         bool
}

// narrow is the width in millimetres below which there is no room for words beside figures.
const narrow = 140

// sheetMargin is the empty edge round a drawing in millimetres.
const sheetMargin = 2.5

// Elevation draws a run to scale with its datum end at the left: posts, rails, cap, every baluster at its mark, what holds
// the posts, the stair of a rake; clear openings, post centres from the datum, and heights from their one reference. The
// outlines of posts and bays carry the ids of their places (run id, then /P3 or /B2), so that a page can link them. A bay
// that could not be laid out or is at odds with a figure is hatched in red and named. No two texts overlap: on a long run
// labels and figures are thinned, and the tables beside the drawing have them all.
func Elevation(l layout.Layout, o ElevationOptions) Sheet {
	if o.Height <= 0 {
		o.Height = o.Width
	}
	if l.Stair != nil && !o.Brief {
		return flightSheet(l, o)
	}
	var s Sheet
	for _, den := range scales(o.Style) {
		s = newElevation(l, o, den, 1).sheet()
		if o.Brief {
			// Lettering of a drawing in view keeps its share of the height.
			s = newElevation(l, o, den, math.Min(math.Max(s.Height*0.052/figureType, 1), 2.4)).sheet()
		}
		if o.holds(s) {
			break
		}
	}
	return s
}

// holds says whether a sheet keeps to the paper.
func (o ElevationOptions) holds(s Sheet) bool { return s.Width <= o.Width && s.Height <= o.Height }

// Type sizes in millimetres.
const (
	labelType  = 3.5
	figureType = 3.2
	wordType   = 2.6
)

// elevation is a drawing in the making. Places are in millimetres of the real thing, x in plan from the datum and z
// upwards from the decking, or from the foot of a stair; items are in millimetres of paper with their origin there.
type elevation struct {
	l     layout.Layout
	o     ElevationOptions
	den   float64
	size  float64 // multiplies type sizes
	posts map[int]layout.Post
	bays  []bayView

	slope, at0 float64 // the reference line: its height over the datum and its rise to one of run
	low, high  float64 // extent of the guard in x, cap included

	together bool // some clear openings are dimensioned together

	thrift  thrift // of the words of a flight
	missing bool   // a post of a flight is without its name, or without a mark on a face that was to be lettered

	pad
}

// bayView is a bay with its place on the drawing.
type bayView struct {
	layout.Bay
	from, to float64       // faces of its opening as planned
	planned  length.Length // between them
	odds     string        // what is said of it in red, may be empty
}

func newElevation(l layout.Layout, o ElevationOptions, den, size float64) *elevation {
	e := &elevation{l: l, o: o, den: den, size: size, posts: map[int]layout.Post{}}
	for _, p := range l.Posts {
		e.posts[p.Number] = p
	}
	if st := l.Stair; st != nil && st.Tread > 0 {
		e.slope = float64(st.Riser) / float64(st.Tread)
		e.at0 = mm(st.Riser)
		if e.o.Run.Down() {
			e.slope, e.at0 = -e.slope, e.stairTop()
		}
		e.at0 -= e.slope * mm(st.NosingFrom)
	}
	odds := map[string]string{}
	for _, p := range l.Problems {
		if p.Fatal {
			odds[p.Place] = "not laid out"
		} else if odds[p.Place] == "" {
			odds[p.Place] = "at odds"
		}
	}
	for _, b := range l.Bays {
		v := bayView{Bay: b, odds: odds[b.Label]}
		near, far := e.wallFace(false), e.wallFace(true)
		if from, ok := e.posts[b.FromPost]; ok {
			near = from.Face + from.Width
		}
		if to, ok := e.posts[b.ToPost]; ok {
			far = to.Face
		}
		v.from, v.to, v.planned = mm(near), mm(far), far-near
		e.bays = append(e.bays, v)
	}
	e.low, e.high = e.capEnds()
	return e
}

// stairTop is the height of the landing over the foot, the sum of the risers as drawn.
func (e *elevation) stairTop() float64 { return float64(e.l.Stair.Risers) * mm(e.l.Stair.Riser) }

// capEnds is where the cap rail begins and ends in plan, or the run where there is no cap.
func (e *elevation) capEnds() (low, high float64) {
	low, high = mm(e.wallFace(false)), mm(e.wallFace(true))
	if n := len(e.l.Posts); n > 0 {
		a, b := e.l.Posts[0], e.l.Posts[n-1]
		if !e.wallAt(true) {
			low = mm(a.Face)
		}
		if !e.wallAt(false) {
			high = mm(b.Face + b.Width)
		}
	}
	if e.through() || len(e.l.Cap) == 0 {
		return low, high
	}
	return mm(e.l.CapFrom), mm(e.l.CapTo)
}

// through says whether the posts pass through the cap.
func (e *elevation) through() bool { return e.l.Heights.PostTop > e.l.Heights.Finished }

// sheet puts the parts together, the things first, then the lettering.
func (e *elevation) sheet() Sheet {
	e.things()
	e.labels()
	e.heights()
	e.groundName()
	e.steps()
	ball := e.ball()
	e.faceList()
	e.rake(ball)
	e.lift()
	e.centres(e.clears(e.bottom() + 2))
	return e.trim(Sheet{
		Scale: e.scale().name(), Title: "Elevation of " + e.l.Label, Alt: e.alt(),
	})
}

// things draws what is built and what it stands in, without any lettering.
func (e *elevation) things() {
	e.ground()
	e.framing()
	e.stairs()
	for _, b := range e.bays {
		e.bay(b)
	}
	e.cap()
	e.handrail()
	for _, p := range e.l.Posts {
		e.post(p)
	}
}

// scale is the scale of the drawing.
func (e *elevation) scale() scale { return scale{den: e.den, style: e.o.Style, size: e.size} }

// alt says what the drawing shows.
func (e *elevation) alt() string {
	built := 0
	for _, b := range e.bays {
		if b.Built != nil {
			built++
		}
	}
	h := e.l.Heights
	return fmt.Sprintf("%s, %s run of %s with its datum end at the left: %d posts, %d bays, %d of them as built. Finished top %s above %s.",
		e.l.Label, e.l.Kind, e.text(e.l.Length), len(e.l.Posts), len(e.bays), built, e.text(h.Finished), h.Datum)
}

func (e *elevation) text(l length.Length) string { return l.Format(e.o.Style) }

// figure is a length in a row of figures. Millimetres stand without their mark, as the scale names them.
func (e *elevation) figure(l length.Length) string {
	switch {
	case l == 0:
		return "0"
	case e.o.Style == length.Metric:
		return l.FormatBare(e.o.Style)
	}
	return e.text(l)
}

// mm is a length in millimetres, for drawing.
func mm(l length.Length) float64 { return l.Millimetres() }
