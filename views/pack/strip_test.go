package pack_test

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"newelbook/checklist/layout"
	"newelbook/checklist/length"
	"newelbook/jobs"
	"newelbook/media"
	"newelbook/views/draw"
	"newelbook/views/pack"
)

// stripFiles are invented rails, level and raked both ways, and bevelled at either end where they meet a turned post, in both units on both
// papers.
func stripFiles(t testing.TB) map[string]pack.StripFile {
	t.Helper()
	all := map[string]pack.StripFile{}
	for _, text := range []string{
		`{"units": "in", "rules": "irc-2018", "spec": {"infill_width": 0.75, "connector_top": "1/4", "connector_bottom": "1/4"}, "runs": [
		{"id": "k7d2a1", "label": "R1", "length": "14' 3 1/2\"", "deck_height": 40},
		{"id": "k7d2a2", "label": "R2", "kind": "rake", "start": "stair foot", "end": "stair head", "total_rise": "62 3/8", "tread": "10 1/4", "nosing": 1},
		{"id": "k7d2a3", "label": "R3", "kind": "rake", "start": "stair head", "end": "stair foot", "total_rise": 42, "tread": 10, "nosing": 1, "overrides": {"rail_rake_end": "square"}},
		{"id": "k7d2a4", "label": "R4", "length": 60, "end": "corner", "deck_height": 40},
		{"id": "k7d2a5", "label": "R5", "length": 66, "start": "corner", "start_at": "R4", "turn": 45, "end": "corner", "deck_height": 40},
		{"id": "k7d2a6", "label": "R6", "length": 66, "start": "corner", "start_at": "R5", "turn": -30, "deck_height": 40}]}`,
		`{"units": "mm", "rules": "ontario-9.8", "spec": {"infill_width": 38, "connector_top": 0, "connector_bottom": 0}, "runs": [
		{"id": "n1aaaa", "label": "R1", "length": 5437, "deck_height": 2100},
		{"id": "n2aaaa", "label": "R2", "kind": "rake", "start": "stair foot", "end": "stair head", "total_rise": 2100, "risers": 12, "tread": 280, "nosing": 25}]}`,
	} {
		job, faults := layout.ReadJob(strings.NewReader(text))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		layouts, err := layout.ComputeJob(job)
		if err != nil {
			t.Fatal(err)
		}
		for i, l := range layouts {
			spec, wrong := job.Spec.With(job.Runs[i].Overrides, job.Units)
			if len(wrong) > 0 {
				t.Fatal(wrong)
			}
			s, err := layout.FindStrip(l, job.Runs[i], spec, l.Label+"-B1")
			if err != nil {
				t.Fatal(err)
			}
			for _, paper := range []pack.Paper{pack.A4, pack.Letter} {
				all[fmt.Sprintf("%s %s on paper %d", job.Units, l.Label, paper)] = pack.StripFile{Strip: s, Units: job.Units, Paper: paper, Job: "Job S-1", Layout: l.Label + ", layout v1, planned"}
			}
		}
	}
	return all
}

func written(t testing.TB, s pack.StripFile) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := pack.WriteStrip(&b, s, pack.Fonts()); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// stroked is a straight line that a page strokes, in points from the bottom left.
type stroked struct {
	x1, y1, x2, y2, weight float64
	dashes                 int // lengths of its pattern: 2 of what is hidden, 4 of a centre line
}

func (l stroked) upright() bool { return l.x1 == l.x2 }
func (l stroked) long() float64 { return math.Hypot(l.x2-l.x1, l.y2-l.y1) / 72 * 25.4 } // in millimetres
func (l stroked) is(mm float64) bool {
	return math.Abs(l.weight-mm*72/25.4) < 0.01
}

var streams = regexp.MustCompile(`(?s)/FlateDecode.*?>>\s*stream\r?\n(.*?)\nendstream`)

