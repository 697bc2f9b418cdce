package store_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"testing"
	"time"

	"newelbook/checklist"
	"newelbook/jobs"
	"newelbook/jobs/store"
	"newelbook/media"
)

// tester is what *testing.T, *testing.B and *rapid.T have in common.
type tester interface {
	Helper()
	Fatal(...any)
	Fatalf(string, ...any)
}

// site is one invented job in a real store, and the people on it.
type site struct {
	store   *store.Store
	service *jobs.Service
	now     time.Time
	job     string
}

var (
	builder = jobs.By{Actor: jobs.Actor{ID: "a1", Name: "Sam Sample", Role: jobs.RoleBuilder}}
	crew    = jobs.By{Actor: jobs.Actor{ID: "a2", Name: "Pat Sample", Role: jobs.RoleCrew}}
)

// jobInput is an invented job as typed.
func jobInput() jobs.JobInput {
	return jobs.JobInput{
		Ref: "S-1", Name: "Back deck", Site: "1 Sample Lane, Nowhere", Owner: "A. Sample", Builder: "Example Decks", Contact: "decks@example.invalid",
		RuleSet: "irc-2018", Units: "in", Zone: "America/Chicago", Begun: "2026-05-01", Lat: "44.9512", Lon: "-93.1",
	}
}

// newSite makes the job in a store.
func newSite(t tester, s *store.Store) *site {
	t.Helper()
	x := &site{store: s, now: clock()}
	x.service = jobs.NewService(s, func() time.Time {
		x.now = x.now.Add(time.Second)
		return x.now
	})
	var err error
	if x.job, err = x.service.MakeJob(context.Background(), builder, jobInput()); err != nil {
		t.Fatalf("MakeJob: %v", err)
	}
	return x
}

func (x *site) record(t tester) *jobs.Record {
	t.Helper()
	r, err := x.service.Record(context.Background(), x.job)
	if err != nil {
		t.Fatalf("Record: %v", err)
	}
	return r
}

func (x *site) sheet(t tester) *jobs.Sheet {
	t.Helper()
	s, err := x.record(t).Sheet()
	if err != nil {
		t.Fatalf("Sheet: %v", err)
	}
	return s
}

// run saves a level run of a length and returns its id.
func (x *site) run(t tester, label, length string) string {
	t.Helper()
	id, err := x.service.SaveRun(context.Background(), builder, x.job, jobs.RunInput{Fields: map[string]string{
		"kind": "level", "label": label, "length": length, "deck_height": "48", "joists": "across", "first_joist": "0",
	}})
	if err != nil {
		t.Fatalf("SaveRun %s: %v", label, err)
	}
	return id
}

// answer is a good answer to a check, where one can be made up: the nominal, or yes.
func (x *site) answer(c checklist.Check) jobs.ReadingInput {
	in := jobs.ReadingInput{CheckID: c.ID}
	switch c.Ask {
	case checklist.AskCount:
		in.Text = "1"
		if c.Count != nil {
			in.Text = fmt.Sprint(*c.Count)
		}
	case checklist.AskMoist:
		in.Text = "12"
	case checklist.AskSeen:
		in.Seen = string(checklist.SeenYes)
	case checklist.AskPhoto:
		in.Seen, in.Reason = string(checklist.SeenNA), "The camera was broken."
	default:
		in.Text = "1"
		if c.Nominal != nil {
			in.Text = fmt.Sprintf("%d.%06d mm", *c.Nominal/1e6, *c.Nominal%1e6)
		}
	}
	return in
}

// take records readings.
func (x *site) take(t tester, inputs ...jobs.ReadingInput) []string {
	t.Helper()
	ids, err := x.service.TakeReadings(context.Background(), crew, x.job, inputs)
	if err != nil {
		t.Fatalf("TakeReadings: %v", err)
	}
	return ids
}

// check finds a check of the sheet by its catalogue key.
func (x *site) check(t tester, key string) *jobs.CheckState {
	t.Helper()
	s := x.sheet(t)
	for i := range s.Checks {
		if s.Checks[i].Check.Key == key {
			return &s.Checks[i]
		}
	}
	t.Fatalf("no check %s", key)
	return nil
}

