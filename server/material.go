package server

import (
	"net/http"
	"regexp"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/views"
)

func (s *server) listMaterials(c *gin.Context) error { return s.showForm(c, s.materialsPage) }

func (s *server) materialsPage(c *gin.Context, form views.Form, faults []views.FieldError) (any, error) {
	rec, frame, err := s.jobForm(c, views.SheetLayout, "Materials", faults)
	if err != nil {
		return nil, err
	}
	if form.ID == "" {
		form.ID = jobs.NewID() // the form that came back is one of the small ones, which carry none
	}
	return views.NewMaterialList(frame, rec, form, s.isBuilder(c), form.Text("piece", c.Query("at")))
}

// orderCSV sends the order as a file.
func (s *server) orderCSV(c *gin.Context) error {
	rec, err := s.Service.Record(c.Request.Context(), c.Param("job"))
	if err != nil {
		return err
	}
	body, err := views.MaterialCSV(rec)
	if err != nil {
		return err
	}
	c.Header("Content-Disposition", `attachment; filename="order.csv"`)
	c.Data(http.StatusOK, "text/csv; charset=utf-8; header=present", body)
	return nil
}

// anchor is a place on the materials page that a form may lead back to.
var anchor = regexp.MustCompile(`^[a-z-]+[0-9]*$`)

// tickPiece ticks a piece as the button says.
func (s *server) tickPiece(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	in := jobs.TickInput{PieceID: f.text("piece")}
	switch f.text("tick") {
	case views.TickCut:
		in.Step, in.Done = string(jobs.StepCut), true
	case views.TickNotCut:
		in.Step = string(jobs.StepCut)
	case views.TickFitted:
		in.Step, in.Done = string(jobs.StepFitted), true
	case views.TickNotFit:
		in.Step = string(jobs.StepFitted)
	}
	if err := s.Service.TickPiece(c.Request.Context(), s.by(c, f), c.Param("job"), in); err != nil {
		return s.again(c, f, err, s.with(c, s.materialsPage))
	}
	to := views.JobURL(c.Param("job"), "materials")
	if back := f.text("back"); anchor.MatchString(back) {
		to = views.PiecesURL(c.Param("job"), in.PieceID, back)
	}
	return s.done(c, to, "")
}

// cutBoard records that a board of the plan was cut.
func (s *server) cutBoard(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	err = s.Service.CutBoard(c.Request.Context(), s.by(c, f), c.Param("job"), jobs.BoardInput{Pieces: f.all("piece"), OnHand: f.text("on_hand"), Rest: f.text("rest")})
	if err != nil {
		return s.again(c, f, err, s.with(c, s.materialsPage))
	}
	return s.done(c, views.JobURL(c.Param("job"), "materials")+"#boards", "The board is recorded as cut: its pieces are ticked, and the rest of the plan is made anew.")
}

// addOnHand records boards or an offcut.
func (s *server) addOnHand(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	err = s.Service.AddOnHand(c.Request.Context(), s.by(c, f), c.Param("job"), jobs.OnHandInput{
		Stock: f.text("stock"), Length: f.text("length"), Count: f.text("count"), Offcut: f.text("offcut") == "yes", From: f.text("from"),
	})
	if err != nil {
		return s.again(c, f, err, s.with(c, s.materialsPage))
	}
	return s.done(c, views.JobURL(c.Param("job"), "materials")+"#on-hand", "Entered. The plan cuts into it before any board is bought.")
}

// withdrawOnHand takes one board off the stock on hand, or all that are left of an entry.
func (s *server) withdrawOnHand(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	err = s.Service.WithdrawOnHand(c.Request.Context(), s.by(c, f), c.Param("job"), jobs.WithdrawOnHandInput{ID: c.Param("stock"), Version: f.number("version"), All: f.text("withdraw") == views.WithdrawRest})
	if err != nil {
		return s.again(c, f, err, s.with(c, s.materialsPage))
	}
	return s.done(c, views.JobURL(c.Param("job"), "materials")+"#on-hand", "")
}
