package views

import (
	"fmt"

	"newelbook/checklist/layout"
	"newelbook/jobs"
	"newelbook/views/draw"
)

// planDrawing draws the plan of a job; runs and posts lead to their pages.
func planDrawing(job jobs.Job, plan layout.Plan) Drawing {
	links := map[string]draw.Link{}
	for _, r := range plan.Runs {
		url := RunURL(job.ID, r.RunID)
		links[r.RunID] = draw.Link{URL: url, Label: r.Label}
		for _, p := range r.Posts {
			links[fmt.Sprintf("%s/P%d", r.RunID, p.Number)] = draw.Link{URL: fmt.Sprintf("%s#p%d", url, p.Number), Label: p.Label}
		}
	}
	return Drawing{Sheet: draw.Plan(plan, draw.PlanOptions{Width: showWidth, Height: showHeight, Style: job.Units.Style()}), Caption: "The runs seen from above. Pick a run or a post to see its layout.", Links: links}
}
