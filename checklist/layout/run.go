package layout

import "newelbook/checklist/length"

// RunKind is the kind of a run.
type RunKind string

// Kinds of run.
const (
	Level     RunKind = "level"
	Rake      RunKind = "rake"
	Removable RunKind = "removable"
)

// EndKind says what a run ends at. Every end but a wall has a post of its own or a shared one.
type EndKind string

// Kinds of end.
const (
	EndWall      EndKind = "wall" // the rails meet the wall; no post
	EndFree      EndKind = "free"
	EndCorner    EndKind = "corner"
	EndStairHead EndKind = "stair head"
	EndStairFoot EndKind = "stair foot"
)

// How a run that starts at another one joins it.
const (
	JoinShared  = "shared"     // its datum post is the last post of that run
	JoinFirst   = "first post" // its datum post is the first post of that run
	JoinDoubled = "doubled"    // a corner of two posts: each run has its own, set back from the corner
	JoinOpening = "opening"    // beyond an opening left at the end of that run, for a flight let into the side
)

// Whether posts are set for this guard or stand there already.
const (
	PostsNew      = "new"
	PostsExisting = "existing"
)

// What Run.Length is measured over, where an end has a post.
const (
	OverCentres = "post centres"
	OverFaces   = "outside faces"
)

// How joists meet the edge that a run stands on.
const (
	JoistsAcross = "across" // joist ends meet the rim under the run
	JoistsAlong  = "along"  // the run stands over a joist that runs the same way
)

