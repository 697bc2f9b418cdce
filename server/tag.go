package server

import (
	"bytes"
	"net/http"

	"github.com/gin-gonic/gin"

	"newelbook/views"
	"newelbook/views/pack"
)

func (s *server) showTags(c *gin.Context) error {
	rec, frame, err := s.jobForm(c, views.SheetPhotos, "Place tags", nil)
	if err != nil {
		return err
	}
	page, err := views.NewPhotoTags(frame, rec)
	if err != nil {
		return err
	}
	return s.show(c, http.StatusOK, page)
}

// showTagFile sends the place tags of the runs that the address names, of all where it names none, as a PDF.
func (s *server) showTagFile(c *gin.Context) error {
	rec, err := s.record(c)
	if err != nil {
		return err
	}
	size, err := pack.ParseTagSize(c.Query(views.FieldTagSize))
	if err != nil {
		return err
	}
	paper, err := pack.ParsePaper(c.Query(views.FieldTagPaper), rec.Job.Units)
	if err != nil {
		return err
	}
	tags, err := pack.TagsOf(rec, c.QueryArray(views.FieldTagRun), size, paper)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := pack.WriteTags(&b, tags, pack.Fonts()); err != nil {
		return err
	}
	c.Header("Content-Disposition", `inline; filename="`+fileName(rec.Job.Ref+"-tags")+`.pdf"`)
	c.Data(http.StatusOK, "application/pdf", b.Bytes())
	return nil
}
