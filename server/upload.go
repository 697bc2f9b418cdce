package server

import (
	"context"
	"errors"
	"fmt"
	"net/http"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/media"
	"newelbook/views"
)

func (s *server) newPhotos(c *gin.Context) error {
	return s.showForm(c, func(c *gin.Context, form views.Form, faults []views.FieldError) (any, error) {
		to := views.PhotoTarget{CheckID: c.Query("check"), PlaceID: c.Query("place"), Stage: c.Query("stage")}
		return s.photosPage(c, to, form, faults, local(c.Query("back"), ""), nil)
	})
}

func (s *server) photosPage(c *gin.Context, to views.PhotoTarget, form views.Form, faults []views.FieldError, back string, outcomes []views.PhotoOutcome) (any, error) {
	rec, frame, err := s.jobForm(c, views.SheetPhotos, "File photographs", faults)
	if err != nil {
		return nil, err
	}
	return views.NewPhotoNew(frame, rec, to, form, back, outcomes, jobs.NewID())
}

// addPhotos takes photographs in as they arrive, one after the other, and files those that are pictures. What is refused is told
// file by file; the others are kept.
func (s *server) addPhotos(c *gin.Context) error {
	ctx := c.Request.Context()
	rec, err := s.record(c)
	if err != nil {
		return err
	}
	up, err := s.readUpload(c, func(f form) error {
		to := target(f)
		return rec.FilingOf(photoInput(to))
	})
	to := target(up.form)
	again := func(err error) error {
		return s.again(c, up.form, err, func(form views.Form, faults []views.FieldError) (any, error) {
			for i := range faults {
				if faults[i].Field == "check" { // the page for it is gone with it
					to.CheckID = ""
					faults[i] = views.FieldError{Message: "The check that this is for is no longer on the layout, and nothing was taken in: choose a place and a stage below, or pick the check that took its place from the stage."}
				}
			}
			return s.photosPage(c, to, form, faults, "", nil)
		})
	}
	if err != nil {
		return again(err)
	}
	if len(up.files) == 0 {
		return again(&jobs.InvalidError{Fields: []jobs.FieldError{{Field: photosField, Message: "Choose at least one photograph."}}})
	}
	outcomes, added, err := s.fileUpload(ctx, s.account(c).Actor(), rec, up, to)
	if err != nil {
		return again(err)
	}
	var faults []views.FieldError
	status := http.StatusOK
	for i, f := range up.files {
		if f.err == nil {
			continue
		}
		if len(faults) == 0 {
			status = answerTo(f.err).status
		}
		faults = append(faults, views.FieldError{Field: photosField, Message: f.name + ": " + outcomes[i].Refused})
	}
	if len(faults) == 0 && c.GetHeader("Accept") == jsonType {
		c.JSON(http.StatusOK, s.uploaded(rec.Job.ID, added))
		return nil
	}
	if len(faults) == 0 {
		return s.done(c, local(up.form.text("back"), views.PhotosURL(rec.Job.ID, "", photoInput(to).PlaceID)), filedSentence(outcomes, to.PlaceID == views.PlaceByTag))
	}
	page, err := s.photosPage(c, to, views.Form{ID: jobs.NewID(), Typed: views.Typed(up.form.values)}, faults, "", outcomes)
	if err != nil {
		return err
	}
	return s.show(c, status, page)
}

// photoInput is what a form asks to be filed, without the file: by its tag, where that was chosen.
func photoInput(to views.PhotoTarget) jobs.PhotoInput {
	if to.PlaceID == views.PlaceByTag && to.CheckID == "" {
		return jobs.PhotoInput{Unfiled: true, Stage: to.Stage}
	}
	return jobs.PhotoInput{PlaceID: to.PlaceID, Stage: to.Stage, CheckID: to.CheckID}
}

// target is where a form files photographs to.
func target(f form) views.PhotoTarget {
	return views.PhotoTarget{CheckID: f.text("check"), PlaceID: f.text("place"), Stage: f.text("stage")}
}

