package server

import (
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/media"
	"newelbook/views"
)

func (s *server) listPapers(c *gin.Context) error {
	rec, frame, err := s.jobForm(c, views.SheetPapers, "Papers", nil)
	if err != nil {
		return err
	}
	return s.show(c, http.StatusOK, views.NewPaperList(frame, rec))
}

func (s *server) newPaper(c *gin.Context) error {
	return s.showForm(c, func(c *gin.Context, form views.Form, faults []views.FieldError) (any, error) {
		return s.newPaperPage(c, form, faults, nil)
	})
}

func (s *server) newPaperPage(c *gin.Context, form views.Form, faults []views.FieldError, held *views.HeldPaper) (any, error) {
	rec, frame, err := s.jobForm(c, views.SheetPapers, "Attach a paper", faults)
	if err != nil {
		return nil, err
	}
	return views.NewPaperNew(frame, rec, form, held), nil
}

// addPaper takes a paper in and attaches it. Where what is said of it is at fault, the file is held all the same, so that it need
// not be sent again.
func (s *server) addPaper(c *gin.Context) error {
	rec, err := s.record(c)
	if err != nil {
		return err
	}
	f, held, refused, err := s.readPaper(c)
	if err != nil {
		return err
	}
	in := paperInput(f)
	var bad jobs.InvalidError
	if err := rec.CheckPaper(in, rec.Job.Day(s.Now())); err != nil {
		var invalid *jobs.InvalidError
		if !errors.As(err, &invalid) {
			return err
		}
		bad.Fields = append(bad.Fields, invalid.Fields...)
	}
	switch {
	case refused != "":
		bad.Add(paperField, refused)
	case held == nil:
		bad.Add(paperField, "Choose the file of the paper.")
	}
	var id string
	if err = bad.Err(); err == nil {
		in.Facts, in.Name = held.Facts, held.Name
		id, err = s.Service.AddPaper(c.Request.Context(), s.by(c, f, held.Facts.ID.String()), rec.Job.ID, in)
	}
	if err != nil {
		return s.again(c, f, err, func(form views.Form, faults []views.FieldError) (any, error) {
			return s.newPaperPage(c, form, faults, held)
		})
	}
	return s.done(c, views.PaperURL(rec.Job.ID, id), "The paper is attached, as it was received.")
}

// paperInput is what a form says of a paper.
func paperInput(f form) jobs.PaperInput {
	return jobs.PaperInput{Kind: f.text("kind"), Title: f.text("title"), On: f.text("on"), Issuer: f.text("issuer"), PlaceID: f.text("place"), Rests: f.text("rests")}
}

// paperField is the name of the file field.
const paperField = "file"

// readPaper reads a form with a paper, part by part, and takes the file in while it arrives. Without one, the file that the form
// names as held is looked up. refused says why a file was not taken.
func (s *server) readPaper(c *gin.Context) (f form, held *views.HeldPaper, refused string, err error) {
	if err := unhurried(c); err != nil {
		return form{}, nil, "", err
	}
	parts, err := c.Request.MultipartReader()
	if err != nil {
		return form{}, nil, "", fmt.Errorf("%w: %w", errForm, err)
	}
	up := upload{form: form{values: url.Values{}}}
	left, had := int64(formBytes), false
	for {
		part, err := parts.NextPart()
		switch {
		case errors.Is(err, io.EOF):
			if !had {
				held, err = s.heldPaper(c, up.form)
				return up.form, held, "", err
			}
			return up.form, held, refused, nil
		case err != nil:
			return form{}, nil, "", uploadError(err)
		case part.FileName() == "":
			n, err := up.field(part, left)
			if err != nil {
				return form{}, nil, "", uploadError(err)
			}
			left -= n
			continue
		case had || part.FormName() != paperField:
			continue
		}
		had = true
		facts, err := s.Media.IntakePaper(c.Request.Context(), part)
		var refusal *media.Refusal
		switch {
		case err == nil:
			held = &views.HeldPaper{Facts: facts, Name: jobs.PlainFileName(part.FileName())}
		case errors.As(err, &refusal):
			refused = refusal.Sentence()
		case errors.Is(err, media.ErrStorageFull):
			return form{}, nil, "", err
		default:
			return form{}, nil, "", uploadError(err)
		}
	}
}

