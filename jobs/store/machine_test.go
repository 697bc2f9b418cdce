package store_test

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist"
	"newelbook/jobs"
	"newelbook/jobs/store"
)

// machine drives a service with random use cases, in any order, sound ones and refused ones.
type machine struct {
	*site
	tokens []string
	photos int
}

// refused lets through what a use case may answer with when it does nothing.
func refused(t *rapid.T, what string, err error) {
	var invalid *jobs.InvalidError
	var conflict *jobs.ConflictError
	var blocked *jobs.BlockedError
	var reused *jobs.FormReusedError
	if err == nil || errors.As(err, &invalid) || errors.As(err, &conflict) || errors.As(err, &blocked) || errors.As(err, &reused) {
		return
	}
	if errors.Is(err, jobs.ErrNotFound) || errors.Is(err, jobs.ErrForbidden) || errors.Is(err, jobs.ErrGone) {
		return
	}
	t.Fatalf("%s: %v", what, err)
}

// pick draws one of a list, or the zero value of an empty one.
func pick[T any](t *rapid.T, what string, list []T) (v T) {
	if len(list) == 0 {
		return v
	}
	return list[rapid.IntRange(0, len(list)-1).Draw(t, what)]
}

func (m *machine) who(t *rapid.T) jobs.By {
	by := rapid.SampledFrom([]jobs.By{builder, builder, crew}).Draw(t, "by")
	if rapid.Bool().Draw(t, "with form") {
		by.Form = fmt.Sprintf("form-%d", rapid.IntRange(1, 12).Draw(t, "form"))
		by.Body = jobs.TokenHash(rapid.SampledFrom([]string{"a", "b"}).Draw(t, "body"))
	}
	return by
}

func (m *machine) stage(t *rapid.T) string {
	return string(rapid.SampledFrom(checklist.Stages()).Draw(t, "stage"))
}

func (m *machine) version(t *rapid.T, current int) int {
	if rapid.IntRange(0, 9).Draw(t, "stale") == 0 {
		return current - 1
	}
	return current
}

