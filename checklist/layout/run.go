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
	StartAt    string        `json:"start_at"` // label of the run whose last post is shared at the datum end, for EndCorner and EndStairHead
	Length     length.Length `json:"length"`   // in plan; zero on a rake means treads times tread run
	LengthOver string        `json:"length_over"`
	// ClearOpening makes the run one bay of this clear length, whatever the greatest centres; Length then follows from it.
	ClearOpening length.Length `json:"clear_opening"`
	Turn         int           `json:"turn"` // degrees turned from the run before it, right-handed in plan, for drawings

	DeckHeight length.Length `json:"deck_height"` // greatest drop within the zone, finished decking to finished grade
	Joists     string        `json:"joists"`
	FirstJoist length.Length `json:"first_joist"` // datum to the centre of the first joist

	TotalRise length.Length `json:"total_rise"` // rake: either total rise, risers and tread …
	Risers    int           `json:"risers"`
	Riser     length.Length `json:"riser"` // … or riser and tread as measured
	Tread     length.Length `json:"tread"` // going, nosing to nosing
	Nosing    length.Length `json:"nosing"`
	StairFoot string        `json:"stair_foot"` // what the foot post stands on, in words
	// RisersMeasured and TreadsMeasured are each riser and tread of the flight as measured, for its uniformity; may be empty.
	RisersMeasured []length.Length `json:"risers_measured"`
	TreadsMeasured []length.Length `json:"treads_measured"`

	Posts []length.Length `json:"posts"` // post centres from the datum where the builder puts them; empty for equal bays

	RemovableWhy   string        `json:"removable_why"`   // the reason for a removable length
	RemovableStore string        `json:"removable_store"` // where it stands while out
	SideClearance  length.Length `json:"side_clearance"`  // to each fixed neighbour

	Overrides []Override `json:"overrides"`
}

// Drop is the greatest drop at the run: as given, or the total rise of its stair; zero where neither is known.
func (r Run) Drop(s *Stair) length.Length {
	if r.DeckHeight == 0 && s != nil {
		return s.TotalRise
	}
	return r.DeckHeight
}

// Override is one field of the specification that this run has otherwise. Text is as typed, in the job's bare unit.
type Override struct {
	Key  string `json:"key"`
	Text string `json:"text"`
}

// Opening is a clear opening as measured between two posts, horizontally, at the bottom and top rail. Either may be zero:
// not measured.
type Opening struct {
	Bottom length.Length `json:"bottom"`
	Top    length.Length `json:"top"`
}
