package jobs

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"newelbook/checklist"
	"newelbook/media"
)

// NotFiled, as the stage of a filter, finds the photographs that nobody has filed yet. NoDay, as its day, finds those whose file
// names no time of capture.
const (
	NotFiled = "none"
	NoDay    = "none"
)

// PhotoFilter picks photographs. What is empty picks all; together they narrow.
type PhotoFilter struct {
	Stage  string // name of a stage, or NotFiled
	Place  string // id of a place, or that of a run with a slash behind it: the run and whatever stands on it
	Day    string // date of the claimed capture as the file has it, 2006-01-02, or NoDay
	Person string // id of who sent it
	Check  string // id of a check, or its key in the catalogue: that check at every place
	Flag   string // key of a Flag
	Text   string // part of the caption, of the name of the file, of what it shows, or of "photo 12"
}

// At says whether a place is one that the filter asks for.
func (f PhotoFilter) At(place checklist.Place) bool {
	if run, ok := strings.CutSuffix(f.Place, "/"); ok {
		return place.RunID == run
	}
	return f.Place == "" || f.Place == place.ID
}

// facet is one thing that a photograph can be found by.
type facet struct{ kind, value string }

// facets are what the filter asks of the index, the text left out.
func (f PhotoFilter) facets() []facet {
	var out []facet
	for _, x := range []facet{{"stage", f.Stage}, {"place", f.Place}, {"day", f.Day}, {"person", f.Person}, {"check", f.Check}, {"flag", f.Flag}} {
		if x.value != "" {
			out = append(out, x)
		}
	}
	return out
}

// lazyWall is a record's wall, made when first asked for. It is shared by the records that say the same of photographs.
type lazyWall struct {
	once sync.Once
	wall wallIndex
}

// wallIndex finds photographs without looking at each of them. Ranks count in the order of the wall: by stage, unfiled ones first,
// then by place, then by number.
type wallIndex struct {
	order []int             // by rank: the index in Record.Photos
	ranks map[facet][]int   // ascending
	text  []string          // by rank, in lower case
	first map[media.ID]int  // number of the photograph that brought an original
	known map[string][]Pick // by kind of facet: what there is to pick
}

// Pick is one value that photographs can be found by, and how many there are.
type Pick struct {
	Value, Name string // Name is that of a person; the others speak for themselves
	Count       int
}

func (r *Record) index() *wallIndex {
	r.wall.once.Do(func() { r.wall.wall = r.makeIndex() })
	return &r.wall.wall
}

func (r *Record) makeIndex() wallIndex {
	n := len(r.Photos)
	x := wallIndex{order: make([]int, n), ranks: map[facet][]int{}, text: make([]string, n), first: make(map[media.ID]int, n), known: map[string][]Pick{}}
	stage := map[checklist.Stage]int{}
	for i, s := range checklist.Stages() {
		stage[s] = i + 1
	}
	for i := range r.Photos {
		p := &r.Photos[i]
		x.order[i] = i
		if before, ok := x.first[p.Media]; !ok || p.Number < before {
			x.first[p.Media] = p.Number
		}
	}
	slices.SortFunc(x.order, func(i, k int) int {
		a, b := &r.Photos[i], &r.Photos[k]
		return cmp.Or(cmp.Compare(stage[a.Stage], stage[b.Stage]), cmp.Compare(r.PlaceRank(a.Place.ID), r.PlaceRank(b.Place.ID)), cmp.Compare(a.Number, b.Number))
	})
	names := map[facet]string{}
	for rank, i := range x.order {
		p := &r.Photos[i]
		x.text[rank] = strings.ToLower("photo " + strconv.Itoa(p.Number) + "\n" + p.Caption + "\n" + p.Name + "\n" + strings.Join(p.Shows, "\n"))
		for _, f := range r.facetsOf(p, x.first) {
			x.ranks[f] = append(x.ranks[f], rank)
		}
		names[facet{"person", p.By.ID}] = p.By.Name
	}
	for f, ranks := range x.ranks {
		x.known[f.kind] = append(x.known[f.kind], Pick{Value: f.value, Name: names[f], Count: len(ranks)})
	}
	for _, picks := range x.known {
		slices.SortFunc(picks, func(a, b Pick) int { return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.Value, b.Value)) })
	}
	return x
}

