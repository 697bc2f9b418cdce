package views

import (
	"fmt"
	"time"

	"newelbook/checklist/length"
	"newelbook/checklist/materials"
	"newelbook/jobs"
)

// Words that the buttons of a piece send: what is to be ticked, or to be taken back.
const (
	TickCut      = "cut"
	TickFitted   = "fitted"
	TickNotCut   = "not cut"
	TickNotFit   = "not fitted"
	WithdrawOne  = "one"
	WithdrawRest = "all"
)

// PieceRow is one piece to be ticked: what it is, how it stands, and the buttons for what can be done next.
type PieceRow struct {
	ID      string // of the element on the page
	Piece   string // permanent id
	URL     string // that takes its ticks
	Row     Row
	Buttons []PieceButton
}

// PieceButton is one button of a piece; Quiet is one that takes a tick back.
type PieceButton struct {
	Value, Label string
	Quiet        bool
}

// PieceGroup is the pieces of one section, by run.
type PieceGroup struct {
	Name  string
	Done  string // how many are cut and fitted
	Parts []PiecePart
}

// PiecePart is the pieces of one section and run, folded away unless Open.
type PiecePart struct {
	Run, Done string
	Open      bool
	Rows      []PieceRow
}

// HandRow is one entry of the stock on hand.
type HandRow struct {
	Row     Row
	URL     string // empty for one that is withdrawn
	Version string
	All     bool // several are left, so that all of them can be taken off at once
	Name    string
}

// BoardForm records that a board of the plan was cut.
type BoardForm struct {
	URL, Key, Name, OnHand string
	Pieces                 []string
	Rest                   *Field // what is kept of it; nil where too little is left
}

// siteOf is the job as its ticks and its stock on hand have it.
func siteOf(rec *jobs.Record, pieces []jobs.PieceState) materials.Site {
	site := materials.Site{Spares: materials.SparesOf(rec.Job.Spec), Cut: map[string]int{}}
	for _, p := range pieces {
		if n := p.Serves(); n > 0 {
			site.Cut[p.ID] = n
		}
	}
	for _, o := range rec.OnHand {
		if o.Count > 0 {
			site.OnHand = append(site.OnHand, materials.OnHand{ID: o.ID, Section: o.Section, Species: o.Species, Length: o.Length, Count: o.Count})
		}
	}
	return site
}

// materialRuns are the live runs as they are laid out, and the words for where the list comes from.
func materialRuns(rec *jobs.Record) (runs []materials.Run, from []string, err error) {
	for _, run := range rec.Live() {
		v, ok := rec.Layout(run.ID)
		if !ok {
			return nil, nil, fmt.Errorf("layout of run %s: %w", run.ID, jobs.ErrNotFound)
		}
		spec, _ := rec.Job.Spec.With(run.Overrides, rec.Job.Units) // faults were refused when the run was saved
		runs = append(runs, materials.Run{Layout: v.Layout, Spec: spec})
		from = append(from, fmt.Sprintf("%s (layout v%d)", run.Label, v.Version))
	}
	return runs, from, nil
}

// pieceWords puts pieces and stock on hand into rows.
type pieceWords struct {
	job   jobs.Job
	style length.Style
	board map[string]string // what a piece with slanted ends takes of its board, by id
	pages int
}

func (w *pieceWords) text(l length.Length) string { return l.Format(w.style) }

func (w *pieceWords) when(t *jobs.Tick) string {
	return stamp(t.At, w.job.Location()) + ", " + t.By.Name
}

// part is the pieces of one section and run.
func (w *pieceWords) part(run jobs.Run, pieces []jobs.PieceState, at string) PiecePart {
	p := PiecePart{Run: run.Label, Done: doneOf(pieces), Open: at == run.ID}
	for _, s := range pieces {
		p.Rows = append(p.Rows, w.row(s))
		p.Open = p.Open || s.ID == at
	}
	return p
}

// doneOf says how many of the pieces are cut and fitted.
func doneOf(pieces []jobs.PieceState) string {
	cut, fitted := 0, 0
	for _, s := range pieces {
		if s.Serves() == s.Count {
			cut++
		}
		if s.FittedNow() >= s.Count {
			fitted++
		}
	}
	return fmt.Sprintf("%d of %d cut, %d fitted", cut, len(pieces), fitted)
}

// row is one piece.
func (w *pieceWords) row(p jobs.PieceState) PieceRow {
	w.pages++
	r := PieceRow{ID: fmt.Sprintf("piece-%d", w.pages), Piece: p.ID, URL: JobURL(w.job.ID, "materials", "ticks"), Row: Row{Place: p.Label, Label: upperFirst(p.What), Figure: w.text(p.Length)}}
	if p.Count > 1 {
		r.Row.Label += fmt.Sprintf(", %d of them", p.Count)
	}
	r.Row.Note = upperFirst(p.Cuts)
	if p.Lies != "" && p.Lies != p.Label && !p.Gone {
		r.Row.Note += "; " + p.Lies
	}
	if over := w.board[p.ID]; over != "" {
		r.Row.Note += "; " + over
	}
	if p.Basis == "as built" {
		r.Row.Note += "; as built"
	}
	if r.Row.Note != "" {
		r.Row.Note += "."
	}
	note := func(format string, args ...any) { r.Row.Note = join(r.Row.Note, fmt.Sprintf(format, args...)) }
	cut, fitted := p.CutNow(), p.FittedNow()
	if cut > 0 {
		note("Cut %s.", w.when(p.Cut))
	}
	switch {
	case p.Stays():
		note("Fitted; looked at and left %s.", w.when(p.Fitted))
	case fitted > 0:
		note("Fitted %s.", w.when(p.Fitted))
	}
	if p.Differs() {
		note("%s", standing(p, w.style))
	}
	switch {
	case p.Gone && fitted > 0:
		r.Row.Status = NewStatus("not in the layout", "off the layout")
		note("It is fitted, and the layout has no such piece any more: look at it. Take it off the list once it is taken out or is to stay.")
	case p.Gone:
		r.Row.Status = NewStatus("not in the layout", "superseded")
		note("The layout has no such piece any more: use it elsewhere, or enter it as an offcut.")
	case p.Changed() && fitted > 0:
		r.Row.Status = NewStatus("look at it", "off the layout")
		note("Look whether it can stay. Nothing is ordered for it.")
	case p.Changed():
		r.Row.Status = NewStatus(w.changed(p), "off the layout")
		if p.Over() < 0 || p.Cut.Section != p.Section {
			r.Row.Status = NewStatus(w.changed(p), "fails the limit")
		}
	case fitted >= p.Count:
		r.Row.Status = NewStatus("fitted", "closed")
	case cut >= p.Count:
		r.Row.Status = NewStatus("cut", "as built")
	case cut > 0:
		r.Row.Status = NewStatus(fmt.Sprintf("%d of %d cut", cut, p.Count), "planned")
	default:
		r.Row.Status = NewStatus("to cut", "planned")
	}
	r.Buttons = buttons(p)
	return r
}

