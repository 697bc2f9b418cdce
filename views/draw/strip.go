package draw

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// Sizes of a mark strip in millimetres on paper.
const (
	stripTick   = 2.2  // a mark's line above the rail
	stripBefore = 13.6 // room for the word at the datum end
	stripGap    = 4.0  // between two rows
	stripRow    = 4.4  // from one line of words to the next
	stripRows   = 40   // at most; no sensible rail comes near it
)

// StripOptions say how a mark strip is drawn. Width is the paper there is, in millimetres. Longest is the longest of the rails that are
// drawn together, so that they are to one scale; zero is this rail's own length. Names are the rails that the strip is for, in words.
// Brief is for a page with several strips: what the tape hooks on is left out, and what stands under the rail keeps to one line.
type StripOptions struct {
	Width   float64
	Longest length.Length
	Style   length.Style
	Names   string
	Brief   bool
}

// Strip draws one rail as a bar to scale with its datum end at the left, every baluster or other member on it with the figure of its mark over it, as the
// layout has it. A plumb line leans as it does on the rail. Marks that stand too close for figures in one row stand in two, then upright;
// where that is not enough, the rail goes on in further rows of the same sheet. A rail without length gives an empty sheet.
func Strip(s layout.Strip, o StripOptions) Sheet {
	if s.Rail.Cut <= 0 {
		return Sheet{Width: o.Width, Height: 2 * sheetMargin, Title: "Marks, " + o.Names, Alt: stripAlt(s, o)}
	}
	for rows := 1; ; rows++ {
		v := newStrip(s, o, rows)
		if v.roomy() || rows >= stripRows {
			return v.sheet()
		}
	}
}

// Strips draws the mark strips of a run to one scale: for each group of layout.Alike, in its order, one for rails with the same marks, or
// one for each rail; none for bays that have no mark along their rails. run and spec are those that l was computed from, the run's
// overrides laid over the job's. Names and Longest follow from the layout.
func Strips(l layout.Layout, run layout.Run, spec layout.Spec, o StripOptions) [][]Sheet {
	groups := layout.Alike(l)
	strips := make([][]layout.Strip, len(groups))
	for i, group := range groups {
		strips[i] = layout.Strips(l, group[0], run, spec)
		for _, s := range strips[i] {
			if len(s.Marks) > 0 {
				o.Longest = max(o.Longest, s.Rail.Cut)
			}
		}
	}
	sheets := make([][]Sheet, len(groups))
	for i, group := range groups {
		labels := make([]string, len(group))
		for n, b := range group {
			labels[n] = b.Label
		}
		for _, alike := range sameMarks(strips[i]) {
			rails := make([]string, len(alike))
			for n, s := range alike {
				rails[n] = s.Which
			}
			o.Names = layout.Series(labels) + " " + strings.Join(rails, " and ")
			sheets[i] = append(sheets[i], Strip(alike[0], o))
		}
	}
	return sheets
}

// sameMarks groups the strips of a bay that are marked and cut alike; those without a mark are left out.
func sameMarks(strips []layout.Strip) [][]layout.Strip {
	var groups [][]layout.Strip
	for _, s := range strips {
		switch n := len(groups) - 1; {
		case len(s.Marks) == 0:
		case n >= 0 && slices.Equal(groups[n][0].Marks, s.Marks) && groups[n][0].Rail.Cut == s.Rail.Cut:
			groups[n] = append(groups[n], s)
		default:
			groups = append(groups, []layout.Strip{s})
		}
	}
	return groups
}

// stripSetting is how the figures of a strip stand, and their type size.
type stripSetting struct {
	size             float64
	twoRows, upright bool
}

// stripSettings are tried in this order, those of a brief strip without the upper row: several stand on one page.
var stripSettings = []stripSetting{{size: 4}, {size: figureType}, {size: figureType, twoRows: true}, {size: figureType, upright: true}}

var briefSettings = []stripSetting{{size: 4}, {size: figureType}, {size: 2.8}, {size: figureType, twoRows: true}, {size: figureType, upright: true}}

// strip is a mark strip in the making. Along the rail it counts real millimetres from the datum end's upper corner.
type strip struct {
	s       layout.Strip
	o       StripOptions
	scale   scale
	parts   [][2]float64 // where each row of the drawing begins and ends along the rail
	setting stripSetting
	pad
}