// fileUpload puts what was taken in into the record, and says of each file what came of it. A form of photographs is known by its
// id and its files together, so that going back and choosing others is no second sending of the first.
func (s *server) fileUpload(ctx context.Context, who jobs.Actor, rec *jobs.Record, up upload, to views.PhotoTarget) ([]views.PhotoOutcome, []jobs.Photo, error) {
	outcomes := make([]views.PhotoOutcome, len(up.files))
	var inputs []jobs.PhotoInput
	var of []int // which outcome each input is of
	var hashes []string
	for i, f := range up.files {
		outcomes[i] = views.PhotoOutcome{Name: f.name}
		if f.err != nil {
			outcomes[i].Refused = refusalSentence(f.err)
			continue
		}
		of, hashes = append(of, i), append(hashes, f.facts.ID.String())
		in := photoInput(to)
		in.Facts, in.Supplied, in.Name, in.Caption = f.facts, f.view, f.name, up.form.text("caption")
		inputs = append(inputs, in)
	}
	if len(inputs) == 0 {
		return outcomes, nil, nil
	}
	by := jobs.By{Actor: who}
	if id := up.form.text("form_id"); formIDPattern.MatchString(id) {
		by.Body = up.form.digest(append(hashes, rec.Job.ID)...)
		by.Form = id + "-" + by.Body[:16]
	}
	added, err := s.Service.AddPhotos(ctx, by, rec.Job.ID, inputs)
	if err != nil {
		return nil, nil, err
	}
	now, err := s.Service.Record(ctx, rec.Job.ID)
	if err != nil {
		return nil, nil, err
	}
	var photos []jobs.Photo
	for k, a := range added {
		p, _ := now.Photo(a.ID)
		shown, _, _ := p.Shown()
		s.Media.Later(shown, s.derived(rec.Job.ID, p.ID))
		photos = append(photos, p)
		if a.There {
			outcomes[of[k]].HeldAs = p.Number
		} else {
			outcomes[of[k]].Number, outcomes[of[k]].HeldAs = p.Number, heldAs(now, p)
		}
	}
	return outcomes, photos, nil
}

// jsonType is what the pages' script asks for when it sends photographs: it has no use for a page.
const jsonType = "application/json"

// uploadedPhoto tells the script of one photograph that is on the server now.
type uploadedPhoto struct {
	Number int    `json:"number"`
	URL    string `json:"url"`
	Thumb  string `json:"thumb"`
	SHA256 string `json:"sha256"`
}

func (s *server) uploaded(jobID string, photos []jobs.Photo) []uploadedPhoto {
	out := []uploadedPhoto{}
	for _, p := range photos {
		out = append(out, uploadedPhoto{p.Number, views.PhotoURL(jobID, p.ID), views.PhotoURL(jobID, p.ID, "thumb"), p.Media.String()})
	}
	return out
}

// derived is called when a photograph's pictures are made in the background: it has its tags read. It logs what was wrong; that an
// original is damaged its pages say. What is not read now is read when the server starts again.
func (s *server) derived(jobID, photoID string) func(error) {
	return func(err error) {
		if err == nil {
			err = s.Service.ReadTags(context.Background(), s.Media, jobID, photoID)
		}
		var refusal *media.Refusal
		if err != nil && !errors.As(err, &refusal) && !errors.Is(err, context.Canceled) {
			s.Log.Error("derived pictures were not made or tags not read; both are done again when they are wanted", "error", err)
		}
	}
}

// heldAs is the number of the first photograph with the same original, 0 where p is the first.
func heldAs(rec *jobs.Record, p jobs.Photo) int {
	for _, other := range rec.Photos {
		if other.Media == p.Media && other.Number < p.Number {
			return other.Number
		}
	}
	return 0
}

// refusalSentence says to the sender why a file was not taken.
func refusalSentence(err error) string {
	var refusal *media.Refusal
	switch {
	case errors.As(err, &refusal):
		return refusal.Sentence()
	case errors.Is(err, media.ErrStorageFull):
		return "There is no room left on the server. Keep it where it is, and tell the builder."
	}
	return fmt.Sprintf("It did not arrive whole: all of them together were more than %d MB. Send it again with fewer others.", uploadBytes/1_000_000)
}

// filedSentence says what came of an upload of which nothing was refused.
func filedSentence(outcomes []views.PhotoOutcome, byTag bool) string {
	filed := 0
	for _, o := range outcomes {
		if o.Number > 0 {
			filed++
		}
	}
	before := len(outcomes) - filed
	switch {
	case filed > 0 && byTag:
		return fmt.Sprintf("On the server: %d. Each is filed as soon as its tag is read; what shows none waits to be filed.", filed)
	case filed == 0:
		return fmt.Sprintf("Nothing was added: %d of these originals were filed here already.", before)
	case before > 0:
		return fmt.Sprintf("On the server and filed: %d. Filed here already: %d.", filed, before)
	case filed == 1:
		return "The photograph is on the server and filed."
	}
	return fmt.Sprintf("%d photographs are on the server and filed.", filed)
}
