package layout

import (
	"testing"

	"pgregory.net/rapid"

	"newelbook/checklist/length"
)

// TestLeastSetBack: at the least set-back nothing of the two runs of a corner stands in the other and a length that lifts out has its clearance; one
// step of the grid less and one of these does not hold. Both runs see one gap and one least.
func TestLeastSetBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := func(name string) cornerSide {
			spec := DefaultSpec(length.Inches)
			size := rapid.SampledFrom([]length.Length{3*in + in/2, 4 * in, 5*in + in/2, 89 * mm})
			spec.PostWidth, spec.PostDepth = size.Draw(t, name+" width"), size.Draw(t, name+" depth")
			spec.PostMount = rapid.SampledFrom([]string{MountBolted, MountSleeve}).Draw(t, name+" mount")
			spec.CapOverhang = rapid.SampledFrom([]length.Length{0, in / 2, in}).Draw(t, name+" overhang")
			run := Run{Kind: rapid.SampledFrom([]RunKind{Level, Removable}).Draw(t, name+" kind"), SideClearance: length.Length(rapid.IntRange(0, 16).Draw(t, name+" clear")) * in / 16}
			return sideOf(run, spec)
		}
		c := corner{own: side("own"), other: side("other"), turn: rapid.IntRange(1, 150).Draw(t, "turn"), doubled: true}
		clear := func(back length.Length) bool {
			wanted := max(c.own.clear, c.other.clear)
			return c.gap(bare, back) >= 0 && c.gap(socket, back) >= 0 && (!c.lifts() || c.clear(back) >= wanted)
		}
		back := c.back()
		if step := c.own.spec.Grid; !clear(back) || clear(back-step) {
			t.Fatalf("%v back: clear %v; %v back: clear %v", back, clear(back), back-step, clear(back-step))
		}
		if f := c.flipped(); f.back() != back || (f.gap(socket, back)-c.gap(socket, back)).Abs() > 1 {
			t.Fatalf("%v back and %v between them, and from the other run %v and %v", back, c.gap(socket, back), f.back(), f.gap(socket, back))
		}
	})
}
