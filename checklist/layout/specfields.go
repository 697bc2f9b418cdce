package layout

import "newelbook/checklist/length"

// Groups of specification fields, in the order in which they are asked.
const (
	GroupPosts      = "Posts"
	GroupRails      = "Rails"
	GroupInfill     = "Infill"
	GroupHeights    = "Heights"
	GroupCap        = "Cap rail"
	GroupFraming    = "Framing"
	GroupSleeves    = "Sleeves"
	GroupMaterials  = "Materials"
	GroupTolerances = "Tolerances"
)

const (
	sizesSource = "PS 20 dressed dry sizes; measure the stock"
	limitSource = "the rule set's limit and a margin (common practice, no source)"
)

// mm and in shorten the ranges of the tables.
const (
	mm = length.Millimetre
	in = length.Inch
)

// SpecFields returns the description of every specification field, in the order in which they are asked. The slice is the
// caller's own.
func SpecFields() []Field {
	fields := append(postFields(), railFields()...)
	fields = append(fields, infillFields()...)
	fields = append(fields, heightFields()...)
	fields = append(fields, framingFields()...)
	fields = append(fields, jobFields()...)
	return append(fields, toleranceFields()...)
}

// lengthAt and textAt make the accessor of a table row.
func lengthAt(at func(*Spec) *length.Length) func(*Spec) slot {
	return func(s *Spec) slot { return slot{length: at(s)} }
}

func textAt(at func(*Spec) *string) func(*Spec) slot {
	return func(s *Spec) slot { return slot{text: at(s)} }
}

// plainChoices makes choices whose shown words are their values.
func plainChoices(values ...string) []Choice {
	choices := make([]Choice, len(values))
	for i, v := range values {
		choices[i] = Choice{Value: v, Label: v}
	}
	return choices
}

func postFields() []Field {
	return []Field{
		{Key: "post_nominal", Group: GroupPosts, Label: "Post stock", Hint: "What the yard calls it; never used in arithmetic.", Kind: KindText,
			US: "4x4", Metric: "89x89", Source: practice, spec: textAt(func(s *Spec) *string { return &s.PostNominal })},
		{Key: "post_width", Group: GroupPosts, Label: "Post width", Hint: "The face seen along the run, as measured.", Kind: KindLength,
			US: "3 1/2", Metric: "89", Min: 1 * in, Max: 12 * in, Source: sizesSource, spec: lengthAt(func(s *Spec) *length.Length { return &s.PostWidth })},
		{Key: "post_depth", Group: GroupPosts, Label: "Post depth", Hint: "The face across the run, as measured.", Kind: KindLength,
			US: "3 1/2", Metric: "89", Min: 1 * in, Max: 12 * in, Source: sizesSource, spec: lengthAt(func(s *Spec) *length.Length { return &s.PostDepth })},
		{Key: "post_mount", Group: GroupPosts, Label: "Post mount", Kind: KindChoice, Choices: []Choice{
			{MountBolted, "Bolted through the framing"}, {MountSleeve, "In a sleeve fixed to the framing"}, {MountBase, "On a surface base over blocking"}},
			US: MountBolted, Metric: MountBolted, Source: practice, spec: textAt(func(s *Spec) *string { return &s.PostMount })},
		{Key: "post_max_centres", Group: GroupPosts, Label: "Greatest post centres", Hint: "No bay is made longer than this.", Kind: KindLength,
			US: "72", Metric: "1800", Min: 6 * in, Max: 240 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.PostMaxCentres })},
		{Key: "posts_at_cap", Group: GroupPosts, Label: "Posts at the cap", Kind: KindChoice, Choices: []Choice{
			{PostsUnderCap, "Posts end under the cap rail"}, {PostsThroughCap, "Posts pass through the cap rail"}},
			US: PostsUnderCap, Metric: PostsUnderCap, Source: practice, spec: textAt(func(s *Spec) *string { return &s.PostsAtCap })},
		{Key: "post_above", Group: GroupPosts, Label: "Post above the finished top", Hint: "Used where posts pass through the cap rail.", Kind: KindLength,
			US: "4", Metric: "100", Min: 0, Max: 48 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.PostAbove })},
		{Key: "base_stand_off", Group: GroupPosts, Label: "Base holds the post's end up by", Hint: "Off what the base stands on, by the base's maker; it comes off the post. 0 where the post stands on it.", Kind: KindLength,
			Optional: true, Max: 12 * in, spec: func(s *Spec) slot { return slot{length: &s.BaseStandOff, given: &s.BaseStandOffGiven} }},
		{Key: "base_test", Group: GroupPosts, Label: "Guard-load test of the post base", Hint: "Its published test, for surface bases; empty refers the base.", Kind: KindText,
			Optional: true, spec: textAt(func(s *Spec) *string { return &s.BaseTest })},
	}
}

