package views_test

import (
	"encoding/json"
	"strconv"
	"strings"
	"testing"
	"time"

	"newelbook/checklist"
	"newelbook/jobs"
	"newelbook/media"
	"newelbook/views"
)

var ben = jobs.Actor{ID: "ben000000000", Name: "Ben Sample", Role: jobs.RoleCrew}

// photograph files a photograph to a check, or where checkID is empty to a place and stage.
func (d *deck) photograph(checkID, placeID string, stage checklist.Stage, change func(*jobs.Photo)) jobs.Photo {
	d.t.Helper()
	n := len(d.rec.Photos) + 1
	p := jobs.Photo{
		ID: "photo" + serial(n), Number: n, Media: media.ID{byte(n), 0x2f, 0x5e}, Name: "DSCN0001.jpg", Kind: string(media.JPEG), Bytes: 3_412_008, Width: 3000, Height: 4000,
		Stage: stage, CheckID: checkID, By: ben, Received: d.at.Add(time.Duration(n) * time.Minute), Version: 1,
		Exif: media.Exif{Present: true, Make: "Example", Model: "Pocket 1", Orientation: 6, Capture: media.Capture{Local: media.WallTime{Year: 2026, Month: 5, Day: 4, Hour: 8, Minute: 55, Second: 7}, Offset: "-05:00", Source: "DateTimeOriginal"}},
	}
	if checkID != "" {
		c, ok := d.sheet().Check(checkID)
		if !ok {
			d.t.Fatalf("no check %s", checkID)
		}
		p.Place, p.Stage = c.Check.Place, c.Check.Stage
	} else if p.Place, _ = d.rec.Place(placeID); p.Place.ID == "" {
		d.t.Fatalf("no place %s", placeID)
	}
	if change != nil {
		change(&p)
	}
	d.rec.Take(jobs.Change{Photo: &p})
	d.rec = d.rec.Clone()
	return p
}

// photoDeck is the full deck with four photographs: sound, edited and far away, without Exif, and one original twice.
func photoDeck(t *testing.T) *deck {
	t.Helper()
	d := fullDeck(t)
	lat, lon, away := 44.95, -93.1, 45.05
	d.rec.Job.Lat, d.rec.Job.Lon = &lat, &lon
	d.photograph("k7d2aa/P1.framing.photo_wide", "", "", nil)
	d.photograph("", "k7d2aa/P2", checklist.Framing, func(p *jobs.Photo) {
		p.Caption = `Lower bolt, 1 15/16" to the edge`
		p.Exif.Position = &media.Position{Lat: away, Lon: lon}
		p.Exif.Software, p.Exif.ModifyDate = "Sample Retouch 2", media.Capture{Local: media.WallTime{Year: 2026, Month: 5, Day: 4, Hour: 21}}
		p.Exif.Capture.Offset, p.Exif.Capture.Local.Day, p.Exif.Capture.Local.Month = "", 28, 4
	})
	d.photograph("", "job", checklist.Handover, func(p *jobs.Photo) { p.Exif = media.Exif{Orientation: 1} })
	d.photograph("k7d2aa/P2.framing.photo_wide", "", "", func(p *jobs.Photo) { p.Media = d.rec.Photos[0].Media })
	return d
}

