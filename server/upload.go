package server

import (
	"context"
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"strings"
	"unicode"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/media"
	"newelbook/views"
)

// uploadBytes is the longest body of a form with photographs, all of them together.
const uploadBytes = 600_000_000

// photosField is the name of the file field. The form's other fields stand before it, so that they are known when a file
// comes.
const photosField = "photos"

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

// upload is one form with photographs, as far as it was read.
type upload struct {
	form  form
	files []received
}

// received is one file of an upload: what media found in it, or why it was not taken.
type received struct {
	name  string
	facts media.Photo
	err   error
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
		return rec.Filing(to.PlaceID, to.Stage, to.CheckID)
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
	outcomes, err := s.fileUpload(ctx, s.account(c).Actor(), rec, up, to)
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
	if len(faults) == 0 {
		return s.done(c, local(up.form.text("back"), views.PhotosURL(rec.Job.ID, "", to.PlaceID)), filedSentence(outcomes))
	}
	page, err := s.photosPage(c, to, views.Form{ID: jobs.NewID(), Typed: views.Typed(up.form.values)}, faults, "", outcomes)
	if err != nil {
		return err
	}
	return s.show(c, status, page)
}

// target is where a form files photographs to.
func target(f form) views.PhotoTarget {
	return views.PhotoTarget{CheckID: f.text("check"), PlaceID: f.text("place"), Stage: f.text("stage")}
}

// readUpload reads a multipart body part by part and takes each file in while it arrives. ready looks at the fields before the
// first of them: where it refuses, no file is taken in. It stops where the body ends, is longer than the route takes, or
// nothing more can be stored.
func (s *server) readUpload(c *gin.Context, ready func(form) error) (upload, error) {
	if err := unhurried(c); err != nil {
		return upload{}, err
	}
	parts, err := c.Request.MultipartReader()
	if err != nil {
		return upload{}, fmt.Errorf("%w: %w", errForm, err)
	}
	up := upload{form: form{values: url.Values{}}}
	left := int64(formBytes)
	for {
		part, err := parts.NextPart()
		switch {
		case errors.Is(err, io.EOF):
			return up, nil
		case err != nil && len(up.files) > 0 && isLong(err):
			up.files = append(up.files, received{name: "The rest", err: err})
			return up, nil
		case err != nil:
			return up, uploadError(err)
		}
		if part.FileName() == "" {
			n, err := up.field(part, left)
			if err != nil {
				return up, uploadError(err)
			}
			left -= n
			continue
		}
		if len(up.files) == 0 {
			if err := ready(up.form); err != nil {
				_, cut := io.Copy(io.Discard, c.Request.Body) // a browser reads the answer when it has sent everything
				return up, errors.Join(err, cut)
			}
		}
		if more, err := s.receive(c.Request.Context(), &up, part); !more {
			return up, err
		}
	}
}

// uploadError tells a body that is too long from one that cannot be read.
func uploadError(err error) error {
	if isLong(err) || errors.Is(err, errTooLarge) {
		return fmt.Errorf("%w: %w", errTooLarge, err)
	}
	return fmt.Errorf("%w: %w", errForm, err)
}

// isLong says whether a body was longer than its route takes.
func isLong(err error) bool {
	var long *http.MaxBytesError
	return errors.As(err, &long)
}

// field reads a part without a file. left is how many bytes all of them may still have.
func (u *upload) field(part *multipart.Part, left int64) (int64, error) {
	body, err := io.ReadAll(io.LimitReader(part, left+1))
	if err != nil {
		return 0, err
	}
	if int64(len(body)) > left || len(u.form.values) >= formFields {
		return 0, errTooLarge
	}
	if notText(string(body)) {
		return 0, errForm
	}
	if name := part.FormName(); name != "" && name != photosField {
		u.form.values.Add(name, string(body))
	}
	return int64(len(body)), nil
}

// receive takes one file in. It says whether the body can be read on.
func (s *server) receive(ctx context.Context, up *upload, part *multipart.Part) (more bool, err error) {
	if len(up.files) >= formFields {
		return false, fmt.Errorf("%w: more than %d files", errTooLarge, formFields)
	}
	f := received{name: plainFileName(part.FileName())}
	f.facts, f.err = s.Media.Intake(ctx, part)
	var refusal *media.Refusal
	switch {
	case f.err == nil, errors.As(f.err, &refusal):
		up.files = append(up.files, f)
		return true, nil
	case isLong(f.err):
		up.files = append(up.files, f)
		return false, nil
	case errors.Is(f.err, media.ErrStorageFull):
		s.Log.Error("no room for photographs", "id", requestID(ctx), "error", f.err)
		up.files = append(up.files, f)
		return false, nil
	case errors.Is(f.err, io.ErrUnexpectedEOF):
		return false, fmt.Errorf("%w: the connection broke within %s: %w", errForm, f.name, f.err)
	}
	return false, fmt.Errorf("take %s in: %w", f.name, f.err)
}

