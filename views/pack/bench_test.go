package pack_test

import (
	"fmt"
	"io"
	"runtime"
	"testing"
	"time"

	"newelbook/views/pack"
)

// photographs is a document of n photographs of 1600 x 1200 pixels, made from a few files.
func photographs(b *testing.B, n int) (pack.Document, int64) {
	b.Helper()
	files := make([][]byte, 4)
	for i := range files {
		files[i] = jpegOf(b, uint64(i+1), 1600, 1200)
	}
	d := pack.Document{Title: "Photographs of a sample job", JobRef: "NB-0107", Number: "Pack 9", Lang: "en", Created: time.Unix(1795600000, 0)}
	s := pack.Section{Heading: "Photographs", Level: 1}
	total := int64(0)
	for i := range n {
		f := files[i%len(files)]
		s.Blocks = append(s.Blocks, photo(i+1, f, 1600, 1200))
		total += int64(len(f))
	}
	d.Sections = []pack.Section{s}
	return d, total
}

func BenchmarkWritePDF(b *testing.B) {
	for _, n := range []int{20, 500} {
		b.Run(fmt.Sprintf("%d photographs", n), func(b *testing.B) {
			d, total := photographs(b, n)
			b.SetBytes(total)
			runtime.GC()
			b.ResetTimer()
			for b.Loop() {
				if err := pack.WritePDF(io.Discard, d, pack.Options{Fonts: pack.Fonts()}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportAllocs()
		})
	}
}

func BenchmarkWriteZIP(b *testing.B) {
	d, total := photographs(b, 200)
	bag := pack.Bag{Name: "NB-0107-pack-9"}
	for i, block := range d.Sections[0].Blocks {
		r, err := block.(pack.Photo).Open()
		if err != nil {
			b.Fatal(err)
		}
		file, err := io.ReadAll(r)
		if err != nil {
			b.Fatal(err)
		}
		bag.Files = append(bag.Files, pack.Bytes(fmt.Sprintf("data/originals/%d.jpg", i), file))
	}
	b.SetBytes(total)
	for b.Loop() {
		if err := bag.WriteZIP(b.Context(), io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}
