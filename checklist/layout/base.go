package layout

import (
	"fmt"

	"newelbook/checklist/length"
)

// base says what a surface base needs.
func (w *work) base() string {
	if w.spec.BaseTest == "" {
		return "The surface base has no published guard-load test on record: refer it before it is fixed, and put blocking under it."
	}
	return "Blocking under the base; its published guard-load test: " + w.spec.BaseTest + "."
}

// onBase stands a post on a base: what that holds its end off what it stands on comes off its length, and is said.
func (w *work) onBase(p *Post, on string) {
	switch off := w.spec.BaseStandOff; {
	case !w.spec.BaseStandOffGiven:
		p.Foot = fmt.Sprintf("Cut as if its end stood on %s: how far the base holds it up is not given, and comes off.", on)
	case off == 0:
		p.Foot = fmt.Sprintf("Its end stands on %s in the base.", on)
	default:
		p.StandOff = off
		p.Foot = fmt.Sprintf("Its end stands %s off %s in the base, and it is cut that much shorter.", w.text(off), on)
	}
}

// under says how many pieces of blocking stand side by side under a base: as many as make the size of the post that way, from which the
// fasteners of most bases stand a little out (common practice, no source). A base's own test comes first.
func (w *work) under(size length.Length) int {
	return max(1, ceilDiv(size, max(w.spec.JoistWidth, 1)))
}

// underPieces says where the blocking of a base stands.
func underPieces(n int, between string) string {
	if n == 1 {
		return between + ", under the base"
	}
	return fmt.Sprintf("%s, %d side by side under the base", between, n)
}

// onBlocking says that a space for blocking under a base is not known; nothing for another post.
func (w *work) onBlocking() string {
	if w.spec.PostMount != MountBase {
		return ""
	}
	return " Cut the blocking under its base to the space as measured."
}
