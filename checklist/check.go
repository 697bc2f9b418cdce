package checklist

import (
	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// Stage is a part of the build. A stage closes when what it asks for is there, or by naming a deviation.
type Stage string

// Stages, in the order of building. Framing is a hold point: decking hides blocking and sleeves for good.
const (
	Framing  Stage = "framing"
	Posts    Stage = "posts"
	Rails    Stage = "rails"
	InfillSt Stage = "infill"
	Caps     Stage = "caps"
	PostTops Stage = "post tops" // post-top protection
	Handover Stage = "handover"
)

// Stages lists every stage in the order of building.
func Stages() []Stage {
	return []Stage{Framing, Posts, Rails, InfillSt, Caps, PostTops, Handover}
}

// PlaceKind is what a check or photograph is tied to.
type PlaceKind string

// Kinds of place.
const (
	PlaceJob  PlaceKind = "job"
	PlaceRun  PlaceKind = "run"
	PlacePost PlaceKind = "post"
	PlaceBay  PlaceKind = "bay"
)

// Place is where a check or photograph belongs. ID is permanent and made of the run's id ("k7d2", "k7d2/P3", "k7d2/B2",
// "job"); Label is for people and may change.
type Place struct {
	ID     string    `json:"id"`
	Kind   PlaceKind `json:"kind"`
	RunID  string    `json:"run_id"`
	Number int       `json:"number"` // post or bay number, 0 otherwise
	Label  string    `json:"label"`  // R1-P3
}

// Ask is how a check is answered.
type Ask string

// Kinds of answer.
const (
	AskLength Ask = "length" // a length off the tape
	AskSigned Ask = "signed" // a length with a direction: out of plumb
	AskCount  Ask = "count"
	AskMoist  Ask = "moisture" // a percentage off a moisture meter
	AskSeen   Ask = "seen"     // yes, no, or not applicable with a reason
	AskGap    Ask = "gap"      // a length, or a go/no-go gauge
	AskPhoto  Ask = "photo"    // a photograph alone
)

// Limit is one code figure that a reading is held to, frozen with the reading.
type Limit struct {
	Key      string        `json:"key"`
	Bound    codes.Bound   `json:"bound"` // under, at most, at least, over
	Value    length.Length `json:"value"`
	Clause   string        `json:"clause"`
	Edition  string        `json:"edition"`
	Standing string        `json:"standing"`
	Amended  string        `json:"amended,omitempty"` // who said so, when the job has its own figure
}

// Photograph need of a check.
const (
	PhotoNone   = ""
	PhotoWanted = "wanted"
	PhotoHold   = "hold point" // the stage does not close without it, except by naming a deviation
)

// PhotoPolicy is what a job's authority makes of photographs.
type PhotoPolicy string

// Photo policies.
const (
	PhotosAsked   PhotoPolicy = ""                                  // nothing special
	PermitInFrame PhotoPolicy = "permit in every picture"           // each is to show the permit
	PhotosRefused PhotoPolicy = "photographs not accepted as proof" // hold points are seen with a witness
)

// Check is one thing to verify at one place, generated from layout, specification and rule set. Its id is permanent:
// place id, a dot, and the catalogue key.
type Check struct {
	ID     string `json:"id"`  // k7d2/P3.framing.bolt_upper
	Key    string `json:"key"` // framing.bolt_upper
	Stage  Stage  `json:"stage"`
	Place  Place  `json:"place"`
	Title  string `json:"title"`            // Upper bolt below the top of the rim
	Ask    Ask    `json:"ask"`              //
	How    string `json:"how"`              // how to measure it, one line
	Reason string `json:"reason"`           // why it matters, one line
	Sample string `json:"sample,omitempty"` // what was picked out to be measured, where measuring everything is unreasonable
	Source string `json:"source"`           // where the figure comes from, one line

	Nominal    *length.Length `json:"nominal,omitempty"`
	Plus       length.Length  `json:"plus"`  // workmanship tolerance over the nominal
	Minus      length.Length  `json:"minus"` // and under it, positive
	HasTol     bool           `json:"has_tol"`
	Count      *int           `json:"count,omitempty"` // nominal of a count
	Moist      *Moist         `json:"moist,omitempty"` // what a moisture content is held to
	Limits     []Limit        `json:"limits"`
	Reference  Reference      `json:"reference,omitempty"` // what it is taken from; empty where there is but one way
	Others     []Otherwise    `json:"others,omitempty"`    // what it may have been taken from instead
	Photo      string         `json:"photo"`
	PhotoShows string         `json:"photo_shows"`       // what the photograph must show
	Hold       bool           `json:"hold"`              // must be answered before the run is covered
	Witness    bool           `json:"witness,omitempty"` // seen together with a witness, who is named: no photograph is accepted for it
	Built      bool           `json:"built"`             // the nominal follows a measured opening, not the plan
	Was        *length.Length `json:"was,omitempty"`     // the planned nominal, where Built
}

// Seen is the answer of an observation.
type Seen string

// Observations.
const (
	SeenYes Seen = "yes"
	SeenNo  Seen = "no"
	SeenNA  Seen = "not applicable"
)

// Gauge is the answer of a go or no-go gauge.
type Gauge string

// Gauge answers.
const (
	GaugeStopped Gauge = "stopped" // the gauge did not pass
	GaugePassed  Gauge = "passed"
)

// Answer is what was read off. Exactly one of Length, Count, Moisture, Seen and Gauge is set; the zero Answer is no answer.
type Answer struct {
	Length   *length.Length `json:"length,omitempty"`
	Count    *int           `json:"count,omitempty"`
	Moisture *Moisture      `json:"moisture_tenths,omitempty"`
	Seen     Seen           `json:"seen,omitempty"`
	Gauge    Gauge          `json:"gauge,omitempty"`
	Reason   string         `json:"reason,omitempty"` // for not applicable, and remarks
	From     Reference      `json:"from,omitempty"`   // what a length was taken from; empty is the check's own reference
	// Witness is who saw it together with whoever answers, as they gave their name.
	Witness string `json:"witness,omitempty"`
}

// Verdict is the word shown for a reading.
type Verdict string

// Verdicts. The zero value is not checked: forgetting is never a pass.
const (
	NotChecked Verdict = ""
	Good       Verdict = "good"
	TooClose   Verdict = "too close to call"
	OffLayout  Verdict = "off the layout"
	FailsLimit Verdict = "fails the limit"
)

// Word is the verdict as shown.
func (v Verdict) Word() string {
	if v == NotChecked {
		return "not checked"
	}
	return string(v)
}

// Outcome is one of the two results of a reading, against the limit or against the layout; the two are kept apart.
type Outcome string

// Outcomes.
const (
	NotHeld   Outcome = ""          // no figure to hold it to
	Inside    Outcome = "inside"    //
	Uncertain Outcome = "uncertain" // inside, by less than the tool's uncertainty
	Outside   Outcome = "outside"
)

// Result is what one reading came to. Verdict follows a stated precedence: outside a limit, then too close to call, then
// outside the layout's tolerance, then good.
type Result struct {
	Limit   Outcome       `json:"limit"`
	Layout  Outcome       `json:"layout"`
	Verdict Verdict       `json:"verdict"`
	Why     string        `json:"why"`     // finished sentences, the first naming the figure it was held to
	Margin  length.Length `json:"margin"`  // to the nearest limit, positive inside
	Doubt   length.Length `json:"doubt"`   // the tool's uncertainty at this length
	HeldTo  string        `json:"held_to"` // "under 4 in, R312.1.3, 2018 IRC, official text" or "41 1/2 in ± 1/4 in, layout"
	// Comes is what a length taken from another reference comes to from the check's own, by the layout; it is never judged.
	Comes *length.Length `json:"comes,omitempty"`
}
