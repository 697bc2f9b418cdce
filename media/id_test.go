package media_test

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"newelbook/media"
)

func ExampleID() {
	id := media.ID(sha256.Sum256([]byte("a photograph")))
	fmt.Println(id.Short())
	again, err := media.ParseID(id.String())
	fmt.Println(again == id, err)
	// Output:
	// a249e87e1e61
	// true <nil>
}

func TestParseIDRefuses(t *testing.T) {
	sound := strings.Repeat("0a", 32)
	for _, text := range []string{
		"", "0a", sound[1:], sound + "0", sound + sound,
		strings.ToUpper(sound), strings.Replace(sound, "0a", "0g", 1), " " + sound[1:], strings.Replace(sound, "0a", "..", 1),
	} {
		if id, err := media.ParseID(text); err == nil || !id.IsZero() {
			t.Errorf("ParseID(%q) = %v, %v, want an error and the zero ID", text, id, err)
		}
	}
}

func TestIDRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var id media.ID
		copy(id[:], rapid.SliceOfN(rapid.Byte(), len(id), len(id)).Draw(t, "bytes"))
		parsed, err := media.ParseID(id.String())
		if err != nil || parsed != id {
			t.Fatalf("ParseID(%q) = %v, %v, want the same", id.String(), parsed, err)
		}
		text, err := json.Marshal(map[string]media.ID{"photo": id})
		if err != nil || !strings.Contains(string(text), `"`+id.String()+`"`) {
			t.Fatalf("Marshal = %s, %v, want the hexadecimal digits", text, err)
		}
		back := map[string]media.ID{}
		if err := json.Unmarshal(text, &back); err != nil || back["photo"] != id {
			t.Fatalf("Unmarshal(%s) = %v, %v, want the same", text, back, err)
		}
		if !strings.HasPrefix(id.String(), id.Short()) || len(id.Short()) != 12 {
			t.Fatalf("Short() = %q, want the first 12 digits of %q", id.Short(), id)
		}
	})
}

func TestIDUnmarshalLeavesOldValueOnError(t *testing.T) {
	id := media.ID{1}
	if err := json.Unmarshal([]byte(`"nonsense"`), &id); err == nil || id != (media.ID{1}) {
		t.Errorf("Unmarshal of nonsense = %v with %v, want an error and the old value", err, id)
	}
}
