package store_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"newelbook/checklist"
	"newelbook/jobs"
	"newelbook/media"
)

// camera is a reader of codes that has seen what it is told.
type camera map[media.ID][]string

func (c camera) Codes(_ context.Context, id media.ID) ([]string, error) {
	if texts := c[id]; len(texts) == 1 && texts[0] == "no picture" {
		return nil, &media.Refusal{}
	}
	return c[id], nil
}

func (c camera) KnownCodes(id media.ID) ([]string, bool) {
	texts, ok := c[id]
	return texts, ok && texts == nil
}

// tagText is the text of the tag of a place.
func tagText(t *testing.T, jobID string, place checklist.Place) string {
	t.Helper()
	text, err := jobs.TagText(jobID, place)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// TestFiledByTag reads tags of many kinds in photographs that came in filed or not, and says what is filed where and what is flagged.
func TestFiledByTag(t *testing.T) {
	x := newSite(t, open(t))
	run, second := x.run(t, "R1", "24'"), x.run(t, "R2", "12'")
	r2, _ := x.record(t).Run(second)
	of := func(id string) string {
		p, ok := x.record(t).Place(id)
		if !ok {
			t.Fatalf("no place %s", id)
		}
		return tagText(t, x.job, p)
	}
	p2, p3, b2, gone := of(run+"/P2"), of(run+"/P3"), of(run+"/B2"), of(second+"/P1")
	never := tagText(t, x.job, checklist.Place{ID: "abcdef/P1", Kind: checklist.PlacePost, RunID: "abcdef", Number: 1})
	if err := x.service.RetireRun(t.Context(), builder, x.job, second, r2.Version); err != nil {
		t.Fatal(err)
	}
	other, err := x.service.MakeJob(t.Context(), builder, func() jobs.JobInput { in := jobInput(); in.Ref = "S-2"; return in }())
	if err != nil {
		t.Fatal(err)
	}
	foreign := tagText(t, other, checklist.Place{ID: run + "/P2", Kind: checklist.PlacePost, RunID: run, Number: 2})
	unfiled := jobs.PhotoInput{Unfiled: true}
	at := func(place, stage string) jobs.PhotoInput { return jobs.PhotoInput{PlaceID: place, Stage: stage} }
	cases := []struct {
		name         string
		in           jobs.PhotoInput
		codes        []string
		place, stage string // where it is filed then, empty for unfiled
		by           string
		flag, says   string
	}{
		{"no code", unfiled, nil, "", "", "", "", ""},
		{"somebody else's code", unfiled, []string{"https://example.invalid/"}, "", "", "", "", ""},
		{"can't be shown", unfiled, []string{"no picture"}, "", "", "", "", ""},
		{"one tag", unfiled, []string{p2}, run + "/P2", "framing", "tag", "", ""},
		{"a tag of a bay beside somebody else's code", unfiled, []string{"hello", b2}, run + "/B2", "framing", "tag", "", ""},
		{"a stage was chosen", jobs.PhotoInput{Unfiled: true, Stage: "rails"}, []string{p3}, run + "/P3", "rails", "tag", "", ""},
		{"two places", unfiled, []string{p3, p2}, "", "", "", "tag_several", "shows the tags of R1-P2 and R1-P3"},
		{"another job's", unfiled, []string{foreign}, "", "", "", "tag_other", "a tag of another job, and this is job S-1"},
		{"another job's beside ours", unfiled, []string{foreign, p2}, "", "", "", "tag_other", "another job"},
		{"a run that was taken out", unfiled, []string{gone}, "", "", "", "tag_gone", "a tag of post 1 of R2, and the layout has no such place now"},
		{"a run that never was", unfiled, []string{never}, "", "", "", "tag_gone", "post 1 of a run that this job does not have"},
		{"filed by hand at the same place", at(run+"/P2", "posts"), []string{p2}, run + "/P2", "posts", "", "", ""},
		{"filed by hand at the run", at(run, "framing"), []string{p2, p3}, run, "framing", "", "", ""},
		{"filed by hand at the bay beside it", at(run+"/B2", "rails"), []string{p3}, run + "/B2", "rails", "", "", ""},
		{"filed by hand at a post with its neighbour's too", at(run+"/P2", "framing"), []string{p2, p3}, run + "/P2", "framing", "", "", ""},
		{"filed by hand elsewhere", at(run+"/P2", "rails"), []string{p3}, run + "/P2", "rails", "", "tag_elsewhere", "filed by hand at R1-P2, and the tag in the picture is of R1-P3"},
	}
	seen := camera{}
	var ids []string
	for i, c := range cases {
		c.in.Facts, c.in.Name = facts(100+i), "IMG.jpg"
		seen[c.in.Facts.ID] = c.codes
		added, err := x.service.AddPhotos(t.Context(), crew, x.job, []jobs.PhotoInput{c.in})
		if err != nil {
			t.Fatal(err)
		}
		ids = append(ids, added[0].ID)
		if err := x.service.ReadTags(t.Context(), seen, x.job, added[0].ID); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	for i, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := x.record(t)
			p, _ := r.Photo(ids[i])
			place := p.Place.ID
			if !p.Filed() {
				place = ""
			}
			if place != c.place || string(p.Stage) != c.stage || p.FiledBy != c.by || p.CheckID != "" {
				t.Errorf("filed at %q, %q, by %q, check %q; want %q, %q, by %q, no check", place, p.Stage, p.FiledBy, p.CheckID, c.place, c.stage, c.by)
			}
			var flags []jobs.Flag
			for _, f := range r.Flags(p) {
				if strings.HasPrefix(f.Key, "tag_") {
					flags = append(flags, f)
				}
			}
			if c.flag == "" && len(flags) > 0 || c.flag != "" && (len(flags) != 1 || flags[0].Key != c.flag || !strings.Contains(flags[0].Sentence, c.says)) {
				t.Errorf("flags %+v, want %q that says %q", flags, c.flag, c.says)
			}
			if p.By != crew.Actor {
				t.Errorf("sent by %q, want it to stay with who sent it", p.By.ID)
			}
		})
	}
	head := x.record(t).Head
	for range 2 {
		if err := x.service.ReadAllTags(t.Context(), seen); err != nil {
			t.Fatal(err)
		}
	}
	if again := x.record(t).Head; again != head {
		t.Errorf("read again, the chain went from event %d to %d", head.Seq, again.Seq)
	}
	x.agree(t)
	if found := findings(t, x.store); len(found) > 0 {
		t.Errorf("CheckChains found %+v", found)
	}
	handMovesTagged(t, x, ids[3], run)
}

