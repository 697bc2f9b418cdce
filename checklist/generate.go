package checklist

import (
	"fmt"
	"strings"

	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
	"newelbook/checklist/length"
)

// Keys of checks whose readings other packages compute from.
const (
	// KeyOpeningBottom and KeyOpeningTop are the clear openings of a bay as measured: rails and infill are computed again
	// from them.
	KeyOpeningBottom = "posts.opening_bottom"
	KeyOpeningTop    = "posts.opening_top"
	// KeyPostLean is a post's lean along the run: the marks of a top rail follow it.
	KeyPostLean = "posts.plumb_along"
	// KeyBaseTest and KeyOwnerTold are observations that rest on a paper.
	KeyBaseTest  = "framing.base"
	KeyOwnerTold = "handover.owner_told"
	// KeyPostWidth and KeyPostDepth are a post's section as measured: sleeves and post caps follow it.
	KeyPostWidth = "posts.width"
	KeyPostDepth = "posts.depth"
	// KeyPostTop is the height of a post's top as measured: what is taken down from it is worked out from there.
	KeyPostTop = "posts.top"
)

// What a check's figure comes from, where it is not a clause.
const (
	ownTolerance = "the job's own tolerance"
	ownLayout    = "the job's own specification"
	practice     = "common practice, no source"
	noFigure     = "there is no figure for it in this rule set"
)

// Source is what the checks of one run are generated from. Spec has the run's overrides applied. MeasuredPost is the width of
// each post as measured and MeasuredTop the height of its top, by post number; both may be nil.
type Source struct {
	Run          layout.Run
	Spec         layout.Spec
	Layout       layout.Layout
	Rules        codes.Applied
	Style        length.Style
	MeasuredPost map[int]length.Length
	MeasuredTop  map[int]length.Length
	Photos       PhotoPolicy // of the job's authority
}

// Generate returns every check of one run in a stable order: by stage, then posts, bays and the run itself by number, then
// as the catalogue has them. The checks of a post that the run shares with another stand under the other run alone.
//
// Height and opening figures bind a guard that the rule set asks for (IRC 2018 R312.1 against R301.5, a building
// official's reading, secondary text). Where the layout says that none is required, the figure is told in the source and
// is no limit. A figure that the rule set lacks gives no limit, and the source says so.
func Generate(s Source) []Check {
	c := collector{Source: s}
	for _, part := range catalogue() {
		c.stage = part.stage
		for _, p := range s.Layout.Posts {
			if part.post != nil && p.SharedAs == "" {
				c.at(PlacePost, fmt.Sprintf("%s/P%d", s.Run.ID, p.Number), p.Number, p.Label)
				part.post(&c, p)
			}
		}
		for _, b := range s.Layout.Bays {
			if part.bay != nil {
				c.at(PlaceBay, fmt.Sprintf("%s/B%d", s.Run.ID, b.Number), b.Number, b.Label)
				part.bay(&c, b)
			}
		}
		if part.run != nil {
			c.at(PlaceRun, s.Run.ID, 0, s.Run.Label)
			part.run(&c)
		}
	}
	return c.checks
}

// GenerateJob returns the checks that a job has once, at the place "job", with lengths shown in style.
func GenerateJob(style length.Style, photos PhotoPolicy) []Check {
	c := collector{Source: Source{Style: style, Photos: photos}}
	c.at(PlaceJob, "job", 0, "Job")
	c.stage = Framing
	framingJob(&c)
	c.stage = Handover
	handoverJob(&c)
	return c.checks
}

// part is what one stage asks of each post, each bay and the run.
type part struct {
	stage Stage
	post  func(*collector, layout.Post)
	bay   func(*collector, layout.Bay)
	run   func(*collector)
}

// catalogue is the stages in the order of building.
func catalogue() []part {
	return []part{
		{stage: Framing, post: framingPost, run: framingRun},
		{stage: Posts, post: postsPost, bay: postsBay, run: postsRun},
		{stage: Rails, bay: railsBay, run: railsRun},
		{stage: InfillSt, bay: infillBay, run: infillRun},
		{stage: Caps, post: capsPost, run: capsRun},
		{stage: PostTops, post: postTopsPost},
		{stage: Handover, run: handoverRun},
	}
}

// collector gathers the checks of one place after another.
type collector struct {
	Source
	stage  Stage
	place  Place
	checks []Check
}

// at moves the collector to a place.
func (c *collector) at(kind PlaceKind, id string, number int, label string) {
	c.place = Place{ID: id, Kind: kind, RunID: c.Run.ID, Number: number, Label: label}
}

