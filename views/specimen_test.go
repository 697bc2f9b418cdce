package views_test

import (
	"bytes"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"newelbook/checklist/length"
	"newelbook/views"
	"newelbook/views/draw"
)

var (
	update = flag.Bool("update", false, "write the golden files again")
	out    = flag.String("out", "", "folder to write the specimen and its assets to, for looking at in a browser")
)

func TestSpecimen(t *testing.T) {
	for _, c := range []struct {
		name string
		page views.SpecimenPage
	}{
		{"specimen", specimen()},
		{"specimen_errors", specimenErrors()},
	} {
		var buf bytes.Buffer
		if err := views.Render(&buf, c.page); err != nil {
			t.Fatalf("Render(%s): %v", c.name, err)
		}
		walk(t, c.name, buf.Bytes())
		golden(t, filepath.Join("testdata", "golden", c.name+".html.golden"), buf.Bytes())
		if *out != "" {
			writeOut(t, c.name, buf.Bytes())
		}
	}
}

// checksum finds the checksum in the path of an asset: goldens leave it out, so that a change of the style sheet does not
// change every page.
var checksum = regexp.MustCompile(`(/assets/[\w/-]+\.)[0-9a-f]{12}\.`)

// golden compares got with the file byte for byte, checksums of assets left out; a missing file fails.
func golden(t *testing.T, file string, got []byte) {
	t.Helper()
	got = checksum.ReplaceAll(got, []byte("${1}CHECKSUM."))
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatalf("%v (write it with -update)", err)
	}
	if !bytes.Equal(got, want) {
		g, w := bytes.Split(got, []byte("\n")), bytes.Split(want, []byte("\n"))
		for i := range max(len(g), len(w)) {
			if i >= len(g) || i >= len(w) || !bytes.Equal(g[i], w[i]) {
				t.Fatalf("%s differs from line %d\n got: %s\nwant: %s", file, i+1, at(g, i), at(w, i))
			}
		}
	}
}

func at(lines [][]byte, i int) []byte {
	if i >= len(lines) {
		return []byte("(end)")
	}
	return lines[i]
}

