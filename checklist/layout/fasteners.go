package layout

import (
	"math"

	"newelbook/checklist/length"
)

// LagWithdrawal returns the withdrawal value of a lag screw in pounds per inch of thread, 1800 G^1.5 D^0.75 (NDS 12.2-1,
// secondary text), for the specific gravity of the wood that holds the thread.
func LagWithdrawal(diameter length.Length, gravity float64) float64 {
	return 1800 * math.Pow(gravity, 1.5) * math.Pow(diameter.Inches(), 0.75)
}

// LagPilot returns the range of the lead hole for the threaded part of a lag screw (NDS 12.1.4.2, from memory, provisional):
// 65 to 85 % of the diameter where G is over 0.60, 60 to 75 % over 0.50, 40 to 70 % otherwise.
func LagPilot(diameter length.Length, gravity float64) (least, most length.Length) {
	low, high := int64(40), int64(70)
	switch {
	case gravity > 0.60:
		low, high = 65, 85
	case gravity > 0.50:
		low, high = 60, 75
	}
	return length.MulDiv(diameter, low, 100), length.MulDiv(diameter, high, 100)
}

// LagClearance returns the hole for the shank of a lag screw: its own diameter (NDS 12.1.4.2, secondary text).
func LagClearance(diameter length.Length) length.Length { return diameter }

// LagThread returns the least thread length of a lag screw: half its length and 1/2 in, or 6 in if that is shorter
// (ASME B18.2.1, secondary text).
func LagThread(screw length.Length) length.Length { return min(screw/2+in/2, 6*in) }

// WoodScrewPenetration returns the least penetration of a wood screw, six diameters, tip included (NDS 12.1.5.6, secondary
// text).
func WoodScrewPenetration(diameter length.Length) length.Length { return 6 * diameter }

// screwRoot is the diameter at the bottom of a wood screw's thread: about two thirds of that outside it (Wood Handbook ch. 8, official text).
func screwRoot(diameter length.Length) length.Length { return length.MulDiv(diameter, 2, 3) }

// ScrewLead returns the lead hole for the thread of a wood screw that is pushed across its length, in wood of a specific gravity, and of what
// part of the root it is: the root itself over 0.60, seven eighths of it otherwise (NDS 12.1.5.3, from memory, provisional).
func ScrewLead(diameter length.Length, gravity float64) (hole length.Length, of string) {
	if gravity > 0.60 {
		return screwRoot(diameter), "all"
	}
	return length.MulDiv(screwRoot(diameter), 7, 8), "7/8"
}

// BoltHole returns the range of a bolt's hole: 1/32 to 1/16 in over its diameter (NDS, secondary text).
func BoltHole(diameter length.Length) (least, most length.Length) {
	return diameter + in/32, diameter + in/16
}

// Shrinkage returns the shrinkage in percent of the green size at a moisture content in percent, from the shrinkage green to
// oven-dry: S0 (30 - M) / 30, none above 30 % (Wood Handbook linear method, from memory).
func Shrinkage(ovenDry, moisture float64) float64 {
	return ovenDry * (30 - min(max(moisture, 0), 30)) / 30
}

// DrySize returns what a green size becomes at a moisture content in percent, by Shrinkage.
func DrySize(green length.Length, ovenDry, moisture float64) length.Length {
	return green - nearestNM(float64(green)*Shrinkage(ovenDry, moisture)/100)
}

// LumberShrinkage returns the shrinkage of dressed lumber from green in percent at 8 to 19 % moisture, across its width and
// its thickness (PS 20, by FPL-RP-489; not for redwood and cedars, which shrink less).
func LumberShrinkage(moisture float64) (width, thickness float64) {
	return 6.031 - 0.215*moisture, 5.062 - 0.181*moisture
}

// Movement returns the change of a size between two moisture contents in percent (6 to 14 %) by a coefficient of the wood:
// size x change x coefficient, negative for drying.
func Movement(size length.Length, from, to, coefficient float64) length.Length {
	return nearestNM(float64(size) * (to - from) * coefficient)
}

// ThumbMovement returns the change of a size by the rule of thumb of 1 % for 4 points of moisture.
func ThumbMovement(size length.Length, points float64) length.Length {
	return nearestNM(float64(size) * points / 400)
}
