// Package layout computes where posts, rails, balusters and marks go.
//
// Callers start with ReadJob and ComputeJob, or with Compute for one run; WriteText and WriteJSON show what came of it.
// SpecFields and RunFields describe every input once: forms, job descriptions and their schema are made from them.
//
// Everything is measured from the run's datum end along the run in plan, in exact lengths. Ideal marks are rationals, each
// rounded once, on its own, to the marking grid; limits are tested on the rounded marks, wet and dry. A slope is kept as
// rise and run. What cannot be laid out is a Problem with a sentence, and the rest still is. The same input gives the
// same layout, to the byte.
//
// It never reads a file or a clock, designs nothing (Screen replaces no engineer) and judges no reading. Lengths become text
// through package length alone. Test it with: go test ./checklist/layout; -update writes the schemas and golden files anew.
package layout

import "newelbook/checklist/length"

// PartlyBuilt is the version of a piece over several bays, some of them measured.
const PartlyBuilt = "partly as built"

// Layout is the computed layout of one run. It is never edited by hand. Version and Basis are set by whoever keeps it.
type Layout struct {
	RunID   string  `json:"run_id"`
	Label   string  `json:"label"`
	Kind    RunKind `json:"kind"`
	Version int     `json:"version"`
	Basis   string  `json:"basis"` // why this version was made, one sentence

	Length  length.Length `json:"length"`            // datum to the far end, in plan
	Grid    length.Length `json:"grid"`              // what marks were rounded to
	DeckOn  int           `json:"deck_on,omitempty"` // side of a level run that the deck is on, seen from above: 1 for the right of the way along, -1 for the left
	EndSpan length.Length `json:"end_span"`          // first post centre (or wall) to the last, in plan

	Frame   *Frame        `json:"frame,omitempty"` // of the deck under a level run; nil where its joists are not given
	Posts   []Post        `json:"posts"`
	Bays    []Bay         `json:"bays"`
	Walls   []WallEnd     `json:"walls,omitempty"` // ends at a wall
	Heights Heights       `json:"heights"`
	Stair   *Stair        `json:"stair,omitempty"`
	Meets   []Meet        `json:"meets,omitempty"` // stair heads that the run shares
	Cap     []Piece       `json:"cap"`
	CapFrom length.Length `json:"cap_from,omitempty"` // where a cap over the posts begins, in plan from the datum, to its long point, as planned
	CapTo   length.Length `json:"cap_to,omitempty"`   // and where it ends
	// CapLeft and CapRight are the same along its left and its right edge, seen going along from the datum, where an end is mitred.
	CapLeft  *Span         `json:"cap_left,omitempty"`
	CapRight *Span         `json:"cap_right,omitempty"`
	Lift     *Lift         `json:"lift,omitempty"`
	Pieces   []Piece       `json:"pieces"` // every piece of the run as used: built where measured, planned elsewhere
	Working  []string      `json:"working"`
	Drilling []Drill       `json:"drilling"` // the holes that its fasteners want
	Screens  []Screen      `json:"screens"`  // loads, screened or not; no engineer is replaced
	Problems []Problem     `json:"problems"`
	Cautions []Caution     `json:"cautions"`
	Required GuardRequired `json:"required"`
}

// Problem is something that could not be laid out, or is laid out but at odds with a figure; the rest still is.
type Problem struct {
	Place    string `json:"place"` // label, "R1-B2"
	Field    string `json:"field"` // key of the input to look at, may be empty
	Sentence string `json:"sentence"`
	Fatal    bool   `json:"fatal"` // the place has no layout
}

// Caution is a warning that belongs on the sheet, with the id of the fact behind it.
type Caution struct {
	ID       string `json:"id"`
	Sentence string `json:"sentence"`
	Source   string `json:"source"`
}

// Screen is one load worked out by a published method from the layout's own figures, or the reason why it was not.
type Screen struct {
	What     string  `json:"what"`
	Screened bool    `json:"screened"`
	Value    float64 `json:"value"`
	Unit     string  `json:"unit"`   // lb, kN, psi or MPa
	Figure   float64 `json:"figure"` // what it is held against, in the same unit; zero where there is none
	Sentence string  `json:"sentence"`
}

// GuardRequired says whether the rule set asks for a guard at this drop, and why.
type GuardRequired struct {
	Required bool   `json:"required"`
	Why      string `json:"why"`
}

