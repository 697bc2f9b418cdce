package views

import (
	"fmt"
	"unicode"
	"unicode/utf8"

	"newelbook/checklist"
	"newelbook/jobs"
)

// JobSheet names a sheet in the list of a job's sheets.
type JobSheet string

// The sheets of a job.
const (
	SheetJob        JobSheet = "Job"
	SheetLayout     JobSheet = "Layout"
	SheetStages     JobSheet = "Stages"
	SheetPhotos     JobSheet = "Photographs"
	SheetDiary      JobSheet = "Diary"
	SheetDeviations JobSheet = "Deviations"
	SheetPapers     JobSheet = "Papers"
	SheetPack       JobSheet = "Pack"
)

// JobFrame is the frame of a page of a job: its title block and its sheets, with what is open on each.
func JobFrame(rec *jobs.Record, current JobSheet, title string) (Frame, error) {
	sheet, err := rec.Sheet()
	if err != nil {
		return Frame{}, err
	}
	job := rec.Job
	f := Frame{Title: title, Sheet: &TitleBlock{Job: job.Ref, Site: job.Site, Sheet: string(current)}}
	if job.Permit != "" {
		f.Sheet.More = append(f.Sheet.More, Fact{Label: "Permit", Value: job.Permit})
	}
	f.Sheet.More = append(f.Sheet.More, Fact{Label: "Rules", Value: ruleSetName(sheet), URL: JobURL(job.ID, "rules")})

	layoutURL, layoutNote := JobURL(job.ID, "runs", "new"), "none yet"
	if live := rec.Live(); len(live) > 0 {
		layoutURL, layoutNote = RunURL(job.ID, live[0].ID), counted(len(live), "run")
	}
	stage := NextStage(sheet)
	stageNote := string(stage.Stage)
	if stage.State.Closed {
		stageNote = "all closed"
	}
	open := 0
	for _, d := range rec.Deviations {
		if d.State == jobs.DevOpen {
			open++
		}
	}
	f.JobNav = []NavItem{
		{Label: string(SheetJob), URL: JobURL(job.ID)},
		{Label: string(SheetLayout), URL: layoutURL, Note: layoutNote},
		{Label: string(SheetStages), URL: StageURL(job.ID, stage.Stage), Note: stageNote},
		{Label: string(SheetPhotos), URL: JobURL(job.ID, "photos"), Note: some(len(rec.Photos), "")},
		{Label: string(SheetDiary), URL: JobURL(job.ID, "diary"), Note: some(len(rec.Diary), "")},
		{Label: string(SheetDeviations), URL: JobURL(job.ID, "deviations"), Note: some(open, " open")},
		{Label: string(SheetPapers), URL: JobURL(job.ID, "papers"), Note: some(len(rec.PapersInForce()), "")},
		{Label: string(SheetPack), URL: JobURL(job.ID, "packs"), Note: some(len(rec.Packs), " issued")},
	}
	for i := range f.JobNav {
		f.JobNav[i].Current = f.JobNav[i].Label == string(current)
	}
	return f, nil
}

// NextStage is the first stage that is not closed, or the last where all are.
func NextStage(sheet *jobs.Sheet) *jobs.StageSheet {
	for i := range sheet.Stages {
		if !sheet.Stages[i].State.Closed {
			return &sheet.Stages[i]
		}
	}
	return &sheet.Stages[len(sheet.Stages)-1]
}

// StageStatus is a stage's state in words.
func StageStatus(sheet *jobs.Sheet, stage checklist.Stage) *Status {
	for i, st := range sheet.Stages {
		switch {
		case st.Stage != stage:
			continue
		case st.Again != "":
			return NewStatus("look again", "open")
		case st.State.Closed && len(st.State.Deviations) > 0:
			return NewStatus("closed with a deviation")
		case st.State.Closed:
			return NewStatus("closed")
		case st.Answered == 0 && i > 0:
			return NewStatus("not started", "not checked")
		}
		break
	}
	return NewStatus("open")
}

func ruleSetName(sheet *jobs.Sheet) string { return sheet.Rules.RuleSet().Name }

// counted is a number of things.
func counted(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// some is a number with what follows it, and nothing for none.
func some(n int, after string) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%d%s", n, after)
}

// upperFirst begins a text with a capital.
func upperFirst(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	if size == 0 {
		return text
	}
	return string(unicode.ToUpper(first)) + text[size:]
}