// facts are what media would have found in a photograph, made up from a number.
func facts(n int) media.Photo {
	var id media.ID
	copy(id[:], fmt.Sprintf("invented photograph %08d", n))
	accuracy, fix := 4.5, time.Date(2026, 5, 4, 14, 1, n%60, 0, time.UTC)
	return media.Photo{ID: id, Kind: media.JPEG, Bytes: int64(100_000 + n), Width: 4000, Height: 3000, Exif: media.Exif{
		Present: true, Orientation: 6, Make: "Example", Model: "Camera 1", GPSTime: &fix,
		Capture:  media.Capture{Local: media.WallTime{Year: 2026, Month: 5, Day: 4, Hour: 9, Minute: 1, Second: n % 60}, Offset: "-05:00", SubSec: "016", Source: "DateTimeOriginal"},
		Position: &media.Position{Lat: 44.9513, Lon: -93.1001, Accuracy: &accuracy},
	}}
}

// photo files a made-up photograph at a place.
func (x *site) photo(t tester, n int, place, stage string) string {
	t.Helper()
	ids, err := x.service.AddPhotos(context.Background(), crew, x.job, []jobs.PhotoInput{{Facts: facts(n), Name: "IMG.jpg", PlaceID: place, Stage: stage, Caption: "Blocking"}})
	if err != nil {
		t.Fatalf("AddPhotos: %v", err)
	}
	return ids[0].ID
}

// issue records the next pack, with made-up hashes.
func (x *site) issue(t tester) int {
	t.Helper()
	r := x.record(t)
	n := len(r.Packs) + 1
	p := jobs.IssuedPack{
		Number: n, Issued: x.service.Now(), Purpose: "handover", Hash: jobs.TokenHash(fmt.Sprint("pack ", n)), RecordHash: jobs.TokenHash(fmt.Sprint("record ", n)),
		HeadSeq: r.Head.Seq, HeadHash: r.Head.Hash, Originals: n%2 == 0, NoPositions: n%2 == 1, Open: []string{"Something was open."},
	}
	if err := x.service.RecordIssue(context.Background(), builder, x.job, p); err != nil {
		t.Fatalf("RecordIssue: %v", err)
	}
	return n
}

// whole puts at least one object of every kind into the job, and some that changed.
func (x *site) whole(t tester) {
	t.Helper()
	ctx := context.Background()
	must := func(what string, err error) {
		t.Helper()
		if err != nil {
			t.Fatalf("%s: %v", what, err)
		}
	}
	run := x.run(t, "R1", "144")
	gone := x.run(t, "R2", "60")
	must("RetireRun", x.service.RetireRun(ctx, builder, x.job, gone, 1))
	seen := x.check(t, "framing.blocking")
	x.take(t, x.answer(seen.Check))
	opening := x.check(t, checklist.KeyOpeningBottom)
	x.take(t, jobs.ReadingInput{CheckID: opening.Check.ID, Text: "67"})                      // off the layout: a deviation, and the bay laid out again
	x.take(t, jobs.ReadingInput{CheckID: opening.Check.ID, Text: "68", Note: "Read again."}) // supersedes it
	photo := x.photo(t, 1, run, "framing")
	x.photo(t, 2, run+"/P1", "framing")
	must("FilePhoto", x.service.FilePhoto(ctx, crew, x.job, jobs.FileInput{ID: photo, PlaceID: run + "/P2", Stage: "posts", Caption: "Post 2", Version: 1}))
	hand, err := x.service.OpenDeviation(ctx, crew, x.job, jobs.DeviationInput{PlaceID: run, Stage: "rails", What: "The rail is chipped."})
	must("OpenDeviation", err)
	must("EndDeviation", x.service.EndDeviation(ctx, builder, x.job, jobs.DeviationInput{ID: hand, Version: 1, State: "accepted", Reason: "Cosmetic.", Name: "A. Sample"}))
	must("CloseStage", x.service.CloseStage(ctx, builder, x.job, jobs.CloseInput{Stage: "framing", Reason: "The joists were inspected before"}))
	must("CoverRun", x.service.CoverRun(ctx, builder, x.job, jobs.CoverInput{RunID: run, On: "2026-05-04", Reason: "Rain was coming"}))
	must("SaveDiary", x.service.SaveDiary(ctx, crew, x.job, jobs.DiaryInput{Day: "2026-05-04", Weather: "Rain", People: "Jo Sample, 7 1/2", Work: "Framing"}))
	must("SaveDiary", x.service.SaveDiary(ctx, crew, x.job, jobs.DiaryInput{Day: "2026-05-04", Version: 1, Weather: "Rain, then dry", Work: "Framing"}))
	must("TickPiece", x.service.TickPiece(ctx, crew, x.job, jobs.TickInput{PieceID: run + "/P1", Step: "fitted", Done: true}))
	must("TickPiece", x.service.TickPiece(ctx, crew, x.job, jobs.TickInput{PieceID: run + "/P1", Step: "fitted"}))
	rails := x.record(t).StockKinds()[len(x.record(t).StockKinds())-2].Key()
	must("AddOnHand", x.service.AddOnHand(ctx, crew, x.job, jobs.OnHandInput{Stock: rails, Length: "96", Count: "2", From: "Left over"}))
	must("CutBoard", x.service.CutBoard(ctx, crew, x.job, jobs.BoardInput{Pieces: []string{run + "/B1 top"}, OnHand: x.record(t).OnHand[0].ID, Rest: "20"}))
	must("Withdraw", x.service.WithdrawOnHand(ctx, builder, x.job, jobs.WithdrawOnHandInput{ID: x.record(t).OnHand[1].ID, Version: 1, All: true}))
	letter := x.paper(t, 1, jobs.PaperInput{Kind: "engineer's letter", Title: "Rail, as it is", On: "2026-05-04", Issuer: "B. Sample", PlaceID: run, Rests: "deviation:" + hand})
	x.paper(t, 2, jobs.PaperInput{Kind: "product label or instructions", Title: "Connector", Issuer: "A maker", PlaceID: "job"})
	must("DescribePaper", x.service.DescribePaper(ctx, builder, x.job, jobs.PaperInput{ID: letter, Version: 1, Kind: "engineer's letter", Title: "The rail as it is", Issuer: "B. Sample", PlaceID: run, Rests: "deviation:" + hand}))
	must("WithdrawPaper", x.service.WithdrawPaper(ctx, builder, x.job, jobs.WithdrawPaperInput{ID: letter, Version: 2, Why: "A newer one came."}))
	pack := x.issue(t)
	_, token, err := x.service.MakeLink(ctx, builder, x.job, jobs.LinkInput{Pack: pack, For: "owner", Name: "A. Sample", Days: 30})
	must("MakeLink", err)
	_, err = x.service.Answer(ctx, token, "", "", jobs.AnswerInput{Kind: "accepted", Name: "A. Sample"})
	must("Answer", err)
	shut, _, err := x.service.MakeLink(ctx, builder, x.job, jobs.LinkInput{Pack: pack, For: "inspector", Name: "B. Sample", Days: 7})
	must("MakeLink", err)
	must("RevokeLink", x.service.RevokeLink(ctx, builder, x.job, shut))
}

