package codes

// Keys of the figures. A rule set has those that its code has; the others are absent.
const (
	// A guard is required when the drop within the zone, or the slope of the ground within it, is over the figure.
	GuardTriggerDrop  = "guard.trigger_drop"
	GuardTriggerZone  = "guard.trigger_zone"
	GuardTriggerSlope = "guard.trigger_slope"

	// Heights of the guard, above the walking surface or plumb above the nosing line. The low height may be used where
	// the walking surface stands no more than the low drop above the ground.
	GuardHeightLevel        = "guard.height_level"
	GuardHeightLevelLow     = "guard.height_level_low"
	GuardHeightLevelLowDrop = "guard.height_level_low_drop"
	GuardHeightStair        = "guard.height_stair"
	GuardHandrailTopMin     = "guard.handrail_top_min"
	GuardHandrailTopMax     = "guard.handrail_top_max"

	// Clear openings, as the diameter of a sphere.
	OpeningLevel     = "opening.level"
	OpeningStair     = "opening.stair"
	OpeningTriangle  = "opening.triangle"
	OpeningUnderRail = "opening.under_rail"

	// Nothing that helps climbing stands from the low to the high end of the zone.
	ClimbZoneLow  = "climb.zone_low"
	ClimbZoneHigh = "climb.zone_high"

	// Stairs. Uniform figures are greatest less smallest in a flight, adjacent ones between neighbours.
	StairRiserMax             = "stair.riser_max"
	StairRiserMin             = "stair.riser_min"
	StairTreadMin             = "stair.tread_min"
	StairTreadMax             = "stair.tread_max"
	StairRiserUniform         = "stair.riser_uniform"
	StairRiserUniformAdjacent = "stair.riser_uniform_adjacent"
	StairTreadUniform         = "stair.tread_uniform"
	StairHandrailRisers       = "stair.handrail_risers"

	HandrailHeightMin = "handrail.height_min"
	HandrailHeightMax = "handrail.height_max"

	// Loads that the guard must carry.
	LoadGuardPoint  = "load.guard_point"
	LoadGuardLine   = "load.guard_line"
	LoadInfillPoint = "load.infill_point"
	LoadInfillArea  = "load.infill_area"

	PostNotch4x4 = "post.notch_4x4"

	// Reference practice.
	HoldDownCapacity = "holddown.capacity"
	BoltEdgeMin      = "bolt.edge_min"
	BoltDiameterMin  = "bolt.diameter_min"
	PostCentresMax   = "post.centres_max"
	PostSpacingMax   = "post.spacing_max"
	PostSizeMin      = "post.size_min"
	LoadPostTest     = "load.post_test"
	SphereTestForce  = "sphere.test_force"
)

// kindOf returns the kind that every figure of the key has, in every rule set; false for a key that is not in the list
// above.
func kindOf(key string) (Kind, bool) {
	switch key {
	case GuardTriggerDrop, GuardTriggerZone,
		GuardHeightLevel, GuardHeightLevelLow, GuardHeightLevelLowDrop, GuardHeightStair, GuardHandrailTopMin, GuardHandrailTopMax,
		OpeningLevel, OpeningStair, OpeningTriangle, OpeningUnderRail, ClimbZoneLow, ClimbZoneHigh,
		StairRiserMax, StairRiserMin, StairTreadMin, StairTreadMax,
		StairRiserUniform, StairRiserUniformAdjacent, StairTreadUniform, HandrailHeightMin, HandrailHeightMax,
		BoltEdgeMin, BoltDiameterMin, PostCentresMax, PostSpacingMax:
		return KindLength, true
	case GuardTriggerSlope:
		return KindRatio, true
	case StairHandrailRisers:
		return KindCount, true
	case LoadGuardPoint, LoadInfillPoint, HoldDownCapacity, LoadPostTest, SphereTestForce:
		return KindForce, true
	case LoadGuardLine:
		return KindForcePerLength, true
	case LoadInfillArea:
		return KindArea, true
	case PostNotch4x4, PostSizeMin:
		return KindText, true
	}
	return "", false
}
