package jobs

import (
	"time"

	"newelbook/checklist/length"
)

// OnHand is boards of one section and length that are on the site already: bought, or left over as an offcut. It is withdrawn when
// its last one is used.
type OnHand struct {
	ID      string        `json:"id"`
	Section string        `json:"section"` // as the layout names it
	Species string        `json:"species"` // name; empty where the layout does not know it
	Length  length.Length `json:"length"`
	Count   int           `json:"count"` // that are left; 0 where it is withdrawn
	Offcut  bool          `json:"offcut"`
	From    string        `json:"from"` // where it comes from or lies, may be empty
	Why     string        `json:"why"`  // what became of it, last
	At      time.Time     `json:"at"`   // of the last change
	By      Actor         `json:"by"`
	Version int           `json:"version"`
}

// HandOf is the stock on hand of that id.
func (r *Record) HandOf(id string) (OnHand, bool) {
	return find(r.OnHand, func(o OnHand) bool { return o.ID == id })
}
