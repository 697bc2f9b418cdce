// Package draw is the drawing model: a list of lines, outlines, circles and texts on a sheet of paper, made once from a
// layout and written twice, as SVG for the page and as vectors in the PDF.
//
// Coordinates are paper millimetres from the sheet's top left corner, y downwards, so that a text size or a line weight
// means the same on the screen, on the printer and in the pack. Whoever builds a drawing chooses the scale first and
// states it in Sheet.Scale. A drawing must read in black and white: weight and dash carry the meaning, Tone only agrees.
package draw

// Point is a place on the sheet in millimetres.
type Point struct{ X, Y float64 }

// Weight is a drafting line weight.
type Weight int

// Line weights, from the heaviest. The widths in millimetres are in Weight.Millimetres.
const (
	Heavy    Weight = iota // the cut or the thing itself
	Medium                 // visible edges
	Light                  // members behind, balusters
	Hairline               // dimension, extension and centre lines
)

// Millimetres is the pen width of w on paper.
func (w Weight) Millimetres() float64 {
	switch w {
	case Heavy:
		return 0.5
	case Medium:
		return 0.35
	case Light:
		return 0.25
	default:
		return 0.13
	}
}

// Dash is the pattern of a line.
type Dash int

// Line patterns.
const (
	Solid  Dash = iota
	Hidden      // what stands behind or will be covered
	Centre      // centre lines and joist lines
)

// Tone names a colour role; the writer decides the ink. Ink alone must tell the story.
type Tone int

// Colour roles.
const (
	Ink    Tone = iota
	Faint       // paper-grey context: decking, ground, house wall
	Accent      // the green of weathered copper: the place in hand
	Red         // red pencil: what fails
)

// Fill is how a closed outline is filled.
type Fill int

// Fills.
const (
	Empty Fill = iota
	Paper      // opaque paper, hides what is behind
	Wash       // a light tint of the tone
	Hatch      // 45 degree section lines, drawn by the writer inside a convex outline
)

// Line is a straight stroke.
type Line struct {
	A, B   Point
	Weight Weight
	Dash   Dash
	Tone   Tone
}

// Outline is a closed polygon; ID, where set, names the place it stands for (a post or bay), so that a page can link it.
type Outline struct {
	Points []Point
	Weight Weight
	Dash   Dash
	Tone   Tone
	Fill   Fill
	ID     string
}

// Circle is a round: a bolt, a hole, a sphere.
type Circle struct {
	Centre Point
	Radius float64
	Weight Weight
	Dash   Dash
	Tone   Tone
	Fill   Fill
}

// Anchor says which point of a text stands at Text.At.
type Anchor int

// Text anchors, on the baseline.
const (
	Start Anchor = iota
	Middle
	End
)

// Text is one line of lettering. Size is the type size (the em) in millimetres: capitals are 0.7 of it. Angle is degrees
// anticlockwise.
// Fractions such as 3 15/16 stay plain text here; the writers set them as fractions.
type Text struct {
	At     Point
	Body   string
	Size   float64
	Anchor Anchor
	Angle  float64
	Bold   bool
	Tone   Tone
}

// Sheet is one drawing. Alt says in one sentence what the drawing shows, for a reader who cannot see it.
type Sheet struct {
	Width, Height float64
	Scale         string
	Title, Alt    string
	Items         []Item
	// Unmarked says that the marks on the faces of a flight's posts found no room in its elevation: a table beside it must have them.
	Unmarked bool
}

// Item is a Line, Outline, Circle, Text or Modules.
type Item interface{ item() }

func (Line) item()    {}
func (Outline) item() {}
func (Circle) item()  {}
func (Text) item()    {}
