package pack_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"math/rand/v2"
	"testing"
	"time"

	"newelbook/views/draw"
	"newelbook/views/pack"
)

// jpegOf draws an invented picture: boards and a post in the colours of wood, with noise from the seed.
func jpegOf(t testing.TB, seed uint64, w, h int) []byte {
	t.Helper()
	rnd := rand.New(rand.NewPCG(seed, 7))
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	post := w/3 + int(seed*37)%(w/4)
	for y := range h {
		for x := range w {
			v := 150 + (x*60/w - y*40/h) + int(rnd.Uint32()%17)
			if y*24/h%2 == 0 {
				v -= 18
			}
			if x > post && x < post+w/9 {
				v -= 55
			}
			img.SetRGBA(x, y, color.RGBA{uint8(min(255, v+18)), uint8(max(0, v-12)), uint8(max(0, v-52)), 255})
		}
	}
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, img, &jpeg.Options{Quality: 82}); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// opener opens the same bytes as often as asked.
func opener(b []byte) func() (io.ReadCloser, error) {
	return func() (io.ReadCloser, error) { return io.NopCloser(bytes.NewReader(b)), nil }
}

func photo(n int, file []byte, w, h int) pack.Photo {
	return pack.Photo{
		Number: fmt.Sprintf("Photo %d", n), ID: fmt.Sprintf("photo-%d", n), Picture: fmt.Sprintf("derived/sample-%d.jpg", n),
		Open: opener(file), Size: int64(len(file)), W: w, H: h,
		Caption: "Blocking and hold-down before the decking covers them, seen from the yard side",
		Place:   fmt.Sprintf("R1-P%d", n), Claimed: "11 November 2026, 14:07, no offset in the file",
		Received: "11 November 2026, 14:31 -05:00, from the crew's phone", ShortHash: "9f2c 41d0 7be3 a118",
		Alt: "A post in its sleeve between two joists, with solid blocking on both sides",
	}
}

// sample is an invented job: nobody's deck.
func sample(t testing.TB) pack.Document {
	t.Helper()
	land, tall := jpegOf(t, 1, 640, 480), jpegOf(t, 2, 480, 640)
	flagged := photo(3, land, 640, 480)
	flagged.Flags = []string{"Captured after the run was covered.", "The file was saved by an editor."}
	flagged.Claimed = ""
	return pack.Document{
		Title: "Rear deck guard, Sample Lane 12", Subtitle: "Issued after framing, before the decking is laid",
		Edition: "Inspector's edition", JobRef: "NB-0107", Site: "12 Sample Lane, Exampleton (invented)", Number: "Pack 2",
		Issued: "25 November 2026", RuleSet: "IRC 2021, with the amendments of Exampleton", Author: "Sample Builders (invented)",
		Lang: "en-US", Created: time.Date(2026, 11, 25, 16, 30, 0, 0, time.UTC),
		Facts: []pack.Fact{
			{Key: "Owner", Value: pack.Cell{Text: "A. Sample (invented)"}},
			{Key: "Builder", Value: pack.Cell{Text: "Sample Builders (invented)"}},
			{Key: "Permit", Value: pack.Cell{Text: "EX-2026-0415"}},
			{Key: "Record, SHA-256", Value: pack.Cell{Text: "3f0a 9b6c 11d2 e7c4 …"}},
		},
		Cautions: []string{
			"The adopted code and its local amendments govern. This pack says what was measured against which figure; it is not an approval.",
			"An opening left open is a fall hazard. Temporary protection stays until the guard stands.",
		},
		QR: sampleQR(),
		Sections: []pack.Section{
			summary(), built(), rules(), stage(), deviations(),
			{ID: "photographs", Heading: "Photographs", Level: 1, Blocks: []pack.Block{
				pack.Para{Runs: []pack.Run{{Text: "Each picture is made from an original that the ZIP holds untouched under its SHA-256. The capture time is what the file claims; the time of receipt is the server's own."}}},
				photo(1, land, 640, 480), photo(2, tall, 480, 640), flagged, photo(4, land, 640, 480),
			}},
			{Heading: "Care and cautions", Level: 1, Blocks: []pack.Block{
				pack.Note{Label: "Care", Runs: []pack.Run{{Text: "Look at every connector each spring. Tighten what has worked loose, and say so in writing."}}},
				pack.Para{Runs: []pack.Run{{Text: "Owner’s name in other letters: Σάμπλ, Пример. Temperature 20 °C, 1½ turns."}}},
			}},
			{Heading: "Sign-offs", Level: 1, Blocks: []pack.Block{pack.SignOff{Lines: []pack.SignLine{
				{Says: "I built what this pack describes and measured it as written.", Name: "B. Builder (invented)", Office: "Sample Builders", Date: "25 November 2026"},
				{Says: "I have read this pack and accept the work, save what I have written below.", Office: "Owner"},
				{Says: "Inspected.", Office: "Authority having jurisdiction"},
			}}}},
			{Heading: "Integrity", Level: 1, Blocks: []pack.Block{pack.Integrity{Facts: []pack.Fact{
				{Key: "record.json, SHA-256", Value: pack.Cell{Text: "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"}},
				{Key: "Head of the chain of events", Value: pack.Cell{Text: "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"}},
				{Key: "How to check", Value: pack.Cell{Text: "Run newelbook verify on the ZIP, or sha256sum -c manifest-sha256.txt in the unzipped folder."}},
			}}}},
		},
	}
}

