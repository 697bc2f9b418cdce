package views

import (
	"fmt"

	"newelbook/checklist/layout"
	"newelbook/jobs"
	"newelbook/views/draw"
)

// Widths and heights of the drawings of a run's page in millimetres.
const (
	stayWidth  = 170
	stayHeight = 85
	showWidth  = 190
	showHeight = 150
)

// RunListPage lists the runs of a job under its plan.
type RunListPage struct {
	Frame
	Plan      Drawing
	Stands    []string // where each run starts, and how the outline meets the house
	Problems  []Row    // of the plan
	Runs      []Row
	Retired   []Row
	NewRunURL string // empty for whoever may not add runs
	Materials string // where the list of materials is; empty without a run
}

// NewRunList is that page; builder says whether runs may be added.
func NewRunList(f Frame, rec *jobs.Record, builder bool) (RunListPage, error) {
	sheet, err := rec.Sheet()
	if err != nil {
		return RunListPage{}, err
	}
	p := RunListPage{Frame: f}
	if builder {
		p.NewRunURL = JobURL(rec.Job.ID, "runs", "new")
	}
	for _, run := range rec.Runs {
		row, _ := runRow(rec, run)
		if run.Retired {
			row.Status = NewStatus("retired")
			p.Retired = append(p.Retired, row)
			continue
		}
		p.Runs = append(p.Runs, row)
		p.Materials = JobURL(rec.Job.ID, "materials")
	}
	plan := sheet.Plan
	if len(plan.Runs) == 0 {
		return p, nil
	}
	p.Plan = planDrawing(rec.Job, plan)
	for _, r := range plan.Runs {
		p.Stands = append(p.Stands, r.Says)
	}
	p.Stands = append(p.Stands, plan.Notes...)
	for _, at := range plan.Problems {
		p.Problems = append(p.Problems, Row{Place: at.Place, Label: at.Sentence, Status: NewStatus("look at it", "off the layout")})
	}
	return p, nil
}

// RunShowPage is the layout of one run: its drawing, posts, bays planned against as built, marks, heights and stair, what is
// at odds, the loads, the working, the cautions, and the versions before this one.
type RunShowPage struct {
	Frame
	Runs                          []NavItem // the runs of the job, where there are several or may be more
	Gone                          string    // said of a run that was taken out
	SheetURL, FramingURL, EditURL string    // EditURL is empty for whoever may not change the run
	NewRunURL                     string    // empty for whoever may not add runs
	Brief, Drawing                Drawing
	Required                      string
	Drops                         []Fact // as measured along the run
	Covered                       string
	Problems                      []Row
	Heights                       []Measure
	HeightsFrom                   string
	OtherHeights                  []Fact
	EveryPost                     []string
	Posts                         []PostView
	Holes                         *Table
	Drilling                      []string // the holes that the fasteners want
	Rails                         string
	Walls                         []string
	Bays                          []BayView
	Stair                         []Measure
	StairFacts                    []Fact
	StairFigures                  *Table   // the flight against the rule set
	StairAsks                     []string // what is still to be measured or said
	StairMarks                    *Table
	Heads                         []string // what happens at the stair heads that the run shares
	Lift                          []Fact
	Caps, Pieces                  Table
	Loads                         []Row
	Working                       []string
	Cautions                      []layout.Caution
	Versions                      []Row
}

// PostView is one post of the page.
type PostView struct {
	ID      string // of its place on the page
	Label   string
	Same    string // the label that it has in another run
	Figures []Figure
	Clash   *Status
	Says    []string
}

// BayView is one bay of the page, or several that are laid out alike.
type BayView struct {
	Places     []Place // URL holds the id of the place on the page
	State      *Status
	Missing    string // why there is no layout
	Figures    []Figure
	Marks      *Marks
	Planned    *Marks // where the marks in use are as built
	OpeningURL string
	Opening    string // words of that link
}

