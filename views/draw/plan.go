package draw

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// PlanOptions say how large a plan may be, in millimetres of paper, and how lengths are written. Height zero is as high as wide.
type PlanOptions struct {
	Width, Height float64
	Style         length.Style
}

// Sizes of a plan in millimetres of paper.
const (
	planOffset  = 7    // from the line of posts to its dimension
	wallDepth   = 2.4  // of the house wall's hatching
	wallBeyond  = 9.0  // how far the wall runs on past the guard
	leastPost   = 1.3  // a post is never drawn smaller
	flightGuess = 36.0 // inches: the width of a flight that nobody gave
	outlineGap  = 7.0  // between outlines that are not joined
)

// Plan draws the runs of a job seen from above, to scale: posts with their labels, the length of every run, the house wall, stairs with
// their treads, removable lengths in dashes, turns other than square ones, and the datum end of each run. The outlines of posts
// carry the ids of their places (run id, then /P3), those of runs their run's id. Outlines that are not joined stand one under
// another, or abreast in rows where that lets them be drawn two scales larger. No two texts overlap: on a large job labels are thinned, and the tables
// have them all.
func Plan(p layout.Plan, o PlanOptions) Sheet {
	if o.Height <= 0 {
		o.Height = o.Width
	}
	var s, wide Sheet // wide fitted, in rows, at the scale before
	room := extent(p)
	fits := func(s Sheet) bool { return s.Width <= o.Width && s.Height <= o.Height }
	all := scales(o.Style)
	for i, den := range all {
		// Lettering only adds to the lines of posts: a scale at which these have no room is not tried.
		last := i == len(all)-1
		under, abreast := last || room.under(o, den), last || room.abreast(o, den)
		if !under && !abreast {
			continue
		}
		v := newPlan(p, o, den)
		if under {
			if s = v.sheet(false); fits(s) {
				return s
			}
		}
		if len(wide.Items) > 0 {
			return wide
		}
		if abreast && p.Outlines > 1 {
			if s = v.sheet(true); fits(s) {
				wide = s
			}
		}
	}
	return s
}

// planRoom is the room of the lines of posts in millimetres of the real thing: of the widest and the highest outline, and of all of them
// one under another.
type planRoom struct {
	wide, high, together float64
	outlines             int
}

func extent(p layout.Plan) planRoom {
	rooms := map[int]box{}
	for _, r := range p.Runs {
		b := box{mm(min(r.Start.X, r.End.X)), mm(min(r.Start.Y, r.End.Y)), mm(max(r.Start.X, r.End.X)), mm(max(r.Start.Y, r.End.Y))}
		if had, ok := rooms[r.Outline]; ok {
			b = b.with(had)
		}
		rooms[r.Outline] = b
	}
	room := planRoom{outlines: p.Outlines}
	for n := range p.Outlines { // in order: a sum of fractions depends on it
		b := rooms[n+1]
		room.wide, room.high = math.Max(room.wide, b.x2-b.x1), math.Max(room.high, b.y2-b.y1)
		room.together += b.y2 - b.y1
	}
	return room
}

// under and abreast say whether the lines of posts alone have room at a scale.
func (r planRoom) under(o PlanOptions, den float64) bool {
	return r.wide/den <= o.Width && r.together/den+outlineGap*float64(r.outlines-1) <= o.Height
}

func (r planRoom) abreast(o PlanOptions, den float64) bool {
	return r.wide/den <= o.Width && r.high/den <= o.Height
}

// planView is a plan in the making.
type planView struct {
	pad
	p   layout.Plan
	o   PlanOptions
	den float64
	// unlettered are the labels of posts that found no room.
	unlettered []string
	parts      []*planView // the outlines, each at an origin of its own
}

// newPlan draws the outlines.
func newPlan(p layout.Plan, o PlanOptions, den float64) *planView {
	v := &planView{p: p, o: o, den: den}
	for outline := 1; outline <= p.Outlines; outline++ {
		part := &planView{p: p, o: o, den: den}
		part.outline(slices.DeleteFunc(slices.Clone(p.Runs), func(r layout.PlanRun) bool { return r.Outline != outline }))
		v.parts, v.unlettered = append(v.parts, part), append(v.unlettered, part.unlettered...)
	}
	return v
}

