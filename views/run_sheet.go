package views

import (
	"fmt"
	"slices"
	"strings"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/jobs"
)

// Width and height of the drawing of a shop sheet in millimetres: within the text width of A4 and of Letter, low enough to leave the
// figures their room on the page, and narrow enough for the heights beside it, unless the bays are so many that the heights find
// room beside their rails.
const (
	sheetWidth  = 182
	halfWidth   = 90.5
	besideWidth = 140
	sheetHeight = 80
	stairHeight = 94
	manyBays    = 5
)

// RunSheetPage is the shop sheet of one run, to be printed and taken to the saw: drawing, posts, rails, marks, heights and cap on one
// page where they fit, each piece with a box to tick when it is cut and when it is fitted. The working stands on the run's own page.
type RunSheetPage struct {
	Frame
	BackURL    string
	Run        string
	Summary    string
	Rules      string
	Unit       string   // of the columns of figures, where the figures do not carry it
	Current    string   // which version this is, and what overtakes it
	Overtaken  string   // what this version did to earlier sheets, empty for a first one as planned
	By         string   // what made it, in a word or two
	Recut      []string // pieces that were cut before the layout changed, each a sentence
	TickURL    string   // where pieces are ticked
	Gone       string
	Problems   []Row
	Drawing    Drawing
	Wide       bool // the drawing takes the whole width
	EveryPost  []string
	Posts      []SheetPost
	Holes      *Table
	Drilling   []string // the holes that the fasteners want
	RailCuts   string
	Walls      []string // beside the cap, where there is room for them
	Rails      []SheetRail
	Hook       string
	Members    string // what the marks are for, where all bays have them alike
	Marks      []Marks
	From       string // the one reference of heights
	Heights    []Fact
	CapStock   string
	CapNote    string
	CapCuts    []SheetCap
	Stair      []Fact
	StairMarks *Table // the marks at the faces of a flight's posts, where the drawing has no room for them
	StairAsks  []string
	Heads      []string
	Lift       []Fact
	Cautions   []CautionGroup
}

// CautionGroup is the cautions of one source.
type CautionGroup struct {
	Says   []string
	Source string
}

// SheetTicks says whether a piece, or all of several, is ticked as the sheet has it: what was cut otherwise is not.
type SheetTicks struct{ Cut, Fitted bool }

// SheetPost is one line of the posts.
type SheetPost struct {
	Label, Same, Centre, Face, Cut, Holds string
	Rough                                 string // what it is cut to first where its top is marked in place
	There                                 bool   // it stands there already: nothing is cut, and nothing is ticked
	Ticks                                 SheetTicks
}

// SheetRail is one line of the rails.
type SheetRail struct {
	Label, Clear, Top, Bottom string
	State                     *Status // nil for a bay as planned
	TopTicks, BottomTicks     SheetTicks
}

// SheetCap is one line of the cap rail.
type SheetCap struct {
	Label, Length, Ends, Lies string
	Ticks                     SheetTicks
}

// NewRunSheet is that page.
func NewRunSheet(f Frame, rec *jobs.Record, run jobs.Run) (RunSheetPage, error) {
	r, err := newRunLayout(rec, run)
	if err != nil {
		return RunSheetPage{}, err
	}
	p := RunSheetPage{
		Frame: r.frame(f), BackURL: RunURL(rec.Job.ID, run.ID), Run: run.Label, Summary: join(r.summary(), run.Note), Current: r.current(), Problems: r.problems(""),
		EveryPost: r.everyPost(), RailCuts: r.railCuts(), From: r.l.Heights.Datum, Heights: r.heights(),
		CapNote: r.capNote(), Walls: r.walls(), Stair: r.stairFacts(), Heads: r.heads(), Lift: r.liftFacts(), Cautions: r.cautions(),
	}
	if run.Kind != layout.Rake {
		side := layout.DeckRight
		if r.l.DeckOn < 0 {
			side = layout.DeckLeft
		}
		p.Summary = join(join(r.summary(), "Deck on the "+side+"."), run.Note)
	}
	p.Wide = len(r.l.Bays) >= manyBays
	wide, high := float64(besideWidth), float64(sheetHeight)
	if p.Wide {
		wide = sheetWidth
	}
	if r.l.Stair != nil {
		high = stairHeight
	}
	p.Drawing = Drawing{Sheet: r.elevation(wide, high, false)}
	p.By, p.Overtaken = r.overtaken()
	p.Title, p.Heading = "Shop sheet "+run.Label, "Shop sheet "+run.Label
	// The rule set stands under the heading, so that the block keeps to one line of a printed page.
	p.Sheet.More, p.Rules = []Fact{{Label: "Permit", Value: rec.Job.Permit}}, ruleSetName(r.sheet)
	if r.style == length.Metric {
		p.Unit = "mm"
	}
	if r.l.Stair != nil {
		p.StairAsks = r.l.Stair.Asks
		if p.Drawing.Sheet.Unmarked {
			p.StairMarks = r.stairMarks()
		}
	}
	if run.Retired {
		p.Gone = "This run was taken out: cut nothing from this sheet."
	}
	ticks := r.ticks(&p)
	for _, post := range r.l.Posts {
		row := SheetPost{Label: post.Label, Same: post.SharedAs, Centre: r.figure(post.Centre), Face: r.figure(post.Face), Holds: strings.Join(r.holds(post), " "), There: post.Existing && post.SharedAs == ""}
		if post.SharedAs == "" && !post.Existing {
			row.Cut = r.figure(post.Cut)
		}
		if post.Rough > 0 {
			row.Rough = r.figure(post.Rough)
		}
		row.Holds = join(row.Holds, strings.Join(r.ownFixing(post, p.EveryPost), " "))
		row.Ticks = ticks[post.Label]
		p.Posts = append(p.Posts, row)
	}
	p.Holes, p.Drilling = r.holes(), r.drilling(layout.Drill.Brief)
	for _, b := range r.l.Bays {
		row := SheetRail{Label: b.Label}
		if b.Built != nil {
			row.State = NewStatus("as built")
		}
		if used := b.Used(); used != nil {
			row.Clear, row.Top, row.Bottom = r.opening(used), r.figure(used.Top.Cut), r.figure(used.Bottom.Cut)
		} else {
			row.State = NewStatus("not laid out", "fails the limit")
		}
		row.TopTicks, row.BottomTicks = ticks[b.Label+" top"], ticks[b.Label+" bottom"]
		p.Rails = append(p.Rails, row)
	}
	strips := r.strips()
	for i, group := range layout.Alike(r.l) {
		used := group[0].Used()
		if used == nil {
			continue
		}
		m := r.marks(used)
		m.Ticks = SheetTicks{true, true}
		for _, b := range group {
			at := ticks[b.Label+" "+used.Infill.Noun()+"s"]
			m.Ticks = SheetTicks{m.Ticks.Cut && at.Cut, m.Ticks.Fitted && at.Fitted}
			m.Places = append(m.Places, Place{Label: b.Label})
		}
		if group[0].Built != nil {
			m.State = NewStatus("as built")
		}
		m.Full = r.full(group)
		for _, sheet := range strips[i] {
			m.Strips, m.OnStrip = append(m.Strips, Drawing{Sheet: sheet}), used.Infill.Cables == nil
			m.Half = sheet.Width <= halfWidth
		}
		if r.onFace(&m, group[0]) {
			m.Gaps = join(m.Gaps, m.Hook) // said with the bay: other rails are hooked otherwise
		}
		if p.Hook == "" || used.Bottom.SkewFrom == 0 {
			p.Hook = m.Hook
		}
		p.Marks = append(p.Marks, m)
	}
	p.Members = sameMembers(p.Marks)
	for _, c := range r.l.Cap {
		p.CapStock = c.Section
		p.CapCuts = append(p.CapCuts, SheetCap{Label: c.Label, Length: r.figure(c.Length), Ends: c.Cuts, Lies: c.Place, Ticks: ticks[c.Label]})
	}
	return p, nil
}

