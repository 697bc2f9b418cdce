package jobs

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"newelbook/checklist"
	"newelbook/media"
)

// PhotoInput is one photograph taken in: the facts that media found, and where it is filed.
type PhotoInput struct {
	Facts   media.Photo
	Name    string // as uploaded
	PlaceID string
	Stage   string
	CheckID string // where it answers a check; place and stage then follow from it
	Caption string
}

// AddPhotos puts photographs into the record, in order, and returns their ids. The originals are held already.
func (s *Service) AddPhotos(ctx context.Context, by By, jobID string, inputs []PhotoInput) ([]string, error) {
	result, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		sheet, err := w.rec.Sheet()
		if err != nil {
			return "", err
		}
		var ids []string
		for _, in := range inputs {
			p := Photo{
				ID: NewID(), Number: len(w.rec.Photos) + 1, Media: in.Facts.ID, Name: in.Name, Kind: string(in.Facts.Kind), Bytes: in.Facts.Bytes,
				Width: in.Facts.Width, Height: in.Facts.Height, Exif: in.Facts.Exif, By: w.by, Received: w.at, Version: 1,
			}
			if c, ok := sheet.Check(p.CheckID); ok && c.Check.Photo == checklist.PhotoHold && w.rec.Stages[c.Check.Stage].Closed {
				if err := w.builder(); err != nil { // evidence that a closed hold point rests on
					return "", err
				}
			}
			if err := w.file(&p, sheet, in.PlaceID, in.Stage, in.CheckID, in.Caption); err != nil {
				return "", err
			}
			if err := w.emit(EvPhotoAdded, Change{Photo: &p}); err != nil {
				return "", err
			}
			ids = append(ids, p.ID)
		}
		return strings.Join(ids, " "), nil
	})
	if result == "" {
		return nil, err
	}
	return strings.Split(result, " "), err
}

// FileInput moves a photograph to another place or check, or changes its caption.
type FileInput struct {
	ID, PlaceID, Stage, CheckID, Caption string
	Version                              int
}

// FilePhoto files a photograph otherwise. Where it was before stays in the chain.
func (s *Service) FilePhoto(ctx context.Context, by By, jobID string, in FileInput) error {
	_, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		p, ok := w.rec.Photo(in.ID)
		if !ok {
			return "", ErrNotFound
		}
		sheet, err := w.rec.Sheet()
		if err != nil {
			return "", err
		}
		if err := stale(fmt.Sprintf("photograph %d", p.Number), "", p.Version, in.Version); err != nil {
			return "", err
		}
		if err := w.file(&p, sheet, in.PlaceID, in.Stage, in.CheckID, in.Caption); err != nil {
			return "", err
		}
		p.Version++
		return "", w.emit(EvPhotoFiled, Change{Photo: &p})
	})
	return err
}

// Filing says what is wrong with where photographs are to be filed, before they are sent: nil, or an InvalidError.
func (r *Record) Filing(placeID, stage, checkID string) error {
	sheet, err := r.Sheet()
	if err != nil {
		return err
	}
	return (&work{rec: r}).file(&Photo{}, sheet, placeID, stage, checkID, "")
}

func (w *work) file(p *Photo, sheet *Sheet, placeID, stage, checkID, caption string) error {
	p.Caption, p.CheckID, p.LayoutVersion = strings.TrimSpace(caption), "", 0
	if checkID != "" {
		c, ok := sheet.Check(checkID)
		if !ok {
			return &InvalidError{Fields: []FieldError{{Field: "check", Message: "Choose a check that is on the layout now: this one is no longer there."}}}
		}
		p.CheckID, p.Place, p.Stage = checkID, c.Check.Place, c.Check.Stage
		p.LayoutVersion = w.layoutVersion(p.Place)
		return nil
	}
	var bad InvalidError
	place, ok := w.rec.Place(placeID)
	if !ok {
		bad.Add("place", "Choose the run, post or bay that the photograph shows.")
	}
	if !slices.Contains(checklist.Stages(), checklist.Stage(stage)) {
		bad.Add("stage", "Choose the stage that the photograph belongs to.")
	}
	p.Place, p.Stage = place, checklist.Stage(stage)
	p.LayoutVersion = w.layoutVersion(place)
	return bad.Err()
}

// layoutVersion is the newest layout of the run that a place belongs to, 0 for the whole job.
func (w *work) layoutVersion(place checklist.Place) int {
	v, _ := w.rec.Layout(place.RunID)
	return v.Version
}

// Originals lists the distinct originals that the record refers to, in order of first use.
func (r *Record) Originals() []media.ID {
	var out []media.ID
	had := map[media.ID]bool{}
	for _, p := range r.Photos {
		if !had[p.Media] {
			had[p.Media] = true
			out = append(out, p.Media)
		}
	}
	return out
}
