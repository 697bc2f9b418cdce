package jobs

import (
	"time"

	"newelbook/checklist"
)

// StageState is whether a stage is closed, and over what.
type StageState struct {
	Stage      checklist.Stage `json:"stage"`
	Closed     bool            `json:"closed"`
	At         time.Time       `json:"at"`
	By         Actor           `json:"by"`
	Deviations []string        `json:"deviations"` // ids of the deviations it was closed over
	Reason     string          `json:"reason"`     // why it was reopened
	Version    int             `json:"version"`
}

// Covered is the fact that a run was decked over.
type Covered struct {
	RunID      string    `json:"run_id"`
	On         string    `json:"on"` // date in the job's zone
	At         time.Time `json:"at"`
	By         Actor     `json:"by"`
	Note       string    `json:"note"`
	Deviations []string  `json:"deviations"`
}