// pagesOf reads the lines that each page of the file strokes out of its content stream.
func pagesOf(t testing.TB, file []byte) [][]stroked {
	t.Helper()
	var pages [][]stroked
	for _, m := range streams.FindAllSubmatch(file, -1) {
		z, err := zlib.NewReader(bytes.NewReader(m[1]))
		if err != nil {
			t.Fatal(err)
		}
		body, err := io.ReadAll(z)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.HasPrefix(body, []byte("/Figure ")) {
			pages = append(pages, linesOf(t, string(body)))
		}
	}
	return pages
}

// linesOf reads one content stream. Nothing but lettering moves its axes, and lettering strokes nothing.
func linesOf(t testing.TB, body string) (all []stroked) {
	t.Helper()
	var pen stroked
	var path []float64
	for line := range strings.Lines(body) {
		words := strings.Fields(line)
		if len(words) == 0 {
			continue
		}
		operands := func() (v []float64) {
			for _, w := range words[:len(words)-1] {
				n, err := strconv.ParseFloat(w, 64)
				if err != nil {
					t.Fatalf("operand %q of %q: %v", w, line, err)
				}
				v = append(v, n)
			}
			return v
		}
		switch words[len(words)-1] {
		case "w":
			pen.weight = operands()[0]
		case "d":
			pattern, _, _ := strings.Cut(strings.TrimPrefix(line, "["), "]")
			pen.dashes = len(strings.Fields(pattern))
		case "m":
			path = operands()
		case "l":
			path = append(path, operands()...)
		case "c", "h":
			path = nil
		case "S":
			if len(path) == 4 {
				all = append(all, stroked{path[0], path[1], path[2], path[3], pen.weight, pen.dashes})
			}
			path = nil
		}
	}
	return all
}

// TestStripIsTrue measures the strip in the file's own coordinates, as a tape would on paper: proof bar, joins, marks and far end.
func TestStripIsTrue(t *testing.T) {
	const near = 0.01 // millimetres
	for name, s := range stripFiles(t) {
		t.Run(name, func(t *testing.T) {
			pages := pagesOf(t, written(t, s))
			if want := len(s.Sheets()); len(pages) != want || want < 2 {
				t.Fatalf("%d pages, want %d and more than one", len(pages), want)
			}
			proof := map[length.Unit]float64{length.Inches: 432, length.Millimetres: 150 * 72 / 25.4}[s.Units]
			onPaper := map[int][]float64{} // where each mark was found, in millimetres from the datum
			var datum, far, offset float64
			var before []stroked
			for n, lines := range pages {
				var ends, cuts, ticks []float64
				joins := map[bool]float64{}
				for _, l := range lines {
					if !l.upright() {
						continue
					}
					switch {
					case l.is(0.25) && math.Abs(l.long()-4.8) < near:
						ends = append(ends, l.x1)
					case l.is(0.25) && math.Abs(l.long()-12) < near:
						ticks = append(ticks, l.x1)
					case l.is(0.5) && math.Abs(l.long()-12) < near:
						cuts = append(cuts, l.x1)
					case l.dashes == 4:
						joins[l.x1 > 400] = l.x1
					}
				}
				if len(ends) != 2 || math.Abs(ends[1]-ends[0]-proof) > 0.005 || s.Units == length.Inches && ends[1]-ends[0] != 432 {
					t.Errorf("page %d: the ends of the proof bar stand at %v, want them %g points apart", n+1, ends, proof)
				}
				if _, left := joins[false]; left != (n > 0) {
					t.Errorf("page %d: join at its left %v", n+1, left)
				}
				right, has := joins[true]
				if has != (n < len(pages)-1) {
					t.Errorf("page %d: join at its right %v", n+1, has)
				}
				if n > 0 {
					offset -= joins[false]
					overlap(t, n, before, lines, offset)
				}
				before = shifted(lines, offset)
				for _, x := range cuts {
					if n == 0 && datum == 0 {
						datum = x
					} else {
						far = (x + offset - datum) / 72 * 25.4
					}
				}
				for _, x := range ticks {
					at := (x + offset - datum) / 72 * 25.4
					i := slices.IndexFunc(s.Strip.Marks, func(m length.Length) bool { return math.Abs(at-m.Millimetres()) < near })
					if i < 0 {
						t.Errorf("page %d has a mark at %.4f mm, where the layout has none", n+1, at)
						continue
					}
					onPaper[i] = append(onPaper[i], at)
				}
				offset += right
			}
			if long := s.Strip.Long().Millimetres(); math.Abs(far-long) > near {
				t.Errorf("the far end is %.4f mm from the datum end, want %.4f", far, long)
			}
			for i, m := range s.Strip.Marks {
				if len(onPaper[i]) == 0 {
					t.Errorf("mark %d at %.4f mm is on no page", i+1, m.Millimetres())
				}
			}
		})
	}
}

