package jobs

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"newelbook/checklist"
)

// Record is everything a job's chain says, at one head. It is read-only once built: Apply works on a Clone.
type Record struct {
	Head       Head
	Job        Job
	Runs       []Run                      // in order, retired ones included
	Layouts    map[string][]LayoutVersion // by run id, oldest first
	Readings   []Reading                  // in order of receipt
	Photos     []Photo
	Deviations []Deviation
	Stages     map[checklist.Stage]StageState
	stageOrder []checklist.Stage // by their newest change, the oldest first
	Covered    []Covered
	Diary      []DiaryPage // by day
	Packs      []IssuedPack
	Links      []Link
	Answers    []Answer
	Ticks      []Tick   // oldest first
	OnHand     []OnHand // withdrawn ones included
	Papers     []Paper  // by number, withdrawn ones included

	sheet *lazySheet
	live  *lazyLive
	wall  *lazyWall
}

// lazySheet is a record's sheet, computed when first asked for.
type lazySheet struct {
	once  sync.Once
	sheet *Sheet
	err   error
}

// lazyLive is a record's live runs and their places, listed when first asked for.
type lazyLive struct {
	once   sync.Once
	runs   []Run
	places []checklist.Place
	rank   map[string]int // by place id
}

// NewRecord is an empty record.
func NewRecord() *Record {
	return &Record{Layouts: map[string][]LayoutVersion{}, Stages: map[checklist.Stage]StageState{}, sheet: new(lazySheet), live: new(lazyLive), wall: new(lazyWall)}
}

// Clone is a copy whose lists can grow and change without touching r.
func (r *Record) Clone() *Record {
	c := &Record{
		Head: r.Head, Job: r.Job,
		Runs: slices.Clone(r.Runs), Layouts: maps.Clone(r.Layouts), Readings: slices.Clone(r.Readings),
		Photos: slices.Clone(r.Photos), Deviations: slices.Clone(r.Deviations), Stages: maps.Clone(r.Stages), stageOrder: slices.Clone(r.stageOrder),
		Covered: slices.Clone(r.Covered), Diary: slices.Clone(r.Diary), Packs: slices.Clone(r.Packs),
		Links: slices.Clone(r.Links), Answers: slices.Clone(r.Answers),
		Ticks: slices.Clone(r.Ticks), OnHand: slices.Clone(r.OnHand), Papers: slices.Clone(r.Papers), sheet: new(lazySheet), live: new(lazyLive), wall: new(lazyWall),
	}
	for id, versions := range c.Layouts {
		c.Layouts[id] = slices.Clone(versions)
	}
	return c
}

// next is a clone for events to be applied to. Until the first one it says what r says, so it shares what is derived from r.
func (r *Record) next() *Record {
	c := r.Clone()
	c.sheet, c.live, c.wall = r.sheet, r.live, r.wall
	return c
}

// Apply takes one event in. The event's payload is decoded and its object put in its place; nothing is judged again.
func (r *Record) Apply(e Event) error {
	var c Change
	if err := json.Unmarshal([]byte(e.Payload), &c); err != nil {
		return fmt.Errorf("decode event %d of job %s: %w", e.Seq, e.JobID, err)
	}
	r.Take(c)
	r.Head = e.Head()
	r.sheet = new(lazySheet)
	return nil
}

// Replay builds a record from a whole chain.
func Replay(events []Event) (*Record, error) {
	r := NewRecord()
	for _, e := range events {
		if err := r.Apply(e); err != nil {
			return nil, err
		}
	}
	return r, nil
}

