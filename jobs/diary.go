package jobs

import "time"

// DiaryPage is one day of the site diary. The day's readings and photographs are not kept in it: they are drawn in from
// the record.
type DiaryPage struct {
	Day            string      `json:"day"` // 2006-01-02 in the job's zone
	Weather        string      `json:"weather"`
	People         []DiaryHand `json:"people"`
	Work           string      `json:"work"`
	Deliveries     string      `json:"deliveries"`
	Delays         string      `json:"delays"`
	Visitors       string      `json:"visitors"`
	FallProtection string      `json:"fall_protection"` // what kept people from the open edge while a guard was absent
	By             Actor       `json:"by"`
	At             time.Time   `json:"at"`
	Version        int         `json:"version"`
}

// DiaryHand is one person's day.
type DiaryHand struct {
	Name  string `json:"name"`
	Hours string `json:"hours"` // as typed, "7 1/2"
}
