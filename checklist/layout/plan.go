package layout

import (
	"cmp"
	"fmt"
	"math"

	"newelbook/checklist/length"
)

// PlanPoint is a place seen from above: X along the first run of its outline, Y to the right of it. The datum of that run's first
// post is the origin.
type PlanPoint struct {
	X length.Length `json:"x"`
	Y length.Length `json:"y"`
}

// PlanPost is a post in plan. A post that two runs share stands in both, with the label of the first as SharedAs in the second.
type PlanPost struct {
	Number   int       `json:"number"`
	Label    string    `json:"label"`
	SharedAs string    `json:"shared_as,omitempty"`
	At       PlanPoint `json:"at"`               // its centre
	Turned   float64   `json:"turned,omitempty"` // degrees clockwise from the run
}

// PlanRun is a run in plan.
type PlanRun struct {
	RunID     string     `json:"run_id"`
	Label     string     `json:"label"`
	Kind      RunKind    `json:"kind"`
	Outline   int        `json:"outline"`   // runs of one outline are joined; counted from 1
	Direction int        `json:"direction"` // degrees clockwise from the first run of the outline, 0 to 359
	Turn      int        `json:"turn"`      // degrees from the run that it starts at
	Start     PlanPoint  `json:"start"`     // first post centre, or the wall
	End       PlanPoint  `json:"end"`       // last post centre, or the wall
	Posts     []PlanPost `json:"posts"`
	StartWall bool       `json:"start_wall"`
	EndWall   bool       `json:"end_wall"`
	// PostWidth and PostDepth are the sizes of its posts along and across the run.
	PostWidth length.Length `json:"post_width"`
	PostDepth length.Length `json:"post_depth"`
	// Nosing is how far past Start, along a flight, its nearest nosing stands; negative behind it.
	Nosing    length.Length `json:"nosing"`
	Treads    int           `json:"treads"` // of a rake, nothing otherwise
	Tread     length.Length `json:"tread"`
	StairWide length.Length `json:"stair_wide"` // of the flight, zero where not given
	DeckOn    int           `json:"deck_on"`    // side that the deck is on: 1 to the right of the run, -1 to the left
	FlightOn  int           `json:"flight_on"`  // side of the flight: 1 to the right of the run, -1 to the left
	Down      bool          `json:"down"`       // the flight goes down from the datum end
	Says      string        `json:"says"`       // where the run starts and how it joins, one sentence
}

// Plan is the runs of a job joined end to end, seen from above.
type Plan struct {
	Outlines int       `json:"outlines"` // groups of runs that are joined; each has an origin of its own
	Runs     []PlanRun `json:"runs"`
	Notes    []string  `json:"notes"` // where outlines meet the house and which side the deck is on, sentences
	Problems []Problem `json:"problems"`
}

// NewPlan joins the runs of a job, in order, with their layouts: a run that starts at an earlier one is turned by its Turn from it and
// set by its posts; any other begins an outline of its own. Square turns are exact; others are rounded once, to the nanometre.
// Runs without posts are left out.
func NewPlan(runs []Run, layouts []Layout, spec Spec, unit length.Unit) Plan {
	b := &planner{plan: Plan{Runs: []PlanRun{}, Notes: []string{}, Problems: []Problem{}}, at: map[string]int{}, joints: NewJoints(runs, spec, unit), style: unit.Style()}
	byRun := map[string]Layout{}
	for _, l := range layouts {
		byRun[l.RunID] = l
	}
	for _, r := range runs {
		l, ok := byRun[r.ID]
		if !ok || len(l.Bays) == 0 {
			continue
		}
		own, _ := spec.With(r.Overrides, unit) // faults stand in the layout already
		b.add(r, l, own)
	}
	b.walls()
	b.sides(runs)
	b.loose(runs)
	b.clashes()
	return b.plan
}

// planner is a plan in the making.
type planner struct {
	plan   Plan
	at     map[string]int // label of a run to its place in the plan
	joints Joints
	style  length.Style
}

func (b *planner) text(l length.Length) string { return l.Format(b.style) }

