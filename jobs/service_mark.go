package jobs

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"newelbook/checklist"
	"newelbook/media"
)

// Limits of what is said over one photograph.
const (
	MostMarks    = 12 // more hide what they point at
	markTextRune = 40
)

// Showable lists what a photograph of a stage may show, for a box each (common practice, no source), and the permit where the authority
// wants it in every picture.
func Showable(stage checklist.Stage, photos checklist.PhotoPolicy) []string {
	things := showable(stage)
	if photos == checklist.PermitInFrame && len(things) > 0 {
		things = append(things, ShowsPermit)
	}
	return things
}

// ShowsPermit is what a photograph shows that has the permit in view, for an authority that asks for it.
const ShowsPermit = "permit in view"

func showable(stage checklist.Stage) []string {
	switch stage {
	case checklist.Framing:
		return []string{"bolts", "washers and nuts", "hold-down", "blocking", "sleeve", "joist hangers", "label or permit", "tape in the frame"}
	case checklist.Posts:
		return []string{"post upright", "post foot", "sealed cut", "bolts", "tape in the frame"}
	case checklist.Rails:
		return []string{"rail connector", "rail height", "cut end", "tape in the frame"}
	case checklist.InfillSt:
		return []string{"clear gap", "gap under the rail", "fasteners", "tape in the frame"}
	case checklist.Caps, checklist.PostTops:
		return []string{"cap", "post top", "sealed cut", "fasteners"}
	case checklist.Handover:
		return []string{"whole run", "opening closed off", "label or permit", "tape in the frame"}
	}
	return nil
}

// MarkText is one mark as typed: coordinates in percent of the picture. One without a kind is none.
type MarkText struct {
	Kind, FromX, FromY, ToX, ToY, Text string
	Field                              string // of its kind; the others' names are made from it by MarkField
}

// MarkField is the name of a field of the mark whose kind is in field: from_x, from_y, to_x, to_y or text.
func MarkField(field, part string) string { return field + "-" + part }

// MarkInput is what is said over a photograph: what it shows, marks drawn over it, and the reading that was typed from it.
type MarkInput struct {
	ID      string
	Version int
	Shows   []string
	Reading string // id of a reading, empty for none
	Marks   []MarkText
}

// MarkPhoto saves what is said over a photograph. The original is not touched.
func (s *Service) MarkPhoto(ctx context.Context, by By, jobID string, in MarkInput) error {
	_, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		p, ok := w.rec.Photo(in.ID)
		if !ok {
			return "", ErrNotFound
		}
		if err := stale(fmt.Sprintf("photograph %d", p.Number), "", p.Version, in.Version); err != nil {
			return "", err
		}
		var bad InvalidError
		p.Shows = nil
		for _, thing := range Showable(p.Stage, w.rec.Job.Photo) {
			if slices.Contains(in.Shows, thing) {
				p.Shows = append(p.Shows, thing)
			}
		}
		if in.Reading != "" && !slices.ContainsFunc(w.rec.Readings, func(x Reading) bool { return x.ID == in.Reading && x.Answer.Length != nil }) {
			bad.Add("reading", "Choose a measured reading of this job.")
		}
		p.ReadingID = in.Reading
		if marks := marksOf(in.Marks, &bad); !slices.Equal(marks, p.Marks) {
			p.Marks, p.Marked = marks, &MarkedBy{By: w.by, At: w.at}
		}
		if len(p.Marks) == 0 {
			p.Marked = nil
		}
		if err := bad.Err(); err != nil {
			return "", err
		}
		p.Version++
		return "", w.emit(EvPhotoMarked, Change{Photo: &p})
	})
	return err
}

// marksOf reads marks, and says what is wrong with them.
func marksOf(texts []MarkText, bad *InvalidError) []media.Mark {
	var out []media.Mark
	for _, t := range texts {
		kind := media.MarkKind(t.Kind)
		if kind == "" {
			continue
		}
		m := media.Mark{Kind: kind, Text: strings.Join(strings.Fields(t.Text), " ")}
		if !slices.Contains([]media.MarkKind{media.MarkArrow, media.MarkCircle, media.MarkMeasure}, kind) {
			bad.Add(t.Field, "Choose an arrow, a circle or a measured note.")
		}
		for _, c := range []struct {
			part, text string
			to         *int
		}{{"from_x", t.FromX, &m.FromX}, {"from_y", t.FromY, &m.FromY}, {"to_x", t.ToX, &m.ToX}, {"to_y", t.ToY, &m.ToY}} {
			n, ok := perMille(c.text)
			if !ok {
				bad.Add(MarkField(t.Field, c.part), "Enter a number from 0 to 100, the percent of the picture from its upper left corner.")
			}
			*c.to = n
		}
		if kind == media.MarkMeasure && m.Text == "" {
			bad.Add(MarkField(t.Field, "text"), "Enter what was measured.")
		}
		if utf8.RuneCountInString(m.Text) > markTextRune {
			bad.Add(MarkField(t.Field, "text"), fmt.Sprintf("Enter at most %d characters, so that it fits the picture.", markTextRune))
		}
		if m.FromX == m.ToX && m.FromY == m.ToY && bad.Err() == nil {
			bad.Add(MarkField(t.Field, "to_x"), "Let the mark end somewhere else than it begins.")
		}
		out = append(out, m)
	}
	if len(out) > MostMarks {
		bad.Add(texts[0].Field, fmt.Sprintf("Draw at most %d marks over one photograph.", MostMarks))
	}
	return out
}

// perMille reads a percentage from 0 to 100 in tenths; digits after the first decimal are rounded.
func perMille(text string) (int, bool) {
	f, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(text), ",", ".", 1), 64)
	if err != nil || !(f >= 0 && f <= 100) {
		return 0, false
	}
	return int(f*10 + 0.5), true
}