func (m *machine) actions() map[string]func(*rapid.T) {
	ctx := context.Background()
	return map[string]func(*rapid.T){
		"change the job": func(t *rapid.T) {
			in := jobInput()
			in.Version = m.version(t, m.record(t).Job.Version)
			in.Name = rapid.SampledFrom([]string{"Back deck", "Front deck", ""}).Draw(t, "name")
			in.Spec = map[string]string{"post_max_centres": rapid.SampledFrom([]string{"72", "60", "48"}).Draw(t, "centres")}
			refused(t, "ChangeJob", m.service.ChangeJob(ctx, m.who(t), m.job, in))
		},
		"save a run": func(t *rapid.T) {
			r := m.record(t)
			in := jobs.RunInput{Fields: map[string]string{
				"kind":   rapid.SampledFrom([]string{"level", "level", "removable"}).Draw(t, "kind"),
				"label":  fmt.Sprintf("R%d", rapid.IntRange(1, 3).Draw(t, "label")),
				"length": fmt.Sprint(rapid.IntRange(30, 150).Draw(t, "length")), "deck_height": "48", "removable_why": "Furniture comes in here",
			}}
			if len(r.Runs) > 2 || len(r.Runs) > 0 && rapid.Bool().Draw(t, "old") {
				old := pick(t, "run", r.Runs)
				in.ID, in.Version = old.ID, m.version(t, old.Version)
				delete(in.Fields, "kind")
			}
			_, err := m.service.SaveRun(ctx, m.who(t), m.job, in)
			refused(t, "SaveRun", err)
		},
		"retire a run": func(t *rapid.T) {
			if rapid.IntRange(0, 3).Draw(t, "really") > 0 {
				t.Skip("runs are seldom retired")
			}
			run := pick(t, "run", m.record(t).Runs)
			refused(t, "RetireRun", m.service.RetireRun(ctx, m.who(t), m.job, run.ID, m.version(t, run.Version)))
		},
		"take readings": func(t *rapid.T) {
			checks := m.sheet(t).Checks
			var inputs []jobs.ReadingInput
			for range rapid.IntRange(1, 4).Draw(t, "n") {
				c := pick(t, "check", checks)
				in := m.answer(c.Check)
				if in.Text != "" && c.Check.Ask != checklist.AskCount {
					in.Text = rapid.SampledFrom([]string{in.Text, "67 3/4", "3 mm", "1 7/8", "a lot"}).Draw(t, "text")
				}
				if in.Seen == string(checklist.SeenYes) {
					in.Seen = rapid.SampledFrom([]string{"yes", "no"}).Draw(t, "seen")
				}
				inputs = append(inputs, in)
			}
			_, err := m.service.TakeReadings(ctx, m.who(t), m.job, inputs)
			refused(t, "TakeReadings", err)
		},
		"same for the rest": func(t *rapid.T) {
			c := pick(t, "check", m.sheet(t).Checks)
			_, err := m.service.SameRest(ctx, m.who(t), m.job, c.Check.ID, nil)
			refused(t, "SameRest", err)
		},
		"add a photo": func(t *rapid.T) {
			m.photos++
			in := jobs.PhotoInput{Facts: facts(rapid.IntRange(1, m.photos).Draw(t, "original")), Name: "IMG.jpg", Stage: m.stage(t), PlaceID: pick(t, "place", m.record(t).Places()).ID}
			if rapid.Bool().Draw(t, "to a check") {
				in.CheckID = pick(t, "check", m.sheet(t).Checks).Check.ID
			}
			in.Unfiled = in.CheckID == "" && rapid.Bool().Draw(t, "unfiled")
			if rapid.Bool().Draw(t, "bare") {
				in.Facts.Exif.GPSTime, in.Facts.Exif.Position = nil, nil
			}
			_, err := m.service.AddPhotos(ctx, m.who(t), m.job, []jobs.PhotoInput{in})
			refused(t, "AddPhotos", err)
		},
		"mark a photo": func(t *rapid.T) {
			p := pick(t, "photo", m.record(t).Photos)
			in := jobs.MarkInput{ID: p.ID, Version: p.Version, Shows: []string{"bolts"}, Marks: []jobs.MarkText{{Kind: "circle", FromX: "1", FromY: "2", ToX: rapid.SampledFrom([]string{"50", "101"}).Draw(t, "to"), ToY: "60", Field: "m"}}}
			if readings := m.record(t).Readings; len(readings) > 0 {
				in.Reading = pick(t, "reading", readings).ID
			}
			refused(t, "MarkPhoto", m.service.MarkPhoto(ctx, m.who(t), m.job, in))
		},
		"read a tag": func(t *rapid.T) {
			p, at := pick(t, "photo", m.record(t).Photos), pick(t, "place", m.record(t).Places())
			text, err := jobs.TagText(m.job, at)
			if err != nil { // it has none: runs, and the whole job
				text = "no tag"
			}
			refused(t, "ReadTags", m.service.ReadTags(ctx, camera{p.Media: {text}}, m.job, p.ID))
		},
		"file a batch": func(t *rapid.T) {
			p := pick(t, "photo", m.record(t).Photos)
			refused(t, "FileBatch", m.service.FileBatch(ctx, m.who(t), m.job, jobs.FileBatchInput{IDs: []string{p.ID}, PlaceID: pick(t, "place", m.record(t).Places()).ID, Stage: m.stage(t)}))
		},
		"file a photo": func(t *rapid.T) {
			p := pick(t, "photo", m.record(t).Photos)
			refused(t, "FilePhoto", m.service.FilePhoto(ctx, m.who(t), m.job, jobs.FileInput{
				ID: p.ID, Version: m.version(t, p.Version), Stage: m.stage(t), PlaceID: pick(t, "place", m.record(t).Places()).ID, Caption: "Filed otherwise"}))
		},
		"open a deviation": func(t *rapid.T) {
			_, err := m.service.OpenDeviation(ctx, m.who(t), m.job, jobs.DeviationInput{
				PlaceID: pick(t, "place", m.record(t).Places()).ID, Stage: m.stage(t), What: rapid.SampledFrom([]string{"The rail is chipped.", ""}).Draw(t, "what")})
			refused(t, "OpenDeviation", err)
		},
		"end a deviation": func(t *rapid.T) {
			d := pick(t, "deviation", m.record(t).Deviations)
			refused(t, "EndDeviation", m.service.EndDeviation(ctx, m.who(t), m.job, jobs.DeviationInput{
				ID: d.ID, Version: m.version(t, d.Version), State: rapid.SampledFrom([]string{"accepted", "referred"}).Draw(t, "state"), Reason: "Cosmetic.", Name: "A. Sample"}))
		},
		"close a stage": func(t *rapid.T) {
			stage := m.stage(t)
			refused(t, "CloseStage", m.service.CloseStage(ctx, m.who(t), m.job, jobs.CloseInput{
				Stage: stage, Version: m.version(t, m.record(t).Stages[checklist.Stage(stage)].Version), Reason: rapid.SampledFrom([]string{"", "It was inspected"}).Draw(t, "reason")}))
		},
		"reopen a stage": func(t *rapid.T) {
			stage := m.stage(t)
			refused(t, "ReopenStage", m.service.ReopenStage(ctx, m.who(t), m.job, jobs.CloseInput{
				Stage: stage, Version: m.version(t, m.record(t).Stages[checklist.Stage(stage)].Version), Reason: "A post was moved"}))
		},
		"cover a run": func(t *rapid.T) {
			refused(t, "CoverRun", m.service.CoverRun(ctx, m.who(t), m.job, jobs.CoverInput{
				RunID: pick(t, "run", m.record(t).Runs).ID, On: "2026-05-04", Reason: rapid.SampledFrom([]string{"", "Rain was coming"}).Draw(t, "reason")}))
		},
		"write the diary": func(t *rapid.T) {
			day := fmt.Sprintf("2026-05-0%d", rapid.IntRange(1, 5).Draw(t, "day")) // the fifth has not come yet
			page, _ := m.record(t).DiaryDay(day)
			refused(t, "SaveDiary", m.service.SaveDiary(ctx, m.who(t), m.job, jobs.DiaryInput{
				Day: day, Version: m.version(t, page.Version), Work: "Posts", People: rapid.SampledFrom([]string{"", "Jo Sample, 7 1/2", "Jo Sample, 8\nPat Sample, 4"}).Draw(t, "people")}))
		},
		"tick a piece": func(t *rapid.T) {
			p := pick(t, "piece", m.record(t).Pieces())
			refused(t, "TickPiece", m.service.TickPiece(ctx, m.who(t), m.job, jobs.TickInput{
				PieceID: p.ID, Step: rapid.SampledFrom([]string{"cut", "cut", "fitted", "lost"}).Draw(t, "step"), Done: rapid.Bool().Draw(t, "done")}))
		},
		"put stock on hand": func(t *rapid.T) {
			refused(t, "AddOnHand", m.service.AddOnHand(ctx, m.who(t), m.job, jobs.OnHandInput{
				Stock: pick(t, "kind", m.record(t).StockKinds()).Key(), Length: rapid.SampledFrom([]string{"96", "40 1/2", "-1", "long"}).Draw(t, "length"),
				Count: rapid.SampledFrom([]string{"", "3", "0"}).Draw(t, "count"), Offcut: rapid.Bool().Draw(t, "offcut"), From: "Under the deck"}))
		},
		"withdraw stock": func(t *rapid.T) {
			o := pick(t, "stock", m.record(t).OnHand)
			refused(t, "Withdraw", m.service.WithdrawOnHand(ctx, m.who(t), m.job, jobs.WithdrawOnHandInput{ID: o.ID, Version: m.version(t, o.Version), All: rapid.Bool().Draw(t, "all")}))
		},
		"cut a board": func(t *rapid.T) {
			var pieces []string
			for range rapid.IntRange(0, 3).Draw(t, "pieces") {
				pieces = append(pieces, pick(t, "piece", m.record(t).Pieces()).ID)
			}
			refused(t, "CutBoard", m.service.CutBoard(ctx, m.who(t), m.job, jobs.BoardInput{
				Pieces: pieces, OnHand: pick(t, "stock", append(m.record(t).OnHand, jobs.OnHand{})).ID, Rest: rapid.SampledFrom([]string{"", "20"}).Draw(t, "rest")}))
		},
		"attach a paper": func(t *rapid.T) {
			rests := []jobs.Rest{{}, {Value: "deviation:gone"}}
			_, err := m.service.AddPaper(ctx, m.who(t), m.job, jobs.PaperInput{
				Facts: paperFacts(rapid.IntRange(1, 6).Draw(t, "file")), Name: "scan.pdf", Kind: string(pick(t, "kind", append(jobs.PaperKinds(), "a poem"))),
				Title: rapid.SampledFrom([]string{"As approved", "As approved", ""}).Draw(t, "title"), On: rapid.SampledFrom([]string{"", "2026-05-04", "2027-01-01"}).Draw(t, "on"),
				Issuer: "B. Sample", PlaceID: pick(t, "place", m.record(t).Places()).ID, Rests: pick(t, "rests", append(rests, m.record(t).Rests()...)).Value})
			refused(t, "AddPaper", err)
		},
		"describe a paper": func(t *rapid.T) {
			p := pick(t, "paper", m.record(t).Papers)
			refused(t, "DescribePaper", m.service.DescribePaper(ctx, m.who(t), m.job, jobs.PaperInput{
				ID: p.ID, Version: m.version(t, p.Version), Kind: string(jobs.PaperTest), Title: "Read again", Issuer: "B. Sample", PlaceID: "job", Rests: m.record(t).RestOf(p).Value}))
		},
		"withdraw a paper": func(t *rapid.T) {
			p := pick(t, "paper", m.record(t).Papers)
			refused(t, "WithdrawPaper", m.service.WithdrawPaper(ctx, m.who(t), m.job, jobs.WithdrawPaperInput{
				ID: p.ID, Version: m.version(t, p.Version), Why: rapid.SampledFrom([]string{"", "Superseded"}).Draw(t, "why")}))
		},
		"issue a pack": func(t *rapid.T) {
			if len(m.record(t).Packs) > 3 {
				t.Skip("enough packs")
			}
			m.issue(t)
		},
		"make a link": func(t *rapid.T) {
			_, token, err := m.service.MakeLink(ctx, m.who(t), m.job, jobs.LinkInput{
				Pack: rapid.IntRange(1, 4).Draw(t, "pack"), For: rapid.SampledFrom([]string{"owner", "inspector"}).Draw(t, "for"), Name: "A. Sample", Days: 30})
			refused(t, "MakeLink", err)
			if token != "" {
				m.tokens = append(m.tokens, token)
			}
		},
		"revoke a link": func(t *rapid.T) {
			refused(t, "RevokeLink", m.service.RevokeLink(ctx, m.who(t), m.job, pick(t, "link", m.record(t).Links).ID))
		},
		"answer": func(t *rapid.T) {
			_, err := m.service.Answer(ctx, pick(t, "token", m.tokens), "", "", jobs.AnswerInput{
				Kind: rapid.SampledFrom([]string{"accepted", "declined", "remark", "outcome"}).Draw(t, "kind"), Outcome: jobs.OutcomeCorrect,
				Stage: m.stage(t), Text: "Well made.", Name: "A. Sample", On: "2026-05-04"})
			refused(t, "Answer", err)
		},
	}
}

// Whatever is done in whatever order, the job tables give the record that the events give, the chain verifies, and the
// check finds nothing.
func TestLoadEqualsReplay(t *testing.T) {
	t.Parallel()
	dir, n := t.TempDir(), 0
	rapid.Check(t, func(t *rapid.T) {
		n++
		s, err := store.Open(context.Background(), filepath.Join(dir, fmt.Sprint(n, ".db")), store.Options{Now: clock})
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		m := &machine{site: newSite(t, s)}
		actions := m.actions()
		actions[""] = func(t *rapid.T) { m.agree(t) }
		t.Repeat(actions)
		found, err := s.CheckChains(context.Background(), filepath.Join(dir, "scratch.db"))
		if err != nil || len(found) > 0 {
			t.Fatalf("CheckChains of a sound store = %+v, %v", found, err)
		}
	})
}
