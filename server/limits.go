package server

import (
	"net/netip"
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

// network is what one caller is taken to be: an IPv4 address, or the 64 bits of an IPv6 one that a single line is given (RFC 6177), within
// which anybody has more addresses than could be counted.
func network(address string) string {
	a, err := netip.ParseAddr(address)
	if err != nil || a.Unmap().Is4() {
		return address
	}
	p, err := a.WithZone("").Prefix(64)
	if err != nil {
		return address
	}
	return p.String()
}