// Post is one post place.
type Post struct {
	Number    int           `json:"number"`
	Label     string        `json:"label"`               // R1-P3
	SharedAs  string        `json:"shared_as,omitempty"` // label it already has in another run
	Centre    length.Length `json:"centre"`              // from the datum
	Face      length.Length `json:"face"`                // its datum-side face, from the datum: the mark to set it by
	Width     length.Length `json:"width"`               // what it takes of the run's centre line
	Existing  bool          `json:"existing,omitempty"`  // it stands there already: it is not cut, and nothing is known of what holds it
	Turned    float64       `json:"turned,omitempty"`    // degrees that it is turned from the run, clockwise seen from above, other than by quarters
	Spread    length.Length `json:"spread,omitempty"`    // what a turned post takes along the run, corner to corner
	Joist     string        `json:"joist"`               // how it stands against the joists, one sentence
	JoistGap  length.Length `json:"joist_gap"`           // clear distance from the post's or its sleeve's face to the nearest joist face but that of the outer joist behind it; negative is a clash
	JoistClsh bool          `json:"joist_clash"`
	Blocking  []Piece       `json:"blocking"`
	Blocked   []Span        `json:"blocked,omitempty"` // the spaces between joists that its blocking goes into; none where joists run along
	Beside    []Span        `json:"beside,omitempty"`  // of a run alongside the joists: where along the run each piece of its blocking stands, which run inward
	Bolts     []Bolt        `json:"bolts"`
	Corner    []Bolt        `json:"corner_bolts,omitempty"` // a second pair, through the framing under the run that goes on from a square corner
	HoldDown  string        `json:"hold_down"`              // what is called for, one sentence; empty when not
	Sleeve    *Sleeve       `json:"sleeve,omitempty"`
	Stand     *Stand        `json:"stand,omitempty"`     // where a post of a flight stands against its steps
	Top       length.Length `json:"top"`                 // post top above the decking (or nosing line, plumb)
	StandOff  length.Length `json:"stand_off,omitempty"` // how far a base holds its end off what it stands on
	Foot      string        `json:"foot,omitempty"`      // what it stands on in a base, and whether that came off its length, one sentence
	Cut       length.Length `json:"cut"`                 // cut length, embedment to top; on a rake to the long point of the top; zero for one that stands there already
	Rough     length.Length `json:"rough,omitempty"`     // what it is cut to first where its top is marked in place; zero where it is cut to Cut at once
	TopCut    *TopCut       `json:"top_cut,omitempty"`   // how its top is cut where a flight comes to it; nil for a square top at Top
}

// Footprint is where what stands among the joists begins and ends along the run, from the datum: the post, or the sleeve that it is in.
func (p Post) Footprint() (near, far length.Length) {
	if p.Spread > 0 {
		return p.Centre - p.Spread/2, p.Centre + p.Spread/2
	}
	if p.Sleeve == nil {
		return p.Face, p.Face + p.Width
	}
	near = p.Centre - p.Sleeve.Outside/2
	return near, near + p.Sleeve.Outside
}

// Bolt is one through-bolt of a post: how far its centre stands from the edges of the framing, or of the stringer, square to them; zero from
// the far edge of a stringer whose depth is not known.
type Bolt struct {
	Name       string        `json:"name"` // upper, lower
	FromTop    length.Length `json:"from_top"`
	FromBottom length.Length `json:"from_bottom"`
	Length     length.Length `json:"length"` // of the bolt, at least
	// Blocking is how much of that it goes through, beside the post and what it is fixed to: of blocking drawn tight against the post.
	Blocking length.Length `json:"blocking,omitempty"`
}

// Through names what a bolt of the post goes through, from its head in.
func (p Post) Through(b Bolt, style length.Style) string {
	switch {
	case p.Stringer():
		return "stringer and post"
	case b.Blocking > 0:
		return "rim, post and " + b.Blocking.Format(style) + " of blocking"
	}
	return "rim and post"
}

// Sleeve is the socket of one post.
type Sleeve struct {
	Inside  length.Length `json:"inside"`  // inside size, both ways
	Planned length.Length `json:"planned"` // inside size before the post was measured; the same as Inside until then
	Outside length.Length `json:"outside"`
	Height  length.Length `json:"height"`
	Holes   []Hole        `json:"holes"`
	Note    string        `json:"note"`
	Order   string        `json:"order"` // in which order it is fixed, one sentence; empty where that is free
}

// Hole is one hole of a sleeve wall.
type Hole struct {
	Wall   string        `json:"wall"` // "inner", and what it stands against where a fixing holds: "outer (against the rim)"
	For    string        `json:"for"`  // shank clearance or head access
	Height length.Length `json:"height"`
	Size   length.Length `json:"size"`
}

