package pack

import (
	"crypto/ed25519"
	"crypto/rand"
	"crypto/sha256"
	"crypto/x509"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Key is the key that an installation signs its packs with (Ed25519, RFC 8032). The zero value signs nothing.
type Key struct{ private ed25519.PrivateKey }

// KeyOf makes the key that follows from 32 secret bytes.
func KeyOf(seed [ed25519.SeedSize]byte) Key { return Key{ed25519.NewKeyFromSeed(seed[:])} }

// Fingerprint is the SHA-256 of the 32 bytes of the public key: what is printed in a pack, and what people compare.
func (k Key) Fingerprint() Hash { return fingerprintOf(k.public()) }

func (k Key) public() ed25519.PublicKey { return k.private.Public().(ed25519.PublicKey) }

func fingerprintOf(public ed25519.PublicKey) Hash { return sha256.Sum256(public) }

// Kinds of PEM block (RFC 7468) of the key's file and of a public key.
const (
	privateBlock = "PRIVATE KEY"
	publicBlock  = "PUBLIC KEY"
)

// PublicPEM is the public key as other programs read it: PEM, SubjectPublicKeyInfo (RFC 8410).
func (k Key) PublicPEM() ([]byte, error) {
	der, err := x509.MarshalPKIXPublicKey(k.public())
	if err != nil {
		return nil, fmt.Errorf("write the public key: %w", err)
	}
	return pem.EncodeToMemory(&pem.Block{Type: publicBlock, Bytes: der}), nil
}

// OpenKey reads the installation's key from its file, and makes the key where there is no file. The file can be read by its
// owner alone (mode 0600); where it can be read by others, that is put right. A file that holds no key is an error and is
// left as it is.
func OpenKey(file string) (Key, error) {
	text, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		if err := makeKey(file); err != nil {
			return Key{}, fmt.Errorf("make the signing key: %w", err)
		}
		text, err = os.ReadFile(file)
	}
	if err != nil {
		return Key{}, fmt.Errorf("read the signing key: %w", err)
	}
	if err := os.Chmod(file, 0o600); err != nil {
		return Key{}, fmt.Errorf("keep the signing key from others: %w", err)
	}
	block, _ := pem.Decode(text)
	if block == nil || block.Type != privateBlock {
		return Key{}, fmt.Errorf("%s holds no signing key: put it back from a backup, or move it away and a new key is made", file)
	}
	parsed, err := x509.ParsePKCS8PrivateKey(block.Bytes)
	private, ok := parsed.(ed25519.PrivateKey)
	if err != nil || !ok {
		return Key{}, fmt.Errorf("%s holds no Ed25519 key: put it back from a backup, or move it away and a new key is made", file)
	}
	return Key{private}, nil
}

// makeKey puts a new key into a file that does not exist. Where two make one at once the first stands.
func makeKey(file string) error {
	_, private, err := ed25519.GenerateKey(rand.Reader)
	if err != nil {
		return err
	}
	der, err := x509.MarshalPKCS8PrivateKey(private)
	if err != nil {
		return err
	}
	temp, err := os.CreateTemp(filepath.Dir(file), ".key-*") // mode 0600
	if err != nil {
		return err
	}
	err = pem.Encode(temp, &pem.Block{Type: privateBlock, Bytes: der})
	if err = errors.Join(err, temp.Sync(), temp.Close()); err == nil {
		err = os.Link(temp.Name(), file)
	}
	if errors.Is(err, fs.ErrExist) {
		err = nil
	}
	return errors.Join(err, os.Remove(temp.Name()), syncDir(filepath.Dir(file)))
}

// ReadFingerprint takes what somebody was given to know a key by: the fingerprint itself, in groups or not, or the path of a
// file that holds it or the public key.
func ReadFingerprint(given string) (Hash, error) {
	text := given
	if b, err := os.ReadFile(given); err == nil {
		if block, _ := pem.Decode(b); block != nil {
			parsed, err := x509.ParsePKIXPublicKey(block.Bytes)
			if public, ok := parsed.(ed25519.PublicKey); err == nil && ok {
				return fingerprintOf(public), nil
			}
			return Hash{}, fmt.Errorf("%s holds no public key of Ed25519", given)
		}
		text = string(b)
	}
	h, err := ParseHash(strings.Join(strings.Fields(text), ""))
	if err != nil {
		return Hash{}, fmt.Errorf("%q is neither a fingerprint, 64 digits from 0 to f, nor a file with one or with a public key", given)
	}
	return h, nil
}