func newStrip(s layout.Strip, o StripOptions, rows int) *strip {
	v := &strip{s: s, o: o, parts: stripParts(s, rows)}
	from, to := v.reach()
	own := math.Max(v.parts[0][1]-from, to-v.parts[len(v.parts)-1][0])
	for _, p := range v.parts {
		own = math.Max(own, p[1]-p[0])
	}
	longest := math.Max(own, math.Max(mm(o.Longest), to-from)/float64(len(v.parts)))
	settings := stripSettings
	if o.Brief {
		settings = briefSettings
	}
	// The scale goes by the largest figures, and of a rail in rows by upright ones, which take the least of their length.
	v.setting = settings[0]
	if len(v.parts) > 1 {
		v.setting = settings[len(settings)-1]
	}
	fits := func(along float64) bool {
		return (along+math.Abs(v.drop()))/v.scale.den+v.overhang() <= o.Width-2*sheetMargin-stripBefore
	}
	for _, den := range scales(o.Style) {
		if v.scale = (scale{den: den, style: o.Style, size: 1}); fits(longest) {
			break
		}
	}
	for _, v.setting = range settings {
		if v.roomy() && fits(own) {
			break
		}
	}
	return v
}

// stripParts cuts the rail into rows between its marks, each with as many of them.
func stripParts(s layout.Strip, rows int) [][2]float64 {
	each := (len(s.Marks) + rows - 1) / rows
	var parts [][2]float64
	from := 0.0
	for i := each; each > 0 && i < len(s.Marks); i += each {
		to := mm(s.Marks[i-1]+s.Marks[i]) / 2
		parts = append(parts, [2]float64{from, to})
		from = to
	}
	return append(parts, [2]float64{from, mm(s.Long())})
}

// reach is where the drawing begins and ends along the rail: at its ends on either face, or at a mark before or past them. On a steep flight the plumb line
// of the first baluster may meet the square end of a rail, and the line of its top edge only beyond.
func (v *strip) reach() (from, to float64) {
	from, to = math.Min(0, mm(v.s.OtherFrom)), mm(v.s.Long())+math.Max(0, mm(v.s.OtherTo))
	if n := len(v.s.Marks); n > 0 {
		from, to = math.Min(from, mm(v.s.Marks[0])), math.Max(to, mm(v.s.Marks[n-1]))
	}
	return from, to
}

// overhang is how far the drawing stands past the end of a row on paper in the setting in hand: the figure of the row's last mark or, of a rail in one
// row, the dimension under it.
func (v *strip) overhang() float64 {
	most := 0.0
	if len(v.parts) == 1 && len(v.s.Marks) > 0 {
		most = slashHalf
	}
	for row, part := range v.parts {
		for i := len(v.s.Marks) - 1; i >= 0; i-- {
			if v.within(i, row) {
				most = math.Max(most, textBox(v.lettered(i, v.on(mm(v.s.Marks[i]), part[1]), 0)).x2)
				break
			}
		}
	}
	return most
}

// drop is how far a plumb line moves towards the datum from the rail's top edge to its bottom edge, in real millimetres.
func (v *strip) drop() float64 { return v.s.Lean() * mm(v.s.Depth) }

// figure is a mark as it is lettered.
func (v *strip) figure(i int) string { return v.s.Lettered(v.s.Marks[i]).FormatBare(v.o.Style) }

// on is a place along the rail on paper, in the row that begins at from.
func (v *strip) on(at, from float64) float64 { return (at - from) / v.scale.den }

// roomy says whether the figures stand apart in the setting in hand.
func (v *strip) roomy() bool {
	for row, part := range v.parts {
		var p pad
		for i := range v.s.Marks {
			if !v.within(i, row) {
				continue
			}
			t := v.lettered(i, v.on(mm(v.s.Marks[i]), part[0]), 0)
			if !p.label(t) {
				return false
			}
			if v.high(i) && !v.clearBelow(i) {
				return false
			}
		}
	}
	return true
}

// within says whether a mark stands in a row.
func (v *strip) within(i, row int) bool {
	at := mm(v.s.Marks[i])
	return (at >= v.parts[row][0] || row == 0) && (at < v.parts[row][1] || row == len(v.parts)-1)
}