// standing says of a piece that differs from the layout what it was cut to or what of it is fitted, what the layout asks for now, and
// by how much they differ.
func standing(p jobs.PieceState, style length.Style) string {
	was, is := p.Cut.Length.Format(style), p.Length.Format(style)
	other := p.Cut.Section != p.Section
	if other {
		was, is = p.Cut.Section+", "+was, p.Section+", "+is
	}
	by := ""
	switch over := p.Over(); {
	case over < 0:
		by = (-over).Format(style) + " too short"
	case over > 0:
		by = over.Format(style) + " too long"
	}
	switch {
	case other && by != "":
		by = "of another section and " + by
	case other:
		by = "of another section"
	}
	if p.FittedNow() > 0 {
		return fmt.Sprintf("What is fitted is %s, cut by layout v%d. Layout v%d asks for %s: by that it is %s.", was, p.Cut.Layout, p.Version, is, by)
	}
	return fmt.Sprintf("It was cut to %s by layout v%d and is %s by v%d: it is %s.", was, p.Cut.Layout, is, p.Version, by)
}

// changed says what is wrong with a piece that was cut before the layout changed.
func (w *pieceWords) changed(p jobs.PieceState) string {
	switch over := p.Over(); {
	case p.Cut.Section != p.Section:
		return "other section"
	case over < 0:
		return w.text(-over) + " too short"
	default:
		return w.text(over) + " too long"
	}
}

// buttons are what can be done next with a piece.
func buttons(p jobs.PieceState) []PieceButton {
	cut, fitted := p.CutNow(), p.FittedNow()
	switch {
	case p.Gone:
		return []PieceButton{{TickNotCut, "Take off the list", true}}
	case p.Changed() && fitted > 0:
		return []PieceButton{{TickFitted, "It stays as it is", false}, {TickNotFit, "Not fitted", true}}
	case p.Changed() && p.Over() > 0 && p.Cut.Section == p.Section:
		return []PieceButton{{TickCut, "Trimmed", false}, {TickNotCut, "Not cut", true}}
	case p.Changed():
		return []PieceButton{{TickCut, "Cut anew", false}, {TickNotCut, "Not cut", true}}
	case fitted >= p.Count:
		return []PieceButton{{TickNotFit, "Not fitted", true}}
	case cut >= p.Count:
		return []PieceButton{{TickFitted, "Fitted", false}, {TickNotCut, "Not cut", true}}
	case cut > 0:
		return []PieceButton{{TickCut, "Cut", false}, {TickNotCut, "None cut", true}}
	}
	return []PieceButton{{TickCut, "Cut", false}}
}

// hand is the stock on hand: what is left of it, and what was withdrawn.
func (w *pieceWords) hand(list []jobs.OnHand, unused map[string]int) (on, gone []HandRow) {
	for _, o := range list {
		row := HandRow{Name: o.Section + ", " + materials.BoardText(o.Length, w.style), Row: Row{Label: o.Section, Figure: materials.BoardText(o.Length, w.style)}}
		row.Row.Note = upperFirst(orElse(o.Species, "wood not known to the layout")) + "."
		if o.Offcut {
			row.Row.Note = join("Offcut.", row.Row.Note)
		}
		if o.From != "" {
			row.Row.Note = join(row.Row.Note, upperFirst(o.From)+".")
		}
		row.Row.Note = join(row.Row.Note, w.noted(o.Why, o.At, o.By))
		switch left := unused[o.ID]; {
		case o.Count == 0:
			row.Row.Status = NewStatus("withdrawn", "retired")
			gone = append(gone, row)
			continue
		case left == 0:
			row.Row.Status = NewStatus(fmt.Sprintf("%d, in the plan", o.Count), "as built")
		case left < o.Count:
			row.Row.Status = NewStatus(fmt.Sprintf("%d, %d in the plan", o.Count, o.Count-left), "as built")
		default:
			row.Row.Status = NewStatus(fmt.Sprintf("%d, not needed", o.Count), "not needed")
		}
		row.URL, row.Version, row.All = JobURL(w.job.ID, "materials", "on-hand", o.ID), itoa(o.Version), o.Count > 1
		on = append(on, row)
	}
	return on, gone
}

func (w *pieceWords) noted(why string, at time.Time, by jobs.Actor) string {
	return fmt.Sprintf("%s %s, %s.", upperFirst(orElse(why, "entered")), stamp(at, w.job.Location()), by.Name)
}
