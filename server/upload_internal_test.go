package server

import (
	"bytes"
	"errors"
	"image"
	"image/jpeg"
	"io"
	"log/slog"
	"math/rand/v2"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"testing"

	"github.com/gin-gonic/gin"

	"newelbook/media"
)

// noise is a JPEG that does not compress, of about 10 kB.
func noise(t *testing.T, seed uint64) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 100, 100))
	r := rand.New(rand.NewPCG(seed, seed))
	for i := range img.Pix {
		img.Pix[i] = uint8(r.UintN(256))
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 100}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// A body that is longer than its route takes loses the file that it ends in, and none before.
func TestReadUploadCutShort(t *testing.T) {
	library, err := media.Open(t.TempDir(), media.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := library.Close(); err != nil {
			t.Error(err)
		}
	})
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	if err := w.WriteField("caption", "Both bolts"); err != nil {
		t.Fatal(err)
	}
	for i := range uint64(3) {
		part, err := w.CreateFormFile(photosField, "a.jpg")
		if err != nil {
			t.Fatal(err)
		}
		if _, err := part.Write(noise(t, i)); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	s := &server{Deps: Deps{Media: library, Log: slog.New(slog.DiscardHandler)}}
	for _, c := range []struct {
		name       string
		most       int
		whole, cut int // files taken in, and files told to be missing
	}{
		{"all of it", body.Len(), 3, 0},
		{"the end of the third", body.Len() - 200, 2, 1},
		{"the middle of the second", body.Len() / 2, 1, 1},
	} {
		quiet()
		ctx, _ := gin.CreateTestContext(httptest.NewRecorder())
		ctx.Request = httptest.NewRequest(http.MethodPost, "/", bytes.NewReader(body.Bytes()))
		ctx.Request.Header.Set("Content-Type", w.FormDataContentType())
		ctx.Request.Body = http.MaxBytesReader(ctx.Writer, io.NopCloser(bytes.NewReader(body.Bytes())), int64(c.most))
		up, err := s.readUpload(ctx, func(form) error { return nil })
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		whole, cut := 0, 0
		for _, f := range up.files {
			switch {
			case f.err == nil:
				whole++
			case isLong(f.err):
				cut++
			}
		}
		if whole != c.whole || cut != c.cut || len(up.files) != whole+cut || up.form.text("caption") != "Both bolts" {
			t.Errorf("%s: %d whole and %d cut of %d, caption %q; want %d and %d", c.name, whole, cut, len(up.files), up.form.text("caption"), c.whole, c.cut)
		}
	}

	ctx, _ := gin.CreateTestContext(httptest.NewRecorder())
	ctx.Request = httptest.NewRequest(http.MethodPost, "/", bytes.NewReader(body.Bytes()[:body.Len()/2]))
	ctx.Request.Header.Set("Content-Type", w.FormDataContentType())
	if _, err := s.readUpload(ctx, func(form) error { return nil }); !errors.Is(err, errForm) {
		t.Errorf("a body whose connection broke: %v, want errForm", err)
	}
}