// facetsOf is everything that one photograph is found by, each once.
func (r *Record) facetsOf(p *Photo, first map[media.ID]int) []facet {
	day := p.Exif.Capture.Local.Date()
	if day == "" {
		day = NoDay
	}
	out := []facet{{"place", p.Place.ID}, {"day", day}, {"person", p.By.ID}}
	if p.Filed() {
		out = append(out, facet{"stage", string(p.Stage)})
	} else {
		out = append(out, facet{"stage", NotFiled})
	}
	if p.Place.RunID != "" {
		out = append(out, facet{"place", p.Place.RunID + "/"})
	}
	if p.CheckID != "" {
		_, key, _ := strings.Cut(p.CheckID, ".")
		out = append(out, facet{"check", p.CheckID}, facet{"check", key})
	}
	for _, f := range r.flags(p, first) {
		out = append(out, facet{"flag", f.Key})
	}
	return out
}

// Picks lists what photographs can be found by: kind is day, person, check (keys and ids alike) or flag.
func (r *Record) Picks(kind string) []Pick { return r.index().known[kind] }

// Found is what a filter finds, in the order of the wall. The zero value is nothing found.
type Found struct {
	rec   *Record
	ranks []int // nil with all
	all   bool
}

// Find picks photographs. Without a text it costs what the rarest of the asked-for facts has; a text is looked for in memory.
func (r *Record) Find(f PhotoFilter) Found {
	x, facets := r.index(), f.facets()
	text := strings.ToLower(strings.TrimSpace(f.Text))
	if len(facets) == 0 && text == "" {
		return Found{rec: r, all: true}
	}
	slices.SortStableFunc(facets, func(a, b facet) int { return cmp.Compare(len(x.ranks[a]), len(x.ranks[b])) })
	out := Found{rec: r}
	if len(facets) == 0 {
		for rank := range x.text {
			if strings.Contains(x.text[rank], text) {
				out.ranks = append(out.ranks, rank)
			}
		}
		return out
	}
	if len(facets) == 1 && text == "" {
		out.ranks = x.ranks[facets[0]]
		return out
	}
candidates:
	for _, rank := range x.ranks[facets[0]] {
		for _, other := range facets[1:] {
			if _, ok := slices.BinarySearch(x.ranks[other], rank); !ok {
				continue candidates
			}
		}
		if strings.Contains(x.text[rank], text) {
			out.ranks = append(out.ranks, rank)
		}
	}
	return out
}

// Len is how many were found.
func (f Found) Len() int {
	if f.all {
		return len(f.rec.Photos)
	}
	return len(f.ranks)
}

// At is the i-th of them, from 0. It is shared: read it, never change it.
func (f Found) At(i int) *Photo {
	if !f.all {
		i = f.ranks[i]
	}
	return &f.rec.Photos[f.rec.index().order[i]]
}

// In is how many of them are of a stage, or NotFiled.
func (f Found) In(stage string) int {
	if f.Len() == 0 {
		return 0
	}
	of := f.rec.index().ranks[facet{"stage", stage}]
	if f.all || len(of) == 0 {
		return len(of)
	}
	from, _ := slices.BinarySearch(f.ranks, of[0]) // a stage's ranks follow one another
	to, _ := slices.BinarySearch(f.ranks, of[len(of)-1]+1)
	return to - from
}

// Position is where a photograph stands among them, from 0.
func (f Found) Position(id string) (int, bool) {
	for i := range f.Len() {
		if f.At(i).ID == id {
			return i, true
		}
	}
	return 0, false
}

// Photo is the photograph of that id.
func (r *Record) Photo(id string) (Photo, bool) {
	if i := r.photoAt(id); i >= 0 {
		return r.Photos[i], true
	}
	return Photo{}, false
}

// photoAt is the index of a photograph, -1 where there is none. It goes by index: photographs are large to copy.
func (r *Record) photoAt(id string) int {
	for i := range r.Photos {
		if r.Photos[i].ID == id {
			return i
		}
	}
	return -1
}

// takePhoto puts a photograph in its place: a new one behind the others, since numbers count up.
func (r *Record) takePhoto(p Photo) {
	r.wall = new(lazyWall)
	switch n := len(r.Photos); {
	case n == 0 || p.Number > r.Photos[n-1].Number:
		r.Photos = append(r.Photos, p)
	default:
		if i := r.photoAt(p.ID); i >= 0 {
			r.Photos[i] = p
			return
		}
		r.Photos = append(r.Photos, p)
	}
}

// Precedes says whether a photograph shows its run as it was before the cover: by the day its file claims, and where it claims none
// or the very day, by whether it is filed under framing.
func (c Covered) Precedes(p *Photo) bool {
	switch day := p.Exif.Capture.Local.Date(); {
	case day == "" || day == c.On:
		return p.Stage == checklist.Framing
	default:
		return day < c.On
	}
}
