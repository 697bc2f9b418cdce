// Package materials makes the list of what a job takes: what to order, what to cut out of which board, and what is counted.
//
// Callers give Make the runs of a job as they are laid out and read the List; WriteText shows it on a terminal. Posts,
// blocking, rails and cap rail are planned over the stock lengths of the specification; balusters and sleeves are counted. A
// piece with slanted ends takes more board than its cut length, and is planned with that.
//
// Pieces that are cut already need no board, and boards on hand are used before any is bought. It adds the spares of the job and says
// so, none where there are none; it names what the layout does not know as not counted, and chooses no hardware. The same
// runs and site give the same list. It never reads a file or a clock. Test it with: go test ./checklist/materials; -update writes
// the golden file anew.
package materials

import (
	"fmt"
	"slices"
	"strings"

	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// Budget is the number of search steps that the cutting plan of one section spends at most, and budgetAPiece what each piece adds to it,
// up to budgetMost: from a tenth of a second to about a third, so that a page can ask for it. One that ends more than a
// board over its bound is planned again with cutting.DefaultBudget and more for each piece, in a second or two, and of twenty thousand pieces
// in up to seven. Plans that are proved sooner end sooner, which those of most jobs do.
const (
	Budget       = 2_000_000
	budgetAPiece = 100
	budgetMost   = 6_000_000
)

// Run is one run of the job: its layout in use, and the specification with the run's own fields laid over it.
type Run struct {
	Layout layout.Layout
	Spec   layout.Spec
}

// Runs joins the runs of a job description to their layouts, in order. An override that cannot be read keeps the job's
// field, as in the layout.
func Runs(job layout.Job, layouts []layout.Layout) []Run {
	runs := make([]Run, 0, len(layouts))
	for i, l := range layouts {
		spec, _ := job.Spec.With(job.Runs[i].Overrides, job.Units)
		runs = append(runs, Run{Layout: l, Spec: spec})
	}
	return runs
}

// List is what the runs of a job take.
type List struct {
	Orders   []Order          `json:"orders"`   // boards to buy, by section and length
	Beyond   []Beyond         `json:"beyond"`   // pieces that come out of no board of the plan
	Counted  []Counted        `json:"counted"`  // what is bought by count: balusters, sleeves
	Hardware []Hardware       `json:"hardware"` // what is counted from the layout, and what is not
	Stocks   []Stock          `json:"stocks"`   // pieces and cutting plan of each section
	Unused   []OnHand         `json:"unused"`   // boards on hand that no piece of this list is cut from, of those of each entry
	Spares   string           `json:"spares"`   // what is ordered over, one sentence
	Missing  []string         `json:"missing"`  // what the job takes that is not in this list, each a finished sentence
	Notes    []string         `json:"notes"`    // how the list was made, each a finished sentence
	Cautions []layout.Caution `json:"cautions"` // of all the runs, each once
}

// Order is boards to buy of one section and length.
type Order struct {
	Section string        `json:"section"`
	Species string        `json:"species"` // name; empty where the layout does not know it
	Length  length.Length `json:"length"`
	Count   int           `json:"count"` // needed
	Spare   int           `json:"spare"` // over that
}

// Beyond is pieces of one section and length that come out of no board of the plan, and so still have to be ordered in some other way.
type Beyond struct {
	Section string        `json:"section"`
	Species string        `json:"species"` // name; empty where the layout does not know it
	Takes   length.Length `json:"takes"`   // of board, point to point where the ends are slanted
	Count   int           `json:"count"`
	Labels  []string      `json:"labels"` // of the pieces
	Why     string        `json:"why"`    // a phrase: "longer than any stock length"
}

// Words says what is wrong, for which pieces, and what to do.
func (b Beyond) Words() string {
	return fmt.Sprintf("%s: %s. Order a longer board, or divide the length.", b.Why, layout.Series(b.Labels))
}

// ToBuy lists what is still bought by count: what was all cut and fitted before is left out.
func (l List) ToBuy() []Counted {
	return slices.DeleteFunc(slices.Clone(l.Counted), func(c Counted) bool { return c.Count+c.Spare == 0 })
}

// Counted is pieces that are bought by count, all of one length.
type Counted struct {
	What    string        `json:"what"` // baluster, wood sleeve wall, steel sleeve
	Section string        `json:"section"`
	Length  length.Length `json:"length"` // cut length
	Takes   length.Length `json:"takes"`  // point to point, where its ends are slanted; else the cut length
	Count   int           `json:"count"`  // not cut yet
	Spare   int           `json:"spare"`  // over that
	Cut     int           `json:"cut"`    // cut already
	Places  []string      `json:"places"` // where they go, in order
	Cuts    string        `json:"cuts"`   // end cuts in words
}

// Hardware is one kind of hardware. Known is false where the layout does not know how many: then Count is zero and means
// nothing.
type Hardware struct {
	What   string `json:"what"`
	Count  int    `json:"count"`
	Spare  int    `json:"spare"` // over that
	Known  bool   `json:"known"`
	Note   string `json:"note"`
	Source string `json:"source"` // what the count rests on
}

// Make makes the list of the runs as the site stands, with its sentences in the style.
func Make(runs []Run, site Site, style length.Style) List {
	m := maker{style: style, site: site, list: List{Unused: []OnHand{}, Orders: []Order{}, Beyond: []Beyond{}, Counted: []Counted{}, Hardware: []Hardware{}, Stocks: []Stock{}, Missing: []string{}, Notes: []string{}, Cautions: []layout.Caution{}}}
	for _, r := range runs {
		m.pieces(r)
		m.missing(r)
		for _, c := range r.Layout.Cautions {
			if !slices.ContainsFunc(m.list.Cautions, func(have layout.Caution) bool { return have.ID == c.ID }) {
				m.list.Cautions = append(m.list.Cautions, c)
			}
		}
	}
	left := slices.Clone(site.OnHand)
	for i := range m.list.Stocks {
		s := &m.list.Stocks[i]
		s.plan(left, style)
		m.list.Orders = append(m.list.Orders, s.orders()...)
		m.list.Beyond = append(m.list.Beyond, s.beyond()...)
	}
	for _, o := range left {
		if o.Count > 0 {
			m.list.Unused = append(m.list.Unused, o)
		}
	}
	m.hardware(runs)
	m.spare(site.Spares)
	if len(runs) > 0 {
		m.notes(runs)
	}
	return m.list
}

// maker is a list in the making.
type maker struct {
	style length.Style
	site  Site
	list  List
}

// text shows a length in the list's style.
func (m *maker) text(l length.Length) string { return l.Format(m.style) }

// pieces deals the pieces of a run to their sections, and to what is counted.
func (m *maker) pieces(r Run) {
	for _, p := range r.Layout.Pieces {
		takes, id := p.Takes(r.Layout, r.Spec), r.Layout.PieceID(p)
		cut := min(m.site.Cut[id], p.Count)
		if p.Boarded() {
			s := m.stock(p, r)
			s.Pieces = append(s.Pieces, Member{ID: id, Piece: p, Takes: takes, Cut: cut})
			continue
		}
		same := func(c Counted) bool {
			return c.What == p.What && c.Section == p.Section && c.Length == p.Length && c.Takes == takes && c.Cuts == p.Cuts
		}
		i := slices.IndexFunc(m.list.Counted, same)
		if i < 0 {
			i = len(m.list.Counted)
			m.list.Counted = append(m.list.Counted, Counted{What: p.What, Section: p.Section, Length: p.Length, Takes: takes, Cuts: p.Cuts, Places: []string{}})
		}
		m.list.Counted[i].Count += p.Count - cut
		m.list.Counted[i].Cut += cut
		m.list.Counted[i].Places = append(m.list.Counted[i].Places, p.Place)
	}
}

// stock is the section that a piece is cut from: of one size and species, out of the same boards with the same saw.
func (m *maker) stock(p layout.Piece, r Run) *Stock {
	s := Stock{Section: p.StockSection(), Lengths: slices.Clone(r.Spec.StockLengths), Kerf: r.Spec.Kerf, EndTrim: r.Spec.EndTrim}
	slices.Sort(s.Lengths)
	s.Lengths = slices.Compact(s.Lengths)
	if species, ok := codes.SpeciesByKey(p.StockSpecies(r.Spec)); ok {
		s.Species = species.Name
	}
	i := slices.IndexFunc(m.list.Stocks, func(have Stock) bool {
		return have.Section == s.Section && have.Species == s.Species && have.Kerf == s.Kerf && have.EndTrim == s.EndTrim && slices.Equal(have.Lengths, s.Lengths)
	})
	if i < 0 {
		i = len(m.list.Stocks)
		m.list.Stocks = append(m.list.Stocks, s)
	}
	found := &m.list.Stocks[i]
	if n := len(found.Runs); n == 0 || found.Runs[n-1] != r.Layout.Label { // run comes after run
		found.Runs = append(found.Runs, r.Layout.Label)
	}
	return found
}

// missing names what the run takes that is not in the list.
func (m *maker) missing(r Run) {
	l := r.Layout
	say := func(format string, args ...any) {
		m.list.Missing = append(m.list.Missing, fmt.Sprintf(format, args...))
	}
	if len(l.Bays) == 0 {
		say("%s is not laid out: nothing of its rails, balusters and cap is in this list.", l.Label)
	}
	for _, b := range l.Bays {
		if b.Used() == nil {
			say("%s is not laid out: its rails, balusters and connectors are not in this list.", b.Label)
		}
	}
	if l.Stair != nil && l.Stair.HandrailRequired {
		say("%s: the handrail is not in this list.", l.Label)
	}
}

// notes says how the list was made.
func (m *maker) notes(runs []Run) {
	say := func(format string, args ...any) { m.list.Notes = append(m.list.Notes, fmt.Sprintf(format, args...)) }
	settings := []string{}
	for _, r := range runs {
		words := fmt.Sprintf("a kerf of %s after each piece and %s off each end of each board", m.text(r.Spec.Kerf), m.text(r.Spec.EndTrim))
		if !slices.Contains(settings, words) {
			settings = append(settings, words)
		}
	}
	say("Planned with %s: the job's own settings (their defaults: common practice, no source).", strings.Join(settings, ", or "))
	say("The fewest boards first, the least length of stock second; every piece of one section comes out of the stock lengths of the specification.")
	if len(m.site.OnHand) > 0 {
		say("Boards on hand are used before any is bought, and of them the shortest that serves.")
	}
	if len(m.site.Cut) > 0 {
		say("What is ticked as cut is left out of the plan and the order. Hardware is counted for the whole job.")
	}
	if slices.ContainsFunc(m.list.Stocks, func(s Stock) bool {
		return slices.ContainsFunc(s.Pieces, func(p Member) bool { return p.Takes != p.Piece.Length })
	}) {
		say("A piece with slanted ends is planned at its length from point to point: cut length and depth times rise over run, or half of its thickness times the tangent of each bevel where it meets a turned post (plane geometry).")
	}
	say("What is not yet measured is as planned: a bay laid out again as built changes this list.")
}