// Bay is the length between two posts, or a post and a wall. Planned is always kept; Built stands beside it once the
// opening has been measured.
type Bay struct {
	Number   int           `json:"number"`
	Label    string        `json:"label"`     // R1-B2
	FromPost int           `json:"from_post"` // 0 is a wall
	ToPost   int           `json:"to_post"`
	Centres  length.Length `json:"centres"` // post centre to post centre, as planned; to the wall face at a wall
	Planned  *Parts        `json:"planned,omitempty"`
	Built    *Parts        `json:"built,omitempty"`
	Measured *Opening      `json:"measured,omitempty"`
}

// Used is the parts to cut from: built where the opening has been measured, planned otherwise; nil where neither could be laid out.
func (b Bay) Used() *Parts {
	if b.Built != nil {
		return b.Built
	}
	return b.Planned
}

// Parts is what goes into one bay.
type Parts struct {
	ClearTop    length.Length `json:"clear_top"` // clear opening in plan at the top rail
	ClearBottom length.Length `json:"clear_bottom"`
	Top         Rail          `json:"top"`
	Bottom      Rail          `json:"bottom"`
	Infill      Infill        `json:"infill"`
}

// Rail is one rail to cut.
type Rail struct {
	Label        string        `json:"label"` // R1-B2 top
	Clear        length.Length `json:"clear"`
	Allowance    length.Length `json:"allowance"`     // of its hardware at the datum end
	AllowanceFar length.Length `json:"allowance_far"` // and at the far end
	Ideal        length.Length `json:"ideal"`         // before rounding down
	Cut          length.Length `json:"cut"`
	Bevel        float64       `json:"bevel"` // degrees off square at each end, 0 on the level
	Section      string        `json:"section"`
	// SkewFrom and SkewTo are how many degrees off square its ends are cut across its thickness, where it meets a turned post, positive
	// where the long point is on the left seen from the datum; Over is how much longer it is from point to point than along its middle.
	SkewFrom float64       `json:"skew_from,omitempty"`
	SkewTo   float64       `json:"skew_to,omitempty"`
	Over     length.Length `json:"over,omitempty"`
}

// Infill is what fills one bay. Its upright members are balusters, or panels, or the uprights that keep cables apart: a bay of
// cables without uprights has none.
type Infill struct {
	Kind      string          `json:"kind"` // FillBalusters, FillCables or FillPanels
	Cables    *Cables         `json:"cables,omitempty"`
	Count     int             `json:"count"`
	Least     int             `json:"least"` // fewest whose ideal gap is within the design gap, wet and dry; Count is more where a rounded one is not, or fails the limit
	Member    length.Length   `json:"member"`
	Shape     string          `json:"shape"`
	Mode      string          `json:"mode"`
	CentredOn string          `json:"centred_on"` // member or space
	IdealGap  string          `json:"ideal_gap"`  // exact rational nanometres, "95250000/1"
	Gap       length.Length   `json:"gap"`        // ideal gap to the nearest nanometre, horizontally
	EndGap    length.Length   `json:"end_gap"`    // clear space at the datum end, on the rounded marks
	LastGap   length.Length   `json:"last_gap"`
	Largest   length.Length   `json:"largest"` // largest horizontal clear distance on the rounded marks
	Smallest  length.Length   `json:"smallest"`
	DryGap    length.Length   `json:"dry_gap"`             // largest at the dry size of wet stock; zero where dry
	Marks     []length.Length `json:"marks"`               // member centres, hooked from the datum-end cut of the bottom rail, along the rail, rounded
	FromPost  []length.Length `json:"from_post"`           // the same centres in plan from the datum-side post face, rounded
	TopMarks  []length.Length `json:"top_marks,omitempty"` // the same on the top rail, from its own datum-end cut, where they differ from Marks
	TopNote   string          `json:"top_note,omitempty"`  // why they differ, or why a top rail cut from another opening has none
	Hook      string          `json:"hook"`                // what the tape hooks on, in words
	Cut       length.Length   `json:"cut"`                 // member length
	CutNote   string          `json:"cut_note"`
	Why       []string        `json:"why"` // why that count, what one more or fewer would give
}

// Heights is where things stand above the decking, or above the nosing line measured plumb.
type Heights struct {
	Datum         string        `json:"datum"`        // the one reference all heights are marked from
	Finished      length.Length `json:"finished"`     // finished top, cap rail included
	TopRailTop    length.Length `json:"top_rail_top"` // top of the top rail
	BottomRailTop length.Length `json:"bottom_rail_top"`
	Under         length.Length `json:"under"` // underside of the bottom rail
	PostTop       length.Length `json:"post_top"`
	RailVertical  length.Length `json:"rail_vertical"` // rail depth measured plumb
	CapVertical   length.Length `json:"cap_vertical"`
}

