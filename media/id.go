package media

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
)

// ID names an original: the SHA-256 of its bytes. It is comparable and can be a map key. The zero value names nothing.
type ID [sha256.Size]byte

// String returns the 64 lower-case hexadecimal digits of the ID, which are also its file name.
func (id ID) String() string { return hex.EncodeToString(id[:]) }

// Short returns the first 12 hexadecimal digits, enough to tell photographs apart on a page or in a pack.
func (id ID) Short() string { return id.String()[:12] }

// IsZero reports whether the ID is the zero value, which names nothing.
func (id ID) IsZero() bool { return id == ID{} }

// ParseID reads the 64 lower-case hexadecimal digits that String writes. There is one spelling only: upper-case
// digits, spaces and other lengths are refused, so that one photograph has one address.
func ParseID(text string) (ID, error) {
	var id ID
	if len(text) != hex.EncodedLen(len(id)) {
		return ID{}, fmt.Errorf("media: photograph id %.80q has %d characters, want %d", text, len(text), hex.EncodedLen(len(id)))
	}
	for i := range len(text) {
		if c := text[i]; (c < '0' || c > '9') && (c < 'a' || c > 'f') {
			return ID{}, fmt.Errorf("media: photograph id %q is not lower-case hexadecimal", text)
		}
	}
	if _, err := hex.Decode(id[:], []byte(text)); err != nil {
		return ID{}, fmt.Errorf("media: photograph id %q: %w", text, err)
	}
	return id, nil
}

// MarshalText writes the ID as String does.
func (id ID) MarshalText() ([]byte, error) { return []byte(id.String()), nil }

// UnmarshalText reads what MarshalText wrote, with the rules of ParseID. On error the ID is left as it was.
func (id *ID) UnmarshalText(text []byte) error {
	parsed, err := ParseID(string(text))
	if err != nil {
		return err
	}
	*id = parsed
	return nil
}
