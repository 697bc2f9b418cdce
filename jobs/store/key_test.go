package store_test

import (
	"strings"
	"testing"
)

// Every key that packs are signed with is noted once, in order of first use; the last one is in use, and coming back to an earlier one
// is noted too.
func TestSigningKeys(t *testing.T) {
	x := newSite(t, open(t))
	if keys, err := x.service.SigningKeys(t.Context()); err != nil || len(keys) != 0 {
		t.Fatalf("a new folder has the keys %v, %v", keys, err)
	}
	a, b := strings.Repeat("a", 64), strings.Repeat("b", 64)
	for _, key := range []string{a, a, b, b, a} {
		if err := x.service.UseSigningKey(t.Context(), key); err != nil {
			t.Fatal(err)
		}
	}
	keys, err := x.service.SigningKeys(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for i, k := range keys {
		got = append(got, k.Fingerprint)
		if k.Since.IsZero() || i > 0 && !k.Since.After(keys[i-1].Since) {
			t.Errorf("key %d is in use since %s, the one before since %s", i, k.Since, keys[max(i-1, 0)].Since)
		}
	}
	if strings.Join(got, " ") != a+" "+b+" "+a {
		t.Errorf("the keys are %v", got)
	}
}
