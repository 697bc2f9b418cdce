package pack_test

import (
	"testing"

	"newelbook/views/pack"
)

// A name out of a hostile pack does not reach the terminal as it is.
func TestFindingIsOnePlainLine(t *testing.T) {
	got := pack.Finding{File: "data/a\x1b[2Jb\nSound", Problem: "It is 3½ in.\u202e"}.String()
	if want := "data/a?[2Jb?Sound: It is 3½ in.?"; got != want {
		t.Errorf("String() = %q, want %q", got, want)
	}
}
