package layout

import "newelbook/checklist/length"

// Conversion of loads: the pound-force is 4.4482216152605 N exactly.
const (
	newtonsPerPound = 4.4482216152605
	feetPerMetre    = 1 / 0.3048
)

// KilonewtonsFromPounds converts a force.
func KilonewtonsFromPounds(lb float64) float64 { return lb * newtonsPerPound / 1000 }

// PoundsFromKilonewtons converts a force.
func PoundsFromKilonewtons(kn float64) float64 { return kn * 1000 / newtonsPerPound }

// KilonewtonsPerMetre converts a load along a length from pounds per foot.
func KilonewtonsPerMetre(plf float64) float64 { return KilonewtonsFromPounds(plf) * feetPerMetre }

// PoundsPerFoot converts a load along a length from kilonewtons per metre.
func PoundsPerFoot(knPerMetre float64) float64 {
	return PoundsFromKilonewtons(knPerMetre) / feetPerMetre
}

// Moment returns force times arm, in the force's unit times inches: 200 lb at 36 in is 7,200 in-lb.
func Moment(force float64, arm length.Length) float64 { return force * arm.Inches() }

// CoupleForce returns the force of a couple that resists a moment (force times inches) over an arm; zero without an arm.
func CoupleForce(moment float64, arm length.Length) float64 {
	if arm <= 0 {
		return 0
	}
	return moment / arm.Inches()
}

// UpperBoltTension returns the tension in the upper bolt of a post held by two through-bolts when force pushes outward at
// height above the decking: force x (height + decking + depth of the lower bolt under the top of the framing) / spacing of
// the bolts. In the force's own unit; zero where the bolts have no spacing. The method is that of published deck guides
// with the job's own bolt positions; it does not fit posts in sleeves or on bases.
func UpperBoltTension(force float64, height, decking, lowerBolt, spacing length.Length) float64 {
	return CoupleForce(Moment(force, height+decking+lowerBolt), spacing)
}

// section is a rectangle that a load bends: depth is measured in the direction of the load.
type section struct{ breadth, depth length.Length }

// stiffness is the second moment of area about the section's own middle, in inches to the fourth.
func (s section) stiffness() float64 {
	return SectionModulus(s.breadth, s.depth) * s.depth.Inches() / 2
}

// bendingStress returns the greatest stress in one section, in psi, under a moment in in-lb that it shares with others of the same wood. Not
// joined to one body they all bend to the same curve, each about its own middle, so that each takes of the moment as much as it has of the
// stiffness: moment x half its depth / sum of the stiffnesses (beam theory). Zero for sections of nothing.
func bendingStress(moment float64, of section, with ...section) float64 {
	sum := of.stiffness()
	for _, s := range with {
		sum += s.stiffness()
	}
	if sum <= 0 {
		return 0
	}
	return moment * of.depth.Inches() / 2 / sum
}

// SectionModulus returns that of a rectangle in cubic inches; depth is measured in the direction of the load.
func SectionModulus(breadth, depth length.Length) float64 {
	return breadth.Inches() * depth.Inches() * depth.Inches() / 6
}

// ModulusNeeded returns the section modulus, in cubic inches, that keeps a moment in in-lb within a bending stress in psi;
// zero for no stress.
func ModulusNeeded(moment, stress float64) float64 {
	if stress <= 0 {
		return 0
	}
	return moment / stress
}

// MidspanMoment returns the moment of a force at the middle of a simple span: force x span / 4, times inches.
func MidspanMoment(force float64, span length.Length) float64 { return Moment(force, span) / 4 }

// UniformMoment returns the moment in the middle of a simple span under a load along all of it, in pounds per foot: load x span x span / 8,
// in in-lb.
func UniformMoment(plf float64, span length.Length) float64 {
	return Moment(PostLoad(plf, span), span) / 8
}

// testedWithout is the mean load in pounds, at the top of the guard, that tested 4x4 posts held on a 2x8 rim with two 1/2 in through-bolts and
// no hold-down: 217 to 248 lb, the rim peeling off the joists' end grain (Journal of Light Construction, "Strong Rail-Post Connections for
// Wooden Decks", secondary text).
const testedWithout = 237

// TestFactor returns what a test level is over the load that it stands for: 500 lb over 200 lb is 2.5; zero without a load.
func TestFactor(level, load float64) float64 {
	if load <= 0 {
		return 0
	}
	return level / load
}

// TestShare returns the share of a test level that a tested connection held, in percent; zero without a level.
func TestShare(held, level float64) float64 {
	if level <= 0 {
		return 0
	}
	return 100 * held / level
}

// PostLoad returns what a load along the top, in pounds per foot, puts on a post that carries a length of it, in pounds: at equal centres the
// length between them.
func PostLoad(plf float64, carried length.Length) float64 { return plf * carried.Inches() / 12 }