// high says whether a mark's figure stands in the upper of two rows.
func (v *strip) high(i int) bool { return v.setting.twoRows && i%2 == 1 }

// clearBelow says whether the line to a figure in the upper row passes between its neighbours in the lower one.
func (v *strip) clearBelow(i int) bool {
	for _, n := range []int{i - 1, i + 1} {
		if n < 0 || n >= len(v.s.Marks) {
			continue
		}
		apart := mm((v.s.Marks[n] - v.s.Marks[i]).Abs()) / v.scale.den
		if apart < TextWidth(v.figure(n), v.setting.size, false)/2+textMargin/2 {
			return false
		}
	}
	return true
}

// lettered is the figure of a mark over the rail's top edge at y.
func (v *strip) lettered(i int, x, y float64) Text {
	t := Text{At: Point{x, y - stripTick - textLift}, Body: v.figure(i), Size: v.setting.size, Anchor: Middle}
	switch {
	case v.setting.upright:
		t.At.X, t.Anchor, t.Angle = x+capHeight*v.setting.size/2, Start, 90
	case v.high(i):
		t.At.Y -= tierHeight * v.setting.size
	}
	return t
}

// sheet draws the strip.
func (v *strip) sheet() Sheet {
	s := Sheet{Title: "Marks, " + v.o.Names, Alt: stripAlt(v.s, v.o), Scale: v.scale.name()}
	y, right := 0.0, 0.0
	for row, part := range v.parts {
		if row > 0 {
			y = v.bottom() + stripGap + v.over()
		}
		v.row(row, y)
		right = math.Max(right, v.on(part[1], part[0]))
	}
	v.under(math.Max(right, v.all().x1+v.o.Width-2*sheetMargin))
	return v.trim(s)
}

// over is the room that the figures of a row take over the rail.
func (v *strip) over() float64 {
	high := 0.0
	for i := range v.s.Marks {
		high = math.Max(high, -textBox(v.lettered(i, 0, 0)).y1)
	}
	return high
}

// row draws one row of the rail with its top edge at y.
func (v *strip) row(row int, y float64) {
	from, to := v.parts[row][0], v.parts[row][1]
	depth, lean, ends := mm(v.s.Depth)/v.scale.den, v.drop()/v.scale.den, v.s.EndLean()*mm(v.s.Depth)/v.scale.den
	left, right := v.on(from, from), v.on(to, from)
	startLean, endLean := lean, lean
	if row == 0 {
		startLean = ends
	}
	if row == len(v.parts)-1 {
		endLean = ends
	}
	v.put(Outline{Points: []Point{{left, y}, {right, y}, {right - endLean, y + depth}, {left - startLean, y + depth}}, Weight: Medium, Fill: Paper})
	if row == 0 {
		v.otherEnd(left, left+mm(v.s.OtherFrom)/v.scale.den, y, y+depth, v.s.OtherFrom < 0)
	}
	if row == len(v.parts)-1 {
		v.otherEnd(right, right+mm(v.s.OtherTo)/v.scale.den, y, y+depth, v.s.OtherTo > 0)
	}
	if row == 0 {
		v.put(Line{A: Point{left, y}, B: Point{left - ends, y + depth}, Weight: Heavy, Tone: Accent},
			Line{A: Point{left, y - stripTick}, B: Point{left, y}, Weight: Heavy, Tone: Accent})
		before, _ := v.reach()
		v.put(Text{At: Point{left - math.Max(ends, -before/v.scale.den) - 1.6, y + depth/2 + capHeight*wordType/2}, Body: "datum end", Size: wordType, Anchor: End, Tone: Accent})
	}
	half := mm(v.s.Member) / v.scale.den / 2
	for i, mark := range v.s.Marks {
		if !v.within(i, row) {
			continue
		}
		x, tick := v.on(mm(mark), from), stripTick
		if v.high(i) {
			tick += tierHeight * v.setting.size
		}
		v.put(
			Outline{Points: []Point{{x - half, y}, {x + half, y}, {x + half - lean, y + depth}, {x - half - lean, y + depth}}, Weight: Hairline, Fill: Wash},
			Line{A: Point{x, y - tick}, B: Point{x, y}, Weight: Light},
			Line{A: Point{x, y}, B: Point{x - lean, y + depth}, Weight: Light})
		v.label(v.lettered(i, x, y))
	}
}

