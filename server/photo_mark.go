package server

import (
	"bytes"
	"fmt"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/media"
	"newelbook/views"
)

// markPhoto saves what is said and drawn over a photograph.
func (s *server) markPhoto(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	in := jobs.MarkInput{ID: c.Param("photo"), Version: f.number("version"), Shows: f.all("shows"), Reading: f.text("reading")}
	for i := range jobs.MostMarks {
		kind := views.MarkKindField(i)
		at := func(part string) string { return f.text(jobs.MarkField(kind, part)) }
		in.Marks = append(in.Marks, jobs.MarkText{Kind: f.text(kind), FromX: at("from_x"), FromY: at("from_y"), ToX: at("to_x"), ToY: at("to_y"), Text: at("text"), Field: kind})
	}
	if err := s.Service.MarkPhoto(c.Request.Context(), s.by(c, f), c.Param("job"), in); err != nil {
		return s.again(c, f, err, s.with(c, s.photoPage))
	}
	return s.done(c, views.PhotoURL(c.Param("job"), c.Param("photo")), "Saved. The original is as it was.")
}

// showMarked sends a copy of the large picture with the marks drawn over it.
func (s *server) showMarked(c *gin.Context) error {
	_, p, err := s.photo(c)
	if err != nil {
		return err
	}
	shown, _, _ := p.Shown()
	view, err := s.Media.OpenView(c.Request.Context(), shown, media.View)
	if err != nil || len(p.Marks) == 0 {
		return s.sendPhoto(c, p, view, err)
	}
	defer view.Close()
	marked, err := media.DrawMarks(view, p.Marks)
	if err != nil {
		return err
	}
	c.Header("Cache-Control", "private, no-cache") // marks change; the tag says whether they did
	s.sendFile(c, media.JPEG.MediaType(), fmt.Sprintf("%s-marked-%d", p.Media.Short(), p.Version), bytes.NewReader(marked))
	return nil
}
