package server

import (
	"context"
	"errors"
	"io"
	"net/http"
	"path"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/views"
	"newelbook/views/pack"
)

func (s *server) listPacks(c *gin.Context) error {
	return s.showForm(c, func(c *gin.Context, form views.Form, _ []views.FieldError) (any, error) {
		return s.packsPage(c, views.PackForms{Issue: form, Link: s.fresh()}, nil)
	})
}

func (s *server) packsPage(c *gin.Context, forms views.PackForms, faults []views.FieldError) (any, error) {
	rec, frame, err := s.jobForm(c, views.SheetPack, "Packs", faults)
	if err != nil {
		return nil, err
	}
	return views.NewPackList(frame, rec, forms, s.isBuilder(c), s.PublicURL != "", s.Now())
}

// issuePack freezes the record into the next pack. It decodes and draws, so it takes a while on a large job.
func (s *server) issuePack(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	rec, err := s.record(c)
	if err != nil {
		return err
	}
	order, err := packOrder(f, rec)
	var issued jobs.IssuedPack
	if err == nil {
		issued, err = s.Packs.Issue(c.Request.Context(), s.by(c, f), c.Param("job"), order)
	}
	if err != nil {
		return s.again(c, f, err, func(form views.Form, faults []views.FieldError) (any, error) {
			return s.packsPage(c, views.PackForms{Issue: form, Link: s.fresh()}, faults)
		})
	}
	return s.done(c, views.PacksURL(c.Param("job")), "Pack "+strconv.Itoa(issued.Number)+" is issued. Nothing in it changes any more.")
}

// packOrder reads what a pack is to be. Papers that were attached or withdrawn since the form was opened are asked about: nothing leaves
// unseen.
func packOrder(f form, rec *jobs.Record) (pack.Order, error) {
	var bad jobs.InvalidError
	o := pack.Order{Purpose: f.text("purpose"), Originals: f.text("originals") == views.OriginalsEnclosed, NoPositions: f.text("originals") == views.PositionsLeft}
	switch o.Purpose {
	case views.PurposeHandover, views.PurposeFraming:
	case views.PurposeOther:
		if o.Purpose = strings.TrimSpace(f.text("purpose_other")); o.Purpose == "" {
			bad.Add("purpose_other", "Enter what the pack is for.")
		}
	default:
		bad.Add("purpose", "Choose what the pack is for.")
	}
	if v := f.text("originals"); v != views.OriginalsEnclosed && v != views.OriginalsLeft && v != views.PositionsLeft {
		bad.Add("originals", "Choose whether the originals are enclosed, and whether positions leave with the pack.")
	}
	var now []string
	for _, p := range rec.PapersInForce() {
		now = append(now, p.ID)
		if !slices.Contains(f.all(views.FieldEnclose), p.ID) {
			o.LeftOut = append(o.LeftOut, p.ID)
		}
	}
	if f.text(views.FieldOffered) != strings.Join(now, " ") {
		bad.Add(views.FieldEnclose, "Papers were attached or withdrawn since this page was opened. Look at what leaves with the pack now, and issue it again.")
	}
	return o, bad.Err()
}

// pack is the issued pack that the path names.
func (s *server) pack(c *gin.Context) (*jobs.Record, jobs.IssuedPack, error) {
	rec, err := s.record(c)
	if err != nil {
		return nil, jobs.IssuedPack{}, err
	}
	n, err := strconv.Atoi(c.Param("number"))
	if err != nil {
		return nil, jobs.IssuedPack{}, jobs.ErrNotFound
	}
	p, ok := rec.Pack(n)
	if !ok {
		return nil, jobs.IssuedPack{}, jobs.ErrNotFound
	}
	return rec, p, nil
}

func (s *server) showPackPDF(c *gin.Context) error { return s.ofPack(c, s.sendPDF) }
func (s *server) showPackZIP(c *gin.Context) error { return s.ofPack(c, s.sendZIP) }
func (s *server) readPack(c *gin.Context) error    { return s.ofPack(c, s.sendPage) }

// ofPack sends something of the pack that the path names to whoever is signed in.
func (s *server) ofPack(c *gin.Context, send packSender) error {
	rec, p, err := s.pack(c)
	if err != nil {
		return err
	}
	return send(c, rec, p)
}

// packSender sends something of one issued pack.
type packSender func(c *gin.Context, rec *jobs.Record, p jobs.IssuedPack) error

func (s *server) sendPDF(c *gin.Context, rec *jobs.Record, p jobs.IssuedPack) error {
	c.Header("Content-Disposition", `inline; filename="`+packFileName(rec, p)+`.pdf"`)
	return s.sendPackFile(c, rec, p, "data/pack.pdf")
}

