package main

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"newelbook/jobs"
	"newelbook/views/pack"
)

// A form that is sent twice at once issues one pack: both sendings are told of the same one, and nothing is left of the other.
func TestIssuedTwiceAtOnce(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "d")
	job := newFolder(t, dir)
	d := open(t, dir)
	by := byBuilder()
	by.Form, by.Body = "form-1", jobs.TokenHash("body")
	now := moment()
	var between func()
	service := jobs.NewService(d.store, func() time.Time {
		if f := between; f != nil {
			between = nil
			f()
		}
		now = now.Add(time.Second)
		return now
	})
	issuer := pack.Issuer{Service: service, Media: d.media, Dir: filepath.Join(dir, packsFolder)}
	var first jobs.IssuedPack
	between = func() {
		var err error
		if first, err = issuer.Issue(t.Context(), by, job, pack.Order{}); err != nil {
			t.Errorf("the sending that came first: %v", err)
		}
	}
	second, err := issuer.Issue(t.Context(), by, job, pack.Order{})
	if err != nil || first.Number != 1 || second.Number != 1 || first.Hash == "" || second.Hash != first.Hash {
		t.Errorf("the two sendings issued pack %d with %s and pack %d with %s, %v; want one", first.Number, first.Hash, second.Number, second.Hash, err)
	}
	kept, err := os.ReadDir(filepath.Join(dir, packsFolder, job))
	if err != nil || len(kept) != 1 {
		t.Errorf("%d folders of packs are left, %v, want one: %v", len(kept), err, kept)
	}
	sound(t, dir)
}
