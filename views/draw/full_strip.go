package draw

import (
	"fmt"
	"math"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// FullPaper is a sheet of paper, lying on its side, that a strip at full size is spread over. Lengths are millimetres of paper, Pitch
// from the left end of one sheet to that of the next: Width less twice Margin is Pitch and Overlap. Pitches are whole points, so that
// sheets join where they should in a file that counts in hundredths of a point.
type FullPaper struct {
	Width, Height, Margin, Pitch, Overlap float64
}

// Papers of strips at full size.
var (
	FullA4     = FullPaper{Width: 297, Height: 210, Margin: 13.5, Pitch: 254, Overlap: 16}
	FullLetter = FullPaper{Width: 279.4, Height: 215.9, Margin: 12.7, Pitch: 228.6, Overlap: 25.4}
)

// FullStripOptions say what a strip at full size is for: whose rail, of which job and layout, all in words.
type FullStripOptions struct {
	Paper       FullPaper
	Style       length.Style
	Job, Layout string
}

// Places and sizes on a sheet of a full-size strip in millimetres of paper.
const (
	fullTop     = 84.0 // from the top of the paper to the rail's top edge
	fullDeepest = 89.0 // as much of a rail's depth as there is room for
	fullTick    = 12.0 // a mark's line beyond the rail's top edge
	fullLead    = 14.0 // least room before the datum end
	fullTail    = 1.0  // least room behind the far end
	fullTarget  = 2.0  // radius of a target
	fullProof   = 23.0 // from the bottom of the paper to the proof bar
	fullProofAt = 19.05
	fullTitle   = 6.5
	fullWarning = 4.2
	fullFigure  = 4.2
	fullWords   = 3.3
	fullLine    = 4.4 // from one line of words to the next
)

// ProofBar is the length of the bar that tells whether a sheet came out at its true size: 6 in or 150 mm.
func ProofBar(style length.Style) length.Length {
	if style == length.Metric {
		return 150 * length.Millimetre
	}
	return 6 * length.Inch
}

// FullStrip draws a rail's marks at full size, spread over as many sheets as they take, in order from the datum end. Lines are clipped at
// the margins; what lies in the overlap of two sheets is on both, and a join line with targets stands in its middle. Every sheet says
// which rail of which job and layout it is, its number, how it is used, and how to prove that it was printed at its true size. A rail
// without length gives no sheet.
func FullStrip(s layout.Strip, o FullStripOptions) []Sheet {
	if s.Rail.Cut <= 0 {
		return nil
	}
	f := fullStrip{s: s, o: o, depth: math.Min(mm(s.Depth), fullDeepest)}
	drop := s.EndLean() * f.depth
	before, past := math.Max(math.Max(drop, 0), -mm(s.OtherFrom)), math.Max(math.Max(-drop, 0), mm(s.OtherTo))
	if n := len(s.Marks); n > 0 { // a mark may lie off a square end, as in a strip to scale
		before, past = math.Max(before, -mm(s.Marks[0])), math.Max(past, mm(s.Marks[n-1]-s.Long()))
	}
	f.lead = math.Ceil((fullLead+before)/6.35) * 6.35
	if o.Style == length.Metric {
		f.lead = math.Ceil(fullLead + before)
	}
	all := f.lead + mm(s.Long()) + past + fullTail
	f.sheets = 1 + int(math.Ceil(math.Max(all-o.Paper.Pitch-o.Paper.Overlap, 0)/o.Paper.Pitch))
	f.tight = f.crowded()
	var sheets []Sheet
	for n := range f.sheets {
		sheets = append(sheets, f.sheet(n))
	}
	return sheets
}

// fullStrip is a full-size strip in the making.
type fullStrip struct {
	s      layout.Strip
	o      FullStripOptions
	depth  float64 // of the rail as drawn
	lead   float64 // from the left end of the first sheet to the datum end
	sheets int
	tight  bool // the figures stand upright
}

// tile is one sheet of it.
type tile struct {
	fullStrip
	n int // counted from 0
	pad
}

// at is where a place along the rail stands on the paper of this sheet.
func (t *tile) at(along float64) float64 {
	return t.o.Paper.Margin + t.lead + along - float64(t.n)*t.o.Paper.Pitch
}

// left and right are the margins of the sheet.
func (t *tile) left() float64  { return t.o.Paper.Margin }
func (t *tile) right() float64 { return t.o.Paper.Width - t.o.Paper.Margin }

// name is the number and the figure of a mark.
func (f *fullStrip) name(i int) (number, figure string) {
	return fmt.Sprint(i + 1), f.s.Lettered(f.s.Marks[i]).FormatBare(f.o.Style)
}

// crowded says whether some figure has no room beside its neighbours.
func (f *fullStrip) crowded() bool {
	for i := 1; i < len(f.s.Marks); i++ {
		_, before := f.name(i - 1)
		_, figure := f.name(i)
		if (TextWidth(before, fullFigure, false)+TextWidth(figure, fullFigure, false))/2+2*textMargin > mm(f.s.Marks[i]-f.s.Marks[i-1]) {
			return true
		}
	}
	return false
}

func (f fullStrip) sheet(n int) Sheet {
	t := &tile{fullStrip: f, n: n}
	of := fmt.Sprintf("Sheet %d of %d", n+1, f.sheets)
	t.head(of)
	t.rail()
	for _, join := range []int{n, n + 1} {
		if join > 0 && join < f.sheets {
			t.join(join)
		}
	}
	t.proof()
	return Sheet{
		Width: f.o.Paper.Width, Height: f.o.Paper.Height, Scale: "1:1", Title: f.s.Rail.Label + ", " + of, Items: t.items,
		Alt: fmt.Sprintf("%s of the marks of %s at full size. %s", of, f.s.Rail.Label, stripAlt(f.s, StripOptions{Style: f.o.Style})),
	}
}

// head says which rail and sheet this is, warns, and says how the strip is used.
func (t *tile) head(of string) {
	left, right := t.left(), t.right()
	number := Text{At: Point{right, 16}, Body: of, Size: fullTitle, Anchor: End, Bold: true}
	t.put(number,
		fitted(Text{At: Point{left, 16}, Body: t.s.Rail.Label, Size: fullTitle, Bold: true}, textBox(number).x1-left-4*textMargin),
		fitted(Text{At: Point{left, 22}, Size: fullWords, Body: fmt.Sprintf("%s. %s. Full size, 1:1. Rail cut %s%s, %s. The datum end is at the left of sheet 1.",
			t.o.Job, t.o.Layout, t.s.Rail.Cut.Format(t.o.Style), t.along(), counted(len(t.s.Marks), "mark"))}, right-left),
		Outline{Points: []Point{{left, 25}, {right, 25}, {right, 32.5}, {left, 32.5}}, Weight: Medium})
	t.put(Text{At: Point{left + 2.5, 30.3}, Body: t.warning(), Size: fullWarning, Bold: true})
	for i, line := range wrapped(t.use(), right-left, fullWords, false) {
		t.put(Text{At: Point{left, 37.5 + float64(i)*fullLine}, Body: line, Size: fullWords})
	}
}

// warning is what is to be done before a sheet is used.
func (t *tile) warning() string {
	return fmt.Sprintf("Measure the proof bar on this sheet before use: it must be %s. Print at 100 %%, never “fit to page”.", ProofBar(t.o.Style).Format(t.o.Style))
}

// along says along what a rail is so long that is bevelled in plan, and how long the face is that the strip is for.
func (t *tile) along() string {
	if t.s.Face == "" {
		return ""
	}
	return " along its middle, " + t.s.Lettered(t.s.Long()).Format(t.o.Style) + " on this face"
}

// bevels says which face of a rail that is bevelled in plan the strip is for, and how the other one differs.
func (t *tile) bevels() string {
	if t.s.Face == "" {
		return ""
	}
	says := " The rail is bevelled: this strip is for " + t.s.Face + " alone, and is laid to the cut as it stands on that face; the other face’s ends are drawn thin."
	if off := t.s.OtherFrom; off != 0 {
		more := "less"
		if off < 0 {
			more = "more"
		}
		says += fmt.Sprintf(" From the other face’s own cut every mark is %s %s.", off.Abs().Round(t.s.Grid).Format(t.o.Style), more)
	}
	return says
}

// use says how the strip is laid on the rail.
func (t *tile) use() string {
	says := "Lay the strip on the rail’s face that has the datum end to the left, its upper line on the top edge, its datum line on the datum-end cut. " +
		"Marks are from " + t.s.Hook + "; the broken lines beside each are the " + t.s.Noun + "’s edges."
	says += t.bevels()
	if t.s.Run > 0 {
		says += fmt.Sprintf(" Each %s stands plumb, %.1f degrees off square.", t.s.Noun, math.Abs(math.Atan(t.s.Lean()))*180/math.Pi)
	}
	if t.depth < mm(t.s.Depth) {
		says += fmt.Sprintf(" The rail is %s deep; only its upper part is drawn: carry the lines on.", t.s.Depth.Format(t.o.Style))
	}
	return says
}

// rail draws what of the rail and its marks lies on this sheet.
func (t *tile) rail() {
	cut, ends := mm(t.s.Long()), t.s.EndLean()*t.depth
	bottom := fullTop + t.depth
	t.stroke(Line{A: Point{t.at(0), fullTop}, B: Point{t.at(cut), fullTop}, Weight: Medium})
	low := Line{A: Point{t.at(0) - ends, bottom}, B: Point{t.at(cut) - ends, bottom}, Weight: Medium}
	if t.depth < mm(t.s.Depth) {
		low.Weight, low.Dash = Light, Hidden
	}
	t.stroke(low)
	for _, along := range []float64{0, cut} {
		x := t.at(along)
		t.stroke(Line{A: Point{x, fullTop - fullTick}, B: Point{x, fullTop}, Weight: Heavy})
		t.stroke(Line{A: Point{x, fullTop}, B: Point{x - ends, bottom}, Weight: Heavy})
	}
	t.otherEnd(0, mm(t.s.OtherFrom), t.s.OtherFrom < 0)
	t.otherEnd(cut, mm(t.s.OtherTo), t.s.OtherTo > 0)
	if x := t.at(0); x >= t.left() {
		t.put(t.beside(Text{At: Point{X: x - math.Max(math.Max(ends, 0), -mm(t.s.OtherFrom)) - 2.5}, Body: "DATUM END", Size: fullFigure, Angle: 90, Bold: true}, ends >= 0))
	}
	if x := t.at(cut) + math.Max(math.Max(-ends, 0), mm(t.s.OtherTo)); x >= t.left() && x <= t.right() {
		t.put(t.beside(Text{At: Point{X: x + 2.5 + capHeight*fullWords}, Body: "far end", Size: fullWords, Angle: 90}, ends <= 0))
	}
	half, drop := mm(t.s.Member)/2, t.s.Lean()*t.depth
	for i, mark := range t.s.Marks {
		x := t.at(mm(mark))
		for _, edge := range []float64{x - half, x + half} {
			t.stroke(Line{A: Point{edge, fullTop - fullTick/2}, B: Point{edge, fullTop}, Weight: Hairline, Dash: Hidden})
			t.stroke(Line{A: Point{edge, fullTop}, B: Point{edge - drop, bottom}, Weight: Hairline, Dash: Hidden})
		}
		t.stroke(Line{A: Point{x, fullTop - fullTick}, B: Point{x, fullTop}, Weight: Light})
		t.stroke(Line{A: Point{x, fullTop}, B: Point{x - drop, bottom}, Weight: Light})
		if x >= t.left() && x <= t.right() {
			t.letter(i, x)
		}
	}
}

// otherEnd draws where the other face of a rail ends that is bevelled in plan: broken where this face hides it.
func (t *tile) otherEnd(along, past float64, seen bool) {
	if past == 0 {
		return
	}
	dash, bottom := Hidden, fullTop+t.depth
	if seen {
		dash = Solid
		for _, y := range []float64{fullTop, bottom} {
			t.stroke(Line{A: Point{t.at(along), y}, B: Point{t.at(along + past), y}, Weight: Light})
		}
	}
	t.stroke(Line{A: Point{t.at(along + past), fullTop}, B: Point{t.at(along + past), bottom}, Weight: Light, Dash: dash})
}

// beside stands an upright text at the rail's bottom edge, or at its top edge: where the end that it names comes nearest to it.
func (t *tile) beside(text Text, atBottom bool) Text {
	text.At.Y = fullTop + t.depth
	if !atBottom {
		text.At.Y = fullTop + TextWidth(text.Body, text.Size, text.Bold)
	}
	return text
}

// letter sets a mark's number and figure over its line.
func (t *tile) letter(i int, x float64) {
	number, figure := t.name(i)
	const y = fullTop - fullTick - textLift
	if t.tight {
		t.label(Text{At: Point{x + capHeight*fullFigure/2, y}, Body: number + ": " + figure, Size: fullFigure, Angle: 90})
		return
	}
	half := TextWidth(figure, fullFigure, false) / 2
	x = math.Min(math.Max(x, t.left()+half), t.right()-half)
	t.label(Text{At: Point{x, y}, Body: figure, Size: fullFigure, Anchor: Middle})
	t.label(Text{At: Point{x, y - tierHeight*fullFigure}, Body: number, Size: fullFigure, Anchor: Middle, Bold: true})
}

// stroke draws what of a line lies between the margins.
func (t *tile) stroke(l Line) {
	left, right := t.left(), t.right()
	if l.A.X == l.B.X {
		if l.A.X >= left && l.A.X <= right {
			t.put(l)
		}
		return
	}
	from, to := (left-l.A.X)/(l.B.X-l.A.X), (right-l.A.X)/(l.B.X-l.A.X)
	if from > to {
		from, to = to, from
	}
	from, to = math.Max(from, 0), math.Min(to, 1)
	if from >= to {
		return
	}
	on := func(f float64) Point { return Point{l.A.X + f*(l.B.X-l.A.X), l.A.Y + f*(l.B.Y-l.A.Y)} }
	l.A, l.B = on(from), on(to)
	t.put(l)
}

// join draws the line on which two neighbouring sheets meet, with its targets: it is the same place of the rail on both.
func (t *tile) join(number int) {
	x := t.left() + t.o.Paper.Overlap/2
	words := Text{Body: fmt.Sprintf("join %d: lay this on sheet %d, target on target", number, number), Size: fullWords}
	if number > t.n {
		x += t.o.Paper.Pitch
		words = Text{Body: fmt.Sprintf("join %d: sheet %d goes on here", number, number+1), Size: fullWords, Anchor: End}
	}
	low := fullTop + t.depth + 3*fullTarget
	t.put(Line{A: Point{x, fullTop - 5*fullTarget}, B: Point{x, low + 2*fullTarget}, Weight: Hairline, Dash: Centre})
	for _, y := range []float64{fullTop - 3*fullTarget, low} {
		t.put(Circle{Centre: Point{x, y}, Radius: fullTarget, Weight: Hairline}, Line{A: Point{x - 2*fullTarget, y}, B: Point{x + 2*fullTarget, y}, Weight: Hairline})
	}
	words.At = Point{x + 3*fullTarget, low + capHeight*fullWords/2}
	if number > t.n {
		words.At.X = x - 3*fullTarget
	}
	t.label(words)
}

// proof draws the proof bar.
func (t *tile) proof() {
	y := t.o.Paper.Height - fullProof
	step, labels := 25.4, []string{"0", `1"`, `2"`, `3"`, `4"`, `5"`, `6"`}
	if t.o.Style == length.Metric {
		step, labels = 25, []string{"0", "25", "50", "75", "100", "125", "150 mm"}
	}
	t.put(ScaleBar(Point{fullProofAt, y}, step, labels)...)
	long := mm(ProofBar(t.o.Style))
	for _, x := range []float64{fullProofAt, fullProofAt + long} {
		t.put(Line{A: Point{x, y}, B: Point{x, y + 3*barHeight}, Weight: Light})
	}
	x := fullProofAt + long + 8
	for i, line := range wrapped("Proof bar: "+ProofBar(t.o.Style).Format(t.o.Style)+" from end to end. Do not use a sheet on which it is not. Check the first and the last mark with a tape from the datum end.", t.right()-x, fullWords, false) {
		t.put(Text{At: Point{x, y - 2 + float64(i)*fullLine}, Body: line, Size: fullWords})
	}
}

// fitted is a text set smaller where it would be wider than room.
func fitted(t Text, room float64) Text {
	if wide := TextWidth(t.Body, t.Size, t.Bold); wide > room {
		t.Size *= room / wide
	}
	return t
}

// counted counts a noun.
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