// sendPage sends the documents of a pack, its calendar and the pictures in its pages: files that its own manifest lists, and no others.
func (s *server) sendPage(c *gin.Context, rec *jobs.Record, p jobs.IssuedPack) error {
	name := strings.TrimPrefix(c.Param("name"), "/")
	switch {
	case strings.HasPrefix(name, "html/"), strings.HasPrefix(name, "pictures/"):
	case strings.HasPrefix(name, "papers/"): // from anybody, holding anything: to be saved, never shown as something of this site
		c.Header("Content-Disposition", attachment(packFileName(rec, p)+"-"+path.Base(name)))
	case name == pack.CalendarFile:
		c.Header("Content-Disposition", attachment(packFileName(rec, p)+"-"+name))
	case slices.ContainsFunc(p.Editions, func(e string) bool { return name == pack.Edition(e).PDF() }):
		c.Header("Content-Disposition", `inline; filename="`+packFileName(rec, p)+"-"+name+`"`)
	default:
		return jobs.ErrNotFound
	}
	return s.sendPackFile(c, rec, p, "data/"+name)
}

// packPolicy lets the pages of a pack show their own style sheet, fonts and pictures, and nothing else.
const packPolicy = "default-src 'none'; style-src 'self'; img-src 'self'; font-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// sendPackFile sends one file of a frozen pack. Frozen files never change, so a reader may ask by their hash.
func (s *server) sendPackFile(c *gin.Context, rec *jobs.Record, p jobs.IssuedPack, name string) error {
	bag, err := s.Packs.Open(rec.Job.ID, p)
	if err != nil {
		return err
	}
	for _, f := range bag.Files {
		if f.Path != name || f.Elsewhere && !strings.HasPrefix(name, "data/papers/") {
			continue
		}
		body, err := f.Open()
		if err != nil {
			return err
		}
		defer body.Close()
		h := c.Writer.Header()
		h.Set("Content-Security-Policy", packPolicy)
		if f.Elsewhere {
			h.Set("Content-Security-Policy", "default-src 'none'; sandbox")
		}
		h.Set("ETag", `"`+f.SHA256.String()+`"`)
		h.Set("Content-Type", packType(name))
		if seeker, ok := body.(io.ReadSeeker); ok {
			http.ServeContent(c.Writer, c.Request, "", time.Time{}, seeker)
			return nil
		}
		c.DataFromReader(http.StatusOK, f.Size, h.Get("Content-Type"), body, nil)
		return nil
	}
	return jobs.ErrNotFound
}

// packType is the type of a file of a pack by its ending.
func packType(name string) string {
	switch path.Ext(name) {
	case ".html":
		return htmlType
	case ".css":
		return "text/css; charset=utf-8"
	case ".ics":
		return "text/calendar; charset=utf-8"
	case ".pdf":
		return "application/pdf"
	case ".jpg":
		return "image/jpeg"
	case ".png":
		return "image/png"
	case ".webp":
		return "image/webp"
	case ".woff2":
		return "font/woff2"
	case ".ttf":
		return "font/ttf"
	}
	return "application/octet-stream"
}

// sendZIP streams the whole pack. When that fails half-way the connection is cut, so that nobody takes the part for the whole.
func (s *server) sendZIP(c *gin.Context, rec *jobs.Record, p jobs.IssuedPack) error {
	bag, err := s.Packs.Open(rec.Job.ID, p)
	if err != nil {
		return err
	}
	c.Header("Content-Disposition", attachment(packFileName(rec, p)+".zip"))
	c.Header("Content-Type", "application/zip")
	if c.Request.Method == http.MethodHead {
		c.Status(http.StatusOK)
		return nil
	}
	err = bag.WriteZIP(c.Request.Context(), c.Writer)
	switch {
	case err == nil:
		return nil
	case !c.Writer.Written():
		c.Writer.Header().Del("Content-Disposition")
		return err
	}
	if !errors.Is(err, context.Canceled) {
		s.Log.Error("pack cut short", "id", requestID(c.Request.Context()), "job", rec.Job.ID, "pack", p.Number, "error", err)
	}
	panic(http.ErrAbortHandler)
}

// packFileName is the name that a pack's files are saved under.
func packFileName(rec *jobs.Record, p jobs.IssuedPack) string {
	return fileName(rec.Job.Ref) + "-pack-" + strconv.Itoa(p.Number)
}

// fileName makes words fit for a file's name.
func fileName(words string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' {
			return r
		}
		return '-'
	}, words)
}
