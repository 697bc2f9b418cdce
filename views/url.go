package views

import (
	"net/url"
	"slices"
	"strconv"
	"strings"

	"newelbook/checklist"
)

func itoa(n int) string { return strconv.Itoa(n) }

// JobURL is the path of a job, or of what lies under it: JobURL(id, "photos", "new").
func JobURL(jobID string, parts ...string) string {
	p := "/jobs/" + url.PathEscape(jobID)
	for _, part := range parts {
		p += "/" + url.PathEscape(part)
	}
	return p
}

// RunURL is the path of a run's layout.
func RunURL(jobID, runID string) string { return JobURL(jobID, "runs", runID) }

// PiecesURL is where pieces are ticked, with those of a run unfolded, or those beside a piece, by its id; mark is the place on the page.
func PiecesURL(jobID, at, mark string) string {
	return JobURL(jobID, "materials") + "?" + url.Values{"at": {at}}.Encode() + "#" + mark
}

// StageURL is the path of a stage, or of what lies under it.
func StageURL(jobID string, stage checklist.Stage, parts ...string) string {
	return JobURL(jobID, append([]string{"stages", StageSlug(stage)}, parts...)...)
}

// StageSlug is a stage as a path has it: post-tops.
func StageSlug(stage checklist.Stage) string { return strings.ReplaceAll(string(stage), " ", "-") }

// StageOf is the stage of a path.
func StageOf(slug string) (checklist.Stage, bool) {
	i := slices.IndexFunc(checklist.Stages(), func(s checklist.Stage) bool { return StageSlug(s) == slug })
	if i < 0 {
		return "", false
	}
	return checklist.Stages()[i], true
}

// AskURL is the page that asks one question of the places picked; none picked, it asks which.
func AskURL(jobID string, stage checklist.Stage, key string, places ...string) string {
	q := url.Values{"key": {key}}
	if len(places) > 0 {
		q["at"] = places
	}
	return StageURL(jobID, stage, "ask") + "?" + q.Encode()
}

// CheckURL is the page of one check.
func CheckURL(jobID, checkID string) string {
	return JobURL(jobID, "check") + "?" + url.Values{"id": {checkID}}.Encode()
}

// PhotoNewURL is the page that files photographs to one check.
func PhotoNewURL(jobID, checkID string) string {
	return JobURL(jobID, "photos", "new") + "?" + url.Values{"check": {checkID}}.Encode()
}

// DeviationURL is the path of a deviation.
func DeviationURL(jobID, deviationID string) string { return JobURL(jobID, "deviations", deviationID) }
