package jobs

import (
	"errors"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist"
	"newelbook/media"
)

func TestPerMille(t *testing.T) {
	for text, want := range map[string]int{"0": 0, "100": 1000, " 12.5 ": 125, "12,5": 125, "99.96": 1000, "0.04": 0, "1e1": 100} {
		if got, ok := perMille(text); !ok || got != want {
			t.Errorf("%q: %d, %v; want %d", text, got, ok, want)
		}
	}
	for _, text := range []string{"", "-0.1", "100.1", "NaN", "Inf", "ten", "1,2,3", "0x"} {
		if got, ok := perMille(text); ok {
			t.Errorf("%q was read as %d", text, got)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, media.MarkScale).Draw(t, "n")
		if got, ok := perMille(strconv.FormatFloat(float64(n)/10, 'f', -1, 64)); !ok || got != n {
			t.Fatalf("%d tenths come back as %d, %v", n, got, ok)
		}
	})
}

func TestMarksOf(t *testing.T) {
	good := MarkText{Kind: "arrow", FromX: "10", FromY: "20", ToX: "30.5", ToY: "40", Text: "  lower   bolt ", Field: "m"}
	with := func(change func(*MarkText)) MarkText {
		m := good
		change(&m)
		return m
	}
	var many []MarkText
	for range MostMarks + 1 {
		many = append(many, good)
	}
	for _, c := range []struct {
		name  string
		in    []MarkText
		field string // that is wrong, empty for none
		n     int
	}{
		{"one and two empty lines", []MarkText{{}, good, {}}, "", 1},
		{"an unknown kind", []MarkText{with(func(m *MarkText) { m.Kind = "box" })}, "m", 1},
		{"no number", []MarkText{with(func(m *MarkText) { m.FromY = "left" })}, "m-from_y", 1},
		{"outside", []MarkText{with(func(m *MarkText) { m.ToX = "101" })}, "m-to_x", 1},
		{"no extent", []MarkText{with(func(m *MarkText) { m.ToX, m.ToY = "10", "20" })}, "m-to_x", 1},
		{"a measure without words", []MarkText{with(func(m *MarkText) { m.Kind, m.Text = "measure", " " })}, "m-text", 1},
		{"too long", []MarkText{with(func(m *MarkText) { m.Text = "0123456789012345678901234567890123456789x" })}, "m-text", 1},
		{"too many", many, "m", MostMarks + 1},
	} {
		var bad InvalidError
		got := marksOf(c.in, &bad)
		var invalid *InvalidError
		switch errors.As(bad.Err(), &invalid) {
		case true:
			if invalid.Fields[0].Field != c.field || len(invalid.Fields) != 1 {
				t.Errorf("%s: faults %+v, want one of %s", c.name, invalid.Fields, c.field)
			}
		default:
			if c.field != "" {
				t.Errorf("%s was taken", c.name)
			}
		}
		if len(got) != c.n {
			t.Errorf("%s: %d marks, want %d", c.name, len(got), c.n)
		}
	}
	var bad InvalidError
	if got := marksOf([]MarkText{good}, &bad); len(got) != 1 || got[0] != (media.Mark{Kind: media.MarkArrow, FromX: 100, FromY: 200, ToX: 305, ToY: 400, Text: "lower bolt"}) {
		t.Errorf("read as %+v", got)
	}
}

func TestShowableOfEveryStage(t *testing.T) {
	for _, s := range checklist.Stages() {
		if len(Showable(s, "")) == 0 {
			t.Errorf("nothing is listed for %s", s)
		}
	}
}