func TestPhotoPages(t *testing.T) {
	empty, full := newDeck(t), photoDeck(t)
	goldenPage(t, "photo_list.empty", must[views.PhotoListPage](t)(views.NewPhotoList(empty.frame(views.SheetPhotos, "Photographs"), empty.rec, views.PhotoQuery{})))
	goldenPage(t, "photo_list.typical", must[views.PhotoListPage](t)(views.NewPhotoList(full.frame(views.SheetPhotos, "Photographs"), full.rec, views.PhotoQuery{})))
	goldenPage(t, "photo_list.place", must[views.PhotoListPage](t)(views.NewPhotoList(full.frame(views.SheetPhotos, "Photographs"), full.rec, views.PhotoQuery{PhotoFilter: jobs.PhotoFilter{Stage: "framing", Place: "k7d2aa/P2"}})))

	covered := photoDeck(t)
	covered.rec.Take(jobs.Change{Covered: &jobs.Covered{RunID: "k7d2aa", On: "2026-05-02", At: covered.at, By: ada}})
	covered.rec.Job.Photo = checklist.PermitInFrame
	page := must[views.PhotoListPage](t)(views.NewPhotoList(covered.frame(views.SheetPhotos, "Photographs"), covered.rec, views.PhotoQuery{}))
	goldenPage(t, "photo_list.worst", page)
	for _, row := range page.Before {
		if strings.HasPrefix(row.Place, "R1") {
			t.Errorf("%s is covered and stands under what can still be photographed", row.Place)
		}
	}
	if len(page.Hidden) != 4 || page.Before[0].Place != "Job" {
		t.Errorf("%d places hidden and %s first, want 4 and the job", len(page.Hidden), page.Before[0].Place)
	}

	goldenPage(t, "photo_list.missing", must[views.PhotoListPage](t)(views.NewPhotoList(full.frame(views.SheetPhotos, "Photographs"), full.rec, views.PhotoQuery{Show: views.ShowMissing, PhotoFilter: jobs.PhotoFilter{Place: "k7d2aa/"}})))
	goldenPage(t, "photo_list.none", must[views.PhotoListPage](t)(views.NewPhotoList(full.frame(views.SheetPhotos, "Photographs"), full.rec, views.PhotoQuery{PhotoFilter: jobs.PhotoFilter{Text: `<b>"nothing"`, Flag: "far", Day: "2026-05-04"}})))

	run, _ := covered.rec.Run("k7d2aa")
	goldenPage(t, "photo_cover.open", must[views.PhotoCoverPage](t)(views.NewPhotoCover(full.frame(views.SheetPhotos, ""), full.rec, run)))
	covered.photograph("", "k7d2aa/P2", checklist.Handover, nil)
	goldenPage(t, "photo_cover.typical", must[views.PhotoCoverPage](t)(views.NewPhotoCover(covered.frame(views.SheetPhotos, ""), covered.rec, run)))

	tags := fullDeck(t)
	tags.rec.Job.ID = "h234h234h234"
	goldenPage(t, "photo_tags.typical", must[views.PhotoTagsPage](t)(views.NewPhotoTags(tags.frame(views.SheetPhotos, "Place tags"), tags.rec)))
	goldenPage(t, "photo_tags.empty", must[views.PhotoTagsPage](t)(views.NewPhotoTags(empty.frame(views.SheetPhotos, "Place tags"), empty.rec)))
	tagged := fullDeck(t)
	tagged.photograph("", "k7d2aa/P2", checklist.Framing, func(p *jobs.Photo) { p.Tags, p.FiledBy = []string{"NB1"}, jobs.FiledByTag })
	goldenPage(t, "photo_show.tagged", must[views.PhotoShowPage](t)(views.NewPhotoShow(tagged.frame(views.SheetPhotos, ""), tagged.rec, tagged.rec.Photos[len(tagged.rec.Photos)-1], views.PhotoQuery{}, fresh)))

	card := fullDeck(t)
	goldenPage(t, "photo_filing.empty", must[views.PhotoFilingPage](t)(views.NewPhotoFiling(card.frame(views.SheetPhotos, ""), card.rec, fresh)))
	for i := range 4 {
		card.photograph("", "job", "", func(p *jobs.Photo) {
			if i == 3 {
				p.Exif = media.Exif{Orientation: 1}
			}
		})
	}
	goldenPage(t, "photo_filing.typical", must[views.PhotoFilingPage](t)(views.NewPhotoFiling(card.frame(views.SheetPhotos, "File what came in"), card.rec, fresh)))
	names := views.BatchFields(card.rec.Photos[0].ID)
	goldenPage(t, "photo_filing.errors", must[views.PhotoFilingPage](t)(views.NewPhotoFiling(card.frame(views.SheetPhotos, "File what came in", fault(names.Photos, "Tick at least one photograph."), fault(names.Place, "Choose the run, post or bay that the photograph shows.")), card.rec,
		typed(false, views.FieldBatch, card.rec.Photos[0].ID, names.Place, "", names.Stage, "framing"))))
	goldenPage(t, "photo_filing.tagged", must[views.PhotoFilingPage](t)(views.NewPhotoFiling(tagged.frame(views.SheetPhotos, "File what came in"), tagged.rec, fresh)))
	goldenPage(t, "photo_list.tagged", must[views.PhotoListPage](t)(views.NewPhotoList(tagged.frame(views.SheetPhotos, "Photographs"), tagged.rec, views.PhotoQuery{PhotoFilter: jobs.PhotoFilter{Stage: "framing", Place: tagged.rec.Photos[len(tagged.rec.Photos)-1].Place.ID}})))

	show := func(n int, form views.Form, faults ...views.FieldError) views.PhotoShowPage {
		return must[views.PhotoShowPage](t)(views.NewPhotoShow(full.frame(views.SheetPhotos, "", faults...), full.rec, full.rec.Photos[n], views.PhotoQuery{}, form))
	}
	goldenPage(t, "photo_show.typical", show(0, fresh))
	goldenPage(t, "photo_show.worst", show(1, fresh))
	marked := full.rec.Photos[1]
	marked.Shows, marked.ReadingID = []string{"bolts", "tape in the frame"}, full.rec.Readings[0].ID
	marked.Marks = []media.Mark{{Kind: media.MarkMeasure, FromX: 125, FromY: 200, ToX: 125, ToY: 405, Text: `1 15/16"`}}
	goldenPage(t, "photo_show.marked", must[views.PhotoShowPage](t)(views.NewPhotoShow(full.frame(views.SheetPhotos, "", fault("mark-1-to_x", "Enter a number from 0 to 100, the percent of the picture from its upper left corner.")), full.rec, marked, views.PhotoQuery{},
		typed(false, "version", "1", "shows", "bolts", "mark-0", "measure", "mark-1", "arrow", "mark-1-to_x", "ten"))))
	goldenPage(t, "photo_show.bare", show(2, fresh))
	goldenPage(t, "photo_show.errors", show(1, typed(false, "check", "", "place", "", "stage", "", "caption", "Typed caption", "version", "1"),
		fault("place", "Choose the run, post or bay that the photograph shows."), fault("stage", "Choose the stage that the photograph belongs to.")))
	goldenPage(t, "photo_show.stale", show(1, typed(true, "check", "k7d2aa/P2.framing.photo_edges", "place", "k7d2aa/P3", "stage", "framing", "caption", "Mine"), fault("", "Photograph 2 was saved meanwhile.")))

	open := func(to views.PhotoTarget, form views.Form, outcomes []views.PhotoOutcome, faults ...views.FieldError) views.PhotoNewPage {
		return must[views.PhotoNewPage](t)(views.NewPhotoNew(full.frame(views.SheetPhotos, "File photographs", faults...), full.rec, to, form, "", outcomes, "form00000009"))
	}
	goldenPage(t, "photo_new.empty", open(views.PhotoTarget{}, fresh, nil))
	goldenPage(t, "photo_new.check", open(views.PhotoTarget{CheckID: "k7d2aa/P3.framing.photo_edges"}, fresh, nil))
	goldenPage(t, "photo_new.filed", open(views.PhotoTarget{CheckID: "k7d2aa/P1.framing.photo_wide"}, fresh, nil))
	goldenPage(t, "photo_new.errors", open(views.PhotoTarget{PlaceID: "k7d2aa/P2", Stage: "framing"}, typed(false, "place", "k7d2aa/P2", "stage", "framing", "caption", "Both bolts"), []views.PhotoOutcome{
		{Name: "one.jpg", Number: 5}, {Name: "two.jpg", Number: 6, HeldAs: 1}, {Name: "three.jpg", HeldAs: 2}, {Name: "notes.jpg", Refused: "This is a text file, not a photograph."},
	}, fault("photos", "notes.jpg: This is a text file, not a photograph.")))
	if _, err := views.NewPhotoNew(full.frame(views.SheetPhotos, ""), full.rec, views.PhotoTarget{CheckID: "k7d2aa/P9.framing.photo_edges"}, fresh, "", nil, ""); err != jobs.ErrNotFound {
		t.Errorf("NewPhotoNew of a check that is not there: %v, want ErrNotFound", err)
	}
}

