package jobs

import (
	"context"
	"errors"
	"fmt"

	"newelbook/media"
)

// CodeReader reads the square codes in photographs: media.Library.
type CodeReader interface {
	// Codes lists the texts of the codes that a photograph shows, which may take a part of a second.
	Codes(ctx context.Context, id media.ID) ([]string, error)
	// KnownCodes is the same where they were read before, at once; else false.
	KnownCodes(id media.ID) ([]string, bool)
}

// ReadTags reads the place tags in a photograph. One that nobody filed is filed at the place of its tag, where there is one place that
// it can be; of one that is filed already only the tags are put on record, so that a flag can say what does not fit. Done again it does
// nothing. A photograph that can't be shown has no tags.
func (s *Service) ReadTags(ctx context.Context, codes CodeReader, jobID, photoID string) error {
	rec, err := s.Record(ctx, jobID)
	if err != nil {
		return err
	}
	p, ok := rec.Photo(photoID)
	if !ok {
		return ErrNotFound
	}
	return s.readTags(ctx, codes, jobID, &p)
}

func (s *Service) readTags(ctx context.Context, codes CodeReader, jobID string, p *Photo) error {
	if len(p.Tags) > 0 {
		return nil
	}
	shown, _, _ := p.Shown()
	texts, err := codes.Codes(ctx, shown)
	var refusal *media.Refusal
	if errors.As(err, &refusal) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("read the tags in photograph %d: %w", p.Number, err)
	}
	tags := tagsOf(texts)
	if len(tags) == 0 {
		return nil
	}
	_, err = s.update(ctx, jobID, By{Actor: tagActor}, func(w *work) (string, error) { return "", w.tag(p.ID, tags) })
	return err
}

// tag puts the tags of a photograph on record and files it by them if it can.
func (w *work) tag(photoID string, tags []string) error {
	p, ok := w.rec.Photo(photoID)
	if !ok {
		return ErrNotFound
	}
	if len(p.Tags) > 0 {
		return nil // somebody was quicker
	}
	p.Tags = tags
	if place, one := w.rec.tagged(&p).one(); one && !p.Filed() {
		if stage := w.rec.tagStage(&p); stage != "" {
			p.Place, p.Stage, p.FiledBy, p.LayoutVersion = place, stage, FiledByTag, w.layoutVersion(place)
		}
	}
	p.Version++
	return w.emit(EvPhotoTagged, Change{Photo: &p})
}

// ReadAllTags reads the tags of every photograph whose tags were not read, one after the other: those that came in before the program
// read tags, or just before it was stopped. It costs next to nothing where all are read. It goes on after a photograph that can't be
// read, and joins the errors.
func (s *Service) ReadAllTags(ctx context.Context, codes CodeReader) error {
	all, err := s.Jobs(ctx)
	if err != nil {
		return err
	}
	var failed error
	for _, job := range all {
		rec, err := s.Record(ctx, job.ID)
		if err != nil {
			return errors.Join(failed, err)
		}
		for i := range rec.Photos {
			p := &rec.Photos[i]
			shown, _, _ := p.Shown()
			if texts, known := codes.KnownCodes(shown); known && len(tagsOf(texts)) == 0 {
				continue
			}
			if err := ctx.Err(); err != nil {
				return errors.Join(failed, err)
			}
			failed = errors.Join(failed, s.readTags(ctx, codes, job.ID, p))
		}
	}
	return failed
}