// Run is one straight length of guard as the builder describes it. Distances along it are measured from its datum end.
type Run struct {
	ID    string  `json:"id"`
	Label string  `json:"label"` // R1, R2 …: for people
	Kind  RunKind `json:"kind"`
	Note  string  `json:"note"`

	Start      EndKind       `json:"start"` // the datum end
	End        EndKind       `json:"end"`
	StartAt    string        `json:"start_at"` // label of the run that this one starts at, empty for none
	Join       string        `json:"join"`     // how it joins that run: JoinShared and so on; empty is JoinShared
	JoinBy     length.Length `json:"join_by"`  // doubled corner: centre of each post back from the corner, zero for the least; opening: clear between the posts
	Length     length.Length `json:"length"`   // in plan; zero on a rake means as far as the nosing at the far end, or the head post behind it
	LengthOver string        `json:"length_over"`
	// ClearOpening makes the run one bay of this clear length, whatever the greatest centres; Length then follows from it.
	ClearOpening length.Length `json:"clear_opening"`
	Turn         int           `json:"turn"` // degrees turned from the run before it, clockwise seen from above

	DeckHeight length.Length `json:"deck_height"`     // greatest drop within the zone, finished decking to finished grade
	Drops      []DropSpot    `json:"drops,omitempty"` // where drops were measured along the run, in order; may be empty
	Joists     string        `json:"joists"`
	FirstJoist length.Length `json:"first_joist"` // datum to the centre of the first joist
	LastJoist  length.Length `json:"last_joist"`  // datum to the centre of the last joist; zero where it is not given

	TotalRise length.Length `json:"total_rise"` // rake: either total rise, risers and tread …
	Risers    int           `json:"risers"`
	Riser     length.Length `json:"riser"` // … or riser and tread as measured
	Tread     length.Length `json:"tread"` // going, nosing to nosing
	Nosing    length.Length `json:"nosing"`
	StairFoot string        `json:"stair_foot"` // what the foot post stands on, in words
	Stringer  string        `json:"stringer"`   // what the guard stands over, StringerRisers and so on; empty where not said
	// NosingFrom is the datum to the nosing nearest it, in plan, positive along the run; zero at a head post inside the rim is taken from the
	// framing, see Stair.NosingFrom. LandingHeight is how far the landing or pad at the foot stands above the ground that the total rise was
	// measured from.
	NosingFrom    length.Length `json:"nosing_from"`
	LandingHeight length.Length `json:"landing_height"`
	PostsOn       string        `json:"posts_on"`   // what the posts of the flight are fixed to, OnTreads or OnStringer; empty where not said
	FootOn        string        `json:"foot_on"`    // what the foot post is fixed to: as PostsOn, or OnPad or OnFooting; empty as the others
	PostReach     length.Length `json:"post_reach"` // OnStringer: plumb from the nosing line down to the post's lower end; zero goes down to the stringer's lower edge, or follows the framing's depth where that is not given
	FootBelow     length.Length `json:"foot_below"` // OnFooting: how far the foot post goes below the ground or landing
	// StringerDepth is that of the stringer's whole board and StringerThroat what is left of it under the notches of a cut one, both square to
	// its edges; StringerBelow is its lower edge below the nosing line, plumb. Each is zero where not given.
	StringerDepth     length.Length `json:"stringer_depth,omitempty"`
	StringerThroat    length.Length `json:"stringer_throat,omitempty"`
	StringerThickness length.Length `json:"stringer_thickness,omitempty"`
	StringerBelow     length.Length `json:"stringer_below,omitempty"`
	// Handrail is what a hand holds, HandrailTop and so on; HandrailSize is the diameter of a separate round one or the width of any
	// other, HandrailHeight its top above the nosing line. HandrailShape is its section, GripRound and so on, empty for a round one;
	// HandrailRecess is where its finger recess starts below the top, how deep it goes, within what of the widest part, over what height.
	Handrail       string          `json:"handrail"`
	HandrailSize   length.Length   `json:"handrail_size"`
	HandrailHeight length.Length   `json:"handrail_height"`
	HandrailShape  string          `json:"handrail_shape,omitempty"`
	HandrailDeep   length.Length   `json:"handrail_deep,omitempty"`
	HandrailAround length.Length   `json:"handrail_around,omitempty"`
	HandrailRecess []length.Length `json:"handrail_recess,omitempty"`
	StairWide      length.Length   `json:"stair_wide"` // width of the flight, for the plan; zero where not given
	// RisersMeasured and TreadsMeasured are each riser and tread of the flight as measured, for its uniformity; may be empty.
	RisersMeasured []length.Length `json:"risers_measured"`
	TreadsMeasured []length.Length `json:"treads_measured"`

	Posts []length.Length `json:"posts"` // post centres from the datum where the builder puts them; empty for equal bays

	// PostsAre says whether the posts are set for this guard, PostsNew, or stand there already, PostsExisting: then they are not cut,
	// and nothing is known of what holds them. Empty is PostsNew.
	PostsAre string `json:"posts_are"`
	// Obstructions are the places, from the datum, of what stands behind the rim in the way of bolts: ducts, pipes, stringers.
	Obstructions []length.Length `json:"obstructions"`
	// DeckSide says on which side of the run the deck is, DeckRight or DeckLeft of the way along from the datum; empty leaves it to the
	// turns of the outline, or to another run of it that says.
	DeckSide string `json:"deck_side,omitempty"`
	// Siding is what is still to come on a wall that the run was measured to: sheathing, siding, battens. It comes off the opening
	// at a wall end.
	Siding length.Length `json:"siding"`

	RemovableWhy   string        `json:"removable_why"`   // the reason for a removable length
	RemovableStore string        `json:"removable_store"` // where it stands while out
	SideClearance  length.Length `json:"side_clearance"`  // to each fixed neighbour

	Overrides []Override `json:"overrides"`
}

// The sides of a run that a deck may be on, seen from above going along from the datum.
const (
	DeckRight = "right"
	DeckLeft  = "left"
)

// Down says whether the flight of a rake goes down from the datum. One whose ends are not said goes up.
func (r Run) Down() bool { return r.Start == EndStairHead || r.End == EndStairFoot }

// Override is one field of the specification that this run has otherwise. Text is as typed, in the job's bare unit.
type Override struct {
	Key  string `json:"key"`
	Text string `json:"text"`
}

// Opening is a clear opening as measured between two posts, horizontally, at the bottom and top rail. Either may be zero:
// not measured. LeanFrom and LeanTo are the lean along the run of the post at its datum-side end and of the other, positive away from the datum, over
// the height of LeanOver; nil where it was not read, and at a wall.
type Opening struct {
	Bottom   length.Length  `json:"bottom"`
	Top      length.Length  `json:"top"`
	LeanFrom *length.Length `json:"lean_from,omitempty"`
	LeanTo   *length.Length `json:"lean_to,omitempty"`
}
