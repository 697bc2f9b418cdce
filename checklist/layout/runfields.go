package layout

import (
	"slices"

	"newelbook/checklist/length"
)

// RunField describes one field of a run and says which kinds of run ask for it.
type RunField struct {
	Field
	Kinds []RunKind

	run func(*Run) slot
}

// Text returns the field's value in r as a person would type it, lengths in the style's bare unit. Set reads it back exactly.
func (f RunField) Text(r *Run, style length.Style) string { return f.textOf(f.run(r), style) }

// Set reads text into the field of r; bare numbers take unit. The error is a FieldError with a finished sentence, and
// leaves r as it was.
func (f RunField) Set(r *Run, text string, unit length.Unit) error {
	return f.setIn(f.run(r), text, unit)
}

// For says whether a run of this kind asks for the field.
func (f RunField) For(kind RunKind) bool { return slices.Contains(f.Kinds, kind) }

// Groups of run fields, in the order in which they are asked.
const (
	GroupRun       = "Run"
	GroupStair     = "Stair"
	GroupSite      = "Site"
	GroupRemovable = "Removable length"
)

// RunFields returns the description of every field of a run but its id and overrides, in the order in which they are
// asked. The slice is the caller's own.
func RunFields() []RunField {
	every := []RunKind{Level, Rake, Removable}
	flat := []RunKind{Level, Removable}
	rake := []RunKind{Rake}
	removable := []RunKind{Removable}
	text := func(at func(*Run) *string) func(*Run) slot { return func(r *Run) slot { return slot{text: at(r)} } }
	size := func(at func(*Run) *length.Length) func(*Run) slot {
		return func(r *Run) slot { return slot{length: at(r)} }
	}
	count := func(at func(*Run) *int) func(*Run) slot { return func(r *Run) slot { return slot{count: at(r)} } }
	sizes := func(at func(*Run) *[]length.Length) func(*Run) slot {
		return func(r *Run) slot { return slot{lengths: at(r)} }
	}
	ends := []Choice{{string(EndFree), "Free end"}, {string(EndWall), "Wall"}, {string(EndCorner), "Corner"},
		{string(EndStairHead), "Stair head"}, {string(EndStairFoot), "Stair foot"}}
	return []RunField{
		{Field{Key: "label", Group: GroupRun, Label: "Run label", Hint: "Written on the pieces, such as R1.", Kind: KindText}, every,
			text(func(r *Run) *string { return &r.Label })},
		{Field{Key: "kind", Group: GroupRun, Label: "Kind of run", Kind: KindChoice, US: string(Level), Metric: string(Level),
			Choices: []Choice{{string(Level), "Level"}, {string(Rake), "Rake, along a stair"}, {string(Removable), "Removable"}}}, every,
			text(func(r *Run) *string { return (*string)(&r.Kind) })},
		{Field{Key: "start", Group: GroupRun, Label: "Datum end", Hint: "Everything is measured from this end.", Kind: KindChoice, Choices: ends, US: string(EndFree), Metric: string(EndFree)}, every,
			text(func(r *Run) *string { return (*string)(&r.Start) })},
		{Field{Key: "start_at", Group: GroupRun, Label: "Starts at run", Hint: "Label of the run that this one joins at its datum end; empty where it stands alone.", Kind: KindText, Optional: true}, every,
			text(func(r *Run) *string { return &r.StartAt })},
		{Field{Key: "join", Group: GroupRun, Label: "How it joins that run", Kind: KindChoice, US: JoinShared, Metric: JoinShared, Choices: []Choice{
			{JoinShared, "Shares its last post"}, {JoinFirst, "Shares its first post"}, {JoinDoubled, "Corner of two posts, each set back"}, {JoinOpening, "Beyond an opening, such as a stair let into the side"}}}, every,
			text(func(r *Run) *string { return &r.Join })},
		{Field{Key: "join_by", Group: GroupRun, Label: "Set-back or opening at the joint", Hint: "Two posts: each post's centre back from the corner, empty for the least. Opening: clear between the posts.", Kind: KindLength, Optional: true, Min: 0, Max: 600 * in}, every,
			size(func(r *Run) *length.Length { return &r.JoinBy })},
		{Field{Key: "end", Group: GroupRun, Label: "Far end", Kind: KindChoice, Choices: ends, US: string(EndFree), Metric: string(EndFree)}, every,
			text(func(r *Run) *string { return (*string)(&r.End) })},
		{Field{Key: "length", Group: GroupRun, Label: "Run length", Hint: "In plan; on a rake, empty means as far as the nosing at the far end, or the head post behind it.", Kind: KindLength, Optional: true, Min: 0, Max: 12000 * in}, every,
			size(func(r *Run) *length.Length { return &r.Length })},
		{Field{Key: "length_over", Group: GroupRun, Label: "Length is measured over", Kind: KindChoice, US: OverCentres, Metric: OverCentres,
			Choices: []Choice{{OverCentres, "Post centres"}, {OverFaces, "Outside faces of the posts"}}}, every,
			text(func(r *Run) *string { return &r.LengthOver })},
		{Field{Key: "clear_opening", Group: GroupRun, Label: "Single bay, clear opening", Hint: "Makes the run one bay of this clear length.", Kind: KindLength, Optional: true, Min: 0, Max: 1200 * in}, every,
			size(func(r *Run) *length.Length { return &r.ClearOpening })},
		{Field{Key: "posts", Group: GroupRun, Label: "Post centres from the datum", Hint: "Where you put them, separated by commas; empty for equal bays.", Kind: KindLengths, Optional: true, Min: 0, Max: 12000 * in}, every,
			sizes(func(r *Run) *[]length.Length { return &r.Posts })},
		{Field{Key: "turn", Group: GroupRun, Label: "Turn from the run before", Hint: "Degrees, clockwise seen from above: 90 for a square corner to the right, -90 to the left.", Kind: KindDegrees, Optional: true}, every,
			count(func(r *Run) *int { return &r.Turn })},
		{Field{Key: "total_rise", Group: GroupStair, Label: "Total rise", Hint: "Or give the riser as measured.", Kind: KindLength, Optional: true, Min: 0, Max: 1200 * in}, rake,
			size(func(r *Run) *length.Length { return &r.TotalRise })},
		{Field{Key: "risers", Group: GroupStair, Label: "Number of risers", Hint: "Empty for the fewest within the rule set's greatest riser.", Kind: KindCount, Optional: true}, rake,
			count(func(r *Run) *int { return &r.Risers })},
		{Field{Key: "riser", Group: GroupStair, Label: "Riser", Hint: "As measured, where the stair stands already.", Kind: KindLength, Optional: true, Min: 1 * in, Max: 24 * in}, rake,
			size(func(r *Run) *length.Length { return &r.Riser })},
		{Field{Key: "tread", Group: GroupStair, Label: "Tread run", Hint: "Nosing to nosing.", Kind: KindLength, US: "10", Metric: "280", Min: 2 * in, Max: 120 * in, Source: practice}, rake,
			size(func(r *Run) *length.Length { return &r.Tread })},
		{Field{Key: "nosing", Group: GroupStair, Label: "Nosing projection", Kind: KindLength, Optional: true, Min: 0, Max: 6 * in}, rake,
			size(func(r *Run) *length.Length { return &r.Nosing })},
		{Field{Key: "risers_measured", Group: GroupStair, Label: "Each riser as measured", Hint: "Separated by commas; tests the flight's uniformity.", Kind: KindLengths, Optional: true, Min: 0, Max: 24 * in}, rake,
			sizes(func(r *Run) *[]length.Length { return &r.RisersMeasured })},
		{Field{Key: "treads_measured", Group: GroupStair, Label: "Each tread as measured", Hint: "Separated by commas.", Kind: KindLengths, Optional: true, Min: 0, Max: 120 * in}, rake,
			sizes(func(r *Run) *[]length.Length { return &r.TreadsMeasured })},
		{Field{Key: "nosing_from", Group: GroupStair, Label: "Datum to the nearest nosing", Hint: "In plan. Empty: at a head post inside the rim, rim, half the post and the nosing projection; elsewhere none.", Kind: KindLength, Optional: true, Min: -240 * in, Max: 240 * in, Signed: true}, rake,
			size(func(r *Run) *length.Length { return &r.NosingFrom })},
		{Field{Key: "landing_height", Group: GroupStair, Label: "Landing or pad at the foot", Hint: "How far it stands above the ground that the total rise was measured from; it takes this off the first riser.", Kind: KindLength, Optional: true, Min: -24 * in, Max: 24 * in, Signed: true}, rake,
			size(func(r *Run) *length.Length { return &r.LandingHeight })},
		{Field{Key: "stringer", Group: GroupStair, Label: "The guard stands over", Hint: "Decides whether the triangle of riser, tread and bottom rail can be worked out.", Kind: KindChoice, Optional: true, Choices: []Choice{
			{StringerRisers, "Closed risers in its plane"}, {StringerCut, "A cut stringer in its plane"}, {StringerClosed, "A closed stringer"}, {StringerOpen, "Open risers"}, {StringerInset, "A stringer set in from it"}}}, rake,
			text(func(r *Run) *string { return &r.Stringer })},
		{Field{Key: "posts_on", Group: GroupStair, Label: "Posts are fixed to", Kind: KindChoice, Optional: true, Choices: []Choice{{OnStringer, "The side of the stringer"}, {OnTreads, "The treads"}}}, rake,
			text(func(r *Run) *string { return &r.PostsOn })},
		{Field{Key: "stringer_depth", Group: GroupStair, Label: "Stringer depth", Hint: "Of the whole board, square to its edges, for the bolts of posts on its side; a dry 2x12 is 11 1/4 in or 286 mm (PS 20, secondary text).", Kind: KindLength, Optional: true, Min: 2 * in, Max: 24 * in}, rake,
			size(func(r *Run) *length.Length { return &r.StringerDepth })},
		{Field{Key: "stringer_throat", Group: GroupStair, Label: "Stringer depth left under the notches", Hint: "Of a cut stringer, square from its lower edge to the inner corners of the notches, where it is least.", Kind: KindLength, Optional: true, Min: 1 * in, Max: 24 * in, Source: "the stringer depth less what even steps cut out of it"}, rake,
			size(func(r *Run) *length.Length { return &r.StringerThroat })},
		{Field{Key: "stringer_thickness", Group: GroupStair, Label: "Stringer thickness", Kind: KindLength, Optional: true, Min: in / 2, Max: 12 * in, Source: "the joist thickness, " + practice}, rake,
			size(func(r *Run) *length.Length { return &r.StringerThickness })},
		{Field{Key: "stringer_below", Group: GroupStair, Label: "Stringer's lower edge below the nosing line", Hint: "Plumb: lay a straightedge over the nosings and measure down from it.", Kind: KindLength, Optional: true, Min: 2 * in, Max: 60 * in}, rake,
			size(func(r *Run) *length.Length { return &r.StringerBelow })},
		{Field{Key: "post_reach", Group: GroupStair, Label: "Posts reach below the nosing line", Hint: "Plumb, on the side of the stringer; empty goes down to the stringer's lower edge, or follows the framing's depth where that is not given.", Kind: KindLength, Optional: true, Min: 0, Max: 60 * in}, rake,
			size(func(r *Run) *length.Length { return &r.PostReach })},
		{Field{Key: "foot_on", Group: GroupStair, Label: "Foot post is fixed to", Hint: "Empty: as the other posts.", Kind: KindChoice, Optional: true, Choices: []Choice{
			{OnStringer, "The side of the stringer"}, {OnTreads, "A tread"}, {OnPad, "A base on the pad or landing"}, {OnFooting, "A footing in the ground"}}}, rake,
			text(func(r *Run) *string { return &r.FootOn })},
		{Field{Key: "foot_below", Group: GroupStair, Label: "Foot post goes below the ground", Hint: "In a footing.", Kind: KindLength, Optional: true, Min: 0, Max: 96 * in}, rake,
			size(func(r *Run) *length.Length { return &r.FootBelow })},
		{Field{Key: "stair_foot", Group: GroupStair, Label: "Foot post stands on", Kind: KindText, Optional: true}, rake,
			text(func(r *Run) *string { return &r.StairFoot })},
		{Field{Key: "handrail", Group: GroupStair, Label: "What serves as the handrail", Kind: KindChoice, Optional: true, Choices: []Choice{
			{HandrailTop, "The top of this guard"}, {HandrailSeparate, "A separate handrail on this guard"}, {HandrailOther, "A handrail on the other side"}}}, rake,
			text(func(r *Run) *string { return &r.Handrail })},
		{Field{Key: "handrail_size", Group: GroupStair, Label: "Separate handrail, diameter", Hint: "Of a round one; the greatest width of any other.", Kind: KindLength, Optional: true, Min: 0, Max: 6 * in}, rake,
			size(func(r *Run) *length.Length { return &r.HandrailSize })},
		{Field{Key: "handrail_shape", Group: GroupStair, Label: "Separate handrail, section", Hint: "Empty: round.", Kind: KindChoice, Optional: true, Choices: []Choice{
			{GripRound, "Round"}, {GripPlain, "Not round, without a finger recess"}, {GripRecessed, "A finger recess on both sides"}}}, rake,
			text(func(r *Run) *string { return &r.HandrailShape })},
		{Field{Key: "handrail_deep", Group: GroupStair, Label: "Separate handrail, depth", Hint: "From top to bottom, of one that is not round.", Kind: KindLength, Optional: true, Min: 0, Max: 12 * in}, rake,
			size(func(r *Run) *length.Length { return &r.HandrailDeep })},
		{Field{Key: "handrail_around", Group: GroupStair, Label: "Separate handrail, around", Hint: "A string round it, laid on the tape; empty for square corners.", Kind: KindLength, Optional: true, Min: 0, Max: 36 * in}, rake,
			size(func(r *Run) *length.Length { return &r.HandrailAround })},
		{Field{Key: "handrail_recess", Group: GroupStair, Label: "Finger recess", Hint: "Four lengths, separated by commas: from the top to where it starts, its depth, how far below the widest part it is as deep as that, and over what height.", Kind: KindLengths, Optional: true, Min: 0, Max: 6 * in}, rake,
			sizes(func(r *Run) *[]length.Length { return &r.HandrailRecess })},
		{Field{Key: "handrail_height", Group: GroupStair, Label: "Separate handrail, height", Hint: "Its top above the nosing line, plumb.", Kind: KindLength, Optional: true, Min: 0, Max: 60 * in}, rake,
			size(func(r *Run) *length.Length { return &r.HandrailHeight })},
		{Field{Key: "stair_wide", Group: GroupStair, Label: "Width of the flight", Hint: "For the plan of the job.", Kind: KindLength, Optional: true, Min: 12 * in, Max: 480 * in}, rake,
			size(func(r *Run) *length.Length { return &r.StairWide })},
		{Field{Key: "deck_height", Group: GroupSite, Label: "Greatest drop", Hint: "Finished decking to the lowest finished grade within the zone. On sloping ground, measure several spots below instead.", Kind: KindLength, Optional: true, Min: 0, Max: 1200 * in}, every,
			size(func(r *Run) *length.Length { return &r.DeckHeight })},
		{Field{Key: "drops", Group: GroupSite, Label: "Drops measured along the run", Hint: "Each as distance from the datum, a colon and the drop: 0: 48; 72: 51 1/2. Where it was measured out from the edge, add how far: 72: 53 out 36.", Kind: KindDrops, Optional: true}, every,
			func(r *Run) slot { return slot{drops: &r.Drops} }},
		{Field{Key: "joists", Group: GroupSite, Label: "Joists meet the edge", Kind: KindChoice, Optional: true, Choices: []Choice{
			{JoistsAcross, "End on: joist ends meet the rim"}, {JoistsAlong, "Alongside: the run stands over a joist"}}}, flat,
			text(func(r *Run) *string { return &r.Joists })},
		{Field{Key: "first_joist", Group: GroupSite, Label: "First joist", Hint: "Datum to the centre of the first joist; may be negative.", Kind: KindLength, Optional: true, Min: -240 * in, Max: 240 * in, Signed: true}, flat,
			size(func(r *Run) *length.Length { return &r.FirstJoist })},
		{Field{Key: "last_joist", Group: GroupSite, Label: "Last joist", Hint: "Datum to the centre of the last joist under this edge. Empty: it stands against the post of a square corner or the wall, and elsewhere the joists go on.", Kind: KindLength, Optional: true, Min: 0, Max: 6000 * in}, flat,
			size(func(r *Run) *length.Length { return &r.LastJoist })},
		{Field{Key: "deck_side", Group: GroupSite, Label: "The deck is on", Hint: "Going along from the datum, seen from above. It says where the frame ends at a corner. Empty: by the turns of the runs that are joined, or as another of them says.", Kind: KindChoice, Optional: true, Choices: []Choice{
			{DeckRight, "The right"}, {DeckLeft, "The left"}}}, flat,
			text(func(r *Run) *string { return &r.DeckSide })},
		{Field{Key: "posts_are", Group: GroupSite, Label: "The posts are", Hint: "Posts that stand there already are typed in by their centres as measured.", Kind: KindChoice, Optional: true, Choices: []Choice{
			{PostsNew, "New, set for this guard"}, {PostsExisting, "There already"}}}, every,
			text(func(r *Run) *string { return &r.PostsAre })},
		{Field{Key: "obstructions", Group: GroupSite, Label: "In the way of bolts", Hint: "Places from the datum of ducts, pipes or other things behind the rim; joists are known already.", Kind: KindLengths, Optional: true, Min: -240 * in, Max: 6000 * in}, flat,
			sizes(func(r *Run) *[]length.Length { return &r.Obstructions })},
		{Field{Key: "siding", Group: GroupSite, Label: "Still to come on the wall", Hint: "Sheathing, siding and battens not yet on where the run meets a wall.", Kind: KindLength, Optional: true, Min: 0, Max: 12 * in}, every,
			size(func(r *Run) *length.Length { return &r.Siding })},
		{Field{Key: "removable_why", Group: GroupRemovable, Label: "Why this length is removable", Kind: KindText, Optional: true}, removable,
			text(func(r *Run) *string { return &r.RemovableWhy })},
		{Field{Key: "removable_store", Group: GroupRemovable, Label: "Where it stands while out", Kind: KindText, Optional: true}, removable,
			text(func(r *Run) *string { return &r.RemovableStore })},
		{Field{Key: "side_clearance", Group: GroupRemovable, Label: "Clearance to each fixed neighbour", Kind: KindLength, US: "1/4", Metric: "6", Min: 0, Max: 6 * in, Source: practice}, removable,
			size(func(r *Run) *length.Length { return &r.SideClearance })},
		{Field{Key: "note", Group: GroupRun, Label: "Note", Kind: KindText, Optional: true}, every,
			text(func(r *Run) *string { return &r.Note })},
	}
}

// DefaultRun returns a run of the kind with the defaults of its fields, for jobs in unit.
func DefaultRun(kind RunKind, unit length.Unit) Run {
	r := Run{Kind: kind}
	for _, f := range RunFields() {
		text := f.Default(unit)
		if text == "" || f.Key == "kind" || !f.For(kind) {
			continue
		}
		if err := f.Set(&r, text, unit); err != nil {
			panic("layout: default of " + f.Key + ": " + err.Error())
		}
	}
	return r
}

// runKeys lists the keys of a run in a job description.
func runKeys(fields []RunField) []string {
	keys := []string{"id", "overrides"}
	for _, f := range fields {
		keys = append(keys, f.Key)
	}
	return keys
}
