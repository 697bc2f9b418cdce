package views

import (
	"net/url"
	"slices"
	"strconv"
	"strings"

	"newelbook/checklist"
	"newelbook/jobs"
)

// wallPage is how many photographs one page of the wall shows.
const wallPage = 60

// PhotoQuery is what somebody looks for on the wall, and which page of it, from 1.
type PhotoQuery struct {
	jobs.PhotoFilter
	Show string // ShowMissing or ShowTaken; empty for both
	Page int
}

// What a wall shows of the two things on it.
const (
	ShowMissing = "missing" // only what is still to be taken
	ShowTaken   = "taken"   // only photographs
)

// pairs are the query's names with what is looked for, the page left out.
func (q PhotoQuery) pairs() []string {
	return []string{"stage", q.Stage, "place", q.Place, "day", q.Day, "person", q.Person, "check", q.Check, "flag", q.Flag, "q", q.Text, "show", q.Show}
}

// ReadPhotoQuery is the query of an address.
func ReadPhotoQuery(v url.Values) PhotoQuery {
	page, _ := strconv.Atoi(v.Get("page")) // 0, the first page, for what is no number
	return PhotoQuery{
		PhotoFilter: jobs.PhotoFilter{
			Stage: v.Get("stage"), Place: v.Get("place"), Day: v.Get("day"), Person: v.Get("person"), Check: v.Get("check"), Flag: v.Get("flag"), Text: strings.TrimSpace(v.Get("q")),
		},
		Show: v.Get("show"), Page: page,
	}
}

// query is the address part that finds the same.
func (q PhotoQuery) query(more ...string) string { return query(append(q.pairs(), more...)...) }

// narrow says whether it asks for something that only a photograph that is there can have.
func (q PhotoQuery) narrow() bool {
	return q.Day != "" || q.Person != "" || q.Flag != "" || q.Text != "" || q.Check != "" || q.Stage == jobs.NotFiled
}

// PhotoListPage is the wall of photographs: what is still missing first, then what is there, by stage and place, a page at a time.
type PhotoListPage struct {
	Frame
	Before, Wanted []Row // photographs that are missing: hold points, and the others
	Hidden         []Row // hold points that are missing and cannot be seen any more
	Groups         []PhotoGroup
	Policy         string
	Fields         []*Field // what the wall is searched by
	URL, NewURL    string
	TagsURL        string
	SlateURL       string // what is held in view of a picture, filled in for the place that is looked at
	AllURL         string // the whole wall, where only a part is shown
	MissingURL     string // only what is missing, from the whole wall
	Filing         string // how many are not filed yet, empty for none
	FilingURL      string
	Naming         string // of how many that a tag filed no view is named, empty for none
	NamingURL      string
	CoverURL       string // before and after the cover, where the place is a run that was covered
	Earlier, Later string // the pages beside this one, empty where there is none
	Range          string // which of how many stand on this page, where they are more than a page
	Empty          string
}

// PhotoGroup is the photographs of one stage.
type PhotoGroup struct {
	Name   string
	Photos []Photo
}

