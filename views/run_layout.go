package views

import (
	"fmt"
	"slices"
	"strings"

	"newelbook/checklist"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/jobs"
	"newelbook/views/draw"
)

// Marks is where the infill of one bay goes, or of several bays that are alike.
type Marks struct {
	Places  []Place
	Say     string   // how many, of what, cut how long
	Count   string   // how many, in words
	Members string   // of what, cut how long
	Gaps    string   // what the rounded marks leave
	Hook    string   // what the tape hooks on
	Marks   []string // centres, in order from the datum end
	State   *Status
	Top     []string   // the same on the top rail, where they differ
	TopNote string     // why they differ, or why the top rail has none
	Strips  []Drawing  // none where there is no mark along the rail
	OnStrip bool       // Strips have every figure of Marks and Top
	Half    bool       // its strips take half the width of a sheet at most
	Full    []Place    // rails that have a strip at full size, and where it is
	Ticks   SheetTicks // on a shop sheet
}

// Many says that the rails at full size are too many to stand in a line.
func (m Marks) Many() bool { return len(m.Full) > 6 }

// Figure is one figure set large under its name. Note says where it comes from; Was is the planned figure beside it.
type Figure struct{ Label, Value, Note, Was string }

// runLayout is a run with its newest layout, as the pages put it into words.
type runLayout struct {
	rec   *jobs.Record
	sheet *jobs.Sheet
	run   jobs.Run
	made  jobs.LayoutVersion
	l     layout.Layout
	spec  layout.Spec
	style length.Style
}

// newRunLayout gathers a run's layout. A run without one is not found.
func newRunLayout(rec *jobs.Record, run jobs.Run) (runLayout, error) {
	sheet, err := rec.Sheet()
	if err != nil {
		return runLayout{}, err
	}
	v, ok := rec.Layout(run.ID)
	if !ok {
		return runLayout{}, fmt.Errorf("layout of run %s: %w", run.ID, jobs.ErrNotFound)
	}
	spec, _ := rec.Job.Spec.With(run.Overrides, rec.Job.Units) // faults were refused when the run was saved
	return runLayout{rec: rec, sheet: sheet, run: run, made: v, l: v.Layout, spec: spec, style: sheet.Style}, nil
}

func (r runLayout) text(l length.Length) string { return l.Format(r.style) }

// figure is a length in a column that names its unit: without the mark of millimetres.
func (r runLayout) figure(l length.Length) string {
	if r.style == length.Metric {
		return l.FormatBare(r.style)
	}
	return r.text(l)
}

// marked is a height or bevel as it is marked: on the grid.
func (r runLayout) marked(l length.Length) string { return r.text(l.Round(r.l.Grid)) }

// elevation draws the run.
func (r runLayout) elevation(width, height float64, brief bool) draw.Sheet {
	return draw.Elevation(r.l, draw.ElevationOptions{Width: width, Height: height, Style: r.style, Run: r.run.Run, Spec: r.spec, Brief: brief})
}

// frame names the sheet: run, version and day of the layout.
func (r runLayout) frame(f Frame) Frame {
	f.Title, f.Place = "Layout of "+r.l.Label, r.l.Label
	block := *f.Sheet
	block.Sheet, block.Layout, block.Date = r.l.Label+", "+string(r.l.Kind), fmt.Sprintf("v%d, %s", r.l.Version, r.state().Word), r.made.At.In(r.rec.Job.Location()).Format("2 Jan 2006")
	f.Sheet = &block
	return f
}

// state is planned until an opening has been measured.
func (r runLayout) state() *Status {
	if len(r.measured()) > 0 {
		return NewStatus("as built")
	}
	return NewStatus("planned")
}

// measured lists the bays laid out again from a measured opening.
func (r runLayout) measured() []string {
	var labels []string
	for _, b := range r.l.Bays {
		if b.Built != nil {
			labels = append(labels, b.Label)
		}
	}
	return labels
}

// summary is the run in one sentence.
func (r runLayout) summary() string {
	return fmt.Sprintf("%s of %s, %s and %s.", runKind(r.l.Kind), r.text(r.l.Length), counted(len(r.l.Posts), "post"), counted(len(r.l.Bays), "bay"))
}

// deckSide says on which side of the run the deck is taken to be, and from what.
func (r runLayout) deckSide() string {
	return layout.DeckSideSays(jobs.PlainRuns(r.rec.Live()), r.run.Label)
}

