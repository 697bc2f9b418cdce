package layout

import "newelbook/checklist/length"

// Spec is the build specification of a job: stock, hardware, heights, tolerances. A run may override any field of it
// (Run.Overrides). Every field is described once, in SpecFields: its key in a job description, its label on a page, its
// unit and its default. All lengths are actual sizes, not nominal ones, unless the name says otherwise.
type Spec struct {
	PostNominal    string        // what the yard calls it, "4x4"; never used in arithmetic
	PostWidth      length.Length // actual face seen along the run
	PostDepth      length.Length // actual face across the run
	PostMount      string        // MountBolted, MountSleeve or MountBase
	PostsAtCap     string        // PostsUnderCap or PostsThroughCap
	PostAbove      length.Length // where posts pass through the cap: post top above the finished top
	PostMaxCentres length.Length // greatest distance between post centres
	BaseTest       string        // for MountBase: the published guard-load test of the base, in the builder's words; empty refers it

	RailNominal     string
	RailThickness   length.Length
	RailWidth       length.Length
	RailOrientation string        // RailOnEdge or RailFlat
	ConnectorTop    length.Length // taken off the top rail at each end, post face to seated end
	ConnectorBottom length.Length // the same for the bottom rail
	// ConnectorTopGiven and ConnectorBottomGiven tell an allowance of nothing from one that nobody has measured yet.
	ConnectorTopGiven    bool
	ConnectorBottomGiven bool
	ConnectorName        string        // what the hardware is, in the builder's words
	RailLengthEdge       string        // on a rake: which edge the length is measured along, EdgeTop or EdgeBottom
	InfillShape          string        // InfillRound or InfillSquare
	InfillWidth          length.Length // member width seen along the run
	InfillMode           string        // EqualGaps or FixedCentres
	InfillCentres        length.Length // shoe centres on a level run, FixedCentres
	InfillRake           length.Length // shoe centres along a raked rail, FixedCentres
	InfillGap            length.Length // design gap, greatest clear distance aimed at; the code limit is another number
	InfillFix            string        // FixBetween or FixFace
	InfillMoisture       string        // "dry" or "wet": wet stock is tested again at its dry size
	UnderRail            length.Length // clear under the bottom rail of a level run
	LevelHeight          length.Length // finished top, cap rail included, above the decking; zero follows the rule set's limit
	StairHeight          length.Length // finished top above the nosing line, measured plumb; zero follows the rule set's limit
	RakeBottom           length.Length // underside of the raked bottom rail above the nosing line, plumb; may be negative
	CapWidth             length.Length
	CapThickness         length.Length
	CapOverhang          length.Length // past the post face, each side
	CapRakeEnd           string        // EndPlumb or EndSquare
	Decking              length.Length // thickness
	JoistWidth           length.Length
	JoistDepth           length.Length
	JoistSpacing         length.Length // centre to centre
	BoltDiameter         length.Length
	BoltTop              length.Length // top of the framing down to the upper bolt's centre
	BoltBottom           length.Length // underside of the framing up to the lower bolt's centre
	HoldDown             string        // the hold-down's name and published capacity in the builder's words; empty when none
	SleeveMaterial       string        // SleeveWood or SleeveSteel
	SleeveWall           length.Length // wall thickness
	SleeveClearance      length.Length // total, both sides together
	SleeveHeadHole       length.Length // steel sleeves: hole that clears the screw's head and the driver
	SleeveSwelling       length.Length // expected swelling of the post, total
	ScrewLength          length.Length // rail and cap screws
	Species              string        // key of codes.Species
	FastenerMetal        string        // MetalStainless, MetalGalvanised, MetalOther
	StockLengths         []length.Length
	Kerf                 length.Length
	EndTrim              length.Length
	Grid                 length.Length // marks are rounded to this, rails down to it
	TolPostCentre        length.Length
	TolPostPlumb         length.Length // over 4 ft (or 1,200 mm) of post
	TolHeight            length.Length // either way, never under the limit
	TolRailLevel         length.Length // over one bay
	TolRailShort         length.Length // a rail may be short by this, never long
	TolGap               length.Length
	TolBalusterPlumb     length.Length // over its length
	TolOverhang          length.Length
	TolMitre             length.Length
	TolOpening           length.Length // opening at the top against the bottom
	TolUnderRail         length.Length
}

// Post mounts.
const (
	MountBolted = "bolted" // through the rim or against blocking
	MountSleeve = "sleeve" // in a socket fixed to the framing
	MountBase   = "base"   // on a surface base over blocking
)

// Where posts end.
const (
	PostsUnderCap   = "under"
	PostsThroughCap = "through"
)

// Rail orientations.
const (
	RailOnEdge = "on edge"
	RailFlat   = "flat"
)

// Infill.
const (
	InfillRound  = "round"
	InfillSquare = "square"
	EqualGaps    = "equal gaps"
	FixedCentres = "fixed centres"
	FixBetween   = "between rails" // members stand between the rails
	FixFace      = "face"          // members run past both rails on their face
	StockDry     = "dry"
	StockWet     = "wet"
)

// Cuts.
const (
	EndPlumb  = "plumb"
	EndSquare = "square"
	// EdgeTop and EdgeBottom say which edge of a raked rail its length is measured along. Both ends are cut plumb, so
	// the two edges are equally long, but the tape hooks a different corner.
	EdgeTop    = "top edge"
	EdgeBottom = "bottom edge"
)

// Sleeves and metals.
const (
	SleeveWood      = "wood"
	SleeveSteel     = "steel"
	MetalStainless  = "stainless"
	MetalGalvanised = "hot-dip galvanised"
	MetalOther      = "other"
)
