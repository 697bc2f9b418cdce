package media

import (
	"context"
	"errors"
	"sync"
	"sync/atomic"
	"testing"
)

func TestGateNeverExceedsItsRoom(t *testing.T) {
	g := newGate(10 * gateUnit)
	var inside, most atomic.Int64
	var wait sync.WaitGroup
	for i := range 60 {
		wait.Go(func() {
			pixels := int64(i%12+1) * gateUnit
			leave, err := g.enter(t.Context(), pixels)
			if err != nil {
				t.Errorf("enter = %v, want no error", err)
				return
			}
			defer leave()
			units := min(pixels/gateUnit, 10)
			if now := inside.Add(units); now > most.Load() {
				most.Store(now)
			}
			inside.Add(-units)
		})
	}
	wait.Wait()
	if most.Load() > 10 || most.Load() == 0 {
		t.Errorf("most units at once = %d, want 1 to 10", most.Load())
	}
	if len(g.tokens) != 0 {
		t.Errorf("%d tokens are still out, want 0", len(g.tokens))
	}
}

func TestGateWaitsAndGivesUp(t *testing.T) {
	g := newGate(4 * gateUnit)
	leave, err := g.enter(t.Context(), 3*gateUnit)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	done := make(chan error)
	go func() {
		_, err := g.enter(ctx, 100*gateUnit)
		done <- err
	}()
	cancel()
	if err := <-done; !errors.Is(err, context.Canceled) {
		t.Errorf("enter = %v, want context.Canceled", err)
	}
	leave()
	leave() // leaving twice must not free somebody else's room
	if again, err := g.enter(t.Context(), 4*gateUnit); err != nil {
		t.Errorf("enter after leaving = %v, want no error", err)
	} else {
		again()
	}
}