// NewPhotoList is a page of the wall. A page past the last is the last.
func NewPhotoList(f Frame, rec *jobs.Record, q PhotoQuery) (PhotoListPage, error) {
	sheet, err := rec.Sheet()
	if err != nil {
		return PhotoListPage{}, err
	}
	job := rec.Job
	newPlace, newStage := strings.TrimSuffix(q.Place, "/"), q.Stage
	if newStage == jobs.NotFiled {
		newStage = ""
	}
	p := PhotoListPage{TagsURL: TagsURL(job.ID), Policy: policyText(job), URL: JobURL(job.ID, "photos"), NewURL: JobURL(job.ID, "photos", "new") + query("place", newPlace, "stage", newStage), SlateURL: SlateURL(job.ID, PhotoTarget{PlaceID: newPlace, Stage: newStage})}
	if q.query() != "" {
		p.AllURL = p.URL
	} else {
		p.MissingURL = p.URL + PhotoQuery{Show: ShowMissing}.query()
	}
	if place, ok := rec.Place(newPlace); ok && place.Kind != checklist.PlaceJob {
		f.Place = place.Label
		if _, covered := rec.CoveredRun(place.RunID); covered {
			p.CoverURL = PhotoCoverURL(job.ID, place.RunID)
		}
	}
	found := rec.Find(q.PhotoFilter)
	if q.Show == ShowMissing {
		found = jobs.Found{}
	}
	from, to := p.turn(q, found.Len())
	if from == 0 && q.Show != ShowTaken && !q.narrow() {
		owed, group := photosOwed(rec, sheet, q.PhotoFilter), q.Place == "" || strings.HasSuffix(q.Place, "/")
		stage := checklist.Stage(q.Stage)
		p.Before, p.Hidden, p.Wanted = owedPhotoRows(rec, owed.before, stage, group), owedPhotoRows(rec, owed.hidden, stage, group), owedPhotoRows(rec, owed.wanted, stage, group)
	}
	if n := found.In(jobs.NotFiled); n > 0 && q.Show != ShowMissing {
		p.FilingURL, p.Filing = PhotoFilingURL(job.ID), "File the "+counted(n, "photograph")+" that came in without a place"
	}
	if n, _ := unnamedViews(rec, owedViews(rec, sheet), 0); n > 0 && q.Show != ShowMissing {
		p.NamingURL, p.Naming = PhotoFilingURL(job.ID)+"#named", "Name the view of 1 photograph that its tag filed"
		if n > 1 {
			p.Naming = "Name the views of " + itoa(n) + " photographs that their tags filed"
		}
	}
	p.Fields = wallFields(f, rec, sheet, q)
	for i := from; i < to; i++ {
		x := found.At(i)
		if name := stageGroup(found, x.Stage); len(p.Groups) == 0 || p.Groups[len(p.Groups)-1].Name != name {
			p.Groups = append(p.Groups, PhotoGroup{Name: name})
		}
		g := &p.Groups[len(p.Groups)-1]
		shot := photo(rec, *x)
		shot.FullURL += q.query()
		g.Photos = append(g.Photos, shot)
	}
	p.Empty = p.empty(rec, q, found.Len())
	p.Frame = f
	return p, nil
}

// turn finds which photographs stand on the page, and the pages beside it.
func (p *PhotoListPage) turn(q PhotoQuery, n int) (from, to int) {
	page := min(max(q.Page, 1), max(1, (n+wallPage-1)/wallPage))
	from, to = (page-1)*wallPage, min(page*wallPage, n)
	if n > wallPage {
		p.Range = itoa(from+1) + " to " + itoa(to) + " of " + counted(n, "photograph")
	}
	switch {
	case page == 2:
		p.Earlier = p.URL + q.query()
	case page > 2:
		p.Earlier = p.URL + q.query("page", itoa(page-1))
	}
	if to < n {
		p.Later = p.URL + q.query("page", itoa(page+1))
	}
	return from, to
}

// stageGroup is the heading of one stage: how many the search finds in it, on all pages.
func stageGroup(found jobs.Found, stage checklist.Stage) string {
	if stage == "" {
		return "Not filed yet, " + counted(found.In(jobs.NotFiled), "photograph")
	}
	return upperFirst(string(stage)) + ", " + counted(found.In(string(stage)), "photograph")
}

// empty says in words why no photograph stands on the page, and nothing where one does.
func (p *PhotoListPage) empty(rec *jobs.Record, q PhotoQuery, n int) string {
	switch {
	case n > 0:
		return ""
	case q.Show == ShowMissing && len(p.Before)+len(p.Hidden)+len(p.Wanted) == 0:
		return "No photograph that a check asks for is missing here."
	case q.Show == ShowMissing:
		return ""
	case len(rec.Photos) == 0:
		return "No photograph yet. Each one is kept as it was received, under the hash of its bytes."
	}
	return "No photograph is found by this. Take something out of the search, or show everything."
}