// writeOut writes a page with the assets under the paths that it names.
func writeOut(t *testing.T, name string, page []byte) {
	t.Helper()
	write := func(file string, body []byte) {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, body, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write(filepath.Join(*out, name+".html"), page)
	err := fs.WalkDir(views.Assets(), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		url, err := views.AssetPath(p)
		if err != nil {
			return err
		}
		body, _, _ := views.Asset(url)
		write(filepath.Join(*out, url), body)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// specimen is a page with every part. Everything on it is invented.
func specimen() views.SpecimenPage {
	in := func(n, num, den int64) length.Length {
		return length.Length(n)*length.Inch + length.MulDiv(length.Inch, num, den)
	}
	return views.SpecimenPage{
		Frame: views.Frame{
			Title: "Specimen of the sheet", Lead: "Every part in every state. Names, places and figures on this page are invented.",
			Who: views.Who{Name: "Ada Sample", Role: "builder"}, Place: "R1-B2", Flash: "Reading of R1-B2 saved.",
			Sheet: &views.TitleBlock{Job: "NB-0042", Site: "14 Example Lane, Sampleton", Sheet: "Specimen", Layout: "v3, built", Date: "25 Nov 2026",
				More: []views.Fact{{Label: "Permit", Value: "S-1001"}}},
			JobNav: []views.NavItem{{Label: "Job", URL: "#"}, {Label: "Layout", URL: "#", Note: "v3"}, {Label: "Checks", URL: "#", Note: "12 open", Current: true},
				{Label: "Photographs", URL: "#", Note: "38"}, {Label: "Deviations", URL: "#", Note: "1 open"}, {Label: "Site diary", URL: "#"}, {Label: "Packs", URL: "#"}},
		},
		Style: length.InchFraction, Clear: in(41, 3, 8), Nominal: in(41, 1, 2),
		Elevation: elevation(), Links: map[string]draw.Link{
			"r1/P1": {URL: "#r1-p1", Label: "R1-P1"}, "r1/P2": {URL: "#r1-p2", Label: "R1-P2"}, "r1/P3": {URL: "#r1-p3", Label: "R1-P3"}, "r1/P4": {URL: "#r1-p4", Label: "R1-P4"},
			"r1/B1": {URL: "#r1-b1", Label: "R1-B1"}, "r1/B2": {URL: "#r1-b2", Label: "R1-B2"}, "r1/B3": {URL: "#r1-b3", Label: "R1-B3"}},
		Detail: detail(),
		States: []string{"not checked", "good", "too close to call", "off the layout", "fails the limit", "open", "closed", "closed with a deviation",
			"cannot start yet", "hold point", "covered", "put right", "accepted", "referred", "on the server", "still on this phone", "sending", "wanted",
			"issued", "superseded", "retired", "expired", "planned", "as built", "not recorded", "not screened", "not needed", "not applicable", "yes", "no"},
		Rows: []views.Row{
			{Place: "R1-B2", Label: "Clear opening, top of the bottom rail", Note: "layout 41 1/2\", plus or minus 1/4\"", URL: "#", Figure: "41 3/8\"", Status: views.NewStatus("good")},
			{Place: "R1-B2-7", Label: "Clear gap", Note: "under 4\", invented figure", URL: "#", Figure: "4 1/16\"", Status: views.NewStatus("fails the limit")},
			{Place: "R1-P3", Label: "Upper bolt below the top of the rim", Note: "photograph wanted before the run is covered", URL: "#", Status: views.NewStatus("hold point")},
			{Place: "R1-P3", Label: "Height to the finished top", URL: "#", Figure: "36 1/64\"", Status: views.NewStatus("too close to call")},
			{Place: "R2-P2", Label: "Post centre from the datum", URL: "#", Figure: "1,806 mm", Status: views.NewStatus("off the layout")},
			{Place: "R1-B3", Label: "Under the bottom rail", Status: views.NewStatus("not checked")},
		},
		Facts: []views.Fact{
			{Label: "Permit", Value: "S-1001", Note: "Sampleton building office"},
			{Label: "Post stock", Value: "4x4, actual 3 1/2\" by 3 1/2\"", Note: "measured"},
			{Label: "Connector allowance", Value: "1/4\" at each end", Note: "dry fit, bay R1-B1"},
			{Label: "Engineer's letter"},
			{Label: "Layout", Value: "v3, built", URL: "#"},
		},
		Table: views.Table{Caption: "Rails, run R1", Heads: []views.Head{{Label: "Piece"}, {Label: "Where"}, {Label: "Clear opening", Unit: "in", Number: true}, {Label: "Cut", Unit: "in", Number: true}, {Label: "State"}},
			Rows: [][]views.Cell{
				{{Text: "R1-B1 top"}, {Text: "2x4 on edge"}, {Text: "68 1/2"}, {Text: "68"}, {Status: views.NewStatus("good")}},
				{{Text: "R1-B2 top", URL: "#"}, {Text: "2x4 on edge"}, {Text: "41 3/8"}, {Text: "40 7/8"}, {Status: views.NewStatus("off the layout")}},
				{{Text: "R1-B2 bottom"}, {Text: "2x4 on edge", Note: "was 41"}, {Text: "41 5/16"}, {Text: "40 13/16"}, {Status: views.NewStatus("not checked")}},
				{{Text: "R1-B3 top"}, {Text: "2x4 flat"}, {Text: "111 1/64"}, {Text: "110 1/2"}, {Status: views.NewStatus("superseded")}},
			}},
		Bare:   views.Table{Caption: "Deviations, run R1", Heads: []views.Head{{Label: "Number"}, {Label: "What"}, {Label: "State"}}, Empty: "none opened"},
		FormID: "7f0c1a", Site: "14 Example Lane, Sampleton",
		Editions: []views.Option{{Value: "", Label: "Pick one"}, {Value: "a", Label: "Sample rules, first edition"}, {Value: "b", Label: "Sample rules, second edition"}},
		Posts:    []views.Option{{Value: "p1", Label: "R1-P1"}, {Value: "p2", Label: "R1-P2"}, {Value: "p3", Label: "R1-P3"}, {Value: "p4", Label: "R1-P4"}},
		Picked:   []string{"p3"},
		Photos: []views.Photo{
			{ThumbURL: "/photo/1.jpg", FullURL: "#", Alt: "A lake between hills", Number: "Photo 12", Caption: "Inside face: blocking, both bolts, hold-down", Place: "R1-P3",
				Claimed: "25 Nov 2026, 09:12, no zone", Received: "25 Nov 2026, 09:14 +01:00", By: "Ada Sample", Hash: "3fa9 17c2 0b5e", Status: views.NewStatus("on the server")},
			{ThumbURL: "/photo/2.jpg", Alt: "A lake between hills, on its side", Number: "Photo 13", Caption: "Tape in frame at the bolt, 2 3/4\" to the edge", Place: "R1-P3",
				Received: "25 Nov 2026, 09:15 +01:00", By: "Ada Sample", Hash: "91d0 22ab e4f7", Flags: []string{"no capture time in the file", "saved by an editor"}, Status: views.NewStatus("on the server")},
			{Alt: "Not shown", Caption: "Wide, with label and neighbours", Place: "R1-P4", Status: views.NewStatus("still on this phone")},
		},
	}
}

// specimenErrors is the page as it comes back with something to put right.
func specimenErrors() views.SpecimenPage {
	p := specimen()
	p.Flash = ""
	for _, e := range [][2]string{
		{"reading", "Enter the clear opening as it reads on the tape, such as 41 3/8"}, {"site", "Enter the site"}, {"kerf", "Saw kerf must be under 1/2 in"},
		{"work", "Enter the work done"}, {"edition", "Pick a rule set"}, {"seen", "Say whether the drain is clear"}, {"posts", "Pick at least one post"},
		{"ack", "Confirm that the opening is closed off"}, {"photo", "Photograph 2 is larger than 40 MB"}, {"", "The job was changed by someone else while you wrote"},
	} {
		p.Errors = append(p.Errors, views.FieldError{Field: e[0], Message: e[1]})
	}
	return p
}

// elevation is an invented level run of three bays, at 3/4 in to the foot.
func elevation() draw.Sheet {
	const (
		scale = 25.4 / 16 // millimetres of paper to an inch
		left  = 12.0
		deck  = 66.0
	)
	s := draw.Sheet{Width: 268, Height: 99, Scale: "3/4\" = 1'-0\"", Title: "Elevation of run R1", Alt: "Three bays between four posts, seen from the yard; bay 2 is in hand."}
	x := func(in float64) float64 { return left + in*scale }
	y := func(in float64) float64 { return deck - in*scale }
	box := func(x1, y1, x2, y2 float64) []draw.Point {
		return []draw.Point{{X: x(x1), Y: y(y1)}, {X: x(x2), Y: y(y1)}, {X: x(x2), Y: y(y2)}, {X: x(x1), Y: y(y2)}}
	}
	put := func(items ...draw.Item) { s.Items = append(s.Items, items...) }
	posts := []float64{0, 55.5, 100.5, 146}
	for i := range 3 {
		put(draw.Outline{Points: box(posts[i]+3.5, 3, posts[i+1], 36), Weight: draw.Hairline, Tone: draw.Faint, ID: fmt.Sprintf("r1/B%d", i+1)})
	}
	for b := 0; x(float64(b)*5.6) < x(149); b++ {
		put(draw.Outline{Points: box(float64(b)*5.6, -1, min(float64(b)*5.6+5.5, 149.5), 0), Weight: draw.Hairline, Tone: draw.Faint})
	}
	put(draw.Outline{Points: box(0, -10.25, 149.5, -1), Weight: draw.Medium, Tone: draw.Faint})
	for i := range 3 {
		a, b := posts[i]+3.5, posts[i+1]
		put(draw.Outline{Points: box(a, 33, b, 36), Weight: draw.Medium, Fill: draw.Paper}, draw.Outline{Points: box(a, 3, b, 6.5), Weight: draw.Medium, Fill: draw.Paper})
		n := int((b - a) / 5.25)
		gap := (b - a - 1.5*float64(n)) / float64(n+1)
		for k := range n {
			m := a + gap + float64(k)*(1.5+gap)
			tone := draw.Ink
			if i == 1 && k == 6 {
				tone = draw.Red
			}
			put(draw.Outline{Points: box(m, 6.5, m+1.5, 33), Weight: draw.Light, Tone: tone})
		}
		put(draw.Text{At: draw.Point{X: x((a + b) / 2), Y: y(38)}, Body: fmt.Sprintf("B%d", i+1), Size: 5, Anchor: draw.Middle, Bold: true})
	}
	for i, p := range posts {
		put(draw.Outline{Points: box(p, -9, p+3.5, 37.5), Weight: draw.Heavy, Fill: draw.Paper, ID: fmt.Sprintf("r1/P%d", i+1)},
			draw.Circle{Centre: draw.Point{X: x(p + 1.75), Y: y(-2.5)}, Radius: 0.7, Weight: draw.Light}, draw.Circle{Centre: draw.Point{X: x(p + 1.75), Y: y(-7.5)}, Radius: 0.7, Weight: draw.Light},
			draw.Text{At: draw.Point{X: x(p + 1.75), Y: y(39)}, Body: fmt.Sprintf("P%d", i+1), Size: 5, Anchor: draw.Middle, Bold: true})
	}
	var points []draw.Point
	for i, p := range posts {
		if i > 0 {
			points = append(points, draw.Point{X: x(p), Y: y(-10.25)})
		}
		points = append(points, draw.Point{X: x(p + 3.5), Y: y(-10.25)})
	}
	put(draw.Chain{Points: points, Texts: []string{`52"`, `3 1/2"`, `41 3/8"`, `3 1/2"`, `42"`}, Offset: -8, Size: 4.4}.Items()...)
	put(draw.Dimension{A: draw.Point{X: x(149.5), Y: y(0)}, B: draw.Point{X: x(149.5), Y: y(36)}, Offset: -9, Text: `36 1/64"`, Size: 4.4}.Items()...)
	put(draw.Line{A: draw.Point{X: x(1.75), Y: y(43)}, B: draw.Point{X: x(1.75), Y: y(-14)}, Weight: draw.Hairline, Dash: draw.Centre, Tone: draw.Accent})
	return s
}

// detail is an invented section through a post and rim, at 3 in to the foot, with narrow parts in its chain.
func detail() draw.Sheet {
	const scale = 25.4 / 4
	s := draw.Sheet{Width: 110, Height: 112, Scale: "3\" = 1'-0\"", Title: "Section through post R1-P3", Alt: "Post bolted through the rim joist; the lower bolt stands too near the edge."}
	x := func(in float64) float64 { return 24 + in*scale }
	y := func(in float64) float64 { return 30 + in*scale }
	box := func(x1, y1, x2, y2 float64) []draw.Point {
		return []draw.Point{{X: x(x1), Y: y(y1)}, {X: x(x2), Y: y(y1)}, {X: x(x2), Y: y(y2)}, {X: x(x1), Y: y(y2)}}
	}
	s.Items = append(s.Items,
		draw.Outline{Points: box(5, 0, 11, 1), Weight: draw.Medium, Fill: draw.Hatch},
		draw.Outline{Points: box(3.5, 1, 5, 10.25), Weight: draw.Heavy, Fill: draw.Hatch},
		draw.Outline{Points: box(5, 1, 11, 10.25), Weight: draw.Light, Dash: draw.Hidden},
		draw.Outline{Points: box(0, -2, 3.5, 10.25), Weight: draw.Heavy, Fill: draw.Paper},
		draw.Line{A: draw.Point{X: x(-0.6), Y: y(3)}, B: draw.Point{X: x(6), Y: y(3)}, Weight: draw.Light, Dash: draw.Centre},
		draw.Line{A: draw.Point{X: x(-0.6), Y: y(9)}, B: draw.Point{X: x(6), Y: y(9)}, Weight: draw.Medium, Dash: draw.Centre, Tone: draw.Red},
		draw.Circle{Centre: draw.Point{X: x(8), Y: y(5.5)}, Radius: 5, Weight: draw.Light, Fill: draw.Hatch},
		draw.Outline{Points: box(6, 7.5, 10, 9), Weight: draw.Light, Tone: draw.Accent, Fill: draw.Wash},
		draw.Text{At: draw.Point{X: x(8), Y: y(8.4)}, Body: "blocking", Size: 3, Anchor: draw.Middle, Tone: draw.Accent},
	)
	s.Items = append(s.Items, draw.Chain{Points: []draw.Point{{X: x(0), Y: y(-2)}, {X: x(3.5), Y: y(-2)}, {X: x(5), Y: y(-2)}, {X: x(5.5), Y: y(-2)}, {X: x(6.25), Y: y(-2)}, {X: x(6.75), Y: y(-2)}, {X: x(11), Y: y(-2)}},
		Texts: []string{`3 1/2"`, `1 1/2"`, `1/2"`, `3/4"`, `1/2"`, `4 1/4"`}, Offset: 6}.Items()...)
	s.Items = append(s.Items, draw.Chain{Points: []draw.Point{{X: x(0), Y: y(1)}, {X: x(0), Y: y(3)}, {X: x(0), Y: y(9)}, {X: x(0), Y: y(10.25)}}, Texts: []string{`2"`, `6"`, `1 1/4"`}, Offset: -8}.Items()...)
	s.Items = append(s.Items, draw.ScaleBar(draw.Point{X: x(0), Y: 107}, 4*scale, []string{"0", `4"`, `8"`, `12"`})...)
	return s
}