// TestBevelledStrip measures strips of rails that meet turned posts in the file's own coordinates, in inches. Half of a turn of 45 degrees
// bevels a rail of 1 1/2 by 3/4 tan 22.5 = 0.31066 past its middle, half of one of 30 by 3/4 tan 15 = 0.20096. A turn to the right has the
// long point on the left at both its rails, the face on the right being the short one: datum line and far end stand that much inside the
// middle's, marks that much nearer, and the other face's end twice that outside. A turn to the left is the mirror of it.
func TestBevelledStrip(t *testing.T) {
	const wide, slight = 0.31066017, 0.20096189
	for rail, want := range map[string]struct{ from, to float64 }{ // past the middle's cuts, positive away from the datum
		"in R4 on paper 0": {0, -wide}, "in R5 on paper 0": {wide, slight}, "in R6 on paper 1": {-slight, 0},
	} {
		s := stripFiles(t)[rail]
		var cuts, thin []float64
		offset := 0.0
		for n, lines := range pagesOf(t, written(t, s)) {
			joins := map[bool]float64{}
			for _, l := range lines {
				if l.dashes == 4 {
					joins[l.x1 > 400] = l.x1
				}
			}
			if n > 0 {
				offset -= joins[false]
			}
			for _, l := range lines {
				switch deep := math.Abs(l.long()-s.Strip.Depth.Millimetres()) < 0.01; {
				case !l.upright():
				case l.is(0.5) && deep:
					cuts = append(cuts, (l.x1+offset)/72)
				case l.is(0.25) && deep && l.dashes != 4:
					thin = append(thin, (l.x1+offset)/72)
				}
			}
			offset += joins[true]
		}
		if len(cuts) != 2 {
			t.Fatalf("%s: cuts at %v, want two", rail, cuts)
		}
		long := s.Strip.Rail.Cut.Inches() + want.to - want.from
		if math.Abs(cuts[1]-cuts[0]-long) > 0.0005 {
			t.Errorf("%s: the face is drawn %.5f long, want %.5f", rail, cuts[1]-cuts[0], long)
		}
		for name, at := range map[string]struct{ cut, off float64 }{"datum": {cuts[0], want.from}, "far": {cuts[1], want.to}} {
			other := at.cut - 2*at.off
			drawn := slices.ContainsFunc(thin, func(x float64) bool { return math.Abs(x-other) < 0.0005 })
			if at.off != 0 && !drawn {
				t.Errorf("%s: the other face's %s end is not drawn at %.5f: %v", rail, name, other, thin)
			}
		}
		if s.Strip.Face == "" || len(s.Strip.Marks) == 0 {
			t.Errorf("%s: face %q, %d marks", rail, s.Strip.Face, len(s.Strip.Marks))
		}
	}
}

// shifted moves upright lines along the rail.
func shifted(lines []stroked, by float64) (out []stroked) {
	for _, l := range lines {
		l.x1, l.x2 = l.x1+by, l.x2+by
		out = append(out, l)
	}
	return out
}