// sheet puts the outlines one under another, or in rows.
func (v *planView) sheet(rows bool) Sheet {
	v.pad = pad{}
	x, y := 0.0, 0.0 // where the next outline of a row begins
	for i, part := range v.parts {
		room := part.all()
		if i > 0 && (!rows || x+room.x2-room.x1 > v.o.Width-2*sheetMargin) {
			x, y = 0, v.bottom()+outlineGap
		}
		for _, it := range part.items {
			v.put(moved(it, x-room.x1, y-room.y1))
		}
		x += room.x2 - room.x1 + outlineGap
	}
	if len(v.items) == 0 {
		v.put(Text{At: Point{}, Body: "No run has been laid out yet.", Size: wordType})
	}
	y = v.bottom() + 6
	left := v.all().x1
	s := scale{den: v.den, style: v.o.Style, size: 1}
	v.scaleBar(s, left+1, y, math.Inf(1))
	v.put(Circle{Centre: Point{left + 2, y + 6.2}, Radius: 0.9, Weight: Medium, Tone: Accent, Fill: Paper},
		Text{At: Point{left + 4.5, y + 7.1}, Body: "datum end of a run; lengths are between post centres, or to the wall", Size: wordType, Tone: Faint})
	for i, line := range wrapped(v.noRoom(), v.o.Width-2*sheetMargin-2, wordType, false) {
		v.put(Text{At: Point{left + 1, y + 11 + float64(i)*wordType*1.35}, Body: line, Size: wordType, Tone: Faint})
	}
	return v.trim(Sheet{Scale: s.name(), Title: "Plan", Alt: v.alt()})
}

// mostNamed is how many posts without a label are named under the plan.
const mostNamed = 12

// noRoom says which posts found no room for their labels; empty where all did.
func (v *planView) noRoom() string {
	switch n := len(v.unlettered); {
	case n == 0:
		return ""
	case n > mostNamed:
		return fmt.Sprintf("%d posts found no room for their labels here: the tables have them.", n)
	}
	return "No room here for the labels of " + strings.Join(v.unlettered, ", ") + "."
}

// alt says what the drawing shows.
func (v *planView) alt() string {
	var says []string
	for _, r := range v.p.Runs {
		says = append(says, r.Says)
	}
	return strings.Join(append(says, v.p.Notes...), " ")
}

// outline draws the runs of one outline, the things first, then the lettering, posts' labels last.
func (v *planView) outline(runs []layout.PlanRun) {
	v.walls(runs)
	for _, r := range runs {
		v.flight(r)
	}
	for _, r := range runs {
		v.guard(r)
	}
	for _, r := range runs {
		v.posts(r)
	}
	for _, r := range runs {
		v.name(r)
	}
	for _, r := range runs {
		v.length(r)
	}
	for _, r := range runs {
		v.turn(r) // clear of the dimensions
	}
	v.labels(runs)
}

// inner is the side of a run that faces the deck or the flight: 1 is the right of the way along.
func (v *planView) inner(r layout.PlanRun) float64 {
	if r.Kind == layout.Rake {
		return float64(r.FlightOn)
	}
	return float64(r.DeckOn)
}

// at is a place on paper.
func (v *planView) at(p layout.PlanPoint) Point { return Point{mm(p.X) / v.den, mm(p.Y) / v.den} }

// ways are the unit vectors of a run on paper: along it, and to its right.
func ways(r layout.PlanRun) (along, right Point) {
	sin, cos := math.Sincos(float64(r.Direction) * math.Pi / 180)
	return Point{cos, sin}, Point{-sin, cos}
}

// by moves a point by so much along and to the right.
func by(p, along, right Point, a, r float64) Point {
	return Point{p.X + along.X*a + right.X*r, p.Y + along.Y*a + right.Y*r}
}

