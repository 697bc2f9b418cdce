package layout

import "newelbook/checklist/length"

// Spec is the build specification of a job: stock, hardware, heights, tolerances. A run may override any field of it
// (Run.Overrides). Every field is described once, in SpecFields: its key in a job description, its label on a page, its
// unit and its default. All lengths are actual sizes, not nominal ones, unless the name says otherwise.
type Spec struct {
	PostNominal       string        `json:"post_nominal"`     // what the yard calls it, "4x4"; never used in arithmetic
	PostWidth         length.Length `json:"post_width"`       // actual face seen along the run
	PostDepth         length.Length `json:"post_depth"`       // actual face across the run
	PostMount         string        `json:"post_mount"`       // MountBolted, MountSleeve or MountBase
	PostsAtCap        string        `json:"posts_at_cap"`     // PostsUnderCap or PostsThroughCap
	PostAbove         length.Length `json:"post_above"`       // where posts pass through the cap: post top above the finished top
	PostMaxCentres    length.Length `json:"post_max_centres"` // greatest distance between post centres
	BaseStandOff      length.Length `json:"base_stand_off"`   // how far the base holds the post's end off what it stands on
	BaseStandOffGiven bool          `json:"base_stand_off_given"`
	BaseTest          string        `json:"base_test"` // for MountBase: the published guard-load test of the base, in the builder's words; empty refers it

	RailNominal     string        `json:"rail_nominal"`
	RailThickness   length.Length `json:"rail_thickness"`
	RailWidth       length.Length `json:"rail_width"`
	RailOrientation string        `json:"rail_orientation"` // RailOnEdge or RailFlat
	ConnectorTop    length.Length `json:"connector_top"`    // taken off the top rail at each end, post face to seated end
	ConnectorBottom length.Length `json:"connector_bottom"` // the same for the bottom rail
	// ConnectorTopGiven and ConnectorBottomGiven tell an allowance of nothing from one that nobody has measured yet.
	ConnectorTopGiven    bool            `json:"connector_top_given"`
	ConnectorBottomGiven bool            `json:"connector_bottom_given"`
	ConnectorWall        length.Length   `json:"connector_wall"` // taken off either rail where it meets a wall, where that is other hardware
	ConnectorWallGiven   bool            `json:"connector_wall_given"`
	ConnectorName        string          `json:"connector_name"`   // what the hardware is, in the builder's words
	RailLengthEdge       string          `json:"rail_length_edge"` // on a rake: which edge the length is measured along, EdgeTop or EdgeBottom
	RailRakeEnd          string          `json:"rail_rake_end"`    // how raked rails are cut: EndPlumb or EndSquare
	InfillKind           string          `json:"infill_kind"`      // FillBalusters, FillCables or FillPanels
	InfillShape          string          `json:"infill_shape"`     // InfillRound or InfillSquare
	InfillWidth          length.Length   `json:"infill_width"`     // member width seen along the run
	InfillMode           string          `json:"infill_mode"`      // EqualGaps or FixedCentres
	InfillCentres        length.Length   `json:"infill_centres"`   // shoe centres on a level run, FixedCentres
	InfillRake           length.Length   `json:"infill_rake"`      // shoe centres along a raked rail, FixedCentres
	InfillSeat           length.Length   `json:"infill_seat"`      // what a shoe keeps a baluster off the rail, plumb, at each end
	InfillSeatGiven      bool            `json:"infill_seat_given"`
	InfillCentred        string          `json:"infill_centred"`  // CentredBest, CentredMember or CentredSpace
	InfillGap            length.Length   `json:"infill_gap"`      // design gap, greatest clear distance aimed at; the code limit is another number
	InfillFix            string          `json:"infill_fix"`      // FixBetween or FixFace
	InfillMoisture       string          `json:"infill_moisture"` // "dry" or "wet": wet stock is tested again at its dry size
	CableDiameter        length.Length   `json:"cable_diameter"`
	CableGap             length.Length   `json:"cable_gap"`     // design gap between cables, square to them; they give when pushed, so less than the limit
	CableSupport         length.Length   `json:"cable_support"` // greatest clear distance between posts or uprights that hold the cables apart
	PanelMost            length.Length   `json:"panel_most"`    // greatest width of one panel
	PanelGap             length.Length   `json:"panel_gap"`     // clear at every edge of a panel
	PanelThickness       length.Length   `json:"panel_thickness"`
	UnderRail            length.Length   `json:"under_rail"`   // clear under the bottom rail of a level run
	LevelHeight          length.Length   `json:"level_height"` // finished top, cap rail included, above the decking; zero follows the rule set's limit
	StairHeight          length.Length   `json:"stair_height"` // finished top above the nosing line, measured plumb; zero follows the rule set's limit
	RakeBottom           length.Length   `json:"rake_bottom"`  // underside of the raked bottom rail above the nosing line, plumb; may be negative
	CapWidth             length.Length   `json:"cap_width"`
	CapThickness         length.Length   `json:"cap_thickness"`
	CapOverhang          length.Length   `json:"cap_overhang"` // past the post face, each side
	CapWallGap           length.Length   `json:"cap_wall_gap"` // left open in plan between the end of the cap and a finished wall
	CapRakeEnd           string          `json:"cap_rake_end"` // EndPlumb or EndSquare
	Decking              length.Length   `json:"decking"`      // thickness
	JoistWidth           length.Length   `json:"joist_width"`
	JoistDepth           length.Length   `json:"joist_depth"`
	JoistSpacing         length.Length   `json:"joist_spacing"` // centre to centre
	BoltDiameter         length.Length   `json:"bolt_diameter"`
	BoltTop              length.Length   `json:"bolt_top"`         // top of the framing down to the upper bolt's centre
	BoltBottom           length.Length   `json:"bolt_bottom"`      // underside of the framing up to the lower bolt's centre
	BoltAccess           length.Length   `json:"bolt_access"`      // from a bolt's centre to what stands beside it: room for washer and spanner
	HoldDown             string          `json:"hold_down"`        // the hold-down's name and published capacity in the builder's words; empty when none
	SleeveMaterial       string          `json:"sleeve_material"`  // SleeveWood or SleeveSteel
	SleeveWall           length.Length   `json:"sleeve_wall"`      // wall thickness
	SleeveClearance      length.Length   `json:"sleeve_clearance"` // total, both sides together
	SleeveHeadHole       length.Length   `json:"sleeve_head_hole"` // steel sleeves: hole that clears the screw's head and the driver
	SleeveHead           length.Length   `json:"sleeve_head"`      // steel sleeves: how far a screw's head stands proud of the wall
	SleeveLock           length.Length   `json:"sleeve_lock"`      // centre of the fixing that holds the post in its sleeve, above the sleeve's bottom; zero for none
	PostMoisture         string          `json:"post_moisture"`    // StockDry or StockWet: which way the posts will move
	SleeveSwelling       length.Length   `json:"sleeve_swelling"`  // expected swelling of the post, total
	ScrewLength          length.Length   `json:"screw_length"`     // rail and cap screws
	ScrewDiameter        length.Length   `json:"screw_diameter"`   // outside the thread
	Species              string          `json:"species"`          // key of codes.Species
	FastenerMetal        string          `json:"fastener_metal"`   // MetalStainless, MetalGalvanised, MetalOther
	StockLengths         []length.Length `json:"stock_lengths"`
	Kerf                 length.Length   `json:"kerf"`
	EndTrim              length.Length   `json:"end_trim"`
	SpareBoards          int             `json:"spare_boards,omitempty"`   // of each section, for the whole job
	SpareCounted         int             `json:"spare_counted,omitempty"`  // percent of what is bought by count
	SpareHardware        int             `json:"spare_hardware,omitempty"` // percent
	CarryAlone           Weight          `json:"carry_alone,omitempty"`    // above which two people carry a removable length; zero is CarryDefault
	Grid                 length.Length   `json:"grid"`                     // marks are rounded to this, rails down to it
	TolPostCentre        length.Length   `json:"tol_post_centre"`
	TolPostPlumb         length.Length   `json:"tol_post_plumb"` // over 4 ft (or 1,200 mm) of post
	TolHeight            length.Length   `json:"tol_height"`     // either way, never under the limit
	TolRailLevel         length.Length   `json:"tol_rail_level"` // over one bay
	TolRailShort         length.Length   `json:"tol_rail_short"` // a rail may be short by this, never long
	TolGap               length.Length   `json:"tol_gap"`
	TolBalusterPlumb     length.Length   `json:"tol_baluster_plumb"` // over its length
	TolOverhang          length.Length   `json:"tol_overhang"`
	TolMitre             length.Length   `json:"tol_mitre"`
	TolOpening           length.Length   `json:"tol_opening"` // opening at the top against the bottom
	TolUnderRail         length.Length   `json:"tol_under_rail"`
	DryMoisture          int             `json:"dry_moisture,omitempty"` // percent: stock that reads this or less is dry; zero is DryMoistDefault
	TapeDoubt            length.Length   `json:"tape_doubt,omitempty"`   // how far a reading with the job's own tape may be out; zero names none
}

// DryMoistDefault is the moisture content in percent up to which stock counts as dry where the job says nothing else.
const DryMoistDefault = 19

// DryMoistSource is where the default comes from.
const DryMoistSource = "19 % by default: PS 20 calls lumber dry at 19 % or less, secondary text"

// DryMoist is the moisture content in percent up to which stock counts as dry.
func (s Spec) DryMoist() int {
	if s.DryMoisture > 0 {
		return s.DryMoisture
	}
	return DryMoistDefault
}

// RailDepth is how deep a rail is as it stands, square to its length.
func (s Spec) RailDepth() length.Length {
	if s.RailOrientation == RailFlat {
		return s.RailThickness
	}
	return s.RailWidth
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
