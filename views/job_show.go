package views

import (
	"fmt"
	"slices"
	"strings"

	"newelbook/checklist"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/jobs"
)

// JobShowPage is a job at a glance: what needs attention, the next thing to do, runs, and stages with what is left.
type JobShowPage struct {
	Frame
	Attention []Row
	Next      Fact // Label says what, Note where; URL leads to it
	Runs      []Row
	Stages    []Row
	Sheets    []Row // particulars, specification, rules, materials, record
	Cautions  []string
	Careful   string // words over the cautions
	NewRunURL string // empty for whoever may not add runs
}

// NewJobShow is the page of a job; builder says whether runs may be added.
func NewJobShow(f Frame, rec *jobs.Record, builder bool) (JobShowPage, error) {
	sheet, err := rec.Sheet()
	if err != nil {
		return JobShowPage{}, err
	}
	job := rec.Job
	f.Heading = job.Name
	p := JobShowPage{Frame: f, Attention: attention(rec, sheet), Next: next(rec, sheet, builder)}
	if builder {
		p.NewRunURL = JobURL(job.ID, "runs", "new")
	}
	for _, run := range rec.Live() {
		row, cautions := runRow(rec, run)
		p.Runs = append(p.Runs, row)
		for _, c := range cautions {
			if !slices.Contains(p.Cautions, c) {
				p.Cautions = append(p.Cautions, c)
			}
		}
	}
	for _, st := range sheet.Stages {
		note := fmt.Sprintf("%d of %d answered", st.Answered, st.Total)
		if n := len(st.Outstanding); n > 0 && !st.State.Closed && st.Answered > 0 {
			note += fmt.Sprintf("; %d outstanding", n)
		}
		if st.State.Closed {
			note += "; " + stamp(st.State.At, job.Location()) + ", " + st.State.By.Name
		}
		p.Stages = append(p.Stages, Row{Label: upperFirst(string(st.Stage)), Note: note, URL: StageURL(job.ID, st.Stage), Status: StageStatus(sheet, st.Stage)})
	}
	p.Careful = counted(len(p.Cautions), "caution") + " that go with these layouts"
	p.Sheets = []Row{
		{Label: "Particulars", Note: job.Owner + ", " + job.Site, URL: JobURL(job.ID, "particulars")},
		{Label: "Specification", Note: job.Spec.PostNominal + " posts, " + job.Spec.RailNominal + " rails, " + infillStock(job.Spec, sheet.Style), URL: JobURL(job.ID, "specification")},
		{Label: "Rules", Note: ruleSetName(sheet) + some(len(job.Amendments), " of the authority's own"), URL: JobURL(job.ID, "rules")},
		{Label: "Materials", Note: "what to order, and each board with its cuts", URL: JobURL(job.ID, "materials")},
		{Label: "Record", Note: counted(rec.Head.Seq, "event") + " in its chain", URL: JobURL(job.ID, "record")},
	}
	return p, nil
}

// attention is what cannot wait, the worst first.
func attention(rec *jobs.Record, sheet *jobs.Sheet) []Row {
	job := rec.Job
	var fails, other, stale []Row
	for _, d := range rec.Deviations {
		if d.State != jobs.DevOpen {
			continue
		}
		row := Row{Place: d.Place.Label, Label: fmt.Sprintf("D%d", d.Number), Note: d.What, URL: DeviationURL(job.ID, d.ID), Status: NewStatus("open")}
		if c, ok := sheet.Check(d.CheckID); ok && c.Verdict() == checklist.FailsLimit {
			row.Status = NewStatus(c.Verdict().Word())
			fails = append(fails, row)
			continue
		}
		other = append(other, row)
	}
	for i := range sheet.Checks {
		c := &sheet.Checks[i]
		if c.Verdict() == checklist.TooClose {
			other = append(other, checkRow(job.ID, c, sheet))
		}
		if c.Moved {
			stale = append(stale, Row{Place: c.Check.Place.Label, Label: c.Check.Title, Note: "judged against another figure than the layout or the rules have now", URL: CheckURL(job.ID, c.Check.ID)})
		}
	}
	other = append(other, problems(rec)...)
	for _, p := range sheet.Plan.Problems {
		other = append(other, Row{Place: p.Place, Label: "Plan", Note: p.Sentence, URL: JobURL(job.ID, "runs"), Status: NewStatus("to settle", "open")})
	}
	for _, a := range rec.Answers {
		if a.Kind == jobs.AnswerDecline || a.Outcome == jobs.OutcomeCorrect {
			other = append(other, Row{Label: a.Name + ", " + string(a.From), Note: strings.TrimSpace(a.Outcome + " " + a.Text), URL: JobURL(job.ID, "packs")})
		}
	}
	return append(append(fails, other...), stale...)
}