// overlap demands that what two neighbouring pages draw of the rail where they overlap is the same.
func overlap(t *testing.T, n int, before, lines []stroked, offset float64) {
	t.Helper()
	within := func(all []stroked) (marks []float64) {
		for _, l := range all {
			if l.upright() && l.dashes == 0 && math.Abs(l.long()-12) < 0.01 {
				marks = append(marks, l.x1)
			}
		}
		return marks
	}
	after := shifted(lines, offset)
	right, left := edge(before, math.Max, math.Inf(-1)), edge(after, math.Min, math.Inf(1))
	if right-left < 15*72/25.4 {
		t.Errorf("pages %d and %d overlap by %.2f points", n, n+1, right-left)
	}
	in := func(all []float64) []float64 {
		return slices.DeleteFunc(all, func(x float64) bool { return x < left-0.01 || x > right+0.01 })
	}
	a, b := in(within(before)), in(within(after))
	if !slices.EqualFunc(a, b, func(x, y float64) bool { return math.Abs(x-y) < 0.01/25.4*72 }) {
		t.Errorf("in their overlap page %d has lines at %v and page %d at %v", n, a, n+1, b)
	}
}

// edge is the outermost end of the rail's long edges on a page.
func edge(lines []stroked, outer func(x, y float64) float64, from float64) float64 {
	for _, l := range lines {
		if l.y1 == l.y2 && l.is(0.35) && l.long() > 10 {
			from = outer(outer(l.x1, l.x2), from)
		}
	}
	return from
}

// TestStripLeans: plumb lines run at the angle of the flight in the file's own coordinates.
func TestStripLeans(t *testing.T) {
	for name, s := range stripFiles(t) {
		found := 0
		for _, lines := range pagesOf(t, written(t, s)) {
			for _, l := range lines {
				if l.is(0.25) && !l.upright() && l.y1 != l.y2 {
					found++
					// Ends are rounded to a hundredth of a point.
					if lean := (l.x2 - l.x1) / (l.y2 - l.y1); math.Abs(lean-s.Strip.Lean()) > 0.02/math.Abs(l.y2-l.y1)*2 {
						t.Errorf("%s: a plumb line leans %.5f, want %.5f", name, lean, s.Strip.Lean())
					}
				}
			}
		}
		if s.Strip.Run > 0 && found < len(s.Strip.Marks) || s.Strip.Run == 0 && found > 0 {
			t.Errorf("%s: %d leaning lines for %d marks", name, found, len(s.Strip.Marks))
		}
	}
}

func TestWriteStripSameBytes(t *testing.T) {
	for name, s := range stripFiles(t) {
		if !bytes.Equal(written(t, s), written(t, s)) {
			t.Errorf("%s: two files of the same strip differ", name)
		}
	}
	if err := pack.WriteStrip(io.Discard, pack.StripFile{}, nil); err == nil {
		t.Error("a strip was written without a font")
	}
}

// TestWriteStripIsSound: other programs read the file, find its fonts embedded, its words on every page, and the wish not to be scaled.
func TestWriteStripIsSound(t *testing.T) {
	s := stripFiles(t)["in R2 on paper 1"]
	path := saved(t, "strip.pdf", written(t, s))
	if out := tool(t, "qpdf", "--check", path); !strings.Contains(out, "No syntax or stream encoding errors found") {
		t.Errorf("qpdf --check says:\n%s", out)
	}
	if out := tool(t, "qpdf", "--qdf", "--object-streams=disable", path, "-"); !strings.Contains(out, "/PrintScaling /None") {
		t.Error("the file does not ask to be printed unscaled")
	}
	pages := strings.Split(strings.TrimSuffix(tool(t, "pdftotext", "-layout", path, "-"), "\f"), "\f")
	for i, page := range pages {
		for _, words := range []string{"R2-B1 bottom", fmt.Sprintf("Sheet %d of %d", i+1, len(pages)), "Job S-1", "layout v1", "never “fit to page”", "Proof bar: 6"} {
			if !strings.Contains(page, words) {
				t.Errorf("page %d lacks %q:\n%s", i+1, words, page)
			}
		}
	}
	for line := range strings.Lines(tool(t, "pdffonts", path)) {
		if fields := strings.Fields(line); strings.Contains(line, "TrueType") && !slices.Equal(fields[len(fields)-5:len(fields)-2], []string{"yes", "yes", "yes"}) {
			t.Errorf("a font is not embedded as a subset with its characters: %s", line)
		}
	}
}