// Take puts the object of one change in its place. It serves Apply and a store that loads a record row by row.
func (r *Record) Take(c Change) {
	switch {
	case c.Job != nil:
		r.Job = *c.Job
		r.Job.zone = r.Job.Location()
		r.wall = new(lazyWall)
	case c.Run != nil:
		r.Runs = put(r.Runs, *c.Run, func(a, b Run) bool { return a.ID == b.ID })
		slices.SortStableFunc(r.Runs, func(a, b Run) int { return a.Order - b.Order })
		r.live, r.wall = new(lazyLive), new(lazyWall)
	case c.Layout != nil:
		r.Layouts[c.Layout.RunID] = append(r.Layouts[c.Layout.RunID], *c.Layout)
		r.live, r.wall = new(lazyLive), new(lazyWall)
	case c.Reading != nil:
		r.Readings = append(r.Readings, *c.Reading)
	case c.Photo != nil:
		r.takePhoto(*c.Photo)
	case c.Deviation != nil:
		r.Deviations = put(r.Deviations, *c.Deviation, func(a, b Deviation) bool { return a.ID == b.ID })
	case c.Stage != nil:
		r.Stages[c.Stage.Stage] = *c.Stage
		r.stageOrder = append(slices.DeleteFunc(slices.Clone(r.stageOrder), func(s checklist.Stage) bool { return s == c.Stage.Stage }), c.Stage.Stage)
	case c.Covered != nil:
		r.Covered = put(r.Covered, *c.Covered, func(a, b Covered) bool { return a.RunID == b.RunID })
		r.wall = new(lazyWall)
	case c.Diary != nil:
		r.Diary = put(r.Diary, *c.Diary, func(a, b DiaryPage) bool { return a.Day == b.Day })
		slices.SortFunc(r.Diary, func(a, b DiaryPage) int { return strings.Compare(a.Day, b.Day) })
	case c.Pack != nil:
		r.Packs = put(r.Packs, *c.Pack, func(a, b IssuedPack) bool { return a.Number == b.Number })
	case c.Link != nil:
		r.Links = put(r.Links, *c.Link, func(a, b Link) bool { return a.ID == b.ID })
	case c.Answer != nil:
		r.Answers = append(r.Answers, *c.Answer)
	case c.Tick != nil:
		r.Ticks = append(r.Ticks, *c.Tick)
	case c.OnHand != nil:
		r.OnHand = put(r.OnHand, *c.OnHand, func(a, b OnHand) bool { return a.ID == b.ID })
	case c.Paper != nil:
		r.Papers = put(r.Papers, *c.Paper, func(a, b Paper) bool { return a.ID == b.ID })
	}
}

func put[T any](list []T, v T, same func(a, b T) bool) []T {
	for i := range list {
		if same(list[i], v) {
			list[i] = v
			return list
		}
	}
	return append(list, v)
}

// Run is the run of that id.
func (r *Record) Run(id string) (Run, bool) {
	return find(r.Runs, func(x Run) bool { return x.ID == id })
}

// Layout is the newest layout of a run.
func (r *Record) Layout(runID string) (LayoutVersion, bool) {
	versions := r.Layouts[runID]
	if len(versions) == 0 {
		return LayoutVersion{}, false
	}
	return versions[len(versions)-1], true
}

// Live lists the runs that are not retired, in order. The list is shared: read it, never change it.
func (r *Record) Live() []Run {
	r.live.once.Do(r.list)
	return r.live.runs
}

// Places lists every live place: the job, then each run with its posts and bays. The list is shared, as that of Live.
func (r *Record) Places() []checklist.Place {
	r.live.once.Do(r.list)
	return r.live.places
}

func (r *Record) list() {
	places := []checklist.Place{{ID: "job", Kind: checklist.PlaceJob, Label: "Whole job"}}
	for _, run := range r.Runs {
		if run.Retired {
			continue
		}
		r.live.runs = append(r.live.runs, run)
		places = append(places, checklist.Place{ID: run.ID, Kind: checklist.PlaceRun, RunID: run.ID, Label: run.Label})
		v, _ := r.Layout(run.ID)
		places = append(places, placesOf(run, v.Layout)...)
	}
	r.live.places, r.live.rank = places, make(map[string]int, len(places))
	for i, p := range places {
		r.live.rank[p.ID] = i
	}
}

// PlaceRank is where a place stands in Places, from 0; one that is no more comes after all of them.
func (r *Record) PlaceRank(id string) int {
	r.live.once.Do(r.list)
	if i, ok := r.live.rank[id]; ok {
		return i
	}
	return len(r.live.places)
}

// Deviation is the deviation of that id.
func (r *Record) Deviation(id string) (Deviation, bool) {
	return find(r.Deviations, func(d Deviation) bool { return d.ID == id })
}

// Pack is the issued pack of that number.
func (r *Record) Pack(number int) (IssuedPack, bool) {
	return find(r.Packs, func(p IssuedPack) bool { return p.Number == number })
}

// Link is the link of that id.
func (r *Record) Link(id string) (Link, bool) {
	return find(r.Links, func(l Link) bool { return l.ID == id })
}

// CoveredRun is the fact that a run was decked over.
func (r *Record) CoveredRun(runID string) (Covered, bool) {
	return find(r.Covered, func(c Covered) bool { return c.RunID == runID })
}

func find[T any](list []T, is func(T) bool) (T, bool) {
	if i := slices.IndexFunc(list, is); i >= 0 {
		return list[i], true
	}
	var zero T
	return zero, false
}