// add places one run.
func (b *planner) add(r Run, l Layout, spec Spec) {
	p := PlanRun{
		RunID: l.RunID, Label: l.Label, DeckOn: cmp.Or(l.DeckOn, 1), Kind: l.Kind, Posts: []PlanPost{}, PostWidth: spec.PostWidth, PostDepth: spec.PostDepth, FlightOn: 1,
		StartWall: l.Bays[0].FromPost == 0, EndWall: l.Bays[len(l.Bays)-1].ToPost == 0,
	}
	if l.Stair != nil {
		p.Treads, p.Tread, p.StairWide = l.Stair.Treads, l.Stair.Tread, r.StairWide
		p.Down = r.Down()
	}
	// first is how far the first post or the wall is from the run's datum; everything is set by it.
	first, last := length.Length(0), l.Length
	if !p.StartWall {
		first = l.Posts[0].Centre
	}
	if l.Stair != nil {
		p.Nosing = l.Stair.NosingFrom - first
	}
	if !p.EndWall {
		last = l.Posts[len(l.Posts)-1].Centre
	}
	i, joined := b.at[r.StartAt]
	if joined && r.StartAt != "" {
		b.join(&p, r, b.plan.Runs[i], spec)
	} else {
		b.plan.Outlines++
		p.Outline = b.plan.Outlines
		p.Says = fmt.Sprintf("%s begins an outline of its own.", p.Label)
		if p.StartWall {
			p.Says = fmt.Sprintf("%s begins at the wall.", p.Label)
		}
	}
	along := func(d length.Length) PlanPoint { return p.Start.along(p.Direction, d-first) }
	p.End = along(last)
	for _, post := range l.Posts {
		p.Posts = append(p.Posts, PlanPost{Number: post.Number, Label: post.Label, SharedAs: post.SharedAs, At: along(post.Centre), Turned: post.Turned})
	}
	b.at[r.Label] = len(b.plan.Runs)
	b.plan.Runs = append(b.plan.Runs, p)
}

// join sets the start and direction of a run from the one that it starts at.
func (b *planner) join(p *PlanRun, r Run, before PlanRun, spec Spec) {
	p.Outline, p.Turn = before.Outline, r.Turn
	p.Direction = wrap(before.Direction + r.Turn)
	turned := "straight on"
	switch {
	case wrap(r.Turn) == 180:
		turned = "back the way it came"
	case r.Turn > 0:
		turned = fmt.Sprintf("turned %d degrees to the right", r.Turn)
	case r.Turn < 0:
		turned = fmt.Sprintf("turned %d degrees to the left", -r.Turn)
	}
	// The flight lies beyond the end of the run that it comes off.
	if sin(p.Direction-before.Direction) > 0 {
		p.FlightOn = -1
	}
	switch r.Join {
	case JoinFirst:
		p.Start = before.Start
		p.FlightOn = -p.FlightOn
		p.Says = fmt.Sprintf("%s starts at the first post of %s, %s.", p.Label, before.Label, turned)
	case JoinDoubled:
		back := b.joints.corner(r).back()
		p.Start = before.End.along(before.Direction, back).along(p.Direction, back)
		p.Says = fmt.Sprintf("%s starts at the far end of %s, %s, at a corner of two posts, each %s back from it.", p.Label, before.Label, turned, b.text(back))
	case JoinOpening:
		p.Start = before.End.along(before.Direction, before.PostWidth/2+r.JoinBy+spec.PostWidth/2)
		p.Says = fmt.Sprintf("%s starts beyond an opening of %s at the far end of %s, %s.", p.Label, b.text(r.JoinBy), before.Label, turned)
	default:
		p.Start = before.End
		p.Says = fmt.Sprintf("%s starts at the last post of %s, %s.", p.Label, before.Label, turned)
	}
}

// along is the point at a distance in a direction.
func (p PlanPoint) along(direction int, d length.Length) PlanPoint {
	return PlanPoint{p.X + scaled(d, cos(direction)), p.Y + scaled(d, sin(direction))}
}

// scaled is exact for a quarter turn and rounded once for any other.
func scaled(d length.Length, by float64) length.Length {
	switch by {
	case 0:
		return 0
	case 1:
		return d
	case -1:
		return -d
	}
	return nearestNM(float64(d) * by)
}

// sin and cos are those of whole degrees, exact at the quarters.
func sin(degrees int) float64 { return cos(degrees - 90) }

func cos(degrees int) float64 {
	switch d := wrap(degrees); d {
	case 0:
		return 1
	case 90, 270:
		return 0
	case 180:
		return -1
	default:
		return math.Cos(float64(d) * math.Pi / 180)
	}
}

// wrap brings degrees into 0 to 359.
func wrap(degrees int) int { return ((degrees % 360) + 360) % 360 }

