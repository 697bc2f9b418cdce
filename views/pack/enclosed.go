package pack

import (
	"context"
	"errors"
	"fmt"
	"io"

	"newelbook/jobs"
	"newelbook/media"
)

// papers are the attached papers that the record says are enclosed. One whose file is missing is said to be, there and in what is
// missing or open. A picture that claims where it was taken is left out where no position is to leave.
func (i Issuer) papers(ctx context.Context, x *jobs.Export) ([]Payload, error) {
	var out []Payload
	for k := range x.Papers {
		p := &x.Papers[k]
		if p.Enclosed == "" {
			continue
		}
		if x.NoPositions && p.File != media.PDF {
			placed, err := i.placed(ctx, p.Media)
			if err != nil && !lost(err) {
				return nil, err
			}
			if placed {
				p.Enclosed, p.LeftOut = "", true
				continue
			}
		}
		file, err := i.received(ctx, p.Media, "data/"+p.Enclosed)
		if lost(err) {
			x.Open = append(x.Open, fmt.Sprintf("%s, %s, is not enclosed: its file is missing on the server.", p.Label(), p.Title))
			p.Enclosed = ""
			continue
		} else if err != nil {
			return nil, err
		}
		out = append(out, file)
	}
	return out, nil
}

// placed says whether a picture claims where it was taken.
func (i Issuer) placed(ctx context.Context, id media.ID) (is bool, err error) {
	r, _, err := i.Media.Originals().Open(ctx, id)
	if err != nil {
		return false, err
	}
	defer func() { err = errors.Join(err, r.Close()) }()
	known, err := i.Media.Look(ctx, r)
	return known.Exif.Position != nil, err
}

// received is a file as it was received, under its name in the pack. A frozen pack lists it by its hash without holding it twice.
func (i Issuer) received(ctx context.Context, id media.ID, name string) (Payload, error) {
	r, size, err := i.Media.Originals().Open(ctx, id)
	if err != nil {
		return Payload{}, fmt.Errorf("original %s: %w", id, err)
	}
	if err := r.Close(); err != nil {
		return Payload{}, fmt.Errorf("original %s: %w", id, err)
	}
	return Payload{Path: name, Size: size, SHA256: Hash(id), Elsewhere: true, Open: func() (io.ReadCloser, error) {
		r, _, err := i.Media.Originals().Open(ctx, id)
		return r, err
	}}, nil
}
