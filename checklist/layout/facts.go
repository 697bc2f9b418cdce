package layout

// Fact is a piece of site sense that the program relies on, with where it leads.
type Fact struct {
	ID       string
	Sentence string
	Source   string
	Leads    []string // "figure post_max_centres", "check rails.under", "caution"

	applies func(*work) bool // nil where it never prints as a caution
}

// cautions adds the warnings that fit this run.
func (w *work) cautions() {
	for _, f := range Facts() {
		if f.applies != nil && f.applies(w) {
			w.out.Cautions = append(w.out.Cautions, Caution{ID: f.ID, Sentence: f.Sentence, Source: f.Source})
		}
	}
}

// Facts lists the facts of common practice and the cautions that stand behind defaults, checks and printed sheets. The
// slice is the caller's own.
func Facts() []Fact { return append(append(safetyFacts(), railFacts()...), hardwareFacts()...) }

func always(*work) bool { return true }

// safetyFacts are printed on every layout that they fit.
func safetyFacts() []Fact {
	const own = "the maker's own caution"
	return []Fact{
		{ID: "fact.adopted-code", Sentence: "The adopted code and its local amendments govern; this sheet says what was measured against which figure and approves nothing.",
			Source: own, Leads: []string{"caution"}, applies: always},
		{ID: "fact.open-edge", Sentence: "An edge without its guard is a fall hazard: close it off whenever the guard is not in place.",
			Source: own, Leads: []string{"caution"}, applies: always},
		{ID: "fact.loads", Sentence: "Loads and unusual details belong to a licensed professional; no figure here replaces one.",
			Source: own, Leads: []string{"caution"}, applies: always},
		{ID: "fact.cutting", Sentence: "Cutting treated wood and metal calls for eye, ear and breathing protection.",
			Source: own, Leads: []string{"caution"}, applies: always},
		{ID: "fact.removable-not-accepted", Sentence: "A removable length is not accepted as a required guard in most places: it needs the owner's written acknowledgement and, under a permit, the authority's answer.",
			Source: practice, Leads: []string{"caution", "check handover.owner_told"}, applies: func(w *work) bool { return w.run.Kind == Removable }},
		{ID: "fact.base-tested", Sentence: "On an existing deck surface an ordinary post base has little strength against a push: use only one with a published guard-load test, over blocking.",
			Source: practice, Leads: []string{"caution", "check framing.base", "check framing.base_fixed"}, applies: func(w *work) bool { return w.spec.PostMount == MountBase }},
	}
}

