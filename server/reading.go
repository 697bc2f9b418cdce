package server

import (
	"cmp"
	"net/url"
	"slices"
	"strings"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/views"
)

// mostTaken is how many readings one form may hold: more than a run has places.
const mostTaken = 200

// readings are the answers of a form, in the order of the sheet, with the ids of their checks.
func readings(f form, sheet *jobs.Sheet) ([]jobs.ReadingInput, []string) {
	var ids []string
	for name := range f.values {
		for _, prefix := range []string{views.FieldText, views.FieldSeen, views.FieldGauge, views.FieldReason, views.FieldNote} {
			if id, ok := strings.CutPrefix(name, prefix); ok && !slices.Contains(ids, id) {
				ids = append(ids, id)
			}
		}
	}
	slices.SortFunc(ids, func(a, b string) int { return cmp.Or(cmp.Compare(sheet.Rank(a), sheet.Rank(b)), strings.Compare(a, b)) })
	settling := slices.ContainsFunc(ids, func(id string) bool { return f.values.Has(views.FieldTake+id) || f.values.Has(views.FieldKeep+id) })
	var out []jobs.ReadingInput
	for _, id := range ids {
		if meant := f.text(views.FieldTake + id); meant != "" {
			f.values.Set(views.FieldText+id, meant)
		}
		in := jobs.ReadingInput{
			Field: views.FieldText + id, CheckID: id, Text: f.text(views.FieldText + id), Seen: f.text(views.FieldSeen + id), Gauge: f.text(views.FieldGauge + id),
			Reason: f.text(views.FieldReason + id), Note: f.text(views.FieldNote + id), Tool: f.text(views.FieldTool + id), From: f.text(views.FieldFrom + id),
			Witness: f.text(jobs.WitnessField),
		}
		if c, ok := sheet.Check(id); ok && in.Empty() && f.values.Has(views.FieldAll) {
			in.Seen, in.Gauge = views.ForAll(c.Check)
		}
		in.AskSlips = !f.stands(id, settling)
		if in.Tool == "" && in.Gauge == "" {
			in.Tool = f.text("tool")
		}
		if c, ok := sheet.Check(id); ok {
			in.Field = views.AnswerField(c.Check)
			if jobs.PaperFor(c.Check) != "" {
				in.PaperID = f.text(views.FieldPaper)
			}
		}
		out = append(out, in)
	}
	return out, ids
}

// stands says whether a text is to be taken as typed: it was said so now or before, or it was asked about and sent again as it is.
// Settling one question answers no other.
func (f form) stands(id string, settling bool) bool {
	text := f.text(views.FieldText + id)
	return f.values.Has(views.FieldKeep+id) || f.values.Has(views.FieldKept+id) && f.text(views.FieldKept+id) == text ||
		!settling && f.values.Has(views.FieldDoubt+id) && f.text(views.FieldDoubt+id) == text
}

// takeReadings saves answers and leads back with them shown first, each with its verdict.
func (s *server) takeReadings(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	rec, err := s.record(c)
	if err != nil {
		return err
	}
	sheet, err := rec.Sheet()
	if err != nil {
		return err
	}
	inputs, ids := readings(f, sheet)
	back := local(f.text("back"), views.JobURL(rec.Job.ID))
	if len(inputs) > mostTaken {
		return errTooLarge
	}
	taken, err := []string(nil), nothing(inputs)
	if err == nil {
		taken, err = s.Service.TakeReadings(c.Request.Context(), s.by(c, f), rec.Job.ID, inputs)
	}
	if err != nil {
		return s.again(c, f, err, func(form views.Form, faults []views.FieldError) (any, error) {
			return s.askedAgain(c, ids, form, faults, back)
		})
	}
	return s.done(c, withTaken(back, taken), "")
}

// nothing refuses a form without an answer. One that was given a reason or a note, but no answer, is told so at its field.
func nothing(inputs []jobs.ReadingInput) error {
	var bad jobs.InvalidError
	all := true
	for _, in := range inputs {
		all = all && in.Empty()
		if in.Empty() && (strings.TrimSpace(in.Reason) != "" || strings.TrimSpace(in.Note) != "") {
			bad.Add(in.Field, "Enter the reading that this note belongs to, or say that it does not apply.")
		}
	}
	if all && len(bad.Fields) == 0 {
		field := ""
		if len(inputs) > 0 {
			field = inputs[0].Field
		}
		bad.Add(field, "Enter a reading at one place at least. Places left empty stay not checked.")
	}
	return bad.Err()
}

// askedAgain asks the same checks once more, with what was typed.
func (s *server) askedAgain(c *gin.Context, ids []string, form views.Form, faults []views.FieldError, back string) (any, error) {
	rec, frame, err := s.jobForm(c, views.SheetStages, "Ask", faults)
	if err != nil {
		return nil, err
	}
	sheet, err := rec.Sheet()
	if err != nil {
		return nil, err
	}
	var checks []*jobs.CheckState
	for i := range sheet.Checks {
		if slices.Contains(ids, sheet.Checks[i].Check.ID) {
			checks = append(checks, &sheet.Checks[i])
		}
	}
	if len(checks) == 0 {
		return views.NewUnasked(frame, back), nil
	}
	return views.NewStageAsk(frame, rec, checks, form, back), nil
}

// withTaken names the readings just saved in the address that shows them.
func withTaken(back string, taken []string) string {
	u, err := url.Parse(back)
	if err != nil || len(taken) == 0 {
		return back
	}
	q := u.Query()
	q.Set("taken", strings.Join(taken, " "))
	u.RawQuery = q.Encode()
	return u.String()
}

func (s *server) showCheck(c *gin.Context) error {
	return s.showForm(c, func(c *gin.Context, form views.Form, faults []views.FieldError) (any, error) {
		return s.checkPage(c, c.Query("id"), form, jobs.NewID(), faults)
	})
}

func (s *server) checkPage(c *gin.Context, id string, form views.Form, sameID string, faults []views.FieldError) (any, error) {
	rec, frame, err := s.jobForm(c, views.SheetStages, "Check", faults)
	if err != nil {
		return nil, err
	}
	sheet, err := rec.Sheet()
	if err != nil {
		return nil, err
	}
	check, live, ok := views.FindCheck(sheet, id)
	if !ok {
		return nil, jobs.ErrNotFound
	}
	return views.NewCheckShow(frame, rec, sheet, check, live, form, sameID), nil
}

// sameRest records that the rest of a run is the same as one observation, but for the places excepted.
func (s *server) sameRest(c *gin.Context) error {
	f, err := s.form(c)
	if err != nil {
		return err
	}
	rec, err := s.record(c)
	if err != nil {
		return err
	}
	sheet, err := rec.Sheet()
	if err != nil {
		return err
	}
	check, _, ok := views.FindCheck(sheet, f.text("check"))
	if !ok {
		return jobs.ErrNotFound
	}
	taken, err := s.Service.SameRest(c.Request.Context(), s.by(c, f), rec.Job.ID, check.Check.ID, f.all("except"))
	if err != nil {
		return s.again(c, f, err, func(form views.Form, faults []views.FieldError) (any, error) {
			for i := range faults {
				faults[i].Field = ""
			}
			return s.checkPage(c, check.Check.ID, form, form.ID, faults)
		})
	}
	return s.done(c, withTaken(views.StageURL(rec.Job.ID, check.Check.Stage), taken), "")
}
