package pack

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
)

// Step is a part of issuing a pack that takes long on a large job.
type Step string

// The steps, in their order.
const (
	StepPictures Step = "pictures" // made from the originals where that is still to be done, and hashed
	StepEditions Step = "editions" // each written as PDF and as a page
	StepFiles    Step = "files"    // what is enclosed as received, read and hashed
	StepFreeze   Step = "freeze"   // every file copied into the frozen pack and checked meanwhile, then the manifests
)

// Steps lists the steps in their order.
func Steps() []Step { return []Step{StepPictures, StepEditions, StepFiles, StepFreeze} }

// Progress says how far a step is: Done of Of things.
type Progress struct {
	Step     Step
	Done, Of int
}

// count tells how far a step is, one thing after the other, from many goroutines.
type count struct {
	mu   sync.Mutex
	now  Progress
	told func(Progress)
}

// counting begins a step of so many things. told may be nil.
func counting(told func(Progress), step Step, of int) *count {
	c := &count{now: Progress{Step: step, Of: of}, told: told}
	if told != nil {
		told(c.now)
	}
	return c
}

// one says that one more thing is done.
func (c *count) one() {
	if c.told == nil {
		return
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	c.now.Done++
	c.told(c.now)
}

// atOnce does n things, as many at once as there are processors, and returns the first error, which ends what has not begun. Things
// are told apart by their number, so that what comes of them does not hang on which is done first. A panic is an error like another.
func atOnce(ctx context.Context, n int, do func(ctx context.Context, k int) error) error {
	return byHands(ctx, runtime.GOMAXPROCS(0), n, do)
}

// byHands is atOnce with so many at once: more than there are processors where each waits for the disk.
func byHands(ctx context.Context, most, n int, do func(ctx context.Context, k int) error) error {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	next := make(chan int)
	var hands sync.WaitGroup
	for range min(n, most) {
		hands.Go(func() {
			for k := range next {
				if err := safely(func() error { return do(ctx, k) }); err != nil {
					cancel(err)
					return
				}
			}
		})
	}
	for k := range n {
		select {
		case next <- k:
			continue
		case <-ctx.Done():
		}
		break
	}
	close(next)
	hands.Wait()
	return context.Cause(ctx)
}

// safely makes an error of a panic: work away from a request has nobody above it who would, and one job's pack must not end the server.
func safely(do func() error) (err error) {
	defer func() {
		if v := recover(); v != nil {
			err = fmt.Errorf("panic: %v\n%s", v, debug.Stack())
		}
	}()
	return do()
}
