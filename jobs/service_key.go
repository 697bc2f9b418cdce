package jobs

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"
)

const signingKeys = "signing_keys"

// SigningKey is a key that packs of this installation are or were signed with, by its fingerprint. It holds no secret.
type SigningKey struct {
	Fingerprint string    `json:"fingerprint"` // SHA-256 of the public key, hex
	Since       time.Time `json:"since"`       // when it was first used
}

// SigningKeys lists the keys that were used, in order of first use: the last one is in use. More than one means that a key was
// lost or replaced; packs signed with an earlier key stay as good as they were.
func (s *Service) SigningKeys(ctx context.Context) (keys []SigningKey, err error) {
	err = s.store.View(ctx, func(tx Tx) (err error) {
		keys, err = usedKeys(tx)
		return err
	})
	return keys, err
}

// UseSigningKey notes that packs are signed with a key from now on. The key in use already changes nothing.
func (s *Service) UseSigningKey(ctx context.Context, fingerprint string) error {
	now := s.Now().UTC()
	return s.store.Update(ctx, func(tx Tx) error {
		keys, err := usedKeys(tx)
		if err != nil {
			return err
		}
		if n := len(keys); n > 0 && keys[n-1].Fingerprint == fingerprint {
			return nil
		}
		text, err := json.Marshal(append(keys, SigningKey{Fingerprint: fingerprint, Since: now}))
		if err != nil {
			return fmt.Errorf("write the list of signing keys: %w", err)
		}
		return tx.SetSetting(signingKeys, string(text))
	})
}

func usedKeys(tx Tx) ([]SigningKey, error) {
	text, err := tx.Setting(signingKeys)
	if errors.Is(err, ErrNotFound) {
		return nil, nil
	} else if err != nil {
		return nil, err
	}
	var keys []SigningKey
	if err := json.Unmarshal([]byte(text), &keys); err != nil {
		return nil, fmt.Errorf("read the list of signing keys: %w", err)
	}
	return keys, nil
}
