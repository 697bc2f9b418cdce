package views

import (
	"fmt"

	"newelbook/checklist"
	"newelbook/jobs"
)

// RunCoverPage records that a run was decked over: the fact that evidence is held against.
type RunCoverPage struct {
	Frame
	Form             Form
	URL, BackURL     string
	PhotosURL        string // before and after the cover, side by side
	On, Note, Reason string
	Owed             []Row // hold-point evidence of the run that is missing
	Builder          bool
	Done             []Fact // when it is covered already
	Over             []Row
	Holds            string
}

// NewRunCover is that page; today is the date in the job's zone.
func NewRunCover(f Frame, rec *jobs.Record, run jobs.Run, form Form, today string, builder bool) (RunCoverPage, error) {
	sheet, err := rec.Sheet()
	if err != nil {
		return RunCoverPage{}, err
	}
	f.Title, f.Place = run.Label+" decked over", run.Label
	p := RunCoverPage{
		PhotosURL: PhotoCoverURL(rec.Job.ID, run.ID),
		Frame:     f, Form: form, URL: JobURL(rec.Job.ID, "runs", run.ID, "cover"), BackURL: StageURL(rec.Job.ID, checklist.Framing),
		On: form.Text("on", today), Note: form.Text("note", ""), Reason: form.Text("reason", ""), Builder: builder,
	}
	if c, ok := rec.CoveredRun(run.ID); ok {
		p.Done = []Fact{{Label: "Covered on", Value: jobs.DayText(c.On)}, {Label: "Recorded", Value: fmt.Sprintf("%s, %s", c.By.Name, stamp(c.At, rec.Job.Location()))}, {Label: "Note", Value: c.Note}}
		for _, id := range c.Deviations {
			if d, ok := rec.Deviation(id); ok {
				p.Over = append(p.Over, deviationRow(rec.Job.ID, d))
			}
		}
		return p, nil
	}
	p.Lead = "Decking hides blocking, sleeves and bolts for good. Say when, so that photographs and readings can be held against it."
	var missing []jobs.Outstanding
	if st, ok := sheet.Stage(checklist.Framing); ok {
		for _, o := range st.Outstanding {
			if c, ok := sheet.Check(o.CheckID); ok && o.Hold && c.Check.Place.RunID == run.ID {
				missing = append(missing, o)
			}
		}
	}
	p.Owed, p.Holds = owedRows(rec.Job.ID, sheet, missing), holdSentence(missing)
	return p, nil
}