// A slate names permit, site and place large enough for their length, and says in words where the job has no permit. What it is asked for and
// the job does not have is not found.
func TestPhotoSlate(t *testing.T) {
	d := fullDeck(t)
	slate := func(to views.PhotoTarget, back string) (views.PhotoSlatePage, error) {
		return views.NewPhotoSlate(d.frame(views.SheetPhotos, "Slate"), d.rec, to, d.at, back)
	}
	goldenPage(t, "photo_slate.check", must[views.PhotoSlatePage](t)(slate(views.PhotoTarget{CheckID: "k7d2aa/P2.framing.photo_wide"}, "/jobs/x")))
	goldenPage(t, "photo_slate.place", must[views.PhotoSlatePage](t)(slate(views.PhotoTarget{PlaceID: "k7d2aa/B1", Stage: "rails"}, "")))
	d.rec.Job.Permit, d.rec.Job.Site = "", "Rear deck of the upper flat, 1 Invented Quay, North Sampleton, Sample County"
	goldenPage(t, "photo_slate.no_permit", must[views.PhotoSlatePage](t)(slate(views.PhotoTarget{}, "")))
	for _, to := range []views.PhotoTarget{{CheckID: "k7d2aa/P9.framing.photo_wide"}, {PlaceID: "k7d2aa/P9"}} {
		if _, err := slate(to, ""); err != jobs.ErrNotFound {
			t.Errorf("slate of %v: %v, want ErrNotFound", to, err)
		}
	}
}

