package codes_test

import (
	"testing"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// The lengths of the rule sets, typed a second time from the notes on the codes and not from the data, each with strictness,
// clause and standing. Those of irc-2018 and ontario-9.8 are in TestLengthFigures.
func TestLengthFiguresOfOtherSets(t *testing.T) {
	const (
		least, most, under, over = codes.AtLeast, codes.AtMost, codes.Under, codes.Over
		seen, quoted, recalled   = codes.OfficialText, codes.SecondaryText, codes.Memory
		ft                       = length.Foot
	)
	for _, tt := range []struct {
		id, key  string
		bound    codes.Bound
		want     length.Length
		clause   string
		standing codes.Standing
	}{
		// Later editions: the same numbers; renumbered in 2024.
		{"irc-2021", codes.GuardTriggerDrop, over, 30 * in, "R312.1.1", recalled},
		{"irc-2021", codes.GuardHeightLevel, least, 36 * in, "R312.1.2", recalled},
		{"irc-2021", codes.GuardHeightStair, least, 34 * in, "R312.1.2 exc. 1", recalled},
		{"irc-2021", codes.OpeningLevel, under, 4 * in, "R312.1.3", recalled},
		{"irc-2021", codes.OpeningStair, under, 4*in + 3*in/8, "R312.1.3 exc. 2", recalled},
		{"irc-2021", codes.StairRiserMax, most, 7*in + 3*in/4, "R311.7.5.1", recalled},
		{"irc-2021", codes.HandrailWallClearanceMin, least, in + in/2, "R311.7.8.3", recalled},
		{"irc-2021", codes.HandrailGripDiameterMax, most, 2 * in, "R311.7.8.5 Type I", recalled},
		{"irc-2024", codes.GuardTriggerZone, most, 36 * in, "R321.1.1 (R312.1.1 to 2021)", recalled},
		{"irc-2024", codes.GuardHandrailTopMin, least, 34 * in, "R321.1.2 exc. 2 (R312.1.2 exc. 2 to 2021)", recalled},
		{"irc-2024", codes.OpeningTriangle, under, 6 * in, "R321.1.3 exc. 1 (R312.1.3 exc. 1 to 2021)", recalled},
		{"irc-2024", codes.StairTreadMin, least, 10 * in, "R318.7.5.2 (R311.7.5.2 to 2021)", recalled},
		{"irc-2024", codes.HandrailHeightMax, most, 38 * in, "R318.7.8.1 (R311.7.8.1 to 2021)", recalled},
		// What the 2018 edition has beside its first figures.
		{"irc-2018", codes.StairWidthMin, least, 36 * in, "R311.7.1", seen},
		{"irc-2018", codes.StairWidthOneHandrail, least, 31*in + in/2, "R311.7.1", seen},
		{"irc-2018", codes.StairWidthTwoHandrails, least, 27 * in, "R311.7.1", seen},
		{"irc-2018", codes.StairHeadroomMin, least, 80 * in, "R311.7.2", seen},
		{"irc-2018", codes.StairNosingMin, least, 3 * in / 4, "R311.7.5.3", recalled},
		{"irc-2018", codes.StairNosingMax, most, in + in/4, "R311.7.5.3", recalled},
		{"irc-2018", codes.StairNosingTread, least, 11 * in, "R311.7.5.3", recalled},
		{"irc-2018", codes.OpeningOpenRiser, under, 4 * in, "R311.7.5.1", recalled},
		{"irc-2018", codes.OpeningOpenRiserDrop, over, 30 * in, "R311.7.5.1", recalled},
		{"irc-2018", codes.HandrailWallClearanceMin, least, in + in/2, "R311.7.8", quoted},
		{"irc-2018", codes.HandrailGripDiameterMin, least, in + in/4, "R311.7.8.3 Type I", quoted},
		{"irc-2018", codes.HandrailGripPerimeterMin, least, 4 * in, "R311.7.8.3 Type I", quoted},
		{"irc-2018", codes.HandrailGripPerimeterMax, most, 6*in + in/4, "R311.7.8.3 Type I", quoted},
		{"irc-2018", codes.HandrailGripSectionMax, most, 2*in + in/4, "R311.7.8.3 Type I", quoted},
		{"irc-2018", codes.HandrailRecessPerimeter, over, 6*in + in/4, "R311.7.8.3 Type II", quoted},
		{"irc-2018", codes.HandrailRecessDepthMin, least, 5 * in / 16, "R311.7.8.3 Type II", quoted},
		{"irc-2018", codes.HandrailRecessTopMax, most, 2*in + 3*in/4, "R311.7.8.3 Type II", recalled},
		{"irc-2018", codes.FastenerCoastalZone, most, 300 * ft, "R507.2.3", recalled},
		{"irc-2018", codes.FastenerTreatedBolt, least, in / 2, "R317.3.1 exc. 1", recalled},
		// Other buildings of the United States.
		{"ibc-2021", codes.GuardTriggerDrop, over, 30 * in, "1015.2", quoted},
		{"ibc-2021", codes.GuardTriggerZone, most, 36 * in, "1015.2", quoted},
		{"ibc-2021", codes.GuardHeightLevel, least, 42 * in, "1015.3", quoted},
		{"ibc-2021", codes.GuardHeightDwelling, least, 36 * in, "1015.3 exc.", recalled},
		{"ibc-2021", codes.GuardHeightStairDwelling, least, 34 * in, "1015.3 exc.", recalled},
		{"ibc-2021", codes.OpeningLevel, under, 4 * in, "1015.4", recalled},
		{"ibc-2021", codes.OpeningUpper, under, 4*in + 3*in/8, "1015.4", recalled},
		{"ibc-2021", codes.OpeningUpperFrom, least, 36 * in, "1015.4", recalled},
		{"ibc-2021", codes.OpeningTriangle, under, 6 * in, "1015.4 exc.", quoted},
		{"ibc-2021", codes.StairAccessible.Key(codes.StairRiserMin), least, 4 * in, "ABA and ADA 504", seen},
		{"ibc-2021", codes.StairAccessible.Key(codes.StairRiserMax), most, 7 * in, "ABA and ADA 504", seen},
		{"ibc-2021", codes.StairAccessible.Key(codes.StairTreadMin), least, 11 * in, "ABA and ADA 504", seen},
		// Wisconsin.
		{"wisconsin-sps-325", codes.GuardTriggerDrop, over, 24 * in, "Section 13", seen},
		{"wisconsin-sps-325", codes.GuardTriggerZone, most, 36 * in, "Section 13", seen},
		{"wisconsin-sps-325", codes.OpeningLevel, under, 4 * in, "Section 13 items 1 and 2", seen},
		{"wisconsin-sps-325", codes.OpeningStair, under, 4*in + 3*in/8, "Section 13 items 1 and 2", seen},
		{"wisconsin-sps-325", codes.OpeningTriangle, under, 6 * in, "Section 13 items 1 and 2", seen},
		{"wisconsin-sps-325", codes.OpeningRope, most, 3*in + in/2, "Section 13 item 4", seen},
		{"wisconsin-sps-325", codes.OpeningRopeSupport, most, 4 * ft, "Section 13 item 4", seen},
		{"wisconsin-sps-325", codes.BoltEdgeMin, least, 2 * in, "Section 13 item 4", seen},
		{"wisconsin-sps-325", codes.TieLagPenetration, least, 3 * in, "Section 11", seen},
		// California, and what stands already.
		{"california-residential", codes.GuardHeightLevel, least, 42 * in, "R312.1.2", quoted},
		{"california-residential", codes.GuardHeightStair, least, 34 * in, "R312.1.2", quoted},
		{"california-residential", codes.OpeningLevel, under, 4 * in, "R312.1.3", recalled},
		{"existing-condition", codes.GuardTriggerDrop, over, 30 * in, "PM-307.1", seen},
		{"existing-condition", codes.GuardHeightLevel, least, 30 * in, "PM-307.1", seen},
		{"existing-condition", codes.HandrailHeightMin, least, 30 * in, "PM-307.1", seen},
		{"existing-condition", codes.HandrailHeightMax, most, 42 * in, "PM-307.1", seen},
		// Canada.
		{"nbc-2020", codes.GuardTriggerDrop, over, 600 * mm, "9.8.8.1", recalled},
		{"nbc-2020", codes.GuardHeightLevel, least, 1070 * mm, "9.8.8.3.(1)", quoted},
		{"nbc-2020", codes.GuardHeightInside, least, 900 * mm, "9.8.8.3.(2)", quoted},
		{"nbc-2020", codes.GuardHeightLevelLow, least, 900 * mm, "9.8.8.3.(3)", quoted},
		{"nbc-2020", codes.GuardHeightLevelLowDrop, most, 1800 * mm, "9.8.8.3.(3)", quoted},
		{"nbc-2020", codes.GuardHeightStair, least, 900 * mm, "9.8.8.3.(4)", quoted},
		{"nbc-2020", codes.OpeningLevel, under, 100 * mm, "9.8.8.5", recalled},
		{"nbc-2020", codes.ClimbZoneLow, under, 140 * mm, "9.8.8.6", recalled},
		{"nbc-2020", codes.StairRiserMax, most, 200 * mm, "Table 9.8.4.1", quoted},
		{"nbc-2020", codes.StairTreadMin, least, 255 * mm, "Table 9.8.4.1", recalled},
		{"nbc-2020", codes.StairPublic.Key(codes.StairRiserMax), most, 180 * mm, "3.4.6.8", recalled},
		{"ontario-9.8", codes.StairPublic.Key(codes.StairTreadMin), least, 280 * mm, "3.4.6.8", seen},
		{"ontario-9.8", codes.OpeningUnrequiredStops, most, 100 * mm, "9.8.8.5", seen},
		{"ontario-9.8", codes.OpeningUnrequiredPasses, least, 200 * mm, "9.8.8.5", seen},
		{"ontario-9.8", codes.StairTreadUniformAdjacent, most, 5 * mm, "9.8.4.4", seen},
		{"ontario-9.8", codes.HandrailSupportMax, most, 1200 * mm, "9.8.7.7", seen},
		{"ontario-9.8", codes.HandrailSupportEndMax, most, 300 * mm, "9.8.7.7", seen},
		// England and Ireland.
		{"england-k", codes.GuardTriggerDrop, over, 600 * mm, "3.1", recalled},
		{"england-k", codes.GuardHeightLevel, least, 1100 * mm, "Diagram 3.1", seen},
		{"england-k", codes.GuardHeightStair, least, 900 * mm, "Diagram 3.1", seen},
		{"england-k", codes.GuardHeightLanding, least, 900 * mm, "Diagram 3.1", seen},
		{"england-k", codes.GuardHeightInside, least, 900 * mm, "Diagram 3.1", seen},
		{"england-k", codes.GuardDeflectionMax, most, 25 * mm, "BS 6180 6.4.1", quoted},
		{"england-k", codes.OpeningLevel, under, 100 * mm, "3.3a", seen},
		{"england-k", codes.StairRiserMin, least, 150 * mm, "Table 1.1", seen},
		{"england-k", codes.StairRiserMax, most, 220 * mm, "Table 1.1", seen},
		{"england-k", codes.StairTreadMin, least, 280 * mm, "Table 1.1 note 2", seen}, // outside: not 220
		{"england-k", codes.StairTreadMax, most, 300 * mm, "Table 1.1", seen},
		{"england-k", codes.StairInside.Key(codes.StairTreadMin), least, 220 * mm, "Table 1.1", seen},
		{"england-k", codes.StairUtility.Key(codes.StairRiserMax), most, 190 * mm, "Table 1.1", seen},
		{"england-k", codes.StairGeneral.Key(codes.StairRiserMax), most, 170 * mm, "Table 1.1", seen},
		{"england-k", codes.StairGeneral.Key(codes.StairTreadMin), least, 250 * mm, "Table 1.1", seen},
		{"england-k", codes.StairUtility.Key(codes.StairTreadMax), most, 400 * mm, "Table 1.1", seen},
		{"england-k", codes.StairRelationMin, least, 550 * mm, "Table 1.1", seen},
		{"england-k", codes.StairRelationMax, most, 700 * mm, "Table 1.1", seen},
		{"england-k", codes.HandrailHeightMax, most, 1000 * mm, "1.36", recalled},
		{"ireland-k", codes.GuardTriggerDrop, over, 600 * mm, "2.2", quoted},
		{"ireland-k", codes.GuardHeightLevel, least, 1100 * mm, "Diagram 6", quoted},
		{"ireland-k", codes.GuardHeightLanding, least, 900 * mm, "Diagram 6", quoted},
		{"ireland-k", codes.StairRiserMax, most, 220 * mm, "1.1", recalled},
		{"ireland-k", codes.StairTreadMin, least, 220 * mm, "1.1", recalled},
		// Australia and New Zealand: the drop is inclusive.
		{"australia-ncc-2022", codes.GuardTriggerDrop, least, 1000 * mm, "Housing Provisions 11.3.3", quoted},
		{"australia-ncc-2022", codes.GuardHeightLevel, least, 1000 * mm, "D3D18, Housing Provisions 11.3.4", seen},
		{"australia-ncc-2022", codes.GuardHeightStair, least, 865 * mm, "D3D18, Housing Provisions 11.3.4", seen},
		{"australia-ncc-2022", codes.GuardLandingLengthMax, most, 500 * mm, "D3D18", quoted},
		{"australia-ncc-2022", codes.OpeningLevel, under, 125 * mm, "D3D19, Housing Provisions 11.3.4", quoted},
		{"australia-ncc-2022", codes.ClimbTriggerDrop, over, 4000 * mm, "Housing Provisions 11.3.4", recalled},
		{"australia-ncc-2022", codes.ClimbZoneHigh, over, 760 * mm, "Housing Provisions 11.3.4", recalled},
		{"australia-ncc-2022", codes.StairRiserMax, most, 190 * mm, "Housing Provisions 11.2", recalled},
		{"australia-ncc-2022", codes.StairTreadMin, least, 240 * mm, "Housing Provisions 11.2", recalled},
		{"new-zealand-f4-d1", codes.GuardTriggerDrop, least, 1000 * mm, "F4.3.1", quoted},
		{"new-zealand-f4-d1", codes.GuardTriggerZone, most, 1200 * mm, "Determination 2008/81", seen},
		{"new-zealand-f4-d1", codes.GuardHeightLevel, least, 1000 * mm, "F4/AS1 Table 1", quoted},
		{"new-zealand-f4-d1", codes.GuardHeightStair, least, 900 * mm, "F4/AS1 Table 1", quoted},
		{"new-zealand-f4-d1", codes.OpeningLevel, under, 100 * mm, "F4/AS1 1.2", quoted},
		{"new-zealand-f4-d1", codes.OpeningTriangle, under, 150 * mm, "F4/AS1 1.2", quoted},
		{"new-zealand-f4-d1", codes.StairRiserMax, most, 190 * mm, "D1/AS1 Table 6", quoted},
		{"new-zealand-f4-d1", codes.StairTreadMin, least, 280 * mm, "D1/AS1 Table 6", quoted},
		{"new-zealand-f4-d1", codes.StairMinor.Key(codes.StairTreadMin), least, 220 * mm, "D1/AS1 Table 6", quoted},
		{"new-zealand-f4-d1", codes.StairAccessible.Key(codes.StairTreadMin), least, 310 * mm, "D1/AS1 Table 6", quoted},
		{"new-zealand-f4-d1", codes.StairRiserVariation, most, 5 * mm, "D1/AS1", quoted},
	} {
		f := figure(t, applied(t, tt.id), tt.key)
		if f.Value != tt.want || f.Bound != tt.bound || f.Clause != tt.clause || f.Standing != tt.standing {
			t.Errorf("%s %s = %s %v, %s, %s, want %s %v, %s, %s",
				tt.id, tt.key, f.Bound, f.Value, f.Clause, f.Standing, tt.bound, tt.want, tt.clause, tt.standing)
		}
	}
}

// What changed from one edition to the next is in the data: notching of 4x4 posts and the direction of the load.
func TestEditionsDiffer(t *testing.T) {
	for _, tt := range []struct {
		id, key, text, edition string
		standing               codes.Standing
	}{
		{"irc-2018", codes.PostNotch4x4, "", "", ""}, // silent
		{"irc-2021", codes.PostNotch4x4, "4x4 posts not notched at the connection, where they take load at the top of the guard", "2021 IRC", codes.SecondaryText},
		{"irc-2024", codes.PostNotch4x4, "4x4 posts not notched at the connection, where they take load at the top of the guard", "2024 IRC", codes.SecondaryText},
		{"wisconsin-sps-325", codes.PostNotch4x4, "Guard posts, of any size, are not notched", "Wis. Admin. Code SPS 325 Appendix B", codes.OfficialText},
		{"irc-2018", codes.LoadGuardDirection, "Any direction, at any point along the top", "2018 IRC", codes.SecondaryText},
		{"irc-2021", codes.LoadGuardDirection,
			"Any direction, at any point along the top; a guard that is not required as a handrail need not carry the load parallel to its top element",
			"Washington's table, edition not shown, believed 2021 IRC", codes.OfficialText},
		{"irc-2024", codes.LoadGuardDirection, "A guard: outward and downward; a guard that serves as a handrail: any direction",
			"edition not stated, believed 2024 IRC", codes.SecondaryText},
	} {
		f, _ := applied(t, tt.id).Figure(tt.key)
		if f.Text != tt.text || f.Edition != tt.edition || f.Standing != tt.standing {
			t.Errorf("%s %s = %q, %s, %s, want %q, %s, %s", tt.id, tt.key, f.Text, f.Edition, f.Standing, tt.text, tt.edition, tt.standing)
		}
	}
}
