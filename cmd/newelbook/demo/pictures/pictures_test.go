package pictures_test

import (
	"bytes"
	"flag"
	"image"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"newelbook/cmd/newelbook/demo/pictures"
	"newelbook/media"
)

var keep = flag.String("pictures", "", "folder to leave every picture in")

// sample is what a demonstration might ask of a kind; time and place are invented.
func sample(kind pictures.Kind) pictures.Params {
	measures := map[pictures.Kind]string{
		pictures.BoltTape: `2 1/8"`, pictures.SleeveDepth: `8 1/2"`, pictures.BalusterGap: `3 13/16"`,
		pictures.Overhang: `1 1/4"`, pictures.RailEnd: `41 3/8"`, pictures.StairRail: `36 1/4"`,
	}
	lat, lon := 44.25, -72.5
	return pictures.Params{
		Label: "R1-P3", Note: "south side", Permit: "DEMO-0417", Measure: measures[kind],
		At:  time.Date(2026, time.June, 9, 14, 5, 37, 0, time.FixedZone("", -4*3600)),
		Lat: &lat, Lon: &lon, Orientation: 1,
	}
}

func mustDraw(t *testing.T, kind pictures.Kind, p pictures.Params) []byte {
	t.Helper()
	got, err := pictures.Draw(kind, p)
	if err != nil {
		t.Fatalf("Draw(%s): %v", kind, err)
	}
	return got
}

func mustDecode(t *testing.T, data []byte) image.Image {
	t.Helper()
	img, err := jpeg.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return img
}

