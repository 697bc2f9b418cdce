package jobs

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"newelbook/checklist"
	"newelbook/media"
)

// PhotoInput is one photograph taken in: the facts that media found, and where it is filed.
type PhotoInput struct {
	Facts    media.Photo
	Supplied *media.Photo // the view that came with an original that can't be shown
	Name     string       // as uploaded
	PlaceID  string
	Stage    string
	CheckID  string // where it answers a check; place and stage then follow from it
	Caption  string
	// Unfiled takes it in without a place, for its tag or somebody to file later, under Stage where that is given. Where the job has the
	// original already, filed or not, nothing is added.
	Unfiled bool
}

// PhotoAdded is what came of one photograph: the one in the record now, and whether it was there before, so that nothing was added.
type PhotoAdded struct {
	ID    string
	There bool
}

// AddPhotos puts photographs into the record, in order, and says what came of each. The originals are held already. An original
// that is filed to the same check, or to the same place and stage, is there already.
func (s *Service) AddPhotos(ctx context.Context, by By, jobID string, inputs []PhotoInput) ([]PhotoAdded, error) {
	result, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		var out []string
		sheet, err := w.rec.Sheet() // once: where photographs may be filed does not follow from photographs
		if err != nil {
			return "", err
		}
		for _, in := range inputs {
			if there, ok := w.rec.Holding(in); ok {
				out = append(out, thereMark+there.ID)
				continue
			}
			p := Photo{
				ID: NewID(), Number: len(w.rec.Photos) + 1, Media: in.Facts.ID, Name: PlainFileName(in.Name), Kind: string(in.Facts.Kind), Bytes: in.Facts.Bytes,
				Width: in.Facts.Width, Height: in.Facts.Height, Exif: in.Facts.Exif, By: w.by, Received: w.at, Version: 1,
			}
			if v := in.Supplied; v != nil {
				p.Supplied = &SuppliedView{Media: v.ID, Bytes: v.Bytes, Width: v.Width, Height: v.Height}
			}
			if err := w.place(&p, sheet, in); err != nil {
				return "", err
			}
			if err := w.emit(EvPhotoAdded, Change{Photo: &p}); err != nil {
				return "", err
			}
			out = append(out, p.ID)
		}
		return strings.Join(out, " "), nil
	})
	if result == "" {
		return nil, err
	}
	var added []PhotoAdded
	for _, text := range strings.Split(result, " ") {
		id, there := strings.CutPrefix(text, thereMark)
		added = append(added, PhotoAdded{id, there})
	}
	return added, err
}

// thereMark stands, in the result that a form is remembered by, before the id of a photograph that was there already.
const thereMark = "="

// Holding is the photograph by which the record has what would be added.
func (r *Record) Holding(in PhotoInput) (Photo, bool) {
	for i := range r.Photos { // by index: photographs are large
		p := &r.Photos[i]
		switch {
		case p.Media != in.Facts.ID:
		case in.Unfiled,
			in.CheckID != "" && p.CheckID == in.CheckID,
			in.CheckID == "" && p.CheckID == "" && p.Filed() && p.Place.ID == in.PlaceID && string(p.Stage) == in.Stage:
			return *p, true
		}
	}
	return Photo{}, false
}

// place files a new photograph, or leaves it unfiled.
func (w *work) place(p *Photo, sheet *Sheet, in PhotoInput) error {
	if in.Unfiled {
		p.Caption = strings.TrimSpace(in.Caption)
		p.Place, _ = w.rec.Place("job")
		p.StageMeant = checklist.Stage(in.Stage)
		return meant(in.Stage)
	}
	return w.file(p, sheet, in.PlaceID, in.Stage, in.CheckID, in.Caption)
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
		p.Shows = slices.DeleteFunc(slices.Clone(p.Shows), func(thing string) bool { return !slices.Contains(Showable(p.Stage, w.rec.Job.Photo), thing) })
		p.Version++
		return "", w.emit(EvPhotoFiled, Change{Photo: &p})
	})
	return err
}

// FileBatchInput files photographs that nobody filed before, all at one place and stage. Faults name the fields that PlaceField,
// StageField and PhotoField say.
type FileBatchInput struct {
	IDs                                []string
	PlaceID, Stage                     string
	PlaceField, StageField, PhotoField string
}

// FileBatch files them in one transaction: all, or none. One that somebody filed meanwhile is a ConflictError.
func (s *Service) FileBatch(ctx context.Context, by By, jobID string, in FileBatchInput) error {
	_, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		sheet, err := w.rec.Sheet()
		if err != nil {
			return "", err
		}
		var bad InvalidError
		if len(in.IDs) == 0 {
			bad.Add(in.PhotoField, "Tick at least one photograph.")
		}
		if err := w.file(&Photo{}, sheet, in.PlaceID, in.Stage, "", ""); err != nil {
			var invalid *InvalidError
			if !errors.As(err, &invalid) {
				return "", err
			}
			for _, f := range invalid.Fields {
				bad.Add(map[string]string{"place": in.PlaceField, "stage": in.StageField}[f.Field], f.Message)
			}
		}
		if err := bad.Err(); err != nil {
			return "", err
		}
		for _, id := range in.IDs {
			p, ok := w.rec.Photo(id)
			if !ok {
				return "", ErrNotFound
			}
			if p.Filed() {
				return "", &ConflictError{What: fmt.Sprintf("photograph %d", p.Number)}
			}
			if err := w.file(&p, sheet, in.PlaceID, in.Stage, "", p.Caption); err != nil {
				return "", err
			}
			p.Version++
			if err := w.emit(EvPhotoFiled, Change{Photo: &p}); err != nil {
				return "", err
			}
		}
		return "", nil
	})
	return err
}

// FilingOf is Filing for one that may come in without a place.
func (r *Record) FilingOf(in PhotoInput) error {
	if in.Unfiled {
		return meant(in.Stage)
	}
	return r.Filing(in.PlaceID, in.Stage, in.CheckID)
}

// meant says what is wrong with the stage of a photograph without a place, which may stay empty.
func meant(stage string) error {
	if stage == "" || slices.Contains(checklist.Stages(), checklist.Stage(stage)) {
		return nil
	}
	return &InvalidError{Fields: []FieldError{{Field: "stage", Message: "Choose the stage that the photograph belongs to."}}}
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
	p.Caption, p.CheckID, p.LayoutVersion, p.FiledBy = strings.TrimSpace(caption), "", 0, ""
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
	return r.distinct(func(p *Photo) media.ID { return p.Media })
}

// Pictured lists what the photographs' pictures are made of: originals, and the views that came with those that can't be shown.
func (r *Record) Pictured() []media.ID {
	return r.distinct(func(p *Photo) media.ID { id, _, _ := p.Shown(); return id })
}

func (r *Record) distinct(of func(*Photo) media.ID) []media.ID {
	var out []media.ID
	had := map[media.ID]bool{}
	for i := range r.Photos {
		if id := of(&r.Photos[i]); !had[id] {
			had[id] = true
			out = append(out, id)
		}
	}
	return out
}
