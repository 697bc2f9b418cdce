package views

import (
	"slices"
	"strconv"
	"strings"

	"newelbook/checklist/layout"
	"newelbook/jobs"
)

// RunEditPage describes a new run or changes one.
type RunEditPage struct {
	Frame
	Form         Form
	URL, Version string
	Kind         string // level, rake or removable
	Kinds        []Option
	Groups       []FieldGroup // what the run itself is asked for
	Otherwise    []FieldGroup // the specification fields that it may have otherwise
	PostBar      *PostBar     // nil for a stair, whose posts stand by its steps
	Stands       []Fact
	Unit         string
	Save         string // words of the button
	RetireURL    string // empty for a new run
	RetireID     string // form id of the form that takes the run out
	RetireVer    string
	Caution      string
	BackURL      string
}

// NewRunNew is the page for a new run of a kind; an unknown kind is taken as level. The label offered is the next free one.
func NewRunNew(f Frame, rec *jobs.Record, kind string, form Form) RunEditPage {
	k := runKindOf(form.Text("kind", kind))
	run := layout.DefaultRun(k, rec.Job.Units)
	run.Label = nextLabel(rec)
	if k == layout.Removable {
		// It lifts out of sleeves; any other mount is chosen on purpose.
		run.Overrides = []layout.Override{{Key: "post_mount", Text: layout.MountSleeve}}
	}
	p := runPage(f, rec, run, form)
	p.URL, p.Version, p.Save, p.BackURL = JobURL(rec.Job.ID, "runs"), "0", "Lay out the run", JobURL(rec.Job.ID)
	for _, o := range []Option{{Value: string(layout.Level), Label: "Level"}, {Value: string(layout.Rake), Label: "Rake, along a stair"}, {Value: string(layout.Removable), Label: "Removable"}} {
		if o.Value != p.Kind {
			p.Kinds = append(p.Kinds, Option{Value: JobURL(rec.Job.ID, "runs", "new") + "?kind=" + o.Value, Label: o.Label})
		}
	}
	if made, ok := rec.Run(form.Made); ok {
		p.Stands = form.made(made.Label, RunURL(rec.Job.ID, made.ID), runStands(made.Run, rec.Job.Units))
	}
	return p
}

// NewRunEdit is the page that changes a run; retire is the form that takes it out.
func NewRunEdit(f Frame, rec *jobs.Record, run jobs.Run, form Form, retireID string) RunEditPage {
	p := runPage(f, rec, run.Run, form)
	p.URL, p.Version, p.Save = RunURL(rec.Job.ID, run.ID), form.Version(run.Version), "Save and lay out again"
	p.Stands = form.Stands(runStands(run.Run, rec.Job.Units))
	p.RetireURL, p.RetireID, p.RetireVer = JobURL(rec.Job.ID, "runs", run.ID, "retired"), retireID, itoa(run.Version)
	p.BackURL, p.Place = RunURL(rec.Job.ID, run.ID), run.Label
	if v, ok := rec.Layout(run.ID); ok && p.PostBar != nil {
		p.PostBar.lay(v.Layout, run.Run, rec.Job)
	}
	return p
}

// runKindOf is a kind of run by its name; an unknown one is taken as level.
func runKindOf(name string) layout.RunKind {
	if k := layout.RunKind(name); k == layout.Rake || k == layout.Removable {
		return k
	}
	return layout.Level
}

func runPage(f Frame, rec *jobs.Record, run layout.Run, form Form) RunEditPage {
	units := rec.Job.Units
	f.Errors = linked(f.Errors, slices.DeleteFunc(append(RunKeys(string(run.Kind)), SpecKeys()...), func(key string) bool { return key == "kind" }))
	p := RunEditPage{
		Frame: f, Form: form, Kind: string(run.Kind), Unit: unitMark(units),
		Groups: runGroups(f, run, units, form), Otherwise: overrideGroups(f, rec.Job, run, form),
	}
	if run.Kind != layout.Rake {
		p.PostBar = &PostBar{Unit: p.Unit, Width: int64(rec.Job.Spec.PostWidth)}
	}
	if run.Kind == layout.Removable {
		p.Caution = "A removable length is not accepted as a required guard in most places. It needs the owner's written acknowledgement and, under a permit, the authority's answer: the record opens a deviation for it. While it is out, the opening is a fall hazard."
	}
	return p
}

// PostBar is what the script needs that moves posts along a run: places from the datum and sizes in nanometres, places apart by a
// space. Without the script the posts are typed.
type PostBar struct {
	Unit              string
	Length            int64
	Planned, Joists   string
	Width, JoistWidth int64
}

// lay takes the posts and joists from the newest layout.
func (b *PostBar) lay(l layout.Layout, run layout.Run, job jobs.Job) {
	spec, _ := job.Spec.With(run.Overrides, job.Units) // faults were refused when the run was saved
	b.Length, b.Width, b.JoistWidth = int64(l.Length), int64(spec.PostWidth), int64(spec.JoistWidth)
	var posts, joists []string
	for _, p := range l.Posts {
		posts = append(posts, strconv.FormatInt(int64(p.Centre), 10))
	}
	for _, j := range layout.Joists(run, spec, l.Frame, run.FirstJoist, l.Length) {
		joists = append(joists, strconv.FormatInt(int64(j.Centre), 10))
	}
	b.Planned, b.Joists = strings.Join(posts, " "), strings.Join(joists, " ")
}

// nextLabel is the first of R1, R2 … that no run has.
func nextLabel(rec *jobs.Record) string {
	had := map[string]bool{}
	for _, r := range rec.Runs {
		had[r.Label] = true
	}
	for n := 1; ; n++ {
		if label := "R" + itoa(n); !had[label] {
			return label
		}
	}
}
