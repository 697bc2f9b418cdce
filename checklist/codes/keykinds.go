package codes

import (
	"slices"
	"strings"
)

// kindOf returns the kind that every figure of the key has, in every rule set; false for a key that is not listed.
func kindOf(key string) (Kind, bool) {
	switch stairBase(key) {
	case StairRiserMax, StairRiserMin, StairTreadMin, StairTreadMax:
		return KindLength, true
	case StairPitchMax:
		return KindAngle, true
	}
	if isLedgerKey(key) {
		return KindLength, true
	}
	switch key {
	case GuardTriggerDrop, GuardTriggerZone,
		GuardHeightLevel, GuardHeightLevelLow, GuardHeightLevelLowDrop, GuardHeightStair, GuardHandrailTopMin, GuardHandrailTopMax,
		GuardHeightLanding, GuardLandingLengthMax, GuardHeightInside, GuardHeightDwelling, GuardHeightStairDwelling, GuardDeflectionMax,
		OpeningLevel, OpeningStair, OpeningStairDwelling, OpeningTriangle, OpeningUnderRail, OpeningIndustrial,
		OpeningUpper, OpeningUpperFrom, OpeningRope, OpeningRopeSupport, OpeningOpenRiser, OpeningOpenRiserDrop,
		OpeningUnrequiredStops, OpeningUnrequiredPasses, ClimbZoneLow, ClimbZoneHigh, ClimbTriggerDrop,
		StairRelationMin, StairRelationMax, StairRiserUniform, StairRiserUniformAdjacent, StairRiserVariation,
		StairTreadUniform, StairTreadUniformAdjacent,
		StairNosingMin, StairNosingMax, StairNosingTread, StairNosingUniform,
		StairWidthMin, StairWidthOneHandrail, StairWidthTwoHandrails, StairHeadroomMin,
		HandrailHeightMin, HandrailHeightMax, HandrailWallClearanceMin, HandrailSupportMax, HandrailSupportEndMax,
		HandrailGripDiameterMin, HandrailGripDiameterMax, HandrailGripPerimeterMin, HandrailGripPerimeterMax, HandrailGripSectionMax,
		HandrailRecessPerimeter, HandrailRecessStartMax, HandrailRecessDepthMin, HandrailRecessWithinMax, HandrailRecessRunMin,
		HandrailRecessTopMin, HandrailRecessTopMax,
		FastenerTreatedBolt, FastenerCoastalZone, TieLagPenetration,
		BoltEdgeMin, BoltDiameterMin, PostCentresMax, PostSpacingMax:
		return KindLength, true
	case GuardTriggerSlope, GuardRampSlope, StairTreadSlopeMax, StairGradeSlopeMax:
		return KindRatio, true
	case StairFlightRisersMax, StairHandrailRisers, LoadGlassFactor:
		return KindCount, true
	case LoadGuardPoint, LoadInfillPoint, LoadInfillPointInside, LoadHandrailPoint, LoadTreadPoint, TieFourCapacity, TieTwoCapacity,
		HoldDownCapacity, LoadPostTest, SphereTestForce:
		return KindForce, true
	case LoadGuardLine, LoadGuardLineInside, LoadGuardLineOther, LoadGuardLineRestricted, LoadGuardVertical:
		return KindForcePerLength, true
	case LoadInfillUniform, LoadInfillUniformInside, LoadDeckLive:
		return KindForcePerArea, true
	case LoadInfillArea:
		return KindArea, true
	case GuardHeightTransition, GuardHeightFinishes, GuardPlasticComposite, OpeningAfterDrying, ClimbRule, StairOpenRisers,
		HandrailContinuity, HandrailFixing, LoadGuardDirection, LoadGuardExceptions, LoadGuardHeight, LoadGuardStandard, LoadInfillSharing,
		PostNotch4x4, PostLoadPath, PostSideMounted, PostTopMounted, PostFace, PostSizeMin,
		FastenerTreated, FastenerMechanicalZinc, ConnectorTreated:
		return KindText, true
	}
	return "", false
}

// stairBase returns the key of the deck stair's figure that a key of a kind of stair stands in place of, or the key itself.
func stairBase(key string) string {
	for _, kind := range StairKinds() {
		if base, found := strings.CutSuffix(key, kind.Key("")); found {
			return base
		}
	}
	return key
}

// isLedgerKey says whether the key is a column of the table of ledger fasteners.
func isLedgerKey(key string) bool {
	return slices.ContainsFunc(LedgerSpans(), func(feet int) bool {
		return key == LedgerKey(LedgerLagSpacing, feet) || key == LedgerKey(LedgerBoltSpacing, feet)
	})
}