// walls says how the ends at the house stand to each other: an outline that comes back to the wall that it left closes, or fails to
// by so much. Between two ends on one line stands the house, so that a run which crosses there is a problem; how far a wall goes on
// beyond them is not known, and nothing is said of that.
func (b *planner) walls() {
	crosses := map[string]bool{}
	for outline := 1; outline <= b.plan.Outlines; outline++ {
		ends := b.wallEnds(outline)
		for i, e := range ends {
			for _, f := range ends[:i] {
				if e.out != f.out {
					b.note("%s and %s meet %s.", upperFirst(f.name), e.name, betweenWalls(min(wrap(e.out-f.out), wrap(f.out-e.out))))
					continue
				}
				across, off := e.at.from(f.at, f.out+90).Abs(), e.at.from(f.at, f.out).Abs()
				if off == 0 {
					b.note("%s and %s meet one wall line, %s apart: the outline closes.", upperFirst(f.name), e.name, b.text(across))
				} else {
					b.note("%s and %s stand %s apart along the wall and %s out of line: if it is one wall, the lengths fail to close by that much, or the wall steps.", upperFirst(f.name), e.name, b.text(across), b.text(off))
				}
				if off >= min(e.thick, f.thick) {
					continue // the wall may step there
				}
				for _, r := range b.plan.Runs {
					if r.Outline == outline && !crosses[r.Label] && crossing(PlanRun{Start: f.at, End: e.at}, r) {
						crosses[r.Label] = true
						b.problem(r.Label, "turn", "%s crosses the house wall between %s and %s: look at the lengths and the turns.", r.Label, f.name, e.name)
					}
				}
			}
		}
	}
}

// betweenWalls names two walls that an outline runs between, by the degrees between the ways out of them.
func betweenWalls(degrees int) string {
	if degrees == 180 {
		return "walls that face each other"
	}
	return fmt.Sprintf("walls that stand %d degrees to each other", degrees)
}

// wallEnd is an end of a run at the house.
type wallEnd struct {
	name  string
	at    PlanPoint
	out   int           // the direction away from the wall
	thick length.Length // of the run's posts: walls less than that out of line are taken for one
}

// wallEnds are those of an outline, in the order of its runs.
func (b *planner) wallEnds(outline int) []wallEnd {
	var ends []wallEnd
	for _, r := range b.plan.Runs {
		if r.Outline != outline {
			continue
		}
		if r.StartWall {
			ends = append(ends, wallEnd{"the start of " + r.Label, r.Start, r.Direction, r.PostDepth})
		}
		if r.EndWall {
			ends = append(ends, wallEnd{"the end of " + r.Label, r.End, wrap(r.Direction + 180), r.PostDepth})
		}
	}
	return ends
}

// from is how far the point lies from another in a direction.
func (p PlanPoint) from(o PlanPoint, direction int) length.Length {
	return scaled(p.X-o.X, cos(direction)) + scaled(p.Y-o.Y, sin(direction))
}

// loose names the corners that are joined to nothing, where there are several outlines: each is placed by itself, and one that is to turn
// a corner with another is drawn anywhere. With one outline the next run may not be described yet.
func (b *planner) loose(runs []Run) {
	if b.plan.Outlines < 2 {
		return
	}
	starts, ends := map[string]bool{}, map[string]bool{} // joined, by label
	for _, r := range runs {
		starts[r.Label] = starts[r.Label] || r.StartAt != ""
		if r.Join == JoinFirst {
			starts[r.StartAt] = true
		} else {
			ends[r.StartAt] = true
		}
	}
	for _, r := range runs {
		if _, drawn := b.at[r.Label]; !drawn {
			continue
		}
		if r.Start == EndCorner && !starts[r.Label] {
			b.problem(r.Label, "start_at", "%s starts at a corner and is joined to no run, so that it is drawn by itself: name the run that it starts at.", r.Label)
		}
		if r.End == EndCorner && !ends[r.Label] {
			b.problem(r.Label, "end", "%s ends at a corner, and no run starts there: join the run that does, or say how this one ends.", r.Label)
		}
	}
}

func (b *planner) note(format string, args ...any) {
	b.plan.Notes = append(b.plan.Notes, fmt.Sprintf(format, args...))
}

// Length is the run from its first post centre to its last, or to the wall, to the nearest nanometre.
func (r PlanRun) Length() length.Length {
	return nearestNM(math.Hypot(float64(r.End.X-r.Start.X), float64(r.End.Y-r.Start.Y)))
}
