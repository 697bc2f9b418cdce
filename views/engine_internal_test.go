package views

import (
	"strings"
	"testing"
	"testing/fstest"
)

// SampleShowPage and SampleEditPage are pages of the tests below.
type SampleShowPage struct{ Frame }

// SampleEditPage is the second of them.
type SampleEditPage struct{ Frame }

// bare lacks a Frame.
type bare struct{}

func TestParseHoldsPagesAndFilesTogether(t *testing.T) {
	const content = `{{define "content"}}x{{end}}`
	for _, c := range []struct {
		name  string
		pages map[string]string
		list  []any
		want  string // part of the error, empty for none
	}{
		{"one each", map[string]string{"sample_show": content}, []any{SampleShowPage{}}, ""},
		{"no struct", map[string]string{"sample_show": content, "sample_edit": content}, []any{SampleShowPage{}}, "sample_edit.html has no struct"},
		{"no file", map[string]string{"sample_show": content}, []any{SampleShowPage{}, SampleEditPage{}}, "sample_edit.html is missing"},
		{"twice", map[string]string{"sample_show": content}, []any{SampleShowPage{}, SampleShowPage{}}, "used twice"},
		{"no frame", map[string]string{"bare": content}, []any{bare{}}, "does not embed Frame"},
		{"no content", map[string]string{"sample_show": "x"}, []any{SampleShowPage{}}, "defines no content"},
		{"faulty", map[string]string{"sample_show": `{{define "content"}}{{nothing}}{{end}}`}, []any{SampleShowPage{}}, "nothing"},
	} {
		files := fstest.MapFS{
			"html/layout.html":     {Data: []byte(`{{define "layout"}}{{template "content" .}}{{end}}`)},
			"html/parts/part.html": {Data: []byte(`{{define "part"}}{{end}}`)},
		}
		for name, text := range c.pages {
			files["html/pages/"+name+".html"] = &fstest.MapFile{Data: []byte(text)}
		}
		_, err := parse(files, c.list)
		switch {
		case c.want == "" && err != nil:
			t.Errorf("%s: %v", c.name, err)
		case c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)):
			t.Errorf("%s: error %v, want one with %q", c.name, err, c.want)
		}
	}
}

func TestEveryWordOfStateStandsOnce(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range signs() {
		if seen[s.word] {
			t.Errorf("%q stands twice", s.word)
		}
		seen[s.word] = true
	}
}
