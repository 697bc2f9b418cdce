package demo

import (
	"bytes"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"time"

	"newelbook/checklist"
	"newelbook/cmd/newelbook/demo/pictures"
	"newelbook/jobs"
	"newelbook/views"
)

// shot is one picture to be taken.
type shot struct {
	kind pictures.Kind
	p    pictures.Params
}

// shoot draws pictures, each two minutes after the one before, and takes them in; what comes back stands in the order of
// the shots. Drawing is most of the work of the whole story, so as many are drawn at once as there are processors.
func (s *story) shoot(shots []shot) ([]jobs.PhotoInput, error) {
	lat, lon := siteLat, siteLon
	for i := range shots {
		s.Clock.pass(2 * time.Minute)
		p := &shots[i].p
		p.At, p.Lat, p.Lon = s.Clock.Now().Add(-90*time.Second), &lat, &lon
	}
	taken := make([]jobs.PhotoInput, len(shots))
	errs := make([]error, len(shots))
	next := make(chan int)
	var hands sync.WaitGroup
	for range min(len(shots), runtime.GOMAXPROCS(0)) {
		hands.Go(func() {
			for i := range next {
				taken[i], errs[i] = s.takeIn(shots[i])
			}
		})
	}
	for i := range shots {
		next <- i
	}
	close(next)
	hands.Wait()
	return taken, errors.Join(errs...)
}

// takeIn draws one picture and keeps it as an original.
func (s *story) takeIn(of shot) (jobs.PhotoInput, error) {
	body, err := pictures.Draw(of.kind, of.p)
	if err != nil {
		return jobs.PhotoInput{}, err
	}
	facts, err := s.Media.Intake(s.ctx, bytes.NewReader(body))
	if err != nil {
		return jobs.PhotoInput{}, err
	}
	return jobs.PhotoInput{Facts: facts, Name: fmt.Sprintf("%s-%s.jpg", of.p.Label, of.kind)}, nil
}

// tagged takes a photograph of a place that shows the tag stapled up there, and sends it without a word of where it belongs: the tag says it.
func (s *story) tagged(kind pictures.Kind, label, caption string) error {
	rec, err := s.Service.Record(s.ctx, s.job)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(rec.Places(), func(p checklist.Place) bool { return p.Label == label })
	if i < 0 {
		return fmt.Errorf("no place %s", label)
	}
	tag, err := views.PlaceTag(s.job, rec.Places()[i])
	if err != nil {
		return err
	}
	taken, err := s.shoot([]shot{{kind, pictures.Params{Label: label, Tag: &pictures.Tag{Side: tag.Code.Side, Black: tag.Code.Black, Label: label}}}})
	if err != nil {
		return err
	}
	in := taken[0]
	in.Unfiled, in.Caption = true, caption
	added, err := s.Service.AddPhotos(s.ctx, s.crew(), s.job, []jobs.PhotoInput{in})
	if err != nil {
		return err
	}
	return s.Service.ReadTags(s.ctx, s.Media, s.job, added[0].ID)
}