func railFields() []Field {
	const dryFit = "none assumed: dry-fit the first bay"
	return []Field{
		{Key: "rail_nominal", Group: GroupRails, Label: "Rail stock", Hint: "What the yard calls it; never used in arithmetic.", Kind: KindText,
			US: "2x4", Metric: "38x89", Source: practice, spec: textAt(func(s *Spec) *string { return &s.RailNominal })},
		{Key: "rail_thickness", Group: GroupRails, Label: "Rail thickness", Kind: KindLength,
			US: "1 1/2", Metric: "38", Min: in / 4, Max: 6 * in, Source: sizesSource, spec: lengthAt(func(s *Spec) *length.Length { return &s.RailThickness })},
		{Key: "rail_width", Group: GroupRails, Label: "Rail width", Kind: KindLength,
			US: "3 1/2", Metric: "89", Min: in / 2, Max: 12 * in, Source: sizesSource, spec: lengthAt(func(s *Spec) *length.Length { return &s.RailWidth })},
		{Key: "rail_orientation", Group: GroupRails, Label: "Rails stand", Kind: KindChoice, Choices: []Choice{{RailOnEdge, "On edge"}, {RailFlat, "Flat"}},
			US: RailOnEdge, Metric: RailOnEdge, Source: practice, spec: textAt(func(s *Spec) *string { return &s.RailOrientation })},
		{Key: "connector_top", Group: GroupRails, Label: "Connector allowance, top rail",
			Hint: "Post face to the seated end of the rail, found by a dry fit; it comes off once an end.", Kind: KindLength,
			Min: 0, Max: 6 * in, Optional: true, Source: dryFit,
			spec: func(s *Spec) slot { return slot{length: &s.ConnectorTop, given: &s.ConnectorTopGiven} }},
		{Key: "connector_bottom", Group: GroupRails, Label: "Connector allowance, bottom rail",
			Hint: "The same for the bottom rail.", Kind: KindLength,
			Min: 0, Max: 6 * in, Optional: true, Source: dryFit,
			spec: func(s *Spec) slot { return slot{length: &s.ConnectorBottom, given: &s.ConnectorBottomGiven} }},
		{Key: "connector_wall", Group: GroupRails, Label: "Connector allowance at a wall", Hint: "Where other hardware holds a rail to a wall, either rail; empty: as at a post.", Kind: KindLength, Optional: true, Max: 24 * in,
			spec: func(s *Spec) slot { return slot{length: &s.ConnectorWall, given: &s.ConnectorWallGiven} }},
		{Key: "connector_name", Group: GroupRails, Label: "Connector", Hint: "What the hardware is, in your words.", Kind: KindText,
			Optional: true, spec: textAt(func(s *Spec) *string { return &s.ConnectorName })},
		{Key: "rail_length_edge", Group: GroupRails, Label: "Raked rails are measured along", Kind: KindChoice, Choices: []Choice{
			{EdgeTop, "The top edge"}, {EdgeBottom, "The bottom edge"}},
			US: EdgeTop, Metric: EdgeTop, Source: practice, spec: textAt(func(s *Spec) *string { return &s.RailLengthEdge })},
		{Key: "rail_rake_end", Group: GroupRails, Label: "Raked rail ends", Hint: "Square ends make a rail shorter by its depth times rise over run.", Kind: KindChoice, Choices: []Choice{{EndPlumb, "Plumb"}, {EndSquare, "Square"}},
			US: EndPlumb, Metric: EndPlumb, Source: practice, spec: textAt(func(s *Spec) *string { return &s.RailRakeEnd })},
	}
}

