package jobs

import (
	"time"

	"newelbook/checklist"
)

// IssuedPack is a pack that was numbered, frozen and hashed. Answers refer to Hash.
type IssuedPack struct {
	Number     int       `json:"number"`
	Issued     time.Time `json:"issued"`
	By         Actor     `json:"by"`
	Purpose    string    `json:"purpose"`     // handover, or which stage's inspection
	Hash       string    `json:"hash"`        // SHA-256 of the pack's manifest, hex
	RecordHash string    `json:"record_hash"` // SHA-256 of record.json, hex
	HeadSeq    int       `json:"head_seq"`    // the chain's head when it was frozen
	HeadHash   string    `json:"head_hash"`
	Originals  bool      `json:"originals"` // whether the originals are enclosed
	// NoPositions is true where the positions that photographs claim were left out.
	NoPositions bool `json:"no_positions,omitempty"`
	// SignedBy is the fingerprint of the key that signed it; empty for a pack of the first release, which signed none.
	SignedBy string `json:"signed_by,omitempty"`
	// Editions names the documents in it, each as NAME.pdf and html/NAME.html; empty for a pack of the first release, which has one
	// for owner and inspector together.
	Editions []string `json:"editions,omitempty"`
	Open     []string `json:"open"` // what was open or missing when it was issued
}

// Editions of a pack: the owner's leads with plain words and days of care, the inspector's with the checks; the framing request is
// one page that asks for the inspection before decking.
const (
	EditionOwner     = "owner"
	EditionInspector = "inspector"
	EditionFraming   = "framing-request"
)

// Link opens one issued pack to a guest. Only the token's hash is kept.
type Link struct {
	ID        string     `json:"id"`
	TokenHash string     `json:"token_hash"` // SHA-256, hex
	For       Role       `json:"for"`        // owner or inspector
	Name      string     `json:"name"`       // whom it was made for
	Pack      int        `json:"pack"`
	Made      time.Time  `json:"made"`
	MadeBy    Actor      `json:"made_by"`
	Expires   time.Time  `json:"expires"`
	Revoked   *time.Time `json:"revoked,omitempty"`
}

// AnswerKind is what a guest says.
type AnswerKind string

// Kinds of answer. Accept, decline and remark weigh the same on the page.
const (
	AnswerAccept  AnswerKind = "accepted"
	AnswerDecline AnswerKind = "declined"
	AnswerRemark  AnswerKind = "remark"
	AnswerOutcome AnswerKind = "outcome" // an inspector's
)

// Inspection outcomes.
const (
	OutcomeAccepted     = "accepted"
	OutcomeCorrect      = "correct and call again"
	OutcomeNotInspected = "not inspected"
)

// Answer is what a guest recorded against an issued pack. A mistaken answer is put right by a new one.
type Answer struct {
	ID       string          `json:"id"`
	LinkID   string          `json:"link_id"`
	From     Role            `json:"from"`
	Pack     int             `json:"pack"`
	PackHash string          `json:"pack_hash"`
	Kind     AnswerKind      `json:"kind"`
	Outcome  string          `json:"outcome"`
	Stage    checklist.Stage `json:"stage"`
	Place    string          `json:"place"` // label, where given
	Text     string          `json:"text"`
	Name     string          `json:"name"` // as claimed
	Office   string          `json:"office"`
	On       string          `json:"on"` // date as claimed
	At       time.Time       `json:"at"`
	// Signature is what was drawn beside the name, as ParseStrokes reads it; empty where none was. It weighs no more than the name.
	Signature string `json:"signature,omitempty"`
}