// plainFileName is the name of a file as uploaded, fit to be shown and kept: a hint for people, nothing more.
func plainFileName(name string) string {
	name = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == unicode.ReplacementChar {
			return -1
		}
		return r
	}, strings.ToValidUTF8(name, ""))
	if r := []rune(name); len(r) > 200 {
		name = string(r[:200])
	}
	return name
}

// fileUpload puts what was taken in into the record, and says of each file what came of it. The same original at the same
// place is not filed twice. A form of photographs is known by its id and its files together, so that going back and choosing
// others is no second sending of the first.
func (s *server) fileUpload(ctx context.Context, who jobs.Actor, rec *jobs.Record, up upload, to views.PhotoTarget) ([]views.PhotoOutcome, error) {
	outcomes := make([]views.PhotoOutcome, len(up.files))
	first := map[media.ID]int{} // where an original stands among those to be filed
	var inputs []jobs.PhotoInput
	var hashes []string
	for i, f := range up.files {
		outcomes[i] = views.PhotoOutcome{Name: f.name}
		if f.err != nil {
			outcomes[i].Refused = refusalSentence(f.err)
			continue
		}
		if outcomes[i].HeldAs = filedAs(rec, f.facts.ID, to); outcomes[i].HeldAs > 0 {
			continue
		}
		if _, twice := first[f.facts.ID]; !twice {
			first[f.facts.ID] = len(inputs)
			hashes = append(hashes, f.facts.ID.String())
			inputs = append(inputs, jobs.PhotoInput{Facts: f.facts, Name: f.name, PlaceID: to.PlaceID, Stage: to.Stage, CheckID: to.CheckID, Caption: up.form.text("caption")})
		}
	}
	if len(inputs) == 0 {
		return outcomes, nil
	}
	by := jobs.By{Actor: who}
	if id := up.form.text("form_id"); formIDPattern.MatchString(id) {
		by.Body = up.form.digest(append(hashes, rec.Job.ID)...)
		by.Form = id + "-" + by.Body[:16]
	}
	ids, err := s.Service.AddPhotos(ctx, by, rec.Job.ID, inputs)
	if err != nil {
		return nil, err
	}
	for _, in := range inputs {
		s.Media.Later(in.Facts.ID, s.derived)
	}
	now, err := s.Service.Record(ctx, rec.Job.ID)
	if err != nil {
		return nil, err
	}
	told := map[media.ID]bool{}
	for i, f := range up.files {
		k, filed := first[f.facts.ID]
		if f.err != nil || !filed {
			continue
		}
		p, _ := now.Photo(ids[k])
		if told[p.Media] {
			outcomes[i].HeldAs = p.Number
			continue
		}
		told[p.Media] = true
		outcomes[i].Number, outcomes[i].HeldAs = p.Number, heldAs(now, p)
	}
	return outcomes, nil
}

// derived logs what was wrong with making pictures in the background. That an original is damaged its pages say.
func (s *server) derived(err error) {
	var refusal *media.Refusal
	if err != nil && !errors.As(err, &refusal) && !errors.Is(err, context.Canceled) {
		s.Log.Error("derived pictures were not made; they are made again when they are asked for", "error", err)
	}
}

// filedAs is the number of the photograph by which an original is filed to a target already, 0 for none.
func filedAs(rec *jobs.Record, id media.ID, to views.PhotoTarget) int {
	for _, p := range rec.Photos {
		same := p.CheckID == to.CheckID
		if to.CheckID == "" {
			same = same && p.Place.ID == to.PlaceID && string(p.Stage) == to.Stage
		}
		if p.Media == id && same {
			return p.Number
		}
	}
	return 0
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
func filedSentence(outcomes []views.PhotoOutcome) string {
	filed := 0
	for _, o := range outcomes {
		if o.Number > 0 {
			filed++
		}
	}
	before := len(outcomes) - filed
	switch {
	case filed == 0:
		return fmt.Sprintf("Nothing was added: %d of these originals were filed here already.", before)
	case before > 0:
		return fmt.Sprintf("On the server and filed: %d. Filed here already: %d.", filed, before)
	case filed == 1:
		return "The photograph is on the server and filed."
	}
	return fmt.Sprintf("%d photographs are on the server and filed.", filed)
}
