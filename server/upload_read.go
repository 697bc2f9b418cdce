package server

import (
	"context"
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/media"
)

// uploadBytes is the longest body of a form with photographs, all of them together.
const uploadBytes = 600_000_000

// viewField is the name of a file that a browser's script sends before a photograph that can't be shown here: the picture that the
// browser made of it.
const viewField = "view"

// photosField is the name of the file field. The form's other fields stand before it, so that they are known when a file
// comes.
const photosField = "photos"

// upload is one form with photographs, as far as it was read.
type upload struct {
	form  form
	files []received
	view  *media.Photo // supplied for the file that comes next
}

// received is one file of an upload: what media found in it, or why it was not taken.
type received struct {
	name  string
	facts media.Photo
	view  *media.Photo // the picture that the sender's browser made of an original that can't be shown here
	err   error
}

// readUpload reads a multipart body part by part and takes each file in while it arrives. ready looks at the fields before the
// first of them: where it refuses, no file is taken in. It stops where the body ends, is longer than the route takes, or
// nothing more can be stored.
func (s *server) readUpload(c *gin.Context, ready func(form) error) (upload, error) {
	if err := unhurried(c); err != nil {
		return upload{}, err
	}
	parts, err := c.Request.MultipartReader()
	if err != nil {
		return upload{}, fmt.Errorf("%w: %w", errForm, err)
	}
	up := upload{form: form{values: url.Values{}}}
	left := int64(formBytes)
	for {
		part, err := parts.NextPart()
		switch {
		case errors.Is(err, io.EOF):
			return up, nil
		case err != nil && len(up.files) > 0 && isLong(err):
			up.files = append(up.files, received{name: "The rest", err: err})
			return up, nil
		case err != nil:
			return up, uploadError(err)
		}
		if part.FileName() == "" {
			n, err := up.field(part, left)
			if err != nil {
				return up, uploadError(err)
			}
			left -= n
			continue
		}
		if len(up.files) == 0 && up.view == nil {
			if err := ready(up.form); err != nil {
				_, cut := io.Copy(io.Discard, c.Request.Body) // a browser reads the answer when it has sent everything
				return up, errors.Join(err, cut)
			}
		}
		if part.FormName() == viewField {
			if up.view, err = s.receiveView(c.Request.Context(), part); err != nil {
				return up, err
			}
			continue
		}
		if more, err := s.receive(c.Request.Context(), &up, part); !more {
			return up, err
		}
	}
}

// uploadError tells a body that is too long from one that cannot be read.
func uploadError(err error) error {
	if isLong(err) || errors.Is(err, errTooLarge) {
		return fmt.Errorf("%w: %w", errTooLarge, err)
	}
	return fmt.Errorf("%w: %w", errForm, err)
}

// isLong says whether a body was longer than its route takes.
func isLong(err error) bool {
	var long *http.MaxBytesError
	return errors.As(err, &long)
}

// field reads a part without a file. left is how many bytes all of them may still have.
func (u *upload) field(part *multipart.Part, left int64) (int64, error) {
	body, err := io.ReadAll(io.LimitReader(part, left+1))
	if err != nil {
		return 0, err
	}
	if int64(len(body)) > left || len(u.form.values) >= formFields {
		return 0, errTooLarge
	}
	if notText(string(body)) {
		return 0, errForm
	}
	if name := part.FormName(); name != "" && name != photosField {
		u.form.values.Add(name, string(body))
	}
	return int64(len(body)), nil
}

// receive takes one file in. It says whether the body can be read on.
func (s *server) receive(ctx context.Context, up *upload, part *multipart.Part) (more bool, err error) {
	if len(up.files) >= formFields {
		return false, fmt.Errorf("%w: more than %d files", errTooLarge, formFields)
	}
	f := received{name: jobs.PlainFileName(part.FileName())}
	f.facts, f.err = s.Media.Intake(ctx, part)
	if f.err == nil && f.facts.Kind == media.HEIC {
		f.view = up.view
	}
	up.view = nil
	var refusal *media.Refusal
	switch {
	case f.err == nil, errors.As(f.err, &refusal):
		up.files = append(up.files, f)
		return true, nil
	case isLong(f.err):
		up.files = append(up.files, f)
		return false, nil
	case errors.Is(f.err, media.ErrStorageFull):
		s.Log.Error("no room for photographs", "id", requestID(ctx), "error", f.err)
		up.files = append(up.files, f)
		return false, nil
	case errors.Is(f.err, io.ErrUnexpectedEOF):
		return false, fmt.Errorf("%w: the connection broke within %s: %w", errForm, f.name, f.err)
	}
	return false, fmt.Errorf("take %s in: %w", f.name, f.err)
}

// receiveView takes in the picture that a browser made of the photograph that comes next. One that is no JPEG, or did not arrive, is
// left out: the photograph itself is what counts.
func (s *server) receiveView(ctx context.Context, part *multipart.Part) (*media.Photo, error) {
	facts, err := s.Media.Intake(ctx, part)
	var refusal *media.Refusal
	switch {
	case err == nil && facts.Kind == media.JPEG:
		return &facts, nil
	case err == nil, errors.As(err, &refusal), errors.Is(err, media.ErrStorageFull), isLong(err):
		return nil, nil
	case errors.Is(err, io.ErrUnexpectedEOF):
		return nil, fmt.Errorf("%w: the connection broke within a view: %w", errForm, err)
	}
	return nil, fmt.Errorf("take a view in: %w", err)
}