// Stair is the geometry of a rake.
type Stair struct {
	TotalRise  length.Length `json:"total_rise"`
	Risers     int           `json:"risers"`
	Riser      length.Length `json:"riser"` // to the nearest nanometre
	Tread      length.Length `json:"tread"`
	Treads     int           `json:"treads"`
	Run        length.Length `json:"run"`         // treads times tread
	NosingFrom length.Length `json:"nosing_from"` // datum to the nosing nearest it, in plan, as given or as taken from the framing
	Angle      float64       `json:"angle"`       // degrees above level
	Complement float64       `json:"complement"`  // the saw's setting for a plumb cut off square
	Factor     float64       `json:"factor"`      // length along the rake for one of run
	StepSum    length.Length `json:"step_sum"`    // two risers and a tread
	Nosing     length.Length `json:"nosing"`
	// Screened says that the triangle of riser, tread and bottom rail was worked out; NotScreened why it was not.
	Screened         bool          `json:"screened"`
	NotScreened      string        `json:"not_screened"`
	Sphere           length.Length `json:"sphere"`                // largest sphere through the triangle of riser, tread and bottom rail; zero where it is not screened
	SphereAt         int           `json:"sphere_at"`             // number of the riser behind it, of steps as measured; 0 where all are alike
	FootSphere       length.Length `json:"foot_sphere,omitempty"` // largest sphere under the rail between the foot post and the lowest riser; zero where there is none
	HeadSphere       length.Length `json:"head_sphere,omitempty"` // the same between the top nosing and the post at the head; zero where the triangle decides, or it is not screened
	RailMost         length.Length `json:"rail_most"`             // height of the rail above the nosing line at which the limit's sphere just passes; zero without a limit
	RiserUneven      Uneven        `json:"riser_uneven"`          // as measured
	TreadUneven      Uneven        `json:"tread_uneven"`
	Tested           []Tested      `json:"tested"`            // every figure of the rule set that the flight was held to
	Asks             []string      `json:"asks"`              // what is still to be measured or said, in finished sentences
	HandrailRequired bool          `json:"handrail_required"` // false too where it cannot be told: see Handrail
	Joint            length.Length `json:"joint"`             // how far behind the top nosing the level and raked rails meet without a jog
	Handrail         string        `json:"handrail"`          // whether a handrail is asked for, and why
	HandrailAt       length.Length `json:"handrail_at"`       // its height above the nosing line; zero where not given
	HandrailAdvice   string        `json:"handrail_advice"`   // a separate handrail in words, where one would be needed
	Grip             string        `json:"grip"`              // whether a hand closes on it, by the rule set's figures
	GripShape        *Grip         `json:"grip_shape,omitempty"`
	Graspable        bool          `json:"graspable"`          // false too where it cannot be told: see Grip
	Stringer         *Stringer     `json:"stringer,omitempty"` // what posts of the flight are bolted to; nil where none is
	PostJog          length.Length `json:"post_jog"`           // the rail's height differs by this between the uphill and downhill face of a post
}

// Lift is what a removable length needs.
type Lift struct {
	Why    string        `json:"why"`
	Store  string        `json:"store"`  // where it will stand while out
	Side   length.Length `json:"side"`   // clearance wanted to each fixed neighbour
	Rise   length.Length `json:"rise"`   // how far it is lifted to clear its sleeves
	Reach  length.Length `json:"reach"`  // how high its top then stands above the decking: what is overhead must be higher
	Weight float64       `json:"weight"` // kilograms, from species density and pieces
	Limit  float64       `json:"limit"`  // kilograms above which two people carry it
	Two    bool          `json:"two"`    // it weighs more than that
	// Without is the infill that Weight leaves out, cables or panels; empty where it is all there.
	Without string    `json:"without"`
	Ends    []LiftEnd `json:"ends"` // datum end and far end
	Note    string    `json:"note"`
}

// LiftEnd is what a removable length has beside it at one end.
type LiftEnd struct {
	End   string        `json:"end"`   // datum end or far end
	Run   string        `json:"run"`   // label of the fixed neighbour, empty where none is described there
	Clear length.Length `json:"clear"` // least clear distance to it, caps and sleeves counted, negative where they stand in one another; zero where it cannot be told
	Known bool          `json:"known"` // Clear was worked out
	Says  string        `json:"says"`  // one sentence
}

// Piece is one thing to cut or fit.
type Piece struct {
	Label   string        `json:"label"`
	What    string        `json:"what"`
	Section string        `json:"section"`
	Length  length.Length `json:"length"`
	Count   int           `json:"count"`
	Cuts    string        `json:"cuts"`           // end cuts in words
	Over    length.Length `json:"over,omitempty"` // how much longer it is from point to point than Length, where its ends are off square on the level
	Place   string        `json:"place"`
	Version string        `json:"version"` // planned, partly as built or as built
}