func infillFields() []Field {
	return []Field{
		{Key: "infill_kind", Group: GroupInfill, Label: "Bays are filled with", Kind: KindChoice, Choices: []Choice{
			{FillBalusters, "Balusters"}, {FillCables, "Cables along the rails"}, {FillPanels, "Panels"}},
			US: FillBalusters, Metric: FillBalusters, Source: practice, spec: textAt(func(s *Spec) *string { return &s.InfillKind })},
		{Key: "infill_shape", Group: GroupInfill, Label: "Baluster shape", Hint: "Of the uprights too that cables pass through.", Kind: KindChoice, Choices: plainChoices(InfillRound, InfillSquare),
			US: InfillRound, Metric: InfillRound, Source: practice, spec: textAt(func(s *Spec) *string { return &s.InfillShape })},
		{Key: "infill_width", Group: GroupInfill, Label: "Baluster width", Hint: "Seen along the run, as measured.", Kind: KindLength,
			US: "3/4", Metric: "19", Min: in / 8, Max: 12 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.InfillWidth })},
		{Key: "infill_mode", Group: GroupInfill, Label: "Balusters set out by", Kind: KindChoice, Choices: []Choice{
			{EqualGaps, "Equal gaps"}, {FixedCentres, "Fixed centres (shoe strip)"}},
			US: EqualGaps, Metric: EqualGaps, Source: practice, spec: textAt(func(s *Spec) *string { return &s.InfillMode })},
		{Key: "infill_centred", Group: GroupInfill, Label: "In the middle of a bay stands", Kind: KindChoice, Choices: []Choice{
			{CentredBest, "Whichever the count comes to"}, {CentredMember, "A member"}, {CentredSpace, "A space"}},
			US: CentredBest, Metric: CentredBest, Source: practice, spec: textAt(func(s *Spec) *string { return &s.InfillCentred })},
		{Key: "infill_gap", Group: GroupInfill, Label: "Design gap", Hint: "Greatest clear gap aimed at; the code limit is another number.", Kind: KindLength,
			US: "3 3/4", Metric: "95", Min: in / 2, Max: 12 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.InfillGap })},
		{Key: "infill_centres", Group: GroupInfill, Label: "Shoe centres, level run", Kind: KindLength,
			US: "4", Metric: "100", Min: in / 2, Max: 12 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.InfillCentres })},
		{Key: "infill_rake", Group: GroupInfill, Label: "Shoe centres, raked rail", Hint: "Measured along the rail.", Kind: KindLength,
			US: "5 1/2", Metric: "130", Min: in / 2, Max: 16 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.InfillRake })},
		{Key: "infill_fix", Group: GroupInfill, Label: "Balusters stand", Kind: KindChoice, Choices: []Choice{
			{FixBetween, "Between the rails"}, {FixFace, "On the face of the rails"}},
			US: FixBetween, Metric: FixBetween, Source: practice, spec: textAt(func(s *Spec) *string { return &s.InfillFix })},
		{Key: "infill_seat", Group: GroupInfill, Label: "Shoes keep a baluster off the rail by", Hint: "Plumb, at each end, between the rails; 0 where it stands on the rail.", Kind: KindLength, Optional: true, Max: 2 * in,
			spec: func(s *Spec) slot { return slot{length: &s.InfillSeat, given: &s.InfillSeatGiven} }},
		{Key: "infill_moisture", Group: GroupInfill, Label: "Baluster stock is", Hint: "Wet stock is tested again at its dry size.", Kind: KindChoice,
			Choices: plainChoices(StockDry, StockWet),
			US:      StockDry, Metric: StockDry, Source: practice, spec: textAt(func(s *Spec) *string { return &s.InfillMoisture })},
		{Key: "cable_diameter", Group: GroupInfill, Label: "Cable diameter", Hint: "Where bays are filled with cables.", Kind: KindLength,
			US: "3/16", Metric: "5", Min: in / 16, Max: 1 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.CableDiameter })},
		{Key: "cable_gap", Group: GroupInfill, Label: "Design gap between cables", Hint: "Square to them. They give when pushed: aim well inside the limit.", Kind: KindLength,
			US: "3", Metric: "75", Min: in / 2, Max: 12 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.CableGap })},
		{Key: "cable_support", Group: GroupInfill, Label: "Cables are held apart every", Hint: "Greatest clear distance between posts or uprights; uprights as wide as a baluster are added. The maker's own figure comes first.", Kind: KindLength,
			US: "36", Metric: "900", Min: 6 * in, Max: 120 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.CableSupport })},
		{Key: "panel_most", Group: GroupInfill, Label: "Widest panel", Hint: "Where bays are filled with panels.", Kind: KindLength,
			US: "48", Metric: "1200", Min: 2 * in, Max: 240 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.PanelMost })},
		{Key: "panel_gap", Group: GroupInfill, Label: "Clear at every edge of a panel", Kind: KindLength,
			US: "1/4", Metric: "6", Min: 1 * mm, Max: 6 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.PanelGap })},
		{Key: "panel_thickness", Group: GroupInfill, Label: "Panel thickness", Kind: KindLength,
			US: "1/2", Metric: "12", Min: in / 16, Max: 3 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.PanelThickness })},
	}
}

