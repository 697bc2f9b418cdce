package media

import (
	"context"
	"sync"
)

// gateUnit is how many pixels one token of a gate stands for.
const gateUnit = 1_000_000

// gate bounds how many pixels are being decoded at once. It is made here, in a few lines, to keep the package's
// imports to pictures.
type gate struct {
	tokens chan struct{}
	// turn is held while tokens are gathered, so that two large pictures can't each hold half and wait for ever.
	turn chan struct{}
}

func newGate(pixels int64) *gate {
	return &gate{tokens: make(chan struct{}, max(1, pixels/gateUnit)), turn: make(chan struct{}, 1)}
}

// enter waits until there is room for the pixels and returns the function that leaves again. More pixels than the
// gate has room for wait until they are alone.
func (g *gate) enter(ctx context.Context, pixels int64) (leave func(), err error) {
	want := int(min(int64(cap(g.tokens)), (pixels+gateUnit-1)/gateUnit))
	select {
	case g.turn <- struct{}{}:
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	defer func() { <-g.turn }()
	for got := range want {
		select {
		case g.tokens <- struct{}{}:
		case <-ctx.Done():
			g.release(got)
			return nil, ctx.Err()
		}
	}
	return sync.OnceFunc(func() { g.release(want) }), nil
}

func (g *gate) release(n int) {
	for range n {
		<-g.tokens
	}
}
