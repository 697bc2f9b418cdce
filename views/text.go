package views

import (
	"fmt"
	"html/template"
	"strings"
	"time"

	"newelbook/checklist/length"
	"newelbook/views/draw"
)

// Fractions escapes text and sets its fractions as fractions: 3 15/16" keeps its characters, so that copied, spoken or
// searched it reads the same, but 15/16 is wrapped in a span of class fr, and a straight foot or inch mark behind a
// figure becomes a true prime. draw.Runs says where a fraction stands.
func Fractions(text string) template.HTML {
	if !strings.ContainsAny(text, `/"'`) { // most texts: there is nothing that Runs would set otherwise
		return template.HTML(template.HTMLEscapeString(text))
	}
	var b strings.Builder
	for _, run := range draw.Runs(text) {
		body := template.HTMLEscapeString(run.Body)
		switch run.Kind {
		case draw.Whole:
			body = `<span class="whole">` + body + `</span>`
		case draw.Fraction:
			body = `<span class="fr">` + body + `</span>`
		}
		b.WriteString(body)
	}
	return template.HTML(b.String())
}

// plain is the text of a value of a measurement.
func plain(value any) (string, error) {
	switch v := value.(type) {
	case string:
		return v, nil
	case int:
		return fmt.Sprint(v), nil
	case length.Length:
		return "", fmt.Errorf("a length needs a style: write (text VALUE STYLE)")
	}
	return "", fmt.Errorf("a %T cannot be shown as a measurement", value)
}

// Length is a length in the style with its fraction set as one.
func Length(l length.Length, s length.Style) template.HTML { return Fractions(l.Format(s)) }

// Date is the day of a time in the time's own zone, as a time element; the zero time is "not recorded".
func Date(t time.Time) template.HTML { return timeElement(t, "2 Jan 2006") }

// Moment is a time to the minute with its offset, in its own zone, as a time element; the zero time is "not recorded".
func Moment(t time.Time) template.HTML { return timeElement(t, "2 Jan 2006, 15:04 -07:00") }

// textFuncs turn values into text.
func textFuncs() map[string]any {
	return map[string]any{
		"fr":     Fractions,
		"length": Length,
		"text":   func(l length.Length, s length.Style) string { return l.Format(s) },
		"date":   Date,
		"moment": Moment,
		"asset":  AssetPath,
	}
}

// timeElement shows a time in its own zone; the zero time is not recorded.
func timeElement(t time.Time, layout string) template.HTML {
	if t.IsZero() {
		return "not recorded"
	}
	return template.HTML(`<time datetime="` + t.Format(time.RFC3339) + `">` + t.Format(layout) + `</time>`)
}

// funcs are all functions that templates may call. They format; none of them computes or compares with a limit.
func funcs() template.FuncMap {
	all := template.FuncMap{}
	for _, some := range []map[string]any{textFuncs(), fieldFuncs(), partFuncs(), statusFuncs()} {
		for name, f := range some {
			all[name] = f
		}
	}
	return all
}