// add takes a check at the present stage and place.
func (c *collector) add(k Check) {
	switch {
	case c.Photos == PhotosRefused && k.Ask == AskPhoto && k.Hold:
		k = witnessed(k)
	case c.Photos == PermitInFrame && k.Ask == AskPhoto && k.Key != keyPhotoPermit:
		k.PhotoShows += ", with the permit in view"
	}
	k.ID, k.Stage, k.Place = c.place.ID+"."+k.Key, c.stage, c.place
	if k.Limits == nil {
		k.Limits = []Limit{}
	}
	c.checks = append(c.checks, k)
}

// text shows a length in the job's style.
func (c *collector) text(l length.Length) string { return l.Format(c.Style) }

// either is one working figure in both systems: neither is a conversion of the other.
func (c *collector) either(us, metric length.Length) length.Length {
	if c.Style == length.Metric {
		return metric
	}
	return us
}

// onGrid rounds a nominal that the layout leaves exact to the marking grid, which is what a tape is read to.
func (c *collector) onGrid(l length.Length) length.Length { return l.Round(c.Layout.Grid) }

// required says whether the rule set asks for a guard here.
func (c *collector) required() bool { return c.Layout.Required.Required }

// rake says whether the run goes along a stair.
func (c *collector) rake() bool { return c.Run.Kind == layout.Rake }

// capped says whether a cap rail lies on the top rail.
func (c *collector) capped() bool { return c.Spec.CapThickness > 0 }

// held adds the rule set's figure of the first key that it has as a limit, if a guard is required here, and says in source
// where it comes from or why there is none. Later keys are general figures, which stand where the rule set has no
// figure of its own for the case.
func (c *collector) held(k Check, keys ...string) Check {
	for _, key := range keys {
		if figure, found := c.Rules.Figure(key); found {
			return c.heldBy(k, figure, true)
		}
	}
	return c.heldBy(k, codes.AppliedFigure{}, false)
}

// heldBy is held with the figure already looked up.
func (c *collector) heldBy(k Check, figure codes.AppliedFigure, found bool) Check {
	limit, ok := limitOf(figure.Figure)
	switch {
	case !found || !ok:
		return k.sourced(noFigure)
	case !c.required():
		return k.sourced(fmt.Sprintf("no guard is asked for at this drop: %s %s (%s) is told here and is no limit",
			figure.Bound, c.text(figure.Value), figure.Source()))
	}
	limit.Amended = figure.SaidBy()
	k.Limits = append(k.Limits, limit)
	if push, found := c.Rules.Figure(codes.SphereTestForce); found && k.Ask == AskGap {
		k.How += fmt.Sprintf(" Push the gauge with %s (%s).", push.Show(c.Style), push.Source())
	}
	return k.sourced(figure.Source())
}

// near gives the check a nominal and a tolerance, plus over it and minus (positive) under it.
func (k Check) near(nominal, plus, minus length.Length) Check {
	k.Nominal, k.Plus, k.Minus, k.HasTol = &nominal, plus, minus, true
	return k
}

// sourced puts a source in front of those that the check already has.
func (k Check) sourced(source string) Check {
	if k.Source != "" && !strings.Contains(k.Source, source) {
		source += "; " + k.Source
	}
	k.Source = source
	return k
}

// photo makes a check that asks for a photograph alone.
func photo(key, need, title, shows, how, reason string) Check {
	return Check{Key: key, Ask: AskPhoto, Photo: need, Hold: need == PhotoHold, Title: photoTitle + title, PhotoShows: shows, How: how,
		Reason: reason, Source: practice}
}

// photoTitle begins the title of every check that asks for a photograph, witnessTitle that of one that is seen with a witness instead.
const (
	photoTitle   = "Photograph: "
	witnessTitle = "Seen with a witness: "
)

// Subject is the title of a check without the words that say how it is answered, where there are any.
func (k Check) Subject() string {
	return strings.TrimPrefix(strings.TrimPrefix(k.Title, photoTitle), witnessTitle)
}

// witnessed makes an observation of a hold point's photograph, for an authority that accepts none. A photograph stays wanted: it is the
// builder's own and fills nothing.
func witnessed(k Check) Check {
	k.Ask, k.Photo, k.Witness, k.Title = AskSeen, PhotoWanted, true, witnessTitle+k.Subject()
	k.How = "To be seen: " + k.PhotoShows + ". Look at it together with the inspector, or with somebody whose word the authority accepts, and enter the name."
	k.Reason = strings.TrimSuffix(k.Reason, ".") + ", and the authority accepts no photograph of it."
	k.Source = "the job's own setting for its authority; whose word the authority takes is for it to say"
	return k
}

// practiceSource is where a figure of practice comes from for this job.
func (c *collector) practiceSource(key string) string {
	if f, found := c.Rules.Practice(key); found {
		return f.Source()
	}
	return practice
}
