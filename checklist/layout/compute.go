package layout

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// Input is all that decides the layout of one run.
type Input struct {
	Run   Run
	Spec  Spec // of the job; the run's overrides are laid over it here
	Rules codes.Applied
	Joint Joint // what the run shares with its neighbours
	// Meets are the runs that share a post with this one at a stair head.
	Meets []Meeting
	// Built holds the clear openings as measured, by bay number.
	Built map[int]Opening
	// Posts holds the widths of posts as measured, by post number, which sleeves follow.
	Posts map[int]length.Length
	// Unit is the job's unit: bare numbers of overrides take it and sentences are written in it.
	Unit length.Unit
}

// work is one run in the course of being laid out.
type work struct {
	in    Input
	run   Run
	spec  Spec
	style length.Style
	slope slope

	apart    bool          // laid out for a run that meets it at a stair head: it says nothing of that one
	opening  limit         // clear gap of the infill
	lastPost int           // number of the post at the far end, zero at a wall
	headBack length.Length // of a flight that goes up without a length: its last post stands so far behind the top nosing
	lacking  []string      // figures of a stair that the rule set does not have, in words
	out      Layout
}

// Compute lays out one run. It always returns a layout: what could not be laid out is named in Problems, and the rest
// stands. It reads nothing but its input, and the same input gives the same layout.
func Compute(in Input) Layout {
	w := newWork(in)
	w.layOut()
	return w.out
}

// layOut does so.
func (w *work) layOut() {
	key := codes.OpeningLevel
	if w.run.Kind == Rake {
		key = codes.OpeningStair
		w.stair()
	}
	w.opening = limitOf(w.in.Rules, key, w.style)
	if !w.opening.known {
		// A rule set without a figure for stairs holds them to its general one.
		w.opening = limitOf(w.in.Rules, codes.OpeningLevel, w.style)
	}
	if !w.opening.known {
		w.say("Openings: there is no figure in this rule set, so the gaps were held to the design gap alone.")
	}
	w.required()
	w.corner()
	w.heights()
	w.connectors()
	w.stockSizes()
	if w.run.Kind != Rake || !w.slope.level() {
		if all := w.supports(); all != nil {
			w.out.EndSpan = all[len(all)-1].centre() - all[0].centre()
			w.posts(all)
			w.bays(all)
			w.walls(all)
			w.cableFootholds()
			w.caps(all)
		}
	}
	w.screws()
	w.drilling()
	w.lift()
	w.pieces()
	w.screens()
	w.cautions()
}

// newWork begins a layout: what is wrong with the run's own fields stands in it.
func newWork(in Input) *work {
	w := &work{in: in, run: in.Run, style: in.Unit.Style()}
	spec, faults := in.Spec.With(in.Run.Overrides, in.Unit)
	w.spec = spec
	w.out = Layout{
		RunID: in.Run.ID, Label: in.Run.Label, Kind: in.Run.Kind, Grid: spec.Grid, DeckOn: cmp.Or(in.Joint.DeckOn, 1),
		Posts: []Post{}, Bays: []Bay{}, Cap: []Piece{}, Pieces: []Piece{}, Working: []string{}, Drilling: []Drill{}, Screens: []Screen{}, Problems: []Problem{}, Cautions: []Caution{},
	}
	for _, f := range faults {
		w.problem(w.run.Label, f.Field, "%s", f.Message)
	}
	return w
}

// Places lists the bays that Compute would lay out, each with the numbers of the posts at its ends and nothing else. Neither follows from
// what was measured, so that Built can be gathered by it.
func Places(in Input) []Bay {
	w := newWork(in)
	if w.run.Kind == Rake {
		if w.stair(); w.slope.level() {
			return nil
		}
	}
	all := w.supports()
	var bays []Bay
	for i := 1; i < len(all); i++ {
		bays = append(bays, Bay{Number: i, FromPost: all[i-1].post, ToPost: all[i].post})
	}
	return bays
}

// ComputeJob lays out every run of a job under its rule set, in order. Posts shared between runs keep the label of the
// earlier run. It returns an error only where the rule set or its amendments cannot be used.
func ComputeJob(job Job) ([]Layout, error) {
	rules, err := job.Applied()
	if err != nil {
		return nil, err
	}
	layouts := make([]Layout, 0, len(job.Runs))
	at := map[string]int{} // label of a run laid out to its place in layouts
	joints := NewJoints(job.Runs, job.Spec, job.Units)
	for _, r := range job.Runs {
		var before *Layout
		if i, ok := at[r.StartAt]; ok && r.StartAt != "" {
			before = &layouts[i]
		}
		in := Input{Run: r, Spec: job.Spec, Rules: rules, Built: job.Built[r.Label], Unit: job.Units, Joint: joints.Of(r, before), Meets: Meetings(r, job.Runs)}
		at[r.Label] = len(layouts)
		layouts = append(layouts, Compute(in))
	}
	return layouts, nil
}

// say adds a line of working.
func (w *work) say(format string, args ...any) {
	w.out.Working = append(w.out.Working, fmt.Sprintf(format, args...))
}

// problem adds something laid out but at odds with a figure.
func (w *work) problem(place, field, format string, args ...any) {
	w.out.Problems = append(w.out.Problems, Problem{Place: place, Field: field, Sentence: fmt.Sprintf(format, args...)})
}

// fatal adds something that could not be laid out.
func (w *work) fatal(place, field, format string, args ...any) {
	w.out.Problems = append(w.out.Problems, Problem{Place: place, Field: field, Sentence: fmt.Sprintf(format, args...), Fatal: true})
}

// text shows a length in the job's style.
func (w *work) text(l length.Length) string { return l.Format(w.style) }

// required asks the rule set whether a guard is called for at this drop.
func (w *work) required() {
	w.out.Required.Required, w.out.Required.Why = w.run.GuardAsked(w.in.Rules, w.out.Stair, w.style)
}

// connectors says once for the run where an allowance has not been found yet.
func (w *work) connectors() {
	for _, c := range []struct {
		key, name string
		given     bool
	}{{"connector_top", "top", w.spec.ConnectorTopGiven}, {"connector_bottom", "bottom", w.spec.ConnectorBottomGiven}} {
		if !c.given {
			w.problem(w.run.Label, c.key, "Connector allowance of the %s rail is not given: dry-fit the first bay before cutting the rest. Its rails are computed with none.", c.name)
		}
	}
}

// sortedKeys lists the keys of openings in order, so that nothing depends on the order of a map.
func sortedKeys(built map[int]Opening) []int { return slices.Sorted(maps.Keys(built)) }