// block is a rectangle about the line from a to b, between two distances to its right.
func block(a, b, right Point, from, to float64) []Point {
	zero := Point{}
	return []Point{by(a, zero, right, 0, from), by(b, zero, right, 0, from), by(b, zero, right, 0, to), by(a, zero, right, 0, to)}
}

// obstacle keeps labels off the line from a to b.
func (v *planView) obstacle(a, b Point, half float64) {
	const step = 2.0
	n := max(1, int(math.Hypot(b.X-a.X, b.Y-a.Y)/step))
	if a.X == b.X || a.Y == b.Y {
		n = 1
	}
	for i := range n {
		f, t := float64(i)/float64(n), float64(i+1)/float64(n)
		x1, x2 := a.X+(b.X-a.X)*f, a.X+(b.X-a.X)*t
		y1, y2 := a.Y+(b.Y-a.Y)*f, a.Y+(b.Y-a.Y)*t
		v.boxes = append(v.boxes, box{math.Min(x1, x2) - half, math.Min(y1, y2) - half, math.Max(x1, x2) + half, math.Max(y1, y2) + half})
	}
}

// walls hatches the house wall at the ends that meet it; ends on one line share one wall.
func (v *planView) walls(runs []layout.PlanRun) {
	type wall struct {
		out       Point // away from the house
		along     Point
		off       float64
		low, high float64
	}
	var all []wall
	add := func(r layout.PlanRun, p Point, sign float64) {
		along, right := ways(r)
		out := Point{along.X * sign, along.Y * sign}
		at, off := p.X*right.X+p.Y*right.Y, p.X*out.X+p.Y*out.Y
		for i, w := range all {
			turned := w.along.X*right.X + w.along.Y*right.Y
			if math.Abs(math.Abs(turned)-1) < 1e-9 && w.out.X*out.X+w.out.Y*out.Y > 0 && math.Abs(w.off-off) < 0.5 {
				at *= turned
				all[i].low, all[i].high = math.Min(w.low, at), math.Max(w.high, at)
				return
			}
		}
		all = append(all, wall{out: out, along: right, off: off, low: at, high: at})
	}
	for _, r := range runs {
		if r.StartWall {
			add(r, v.at(r.Start), 1)
		}
		if r.EndWall {
			add(r, v.at(r.End), -1)
		}
	}
	for _, w := range all {
		place := func(t, d float64) Point {
			return Point{w.along.X*t + w.out.X*(w.off+d), w.along.Y*t + w.out.Y*(w.off+d)}
		}
		a, b := w.low-wallBeyond, w.high+wallBeyond
		v.put(Outline{Points: []Point{place(a, 0), place(b, 0), place(b, -wallDepth), place(a, -wallDepth)}, Weight: Hairline, Tone: Faint, Fill: Hatch},
			Line{A: place(a, 0), B: place(b, 0), Weight: Heavy})
		v.obstacle(place(a, -wallDepth/2), place(b, -wallDepth/2), wallDepth/2)
		t := Text{Body: "house wall", Size: wordType, Anchor: Middle, Tone: Faint}
		for _, off := range []float64{1.4, 3, 5, 8, 12} {
			t.At = place((w.low+w.high)/2, -wallDepth-off)
			t.At.Y += wordType * capHeight / 2
			if math.Abs(w.out.X) > 0.5 { // an upright wall: the words stand beside it
				t.Anchor = End
				if w.out.X < 0 {
					t.Anchor = Start
				}
			}
			if v.label(t) {
				break
			}
		}
	}
}