// wallFields are what the wall is searched by, each with what there is to pick.
func wallFields(f Frame, rec *jobs.Record, sheet *jobs.Sheet, q PhotoQuery) []*Field {
	stages := append(stageOptions("Every stage"), Option{Value: jobs.NotFiled, Label: "Not filed yet"})
	text := filterField(f, "q", "Words", nil, q.Text)
	text.Hint, text.Complete = "In the caption, what it shows or the file’s name, or “photo 12”.", "off"
	return []*Field{
		filterField(f, "show", "What", []Option{{Label: "Photographs, and what is missing"}, {Value: ShowMissing, Label: "Only what is missing"}, {Value: ShowTaken, Label: "Only photographs"}}, q.Show),
		filterField(f, "stage", "Stage", stages, q.Stage),
		filterField(f, "place", "Place", wallPlaces(rec), q.Place),
		filterField(f, "day", "Day taken, it says", pickOptions(rec, "day", "Every day", func(x jobs.Pick) string {
			if x.Value == jobs.NoDay {
				return "No time in the file"
			}
			return jobs.DayText(x.Value)
		}), q.Day),
		filterField(f, "person", "Sent by", pickOptions(rec, "person", "Everybody", func(x jobs.Pick) string { return x.Name }), q.Person),
		filterField(f, "check", "Answers", checkKeyOptions(rec, sheet, q.Check), q.Check),
		filterField(f, "flag", "What does not fit", pickOptions(rec, "flag", "Whatever it is", func(x jobs.Pick) string { return upperFirst(flagWords(jobs.Flag{Key: x.Value})) }), q.Flag),
		text,
	}
}

// pickOptions lists what photographs can be found by, with how many there are of each.
func pickOptions(rec *jobs.Record, kind, none string, label func(jobs.Pick) string) []Option {
	out := []Option{{Label: none}}
	for _, x := range rec.Picks(kind) {
		out = append(out, Option{Value: x.Value, Label: label(x) + " (" + itoa(x.Count) + ")"})
	}
	return out
}

// wallPlaces lists the places, and each run a second time with whatever stands on it.
func wallPlaces(rec *jobs.Record) []Option {
	out := []Option{{Label: "Every place"}}
	for _, p := range rec.Places() {
		if p.Kind == checklist.PlaceRun {
			out = append(out, Option{Value: p.ID + "/", Label: p.Label + " and all that stands on it"}, Option{Value: p.ID, Label: p.Label + ", the run alone"})
			continue
		}
		out = append(out, Option{Value: p.ID, Label: p.Label})
	}
	return out
}

// checkKeyOptions lists the checks that photographs answer, each once for all places; and the one of a single place that was
// asked for.
func checkKeyOptions(rec *jobs.Record, sheet *jobs.Sheet, picked string) []Option {
	out, titles := []Option{{Label: "Any check, or none"}}, map[string]string{}
	for i := range sheet.Checks {
		if c := sheet.Checks[i].Check; c.Photo != checklist.PhotoNone {
			titles[string(c.Key)] = photoTitle(c)
			if c.ID == picked {
				out = append(out, Option{Value: c.ID, Label: c.Place.Label + ", " + lowerFirst(photoTitle(c))})
			}
		}
	}
	var of []Option
	for _, x := range rec.Picks("check") {
		if title, ok := titles[x.Value]; ok {
			of = append(of, Option{Value: x.Value, Label: title + " (" + itoa(x.Count) + ")"})
		}
	}
	slices.SortFunc(of, func(a, b Option) int { return strings.Compare(a.Label, b.Label) })
	return append(out, of...)
}

func filterField(f Frame, name, label string, options []Option, value string) *Field {
	v := newField(f, name, label)
	v.Options, v.Value, v.Size = options, value, "medium"
	return &v
}
