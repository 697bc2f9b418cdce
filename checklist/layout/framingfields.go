package layout

import "newelbook/checklist/length"

func framingFields() []Field {
	return []Field{
		{Key: "decking", Group: GroupFraming, Label: "Decking thickness", Kind: KindLength,
			US: "1", Metric: "25", Min: 0, Max: 6 * in, Source: sizesSource, spec: lengthAt(func(s *Spec) *length.Length { return &s.Decking })},
		{Key: "joist_width", Group: GroupFraming, Label: "Joist thickness", Kind: KindLength,
			US: "1 1/2", Metric: "38", Min: in / 2, Max: 12 * in, Source: sizesSource, spec: lengthAt(func(s *Spec) *length.Length { return &s.JoistWidth })},
		{Key: "joist_depth", Group: GroupFraming, Label: "Joist depth", Kind: KindLength,
			US: "9 1/4", Metric: "235", Min: 2 * in, Max: 24 * in, Source: sizesSource, spec: lengthAt(func(s *Spec) *length.Length { return &s.JoistDepth })},
		{Key: "joist_spacing", Group: GroupFraming, Label: "Joist centres", Kind: KindLength,
			US: "16", Metric: "400", Min: 4 * in, Max: 48 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.JoistSpacing })},
		{Key: "bolt_diameter", Group: GroupFraming, Label: "Bolt diameter", Kind: KindLength,
			US: "1/2", Metric: "12.7", Min: in / 8, Max: 2 * in, Source: "Wis. SPS 325 App. B figures, secondary text", spec: lengthAt(func(s *Spec) *length.Length { return &s.BoltDiameter })},
		{Key: "bolt_top", Group: GroupFraming, Label: "Upper bolt below the top of the framing", Hint: "To the bolt's centre; on a stringer, square to its upper edge or its notches.", Kind: KindLength,
			US: "2 1/8", Metric: "54", Min: 0, Max: 24 * in, Source: "2 in edge distance, Wis. SPS 325 App. B s.13, and 1/8 in so that a tape can tell", spec: lengthAt(func(s *Spec) *length.Length { return &s.BoltTop })},
		{Key: "bolt_bottom", Group: GroupFraming, Label: "Lower bolt above the underside of the framing", Hint: "To the bolt's centre; on a stringer, square to its lower edge.", Kind: KindLength,
			US: "2 1/8", Metric: "54", Min: 0, Max: 24 * in, Source: "2 in edge distance, Wis. SPS 325 App. B s.13, and 1/8 in so that a tape can tell", spec: lengthAt(func(s *Spec) *length.Length { return &s.BoltBottom })},
		{Key: "bolt_access", Group: GroupFraming, Label: "Room beside a bolt", Hint: "From its centre to a joist's face or anything else, for washer and spanner.", Kind: KindLength,
			US: "1 1/2", Metric: "38", Min: 0, Max: 12 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.BoltAccess })},
		{Key: "hold_down", Group: GroupFraming, Label: "Hold-down", Hint: "Its name and published capacity, in your words.", Kind: KindText,
			Optional: true, spec: textAt(func(s *Spec) *string { return &s.HoldDown })},
		{Key: "sleeve_material", Group: GroupSleeves, Label: "Sleeve material", Kind: KindChoice, Choices: plainChoices(SleeveWood, SleeveSteel),
			US: SleeveWood, Metric: SleeveWood, Source: practice, spec: textAt(func(s *Spec) *string { return &s.SleeveMaterial })},
		{Key: "sleeve_wall", Group: GroupSleeves, Label: "Sleeve wall", Kind: KindLength,
			US: "1 1/2", Metric: "38", Min: in / 16, Max: 4 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.SleeveWall })},
		{Key: "sleeve_clearance", Group: GroupSleeves, Label: "Sleeve clearance", Hint: "Both sides together; steel is usually 3/16 in (5 mm).", Kind: KindLength,
			US: "1/8", Metric: "3", Min: 0, Max: 1 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.SleeveClearance })},
		{Key: "sleeve_swelling", Group: GroupSleeves, Label: "Expected swelling of the post", Hint: "Both sides together.", Kind: KindLength,
			US: "0", Metric: "0", Min: 0, Max: 1 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.SleeveSwelling })},
		{Key: "sleeve_head_hole", Group: GroupSleeves, Label: "Head access hole", Hint: "Passes the screw's head and the socket or driver round it: measure both.", Kind: KindLength,
			US: "1", Metric: "25", Min: in / 4, Max: 3 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.SleeveHeadHole })},
		{Key: "sleeve_head", Group: GroupSleeves, Label: "Screw head stands proud", Hint: "Of the wall of a steel sleeve, inside it; 0 where heads are let in.", Kind: KindLength,
			US: "1/16", Metric: "2", Min: 0, Max: 1 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.SleeveHead })},
		{Key: "sleeve_lock", Group: GroupSleeves, Label: "Fixing that holds the post in its sleeve", Hint: "Its centre above the sleeve's bottom; the sleeve's own holes keep clear of it. Empty for none.", Kind: KindLength,
			Optional: true, Min: 0, Max: 24 * in, spec: lengthAt(func(s *Spec) *length.Length { return &s.SleeveLock })},
		{Key: "post_moisture", Group: GroupSleeves, Label: "Post stock is", Hint: "Dry posts swell in the weather; wet ones shrink and stand loose in a sleeve.", Kind: KindChoice,
			Choices: plainChoices(StockDry, StockWet),
			US:      StockDry, Metric: StockDry, Source: practice, spec: textAt(func(s *Spec) *string { return &s.PostMoisture })},
		{Key: "screw_diameter", Group: GroupMaterials, Label: "Screw diameter", Hint: "Outside the thread, for the least penetration.", Kind: KindLength,
			US: "3/16", Metric: "5", Min: in / 32, Max: 1 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.ScrewDiameter })},
		{Key: "screw_length", Group: GroupMaterials, Label: "Screw length", Hint: "Rail and cap screws.", Kind: KindLength,
			US: "2 1/2", Metric: "65", Min: in / 2, Max: 12 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.ScrewLength })},
		{Key: "species", Group: GroupMaterials, Label: "Species", Kind: KindChoice, Choices: speciesChoices(),
			US: defaultSpecies, Metric: defaultSpecies, Source: practice, spec: textAt(func(s *Spec) *string { return &s.Species })},
		{Key: "fastener_metal", Group: GroupMaterials, Label: "Fastener metal", Kind: KindChoice,
			Choices: plainChoices(MetalStainless, MetalGalvanised, MetalOther),
			US:      MetalStainless, Metric: MetalStainless, Source: practice, spec: textAt(func(s *Spec) *string { return &s.FastenerMetal })},
		{Key: "stock_lengths", Group: GroupMaterials, Label: "Stock lengths on hand", Hint: "Separated by commas.", Kind: KindLengths,
			US: "96, 120, 144, 192", Metric: "2400, 3000, 3600, 4800", Min: 12 * in, Max: 480 * in, Source: practice,
			spec: func(s *Spec) slot { return slot{lengths: &s.StockLengths} }},
		{Key: "kerf", Group: GroupMaterials, Label: "Saw kerf", Kind: KindLength,
			US: "1/8", Metric: "3", Min: 0, Max: 1 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.Kerf })},
		{Key: "end_trim", Group: GroupMaterials, Label: "End trim", Hint: "Cut off each end of a board.", Kind: KindLength,
			US: "1/2", Metric: "12", Min: 0, Max: 12 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.EndTrim })},
		{Key: "grid", Group: GroupMaterials, Label: "Marking grid", Hint: "Marks are rounded to it, rails down to it.", Kind: KindLength,
			US: "1/16", Metric: "1", Min: length.SixtyFourth, Max: 1 * in, Source: practice, spec: lengthAt(func(s *Spec) *length.Length { return &s.Grid })},
	}
}