func heightFields() []Field {
	return []Field{
		{Key: "under_rail", Group: GroupHeights, Label: "Clear under the bottom rail", Hint: "Of a level run.", Kind: KindLength,
			US: "3", Metric: "75", Min: 0, Max: 24 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.UnderRail })},
		{Key: "level_height", Group: GroupHeights, Label: "Level height", Hint: "Finished top above the decking; empty is the limit and 1/2 in (12 mm).", Kind: KindLength,
			Min: 12 * in, Max: 96 * in, Optional: true, Source: limitSource, spec: lengthAt(func(s *Spec) *length.Length { return &s.LevelHeight })},
		{Key: "stair_height", Group: GroupHeights, Label: "Stair height", Hint: "Finished top above the nosing line, plumb; empty is the limit and 1/2 in (12 mm).", Kind: KindLength,
			US: "36", Min: 12 * in, Max: 96 * in, Optional: true, Source: "within 34 to 38 in where it is the handrail (common practice, no source)",
			spec: lengthAt(func(s *Spec) *length.Length { return &s.StairHeight })},
		{Key: "rake_bottom", Group: GroupHeights, Label: "Raked bottom rail above the nosing line", Hint: "Its underside, plumb; may be negative.", Kind: KindLength,
			US: "0", Metric: "0", Min: -12 * in, Max: 24 * in, Signed: true, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.RakeBottom })},
		{Key: "cap_width", Group: GroupCap, Label: "Cap width", Kind: KindLength,
			US: "5 1/2", Metric: "140", Min: 0, Max: 24 * in, Source: sizesSource, spec: lengthAt(func(s *Spec) *length.Length { return &s.CapWidth })},
		{Key: "cap_thickness", Group: GroupCap, Label: "Cap thickness", Hint: "0 means no cap rail.", Kind: KindLength,
			US: "1", Metric: "25", Min: 0, Max: 6 * in, Source: sizesSource, spec: lengthAt(func(s *Spec) *length.Length { return &s.CapThickness })},
		{Key: "cap_overhang", Group: GroupCap, Label: "Cap overhang", Hint: "Past the post face, each side.", Kind: KindLength,
			US: "1", Metric: "25", Min: 0, Max: 12 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.CapOverhang })},
		{Key: "cap_wall_gap", Group: GroupCap, Label: "Cap to a wall", Hint: "Left open between the end of the cap and the finished wall, for movement and sealant.", Kind: KindLength,
			US: "1/8", Metric: "3", Min: 0, Max: 2 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.CapWallGap })},
		{Key: "cap_rake_end", Group: GroupCap, Label: "Raked cap ends", Kind: KindChoice, Choices: []Choice{{EndPlumb, "Plumb"}, {EndSquare, "Square"}},
			US: EndPlumb, Metric: EndPlumb, Source: practice, spec: textAt(func(s *Spec) *string { return &s.CapRakeEnd })},
	}
}
