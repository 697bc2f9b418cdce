package views

import (
	"fmt"

	"newelbook/checklist/layout"
	"newelbook/jobs"
	"newelbook/views/draw"
)

// planWidth is the width of the plan on the job's page, in millimetres.
const planWidth = 200

// newPlan joins the live runs of a job as their newest layouts have them.
func newPlan(rec *jobs.Record) layout.Plan {
	live := rec.Live()
	layouts := make([]layout.Layout, 0, len(live))
	for _, run := range live {
		if v, ok := rec.Layout(run.ID); ok {
			layouts = append(layouts, v.Layout)
		}
	}
	return layout.NewPlan(jobs.PlainRuns(live), layouts, rec.Job.Spec, rec.Job.Units)
}

// planDrawing draws the plan; runs and posts lead to their pages.
func planDrawing(rec *jobs.Record, plan layout.Plan) Drawing {
	links := map[string]draw.Link{}
	for _, r := range plan.Runs {
		url := RunURL(rec.Job.ID, r.RunID)
		links[r.RunID] = draw.Link{URL: url, Label: r.Label}
		for _, p := range r.Posts {
			links[fmt.Sprintf("%s/P%d", r.RunID, p.Number)] = draw.Link{URL: fmt.Sprintf("%s#p%d", url, p.Number), Label: p.Label}
		}
	}
	return Drawing{Sheet: draw.Plan(plan, draw.PlanOptions{Width: planWidth, Style: rec.Job.Units.Style()}), Caption: "The runs seen from above. Pick a run or a post to see its layout.", Links: links}
}