// railFacts stand behind the figures of posts, rails, infill and cap.
func railFacts() []Fact {
	fixed := func(w *work) bool { return w.spec.InfillMode == FixedCentres }
	return []Fact{
		{ID: "fact.bay-6-to-7-ft", Sentence: "Bays of 6 to 7 ft between post centres are usual; this job's greatest is its own setting.",
			Source: practice, Leads: []string{"figure post_max_centres", "check framing.place"}},
		{ID: "fact.rails-2x4", Sentence: "Top and bottom rails of 2x4 are usual.",
			Source: practice, Leads: []string{"figure rail_nominal"}},
		{ID: "fact.gaps-under-4-in", Sentence: "Clear gaps are kept under 4 in by designing for 3 3/4 in; the rule set's own limit is tested beside it.",
			Source: practice, Leads: []string{"figure infill_gap", "check infill.gap"}},
		{ID: "fact.cable-give", Sentence: "Cables give when a child pushes between them: they are set out closer than the limit, and tried with a gauge pushed through midway between uprights.",
			Source: practice, Leads: []string{"figure cable_gap", "check infill.gap", "caution"}, applies: func(w *work) bool { return w.spec.InfillKind == FillCables }},
		{ID: "fact.cable-pull", Sentence: "Tight cables pull the end and corner posts inward, every cable at once: their posts and fixings follow the maker's figures or an engineer's.",
			Source: practice, Leads: []string{"check infill.cable_ends", "caution"}, applies: func(w *work) bool { return w.spec.InfillKind == FillCables }},
		{ID: "fact.panel-maker", Sentence: "A panel of glass or sheet is loaded by a push and by wind: its kind, thickness, support and mark are its maker's or an engineer's to give, not this layout's.",
			Source: practice, Leads: []string{"figure panel_thickness", "check infill.panel_mark", "caution"}, applies: func(w *work) bool { return w.spec.InfillKind == FillPanels }},
		{ID: "fact.shoe-centres-level", Sentence: "Shoe strips for a level rail usually come at 4 in centres.",
			Source: practice, Leads: []string{"figure infill_centres", "check infill.gap"}},
		{ID: "fact.shoe-centres-rake", Sentence: "Shoe strips for a raked rail usually come at 5 1/2 in centres along the rail, set out 2 3/4 in each way from the middle.",
			Source: practice, Leads: []string{"figure infill_rake", "check infill.gap"}},
		{ID: "fact.shoe-rake-shallow", Sentence: "On a shallow stair the same shoe centres leave a wider clear gap: below about 30 degrees 5 1/2 in centres of 3/4 in balusters exceed 4 in.",
			Source: "arithmetic from centres x cos(angle) - width", Leads: []string{"check infill.gap"},
			applies: func(w *work) bool { return fixed(w) && w.run.Kind == Rake }},
		{ID: "fact.connector-twice", Sentence: "The connector's length comes off a rail twice, once at each end: find it by a dry fit before cutting the rest.",
			Source: practice, Leads: []string{"figure connector_top", "figure connector_bottom", "check rails.connectors", "caution"},
			applies: func(w *work) bool { return !w.spec.ConnectorTopGiven || !w.spec.ConnectorBottomGiven }},
		{ID: "fact.nominal-4x4", Sentence: "A nominal 4x4 is usually 3 1/2 in: measure the posts.",
			Source: practice, Leads: []string{"figure post_width", "check framing.sleeve_inside"},
			applies: func(w *work) bool { return w.spec.PostNominal == "4x4" }},
		{ID: "fact.nominal-6x6", Sentence: "A nominal 6x6 is usually 5 1/2 in: measure the posts.",
			Source: practice, Leads: []string{"figure post_width", "check framing.sleeve_inside"},
			applies: func(w *work) bool { return w.spec.PostNominal == "6x6" }},
		{ID: "fact.heights-one-reference", Sentence: "Mark the rail heights on every post from one and the same reference, and the overhang likewise.",
			Source: practice, Leads: []string{"check rails.height_start", "check caps.overhang_start", "caution"}, applies: always},
		{ID: "fact.cap-rake-end", Sentence: "A cap on a rake ends square or plumb: the specification says which, and both ends agree.",
			Source: practice, Leads: []string{"figure cap_rake_end", "check caps.rake_ends"},
			applies: func(w *work) bool { return w.run.Kind == Rake && w.spec.CapThickness > 0 }},
		{ID: "fact.rounding-shared", Sentence: "What rounding takes off a rail is shared between its two ends.",
			Source: practice, Leads: []string{"figure grid"}},
	}
}

// hardwareFacts stand behind screws, sleeves and post tops.
func hardwareFacts() []Fact {
	sleeved := func(w *work) bool { return w.spec.PostMount == MountSleeve }
	return []Fact{
		{ID: "fact.screw-break-through", Sentence: "A screw that would break through is swapped for a shorter one, which still owes its least penetration.",
			Source: practice, Leads: []string{"figure screw_length", "check rails.screws_inside"}},
		{ID: "fact.stainless-on-cedar", Sentence: "Use stainless screws on cedar: galvanised ones leave black marks in the wet.",
			Source: practice, Leads: []string{"figure fastener_metal", "check rails.screws_metal", "caution"},
			applies: func(w *work) bool { return w.cedar() && w.spec.FastenerMetal != MetalStainless }},
		{ID: "fact.sleeve-flush", Sentence: "Sleeve tops stand flush with the decking or a hair below it, never proud.",
			Source: practice, Leads: []string{"figure decking", "check framing.sleeve_top"}, applies: sleeved},
		{ID: "fact.sleeve-heads", Sentence: "In a metal sleeve one wall takes the thread and the other lets the whole head through: a head left proud fouls the post.",
			Source: practice, Leads: []string{"figure sleeve_head_hole", "check framing.sleeve_heads", "caution"},
			applies: func(w *work) bool { return sleeved(w) && w.spec.SleeveMaterial == SleeveSteel }},
		{ID: "fact.post-top-end-grain", Sentence: "The end grain of a post top drinks water: seal it, and size its cap to the post as measured.",
			Source: practice, Leads: []string{"check post_tops.cap_size", "check post_tops.end_sealed", "check caps.end_sealed", "caution"}, applies: always},
	}
}
