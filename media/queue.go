package media

import (
	"context"
	"runtime"
	"sync"
)

// queueRoom is how many originals may wait for their derived pictures. What does not fit is made when it is asked for.
const queueRoom = 10_000

// queue makes derived pictures in the background. Its goroutines begin with the first original and end when none waits.
type queue struct {
	mu      sync.Mutex
	waiting []queued
	working int
	ended   bool
	ctx     context.Context
	cancel  context.CancelFunc
	workers sync.WaitGroup
}

// queued is an original that waits, and who wants to know what came of it.
type queued struct {
	id   ID
	told func(error)
}

// Later has the derived pictures of an original made in the background and returns at once. As many are made at once as there are
// processors, and as the limit of pixels under way allows. told, which may be nil, is called once with what Derive returned, from
// another goroutine. Later returns false, and calls nothing, when the library is closed or too many wait: the pictures are then made
// when they are first asked for.
func (l *Library) Later(id ID, told func(error)) bool {
	q := &l.queue
	q.mu.Lock()
	defer q.mu.Unlock()
	if q.ended || len(q.waiting) >= queueRoom {
		return false
	}
	q.waiting = append(q.waiting, queued{id, told})
	if q.ctx == nil {
		q.ctx, q.cancel = context.WithCancel(context.Background())
	}
	if q.working < runtime.GOMAXPROCS(0) {
		q.working++
		q.workers.Go(func() { l.work(q.ctx) })
	}
	return true
}

// work derives what waits, first come, first served, until nothing does.
func (l *Library) work(ctx context.Context) {
	q := &l.queue
	for {
		q.mu.Lock()
		if q.ended || len(q.waiting) == 0 {
			q.working--
			q.mu.Unlock()
			return
		}
		next := q.waiting[0]
		q.waiting = q.waiting[1:]
		q.mu.Unlock()
		err := l.Derive(ctx, next.id)
		if next.told != nil {
			next.told(err)
		}
	}
}

// stop breaks off what is under way and waits until it has ended.
func (q *queue) stop() {
	q.mu.Lock()
	q.ended, q.waiting = true, nil
	if q.cancel != nil {
		q.cancel()
	}
	q.mu.Unlock()
	q.workers.Wait()
}
