package server

import (
	"bytes"
	"fmt"
	"net/http"

	"github.com/gin-gonic/gin"

	"newelbook/views/pack"
)

// showStrip sends the marks of one rail at full size as a PDF, on the paper that goes with the job's units unless the address asks for
// another.
func (s *server) showStrip(c *gin.Context) error {
	rec, err := s.record(c)
	if err != nil {
		return err
	}
	run, err := s.run(c, rec)
	if err != nil {
		return err
	}
	paper, err := pack.ParsePaper(c.Query("paper"), rec.Job.Units)
	if err != nil {
		return err
	}
	strip, err := pack.StripOf(rec, run, fmt.Sprintf("%s-%s %s", run.Label, c.Param("bay"), c.Param("which")), paper)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := pack.WriteStrip(&b, strip, pack.Fonts()); err != nil {
		return err
	}
	c.Header("Content-Disposition", `inline; filename="`+fileName(rec.Job.Ref+"-"+strip.Strip.Rail.Label)+`.pdf"`)
	c.Data(http.StatusOK, "application/pdf", b.Bytes())
	return nil
}