func sampleQR() *pack.QR {
	const side = 25
	q := &pack.QR{Says: "NB-0107 / pack 2", Side: side, Black: make([]bool, side*side)}
	rnd := rand.New(rand.NewPCG(3, 3))
	for i := range q.Black {
		q.Black[i] = rnd.Uint32()%2 == 0
	}
	return q
}

func summary() pack.Section {
	return pack.Section{ID: "summary", Heading: "Summary, and what is unusual", Level: 1, Blocks: []pack.Block{
		pack.Para{Runs: []pack.Run{
			{Text: "Forty-six checks stand for this stage. "}, {Text: "Two fail a limit", Tone: pack.Fails, To: "deviations"},
			{Text: ", one is "}, {Text: "too close to call", Tone: pack.TooClose},
			{Text: ", and three have not been checked. The guard stands 3'-6 1/2\" above the finished decking at its lowest, against a limit of 36 in (R312.1.2)."},
		}},
		pack.Numbers{Items: []pack.Number{
			{Value: "42 1/2 in", Label: "lowest guard height measured", Source: "limit 36 in, IRC R312.1.2"},
			{Value: "4 1/16 in", Label: "widest opening measured", Source: "limit less than 4 in, IRC R312.1.3", Tone: pack.Fails},
			{Value: "34° 12'", Label: "rake of the stair", Source: "from a rise of 7 1/8 in and a run of 10 1/2 in"},
		}},
		pack.Note{Label: "Removable length", Caution: true, Runs: []pack.Run{{Text: "Run R3 can be lifted out. A removable length of guard is not accepted as a required guard in most places; the owner's acknowledgement and the authority's answer are "}, {Text: "not recorded", Bold: true, Tone: pack.Missing}, {Text: "."}}},
	}}
}

func built() pack.Section {
	s := draw.Sheet{Width: 150, Height: 62, Scale: "1:20", Title: "Run R1, elevation", Alt: "Elevation of run R1: three posts, two bays, bottom rail and top rail with cap"}
	for i := range 3 {
		x := 10 + float64(i)*60
		s.Items = append(s.Items, draw.Outline{Weight: draw.Heavy, Fill: draw.Hatch, Points: []draw.Point{{X: x, Y: 8}, {X: x + 5, Y: 8}, {X: x + 5, Y: 50}, {X: x, Y: 50}}},
			draw.Text{At: draw.Point{X: x + 2.5, Y: 6}, Body: fmt.Sprintf("R1-P%d", i+1), Size: 3, Anchor: draw.Middle, Bold: true})
	}
	for i := range 2 {
		x := 15 + float64(i)*60
		s.Items = append(s.Items, draw.Outline{Weight: draw.Medium, Fill: draw.Wash, Tone: draw.Accent, Points: []draw.Point{{X: x, Y: 12}, {X: x + 55, Y: 12}, {X: x + 55, Y: 16}, {X: x, Y: 16}}},
			draw.Outline{Weight: draw.Medium, Points: []draw.Point{{X: x, Y: 42}, {X: x + 55, Y: 42}, {X: x + 55, Y: 46}, {X: x, Y: 46}}},
			draw.Line{A: draw.Point{X: x, Y: 56}, B: draw.Point{X: x + 55, Y: 56}, Weight: draw.Hairline},
			draw.Text{At: draw.Point{X: x + 27.5, Y: 55}, Body: "71 15/16", Size: 3.4, Anchor: draw.Middle, Tone: draw.Tone(i * 3)})
		for k := range 9 {
			b := x + 4 + float64(k)*5.6
			s.Items = append(s.Items, draw.Line{A: draw.Point{X: b, Y: 16}, B: draw.Point{X: b, Y: 42}, Weight: draw.Light})
		}
	}
	s.Items = append(s.Items, draw.Line{A: draw.Point{X: 2, Y: 50}, B: draw.Point{X: 148, Y: 50}, Weight: draw.Medium, Tone: draw.Faint},
		draw.Line{A: draw.Point{X: 72.5, Y: 4}, B: draw.Point{X: 72.5, Y: 60}, Weight: draw.Hairline, Dash: draw.Centre},
		draw.Circle{Centre: draw.Point{X: 72.5, Y: 30}, Radius: 3, Weight: draw.Medium, Tone: draw.Red, Dash: draw.Hidden},
		draw.Text{At: draw.Point{X: 5, Y: 40}, Body: "36 1/2", Size: 3, Angle: 90})
	broad := s
	broad.Width = 240
	return pack.Section{ID: "built", Heading: "What was built", Level: 1, Blocks: []pack.Block{
		pack.KeyValues{Facts: []pack.Fact{
			{Key: "Posts", Value: pack.Cell{Text: "4 x 4 nominal, 3 1/2 in measured, southern pine, sleeved"}},
			{Key: "Rails", Value: pack.Cell{Text: "2 x 4 on edge, connector allowance 1/8 in at each end"}},
			{Key: "Infill", Value: pack.Cell{Text: "round balusters 3/4 in, equal gaps"}},
			{Key: "Cap rail", Value: pack.Cell{Text: "not recorded", Tone: pack.Missing}},
		}},
		pack.Drawing{Number: "Drawing 1", Caption: "Run R1, elevation from the yard side.", Sheet: s},
		pack.Drawing{Number: "Drawing 2", Caption: "Runs R1 and R2 in one line.", Sheet: broad},
	}}
}