// A photograph stands beside the reading that was typed from it: large on the check's page, with its marks, and small in the list of a stage.
func TestJoinedPages(t *testing.T) {
	d := photoDeck(t)
	for i := range 2 {
		p := d.rec.Photos[i]
		p.ReadingID, p.Version = d.rec.Readings[0].ID, 2
		if i == 0 {
			p.Marks = []media.Mark{{Kind: media.MarkMeasure, FromX: 125, FromY: 200, ToX: 125, ToY: 405, Text: `2 1/4"`}}
		}
		d.rec.Take(jobs.Change{Photo: &p})
	}
	d.rec = d.rec.Clone()
	c, _ := d.sheet().Check("k7d2aa/P1.framing.bolt_upper")
	page := views.NewCheckShow(d.frame(views.SheetStages, "Check"), d.rec, d.sheet(), c, true, fresh, "form00000008")
	goldenPage(t, "check_show.joined", page)
	if len(page.Joined) != 2 || !strings.HasSuffix(page.Joined[0].Picture.URL, "/marked") || !strings.HasSuffix(page.Joined[1].Picture.URL, "/view") {
		t.Errorf("beside the reading stand %+v", page.Joined)
	}
	st, _ := d.sheet().Stage(checklist.Framing)
	stage := must[views.StageShowPage](t)(views.NewStageShow(d.frame(views.SheetStages, "Framing"), d.rec, st, fresh, nil, true))
	shots := 0
	for _, table := range stage.Done {
		for _, row := range table.Rows {
			if shot := row[1].Shot; shot != nil {
				shots++
				if want := "/jobs/deck00000000/photos/" + d.rec.Photos[0].ID; shot.URL != want || row[0].Text != "R1-P1" {
					t.Errorf("beside the reading of %s stands %s", row[0].Text, shot.URL)
				}
			}
		}
	}
	if shots != 1 {
		t.Errorf("%d readings of the stage stand beside a photograph, want one", shots)
	}
	goldenPage(t, "stage_show.joined", stage)
}

// Where the authority accepts no photographs a hold point asks once for the witness of all places on the page.
func TestWitnessPages(t *testing.T) {
	d := fullDeck(t)
	d.rec.Job.Photo = checklist.PhotosRefused
	d.rec = d.rec.Clone()
	asking := func(n int) []*jobs.CheckState {
		var out []*jobs.CheckState
		for i := range n {
			c, ok := d.sheet().Check("k7d2aa/P" + strconv.Itoa(i+1) + ".framing.photo_outside")
			if !ok {
				t.Fatal("no such check")
			}
			out = append(out, c)
		}
		return out
	}
	goldenPage(t, "stage_ask.witness", views.NewStageAsk(d.frame(views.SheetStages, "Ask"), d.rec, asking(1), fresh, "/jobs/x"))
	several := asking(2)
	goldenPage(t, "stage_ask.no_witness", views.NewStageAsk(d.frame(views.SheetStages, "Ask", fault(jobs.WitnessField, checklist.NoWitness)), d.rec, several, typed(false, views.FieldAll, "yes", views.FieldSeen+several[1].Check.ID, "no"), "/jobs/x"))
	d.read("k7d2aa/P1.framing.photo_outside", checklist.Answer{Seen: checklist.SeenYes, Witness: "Iris Sample, building office"})
	c, _ := d.sheet().Check("k7d2aa/P1.framing.photo_outside")
	goldenPage(t, "check_show.witness", views.NewCheckShow(d.frame(views.SheetStages, "Check"), d.rec, d.sheet(), c, true, fresh, "form00000008"))
	goldenPage(t, "photo_list.refused", must[views.PhotoListPage](t)(views.NewPhotoList(d.frame(views.SheetPhotos, "Photographs"), d.rec, views.PhotoQuery{})))
}