// tolerance makes one row of the tolerances, which share everything but their words and figures.
func tolerance(key, label, hint, us, metric string, at func(*Spec) *length.Length) Field {
	return Field{Key: key, Group: GroupTolerances, Label: label, Hint: hint, Kind: KindLength, US: us, Metric: metric,
		Min: 0, Max: 6 * in, Source: practice, spec: lengthAt(at)}
}

func toleranceFields() []Field {
	return []Field{
		tolerance("tol_post_centre", "Post centre tolerance", "", "1/4", "6", func(s *Spec) *length.Length { return &s.TolPostCentre }),
		tolerance("tol_post_plumb", "Post plumb tolerance", "Over 4 ft (1,200 mm) of post.", "1/4", "6", func(s *Spec) *length.Length { return &s.TolPostPlumb }),
		tolerance("tol_height", "Height tolerance", "Either way, never under the limit.", "1/4", "6", func(s *Spec) *length.Length { return &s.TolHeight }),
		tolerance("tol_rail_level", "Rail level tolerance", "Over one bay.", "1/8", "3", func(s *Spec) *length.Length { return &s.TolRailLevel }),
		tolerance("tol_rail_short", "Rail length tolerance", "A rail may be short by this, never long.", "1/16", "1.5", func(s *Spec) *length.Length { return &s.TolRailShort }),
		tolerance("tol_gap", "Baluster gap tolerance", "", "1/8", "3", func(s *Spec) *length.Length { return &s.TolGap }),
		tolerance("tol_baluster_plumb", "Baluster plumb tolerance", "Over its length.", "3/16", "5", func(s *Spec) *length.Length { return &s.TolBalusterPlumb }),
		tolerance("tol_overhang", "Cap overhang tolerance", "", "1/8", "3", func(s *Spec) *length.Length { return &s.TolOverhang }),
		tolerance("tol_mitre", "Mitre gap tolerance", "", "1/16", "1.5", func(s *Spec) *length.Length { return &s.TolMitre }),
		tolerance("tol_opening", "Opening tolerance", "At the top against the bottom.", "1/4", "6", func(s *Spec) *length.Length { return &s.TolOpening }),
		tolerance("tol_under_rail", "Under-rail tolerance", "", "1/4", "6", func(s *Spec) *length.Length { return &s.TolUnderRail }),
		{Key: "dry_moisture", Group: GroupTolerances, Label: "Stock is dry up to, percent", Hint: "Moisture off the meter; empty is 19.", Kind: KindCount, Optional: true, Job: true,
			Source: DryMoistSource, spec: func(s *Spec) slot { return slot{count: &s.DryMoisture} }},
		{Key: "tape_doubt", Group: GroupTolerances, Label: "Doubt of the job's own tape", Hint: "How far a reading with it may be out, reading and hook included; empty: none is named.", Kind: KindLength,
			Optional: true, Job: true, Max: 1 * in, spec: lengthAt(func(s *Spec) *length.Length { return &s.TapeDoubt })},
	}
}
