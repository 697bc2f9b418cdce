package mediatest

import (
	"context"
	"io"
	"sync"

	"newelbook/media"
)

// Gate is a store whose originals can be held back for a while, so that what reads them waits. It is open at first.
type Gate struct {
	media.Store
	mu   sync.Mutex
	shut chan struct{} // closed when the gate opens again; nil while it is open
}

// Hold holds originals back from now on. It is an error of the caller's to hold twice.
func (g *Gate) Hold() {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.shut = make(chan struct{})
}

// Release hands out what was held back. Released twice it does nothing.
func (g *Gate) Release() {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.shut != nil {
		close(g.shut)
		g.shut = nil
	}
}

// Open implements media.Store.
func (g *Gate) Open(ctx context.Context, id media.ID) (io.ReadSeekCloser, int64, error) {
	g.mu.Lock()
	shut := g.shut
	g.mu.Unlock()
	if shut != nil {
		select {
		case <-shut:
		case <-ctx.Done():
			return nil, 0, ctx.Err()
		}
	}
	return g.Store.Open(ctx, id)
}
