package server

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/media"
	"newelbook/views"
)

func (s *server) listPhotos(c *gin.Context) error {
	rec, frame, err := s.jobForm(c, views.SheetPhotos, "Photographs", nil)
	if err != nil {
		return err
	}
	page, err := views.NewPhotoList(frame, rec, views.ReadPhotoQuery(c.Request.URL.Query()))
	if err != nil {
		return err
	}
	return s.show(c, http.StatusOK, page)
}

// showSlate fills the screen with what ties a picture to the job.
func (s *server) showSlate(c *gin.Context) error {
	rec, frame, err := s.jobForm(c, views.SheetPhotos, "Slate", nil)
	if err != nil {
		return err
	}
	to := views.PhotoTarget{CheckID: c.Query("check"), PlaceID: c.Query("place"), Stage: c.Query("stage")}
	page, err := views.NewPhotoSlate(frame, rec, to, s.Service.Now(), local(c.Query("back"), ""))
	if err != nil {
		return err
	}
	return s.show(c, http.StatusOK, page)
}

// photo is the photograph that the path names.
func (s *server) photo(c *gin.Context) (*jobs.Record, jobs.Photo, error) {
	rec, err := s.record(c)
	if err != nil {
		return nil, jobs.Photo{}, err
	}
	p, ok := rec.Photo(c.Param("photo"))
	if !ok {
		return nil, jobs.Photo{}, jobs.ErrNotFound
	}
	return rec, p, nil
}

func (s *server) showPhoto(c *gin.Context) error { return s.showForm(c, s.photoPage) }

func (s *server) photoPage(c *gin.Context, form views.Form, faults []views.FieldError) (any, error) {
	rec, frame, err := s.jobForm(c, views.SheetPhotos, "Photograph", faults)
	if err != nil {
		return nil, err
	}
	p, ok := rec.Photo(c.Param("photo"))
	if !ok {
		return nil, jobs.ErrNotFound
	}
	page, err := views.NewPhotoShow(frame, rec, p, views.ReadPhotoQuery(c.Request.URL.Query()), form)
	if err != nil {
		return nil, err
	}
	alike, err := s.alike(c.Request.Context(), rec, p)
	if err != nil {
		return nil, err
	}
	page.Beside(rec, alike)
	return page, nil
}

// mostAlike is how many photographs of a place are looked through for those that look nearly the same.
const mostAlike = 60

// alike are the other photographs of the same place and stage that look nearly the same, as far as their small pictures are made.
func (s *server) alike(ctx context.Context, rec *jobs.Record, p jobs.Photo) ([]jobs.Photo, error) {
	shown, _, _ := p.Shown()
	own, ok, err := s.Media.Likeness(ctx, shown)
	if err != nil || !ok {
		return nil, err
	}
	var out []jobs.Photo
	found := rec.Find(jobs.PhotoFilter{Place: p.Place.ID, Stage: cmp.Or(string(p.Stage), jobs.NotFiled)})
	for i := range min(found.Len(), mostAlike) {
		other := found.At(i)
		if other.ID == p.ID {
			continue
		}
		shown, _, _ := other.Shown()
		theirs, ok, err := s.Media.Likeness(ctx, shown)
		if err != nil {
			return nil, err
		}
		if ok && own.Near(theirs) {
			out = append(out, *other)
		}
	}
	return out, nil
}

// showPhotoCover lays the photographs of a run from before it was decked over beside those from after.
func (s *server) showPhotoCover(c *gin.Context) error {
	rec, frame, err := s.jobForm(c, views.SheetPhotos, "Before and after", nil)
	if err != nil {
		return err
	}
	run, ok := rec.Run(c.Param("run"))
	if !ok {
		return jobs.ErrNotFound
	}
	page, err := views.NewPhotoCover(frame, rec, run)
	if err != nil {
		return err
	}
	return s.show(c, http.StatusOK, page)
}

// filePhoto files a photograph otherwise.
func (s *server) filePhoto(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	err = s.Service.FilePhoto(c.Request.Context(), s.by(c, f), c.Param("job"), jobs.FileInput{
		ID: c.Param("photo"), PlaceID: f.text("place"), Stage: f.text("stage"), CheckID: f.text("check"), Caption: f.text("caption"), Version: f.number("version"),
	})
	if err != nil {
		return s.again(c, f, err, s.with(c, s.photoPage))
	}
	return s.done(c, local(f.text("back"), views.PhotoURL(c.Param("job"), c.Param("photo"))), "The photograph is filed there now.")
}

func (s *server) showFiling(c *gin.Context) error { return s.showForm(c, s.filingPage) }

