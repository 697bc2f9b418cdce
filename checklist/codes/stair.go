package codes

import (
	"math"

	"newelbook/checklist/length"
)

// Pitch returns the angle above level of a stair of that rise and going, in degrees, to be held to StairPitchMax. A going of
// nothing is 90 degrees.
func Pitch(rise, going length.Length) float64 {
	return math.Atan2(float64(rise), float64(going)) * 180 / math.Pi
}

// StepRelation returns twice the rise plus the going, to be held to StairRelationMin and StairRelationMax.
func StepRelation(rise, going length.Length) length.Length { return 2*rise + going }