// problems are what could not be laid out, or is laid out at odds with a figure: one line for each sentence, with the runs
// that it holds for.
func problems(rec *jobs.Record) []Row {
	var out []Row
	at, runs := map[string]int{}, map[string][]string{}
	for _, run := range rec.Live() {
		v, _ := rec.Layout(run.ID)
		for _, p := range v.Layout.Problems {
			i, ok := at[p.Sentence]
			if !ok {
				i = len(out)
				at[p.Sentence] = i
				out = append(out, Row{Place: orElse(p.Place, run.Label), Label: "Layout", Note: p.Sentence, URL: RunURL(rec.Job.ID, run.ID), Status: NewStatus("to settle", "open")})
			}
			if !slices.Contains(runs[p.Sentence], run.Label) {
				runs[p.Sentence] = append(runs[p.Sentence], run.Label)
			}
			if n := len(runs[p.Sentence]); n > 1 {
				out[i].Label = "Layout of " + named(runs[p.Sentence])
			}
		}
	}
	return out
}

// next is the first thing that the record waits for.
func next(rec *jobs.Record, sheet *jobs.Sheet, builder bool) Fact {
	job := rec.Job
	if len(rec.Live()) == 0 {
		if !builder {
			return Fact{Label: "Wait for the builder", Note: "No run has been described yet."}
		}
		return Fact{Label: "Describe the first run", Note: "Posts, rails and marks follow from it.", URL: JobURL(job.ID, "runs", "new")}
	}
	for i := range sheet.Stages {
		st := &sheet.Stages[i]
		if st.State.Closed {
			continue
		}
		if q, ok := nextQuestion(st); ok {
			r := q.row(job.ID)
			return Fact{Label: q.title, Note: join(upperFirst(string(st.Stage))+",", strings.TrimSpace(orElse(r.Note, "at "+r.Place))+"."), URL: r.URL}
		}
		return Fact{Label: "Close the stage " + string(st.Stage), Note: "Everything it asks for is answered.", URL: StageURL(job.ID, st.Stage)}
	}
	return Fact{Label: "Issue the pack", Note: "Every stage is closed.", URL: JobURL(job.ID, "packs")}
}

func runRow(rec *jobs.Record, run jobs.Run) (Row, []string) {
	v, _ := rec.Layout(run.ID)
	l := v.Layout
	note := fmt.Sprintf("%s, %s; layout v%d", counted(len(l.Posts), "post"), counted(len(l.Bays), "bay"), v.Version)
	row := Row{Place: run.Label, Label: runKind(run.Kind), Note: note, Figure: l.Length.Format(rec.Job.Units.Style()), URL: RunURL(rec.Job.ID, run.ID), Status: NewStatus("planned")}
	for _, b := range l.Bays {
		if b.Built != nil {
			row.Status = NewStatus("as built")
		}
	}
	if c, ok := rec.CoveredRun(run.ID); ok {
		row.Note += "; covered " + jobs.DayText(c.On)
	}
	var cautions []string
	for _, c := range l.Cautions {
		cautions = append(cautions, c.Sentence)
	}
	return row, cautions
}

func runKind(k layout.RunKind) string {
	switch k {
	case layout.Rake:
		return "Rake, along a stair"
	case layout.Removable:
		return "Removable length"
	}
	return "Level run"
}

func orElse(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

// infillStock names what bays are filled with, for the specification in a line.
func infillStock(s layout.Spec, style length.Style) string {
	switch s.InfillKind {
	case layout.FillCables:
		return "cables " + s.CableDiameter.Format(style)
	case layout.FillPanels:
		return "panels up to " + s.PanelMost.Format(style) + " wide"
	}
	return "balusters " + s.InfillWidth.Format(style)
}
