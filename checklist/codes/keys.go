package codes

// Keys of the figures. A rule set has those that its code has; the others are absent.
const (
	// A guard is required when the drop within the zone, or the slope of the ground within it, is inside the figure.
	GuardTriggerDrop  = "guard.trigger_drop"
	GuardTriggerZone  = "guard.trigger_zone"
	GuardTriggerSlope = "guard.trigger_slope"

	// Heights of the guard of a deck, above the walking surface or plumb above the nosing line. The low height may be used
	// where the walking surface stands no more than the low drop above the ground.
	GuardHeightLevel        = "guard.height_level"
	GuardHeightLevelLow     = "guard.height_level_low"
	GuardHeightLevelLowDrop = "guard.height_level_low_drop"
	GuardHeightStair        = "guard.height_stair"
	GuardHandrailTopMin     = "guard.handrail_top_min"
	GuardHandrailTopMax     = "guard.handrail_top_max"

	// Heights at other places. The height of a stair's landing holds up to the landing length, along its inside edge, where
	// the rule set has one. The dwelling heights are those of a dwelling in a code for other buildings.
	GuardHeightLanding       = "guard.height_landing"
	GuardLandingLengthMax    = "guard.landing_length_max"
	GuardHeightInside        = "guard.height_inside"
	GuardHeightDwelling      = "guard.height_dwelling"
	GuardHeightStairDwelling = "guard.height_stair_dwelling"

	// A ramp inside the slope takes the height of a stair, a flatter one that of a landing.
	GuardRampSlope        = "guard.ramp_slope"
	GuardHeightTransition = "guard.height_transition"
	GuardHeightFinishes   = "guard.height_finishes"
	GuardDeflectionMax    = "guard.deflection_max"
	GuardPlasticComposite = "guard.plastic_composite"

	// Clear openings, as the diameter of a sphere.
	OpeningLevel         = "opening.level"
	OpeningStair         = "opening.stair"
	OpeningStairDwelling = "opening.stair_dwelling"
	OpeningTriangle      = "opening.triangle"
	OpeningUnderRail     = "opening.under_rail"
	OpeningIndustrial    = "opening.industrial"

	// Openings of the upper part of a guard, from the upper height above the walking surface.
	OpeningUpper     = "opening.upper"
	OpeningUpperFrom = "opening.upper_from"

	// Rope or cable infill, and the upright supports between its strands.
	OpeningRope        = "opening.rope"
	OpeningRopeSupport = "opening.rope_support"

	// Open risers, where the tread stands over the drop above the ground.
	OpeningOpenRiser     = "opening.open_riser"
	OpeningOpenRiserDrop = "opening.open_riser_drop"

	// A guard that is not required must stop the one sphere or pass the other, against trapping a child.
	OpeningUnrequiredStops  = "opening.unrequired_stops"
	OpeningUnrequiredPasses = "opening.unrequired_passes"
	OpeningAfterDrying      = "opening.after_drying"

	// Nothing that helps climbing stands from the low to the high end of the zone. Where there is a trigger drop, the zone
	// is asked for only where the drop is inside it.
	ClimbZoneLow     = "climb.zone_low"
	ClimbZoneHigh    = "climb.zone_high"
	ClimbTriggerDrop = "climb.trigger_drop"
	ClimbRule        = "climb.rule"

	// Stairs. Uniform figures are greatest less smallest in a flight, adjacent ones between neighbours, variations either
	// way from what was stated. Those of another kind of stair have keys of their own: see StairKind.
	StairRiserMax             = "stair.riser_max"
	StairRiserMin             = "stair.riser_min"
	StairTreadMin             = "stair.tread_min"
	StairTreadMax             = "stair.tread_max"
	StairPitchMax             = "stair.pitch_max"
	StairRelationMin          = "stair.relation_min" // twice the rise plus the going
	StairRelationMax          = "stair.relation_max"
	StairRiserUniform         = "stair.riser_uniform"
	StairRiserUniformAdjacent = "stair.riser_uniform_adjacent"
	StairRiserVariation       = "stair.riser_variation"
	StairTreadUniform         = "stair.tread_uniform"
	StairTreadUniformAdjacent = "stair.tread_uniform_adjacent"
	StairTreadSlopeMax        = "stair.tread_slope_max"
	StairGradeSlopeMax        = "stair.grade_slope_max"
	StairNosingMin            = "stair.nosing_min"
	StairNosingMax            = "stair.nosing_max"
	StairNosingTread          = "stair.nosing_tread"
	StairNosingUniform        = "stair.nosing_uniform"
	StairFlightRisersMax      = "stair.flight_risers_max"
	StairHandrailRisers       = "stair.handrail_risers"
	StairOpenRisers           = "stair.open_risers"
	StairWidthMin             = "stair.width_min"
	StairWidthOneHandrail     = "stair.width_one_handrail"
	StairWidthTwoHandrails    = "stair.width_two_handrails"
	StairHeadroomMin          = "stair.headroom_min"

	HandrailHeightMin        = "handrail.height_min"
	HandrailHeightMax        = "handrail.height_max"
	HandrailWallClearanceMin = "handrail.wall_clearance_min"
	HandrailContinuity       = "handrail.continuity"
	HandrailSupportMax       = "handrail.support_max"
	HandrailSupportEndMax    = "handrail.support_end_max"
	HandrailFixing           = "handrail.fixing"

	// The grip without a finger recess: round by its diameter, any other by its perimeter and greatest section.
	HandrailGripDiameterMin  = "handrail.grip_diameter_min"
	HandrailGripDiameterMax  = "handrail.grip_diameter_max"
	HandrailGripPerimeterMin = "handrail.grip_perimeter_min"
	HandrailGripPerimeterMax = "handrail.grip_perimeter_max"
	HandrailGripSectionMax   = "handrail.grip_section_max"

	// The larger grip, with a finger recess on both sides.
	HandrailRecessPerimeter = "handrail.recess_perimeter"
	HandrailRecessStartMax  = "handrail.recess_start_max"
	HandrailRecessDepthMin  = "handrail.recess_depth_min"
	HandrailRecessWithinMax = "handrail.recess_within_max"
	HandrailRecessRunMin    = "handrail.recess_run_min"
	HandrailRecessTopMin    = "handrail.recess_top_min"
	HandrailRecessTopMax    = "handrail.recess_top_max"

	// Loads that the guard must carry. The inside ones are those of a guard inside a dwelling.
	LoadGuardPoint          = "load.guard_point"
	LoadGuardLine           = "load.guard_line"
	LoadGuardLineInside     = "load.guard_line_inside"
	LoadGuardLineOther      = "load.guard_line_other"
	LoadGuardLineRestricted = "load.guard_line_restricted"
	LoadGuardVertical       = "load.guard_vertical"
	LoadGuardDirection      = "load.guard_direction"
	LoadGuardExceptions     = "load.guard_exceptions"
	LoadGuardHeight         = "load.guard_height"
	LoadGuardStandard       = "load.guard_standard"
	LoadInfillPoint         = "load.infill_point"
	LoadInfillPointInside   = "load.infill_point_inside"
	LoadInfillArea          = "load.infill_area"
	LoadInfillUniform       = "load.infill_uniform"
	LoadInfillUniformInside = "load.infill_uniform_inside"
	LoadInfillSharing       = "load.infill_sharing"
	LoadHandrailPoint       = "load.handrail_point"
	LoadTreadPoint          = "load.tread_point"
	LoadDeckLive            = "load.deck_live"
	LoadGlassFactor         = "load.glass_factor"

	// Guard posts and what they are fixed to.
	PostNotch4x4    = "post.notch_4x4"
	PostLoadPath    = "post.load_path"
	PostSideMounted = "post.side_mounted"
	PostTopMounted  = "post.top_mounted"
	PostFace        = "post.face"

	// Fasteners and connectors in treated wood and near salt water.
	FastenerTreated        = "fastener.treated"
	FastenerTreatedBolt    = "fastener.treated_bolt"
	FastenerMechanicalZinc = "fastener.mechanical_zinc"
	FastenerCoastalZone    = "fastener.coastal_zone"
	ConnectorTreated       = "connector.treated"

	// Ties of the deck to the house: four of the one capacity, or one at each of two places of the other.
	TieFourCapacity   = "tie.four_capacity"
	TieTwoCapacity    = "tie.two_capacity"
	TieLagPenetration = "tie.lag_penetration"

	// Spacing of ledger fasteners, 1/2 in lag screws or bolts, by joist span: the table's columns are at LedgerKey.
	LedgerLagSpacing  = "ledger.lag_spacing"
	LedgerBoltSpacing = "ledger.bolt_spacing"

	// Reference practice, and figures of codes that have them.
	HoldDownCapacity = "holddown.capacity"
	BoltEdgeMin      = "bolt.edge_min"
	BoltDiameterMin  = "bolt.diameter_min"
	PostCentresMax   = "post.centres_max"
	PostSpacingMax   = "post.spacing_max"
	PostSizeMin      = "post.size_min"
	LoadPostTest     = "load.post_test"
	SphereTestForce  = "sphere.test_force"
)

// StairKind is a kind of stair for which a code has limits beside those of the stair of a deck.
type StairKind string

// The other kinds of stair.
const (
	StairInside     StairKind = "inside"     // of a dwelling, not outside it
	StairDwelling   StairKind = "dwelling"   // of a dwelling, in a code for other buildings
	StairUtility    StairKind = "utility"    // for escape, access for upkeep or out of public use
	StairGeneral    StairKind = "general"    // for all users of a building
	StairPublic     StairKind = "public"     // of a building for the public
	StairSecondary  StairKind = "secondary"  // of a dwelling, not its main one
	StairMinor      StairKind = "minor"      // to one room, or for service
	StairAccessible StairKind = "accessible" // for people with disabilities
)

// StairKinds lists the other kinds of stair.
func StairKinds() []StairKind {
	return []StairKind{StairInside, StairDwelling, StairUtility, StairGeneral, StairPublic, StairSecondary, StairMinor, StairAccessible}
}

// Key returns the key of this kind's own figure in place of that of the stair of a deck: StairPublic.Key(StairRiserMax) is
// stair.riser_max_public. Risers, treads and pitch have such keys.
func (k StairKind) Key(base string) string { return base + "_" + string(k) }
