package server

import (
	"sync"

	"newelbook/views"
)

// mostFrozen bounds the packs whose page is kept: some kilobytes each.
const mostFrozen = 200

// frozen keeps what guests' pages show of packs, by the hash of the pack: a record.json is megabytes to decode, and never
// changes. A full one is emptied: what is still looked at comes back. The zero value keeps nothing yet.
type frozen struct {
	mu    sync.Mutex
	known map[string]views.Frozen
}

// of is what is known of a pack, or what read finds out about it. Two who ask for the same at first both read.
func (k *frozen) of(hash string, read func() (views.Frozen, error)) (views.Frozen, error) {
	k.mu.Lock()
	x, ok := k.known[hash]
	k.mu.Unlock()
	if ok {
		return x, nil
	}
	x, err := read()
	if err != nil {
		return views.Frozen{}, err
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.known == nil || len(k.known) >= mostFrozen {
		k.known = map[string]views.Frozen{}
	}
	k.known[hash] = x
	return x, nil
}
