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
	"newelbook/media"
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
	page, err := views.NewPackList(frame, rec, forms, s.isBuilder(c), s.PublicURL != "", s.Now())
	if err != nil {
		return nil, err
	}
	standing, ok, err := s.Desk.Standing(c.Request.Context(), rec.Job.ID)
	if ok {
		page.Issuing(rec, standing.Issuing, standing.UnderWay, standing.CutOff)
	}
	return page, err
}

// showIssuing shows how far the pack is that is being issued. When it is over, it leads to the packs.
func (s *server) showIssuing(c *gin.Context) error {
	rec, frame, err := s.jobForm(c, views.SheetPack, "A pack is being issued", nil)
	if err != nil {
		return err
	}
	standing, ok, err := s.Desk.Standing(c.Request.Context(), rec.Job.ID)
	switch {
	case err != nil:
		return err
	case ok && standing.UnderWay:
		return s.show(c, http.StatusOK, views.NewPackIssuing(frame, rec, standing.Issuing, standing.Waiting, issuingSteps(standing)))
	case ok && standing.State == jobs.IssuingDone:
		return s.done(c, views.PacksURL(rec.Job.ID), "Pack "+strconv.Itoa(standing.Pack)+" is issued. Nothing in it changes any more.")
	}
	return s.done(c, views.PacksURL(rec.Job.ID), "")
}

// issuingSteps are all steps of issuing, in words, with how far each is.
func issuingSteps(standing pack.Standing) []views.IssuingStep {
	labels := map[pack.Step]string{
		pack.StepPictures: "Pictures made and read", pack.StepEditions: "Editions written, each for print and as a page",
		pack.StepFiles: "Files enclosed as received, read and hashed", pack.StepFreeze: "Files put into the pack and its manifests",
	}
	var out []views.IssuingStep
	for _, step := range pack.Steps() {
		line := views.IssuingStep{Label: labels[step]}
		for _, p := range standing.Steps {
			if p.Step == step {
				line.Begun, line.Done, line.Of = true, p.Done, p.Of
			}
		}
		out = append(out, line)
	}
	return out
}

// IssueFault says to the builder why a pack was not issued, in finished sentences.
func IssueFault(err error) string {
	var conflict *jobs.ConflictError
	switch {
	case errors.As(err, &conflict):
		return "Another pack was issued meanwhile. Look at it, and issue this one again if it is still wanted."
	case errors.Is(err, media.ErrStorageFull):
		return "There is no room left on the server. Nothing of it was kept: make room, then issue it again."
	}
	return "Something went wrong on the server, and nothing of it was kept. Issue it again; if that does not help, tell whoever looks after the server: its log says what it was."
}

// issuePack has the record frozen into the next pack, in the background, and leads to the page that shows how far it is.
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
	if err == nil {
		err = s.Desk.Issue(c.Request.Context(), s.by(c, f), rec.Job.ID, order)
	}
	if errors.Is(err, pack.ErrUnderWay) {
		err = &jobs.InvalidError{Fields: []jobs.FieldError{{Message: "Another pack of this job is being issued. Wait until it is done, then issue this one: what you chose is kept below."}}}
	}
	if err != nil {
		return s.again(c, f, err, func(form views.Form, faults []views.FieldError) (any, error) {
			return s.packsPage(c, views.PackForms{Issue: form, Link: s.fresh()}, faults)
		})
	}
	return s.done(c, views.IssuingURL(rec.Job.ID), "")
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
