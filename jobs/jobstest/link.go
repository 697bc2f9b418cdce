package jobstest

import (
	"testing"

	"newelbook/jobs"
)

func testLinks(t *testing.T, s jobs.Store) {
	for _, id := range []string{"one", "two"} {
		update(t, s, func(tx jobs.Tx) error { return makeJob(tx, id) })
		update(t, s, func(tx jobs.Tx) error { return issueAndLink(tx, id) })
		view(t, s, func(tx jobs.Tx) error {
			got, err := tx.LinkJob(jobs.TokenHash("token of " + id))
			if got != id {
				t.Errorf("LinkJob = %q, want %q", got, id)
			}
			return err
		})
	}
}

// issueAndLink appends a pack and a link to it.
func issueAndLink(tx jobs.Tx, jobID string) error {
	head, err := tx.Head(jobID)
	if err != nil {
		return err
	}
	hash := jobs.TokenHash("an invented pack")
	by := jobs.Actor{ID: "a1", Name: "Sam Sample", Role: jobs.RoleBuilder}
	pack := jobs.IssuedPack{Number: 1, Issued: at(), By: by, Purpose: "handover", Hash: hash, RecordHash: hash, HeadSeq: head.Seq, HeadHash: head.Hash}
	if err := appendChange(tx, jobID, head, jobs.EvPackIssued, jobs.Change{Pack: &pack}); err != nil {
		return err
	}
	if head, err = tx.Head(jobID); err != nil {
		return err
	}
	link := jobs.Link{ID: "l1", TokenHash: jobs.TokenHash("token of " + jobID), For: jobs.RoleOwner, Name: "A. Sample", Pack: 1, Made: at(), MadeBy: by, Expires: at().AddDate(0, 1, 0)}
	return appendChange(tx, jobID, head, jobs.EvLinkMade, jobs.Change{Link: &link})
}
