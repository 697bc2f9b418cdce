package pack_test

import (
	"compress/gzip"
	"io"
	"os"
	"path/filepath"
	"testing"

	"newelbook/views/pack"
)

// kept are the packs that earlier releases made, with what they are signed with.
func kept(t *testing.T) map[string]pack.SignatureState {
	t.Helper()
	want := map[string]pack.SignatureState{"release-1.zip.gz": pack.Unsigned, "release-2.zip.gz": pack.Signed, "release-3.zip.gz": pack.Signed}
	found, err := filepath.Glob("../../testdata/packs/*.gz")
	if err != nil || len(found) != len(want) {
		t.Fatalf("%d kept packs, %v; want %d: %v", len(found), err, len(want), found)
	}
	return want
}

func keptPack(t *testing.T, name string) []byte {
	t.Helper()
	f, err := os.Open(filepath.Join("../../testdata/packs", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	b, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// A pack of an earlier release is still sound, as an archive and unpacked.
func TestKeptPacksVerify(t *testing.T) {
	for name, state := range kept(t) {
		whole := keptPack(t, name)
		folder, err := pack.Verify(unzipped(t, whole), pack.CheckRecord)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range []pack.Report{verifyZIP(t, whole, pack.CheckRecord), folder} {
			if !r.Sound || r.Signature.State != state || r.Files < 10 {
				t.Errorf("%s: %+v, want a sound pack with signature state %d", name, r, state)
			}
		}
	}
}

// Bytes all over a whole pack, some thousand of them, each changed alone: what the small pack proves byte by byte holds in a real one.
func TestKeptPacksNoticeChange(t *testing.T) {
	if testing.Short() {
		t.Skip("it verifies a whole pack some hundred times")
	}
	for name := range kept(t) {
		whole := keptPack(t, name)
		owner := owners(t, whole)
		flipped(t, whole, []byte{0x10}, 1009, func(r pack.Report, at int, flip byte) {
			if r.Sound || !names(r, owner[at]) {
				t.Errorf("%s: byte %d (%s) changed by %#x: found %v", name, at, owner[at], flip, r.Findings)
			}
		}, pack.CheckRecord)
	}
}