// paper attaches a paper whose file is told from others by n.
func (x *site) paper(t tester, n int, in jobs.PaperInput) string {
	t.Helper()
	in.Facts, in.Name = paperFacts(n), "scan.pdf"
	id, err := x.service.AddPaper(context.Background(), crew, x.job, in)
	if err != nil {
		t.Fatalf("AddPaper: %v", err)
	}
	return id
}

// paperFacts are what media would have found in a paper's file.
func paperFacts(n int) media.Paper {
	return media.Paper{ID: media.ID{31: byte(n), 0: 0xaa}, Bytes: int64(1000 + n), Kind: media.PDF}
}

// sealed is the event that follows head with a change in it.
func sealed(jobID string, head jobs.Head, kind string, c jobs.Change) (jobs.Event, error) {
	payload, err := json.Marshal(c)
	if err != nil {
		return jobs.Event{}, err
	}
	return jobs.Event{JobID: jobID, At: clock(), Offset: "-05:00", Actor: builder.Actor, Type: kind, Salt: "5a", Payload: string(payload)}.Seal(head), nil
}

// agree compares the record that the tables give with the one that the events give.
func (x *site) agree(t tester) {
	t.Helper()
	err := x.store.View(context.Background(), func(tx jobs.Tx) error {
		loaded, err := tx.Load(x.job)
		if err != nil {
			return err
		}
		events, err := tx.Events(x.job, 1)
		if err != nil {
			return err
		}
		if faults := jobs.VerifyChain(events); len(faults) > 0 {
			return errors.New(faults[0])
		}
		replayed, err := jobs.Replay(events)
		if err != nil {
			return err
		}
		got, err := json.Marshal(loaded)
		if err != nil {
			return err
		}
		want, err := json.Marshal(replayed)
		if err != nil {
			return err
		}
		if string(got) != string(want) {
			return fmt.Errorf("Load = %s\nReplay = %s", got, want)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// findings runs the check of the store.
func findings(t testing.TB, s *store.Store) []store.Finding {
	t.Helper()
	found, err := s.CheckChains(t.Context(), t.TempDir()+"/scratch.db")
	if err != nil {
		t.Fatalf("CheckChains: %v", err)
	}
	return found
}