// heldPaper is the file that a form says was held when it was sent before.
func (s *server) heldPaper(c *gin.Context, f form) (*views.HeldPaper, error) {
	id, err := media.ParseID(f.text("held"))
	if err != nil {
		return nil, nil
	}
	facts, err := s.Media.HeldPaper(c.Request.Context(), id)
	var refusal *media.Refusal
	if errors.Is(err, media.ErrNotFound) || errors.As(err, &refusal) {
		return nil, nil
	} else if err != nil {
		return nil, err
	}
	return &views.HeldPaper{Facts: facts, Name: jobs.PlainFileName(f.text("held_name"))}, nil
}

// paper is the paper that the path names.
func (s *server) paper(c *gin.Context) (*jobs.Record, jobs.Paper, error) {
	rec, err := s.record(c)
	if err != nil {
		return nil, jobs.Paper{}, err
	}
	p, ok := rec.Paper(c.Param("paper"))
	if !ok {
		return nil, jobs.Paper{}, jobs.ErrNotFound
	}
	return rec, p, nil
}

func (s *server) showPaper(c *gin.Context) error { return s.showForm(c, s.paperPage) }

func (s *server) paperPage(c *gin.Context, form views.Form, faults []views.FieldError) (any, error) {
	rec, p, err := s.paper(c)
	if err != nil {
		return nil, err
	}
	frame, err := s.jobFrame(c, rec, views.SheetPapers, p.Label())
	if err != nil {
		return nil, err
	}
	frame.Errors = faults
	return views.NewPaperShow(frame, rec, p, form, s.isBuilder(c))
}

// describePaper changes what is said of a paper.
func (s *server) describePaper(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	in := paperInput(f)
	in.ID, in.Version = c.Param("paper"), f.number("version")
	if err := s.Service.DescribePaper(c.Request.Context(), s.by(c, f), c.Param("job"), in); err != nil {
		return s.again(c, f, err, s.with(c, s.paperPage))
	}
	return s.done(c, views.PaperURL(c.Param("job"), in.ID), "Saved. What was said of it before stays in the record.")
}

func (s *server) withdrawPaper(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	in := jobs.WithdrawPaperInput{ID: c.Param("paper"), Version: f.number("version"), Why: f.text("why")}
	if err := s.Service.WithdrawPaper(c.Request.Context(), s.by(c, f), c.Param("job"), in); err != nil {
		return s.again(c, f, err, s.with(c, s.paperPage))
	}
	return s.done(c, views.PaperURL(c.Param("job"), in.ID), "The paper is withdrawn, with the reason. It stays listed.")
}

// showPaperFile sends a paper as it was received, to be saved and never shown by the browser as anything of this site: a PDF may hold
// anything.
func (s *server) showPaperFile(c *gin.Context) error {
	rec, p, err := s.paper(c)
	if err != nil {
		return err
	}
	file, _, err := s.Media.Originals().Open(c.Request.Context(), p.Media)
	if err != nil {
		return err
	}
	defer file.Close()
	c.Header("Content-Disposition", attachment(fmt.Sprintf("%s-paper-%d%s", rec.Job.Ref, p.Number, p.File.Extension())))
	s.sendFile(c, p.File.MediaType(), p.Media.String(), file)
	return nil
}

// showPaperView sends the picture that pages show of a paper that is one, made here from the file.
func (s *server) showPaperView(c *gin.Context) error {
	_, p, err := s.paper(c)
	if err != nil {
		return err
	}
	if p.File == media.PDF {
		return jobs.ErrNotFound
	}
	view, err := s.Media.OpenView(c.Request.Context(), p.Media, media.View)
	return s.sendView(c, p.Label(), string(p.File), p.Media, view, err)
}
