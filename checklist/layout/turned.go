package layout

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"newelbook/checklist/length"
)

// seat is how a post that two runs share stands to the line of one of them: half of what it takes of that line, and how many degrees off
// square the face stands that the rails of the run meet, positive where the rail is longer on its left.
type seat struct {
	half   length.Length
	skew   float64
	turned float64       // the post from the run, clockwise
	face   length.Length // how wide the face is that the rails meet
	deep   length.Length // how far that face is from the other side of the post
}

// at is the support of a post whose centre stands there.
func (s seat) at(centre length.Length) support {
	return support{near: centre - s.half, width: 2 * s.half, skew: s.skew, turned: s.turned}
}

// seatOf is the seat of a post turned clockwise by an angle from the run's own way. The centre line leaves it through the face
// that it comes to first (plane geometry); a whole number of quarter turns is exact.
func seatOf(wide, deep length.Length, turned float64) seat {
	if wide <= 0 || deep <= 0 {
		return seat{half: wide / 2}
	}
	best := seat{half: -1}
	sides := []length.Length{wide, deep}
	for quarter, side := range sides {
		off := math.Remainder(turned-90*float64(quarter), 180)
		half := side / 2
		if off != 0 {
			cos := math.Cos(off * math.Pi / 180)
			if cos < 1e-9 {
				continue
			}
			half = length.Length(math.Ceil(float64(side) / 2 / cos))
		}
		if best.half < 0 || half < best.half {
			best = seat{half: half, skew: off, face: sides[1-quarter], deep: side}
		}
	}
	return best
}

// turnedBy is how far a post that two runs share is turned from the run that it belongs to, in degrees clockwise: where they turn by a
// whole number of quarters it stands square to both, and otherwise it halves the corner, so that both meet it alike (common practice, no
// source).
func turnedBy(turn int) float64 {
	if turn%90 == 0 {
		return 0
	}
	return float64(turn) / 2
}

// startSeat and endSeat are the seats of the run's end posts; one that this run shares is as big as it stands, and as it is turned.
func (w *work) startSeat() seat {
	if p := w.in.Joint.post; p != nil {
		return seatOf(p.wide, p.deep, p.turned).facing(p.turned, 1)
	}
	return w.seated(0, 1)
}

func (w *work) endSeat() seat {
	j, turned := w.in.Joint, 0.0
	if j.EndRun != "" && !j.EndDoubled {
		turned = turnedBy(j.EndTurn)
	}
	return w.seated(turned, -1)
}

// seated is the seat of a post of the run's own size turned from the run; way is 1 where the run leaves it and -1 where it arrives.
func (w *work) seated(turned, way float64) seat {
	return seatOf(w.spec.PostWidth, w.spec.PostDepth, turned).facing(turned, way)
}

// past is how much of the end of a piece so wide, seen from above, stands past the edge of the face that it meets off square, along that face; nothing where
// all of it lies against the face (plane geometry).
func (s seat) past(across length.Length) length.Length {
	rad := math.Abs(s.skew) * math.Pi / 180
	return max(0, nearestNM(float64(s.deep)/2*math.Tan(rad)+float64(across)/2/math.Cos(rad)-float64(s.face)/2))
}

// facing is the seat as the run meets it.
func (s seat) facing(turned, way float64) seat {
	s.skew *= -way
	s.turned = turned
	return s
}

// railAcross is how wide a rail is seen from above.
func (w *work) railAcross() length.Length { return w.spec.railAcross() }

func (s Spec) railAcross() length.Length {
	if s.RailOrientation == RailFlat {
		return s.RailWidth
	}
	return s.RailThickness
}

// skewOver is how much longer a piece so wide, seen from above, is at its long point than along its middle, where it meets a face off
// square.
func skewOver(skew float64, across length.Length) length.Length {
	return length.Length(math.Ceil(float64(across) / 2 * math.Tan(math.Abs(skew)*math.Pi/180)))
}

// skewed says how an end is cut that meets a turned post.
func (w *work) skewed(end string, skew float64, across length.Length) string {
	side := "left"
	if skew < 0 {
		side = "right"
	}
	return fmt.Sprintf("%s end bevelled %g degrees off square, to lie against the post, long point on the %s seen from the datum, %s past the middle", end, math.Abs(skew), side, w.text(skewOver(skew, across)))
}

// levelCuts says how the ends of a level rail, or of a piece of cap between posts, are cut that is so wide seen from above.
func (w *work) levelCuts(r Rail, across length.Length) string {
	var cuts []string
	if r.SkewFrom != 0 {
		cuts = append(cuts, w.skewed("datum", r.SkewFrom, across))
	}
	if r.SkewTo != 0 {
		cuts = append(cuts, w.skewed("far", r.SkewTo, across))
	}
	if len(cuts) == 0 {
		return EndSquare
	}
	return strings.Join(cuts, "; ") + "; length along the middle"
}

// turn notes on a post how it is turned from the run; one at a whole number of quarters stands square to it.
func (w *work) turn(p *Post, s support) {
	if s.skew == 0 {
		return
	}
	sin, cos := math.Sincos(s.turned * math.Pi / 180)
	p.Turned = s.turned
	wide, deep := w.postSides(*p)
	p.Spread = length.Length(math.Ceil(float64(wide)*math.Abs(cos) + float64(deep)*math.Abs(sin)))
	if w.run.Kind == Rake {
		w.problem(p.Label, "turn", "%s is turned %g degrees from the flight, so its rails meet it off square in both ways: lay out the ends of the rails that meet it in place.", p.Label, math.Abs(s.turned))
		return
	}
	if past := seatOf(wide, deep, s.turned).past(w.railAcross()); past > 0 && !Touches(past, w.spec.Grid) {
		end := nearestNM(float64(w.railAcross()) / math.Cos(s.skew*math.Pi/180))
		w.problem(p.Label, "turn", "Of the bevelled end of this run's rails, %s across, %s would stand past the edge of %s and bear on nothing: set two posts there, or a wider one.", w.text(end), w.text(past), cmp.Or(p.SharedAs, p.Label))
	}
}

// turnedWords says of a post turned into a corner how it stands.
func (w *work) turnedWords(p Post) string {
	if p.Turned == 0 {
		return ""
	}
	text := fmt.Sprintf(" It is turned %g degrees from this run", math.Abs(p.Turned))
	if w.run.Join != JoinFirst || p.Number != 1 {
		text += ", to halve the corner"
	}
	if first := w.run.Join == JoinFirst && p.Number == 1; first {
		return text + fmt.Sprintf(", and held by the framing under %s.", w.run.StartAt)
	}
	if w.spec.PostMount == MountBase {
		return text + "."
	}
	return text + ": no edge meets it square, and its blocking and fixings are not worked out. Refer it (common practice, no source)."
}
