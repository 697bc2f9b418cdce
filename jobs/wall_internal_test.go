package jobs

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist"
	"newelbook/media"
)

// drawnPhotos is a record with photographs whose facts come from few values, so that filters meet.
func drawnPhotos(t *rapid.T) *Record {
	r := NewRecord()
	r.Job = Job{ID: "deck", Zone: "America/Chicago", Begun: "2026-05-03"}
	places := []checklist.Place{{ID: "job", Kind: checklist.PlaceJob}, {ID: "a", Kind: checklist.PlaceRun, RunID: "a"}, {ID: "a/P1", Kind: checklist.PlacePost, RunID: "a", Number: 1}, {ID: "b/B1", Kind: checklist.PlaceBay, RunID: "b", Number: 1}}
	for i := range rapid.IntRange(0, 40).Draw(t, "n") {
		p := Photo{ID: fmt.Sprintf("p%d", i), Number: i + 1, Media: media.ID{byte(rapid.IntRange(0, 9).Draw(t, "original"))}, Name: "IMG.jpg"}
		p.Place = rapid.SampledFrom(places).Draw(t, "place")
		p.Stage = rapid.SampledFrom(append([]checklist.Stage{""}, checklist.Stages()[:3]...)).Draw(t, "stage")
		p.By = Actor{ID: rapid.SampledFrom([]string{"ada", "ben"}).Draw(t, "by")}
		p.Caption = rapid.SampledFrom([]string{"", "Lower bolt", "Washers"}).Draw(t, "caption")
		if p.Filed() && rapid.Bool().Draw(t, "answers") {
			p.CheckID = p.Place.ID + "." + rapid.SampledFrom([]string{"framing.photo_wide", "framing.photo_edges"}).Draw(t, "key")
		}
		if day := rapid.IntRange(0, 5).Draw(t, "day"); day > 0 {
			p.Exif = media.Exif{Present: true, Capture: media.Capture{Local: media.WallTime{Year: 2026, Month: 5, Day: day}}}
		}
		r.Take(Change{Photo: &p})
	}
	return r
}

// picks is the filter by looking at one photograph alone.
func (f PhotoFilter) picks(r *Record, p *Photo) bool {
	day := p.Exif.Capture.Local.Date()
	if day == "" {
		day = NoDay
	}
	stage := string(p.Stage)
	if stage == "" {
		stage = NotFiled
	}
	flagged := slices.ContainsFunc(r.Flags(*p), func(x Flag) bool { return x.Key == f.Flag })
	return (f.Stage == "" || f.Stage == stage) && f.At(p.Place) && (f.Day == "" || f.Day == day) && (f.Person == "" || f.Person == p.By.ID) &&
		(f.Check == "" || f.Check == p.CheckID || p.CheckID != "" && strings.HasSuffix(p.CheckID, "."+f.Check)) && (f.Flag == "" || flagged) &&
		strings.Contains(strings.ToLower(fmt.Sprintf("photo %d %s %s", p.Number, p.Caption, p.Name)), strings.ToLower(f.Text))
}

// TestFindIsTheFilter finds by index what looking at each photograph finds, each once and in the order of the wall.
func TestFindIsTheFilter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawnPhotos(t)
		some := func(name string, values ...string) string {
			return rapid.SampledFrom(append([]string{"", ""}, values...)).Draw(t, "filter "+name)
		}
		f := PhotoFilter{
			Stage: some("stage", NotFiled, string(checklist.Stages()[0]), "no such stage"), Place: some("place", "job", "a", "a/", "a/P1", "b/"), Day: some("day", NoDay, "2026-05-02", "2026-05-04"),
			Person: some("person", "ada", "ben"), Check: some("check", "framing.photo_wide", "a/P1.framing.photo_edges"), Flag: some("flag", "held", "before_job", "no_exif"), Text: some("text", "BOLT", "photo 1", "washers"),
		}
		want := map[string]bool{}
		for i := range r.Photos {
			if f.picks(r, &r.Photos[i]) {
				want[r.Photos[i].ID] = true
			}
		}
		found := r.Find(f)
		if found.Len() != len(want) {
			t.Fatalf("%+v finds %d, want %d", f, found.Len(), len(want))
		}
		in := map[string]int{}
		last, rank := -1, -1
		for i := range found.Len() {
			p := found.At(i)
			if !want[p.ID] {
				t.Fatalf("%+v finds %s twice, or it does not fit", f, p.ID)
			}
			delete(want, p.ID)
			if at, ok := found.Position(p.ID); !ok || at != i {
				t.Fatalf("%s stands at %d by Position, at %d by At", p.ID, at, i)
			}
			if p.Filed() {
				in[string(p.Stage)]++
			} else {
				in[NotFiled]++
			}
			stage := slices.Index(checklist.Stages(), p.Stage)
			if stage < last || stage == last && r.PlaceRank(p.Place.ID) < rank {
				t.Fatalf("%s stands out of order", p.ID)
			}
			last, rank = stage, r.PlaceRank(p.Place.ID)
		}
		for _, stage := range []string{NotFiled, string(checklist.Stages()[0]), string(checklist.Stages()[2])} {
			if n := found.In(stage); n != in[stage] {
				t.Fatalf("%d in %s, want %d", n, stage, in[stage])
			}
		}
	})
}

// TestWallFollows finds by what a photograph is filed as now, and by a cover that came after it.
func TestWallFollows(t *testing.T) {
	r := NewRecord()
	r.Job = Job{ID: "deck", Zone: "America/Chicago"}
	p := Photo{ID: "p1", Number: 1, Place: checklist.Place{ID: "a", Kind: checklist.PlaceRun, RunID: "a"}, Exif: media.Exif{Present: true, Capture: media.Capture{Local: media.WallTime{Year: 2026, Month: 5, Day: 9}}}}
	r.Take(Change{Photo: &p})
	if n := r.Find(PhotoFilter{Stage: NotFiled}).Len(); n != 1 {
		t.Fatalf("%d unfiled, want 1", n)
	}
	next := r.next()
	filed := p
	filed.Stage = checklist.Framing
	next.Take(Change{Photo: &filed})
	next.Take(Change{Covered: &Covered{RunID: "a", On: "2026-05-05"}})
	for _, c := range []struct {
		r    *Record
		f    PhotoFilter
		want int
	}{
		{next, PhotoFilter{Stage: NotFiled}, 0}, {next, PhotoFilter{Stage: "framing"}, 1}, {next, PhotoFilter{Flag: "after_cover"}, 1},
		{r, PhotoFilter{Stage: NotFiled}, 1}, {r, PhotoFilter{Flag: "after_cover"}, 0},
	} {
		if n := c.r.Find(c.f).Len(); n != c.want {
			t.Errorf("%+v finds %d, want %d", c.f, n, c.want)
		}
	}
}

func TestPrecedes(t *testing.T) {
	cover := Covered{On: "2026-05-05"}
	for _, c := range []struct {
		day   int // in May, 0 for none
		stage checklist.Stage
		want  bool
	}{
		{4, checklist.Framing, true}, {4, checklist.Handover, true}, {6, checklist.Framing, false},
		{5, checklist.Framing, true}, {5, checklist.Handover, false}, {0, checklist.Framing, true}, {0, "", false},
	} {
		p := Photo{Stage: c.stage}
		if c.day > 0 {
			p.Exif.Capture.Local = media.WallTime{Year: 2026, Month: 5, Day: c.day}
		}
		if got := cover.Precedes(&p); got != c.want {
			t.Errorf("taken on %d May, stage %q: before the cover %v, want %v", c.day, c.stage, got, c.want)
		}
	}
}
