package server

import (
	"sync"
	"time"

	"golang.org/x/time/rate"
)

// limits lets each key do something so many times at once and then once in a while. It lives in memory: a server
// started again has forgotten.
type limits struct {
	mu    sync.Mutex
	burst int
	every time.Duration
	keys  map[string]*rate.Limiter
}

// mostKeys bounds the memory that guesses can take.
const mostKeys = 10_000

func newLimits(burst int, every time.Duration) *limits {
	return &limits{burst: burst, every: every, keys: map[string]*rate.Limiter{}}
}

// allow takes one turn of a key.
func (l *limits) allow(key string, at time.Time) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	k := l.keys[key]
	if k == nil {
		if len(l.keys) >= mostKeys {
			l.forget(at)
		}
		k = rate.NewLimiter(rate.Every(l.every), l.burst)
		l.keys[key] = k
	}
	return k.AllowN(at, 1)
}

// forget drops the keys that have all their turns back, and every key where none has: better one more guess than a full
// memory.
func (l *limits) forget(at time.Time) {
	for key, k := range l.keys {
		if k.TokensAt(at) >= float64(l.burst) {
			delete(l.keys, key)
		}
	}
	if len(l.keys) >= mostKeys {
		clear(l.keys)
	}
}
