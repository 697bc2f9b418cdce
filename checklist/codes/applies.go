package codes

import (
	"fmt"
	"strings"
)

// AppliesTo says, in a few words, what a figure of that key is held to and under which condition; empty for a key that is not
// listed. Where the condition is itself a figure of the rule set, the words name it: Applied.Condition gives its value.
func AppliesTo(key string) string {
	if _, listed := kindOf(key); !listed {
		return ""
	}
	if base := stairBase(key); base != key && strings.HasPrefix(key, "stair.") {
		for _, kind := range StairKinds() {
			if kind.Key(base) == key {
				return "A stair " + kind.words()
			}
		}
	}
	if isLedgerKey(key) {
		return "A ledger on a 2x band joist, joists of at most the span in the figure's name"
	}
	switch key {
	case GuardTriggerDrop:
		return "An open edge: such a drop calls for a guard"
	case GuardTriggerZone:
		return "How far out from the edge the drop counts"
	case GuardTriggerSlope:
		return "Sloping ground within the zone: such a slope calls for a guard"
	case GuardHeightLevel:
		return "A required guard along a level edge"
	case GuardHeightLevelLow:
		return "A required guard outside one dwelling, where the deck stands low enough"
	case GuardHeightLevelLowDrop:
		return "The deck above the ground, for the low height"
	case GuardHeightStair:
		return "A required guard on the open side of a stair, plumb above the nosing line"
	case GuardHandrailTopMin, GuardHandrailTopMax:
		return "A stair guard whose top is the handrail"
	case GuardHeightLanding:
		return "A required guard along a landing of a stair"
	case GuardLandingLengthMax:
		return "The inside edge of a landing, for the landing's own height"
	case GuardHeightInside:
		return "A guard inside a dwelling"
	case GuardHeightDwelling, GuardHeightStairDwelling, OpeningStairDwelling, LoadGuardExceptions:
		return "A guard of a dwelling, in a code for other buildings"
	case GuardRampSlope:
		return "A ramp: such a slope takes the height of a stair"
	case GuardHeightTransition, GuardHeightFinishes, GuardPlasticComposite:
		return "Any guard of that kind"
	case GuardDeflectionMax:
		return "A guard under its load"
	case OpeningLevel:
		return "A required guard along a level edge, up to the required height"
	case OpeningStair:
		return "A required guard on the open side of a stair"
	case OpeningTriangle:
		return "The triangle of riser, tread and bottom rail"
	case OpeningUnderRail:
		return "Under the bottom rail of a required level guard"
	case OpeningIndustrial:
		return "A guard of an industrial building"
	case OpeningUpper, OpeningUpperFrom:
		return "The part of a guard above the height that the upper opening counts from"
	case OpeningRope, OpeningRopeSupport:
		return "Infill of rope or cable"
	case OpeningOpenRiser, OpeningOpenRiserDrop:
		return "Open risers, where the tread stands high enough above the ground"
	case OpeningUnrequiredStops, OpeningUnrequiredPasses:
		return "A guard that is not required"
	case OpeningAfterDrying:
		return "Infill built of wet stock"
	case ClimbZoneLow, ClimbZoneHigh, ClimbRule:
		return "Members, attachments and openings that help climbing"
	case ClimbTriggerDrop:
		return "The drop: such a drop calls for the climbing zone"
	case StairNosingTread:
		return "The tread: such a tread needs no nosing"
	case StairNosingMin, StairNosingMax, StairNosingUniform:
		return "Nosings, where the tread needs one"
	case StairHandrailRisers:
		return "A flight: so many risers call for a handrail"
	case StairFlightRisersMax:
		return "One flight between landings"
	case StairWidthOneHandrail, StairWidthTwoHandrails:
		return "A stair with that many handrails, at and below their height"
	case HandrailGripDiameterMin, HandrailGripDiameterMax:
		return "A round handrail"
	case HandrailGripPerimeterMin, HandrailGripPerimeterMax, HandrailGripSectionMax:
		return "A handrail that is not round and has no finger recess"
	case LoadGuardLineInside, LoadInfillPointInside, LoadInfillUniformInside:
		return "A guard inside one dwelling"
	case LoadGuardLineOther:
		return "A guard of other buildings than small dwellings"
	case LoadGuardLineRestricted:
		return "A guard of a place closed to the public, for few people"
	case LoadHandrailPoint:
		return "A handrail of a stair"
	case LoadTreadPoint, LoadDeckLive:
		return "The walking surface"
	case LoadGlassFactor:
		return "Glass in a guard"
	case PostNotch4x4, PostLoadPath, PostSideMounted, PostTopMounted, PostFace, PostSizeMin, PostCentresMax, PostSpacingMax, LoadPostTest:
		return "Posts of every guard, required or not"
	case BoltEdgeMin, BoltDiameterMin, HoldDownCapacity:
		return "Bolted guard posts"
	case FastenerTreated, FastenerTreatedBolt, FastenerMechanicalZinc, ConnectorTreated:
		return "Wood treated with preservative"
	case FastenerCoastalZone:
		return "Fasteners this near to salt water: stainless steel"
	case SphereTestForce:
		return "The push on the test sphere"
	}
	subject, _, _ := strings.Cut(key, ".")
	return map[string]string{
		"stair": "The stair of a deck", "handrail": "A handrail of a stair", "load": "Every guard, required or not", "tie": "A deck that leans on a house",
	}[subject]
}

// words says which stair it is.
func (k StairKind) words() string {
	return map[StairKind]string{
		StairInside: "inside a dwelling", StairDwelling: "of a dwelling, in a code for other buildings", StairUtility: "for escape or upkeep, or out of public use",
		StairGeneral: "for all users of a building", StairPublic: "of a building for the public", StairSecondary: "of a dwelling that is not its main one",
		StairMinor: "to one room, or for service", StairAccessible: "for people with disabilities",
	}[k]
}

// conditionOf is the key of the figure that decides whether a figure applies; empty where none does.
func conditionOf(key string) string {
	return map[string]string{
		GuardHeightLevelLow: GuardHeightLevelLowDrop, GuardHeightLanding: GuardLandingLengthMax, OpeningUpper: OpeningUpperFrom,
		OpeningOpenRiser: OpeningOpenRiserDrop, ClimbZoneLow: ClimbTriggerDrop, ClimbZoneHigh: ClimbTriggerDrop, GuardTriggerDrop: GuardTriggerZone,
		GuardTriggerSlope: GuardTriggerZone, StairNosingMin: StairNosingTread,
	}[key]
}

// Condition says when the figure of that key applies, with the value of the figure that decides it where the rule set has one,
// as it was written.
func (a Applied) Condition(key string) string {
	words := AppliesTo(key)
	if f, found := a.Figure(conditionOf(key)); found {
		words += fmt.Sprintf(" (%s: %s %s)", lowerFirst(f.Title), f.Bound, f.Text)
	}
	return words
}

// lowerFirst puts the first letter of a title in lower case.
func lowerFirst(title string) string { return strings.ToLower(title[:1]) + title[1:] }