// handMovesTagged files by hand what a tag filed: the hand counts, and the flag says what the tag says.
func handMovesTagged(t *testing.T, x *site, id, run string) {
	p, _ := x.record(t).Photo(id)
	if err := x.service.FilePhoto(t.Context(), crew, x.job, jobs.FileInput{ID: id, PlaceID: run + "/P4", Stage: "rails", Version: p.Version}); err != nil {
		t.Fatal(err)
	}
	p, _ = x.record(t).Photo(id)
	if p.FiledBy != "" || p.Place.ID != run+"/P4" || len(p.Tags) != 1 {
		t.Errorf("filed by hand, it is %+v", p)
	}
	if !slices.ContainsFunc(x.record(t).Flags(p), func(f jobs.Flag) bool { return f.Key == "tag_elsewhere" }) {
		t.Errorf("flags %+v, want one that names both places", x.record(t).Flags(p))
	}
	_, events, err := x.service.RecordWithEvents(t.Context(), x.job)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(events, func(e jobs.Event) bool { return e.Type == jobs.EvPhotoTagged && e.Actor.ID == "tag" }) {
		t.Error("no event says that the tag filed it")
	}
}

// TestTagFillsNoHoldPoint: a view that a hold point asks for must be named by somebody, which is one more filing.
func TestTagFillsNoHoldPoint(t *testing.T) {
	x := newSite(t, open(t))
	run := x.run(t, "R1", "12'")
	wide := run + "/P2.framing.photo_wide"
	place, _ := x.record(t).Place(run + "/P2")
	added, err := x.service.AddPhotos(t.Context(), crew, x.job, []jobs.PhotoInput{{Facts: facts(1), Unfiled: true}})
	if err != nil {
		t.Fatal(err)
	}
	if err := x.service.ReadTags(t.Context(), camera{facts(1).ID: {tagText(t, x.job, place)}}, x.job, added[0].ID); err != nil {
		t.Fatal(err)
	}
	if c, _ := x.sheet(t).Check(wide); len(c.Photos) > 0 {
		t.Error("the tag alone filled a hold point")
	}
	p, _ := x.record(t).Photo(added[0].ID)
	if err := x.service.FilePhoto(t.Context(), crew, x.job, jobs.FileInput{ID: p.ID, CheckID: wide, Version: p.Version}); err != nil {
		t.Fatal(err)
	}
	if c, _ := x.sheet(t).Check(wide); len(c.Photos) != 1 {
		t.Error("its view was named, and the hold point has no photograph")
	}
}

// TestTagSuggests puts what a tag says of an unfiled photograph before what its time says.
func TestTagSuggests(t *testing.T) {
	x := newSite(t, open(t))
	run := x.run(t, "R1", "12'")
	seen := camera{}
	for i, places := range [][]string{{"/P1", "/P2"}, {"/P3"}} {
		f := facts(i)
		f.Exif.Capture = media.Capture{}
		for _, at := range places {
			p, _ := x.record(t).Place(run + at)
			seen[f.ID] = append(seen[f.ID], tagText(t, x.job, p))
		}
		if _, err := x.service.AddPhotos(t.Context(), crew, x.job, []jobs.PhotoInput{{Facts: f, Unfiled: true}}); err != nil {
			t.Fatal(err)
		}
	}
	for _, s := range checklist.Stages() { // with all closed nothing says which stage it was
		st, _ := x.sheet(t).Stage(s)
		if err := x.service.CloseStage(t.Context(), builder, x.job, jobs.CloseInput{Stage: string(s), Version: st.State.Version, Reason: "To see."}); err != nil {
			t.Fatal(err)
		}
	}
	if err := x.service.ReadAllTags(t.Context(), seen); err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, b := range x.record(t).Batches(10) {
		got = append(got, b.Suggestion.Place.Label+": "+b.Suggestion.Why)
	}
	want := []string{": The picture shows the tags of R1-P1 and R1-P2, so it belongs to either, and no tag files it.", "R1-P3: The tag in the picture is of R1-P3."}
	if !slices.Equal(got, want) {
		t.Errorf("suggested %q, want %q", got, want)
	}
}
