package jobs

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"newelbook/checklist"
	"newelbook/checklist/codes"
	"newelbook/checklist/layout"
)

// ExportFormat names the form of record.json.
const ExportFormat = "newelbook-record-1"

// Export is the record as a pack carries it: record.json. Everything a reader needs is in it in full, the chain included.
// The payloads of link events are withheld (their digests still verify): they are nobody's business but the builder's.
type Export struct {
	Format  string `json:"format"`
	Pack    int    `json:"pack"`
	Purpose string `json:"purpose"`
	// SignedBy is the fingerprint of the key that the pack is signed with, SHA-256 of the public key; the first release signed none.
	SignedBy   string          `json:"signed_by,omitempty"`
	Frozen     time.Time       `json:"frozen"`
	FrozenBy   Actor           `json:"frozen_by"`
	Head       Head            `json:"head"`
	Job        Job             `json:"job"`
	Rules      ExportRules     `json:"rules"`
	Runs       []Run           `json:"runs"`
	Layouts    []layout.Layout `json:"layouts"` // the newest of each live run
	Stages     []ExportStage   `json:"stages"`
	Mixed      []Mixed         `json:"mixed,omitempty"` // questions of a run that were answered from different references
	Retired    []ExportCheck   `json:"retired"`
	Photos     []ExportPhoto   `json:"photos"`
	Deviations []Deviation     `json:"deviations"`
	Covered    []Covered       `json:"covered"`
	Diary      []DiaryPage     `json:"diary"`
	Packs      []IssuedPack    `json:"packs"` // issued before this one
	Answers    []Answer        `json:"answers"`
	Ticks      []Tick          `json:"ticks,omitempty"`   // pieces ticked as cut and fitted, oldest first
	OnHand     []OnHand        `json:"on_hand,omitempty"` // stock on hand, withdrawn ones included
	Papers     []ExportPaper   `json:"papers,omitempty"`  // attached papers, withdrawn ones included
	Open       []string        `json:"open"`              // what was missing or open when it was frozen
	Originals  bool            `json:"originals"`
	// NoPositions is true where the positions that photographs claim were left out, with the events of the chain that hold them.
	NoPositions bool    `json:"no_positions,omitempty"`
	Chain       []Event `json:"chain"`
}

// ExportRules is the rule set as it was applied: every figure in force, amendments laid over it.
type ExportRules struct {
	ID      string                `json:"id"`
	Name    string                `json:"name"`
	Place   string                `json:"place"`
	Edition string                `json:"edition"`
	Notes   []string              `json:"notes"`
	Figures []codes.AppliedFigure `json:"figures"`
}

// ExportStage is one stage with its checks.
type ExportStage struct {
	StageState
	Checks []ExportCheck `json:"checks"`
}

// ExportCheck is one check with every reading, oldest first.
type ExportCheck struct {
	Check    checklist.Check   `json:"check"`
	Verdict  checklist.Verdict `json:"verdict"` // of the current reading; empty is not checked
	Current  string            `json:"current"` // its id
	Readings []Reading         `json:"readings"`
	Photos   []string          `json:"photos"` // ids
	Moved    bool              `json:"moved"`
}

// ExportPhoto is a photograph with what does not fit about it.
type ExportPhoto struct {
	Photo
	Flags []Flag `json:"flags"`
}

// ExportPaper is an attached paper. Enclosed is the name of its file in the pack, below data/; empty where it is not in it: it was
// withdrawn, its file is lost, or, as LeftOut says, the builder left it out of this pack.
type ExportPaper struct {
	Paper
	Enclosed string `json:"enclosed"`
	LeftOut  bool   `json:"left_out"`
}

// ExportInput is what leaves with a pack. Purpose is handover, or which inspection it is for; empty is handover.
type ExportInput struct {
	Purpose   string
	Originals bool     // the photographs as received
	LeftOut   []string // ids of the papers whose files stay behind
	// NoPositions leaves out where photographs claim to have been taken. Originals carry that, so that they are not enclosed then.
	NoPositions bool
}