// ticks are what is ticked of the run's pieces, by label, and the sentences on those that were cut otherwise. What is
// fitted stays ticked.
func (r runLayout) ticks(p *RunSheetPage) map[string]SheetTicks {
	p.TickURL = PiecesURL(r.rec.Job.ID, r.run.ID, "pieces")
	out := map[string]SheetTicks{}
	for _, s := range r.rec.Pieces() {
		switch {
		case s.RunID != r.run.ID || s.Gone:
			continue
		case s.Changed():
			p.Recut = append(p.Recut, s.Label+": "+lowerFirst(standing(s, r.style)))
			if s.FittedNow() == 0 {
				continue
			}
		}
		out[s.Label] = SheetTicks{Cut: s.CutNow() >= s.Count, Fitted: s.FittedNow() >= s.Count}
	}
	return out
}

// cautions gathers the cautions of each source, in order of the first of each.
func (r runLayout) cautions() []CautionGroup {
	var groups []CautionGroup
	for _, c := range r.l.Cautions {
		i := slices.IndexFunc(groups, func(g CautionGroup) bool { return g.Source == c.Source })
		if i < 0 {
			i, groups = len(groups), append(groups, CautionGroup{Source: c.Source})
		}
		groups[i].Says = append(groups[i].Says, c.Sentence)
	}
	return groups
}

// overtaken says why this version was made where it is not the first, and which printed sheets are out of date; by is that in a word or
// two. Bays measured since the plan are named even in a first version.
func (r runLayout) overtaken() (by, says string) {
	bays := r.measured()
	switch {
	case len(bays) > 1:
		by, says = "As built.", strings.Join(bays, ", ")+" were measured after they were planned: cut their rails and balusters from this sheet."
	case len(bays) == 1:
		by, says = "As built.", bays[0]+" was measured after it was planned: cut its rails and balusters from this sheet."
	case r.l.Version > 1:
		by, says = "Laid out again.", r.made.Basis
	}
	if r.l.Version > 1 {
		says = join(says, fmt.Sprintf("Sheets of %s are out of date: tear them up.", versionsBefore(r.l.Version)))
	}
	return by, says
}

// current says which version the sheet is of, and what overtakes it once it is printed.
func (r runLayout) current() string {
	return fmt.Sprintf("This is the sheet of layout v%d. A bay measured or a run changed overtakes it: before you cut, see on the page of %s that v%d is still in use.", r.l.Version, r.l.Label, r.l.Version)
}

// versionsBefore names the versions before this one.
func versionsBefore(v int) string {
	if v == 2 {
		return "layout v1"
	}
	return fmt.Sprintf("layout v1 to v%d", v-1)
}

// sameMembers is what all groups of marks say alike of their members but for how many they are; it is then taken out of each, which
// keeps its number. Empty where they differ.
func sameMembers(all []Marks) string {
	if len(all) == 0 {
		return ""
	}
	for _, m := range all {
		if m.Members == "" || m.Members != all[0].Members {
			return ""
		}
	}
	for i := range all {
		all[i].Say = all[i].Count + "."
	}
	return upperFirst(all[0].Members)
}
