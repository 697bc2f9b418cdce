package views

import (
	"fmt"

	"newelbook/checklist/layout"
	"newelbook/jobs"
	"newelbook/views/draw"
)

// RunFramingPage is the framing of every post of a run, drawn: what is measured and photographed before decking hides it.
type RunFramingPage struct {
	Frame
	BackURL   string
	Summary   string
	Gone      string
	None      string // why nothing is drawn
	EveryPost []string
	Posts     []FramingPost
	Holes     *Table
	Drilling  []string // the holes that the fasteners want
	Cautions  []layout.Caution
}

// FramingPost is one post of that page. A post shared with another run is drawn there.
type FramingPost struct {
	ID, Label, Same string
	Drawing         Drawing
	Says            []string
}

// detailWidth is the paper that a framing detail is drawn for, in millimetres.
const detailWidth = 170

// NewRunFraming is that page.
func NewRunFraming(f Frame, rec *jobs.Record, run jobs.Run) (RunFramingPage, error) {
	r, err := newRunLayout(rec, run)
	if err != nil {
		return RunFramingPage{}, err
	}
	p := RunFramingPage{Frame: r.frame(f), BackURL: RunURL(rec.Job.ID, run.ID), Summary: r.summary(), EveryPost: r.everyPost(), Holes: r.holes(), Drilling: r.drilling(layout.Drill.Says)}
	if run.Kind != layout.Rake {
		p.EveryPost = append([]string{r.deckSide()}, p.EveryPost...)
	}
	p.Title, p.Heading = "Framing of "+run.Label, "Framing of "+run.Label
	if run.PostsAre == layout.PostsExisting {
		p.None = "These posts stand there already, and nothing is known of what holds them: open them up and look, and refer what cannot be seen."
	}
	if run.Retired {
		p.Gone = "This run was taken out: frame nothing from this sheet."
	}
	for _, post := range r.l.Posts {
		row := FramingPost{ID: fmt.Sprintf("p%d", post.Number), Label: post.Label, Same: post.SharedAs, Says: r.holds(post)}
		row.Says = append(row.Says, r.ownFixing(post, p.EveryPost)...)
		if post.SharedAs == "" {
			o := draw.DetailOptions{Width: detailWidth, Style: r.style, Run: r.run.Run, Spec: r.spec}
			if row.Drawing.Sheet = draw.Detail(r.l, post, o); r.l.Stair != nil {
				row.Drawing.Sheet = draw.PostMarks(r.l, post, o)
			}
		}
		p.Posts = append(p.Posts, row)
	}
	for _, c := range r.l.Cautions {
		switch c.ID {
		case "fact.adopted-code", "fact.open-edge", "fact.loads", "fact.base-tested", "fact.sleeve-heads", "fact.sleeve-flush":
			p.Cautions = append(p.Cautions, c)
		}
	}
	return p, nil
}