func TestDiaryPages(t *testing.T) {
	empty, d := newDeck(t), photoDeck(t)
	goldenPage(t, "diary_list.empty", views.NewDiaryList(empty.frame(views.SheetDiary, "Site diary"), empty.rec, "2026-05-04"))
	d.rec.Take(jobs.Change{Diary: &jobs.DiaryPage{Day: "2026-05-01", Weather: "Dry.", People: []jobs.DiaryHand{{Name: "Ben Sample", Hours: "7 1/2"}, {Name: "Jo Sample", Hours: "4"}}, Work: "Set out run R1.\nJoists marked.", FallProtection: "Barrier on the yard side.", By: ben, At: d.at, Version: 2}})
	goldenPage(t, "diary_list.typical", views.NewDiaryList(d.frame(views.SheetDiary, "Site diary"), d.rec, "2026-05-05"))

	page := func(day string, form views.Form, faults ...views.FieldError) views.DiaryDayPage {
		return must[views.DiaryDayPage](t)(views.NewDiaryDay(d.frame(views.SheetDiary, "Site diary", faults...), d.rec, day, "2026-05-05", form))
	}
	goldenPage(t, "diary_day.empty", page("2026-05-05", fresh))
	goldenPage(t, "diary_day.unwritten", page("2026-05-04", fresh))
	goldenPage(t, "diary_day.typical", page("2026-05-01", fresh))
	goldenPage(t, "diary_day.errors", page("2026-05-04", typed(false, "version", "0", "people", "Ben 8", "work", "Posts", "weather", ""), fault("people", "Enter one person a line with the hours after a comma.")))
	goldenPage(t, "diary_day.stale", page("2026-05-01", typed(true, "version", "1", "weather", "Wet", "people", "Ben Sample, 7 1/2\nJo Sample, 4", "work", "Set out run R1.", "fall_protection", ""), fault("", "Ben Sample saved the diary meanwhile.")))
}

func TestDeviationPages(t *testing.T) {
	empty, d := newDeck(t), fullDeck(t)
	goldenPage(t, "deviation_list.empty", must[views.DeviationListPage](t)(views.NewDeviationList(empty.frame(views.SheetDeviations, "Deviations"), empty.rec)))
	d.read("k7d2aa/P2.framing.bolt_upper", long("2 1/4"))
	for i, change := range []func(*jobs.Deviation){
		func(x *jobs.Deviation) {
			x.State, x.Reason, x.Name = jobs.DevReferred, "Whether a removable length may close this edge.", "Sampleton building office"
		},
		func(x *jobs.Deviation) {
			x.State, x.Reason, x.EndedWith = jobs.DevPutRight, "Put right and measured again.", d.rec.Readings[len(d.rec.Readings)-1].ID
		},
	} {
		x := d.rec.Deviations[i]
		x.Ended, x.EndedBy, x.Version = d.at.Add(time.Hour), ada, 2
		change(&x)
		d.rec.Take(jobs.Change{Deviation: &x})
	}
	d.deviation(jobs.Deviation{Kind: jobs.DevMissing, CheckID: "k7d2aa/P3.framing.photo_wide", Stage: checklist.Framing, State: jobs.DevOpen, Place: checklist.Place{ID: "k7d2aa", Label: "R1"},
		What: "The stage framing was closed over something missing", Missing: []string{"R1-P3 Photograph: the post in its place: no photograph."}})
	d.rec = d.rec.Clone()
	goldenPage(t, "deviation_list.typical", must[views.DeviationListPage](t)(views.NewDeviationList(d.frame(views.SheetDeviations, "Deviations"), d.rec)))

	page := func(n int, form views.Form, builder bool, faults ...views.FieldError) views.DeviationShowPage {
		return must[views.DeviationShowPage](t)(views.NewDeviationShow(d.frame(views.SheetDeviations, "", faults...), d.rec, d.rec.Deviations[n], form, builder))
	}
	goldenPage(t, "deviation_show.referred", page(0, fresh, true))
	goldenPage(t, "deviation_show.put_right", page(1, fresh, true))
	goldenPage(t, "deviation_show.typical", page(2, fresh, true))
	goldenPage(t, "deviation_show.crew", page(2, fresh, false))
	goldenPage(t, "deviation_show.missing", page(len(d.rec.Deviations)-1, fresh, true))
	goldenPage(t, "deviation_show.errors", page(2, typed(false, "version", "1", "state", "accepted", "name", "", "reason", "Seen on site"), true, fault("name", "Enter who accepted it, or whom it was referred to.")))
	goldenPage(t, "deviation_show.stale", page(1, typed(true, "version", "1", "state", "accepted", "name", "Olive Sample", "reason", "Seen on site"), true, fault("", "Ada Sample saved deviation D2 meanwhile.")))

	goldenPage(t, "deviation_new.empty", views.NewDeviationNew(d.frame(views.SheetDeviations, "Open a deviation"), d.rec, "k7d2aa/P1", "framing", fresh))
	goldenPage(t, "deviation_new.errors", views.NewDeviationNew(d.frame(views.SheetDeviations, "Open a deviation", fault("what", "Enter what is not as it should be, in one sentence."), fault("stage", "Choose the stage.")), d.rec, "", "", typed(false, "what", "", "place", "k7d2aa", "stage", "")))
}

