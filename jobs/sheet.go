package jobs

import (
	"fmt"
	"slices"
	"strings"

	"newelbook/checklist"
	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// Sheet is what a record comes to: every check with its readings and photographs, and every stage with what is left.
// It is computed, never stored.
type Sheet struct {
	Rules   codes.Applied
	Style   length.Style
	Checks  []CheckState // in order of stage, run, place and catalogue
	Retired []CheckState // readings at places or checks that the layout no longer has
	Stages  []StageSheet
	Mixed   []Mixed     // questions of a run that were answered from different references
	Plan    layout.Plan // the live runs joined, as their newest layouts have them

	byID map[string]int
}

// CheckState is one check and what is recorded of it.
type CheckState struct {
	Check     checklist.Check
	Current   *Reading  // nil when not checked
	History   []Reading // every reading, oldest first, Current included
	Photos    []Photo   // filed to this check, of where its place stands now
	Deviation *Deviation
	Elsewhere bool // the current reading was taken where the post or bay no longer stands
	Moved     bool // judged against another nominal, tolerance or limit than the check has now, or at another spot; the old verdict stands as it was given
}

// Verdict is the current reading's, as it was given.
func (c CheckState) Verdict() checklist.Verdict {
	if c.Current == nil {
		return checklist.NotChecked
	}
	return c.Current.Result.Verdict
}

// Answered says whether the check has what it asks for: a reading, or for a photograph a picture or a reason for none.
func (c CheckState) Answered() bool {
	if c.Check.Ask == checklist.AskPhoto {
		return len(c.Photos) > 0 || c.Current != nil
	}
	return c.Current != nil
}

// StageSheet is one stage at a glance.
type StageSheet struct {
	Stage       checklist.Stage
	State       StageState
	Checks      []*CheckState
	Total       int
	Answered    int
	Counts      map[checklist.Verdict]int
	Outstanding []Outstanding
	Again       string // why a closed stage is to be looked at again, in a finished sentence; empty where it is not
}

// Check is the state of the check of that id.
func (s *Sheet) Check(id string) (*CheckState, bool) {
	i, ok := s.byID[id]
	if !ok {
		return nil, false
	}
	return &s.Checks[i], true
}

// Rank is where a check stands in the sheet, from 0; one that the layout no longer has comes after all of them.
func (s *Sheet) Rank(id string) int {
	if i, ok := s.byID[id]; ok {
		return i
	}
	return len(s.Checks)
}

// Stage is the sheet of one stage.
func (s *Sheet) Stage(stage checklist.Stage) (*StageSheet, bool) {
	i := slices.IndexFunc(s.Stages, func(x StageSheet) bool { return x.Stage == stage })
	if i < 0 {
		return nil, false
	}
	return &s.Stages[i], true
}

// Sheet computes the record's sheet, once.
func (r *Record) Sheet() (*Sheet, error) {
	lazy := r.sheet
	lazy.once.Do(func() { lazy.sheet, lazy.err = r.computeSheet() })
	return lazy.sheet, lazy.err
}

func (r *Record) computeSheet() (*Sheet, error) {
	rules, err := r.Job.Rules()
	if err != nil {
		return nil, fmt.Errorf("rules of job %s: %w", r.Job.ID, err)
	}
	s := &Sheet{Rules: rules, Style: r.Job.Units.Style()}

	history := r.history()
	var made [][]checklist.Check
	var layouts []layout.Layout
	for _, run := range r.Live() {
		v, ok := r.Layout(run.ID)
		if !ok {
			continue
		}
		layouts = append(layouts, v.Layout)
		made = append(made, r.checks(run, v.Layout, rules, s.Style, history))
	}
	s.Plan = layout.NewPlan(PlainRuns(r.Live()), layouts, r.Job.Spec, r.Job.Units)
	s.Checks = byStage(append(made, checklist.GenerateJob(s.Style, r.Job.Photo)))
	s.byID = make(map[string]int, len(s.Checks))
	for i := range s.Checks {
		s.byID[s.Checks[i].Check.ID] = i
	}

	for id, readings := range history {
		if c, ok := s.Check(id); ok {
			c.History = readings
			c.Current = currentOf(readings)
			c.Elsewhere = c.Current != nil && r.elsewhere(c.Current.Check.Place, c.Current.LayoutVersion)
			c.Moved = c.Elsewhere || c.Current != nil && moved(c.Current.Check, c.Check)
			continue
		}
		s.Retired = append(s.Retired, CheckState{Check: readings[len(readings)-1].Check, History: readings, Current: currentOf(readings)})
	}
	slices.SortFunc(s.Retired, func(a, b CheckState) int { return strings.Compare(a.Check.ID, b.Check.ID) })
	for _, p := range r.Photos {
		if c, ok := s.Check(p.CheckID); ok && !r.elsewhere(p.Place, p.LayoutVersion) {
			c.Photos = append(c.Photos, p)
		}
	}
	for _, d := range r.Deviations {
		if c, ok := s.Check(d.CheckID); ok {
			c.Deviation = &d // a copy: the next record shares the sheet, and changes its own list
		}
	}
	s.Mixed = mixed(s.Checks, r.Live())
	s.Stages = r.stageSheets(s)
	return s, nil
}

// history is every reading by its check, in order of receipt.
func (r *Record) history() map[string][]Reading {
	history := map[string][]Reading{}
	for _, x := range r.Readings {
		history[x.CheckID] = append(history[x.CheckID], x)
	}
	return history
}

// checks are those of one run under a rule set.
func (r *Record) checks(run Run, l layout.Layout, rules codes.Applied, style length.Style, history map[string][]Reading) []checklist.Check {
	spec, _ := r.Job.Spec.With(run.Overrides, r.Job.Units) // faults were refused when the run was saved
	return checklist.Generate(checklist.Source{
		Run: run.Run, Spec: spec, Layout: l, Rules: rules, Style: style,
		MeasuredPost: measuredPosts(run.ID, len(l.Posts), checklist.KeyPostWidth, history),
		MeasuredTop:  measuredPosts(run.ID, len(l.Posts), checklist.KeyPostTop, history),
		Photos:       r.Job.Photo,
	})
}

// byStage puts checks in order of stage, keeping their order within one. Checks are large and many, so they are counted and
// each put in its place once, which sorting would not do.
func byStage(made [][]checklist.Check) []CheckState {
	next := map[checklist.Stage]int{}
	for _, checks := range made {
		for i := range checks {
			next[checks[i].Stage]++
		}
	}
	total := 0
	for _, stage := range checklist.Stages() {
		n := next[stage]
		next[stage], total = total, total+n
	}
	out := make([]CheckState, total)
	for _, checks := range made {
		for i := range checks {
			at := next[checks[i].Stage]
			out[at].Check, next[checks[i].Stage] = checks[i], at+1
		}
	}
	return out
}

// currentOf is the newest received reading that no other one supersedes.
func currentOf(readings []Reading) *Reading {
	superseded := map[string]bool{}
	for _, x := range readings {
		if x.Supersedes != "" {
			superseded[x.Supersedes] = true
		}
	}
	for i := len(readings) - 1; i >= 0; i-- {
		if !superseded[readings[i].ID] {
			return &readings[i]
		}
	}
	return nil
}

// moved says whether what a check is held to has changed since it was judged: its limits, its tolerance, or its nominal by more
// than that.
func moved(then, now checklist.Check) bool {
	if !slices.Equal(then.Limits, now.Limits) || then.HasTol != now.HasTol || then.Plus != now.Plus || then.Minus != now.Minus {
		return true
	}
	if (then.Moist == nil) != (now.Moist == nil) || then.Moist != nil && *then.Moist != *now.Moist {
		return true
	}
	if (then.Count == nil) != (now.Count == nil) || then.Count != nil && *then.Count != *now.Count {
		return true
	}
	if then.Nominal == nil || now.Nominal == nil {
		return then.Nominal != now.Nominal
	}
	by := *now.Nominal - *then.Nominal
	return by > now.Plus || -by > now.Minus
}

func (r *Record) stageSheets(s *Sheet) []StageSheet {
	var out []StageSheet
	for _, stage := range checklist.Stages() {
		state, ok := r.Stages[stage]
		if !ok {
			state = StageState{Stage: stage}
		}
		sheet := StageSheet{Stage: stage, State: state, Counts: map[checklist.Verdict]int{}}
		for _, before := range out {
			if !before.State.Closed {
				sheet.Outstanding = append(sheet.Outstanding, Outstanding{Sentence: fmt.Sprintf("The stage before, %s, is not closed.", before.Stage)})
				break
			}
		}
		sheet.Again = r.again(out, state)
		for i := range s.Checks {
			c := &s.Checks[i]
			if c.Check.Stage != stage {
				continue
			}
			sheet.Checks = append(sheet.Checks, c)
			sheet.Total++
			if c.Answered() {
				sheet.Answered++
			}
			if c.Check.Ask != checklist.AskPhoto || c.Current != nil {
				sheet.Counts[c.Verdict()]++
			}
			sheet.Outstanding = append(sheet.Outstanding, outstanding(c)...)
		}
		for _, d := range r.Deviations {
			if o, owed := s.owed(d); owed && d.Stage == stage {
				sheet.Outstanding = append(sheet.Outstanding, o)
			}
		}
		out = append(out, sheet)
	}
	return out
}

// again says that a stage before was opened again after this one was closed, whether or not it was closed since: what was built on it is
// to be looked at again. Opening this stage again and closing it says that it was.
func (r *Record) again(before []StageSheet, state StageState) string {
	// The order of the changes decides, not their times: a clock may stand still or go back.
	turn := func(s checklist.Stage) int { return slices.Index(r.stageOrder, s) }
	var names []string
	for _, b := range before {
		if state.Closed && b.State.Version > 1 && turn(b.Stage) > turn(state.Stage) {
			names = append(names, string(b.Stage))
		}
	}
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf("Opened again after the stage %s was closed: %s. Look at it again, then open and close it anew.", state.Stage, strings.Join(names, ", "))
}

// owed is what an open deviation owes its stage by itself: one of a live check is owed by the check, and one that names what
// a stage was closed over owes nothing more.
func (s *Sheet) owed(d Deviation) (Outstanding, bool) {
	_, live := s.Check(d.CheckID)
	return Outstanding{Place: d.Place.Label, Sentence: fmt.Sprintf("Deviation D%d is open: %s", d.Number, d.What)}, !live && d.State == DevOpen && d.Kind != DevMissing
}

// outstanding is what one check still owes its stage.
func outstanding(c *CheckState) []Outstanding {
	var out []Outstanding
	say := func(hold bool, text string, args ...any) {
		out = append(out, Outstanding{CheckID: c.Check.ID, Place: c.Check.Place.Label, Sentence: fmt.Sprintf(text, args...), Hold: hold})
	}
	hold := c.Check.Hold || c.Check.Photo == checklist.PhotoHold
	excused := c.Current != nil && c.Verdict() == checklist.NotChecked // not applicable, with a reason: printed, but no evidence
	switch {
	case c.Check.Ask == checklist.AskPhoto && len(c.Photos) > 0:
	case c.Check.Ask == checklist.AskPhoto && c.Current == nil:
		say(hold, "%s: no photograph.", c.Check.Title)
	case c.Check.Ask == checklist.AskPhoto && hold && !excused:
		say(true, "%s: no photograph.", c.Check.Title) // what was said of another one, or of what was seen without one, is no picture
	case c.Check.Ask == checklist.AskPhoto && hold:
		say(true, "%s: no photograph, because %s", c.Check.Title, finished(c.Current.Answer.Reason))
	case c.Check.Ask == checklist.AskPhoto:
	case c.Current == nil:
		say(c.Check.Hold, "%s: not checked.", c.Check.Title)
	case c.Elsewhere && c.Check.Hold:
		say(true, "%s: recorded before %s moved on the layout. Look again.", c.Check.Title, c.Check.Place.Label)
	case c.Check.TakenElsewhere(c.Current.Answer):
		say(c.Check.Hold, "%s: taken from %s, not from %s.", c.Check.Title, c.Current.Answer.From, c.Check.Reference)
	case excused && c.Check.Hold:
		say(true, "%s: not checked, because %s", c.Check.Title, finished(c.Current.Answer.Reason))
	case c.Check.Photo == checklist.PhotoHold && len(c.Photos) == 0:
		say(true, "%s: no photograph.", c.Check.Title)
	}
	if d := c.Deviation; d != nil && d.State == DevOpen {
		say(c.Check.Hold, "%s: deviation D%d is open.", c.Check.Title, d.Number)
	}
	return out
}
