package pack

import (
	"context"
	"errors"
	"strings"
	"sync/atomic"
	"testing"
)

// TestAtOnce does things at once: all of them where none fails; where one fails or panics its error comes back and what had not begun is left.
func TestAtOnce(t *testing.T) {
	var done atomic.Int64
	if err := atOnce(t.Context(), 100, func(_ context.Context, k int) error { done.Add(int64(k)); return nil }); err != nil || done.Load() != 4950 {
		t.Errorf("a hundred things add up to %d, %v; want 4950", done.Load(), err)
	}
	broken := errors.New("broken")
	for name, fail := range map[string]func() error{"error": func() error { return broken }, "panic": func() error { panic("broken") }} {
		var begun atomic.Int64
		err := atOnce(t.Context(), 100_000, func(context.Context, int) error {
			begun.Add(1)
			return fail()
		})
		if err == nil || !strings.Contains(err.Error(), "broken") {
			t.Errorf("%s: %v, want what went wrong", name, err)
		}
		if begun.Load() > 1000 {
			t.Errorf("%s: %d things were begun after the first failed", name, begun.Load())
		}
	}
}
