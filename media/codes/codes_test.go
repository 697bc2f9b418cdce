package codes_test

import (
	"flag"
	"fmt"
	"image"
	"image/png"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"rsc.io/qr"

	"newelbook/media/codes"
	"newelbook/media/codes/scenes"
)

var (
	scenesEach = flag.Int("scenes", 0, "how many scenes of each class TestRead draws, 0 for its own number")
	keep       = flag.String("keep", "", "folder that keeps the first scene of each class and those not read")
)

// tagged is a code as place tags have it, with another text for each number.
func tagged(t testing.TB, n int) (string, *qr.Code) {
	text := fmt.Sprintf("NB1K7D2A3R5T2K7D2A3P5P%03dABCD", n%1000)
	code, err := qr.Encode(text, qr.Q)
	if err != nil {
		t.Fatal(err)
	}
	if code.Size != codes.Modules {
		t.Fatalf("a code of %d characters has %d modules a side, want %d", len(text), code.Size, codes.Modules)
	}
	return text, code
}

// class is scenes of one kind. least is the share in a hundred that must be read: of 400 scenes each at least that many were.
type class struct {
	name  string
	least int
	make  func(s *scenes.Scene, r *rand.Rand)
}

func anyTurn(s *scenes.Scene, r *rand.Rand) { s.Turn = r.Float64() * 360 }

func classes() []class {
	turned := func(change func(s *scenes.Scene, r *rand.Rand)) func(s *scenes.Scene, r *rand.Rand) {
		return func(s *scenes.Scene, r *rand.Rand) {
			anyTurn(s, r)
			change(s, r)
		}
	}
	code := func(px float64) func(s *scenes.Scene, r *rand.Rand) {
		return turned(func(s *scenes.Scene, r *rand.Rand) { s.Code = px })
	}
	return []class{
		{"square on, large", 100, func(s *scenes.Scene, r *rand.Rand) { s.Code = 240 }},
		{"turned", 100, anyTurn},
		{"3 pixels a module", 100, code(75)},
		{"2.4 pixels a module", 100, code(60)},
		{"2 pixels a module", 95, code(50)},
		{"1.7 pixels a module", 50, code(42)},
		{"slanting 30 to 45 degrees", 100, turned(func(s *scenes.Scene, r *rand.Rand) { s.Yaw = 30 + 15*r.Float64() })},
		{"slanting 45 to 60 degrees", 100, turned(func(s *scenes.Scene, r *rand.Rand) { s.Yaw = 45 + 15*r.Float64() })},
		{"near and slanting both ways", 85, turned(func(s *scenes.Scene, r *rand.Rand) {
			s.Code, s.Yaw, s.Pitch = 190, 20+25*r.Float64(), 20+20*r.Float64()
		})},
		{"an eighth of the light", 100, turned(func(s *scenes.Scene, r *rand.Rand) { s.Light, s.Noise = 0.12, 4 })},
		{"a twelfth of the light", 50, turned(func(s *scenes.Scene, r *rand.Rand) { s.Light, s.Noise = 0.08, 5 })},
		{"haze", 100, turned(func(s *scenes.Scene, r *rand.Rand) { s.Light, s.Haze = 0.2, 120 })},
		{"a shadow's edge across it", 95, turned(func(s *scenes.Scene, r *rand.Rand) { s.Shadow = true })},
		{"dirt on 5 in a hundred", 95, turned(func(s *scenes.Scene, r *rand.Rand) { s.Dirt = 0.05 })},
		{"dirt on 10 in a hundred", 70, turned(func(s *scenes.Scene, r *rand.Rand) { s.Dirt = 0.10 })},
		{"dirt on 15 in a hundred", 30, turned(func(s *scenes.Scene, r *rand.Rand) { s.Dirt = 0.15 })},
		{"out of focus, by a third of a module", 100, turned(func(s *scenes.Scene, r *rand.Rand) { s.Blur = 1.3 })},
		{"out of focus, by half a module", 90, turned(func(s *scenes.Scene, r *rand.Rand) { s.Blur = 2 })},
		{"shaken by a module", 95, turned(func(s *scenes.Scene, r *rand.Rand) { s.Shake = 4 })},
		{"noise", 95, turned(func(s *scenes.Scene, r *rand.Rand) { s.Noise = 20 })},
		{"JPEG of quality 20", 100, turned(func(s *scenes.Scene, r *rand.Rand) { s.Quality = 20 })},
		{"a little of everything", 75, turned(func(s *scenes.Scene, r *rand.Rand) {
			s.Code, s.Yaw, s.Dirt, s.Light, s.Falloff, s.Noise, s.Blur, s.Quality = 90, 25, 0.04, 0.5, 0.5, 8, 0.9, 70
		})},
	}
}

// TestRead reads scenes of each class. Whatever is read is what the code says: no class may have a wrong one.
func TestRead(t *testing.T) {
	each := 5
	if testing.Short() {
		each = 2
	}
	if *scenesEach > 0 {
		each = *scenesEach
	}
	for k, c := range classes() {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			read := 0
			for i := range each {
				rnd := rand.New(rand.NewPCG(uint64(k), uint64(i)))
				s := scenes.Scene{Width: 640, Height: 480, Code: 100, Light: 0.9, Noise: 3, Blur: 0.5, Quality: 85}
				c.make(&s, rnd)
				text, code := tagged(t, 31*k+i)
				img := scenes.Draw(s, code.Size, code.Black, rnd)
				got := codes.Read(img)
				switch {
				case slices.Equal(got, []string{text}):
					read++
				case len(got) > 0:
					t.Errorf("scene %d: read %q, want %q", i, got, text)
				}
				if *keep != "" && (i == 0 || len(got) == 0) {
					keepScene(t, fmt.Sprintf("%02d-%s-%03d-read-%d.png", k, strings.ReplaceAll(c.name, " ", "-"), i, len(got)), img)
				}
			}
			t.Logf("read %d of %d", read, each)
			if 100*(read+1) < c.least*each { // one less than that many, since few are drawn
				t.Errorf("read %d of %d, want %d in a hundred", read, each, c.least)
			}
		})
	}
}