func mustReadExif(t *testing.T, data []byte) media.Exif {
	t.Helper()
	x, err := media.ReadExif(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func TestDraw(t *testing.T) {
	if n := len(pictures.Kinds()); n != 19 {
		t.Errorf("Kinds lists %d kinds, want 19", n)
	}
	for _, kind := range pictures.Kinds() {
		t.Run(string(kind), func(t *testing.T) {
			t.Parallel()
			p := sample(kind)
			got := mustDraw(t, kind, p)
			if *keep != "" {
				if err := os.WriteFile(filepath.Join(*keep, string(kind)+".jpg"), got, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if len(got) >= 150_000 {
				t.Errorf("the picture has %d bytes, want fewer than 150,000", len(got))
			}
			img := mustDecode(t, got)
			if s := img.Bounds().Size(); s != image.Pt(1200, 900) && s != image.Pt(900, 1200) {
				t.Errorf("the picture has %v pixels, want 1200 x 900 or 900 x 1200", s)
			}
			if n := reddish(img); n < 1500 {
				t.Errorf("%d red pixels where the picture says that it was drawn, want at least 1500", n)
			}
			x := mustReadExif(t, got)
			want := media.Capture{
				Local:  media.WallTime{Year: 2026, Month: time.June, Day: 9, Hour: 14, Minute: 5, Second: 37},
				Offset: "-04:00", Source: "DateTimeOriginal",
			}
			if x.Problem != "" || x.Capture != want {
				t.Errorf("Exif says %+v (%s), want %+v", x.Capture, x.Problem, want)
			}
			if x.Make != "Drawn by newelbook" || x.Model != "Sketch 1" || x.Orientation != 1 {
				t.Errorf("Exif says %q, %q, orientation %d", x.Make, x.Model, x.Orientation)
			}
			if x.Position == nil || math.Abs(x.Position.Lat-*p.Lat) > 1e-6 || math.Abs(x.Position.Lon-*p.Lon) > 1e-6 {
				t.Errorf("Exif says position %+v, want %v, %v", x.Position, *p.Lat, *p.Lon)
			}
			if !bytes.Equal(got, mustDraw(t, kind, p)) {
				t.Error("the same picture drawn twice has different bytes")
			}
		})
	}
}

// reddish counts the pixels of red ink in the lower right, where the mark stands.
func reddish(img image.Image) int {
	b := img.Bounds()
	n := 0
	for y := b.Max.Y - 110; y < b.Max.Y; y++ {
		for x := b.Max.X - 380; x < b.Max.X; x++ {
			r, g, b, _ := img.At(x, y).RGBA()
			if r > g+0x4000 && r > b+0x4000 {
				n++
			}
		}
	}
	return n
}

func TestDrawOrientation(t *testing.T) {
	p := sample(pictures.RailEnd)
	upright := mustDecode(t, mustDraw(t, pictures.RailEnd, p))
	p.Orientation = 6
	data := mustDraw(t, pictures.RailEnd, p)
	if got := mustReadExif(t, data).Orientation; got != 6 {
		t.Errorf("Exif says orientation %d, want 6", got)
	}
	stored := mustDecode(t, data)
	w, h := upright.Bounds().Dx(), upright.Bounds().Dy()
	if s := stored.Bounds().Size(); s != image.Pt(h, w) {
		t.Fatalf("stored as %v, want %v", s, image.Pt(h, w))
	}
	// By the standard the stored first row is the right side of the scene and the stored first column its top.
	far := 0
	for y := 0; y < h; y += 3 {
		for x := 0; x < w; x += 3 {
			if apart(upright.At(x, y), stored.At(y, w-1-x)) > 60 {
				far++
			}
		}
	}
	if most := w * h / 9 / 100; far > most {
		t.Errorf("%d sampled pixels differ once the tag is applied, want at most %d", far, most)
	}
}

func apart(a, b interface{ RGBA() (r, g, b, a uint32) }) float64 {
	r1, g1, b1, _ := a.RGBA()
	r2, g2, b2, _ := b.RGBA()
	d := func(x, y uint32) float64 { return math.Abs(float64(x>>8) - float64(y>>8)) }
	return max(d(r1, r2), d(g1, g2), d(b1, b2))
}

func TestDrawClaims(t *testing.T) {
	p := pictures.Params{Label: "R1-B2"}
	x := mustReadExif(t, mustDraw(t, pictures.BalusterGap, p))
	if !x.Present || !x.Capture.IsZero() || x.Position != nil || x.Orientation != 1 {
		t.Errorf("without time and place Exif says %+v", x)
	}
	p = sample(pictures.BalusterGap)
	p.NoExif = true
	if x := mustReadExif(t, mustDraw(t, pictures.BalusterGap, p)); x.Present {
		t.Errorf("with NoExif the picture says %+v", x)
	}
}

func TestDrawShows(t *testing.T) {
	const kind = pictures.Overhang
	plain := mustDecode(t, mustDraw(t, kind, sample(kind)))
	for _, tt := range []struct {
		name   string
		change func(*pictures.Params)
	}{
		{"label", func(p *pictures.Params) { p.Label = "R2-B1" }},
		{"note", func(p *pictures.Params) { p.Note = "north side" }},
		{"permit", func(p *pictures.Params) { p.Permit = "DEMO-0418" }},
		{"no permit", func(p *pictures.Params) { p.Permit = "" }},
		{"measure", func(p *pictures.Params) { p.Measure = `1 1/2"` }},
		{"metric measure", func(p *pictures.Params) { p.Measure = "32 mm" }},
	} {
		p := sample(kind)
		tt.change(&p)
		changed := mustDecode(t, mustDraw(t, kind, p))
		n := 0
		for y := 0; y < 900; y += 2 {
			for x := 0; x < 1200; x += 2 {
				if apart(plain.At(x, y), changed.At(x, y)) > 60 {
					n++
				}
			}
		}
		if n < 20 {
			t.Errorf("another %s changes %d sampled pixels, want at least 20", tt.name, n)
		}
	}
}

func TestDrawRefuses(t *testing.T) {
	lat, lon, far := 44.0, -72.0, 91.0
	for _, tt := range []struct {
		name string
		kind pictures.Kind
		p    pictures.Params
	}{
		{"no kind", "", pictures.Params{}},
		{"unknown kind", "selfie", pictures.Params{}},
		{"orientation", pictures.Wide, pictures.Params{Orientation: 3}},
		{"latitude alone", pictures.PermitCard, pictures.Params{Lat: &lat}},
		{"longitude alone", pictures.PermitCard, pictures.Params{Lon: &lon}},
		{"off the earth", pictures.PermitCard, pictures.Params{Lat: &far, Lon: &lon}},
	} {
		if got, err := pictures.Draw(tt.kind, tt.p); err == nil || got != nil {
			t.Errorf("%s: Draw = %d bytes, %v, want an error and no picture", tt.name, len(got), err)
		}
	}
}
