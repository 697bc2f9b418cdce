package server

import (
	"testing"

	"github.com/alexedwards/argon2id"
)

// TestNobodysHash holds it to the form and the price of a real one: an unknown name must not be told by the time it takes.
func TestNobodysHash(t *testing.T) {
	hash := nobodysHash()
	got, salt, key, err := argon2id.DecodeHash(hash)
	if err != nil {
		t.Fatalf("DecodeHash(%q): %v", hash, err)
	}
	if *got != *hashParams() || len(salt) != int(got.SaltLength) || len(key) != int(got.KeyLength) {
		t.Errorf("parameters %+v with %d and %d bytes, want %+v", *got, len(salt), len(key), *hashParams())
	}
	if same, err := argon2id.ComparePasswordAndHash("nobody's password", hash); same || err != nil {
		t.Errorf("compared: %v, %v; want no match", same, err)
	}
	if nobodysHash() == hash {
		t.Error("two are alike")
	}
}
