package server

import (
	"errors"
	"fmt"
	"testing"

	"newelbook/views"
)

// A pack is read once, a failure is not kept, and no more packs are kept than the bound.
func TestFrozen(t *testing.T) {
	var k frozen
	reads := 0
	read := func(name string) func() (views.Frozen, error) {
		return func() (views.Frozen, error) { reads++; return views.Frozen{Name: name}, nil }
	}
	failed := errors.New("no room to read")
	if _, err := k.of("a", func() (views.Frozen, error) { return views.Frozen{Name: "half"}, failed }); !errors.Is(err, failed) {
		t.Errorf("a failing read gives %v", err)
	}
	for range 3 {
		if x, err := k.of("a", read("first")); err != nil || x.Name != "first" {
			t.Errorf("of a pack = %+v, %v", x, err)
		}
	}
	if reads != 1 {
		t.Errorf("read %d times, want once", reads)
	}
	for i := range 3 * mostFrozen {
		if x, err := k.of(fmt.Sprint(i), read(fmt.Sprint("pack ", i))); err != nil || x.Name != fmt.Sprint("pack ", i) {
			t.Fatalf("of pack %d = %+v, %v", i, x, err)
		}
		if len(k.known) > mostFrozen {
			t.Fatalf("%d packs kept, at most %d are to be", len(k.known), mostFrozen)
		}
	}
}