// flight draws the treads of a stair beside its guard, and which way is down.
func (v *planView) flight(r layout.PlanRun) {
	if r.Treads == 0 || v.otherSide(r) {
		return
	}
	along, right := ways(r)
	side := Point{right.X * float64(r.FlightOn), right.Y * float64(r.FlightOn)}
	wide := mm(r.StairWide) / v.den
	given := r.StairWide > 0
	if !given {
		wide = flightGuess * 25.4 / v.den
	}
	start := by(v.at(r.Start), along, side, mm(r.Nosing)/v.den, 0)
	pace := mm(r.Tread) / v.den
	far := float64(r.Treads) * pace
	for k := range r.Treads + 1 {
		a := by(start, along, side, float64(k)*pace, 0)
		b := by(a, along, side, 0, wide)
		v.put(Line{A: a, B: b, Weight: Light})
		v.obstacle(a, b, 0.2)
	}
	edge := Line{A: by(start, along, side, 0, wide), B: by(start, along, side, far, wide), Weight: Light}
	if !given {
		edge.Dash = Hidden
	}
	v.put(edge)
	// The arrow runs down the middle of the flight.
	from, to := by(start, along, side, pace*0.4, wide/2), by(start, along, side, far-pace*0.4, wide/2)
	back := -1.0
	if !r.Down {
		from, to, back = to, from, 1
	}
	const head = 1.6
	v.put(Line{A: from, B: to, Weight: Medium}, Line{A: to, B: by(to, along, side, back*head, head/2), Weight: Medium}, Line{A: to, B: by(to, along, side, back*head, -head/2), Weight: Medium})
	v.obstacle(from, to, 0.6)
	words := "down"
	if !given {
		words = "down; width of the flight not given"
	}
	tip := by(start, along, side, far, wide/2)
	way := along
	if !r.Down {
		tip, way = by(start, along, side, 0, wide/2), Point{-along.X, -along.Y}
	}
	t := Text{Body: words, Size: wordType}
	for _, off := range []float64{1.4, 3, 5, 8} {
		t.At, t.Anchor = hung(Point{tip.X + way.X*off, tip.Y + way.Y*off}, way, t.Size)
		if v.label(t) {
			break
		}
	}
}

// otherSide says whether a rake of unknown width is the other guard of a flight that is drawn beside its first one.
func (v *planView) otherSide(r layout.PlanRun) bool {
	return r.StairWide == 0 && slices.ContainsFunc(v.p.Runs, func(o layout.PlanRun) bool {
		return o.Outline == r.Outline && o.StairWide > 0 && o.Direction == r.Direction
	})
}

// guard draws the line of a run: two edges, dashed where it lifts out.
func (v *planView) guard(r layout.PlanRun) {
	_, right := ways(r)
	half := math.Max(mm(r.PostDepth)/v.den/4, 0.35)
	o := Outline{Points: block(v.at(r.Start), v.at(r.End), right, -half, half), Weight: Medium, Fill: Paper, ID: r.RunID}
	if r.Kind == layout.Removable {
		o.Dash = Hidden
	}
	v.put(o)
	v.obstacle(v.at(r.Start), v.at(r.End), half+0.3)
}

// turned is a direction turned clockwise by an angle in degrees; paper has y downwards, as the plan does.
func turned(p Point, by float64) Point {
	sin, cos := math.Sincos(by * math.Pi / 180)
	return Point{p.X*cos - p.Y*sin, p.X*sin + p.Y*cos}
}

// posts draws the posts, turned with their run; a shared one once.
func (v *planView) posts(r layout.PlanRun) {
	along, right := ways(r)
	wide, deep := math.Max(mm(r.PostWidth)/v.den, leastPost)/2, math.Max(mm(r.PostDepth)/v.den, leastPost)/2
	for _, p := range r.Posts {
		if p.SharedAs != "" {
			continue
		}
		c := v.at(p.At)
		along, right := turned(along, p.Turned), turned(right, p.Turned)
		v.put(Outline{Points: block(by(c, along, right, -wide, 0), by(c, along, right, wide, 0), right, -deep, deep), Weight: Medium, Fill: Paper, ID: fmt.Sprintf("%s/P%d", r.RunID, p.Number)},
			Line{A: by(c, along, right, -wide, -deep), B: by(c, along, right, wide, deep), Weight: Hairline}, Line{A: by(c, along, right, -wide, deep), B: by(c, along, right, wide, -deep), Weight: Hairline})
		half := math.Max(wide, deep)
		if p.Turned != 0 {
			half = math.Hypot(wide, deep)
		}
		v.boxes = append(v.boxes, box{c.X - half, c.Y - half, c.X + half, c.Y + half})
	}
}
