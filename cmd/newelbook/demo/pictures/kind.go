package pictures

import (
	"maps"
	"slices"
)

// Kind names what a picture shows.
type Kind string

// The kinds. Each says whether a tape is drawn in it.
const (
	Wide         Kind = "wide"          // a post with its neighbours along the rim, with its label
	InsideFace   Kind = "inside-face"   // blocking each side of a post, two bolts, a hold-down
	OutsideFace  Kind = "outside-face"  // bolt heads and washers on the rim, the post not notched
	BoltTape     Kind = "bolt-tape"     // a tape from the edge of the rim to a bolt
	SleeveDown   Kind = "sleeve-down"   // looking down into a sleeve: bolt heads and a drain
	SleeveDepth  Kind = "sleeve-depth"  // a tape standing in a sleeve
	SleeveTop    Kind = "sleeve-top"    // a sleeve's top beside a decking offcut
	JoistBays    Kind = "joist-bays"    // joists and blocking before the decking
	Labels       Kind = "labels"        // a fastener box and its label
	PermitCard   Kind = "permit-card"   // the permit card on its board
	RailEnd      Kind = "rail-end"      // a rail end in its connector; a tape with Measure
	BalusterGap  Kind = "baluster-gap"  // two balusters, with a tape or, without Measure, a ball before the gap
	Overhang     Kind = "overhang"      // a cap rail's overhang with a tape
	PostCap      Kind = "post-cap"      // a cap on a post
	EndGrain     Kind = "end-grain"     // sealed end grain on a post top
	Finished     Kind = "finished"      // a deck corner with its guard
	StairRail    Kind = "stair-rail"    // a guard along a stair
	RemovableOut Kind = "removable-out" // a removable panel beside its sleeves
	Covered      Kind = "covered"       // decking down over a run
)

// Kinds are all kinds in the order of their names.
func Kinds() []Kind { return slices.Sorted(maps.Keys(plans())) }

// plan is how a kind is drawn: upright is 900 x 1200.
type plan struct {
	upright bool
	draw    func(*scene)
}

func plans() map[Kind]plan {
	return map[Kind]plan{
		Wide:         {false, drawWide},
		InsideFace:   {false, drawInsideFace},
		OutsideFace:  {true, drawOutsideFace},
		BoltTape:     {true, drawBoltTape},
		SleeveDown:   {true, drawSleeveDown},
		SleeveDepth:  {true, drawSleeveDepth},
		SleeveTop:    {false, drawSleeveTop},
		JoistBays:    {false, drawJoistBays},
		Labels:       {false, drawLabels},
		PermitCard:   {true, drawPermitCard},
		RailEnd:      {false, drawRailEnd},
		BalusterGap:  {false, drawBalusterGap},
		Overhang:     {false, drawOverhang},
		PostCap:      {true, drawPostCap},
		EndGrain:     {false, drawEndGrain},
		Finished:     {false, drawFinished},
		StairRail:    {true, drawStairRail},
		RemovableOut: {false, drawRemovableOut},
		Covered:      {false, drawCovered},
	}
}