// packDeck is the photo deck with a pack, links in every state, and answers.
func packDeck(t *testing.T) *deck {
	t.Helper()
	d := photoDeck(t)
	for n := 1; n <= 2; n++ {
		d.rec.Take(jobs.Change{Pack: &jobs.IssuedPack{Number: n, Issued: d.at.AddDate(0, 0, n), By: ada, Purpose: []string{"framing inspection", "handover"}[n-1], Editions: [][]string{nil, {jobs.EditionOwner, jobs.EditionInspector, jobs.EditionFraming}}[n-1], Hash: strings.Repeat("ab", 31) + "0" + string(rune('0'+n)), RecordHash: strings.Repeat("cd", 32),
			HeadSeq: 40 * n, HeadHash: strings.Repeat("ef", 32), Originals: n == 2, NoPositions: n == 1, Open: []string{"The stage posts is not closed: 0 of 12 checks answered.", "R1 is not marked as covered."}}})
	}
	revoked := d.at.AddDate(0, 0, 2)
	for _, l := range []jobs.Link{
		{ID: "linka", For: jobs.RoleInspector, Name: "Iris Sample", Pack: 1, Expires: d.at.AddDate(0, 0, 90)},
		{ID: "linkb", For: jobs.RoleOwner, Name: "Olive Sample", Pack: 1, Expires: d.at.AddDate(0, 0, 2)},
		{ID: "linkc", For: jobs.RoleOwner, Name: "Olive Sample", Pack: 2, Expires: d.at.AddDate(0, 0, 90), Revoked: &revoked},
	} {
		l.Made, l.MadeBy = d.at.AddDate(0, 0, 1), ada
		d.rec.Take(jobs.Change{Link: &l})
	}
	for _, a := range []jobs.Answer{
		{ID: "answera", LinkID: "linka", From: jobs.RoleInspector, Kind: jobs.AnswerOutcome, Outcome: jobs.OutcomeCorrect, Stage: checklist.Framing, Text: "Move the upper bolt down.", Place: "R1-P2", Name: "Iris Sample", Office: "Sampleton building office", On: "2026-05-05"},
		{ID: "answerb", LinkID: "linka", From: jobs.RoleInspector, Kind: jobs.AnswerOutcome, Outcome: jobs.OutcomeAccepted, Stage: checklist.Framing, Name: "Iris Sample", On: "2026-05-06"},
		{ID: "answerc", LinkID: "linkb", From: jobs.RoleOwner, Kind: jobs.AnswerDecline, Text: "The gate sticks.", Name: "Olive Sample"},
		{ID: "answerd", LinkID: "linkb", From: jobs.RoleOwner, Kind: jobs.AnswerAccept, Name: "Olive Sample", Signature: "100,200 180,90 260,210;300,150"},
		{ID: "answere", LinkID: "linkb", From: jobs.RoleOwner, Kind: jobs.AnswerRemark, Text: "Thank you.", Name: "Olive Sample"},
		{ID: "answerf", LinkID: "linka", From: jobs.RoleInspector, Kind: jobs.AnswerOutcome, Outcome: jobs.OutcomeNotInspected, Name: "Iris Sample", On: "2026-05-06"},
	} {
		a.Pack, a.PackHash, a.At = 1, d.rec.Packs[0].Hash, d.at.AddDate(0, 0, 1)
		d.rec.Take(jobs.Change{Answer: &a})
	}
	d.rec = d.rec.Clone()
	return d
}

