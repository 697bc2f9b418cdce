package pack

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"newelbook/jobs"
	"newelbook/media"
)

// pictures are those that a pack shows: of each original one, many made at once where that is still to be done, and a copy with the marks
// of each photograph that has any, many drawn at once too, which is written into temp. What can't be shown is added to what the record says is missing.
func (i Issuer) pictures(ctx context.Context, rec *jobs.Record, x *jobs.Export, temp string) (plain map[media.ID]Picture, marked map[string]Picture, files []Payload, err error) {
	ids := rec.Pictured()
	done := counting(i.Told, StepPictures, len(ids))
	made, why := make([]Picture, len(ids)), make([]string, len(ids))
	err = atOnce(ctx, len(ids), func(_ context.Context, k int) (err error) { // a picture is opened again after all are made: under ctx
		defer done.one()
		made[k], err = i.picture(ctx, ids[k])
		if why[k] = unshown(err); why[k] != "" {
			return nil
		}
		return err
	})
	if err != nil {
		return nil, nil, nil, err
	}
	plain, marked = map[media.ID]Picture{}, map[string]Picture{}
	for k, id := range ids {
		if why[k] != "" {
			x.Open = append(x.Open, lostText(rec, id, why[k]))
			continue
		}
		plain[id], files = made[k], append(files, made[k].Payload)
	}
	var over []*jobs.Photo
	for n := range rec.Photos {
		p := &rec.Photos[n]
		id, _, _ := p.Shown()
		if _, ok := plain[id]; ok && len(p.Marks) > 0 {
			over = append(over, p)
		}
	}
	drawn := make([]Picture, len(over))
	err = atOnce(ctx, len(over), func(_ context.Context, k int) (err error) {
		id, _, _ := over[k].Shown()
		if drawn[k], err = i.marked(plain[id], over[k], temp); err != nil {
			return fmt.Errorf("marks over photograph %d: %w", over[k].Number, err)
		}
		return nil
	})
	if err != nil {
		return nil, nil, nil, err
	}
	for k, p := range over {
		marked[p.ID], files = drawn[k], append(files, drawn[k].Payload)
	}
	return plain, marked, files, nil
}

// marked is a copy of a picture with a photograph's marks drawn over it. It is named by the original and by the photograph, since one
// original may be filed twice and marked otherwise each time.
func (i Issuer) marked(plain Picture, p *jobs.Photo, temp string) (Picture, error) {
	view, err := plain.Open()
	if err != nil {
		return Picture{}, err
	}
	drawn, err := media.DrawMarks(view, p.Marks)
	if err := errors.Join(err, view.Close()); err != nil {
		return Picture{}, err
	}
	name := fmt.Sprintf("%s-photo-%d-marked.jpg", strings.TrimSuffix(filepath.Base(plain.Path), ".jpg"), p.Number)
	file, err := written("data/pictures/"+name, filepath.Join(temp, name), func(w io.Writer) error {
		_, err := w.Write(drawn)
		return err
	})
	return Picture{Payload: file, W: plain.W, H: plain.H}, err
}

// unshown says why the pack shows no picture of a photograph, by the error of making it; empty where the error is another. The pack
// is issued all the same.
func unshown(err error) string {
	var refusal *media.Refusal
	switch {
	case errors.Is(err, media.ErrNoView):
		return "is a HEIC original, and no picture to show came with it: ask the builder for the original."
	case errors.As(err, &refusal):
		return "could not be shown: the file was damaged when it was received. It is held as it came."
	case lost(err):
		return "could not be shown: its original is missing or damaged on the server."
	}
	return ""
}

// lost says whether an error means that an original is not there or no longer what it was. The pack is issued all the same and
// prints it: a record that cannot be handed over because of one file would serve nobody.
func lost(err error) bool {
	return errors.Is(err, media.ErrNotFound) || errors.Is(err, media.ErrCorrupt)
}

func lostText(rec *jobs.Record, id media.ID, what string) string {
	var numbers []string
	for _, p := range rec.Photos {
		if shown, _, _ := p.Shown(); p.Media == id || shown == id {
			numbers = append(numbers, fmt.Sprint(p.Number))
		}
	}
	return fmt.Sprintf("Photograph %s %s", strings.Join(numbers, ", "), what)
}

// picture is the derived view of an original as a file of the pack.
func (i Issuer) picture(ctx context.Context, id media.ID) (Picture, error) {
	view, err := i.Media.OpenView(ctx, id, media.View)
	if err != nil {
		return Picture{}, fmt.Errorf("picture of original %s: %w", id, err)
	}
	p := Picture{W: view.Width, H: view.Height}
	sums := newDigests()
	_, err = io.Copy(sums, view)
	if err := errors.Join(err, view.Close()); err != nil {
		return Picture{}, fmt.Errorf("picture of original %s: %w", id, err)
	}
	p.Payload = sums.of("data/pictures/" + id.String() + ".jpg")
	p.Payload.Open = func() (io.ReadCloser, error) { return i.Media.OpenView(ctx, id, media.View) }
	return p, nil
}

// originals are the photographs as received, and those of them that are missing.
func (i Issuer) originals(ctx context.Context, rec *jobs.Record) (held []Payload, missing []media.ID, err error) {
	kind := map[media.ID]string{}
	for _, p := range rec.Photos {
		kind[p.Media] = p.Kind
	}
	for _, id := range rec.Originals() {
		p, err := i.received(ctx, id, "data/originals/"+id.String()+"."+kind[id])
		if lost(err) {
			missing = append(missing, id)
			continue
		} else if err != nil {
			return nil, nil, err
		}
		held = append(held, p)
	}
	return held, missing, nil
}