// Export freezes a record and its chain as the next pack's facts.
func (r *Record) Export(events []Event, by Actor, in ExportInput, at time.Time) (Export, error) {
	sheet, err := r.Sheet()
	if err != nil {
		return Export{}, err
	}
	open, err := r.Unfinished()
	if err != nil {
		return Export{}, err
	}
	x := Export{
		Format: ExportFormat, Pack: len(r.Packs) + 1, Purpose: in.Purpose, Frozen: at, FrozenBy: by, Head: r.Head, Job: r.Job,
		Runs: r.Runs, Deviations: r.Deviations, Covered: r.Covered, Diary: r.Diary, Packs: r.Packs, Answers: r.Answers, Ticks: r.Ticks, OnHand: r.OnHand, Open: open, Originals: in.Originals, Mixed: sheet.Mixed,
	}
	set := sheet.Rules.RuleSet()
	x.Rules = ExportRules{ID: set.ID, Name: set.Name, Place: set.Place, Edition: set.Edition, Notes: set.Notes, Figures: sheet.Rules.Figures()}
	for _, run := range r.Live() {
		if v, ok := r.Layout(run.ID); ok {
			x.Layouts = append(x.Layouts, v.Layout)
		}
	}
	for _, st := range sheet.Stages {
		s := ExportStage{StageState: st.State}
		for _, c := range st.Checks {
			s.Checks = append(s.Checks, exportCheck(*c))
		}
		x.Stages = append(x.Stages, s)
	}
	for _, c := range sheet.Retired {
		x.Retired = append(x.Retired, exportCheck(c))
	}
	for _, p := range r.Photos {
		x.Photos = append(x.Photos, ExportPhoto{Photo: p, Flags: r.Flags(p)})
	}
	for _, p := range r.Papers {
		xp := ExportPaper{Paper: p, LeftOut: p.Holds() && slices.Contains(in.LeftOut, p.ID)}
		if p.Holds() && !xp.LeftOut {
			xp.Enclosed = fmt.Sprintf("papers/paper-%d%s", p.Number, p.File.Extension())
		}
		x.Papers = append(x.Papers, xp)
	}
	for _, e := range events {
		if e.Type == EvLinkMade || e.Type == EvLinkRevoked {
			e.Salt, e.Payload = "", ""
		}
		x.Chain = append(x.Chain, e)
	}
	if in.NoPositions {
		x.withoutPositions()
	}
	return x, nil
}

// withoutPositions leaves out where photographs claim to have been taken. Events that say so are withheld; their digests still verify.
// What does not fit about a claimed position is still said, as a distance from the site.
func (x *Export) withoutPositions() {
	x.NoPositions = true
	placed := map[string]bool{}
	for i := range x.Photos {
		p := &x.Photos[i]
		placed[p.ID] = p.Exif.Position != nil
		p.Exif.Position = nil
	}
	for i := range x.Chain {
		e := &x.Chain[i]
		if !strings.HasPrefix(e.Type, "photo.") {
			continue
		}
		var c Change
		if err := json.Unmarshal([]byte(e.Payload), &c); err != nil || c.Photo == nil || placed[c.Photo.ID] {
			e.Salt, e.Payload = "", "" // what can't be read is not let out either
		}
	}
}

func exportCheck(c CheckState) ExportCheck {
	x := ExportCheck{Check: c.Check, Verdict: c.Verdict(), Readings: c.History, Moved: c.Moved}
	if c.Current != nil {
		x.Current = c.Current.ID
	}
	for _, p := range c.Photos {
		x.Photos = append(x.Photos, p.ID)
	}
	return x
}

// Record is the record that the pack's chain gives. What was withheld from the pack is not in it.
func (x Export) Record() (*Record, error) {
	return Replay(slices.DeleteFunc(slices.Clone(x.Chain), func(e Event) bool { return e.Payload == "" }))
}