func TestPackPages(t *testing.T) {
	empty, d := newDeck(t), packDeck(t)
	forms := views.PackForms{Issue: fresh, Link: views.Form{ID: "form00000002"}}
	now := d.at.AddDate(0, 0, 10)
	page := func(d *deck, forms views.PackForms, builder, public bool, faults ...views.FieldError) views.PackListPage {
		return must[views.PackListPage](t)(views.NewPackList(d.frame(views.SheetPack, "Packs", faults...), d.rec, forms, builder, public, now))
	}
	goldenPage(t, "pack_list.empty", page(empty, forms, true, true))
	goldenPage(t, "pack_list.typical", page(d, forms, true, true))
	goldenPage(t, "pack_list.private", page(d, forms, true, false))
	crew := page(d, forms, false, true)
	goldenPage(t, "pack_list.crew", crew)
	for _, card := range crew.Packs {
		for _, l := range card.Links {
			if l.RevokeURL != "" {
				t.Errorf("crew are offered %s", l.RevokeURL)
			}
		}
	}
	goldenPage(t, "pack_list.errors", page(d, views.PackForms{Issue: fresh, Link: typed(false, "pack", "1", "for", "", "name", "Olive Sample", "days", "x")}, true, true, fault("for", "Choose whether the link is for the owner or the inspector."), fault("days", "Enter for how many days the link stays open, from 1 to 730.")))
	goldenPage(t, "link_show", views.NewLinkShow(d.frame(views.SheetPack, "A new link"), d.rec, d.rec.Links[0], "https://record.example/g/notARealTokenButAsLongAsOne000000000000000000"))
}

func TestGuestPages(t *testing.T) {
	d := packDeck(t)
	x := must[jobs.Export](t)(d.rec.Export(nil, ada, jobs.ExportInput{Purpose: "framing inspection"}, d.at))
	owner := jobs.Guest{Record: d.rec, Link: d.rec.Links[1], Pack: d.rec.Packs[0]}
	inspector := jobs.Guest{Record: d.rec, Link: d.rec.Links[0], Pack: d.rec.Packs[0]}
	last := jobs.Guest{Record: d.rec, Link: d.rec.Links[2], Pack: d.rec.Packs[1]}
	goldenPage(t, "guest_show.owner", views.NewGuestShow(owner, "token", views.NewFrozen(x), "", fresh, nil))
	goldenPage(t, "guest_show.inspector", views.NewGuestShow(inspector, "token", views.NewFrozen(x), "R1-B1", fresh, nil))
	goldenPage(t, "guest_show.empty", views.NewGuestShow(last, "token", views.NewFrozen(must[jobs.Export](t)(newDeck(t).rec.Export(nil, ada, jobs.ExportInput{}, d.at))), "", fresh, nil))
	goldenPage(t, "guest_show.errors", views.NewGuestShow(inspector, "token", views.NewFrozen(x), "", typed(false, "kind", "outcome", "outcome", "", "stage", "framing", "on", "yesterday", "text", "Kept", "name", "", "office", "Kept too", "place", ""),
		[]views.FieldError{fault("outcome", "Choose the outcome."), fault("on", "Enter the date of the inspection as 2026-05-04, not later than today."), fault("name", "Enter your name: it is kept with your answer.")}))
	goldenPage(t, "guest_receipt.inspector", views.NewGuestReceipt(inspector, "token", d.rec.Answers[0]))
	goldenPage(t, "guest_receipt.owner", views.NewGuestReceipt(owner, "token", d.rec.Answers[3]))
	goldenPage(t, "guest_closed.expired", views.NewGuestClosed(owner, "token"))
	goldenPage(t, "guest_closed.revoked", views.NewGuestClosed(last, "token"))
}