func keepScene(t *testing.T, name string, img image.Image) {
	f, err := os.Create(filepath.Join(*keep, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}

// TestReadSeveral reads two tags in one picture, and none where there is none.
func TestReadSeveral(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	s := scenes.Scene{Width: 400, Height: 400, Code: 110, Turn: 20, Light: 0.9, Noise: 3, Blur: 0.5}
	one, first := tagged(t, 1)
	two, second := tagged(t, 2)
	left, right := scenes.Draw(s, first.Size, first.Black, rnd), scenes.Draw(s, second.Size, second.Black, rnd)
	both := image.NewGray(image.Rect(0, 0, 800, 400))
	for y := range 400 {
		copy(both.Pix[y*800:], left.Pix[y*400:][:400])
		copy(both.Pix[y*800+400:], right.Pix[y*400:][:400])
	}
	got := codes.Read(both)
	slices.Sort(got)
	if !slices.Equal(got, []string{one, two}) {
		t.Errorf("read %q, want %q and %q", got, one, two)
	}
	if got := codes.Read(both.SubImage(image.Rect(0, 0, 400, 400)).(*image.Gray)); !slices.Equal(got, []string{one}) {
		t.Errorf("read %q in the left half, want %q", got, one)
	}
	boards := scenes.Draw(s, 1, func(int, int) bool { return false }, rnd)
	if got := codes.Read(boards); len(got) > 0 {
		t.Errorf("read %q where there is no code", got)
	}
}

// TestReadOdd reads pictures that are no photographs: it must end, soon, and read nothing.
func TestReadOdd(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	fill := func(w, h int, at func(x, y int) byte) *image.Gray {
		img := image.NewGray(image.Rect(0, 0, w, h))
		for y := range h {
			for x := range w {
				img.Pix[y*w+x] = at(x, y)
			}
		}
		return img
	}
	_, code := tagged(t, 5)
	for name, img := range map[string]*image.Gray{
		"nothing":    image.NewGray(image.Rectangle{}),
		"one pixel":  fill(1, 1, func(int, int) byte { return 9 }),
		"one row":    fill(5000, 1, func(x, _ int) byte { return byte(x) }),
		"white":      fill(500, 400, func(int, int) byte { return 255 }),
		"static":     fill(1200, 900, func(int, int) byte { return byte(rnd.Uint32()) }),
		"two tones":  fill(1200, 900, func(int, int) byte { return byte(255 * (rnd.Uint32() & 1)) }),
		"mark wall":  fill(1200, 900, func(x, y int) byte { return marked(x/2%9, y/2%9) }),
		"large wall": fill(1200, 900, func(x, y int) byte { return marked(x/5%9, y/5%9) }),
		"half a code": fill(300, 300, func(x, y int) byte {
			if x < 150 && code.Black(x/12, y/12) {
				return 0
			}
			return 255
		}),
	} {
		t.Run(name, func(t *testing.T) {
			if got := codes.Read(img); len(got) > 0 {
				t.Errorf("read %q", got)
			}
		})
	}
}

// marked is the grey of a place on a mark with its margin, nine modules a side.
func marked(u, v int) byte {
	ring := max(u-4, 4-u, v-4, 4-v)
	if ring == 3 || ring < 2 {
		return 0
	}
	return 255
}

// FuzzRead reads whatever comes: it must not panic, and must read the same again.
func FuzzRead(f *testing.F) {
	_, code := tagged(f, 7)
	var plain []byte
	for y := range 66 {
		for x := range 66 {
			v := byte(255)
			if x >= 8 && y >= 8 && code.Black((x-8)/2, (y-8)/2) {
				v = 0
			}
			plain = append(plain, v)
		}
	}
	f.Add(uint16(66), plain)
	f.Add(uint16(40), []byte(strings.Repeat("\x00\xff\x00\x00\x00\xff\x00 ", 300)))
	f.Fuzz(func(t *testing.T, width uint16, pix []byte) {
		w := max(1, int(width%512))
		img := &image.Gray{Pix: pix, Stride: w, Rect: image.Rect(0, 0, w, len(pix)/w)}
		first := codes.Read(img)
		if again := codes.Read(img); !slices.Equal(first, again) {
			t.Errorf("read %q, then %q", first, again)
		}
	})
}

// BenchmarkRead reads a picture as large as a photograph of 12 megapixels is decoded to: with a tag, with none, and one made to
// take as long as can be.
func BenchmarkRead(b *testing.B) {
	_, code := tagged(b, 5)
	rnd := rand.New(rand.NewPCG(5, 6))
	s := scenes.Scene{Width: 2000, Height: 1500, Code: 200, Turn: 10, Light: 0.9, Noise: 3, Blur: 0.5}
	wall := image.NewGray(image.Rect(0, 0, 2000, 1500))
	for i := range wall.Pix {
		wall.Pix[i] = marked(i%2000/3%9, i/2000/3%9)
	}
	for _, c := range []struct {
		name string
		img  *image.Gray
	}{
		{"tag", scenes.Draw(s, code.Size, code.Black, rnd)},
		{"none", scenes.Draw(s, 1, func(int, int) bool { return false }, rnd)},
		{"wall", wall},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				codes.Read(c.img)
			}
		})
	}
}