func TestParsePaper(t *testing.T) {
	for _, c := range []struct {
		name  string
		units length.Unit
		want  pack.Paper
	}{{"", length.Inches, pack.Letter}, {"", length.Millimetres, pack.A4}, {"A4", length.Inches, pack.A4}, {" letter ", length.Millimetres, pack.Letter}} {
		if got, err := pack.ParsePaper(c.name, c.units); err != nil || got != c.want {
			t.Errorf("ParsePaper(%q, %s) = %v, %v; want %v", c.name, c.units, got, err, c.want)
		}
	}
	if _, err := pack.ParsePaper("legal", length.Inches); err == nil || !strings.Contains(err.Error(), "choose a4 or letter") {
		t.Errorf("ParsePaper of legal: error %v", err)
	}
}

// TestPackHasEveryMark: the pack draws the marks of every bay, those alike together, with the figure of each.
func TestPackHasEveryMark(t *testing.T) {
	job, faults := layout.ReadJob(strings.NewReader(`{"units": "in", "rules": "irc-2018", "spec": {"connector_top": "1/4", "connector_bottom": "1/4"}, "runs": [
		{"id": "k7d2a1", "label": "R1", "length": "14' 3 1/2\"", "deck_height": 40},
		{"id": "k7d2a2", "label": "R2", "kind": "rake", "start": "stair foot", "end": "stair head", "total_rise": "62 3/8", "tread": "10 1/4", "overrides": {"infill_mode": "equal gaps"}}],
		"built": [{"run": "R1", "bay": 2, "bottom": "52 9/16", "top": "52 7/8"}]}`))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	layouts, err := layout.ComputeJob(job)
	if err != nil {
		t.Fatal(err)
	}
	x := jobs.Export{Job: jobs.Job{Ref: "S-1", Units: job.Units, Spec: job.Spec, Zone: "UTC", RuleSet: job.Rules}, Layouts: layouts}
	for _, run := range job.Runs {
		x.Runs = append(x.Runs, jobs.Run{Run: run})
	}
	doc := pack.Build(pack.Facts{Record: x, Pictures: map[media.ID]pack.Picture{}}).Edition(pack.InspectorEdition)
	for _, l := range layouts {
		var captions []string
		drawn := map[string]bool{}
		for _, s := range doc.Sections {
			for _, b := range s.Blocks {
				d, ok := b.(pack.Drawing)
				if !ok || s.ID != "run-"+l.RunID || !strings.Contains(d.Number, ", marks ") {
					continue
				}
				captions = append(captions, d.Caption)
				for _, it := range d.Sheet.Items {
					if text, ok := it.(draw.Text); ok {
						drawn[d.Caption+text.Body] = true
					}
				}
			}
		}
		for _, b := range l.Bays {
			i := slices.IndexFunc(captions, func(c string) bool { return strings.Contains(c, b.Label) })
			if i < 0 {
				t.Errorf("no drawing has the marks of %s: %q", b.Label, captions)
				continue
			}
			for _, m := range b.Used().Infill.Marks {
				if !drawn[captions[i]+m.FormatBare(length.InchFraction)] {
					t.Errorf("the drawing %q lacks the mark at %s", captions[i], m.Format(length.InchFraction))
				}
			}
		}
	}
}