// chain writes the events that a record of one change each would have.
func chain(t *testing.T, d *deck, changes ...jobs.Change) []jobs.Event {
	t.Helper()
	var events []jobs.Event
	var head jobs.Head
	for i, c := range changes {
		payload, err := json.Marshal(c)
		if err != nil {
			t.Fatal(err)
		}
		kind := "changed"
		switch {
		case c.Photo != nil && c.Photo.Version == 1:
			kind = jobs.EvPhotoAdded
		case c.Job != nil && i == 0:
			kind = jobs.EvJobMade
		case c.Deviation != nil && c.Deviation.Version == 1:
			kind = jobs.EvDeviationOpened
		}
		e := jobs.Event{JobID: d.rec.Job.ID, At: d.at.Add(time.Duration(i) * time.Minute), Offset: "-05:00", Actor: ben, Type: kind, Salt: "00", Payload: string(payload)}.Seal(head)
		head = e.Head()
		events = append(events, e)
	}
	d.rec.Head = head
	return events
}

func TestRecordPage(t *testing.T) {
	d := packDeck(t)
	rec := d.rec
	retired := rec.Runs[2]
	retired.Retired = true
	layoutOf, _ := rec.Layout("k7d2aa")
	refiled, ended := rec.Photos[1], rec.Deviations[1]
	refiled.Version, ended.Version, ended.State, ended.Name, ended.Reason = 2, 2, jobs.DevAccepted, "Olive Sample", "Seen on site"
	changes := []jobs.Change{
		{Job: &rec.Job}, {Job: &rec.Job}, {Run: &rec.Runs[0]}, {Run: &retired}, {Layout: &layoutOf}, {Reading: &rec.Readings[1]}, {Photo: &rec.Photos[0]}, {Photo: &refiled},
		{Deviation: &rec.Deviations[1]}, {Deviation: &ended}, {Stage: &jobs.StageState{Stage: checklist.Framing, Closed: true}}, {Stage: &jobs.StageState{Stage: checklist.Framing, Closed: true, Deviations: []string{"a", "b"}}},
		{Stage: &jobs.StageState{Stage: checklist.PostTops, Reason: "A cap was changed"}}, {Covered: &jobs.Covered{RunID: "k7d2aa", On: "2026-05-06"}}, {Diary: &jobs.DiaryPage{Day: "2026-05-01"}}, {Pack: &rec.Packs[0]},
		{Link: &rec.Links[0]}, {Link: &rec.Links[2]}, {Answer: &rec.Answers[0]},
	}
	events := chain(t, d, changes...)
	goldenPage(t, "record_show.typical", must[views.RecordShowPage](t)(views.NewRecordShow(d.frame(views.SheetJob, "Record"), d.rec, events, 0)))

	changed := append([]jobs.Event(nil), events...)
	changed[5].Payload = strings.Replace(changed[5].Payload, "1", "2", 1)
	changed[16].Payload = ""
	goldenPage(t, "record_show.worst", must[views.RecordShowPage](t)(views.NewRecordShow(d.frame(views.SheetJob, "Record"), d.rec, changed, 0)))

	var many []jobs.Change
	for range 120 {
		many = append(many, jobs.Change{Job: &rec.Job})
	}
	events = chain(t, d, many...)
	for _, c := range []struct {
		from, first, last int
		older, newer      string
	}{
		{0, 120, 71, "from=70", ""}, {70, 70, 21, "from=20", "from=120"}, {20, 20, 1, "", "from=70"}, {120, 120, 71, "from=70", ""},
	} {
		p := must[views.RecordShowPage](t)(views.NewRecordShow(d.frame(views.SheetJob, "Record"), d.rec, events, c.from))
		if p.Events[0].Seq != c.first || p.Events[len(p.Events)-1].Seq != c.last || !strings.HasSuffix(p.Older, c.older) || !strings.HasSuffix(p.Newer, c.newer) || (c.older == "") != (p.Older == "") || (c.newer == "") != (p.Newer == "") {
			t.Errorf("from %d: events %d to %d, older %q, newer %q; want %d to %d, %q, %q", c.from, p.Events[0].Seq, p.Events[len(p.Events)-1].Seq, p.Older, p.Newer, c.first, c.last, c.older, c.newer)
		}
	}
}