// NewRunShow is that page; builder says whether the run may be changed.
func NewRunShow(f Frame, rec *jobs.Record, run jobs.Run, builder bool) (RunShowPage, error) {
	r, err := newRunLayout(rec, run)
	if err != nil {
		return RunShowPage{}, err
	}
	job := rec.Job
	p := RunShowPage{Frame: r.frame(f), SheetURL: JobURL(job.ID, "runs", run.ID, "sheet"), FramingURL: JobURL(job.ID, "runs", run.ID, "framing"), Required: r.l.Required.Why, HeightsFrom: r.l.Heights.Datum}
	p.Heading, p.Lead = run.Label, join(r.summary(), run.Note)
	if builder && !run.Retired {
		p.EditURL = JobURL(job.ID, "runs", run.ID, "edit")
	}
	if builder {
		p.NewRunURL = JobURL(job.ID, "runs", "new")
	}
	if run.Retired {
		p.Gone = "This run was taken out. What was read and photographed on it stays in the record."
	}
	if live := rec.Live(); len(live) > 1 || builder {
		for _, other := range live {
			p.Runs = append(p.Runs, NavItem{Label: other.Label, URL: RunURL(job.ID, other.ID), Note: string(other.Kind), Current: other.ID == run.ID})
		}
	}
	for _, spot := range run.Drops {
		p.Drops = append(p.Drops, Fact{Label: spot.Words(r.style), Value: r.text(spot.Drop)})
	}
	if c, ok := rec.CoveredRun(run.ID); ok {
		p.Covered = fmt.Sprintf("Covered on %s, recorded by %s.", jobs.DayText(c.On), c.By.Name)
	}
	links := r.links()
	p.Brief = Drawing{Sheet: r.elevation(stayWidth, stayHeight, true), Links: links}
	p.Drawing = Drawing{Sheet: r.elevation(showWidth, showHeight, false), Caption: fmt.Sprintf("Layout v%d. %s", r.l.Version, r.l.Basis), Links: links}
	p.Brief.Sheet.Title = "Places of " + run.Label
	p.Problems = r.problems(p.EditURL)
	p.heights(r)
	p.posts(r)
	p.bays(r)
	p.stair(r)
	p.Heads = r.heads()
	p.Lift, p.Caps, p.Loads = r.liftFacts(), r.caps(), r.loads()
	p.Pieces = r.pieces()
	p.Working, p.Cautions = r.l.Working, r.l.Cautions
	p.versions(r)
	return p, nil
}

// links lead from the drawing to the places on the page.
func (r runLayout) links() map[string]draw.Link {
	links := map[string]draw.Link{}
	for _, post := range r.l.Posts {
		links[fmt.Sprintf("%s/P%d", r.run.ID, post.Number)] = draw.Link{URL: fmt.Sprintf("#p%d", post.Number), Label: post.Label}
	}
	for _, b := range r.l.Bays {
		links[fmt.Sprintf("%s/B%d", r.run.ID, b.Number)] = draw.Link{URL: fmt.Sprintf("#b%d", b.Number), Label: b.Label}
	}
	return links
}

// heights sets the finished top and the opening under the bottom rail large.
func (p *RunShowPage) heights(r runLayout) {
	h := r.l.Heights
	if h.Finished <= 0 {
		return
	}
	p.Heights = []Measure{{Label: "Finished top", Value: r.text(h.Finished), Held: r.limits("caps.height_")}}
	if len(p.Heights[0].Held) == 0 {
		p.Heights[0].Held = r.limits("rails.height_")
	}
	under := Measure{Label: "Clear under the bottom rail", Value: r.text(h.Under), Held: r.limits("rails.under")}
	if r.l.Stair != nil {
		under = Measure{Label: "Bottom rail above the nosing line", Value: r.text(h.Under), Note: "Its underside, plumb; the triangle of riser, tread and rail follows from it."}
	}
	p.Heights = append(p.Heights, under)
	for _, f := range r.heights() {
		if f.Label != "Finished top" && f.Label != "Bottom rail, underside" {
			p.OtherHeights = append(p.OtherHeights, f)
		}
	}
}

// posts shows where each post stands and what holds it.
func (p *RunShowPage) posts(r runLayout) {
	p.EveryPost = r.everyPost()
	for _, post := range r.l.Posts {
		v := PostView{ID: fmt.Sprintf("p%d", post.Number), Label: post.Label, Same: post.SharedAs, Says: r.holds(post), Figures: []Figure{
			{Label: "Centre", Value: r.text(post.Centre)}, {Label: "Near face", Value: r.text(post.Face)},
			{Label: "Post top", Value: r.marked(post.Top)}, {Label: "Cut", Value: r.text(post.Cut)},
		}}
		if post.JoistClsh {
			v.Clash = NewStatus("on a joist", "fails the limit")
		}
		if post.Rough > 0 {
			v.Figures = append(v.Figures, Figure{Label: "Cut first to", Value: r.text(post.Rough)})
		}
		if post.SharedAs != "" || post.Existing {
			v.Figures = v.Figures[:3]
		}
		v.Says = append(v.Says, r.ownFixing(post, p.EveryPost)...)
		p.Posts = append(p.Posts, v)
	}
	p.Holes, p.Drilling = r.holes(), r.drilling(layout.Drill.Says)
}

