package server

import "testing"

// No path that a person or a program may put together from a link lets its token into the log.
func TestRedact(t *testing.T) {
	for path, want := range map[string]string{
		"/g/secret":             "/g/(token)",
		"/g/secret/pack.pdf":    "/g/(token)/pack.pdf",
		"//g/secret":            "/g/(token)",
		"/x/../g/secret/":       "/g/(token)",
		"/G/secret":             "/g/(token)",
		"/setup/secret":         "/setup/(token)",
		"/jobs/abc/packs/1/g/x": "/jobs/abc/packs/1/g/x",
		"/g/":                   "/g",
		"/":                     "/",
		"":                      "/",
	} {
		if got := redact(path); got != want {
			t.Errorf("redact(%q) = %q, want %q", path, got, want)
		}
	}
}