func (s *server) filingPage(c *gin.Context, form views.Form, faults []views.FieldError) (any, error) {
	rec, frame, err := s.jobForm(c, views.SheetPhotos, "File what came in", faults)
	if err != nil {
		return nil, err
	}
	return views.NewPhotoFiling(frame, rec, form)
}

// fileBatch files the ticked photographs of one batch.
func (s *server) fileBatch(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	names := views.BatchFields(f.text(views.FieldBatch))
	in := jobs.FileBatchInput{
		IDs: f.all(names.Photos), PlaceID: f.text(names.Place), Stage: f.text(names.Stage), PlaceField: names.Place, StageField: names.Stage, PhotoField: names.Photos,
	}
	if err := s.Service.FileBatch(c.Request.Context(), s.by(c, f), c.Param("job"), in); err != nil {
		return s.again(c, f, err, s.with(c, s.filingPage))
	}
	return s.done(c, views.JobURL(c.Param("job"), "photos", "filing"), views.FiledBatch(len(in.IDs)))
}

// showView sends the picture that pages show large.
func (s *server) showView(c *gin.Context) error {
	_, p, err := s.photo(c)
	if err != nil {
		return err
	}
	shown, _, _ := p.Shown()
	view, err := s.Media.OpenView(c.Request.Context(), shown, media.View)
	return s.sendPhoto(c, p, view, err)
}

// showThumb sends the small picture of lists; the camera's own while that is still to be made.
func (s *server) showThumb(c *gin.Context) error {
	_, p, err := s.photo(c)
	if err != nil {
		return err
	}
	shown, _, _ := p.Shown()
	view, err := s.Media.OpenSoon(c.Request.Context(), shown)
	return s.sendPhoto(c, p, view, err)
}

// sendPhoto sends a picture made from a photograph.
func (s *server) sendPhoto(c *gin.Context, p jobs.Photo, view *media.Rendition, err error) error {
	return s.sendView(c, fmt.Sprintf("Photo %d", p.Number), p.Kind, p.Media, view, err)
}

// sendView sends a picture made from an original: upright, without anything that the camera wrote. An original never changes, so the
// picture may be kept. Where there is none, a card says why in words: what name and kind tell of is in the record all the same.
func (s *server) sendView(c *gin.Context, name, kind string, of media.ID, view *media.Rendition, err error) error {
	var refusal *media.Refusal
	if errors.As(err, &refusal) {
		c.Header("Content-Security-Policy", "default-src 'none'; sandbox")
		c.Data(http.StatusOK, "image/svg+xml", views.NoPictureCard(name, kind, errors.Is(err, media.ErrNoView)))
		return nil
	}
	if err != nil {
		return err
	}
	defer view.Close()
	tag := fmt.Sprintf("%s-%d", of.Short(), max(view.Width, view.Height))
	if view.Passing {
		c.Header("Cache-Control", "no-store")
		tag += "-camera"
	} else {
		c.Header("Cache-Control", "private, max-age=604800, immutable")
	}
	s.sendFile(c, media.JPEG.MediaType(), tag, view)
	return nil
}

// showOriginal sends the bytes as they were received, to be saved and never shown by the browser as anything of this site.
func (s *server) showOriginal(c *gin.Context) error {
	rec, p, err := s.photo(c)
	if err != nil {
		return err
	}
	original, _, err := s.Media.Originals().Open(c.Request.Context(), p.Media)
	if err != nil {
		return err
	}
	defer original.Close()
	kind := media.Kind(p.Kind)
	c.Header("Content-Disposition", attachment(fmt.Sprintf("%s-photo-%d%s", rec.Job.Ref, p.Number, kind.Extension())))
	s.sendFile(c, kind.MediaType(), p.Media.String(), original)
	return nil
}

// sendFile sends what nobody wrote here: with the type that was found in it, and with no right to do anything. tag names the
// bytes.
func (s *server) sendFile(c *gin.Context, kind, tag string, body io.ReadSeeker) {
	c.Header("Content-Security-Policy", "default-src 'none'; sandbox")
	c.Header("Content-Type", kind)
	c.Header("ETag", `"`+tag+`"`)
	http.ServeContent(c.Writer, c.Request, "", time.Time{}, body)
}

// attachment is the header that makes a browser save a file under a name.
func attachment(name string) string {
	plain := strings.Map(func(r rune) rune {
		if r < ' ' || strings.ContainsRune(`/\:*?"<>|`, r) {
			return '-'
		}
		return r
	}, name)
	return mime.FormatMediaType("attachment", map[string]string{"filename": plain})
}