// otherEnd draws where the rail's other face ends that is bevelled in plan: the bevel itself where it is seen, a broken line where the rail hides it.
func (v *strip) otherEnd(at, other, top, bottom float64, seen bool) {
	switch {
	case at == other:
	case seen:
		v.put(Outline{Points: []Point{{at, top}, {other, top}, {other, bottom}, {at, bottom}}, Weight: Light, Fill: Paper})
	default:
		v.put(Line{A: Point{other, top}, B: Point{other, bottom}, Weight: Light, Dash: Hidden})
	}
}

// cut is the rail's length in words; of one that is bevelled in plan along its middle, with the face that is drawn.
func (v *strip) cut() string {
	words := "cut " + v.s.Rail.Cut.Format(v.o.Style)
	if v.s.Face != "" {
		words += " along its middle; drawn and marked on " + v.s.Face
	}
	return words
}

// under sets what stands below the rail: its cut length, which rails, what the tape hooks on, and the scale.
func (v *strip) under(right float64) {
	if v.o.Brief && len(v.parts) == 1 {
		v.underBrief(right)
		return
	}
	y := v.bottom()
	if len(v.parts) == 1 {
		at := func(along float64) Point {
			return Point{v.on(along, 0) - v.s.EndLean()*mm(v.s.Depth)/v.scale.den, y}
		}
		v.put(Dimension{A: at(0), B: at(mm(v.s.Long())), Offset: -5, Text: v.s.Lettered(v.s.Long()).Format(v.o.Style)}.Items()...)
		y = v.bottom()
	}
	y += stripRow
	indent := v.all().x1
	x := indent
	say := func(words string, bold bool) {
		for _, line := range wrapped(words, right-indent, wordType, bold) {
			wide := TextWidth(line, wordType, bold)
			if x > indent && x+wide > right {
				x, y = indent, y+stripRow
			}
			v.put(Text{At: Point{x, y}, Body: line, Size: wordType, Bold: bold})
			x += wide + 2*textMargin
		}
	}
	say(v.o.Names, true)
	switch {
	case len(v.parts) > 1:
		say("C"+v.cut()[1:]+", drawn in "+fmt.Sprint(len(v.parts))+" rows.", false)
	case v.s.Face != "":
		say("C"+v.cut()[1:]+".", false)
	}
	if !v.o.Brief {
		say("Hook the tape on "+v.s.Hook+".", false)
	}
	if !v.scaleBarOf(1, v.scale, x+4, y-barHeight, right) {
		v.scaleBarOf(1, v.scale, indent+2, y+stripRow+1, math.Inf(1))
	}
}

// underBrief keeps the rail's name, its cut length and the scale to one line where they have room.
func (v *strip) underBrief(right float64) {
	y := v.bottom() + barHeight + textLift + wordType
	words := Text{At: Point{v.all().x1, y}, Body: v.o.Names + ", " + v.cut(), Size: wordType, Bold: true}
	if lines := wrapped(words.Body, right-words.At.X, wordType, true); len(lines) > 1 {
		for _, line := range lines[:len(lines)-1] {
			v.put(Text{At: words.At, Body: line, Size: wordType, Bold: true})
			words.At.Y += stripRow
			y += stripRow
		}
		words.Body = lines[len(lines)-1]
	}
	v.put(words)
	bar := v.scale
	bar.short = true
	if !v.scaleBarOf(1, bar, textBox(words).x2+4, y-barHeight, right) {
		v.scaleBarOf(1, bar, words.At.X+2, y+stripRow, math.Inf(1))
	}
}

// wrapped breaks words into lines no wider than room; a word wider than that has a line of its own.
func wrapped(words string, room, size float64, bold bool) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(words) {
		if line != "" && TextWidth(line+" "+word, size, bold) > room {
			lines, line = append(lines, line), ""
		}
		line = strings.TrimPrefix(line+" "+word, " ")
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// stripAlt says every mark in words.
func stripAlt(s layout.Strip, o StripOptions) string {
	marks := make([]string, len(s.Marks))
	for i, m := range s.Marks {
		marks[i] = s.Lettered(m).Format(o.Style)
	}
	return fmt.Sprintf("A rail of %s with %s, from %s: %s.", s.Rail.Cut.Format(o.Style), counted(len(marks), "mark"), s.Hook, strings.Join(marks, ", "))
}
