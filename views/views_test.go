package views_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"time"

	"newelbook/checklist"
	"newelbook/checklist/length"
	"newelbook/views"
)

func TestLoad(t *testing.T) {
	if err := views.Load(); err != nil {
		t.Fatal(err)
	}
}

func TestRenderRefusesWhatIsNoPage(t *testing.T) {
	for _, page := range []any{nil, 3, struct{ views.Frame }{}, views.Frame{}} {
		var buf bytes.Buffer
		if err := views.Render(&buf, page); err == nil || buf.Len() > 0 {
			t.Errorf("Render(%T) wrote %d bytes, error %v; want none and an error", page, buf.Len(), err)
		}
	}
}

func TestRenderWritesNothingWhenItStops(t *testing.T) {
	p := specimen()
	p.States = append(p.States, "splendid")
	var buf bytes.Buffer
	err := views.Render(&buf, p)
	if err == nil || !strings.Contains(err.Error(), "splendid") {
		t.Errorf("Render of an unknown state: error %v, want one that names it", err)
	}
	if buf.Len() > 0 {
		t.Errorf("Render wrote %d bytes before it stopped", buf.Len())
	}
}

var errFull = errors.New("full")

type fullWriter struct{}

func (fullWriter) Write([]byte) (int, error) { return 0, errFull }

func TestRenderReportsTheWriter(t *testing.T) {
	if err := views.Render(fullWriter{}, specimen()); !errors.Is(err, errFull) {
		t.Errorf("Render = %v, want the writer's error", err)
	}
}

func TestRenderTakesPointersAndEscapes(t *testing.T) {
	p := specimen()
	p.Site = `<b>"14" & more`
	var buf bytes.Buffer
	if err := views.Render(&buf, &p); err != nil {
		t.Fatal(err)
	}
	if got := attr(find(t, buf.Bytes(), "f-site"), "value"); got != p.Site {
		t.Errorf("value of the site = %q, want %q", got, p.Site)
	}
}

func TestErrorsReachSummaryFieldAndTitle(t *testing.T) {
	var buf bytes.Buffer
	if err := views.Render(&buf, specimenErrors()); err != nil {
		t.Fatal(err)
	}
	page := buf.Bytes()
	const message = "Saw kerf must be under 1/2 in"
	if got := textOf(find(t, page, "f-kerf-error")); got != "Error: "+message {
		t.Errorf("message beside the field = %q", got)
	}
	if got := attr(find(t, page, "f-kerf"), "aria-describedby"); got != "f-kerf-unit f-kerf-error" {
		t.Errorf("aria-describedby = %q", got)
	}
	if got := attr(find(t, page, "f-kerf"), "aria-invalid"); got != "true" {
		t.Errorf("aria-invalid = %q", got)
	}
	if n := strings.Count(string(page), "<title>Error: Specimen of the sheet, NB-0042 | Newelbook</title>"); n != 1 {
		t.Errorf("%d titles that begin with Error", n)
	}
	summary := find(t, page, "error-summary-title").Parent
	if !strings.Contains(textOf(summary), message) {
		t.Errorf("summary = %q, which lacks the message", textOf(summary))
	}
}

func TestFractions(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{`3 15/16`, `<span class="whole">3 </span><span class="fr">15/16</span>`},
		{`1/4"`, `<span class="fr">1/4</span>″`},
		{`6' 4 1/2"`, `6′ <span class="whole">4 </span><span class="fr">1/2</span>″`},
		{`3'-4 1/2"`, `3′-<span class="whole">4 </span><span class="fr">1/2</span>″`},
		{`under 4", not 4 1/16"`, `under 4″, not <span class="whole">4 </span><span class="fr">1/16</span>″`},
		// Not fractions.
		{`1/12/2026`, `1/12/2026`},
		{`2026/11/25`, `2026/11/25`},
		{`12/2026`, `12/2026`},
		{`1/2.5`, `1/2.5`},
		{`and/or`, `and/or`},
		// A quotation is none of a figure's marks.
		{`say "four"`, `say &#34;four&#34;`},
		{`<3/4>`, `&lt;<span class="fr">3/4</span>&gt;`},
		{`At 3/4.`, `At <span class="fr">3/4</span>.`},
		{``, ``},
	} {
		if got := string(views.Fractions(c.in)); got != c.want {
			t.Errorf("Fractions(%q)\n got %s\nwant %s", c.in, got, c.want)
		}
	}
}

func TestEveryVerdictHasItsMark(t *testing.T) {
	seen := map[string]string{}
	for _, v := range []checklist.Verdict{checklist.NotChecked, checklist.Good, checklist.TooClose, checklist.OffLayout, checklist.FailsLimit} {
		mark, err := views.NewStatus(v.Word()).Mark()
		if err != nil {
			t.Errorf("verdict %q: %v", v.Word(), err)
		}
		if other, ok := seen[string(mark)]; ok {
			t.Errorf("verdicts %q and %q have the same mark", v.Word(), other)
		}
		seen[string(mark)] = v.Word()
	}
}

func TestNewStatusPanicsOnAnUnknownWord(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("NewStatus of an unknown word did not panic")
		}
	}()
	views.NewStatus("splendid")
}

func TestFieldID(t *testing.T) {
	for in, want := range map[string]string{"site": "f-site", "posts.1.size": "f-posts-1-size", "é x": "f---x"} {
		if got := views.FieldID(in); got != want {
			t.Errorf("FieldID(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestTitleBlockLeavesOutEmptyCells(t *testing.T) {
	cells := views.TitleBlock{Job: "NB-1", Date: "25 Nov 2026", More: []views.Fact{{Label: "Permit"}, {Label: "Authority", Value: "Sampleton"}}}.Cells()
	var got []string
	for _, c := range cells {
		got = append(got, c.Label+"="+c.Value)
	}
	if want := "Job=NB-1 Date=25 Nov 2026 Authority=Sampleton"; strings.Join(got, " ") != want {
		t.Errorf("cells = %q, want %q", strings.Join(got, " "), want)
	}
}

func TestTimes(t *testing.T) {
	at := time.Date(2026, 11, 25, 9, 4, 0, 0, time.FixedZone("", 3600))
	if got, want := string(views.Date(at)), `<time datetime="2026-11-25T09:04:00+01:00">25 Nov 2026</time>`; got != want {
		t.Errorf("Date = %s, want %s", got, want)
	}
	if got, want := string(views.Moment(at)), `<time datetime="2026-11-25T09:04:00+01:00">25 Nov 2026, 09:04 +01:00</time>`; got != want {
		t.Errorf("Moment = %s, want %s", got, want)
	}
	if got := string(views.Moment(time.Time{})); got != "not recorded" {
		t.Errorf("Moment of no time = %q", got)
	}
}

func TestLengthKeepsItsCharacters(t *testing.T) {
	l := 41*length.Inch + 24*length.SixtyFourth
	if got, want := string(views.Length(l, length.InchFraction)), `<span class="whole">41 </span><span class="fr">3/8</span>″`; got != want {
		t.Errorf("Length = %s, want %s", got, want)
	}
}
