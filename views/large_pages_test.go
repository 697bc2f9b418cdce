package views_test

import (
	"fmt"
	"testing"

	"newelbook/checklist"
	"newelbook/checklist/layout"
	"newelbook/jobs"
	"newelbook/media"
	"newelbook/views"
)

// mostReviewed is the largest golden page that somebody still reads through, in bytes.
const mostReviewed = 120_000

// largePage is a golden page of a job that is larger than most.
func largePage(t *testing.T, name string, page any) {
	t.Helper()
	if n := len(goldenPage(t, name, page)); n > mostReviewed {
		t.Errorf("%s is %d bytes, more than the %d that can be reviewed", name, n, mostReviewed)
	}
}

// manyRuns is the full deck with level runs until it has so many: every fifth decked over, every tenth of another kind.
func manyRuns(t *testing.T, n int) *deck {
	t.Helper()
	d := fullDeck(t)
	for i := len(d.rec.Runs) + 1; i <= n; i++ {
		id, label := fmt.Sprintf("run%03d", i), fmt.Sprintf("R%d", i)
		switch i % 10 {
		case 4:
			d.run(id, label, layout.Rake, map[string]string{"start": "stair head", "total_rise": "35", "tread": "10 1/4", "deck_height": "35"})
		case 9:
			d.run(id, label, layout.Removable, map[string]string{"clear_opening": "40", "deck_height": "35", "removable_why": "The tank behind it is changed every few years"})
		default:
			d.run(id, label, layout.Level, map[string]string{"length": fmt.Sprintf("%d 3/8", 96+7*i), "deck_height": "35", "joists": "along"})
		}
		if i%5 == 0 {
			d.rec.Take(jobs.Change{Covered: &jobs.Covered{RunID: id, On: "2026-05-03", At: d.at, By: ben}})
		}
	}
	return d
}

// TestLargeJob holds the page of a job of fifty runs.
func TestLargeJob(t *testing.T) {
	d := manyRuns(t, 50)
	page := must[views.JobShowPage](t)(views.NewJobShow(d.frame(views.SheetJob, "Job"), d.rec, true))
	largePage(t, "job_show.large", page)
}

// TestLargeStage holds the page of a stage with six runs, one question of it read at every post, good, off and failing by turns.
func TestLargeStage(t *testing.T) {
	d := manyRuns(t, 6)
	texts := []string{"2", "2 1/8", "1 7/8", "2 1/4", "2 1/2"}
	var taken []string
	for _, c := range d.stage(checklist.Framing).Checks {
		if c.Check.Key == "framing.bolt_upper" && c.Current == nil {
			taken = append(taken, d.read(c.Check.ID, long(texts[len(taken)%len(texts)])))
		}
	}
	page := must[views.StageShowPage](t)(views.NewStageShow(d.frame(views.SheetStages, "Framing"), d.rec, d.stage(checklist.Framing), fresh, taken, true))
	largePage(t, "stage_show.large", page)
}

// TestLargeWall holds the wall of sixty photographs: filed to checks of two runs, some without a time, with a long caption, or
// held before.
func TestLargeWall(t *testing.T) {
	d := manyRuns(t, 5)
	var checks []string
	for _, c := range d.stage(checklist.Framing).Checks {
		if c.Check.Ask == checklist.AskPhoto && c.Current == nil {
			checks = append(checks, c.Check.ID)
		}
	}
	for i := range 60 {
		d.photograph(checks[i%len(checks)], "", "", func(p *jobs.Photo) {
			switch i % 12 {
			case 3:
				p.Exif = media.Exif{Orientation: 1}
			case 7:
				p.Caption = "Both bolts through the rim and the block behind it, washers on, before the second block went in on the far side of the post"
			case 11:
				p.Media = d.rec.Photos[0].Media
			}
		})
	}
	d.photograph("", "k7d2aa", checklist.Handover, nil)
	later := must[views.PhotoListPage](t)(views.NewPhotoList(d.frame(views.SheetPhotos, "Photographs"), d.rec, views.PhotoQuery{Page: 99}))
	if len(later.Groups) != 1 || len(later.Groups[0].Photos) != 1 || later.Later != "" || later.Earlier == "" || len(later.Before) > 0 || later.Range != "61 to 61 of 61 photographs" {
		t.Errorf("the last page of 61 photographs: %d groups, %q, earlier %q, later %q", len(later.Groups), later.Range, later.Earlier, later.Later)
	}
	largePage(t, "photo_list.large", must[views.PhotoListPage](t)(views.NewPhotoList(d.frame(views.SheetPhotos, "Photographs"), d.rec, views.PhotoQuery{})))
}