// bays shows each bay, those alike together: openings and rails planned against as built, and the marks in use.
func (p *RunShowPage) bays(r runLayout) {
	p.Rails, p.Walls = r.railCuts(), r.walls()
	if p.Walls != nil {
		p.Walls = append(p.Walls, layout.WallFixing)
	}
	for _, group := range layout.Alike(r.l) {
		b := group[0]
		v := BayView{State: NewStatus("planned")}
		for _, one := range group {
			v.Places = append(v.Places, Place{Label: one.Label, URL: fmt.Sprintf("b%d", one.Number)})
		}
		if len(group) == 1 {
			if v.OpeningURL, v.Opening = r.openingsURL(b), "Measure its opening"; b.Measured != nil {
				v.Opening = "The opening as measured"
			}
		}
		used := b.Used()
		if used == nil {
			v.State, v.Missing = NewStatus("not laid out", "fails the limit"), "There is no layout for this bay: see what is at odds above."
			p.Bays = append(p.Bays, v)
			continue
		}
		v.Figures = r.bayFigures(b)
		marks := r.marks(used)
		r.onFace(&marks, b)
		marks.Full = r.full(group)
		v.Marks = &marks
		if b.Built != nil {
			v.State = NewStatus("as built")
			if b.Planned != nil {
				planned, was := r.marks(b.Planned), b
				was.Built = nil
				r.onFace(&planned, was)
				planned.State = NewStatus("superseded")
				v.Planned = &planned
			}
		}
		p.Bays = append(p.Bays, v)
	}
}

// bayFigures are the figures of a bay as used, with the planned ones where they differ.
func (r runLayout) bayFigures(b layout.Bay) []Figure {
	used := b.Used()
	of := func(p *layout.Parts) []Figure {
		return []Figure{
			{Label: "Clear at the bottom", Value: r.text(p.ClearBottom)}, {Label: "Clear at the top", Value: r.text(p.ClearTop)},
			{Label: "Bottom rail", Value: r.text(p.Bottom.Cut)}, {Label: "Top rail", Value: r.text(p.Top.Cut)},
			{Label: "Infill", Value: p.Infill.Counted()}, {Label: "Widest gap", Value: r.text(p.Infill.Widest())},
		}
	}
	figures := of(used)
	for _, h := range r.limits("infill.gap") {
		figures[5].Note = join(figures[5].Note, h.Value+", "+h.Source)
	}
	if b.Built != nil && b.Planned != nil {
		for i, was := range of(b.Planned) {
			if was.Value != figures[i].Value {
				figures[i].Was = was.Value
			}
		}
	}
	return figures
}

// pieces lists everything to cut.
func (r runLayout) pieces() Table {
	t := Table{Caption: "Every piece of " + r.l.Label, Heads: []Head{{Label: "Piece"}, {Label: "What"}, {Label: "Count", Number: true}, {Label: "Length", Number: true}, {Label: "Section"}, {Label: "Ends"}, {Label: "From"}}}
	for _, p := range r.l.Pieces {
		t.Rows = append(t.Rows, []Cell{{Text: p.Label}, {Text: p.What}, {Text: itoa(p.Count)}, {Text: r.text(p.Length)}, {Text: p.Section}, {Text: p.Cuts}, {Status: NewStatus(p.Version)}})
	}
	return t
}

// versions lists every version of the layout, newest first, each with why it was made.
func (p *RunShowPage) versions(r runLayout) {
	all := r.rec.Layouts[r.run.ID]
	for i := len(all) - 1; i >= 0; i-- {
		v := all[i]
		row := Row{Label: fmt.Sprintf("v%d", v.Version), Note: join(v.Basis, stamp(v.At, r.rec.Job.Location())+"."), Status: NewStatus("superseded")}
		if i == len(all)-1 {
			row.Status = NewStatus("in use", "as built")
		}
		p.Versions = append(p.Versions, row)
	}
}
