package jobs

import (
	"errors"
	"strconv"
	"strings"
)

// Bounds of a drawn signature. It is drawn in a field 1,000 wide and 300 high; its unit has no meaning but the shape.
const (
	SignatureWide = 1000
	SignatureHigh = 300
	mostPoints    = 4000
)

// errSignature means that a text is no drawn signature.
var errSignature = errors.New("jobs: not a drawn signature")

// Strokes are the lines of a drawn signature, each a list of points from the top left corner of its field, x then y.
type Strokes [][][2]int

// ParseStrokes reads a signature as it is kept: points "x,y" apart by a space, strokes apart by a semicolon, whole numbers within the
// field. An empty text is no signature and no error. A drawn signature proves no more of who made it than a typed name does.
func ParseStrokes(text string) (Strokes, error) {
	if text == "" {
		return nil, nil
	}
	var all Strokes
	points := 0
	for _, stroke := range strings.Split(text, ";") {
		var line [][2]int
		for _, point := range strings.Split(stroke, " ") {
			x, y, ok := strings.Cut(point, ",")
			a, errA := strconv.Atoi(x)
			b, errB := strconv.Atoi(y)
			if points++; !ok || errA != nil || errB != nil || a < 0 || a > SignatureWide || b < 0 || b > SignatureHigh || points > mostPoints {
				return nil, errSignature
			}
			line = append(line, [2]int{a, b})
		}
		all = append(all, line)
	}
	return all, nil
}