func rules() pack.Section {
	return pack.Section{ID: "rules", Heading: "Rules applied", Level: 1, Blocks: []pack.Block{pack.Table{
		Caption: "Limits used",
		Columns: []pack.Column{{Head: "What", Weight: 4}, {Head: "Limit", Weight: 2, Align: pack.Right}, {Head: "Clause", Weight: 2}, {Head: "Standing", Weight: 2}},
		Rows: [][]pack.Cell{
			{{Text: "Guard height, deck"}, {Text: "at least 36 in"}, {Text: "IRC R312.1.2"}, {Text: "official text"}},
			{{Text: "Opening, level guard"}, {Text: "a 4 in sphere does not pass"}, {Text: "IRC R312.1.3"}, {Text: "official text"}},
			{{Text: "Plumb of posts"}, {Text: "1/4 in in 4 ft"}, {Text: "job setting"}, {Text: "common practice, no source"}},
		},
	}}}
}

func stage() pack.Section {
	var rows [][]pack.Cell
	for i := range 34 {
		word, tone := "good", pack.Good
		switch i % 9 {
		case 3:
			word, tone = "off the layout", pack.OffLayout
		case 5:
			word, tone = "too close to call", pack.TooClose
		case 7:
			word, tone = "fails the limit", pack.Fails
		case 8:
			word, tone = "not checked", pack.Unchecked
		}
		measured := fmt.Sprintf("%d %d/16 in", 2+i%3, 1+2*(i%8))
		if tone == pack.Unchecked {
			measured = "not recorded"
		}
		rows = append(rows, []pack.Cell{
			{Text: "Clear gap, baluster to baluster"}, {Text: fmt.Sprintf("R1-B%d", 1+i/4)}, {Text: "3 15/16 in"}, {Text: measured, Bold: true, Tone: pack.Plain},
			{Text: "1/16 in"}, {Text: word, Tone: tone}, {Text: fmt.Sprintf("Photo %d", 1+i%4), To: fmt.Sprintf("photo-%d", 1+i%4)}, {Text: "R312.1.3"},
		})
	}
	return pack.Section{ID: "stage-infill", Heading: "Infill", Level: 2, Blocks: []pack.Block{pack.Table{
		Caption: "Checks of stage infill, what fails first",
		Columns: []pack.Column{
			{Head: "Item", Weight: 3}, {Head: "Where", Weight: 1}, {Head: "Layout", Weight: 1.4, Align: pack.Right},
			{Head: "Measured", Weight: 1.8, Align: pack.Right, Measure: true}, {Head: "Tolerance", Weight: 1.2, Align: pack.Right},
			{Head: "Result", Weight: 2}, {Head: "Evidence", Weight: 1.2}, {Head: "Source", Weight: 1.2},
		},
		Rows: rows,
	}}}
}

func deviations() pack.Section {
	return pack.Section{ID: "deviations", Heading: "Deviations", Level: 1, Blocks: []pack.Block{
		pack.Table{Columns: []pack.Column{{Head: "Deviation", Weight: 1}, {Head: "What was found", Weight: 3}, {Head: "What became of it", Weight: 3}},
			Rows: [][]pack.Cell{
				{{Text: "D-1", Bold: true}, {Text: "Opening of 4 1/16 in at R1-B2, limit less than 4 in (R312.1.3).", Tone: pack.Fails}, {Text: "Put right on 20 November 2026 and measured again at 3 7/8 in by B. Builder (invented)."}},
				{{Text: "D-2", Bold: true}, {Text: "No photograph of the blocking at R2-P4 before the run was covered."}, {Text: "Referred to the authority.\nAnswer: not recorded."}},
			}},
	}}
}