// problems are what could not be laid out or is at odds with a figure, the worst first.
func (r runLayout) problems(editURL string) []Row {
	var fatal, other []Row
	for _, p := range r.l.Problems {
		row := Row{Place: p.Place, Label: p.Sentence}
		if editURL != "" && p.Field != "" && p.Field != "built" {
			row.URL = editURL + "#" + FieldID(p.Field)
		}
		if p.Fatal {
			row.Status = NewStatus("not laid out", "fails the limit")
			fatal = append(fatal, row)
		} else {
			row.Status = NewStatus("look at it", "off the layout")
			other = append(other, row)
		}
	}
	return append(fatal, other...)
}

// limits are the code figures that the first check of the run with this beginning of a key is held to.
func (r runLayout) limits(key string) []Against {
	for i := range r.sheet.Checks {
		c := r.sheet.Checks[i].Check
		if c.Place.RunID != r.run.ID || !strings.HasPrefix(c.Key, key) {
			continue
		}
		var out []Against
		for _, h := range heldTo(c, r.style) {
			if h.Label == "Limit" {
				out = append(out, h)
			}
		}
		return out
	}
	return nil
}

// heights lists where things stand above the one reference.
func (r runLayout) heights() []Fact {
	h := r.l.Heights
	all := []Fact{{Label: "Finished top", Value: r.text(h.Finished)}}
	if h.PostTop != h.TopRailTop {
		all = append(all, Fact{Label: "Post top", Value: r.marked(h.PostTop)})
	}
	return append(all,
		Fact{Label: "Top rail, top", Value: r.marked(h.TopRailTop)}, Fact{Label: "Top rail, underside", Value: r.marked(h.TopRailTop - h.RailVertical)},
		Fact{Label: "Bottom rail, top", Value: r.marked(h.BottomRailTop)}, Fact{Label: "Bottom rail, underside", Value: r.marked(h.Under)})
}

// holds says what holds a post, joists and blocking, and how its top is cut where a flight comes to it.
func (r runLayout) holds(p layout.Post) []string {
	says := []string{p.Joist}
	if p.Stand != nil {
		says = append(says, p.Stand.Fixed)
	}
	if p.TopCut != nil {
		says = append(says, p.TopCut.Says)
	}
	for _, b := range p.Blocking {
		says = append(says, fmt.Sprintf("Blocking: %d of %s, %s.", b.Count, r.text(b.Length), b.Place))
	}
	return says
}

// fixing says how a post is fixed: bolts, hold-down, sleeve; nothing of one that is fixed with another run.
func (r runLayout) fixing(p layout.Post) []string {
	var says []string
	if p.SharedAs != "" {
		return nil
	}
	var bolts []string
	for _, b := range p.Bolts {
		bolts = append(bolts, r.l.BoltPlace(p, b, r.style))
	}
	if len(bolts) > 0 {
		if _, rows := r.l.Drill(); !p.Stringer() || len(rows) == 0 { // else the table of holes has their places
			says = append(says, fmt.Sprintf("Through-bolts of %s: %s.", r.text(r.spec.BoltDiameter), strings.Join(bolts, ", ")))
		}
		says = append(says, fmt.Sprintf("Bolts %s or longer, through %s.", r.text(p.Bolts[0].Length), p.Through(p.Bolts[0], r.style)))
	}
	for _, words := range []string{p.HoldDown, p.Foot} {
		if words != "" {
			says = append(says, words)
		}
	}
	if s := p.Sleeve; s != nil {
		says = append(says, fmt.Sprintf("Sleeve %s inside, %s outside, %s high: %s", r.text(s.Inside), r.text(s.Outside), r.text(s.Height), s.Note))
	}
	return says
}

// everyPost is what of their fixing all the run's own posts have alike.
func (r runLayout) everyPost() []string {
	var alike []string
	known := false
	for _, p := range r.l.Posts {
		switch fixing := r.fixing(p); {
		case p.SharedAs != "":
		case !known:
			alike, known = fixing, true
		default:
			alike = slices.DeleteFunc(alike, func(says string) bool { return !slices.Contains(fixing, says) })
		}
	}
	return alike
}

// ownFixing is what of a post's fixing is not told for every post.
func (r runLayout) ownFixing(p layout.Post, every []string) []string {
	return slices.DeleteFunc(r.fixing(p), func(says string) bool { return slices.Contains(every, says) })
}

