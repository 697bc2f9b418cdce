package jobs

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"time"
)

// EventVersion is the version of the canonical encoding that Seal hashes.
const EventVersion = 1

// Event types.
const (
	EvJobMade          = "job.made"
	EvJobChanged       = "job.changed"
	EvRunSaved         = "run.saved"
	EvLayoutMade       = "layout.made"
	EvReadingTaken     = "reading.taken"
	EvPhotoAdded       = "photo.added"
	EvPhotoFiled       = "photo.filed"
	EvPhotoMarked      = "photo.marked"
	EvPhotoTagged      = "photo.tagged"
	EvDeviationOpened  = "deviation.opened"
	EvDeviationChanged = "deviation.changed"
	EvStageClosed      = "stage.closed"
	EvStageReopened    = "stage.reopened"
	EvRunCovered       = "run.covered"
	EvDiarySaved       = "diary.saved"
	EvPackIssued       = "pack.issued"
	EvLinkMade         = "link.made"
	EvLinkRevoked      = "link.revoked"
	EvAnswerGiven      = "answer.given"
	EvPieceTicked      = "piece.ticked"
	EvOnHandSaved      = "on_hand.saved"
	EvPaperAdded       = "paper.added"
	EvPaperDescribed   = "paper.described"
	EvPaperWithdrawn   = "paper.withdrawn"
)

// Change is the whole new state of the one object that an event touched. Exactly one field is set.
type Change struct {
	Job       *Job           `json:"job,omitempty"`
	Run       *Run           `json:"run,omitempty"`
	Layout    *LayoutVersion `json:"layout,omitempty"`
	Reading   *Reading       `json:"reading,omitempty"`
	Photo     *Photo         `json:"photo,omitempty"`
	Deviation *Deviation     `json:"deviation,omitempty"`
	Stage     *StageState    `json:"stage,omitempty"`
	Covered   *Covered       `json:"covered,omitempty"`
	Diary     *DiaryPage     `json:"diary,omitempty"`
	Pack      *IssuedPack    `json:"pack,omitempty"`
	Link      *Link          `json:"link,omitempty"`
	Answer    *Answer        `json:"answer,omitempty"`
	Tick      *Tick          `json:"tick,omitempty"`
	OnHand    *OnHand        `json:"on_hand,omitempty"`
	Paper     *Paper         `json:"paper,omitempty"`
}

// Event is one change in a job's chain. Payload is the JSON of a Change, kept and hashed as the bytes it was written in.
// Digest is SHA-256 of Salt followed by Payload, so that a payload can be withheld and the chain still be verified. Hash is
// SHA-256 of the canonical header (see Header), which holds the hash before it.
type Event struct {
	Version int       `json:"version"`
	JobID   string    `json:"job_id"`
	Seq     int       `json:"seq"`    // 1, 2, 3 …
	At      time.Time `json:"at"`     // UTC
	Offset  string    `json:"offset"` // the job zone's offset at that instant, +hh:mm
	Actor   Actor     `json:"actor"`
	Type    string    `json:"type"`
	Salt    string    `json:"salt"`              // 16 random bytes, hex
	Payload string    `json:"payload,omitempty"` // text, so that no writer of JSON can lay it out otherwise
	Digest  string    `json:"digest"`
	Prev    string    `json:"prev"` // hash of the event before; empty for the first
	Hash    string    `json:"hash"`
}

// Head is the last event of a chain.
type Head struct {
	Seq  int    `json:"seq"`
	Hash string `json:"hash"`
}

// Header is the canonical text that Hash is taken of: one field a line, in this order, each as a JSON string or number.
func (e Event) Header() []byte {
	var b []byte
	for _, v := range []any{e.Version, e.JobID, e.Seq, e.At.UTC().Format(time.RFC3339Nano), e.Offset, e.Actor.ID, e.Actor.Name, string(e.Actor.Role), e.Type, e.Digest, e.Prev} {
		line, err := json.Marshal(v)
		if err != nil {
			panic(err) // strings and ints always marshal
		}
		b = append(append(b, line...), '\n')
	}
	return b
}

// Seal fills in Digest, Prev and Hash of the event that follows head.
func (e Event) Seal(head Head) Event {
	e.Version = EventVersion
	e.Seq, e.Prev = head.Seq+1, head.Hash
	e.Digest = digest(e.Salt, e.Payload)
	e.Hash = hash(e.Header())
	return e
}

// Head is e as the head of its chain.
func (e Event) Head() Head { return Head{Seq: e.Seq, Hash: e.Hash} }

// VerifyChain checks that events are a whole chain from the first: order, digests of the payloads that are there, and
// hashes. It returns one sentence for each fault, none for a sound chain.
func VerifyChain(events []Event) []string {
	var faults []string
	var head Head
	for i, e := range events {
		switch {
		case e.Seq != head.Seq+1:
			faults = append(faults, fmt.Sprintf("Event %d stands where event %d should.", e.Seq, head.Seq+1))
		case e.Prev != head.Hash:
			faults = append(faults, fmt.Sprintf("Event %d does not follow from the event before it.", e.Seq))
		case i > 0 && e.JobID != events[0].JobID:
			faults = append(faults, fmt.Sprintf("Event %d belongs to another job.", e.Seq))
		case len(e.Payload) > 0 && digest(e.Salt, e.Payload) != e.Digest:
			faults = append(faults, fmt.Sprintf("The content of event %d (%s) was changed.", e.Seq, e.Type))
		case hash(e.Header()) != e.Hash:
			faults = append(faults, fmt.Sprintf("The header of event %d (%s) was changed.", e.Seq, e.Type))
		}
		head = e.Head()
	}
	return faults
}

func digest(salt, payload string) string {
	h := sha256.New()
	io.WriteString(h, salt)
	io.WriteString(h, payload)
	return hex.EncodeToString(h.Sum(nil))
}

func hash(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}
