package jobs

import (
	"crypto/sha256"
	"encoding/base32"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"newelbook/checklist"
)

// The text of a place tag, all in capitals and figures, so that it is a small code:
//
//	NB1     what it is: a tag of Newelbook, version 1
//	JJJJJJJJJJJJ  the job's id, twelve characters
//	RRRRRR  the run's id, six characters
//	P7      post 7 of the run, or B7 for bay 7, up to 999
//	CCCC    a check: the first four characters, in base 32 (RFC 4648), of the SHA-256 of all before it
//
// It carries no name, label, address or secret: ids are random and are only known where the job is.
const tagMark = "NB1"

var tagForm = regexp.MustCompile(`^NB1([A-Z2-7]{12})([A-Z2-7]{6})([PB][1-9][0-9]{0,2})([A-Z2-7]{4})$`)

// Tag is what a place tag says.
type Tag struct {
	Job string // the job's id
	Run string // the run's id
	At  string // P7 or B7
}

// PlaceID is the id of the place that it stands for.
func (t Tag) PlaceID() string { return t.Run + "/" + t.At }

// words are the place in words for one that the job has no longer, or never had.
func (t Tag) words() string {
	kind := "post "
	if t.At[0] == 'B' {
		kind = "bay "
	}
	return kind + t.At[1:]
}

// TagText is the text of the tag of a post or bay. Other places, and ids that NewID did not make, have none.
func TagText(jobID string, place checklist.Place) (string, error) {
	kind := map[checklist.PlaceKind]string{checklist.PlacePost: "P", checklist.PlaceBay: "B"}[place.Kind]
	text := tagMark + strings.ToUpper(jobID+place.RunID) + kind + strconv.Itoa(place.Number)
	text += tagCheck(text)
	if t, ok := ReadTag(text); !ok || t.Job != jobID || t.PlaceID() != place.ID {
		return "", fmt.Errorf("make the tag of %s: its id %q can't stand on one", place.Label, place.ID)
	}
	return text, nil
}

// ReadTag reads the text of a place tag. False means that it is none: other people's codes are seen as well.
func ReadTag(text string) (Tag, bool) {
	m := tagForm.FindStringSubmatch(text)
	if m == nil || tagCheck(strings.TrimSuffix(text, m[4])) != m[4] {
		return Tag{}, false
	}
	return Tag{Job: strings.ToLower(m[1]), Run: strings.ToLower(m[2]), At: m[3]}, true
}

func tagCheck(text string) string {
	sum := sha256.Sum256([]byte(text))
	return base32.StdEncoding.EncodeToString(sum[:])[:4]
}