// sleeveOrders says in which order the sleeves go in, each order once, with the posts that it is of where there are several.
func (r runLayout) sleeveOrders() string {
	var orders []string
	posts := map[string][]string{}
	for _, p := range r.l.Posts {
		if p.Sleeve == nil || len(p.Sleeve.Holes) == 0 {
			continue
		}
		if !slices.Contains(orders, p.Sleeve.Order) {
			orders = append(orders, p.Sleeve.Order)
		}
		posts[p.Sleeve.Order] = append(posts[p.Sleeve.Order], p.Label)
	}
	says := ""
	for _, order := range orders {
		switch text := strings.TrimSuffix(order, "."); {
		case order == "":
		case len(orders) > 1:
			says += ". " + strings.Join(posts[order], ", ") + ": " + lowerFirst(text)
		default:
			says += ". " + text
		}
	}
	return says
}

// holes is the hole schedule: of the sleeves, a line for each wall and size of hole, and for the posts that have it so where not all do; or of the bolts through a
// stringer, a line for each way to measure them.
func (r runLayout) holes() *Table {
	if posts, rows := r.l.Drill(); len(rows) > 0 {
		return r.drill(posts, rows)
	}
	t := Table{Caption: "Holes of each sleeve", Heads: []Head{{Label: "Wall"}, {Label: "For"}, {Label: "Hole", Number: true}, {Label: "Heights from the bottom", Number: true}}}
	var alike [][]layout.Hole // the schedules of the run, each with its posts
	var posts [][]string
	for _, p := range r.l.Posts {
		if p.Sleeve == nil || len(p.Sleeve.Holes) == 0 {
			continue
		}
		i := slices.IndexFunc(alike, func(have []layout.Hole) bool { return slices.Equal(have, p.Sleeve.Holes) })
		if i < 0 {
			i = len(alike)
			alike, posts = append(alike, p.Sleeve.Holes), append(posts, nil)
		}
		posts[i] = append(posts[i], p.Label)
	}
	t.Caption += r.sleeveOrders()
	for i, holes := range alike {
		at := map[string]int{}
		for _, h := range holes {
			key := h.Wall + h.For + h.Size.String()
			if row, seen := at[key]; seen {
				t.Rows[row][3].Text += ", " + r.text(h.Height)
				continue
			}
			at[key] = len(t.Rows)
			wall := Cell{Text: upperFirst(h.Wall)}
			if len(alike) > 1 {
				wall.Note = strings.Join(posts[i], ", ")
			}
			t.Rows = append(t.Rows, []Cell{wall, {Text: h.For}, {Text: r.text(h.Size)}, {Text: r.text(h.Height)}})
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return &t
}

// drilling lists the holes that the run's fasteners want, told by one of a layout.Drill's methods.
func (r runLayout) drilling(told func(layout.Drill, length.Style) string) []string {
	var all []string
	for _, d := range r.l.Drilling {
		all = append(all, told(d, r.style))
	}
	return all
}

// drill is where to drill for the bolts of posts on a stringer.
func (r runLayout) drill(posts []string, rows []layout.DrillRow) *Table {
	t := Table{Caption: "Bolts through the stringer, to their centres: " + strings.Join(posts, ", "), Heads: []Head{{Label: "Measured"}, {Label: "Upper", Number: true}, {Label: "Lower", Number: true}}}
	known := func(l length.Length) Cell {
		if l == 0 {
			return Cell{Text: "not known"}
		}
		return Cell{Text: r.text(l)}
	}
	for _, row := range rows {
		t.Rows = append(t.Rows, []Cell{{Text: row.What}, known(row.Upper), known(row.Lower)})
	}
	return &t
}

// marks puts the infill of parts into words: of cables, their heights.
func (r runLayout) marks(p *layout.Parts) Marks {
	in := p.Infill
	if in.Cables != nil {
		return r.cableMarks(in)
	}
	m := Marks{Say: "No " + in.Noun() + ": the opening is within the design gap.", Hook: "Hook the tape on " + in.Hook + "."}
	if in.Count == 0 {
		return m
	}
	m.Count, m.Members = counted(in.Count, in.Noun()), fmt.Sprintf("%s %s, cut %s, %s.", r.text(in.Member), in.Shape, r.text(in.Cut), in.CutNote)
	if in.Kind == layout.FillPanels {
		m.Members = fmt.Sprintf("%s wide and %s high, %s.", r.text(in.Member), r.text(in.Cut), in.CutNote)
	}
	m.Say = m.Count + ", " + m.Members
	gaps := fmt.Sprintf("Gaps %s to %s", r.text(in.Smallest), r.text(in.Largest))
	if in.Smallest == in.Largest {
		gaps = "Every gap " + r.text(in.Largest)
	}
	m.Gaps = fmt.Sprintf("%s, end spaces %s and %s, a %s in the middle.", gaps, r.text(in.EndGap), r.text(in.LastGap), middle(in))
	if in.DryGap > in.Largest {
		m.Gaps += fmt.Sprintf(" Dry, at %d %%, the widest gap is %s.", layout.DryMoisture, in.DryGap.FormatFine(r.style))
	}
	m.Marks, m.Top, m.TopNote = r.bare(in.Marks), r.bare(in.TopMarks), in.TopNote
	return m
}

// texts lists lengths in one line.
func (r runLayout) texts(all []length.Length) string {
	out := make([]string, len(all))
	for i, l := range all {
		out[i] = r.text(l)
	}
	return strings.Join(out, ", ")
}

// bare lists lengths without their unit.
func (r runLayout) bare(all []length.Length) []string {
	var out []string
	for _, l := range all {
		out = append(out, l.FormatBare(r.style))
	}
	return out
}

// cableMarks puts cables into words, and the uprights that keep them apart.
func (r runLayout) cableMarks(in layout.Infill) Marks {
	c := in.Cables
	m := Marks{Hook: "Cables: mark their centres on every post and upright above " + r.l.Heights.Datum + ".",
		Say: fmt.Sprintf("%s of %s.", counted(c.Count, "cable"), r.text(c.Diameter))}
	if i := slices.IndexFunc(r.l.Pieces, func(p layout.Piece) bool { return p.What == "cable" }); i >= 0 {
		m.Say = fmt.Sprintf("%s of %s, each %s through the whole run, %s.", counted(c.Count, "cable"), r.text(c.Diameter), r.text(r.l.Pieces[i].Length), r.l.Pieces[i].Cuts)
	}
	m.Gaps = fmt.Sprintf("Gaps %s to %s, square to the cables, those to the rails included.", r.text(c.Smallest), r.text(c.Largest))
	if in.Count > 0 {
		m.Gaps += fmt.Sprintf(" %s, %s %s, cut %s, hooked from %s: %s.", counted(in.Count, in.Noun()), r.text(in.Member), in.Shape, r.text(in.Cut), in.Hook, r.texts(in.Marks))
		if len(in.TopMarks) > 0 {
			m.Gaps += " On the top rail: " + r.texts(in.TopMarks) + "."
		}
	}
	m.Marks, m.TopNote = r.bare(c.Marks), in.TopNote
	return m
}

// middle is what stands in the middle of a bay.
func middle(in layout.Infill) string {
	if in.CentredOn == "member" {
		return in.Noun()
	}
	return "space"
}

// railCuts says once how the rails are cut and what the connectors take off, and which rails meet a turned post.
func (r runLayout) railCuts() string {
	section, cuts := "", layout.EndSquare
	var turned []string
	for _, p := range r.l.Pieces {
		switch {
		case p.What != "top rail":
		case p.Over > 0:
			section = p.Section
			turned = append(turned, fmt.Sprintf("Both rails of %s: %s.", p.Place, p.Cuts))
		default:
			section, cuts = p.Section, p.Cuts
		}
	}
	if section == "" {
		return ""
	}
	return strings.Join(append([]string{fmt.Sprintf("%s; %s. Connectors take %s off each end of a top rail, %s of a bottom rail.",
		section, cuts, r.allowance(r.spec.ConnectorTop, r.spec.ConnectorTopGiven), r.allowance(r.spec.ConnectorBottom, r.spec.ConnectorBottomGiven))}, turned...), " ")
}

// walls says what rails and cap leave open at each end that is a wall.
func (r runLayout) walls() []string {
	var says []string
	for _, e := range r.l.Walls {
		says = append(says, e.Says)
	}
	return says
}

// capNote says where the cap stands over its posts and what fixes it; empty without a cap.
func (r runLayout) capNote() string {
	if len(r.l.Cap) == 0 {
		return ""
	}
	var says []string
	if over := (r.spec.CapWidth - r.spec.PostDepth) / 2; r.spec.PostsAtCap != layout.PostsThroughCap && over > 0 {
		says = append(says, fmt.Sprintf("%s past each side of the posts.", r.text(over)))
	}
	if r.spec.ScrewLength > 0 {
		says = append(says, fmt.Sprintf("Screws %s long, %s thick.", r.text(r.spec.ScrewLength), r.text(r.spec.ScrewDiameter)))
	}
	return strings.Join(says, " ")
}

func (r runLayout) allowance(l length.Length, given bool) string {
	switch {
	case !given:
		return "an amount not found yet"
	case l == 0:
		return "nothing"
	}
	return r.text(l)
}

// opening is a clear opening at the bottom and top rail: one figure where they agree.
func (r runLayout) opening(p *layout.Parts) string {
	if p.ClearBottom == p.ClearTop {
		return r.figure(p.ClearBottom)
	}
	return fmt.Sprintf("%s bottom, %s top", r.figure(p.ClearBottom), r.figure(p.ClearTop))
}

// caps lists the pieces of cap rail.
func (r runLayout) caps() Table {
	t := Table{Caption: "Cap rail", Heads: []Head{{Label: "Piece"}, {Label: "Length", Number: true}, {Label: "Ends"}, {Label: "Lies"}}, Empty: "none"}
	for _, c := range r.l.Cap {
		t.Caption = "Cap rail, " + c.Section
		t.Rows = append(t.Rows, []Cell{{Text: c.Label}, {Text: r.text(c.Length)}, {Text: c.Cuts}, {Text: c.Place}})
	}
	return t
}

// liftFacts are what a removable length needs.
func (r runLayout) liftFacts() []Fact {
	l := r.l.Lift
	if l == nil {
		return nil
	}
	facts := []Fact{{Label: "Why it is removable", Value: l.Why}, {Label: "Stands while out", Value: l.Store}, {Label: "To be clear at each side", Value: r.text(l.Side)}}
	for _, e := range l.Ends {
		fact := Fact{Label: "Clear at the " + e.End, Value: "measure it", Note: e.Says}
		switch {
		case e.Known && e.Clear < 0:
			fact.Value = "none"
		case e.Known:
			fact.Value, fact.Note = r.text(e.Clear), "to "+e.Run+", caps and sleeves counted"
		}
		facts = append(facts, fact)
	}
	if l.Rise > 0 {
		facts = append(facts, Fact{Label: "Lifts to clear", Value: r.text(l.Rise)}, Fact{Label: "Reaches, lifted clear", Value: r.text(l.Reach), Note: "above the decking: what is overhead must be higher"})
	}
	facts = append(facts, Fact{Label: "Weight", Value: l.Weighs(r.style)})
	if l.Weight > 0 && l.Limit > 0 {
		carry := Fact{Label: "Carried by", Value: "one person", Note: "up to " + l.Alone(r.style)}
		switch {
		case l.Two:
			carry = Fact{Label: "Carried by", Value: "two people", Note: "it weighs more than " + l.Alone(r.style)}
		case l.Without != "":
			carry = Fact{Label: "Carried by", Value: "weigh it first", Note: "two people carry more than " + l.Alone(r.style)}
		}
		carry.Note += ", the job's own figure (its default: common practice, no source)"
		facts = append(facts, carry)
	}
	return append(facts, Fact{Label: "How", Value: l.Note})
}

// loads are the screens, with what was not screened.
func (r runLayout) loads() []Row {
	var rows []Row
	for _, s := range r.l.Screens {
		row := Row{Label: upperFirst(s.What), Note: s.Sentence}
		if !s.Screened {
			row.Status = NewStatus("not screened")
		}
		rows = append(rows, row)
	}
	return rows
}

// checkURL leads to a check of a place of the run; empty where the run does not owe it.
func (r runLayout) checkURL(place, key string) string {
	id := r.run.ID + "/" + place + "." + key
	if _, ok := r.sheet.Check(id); !ok {
		return ""
	}
	return CheckURL(r.rec.Job.ID, id)
}

// openingsURL leads to the checks of a bay's clear opening.
func (r runLayout) openingsURL(b layout.Bay) string {
	return r.checkURL("B"+itoa(b.Number), checklist.KeyOpeningBottom)
}
