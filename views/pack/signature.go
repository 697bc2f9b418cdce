package pack

import (
	"bytes"
	"crypto/ed25519"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
)

// signatureFile is the one file of a pack that does not follow from its facts. It is in no manifest: it is made over the tag
// manifest, which lists the manifests and every other tag file, so that it covers the whole pack.
const signatureFile = "signature.txt"

// SignatureState is what became of a pack's signature. The zero value is a pack that has none.
type SignatureState int

// States of a signature.
const (
	Unsigned    SignatureState = iota
	Signed                     // the key in it made it over these files
	WrongSigned                // it is none, or was made over other files than these
)

// Signature is the signature of a pack as it was found. Key is the fingerprint of the key that is in it; it is the zero hash
// where there is no signature or none that can be read. A good signature tells that whoever has the key made the pack; who
// that is, only a fingerprint learned elsewhere tells.
type Signature struct {
	State SignatureState
	Key   Hash
}

// Sign returns the measured bag with the signature of a key over its tag manifest.
func (b Bag) Sign(k Key) (Bag, error) {
	if k.private == nil {
		return Bag{}, errors.New("sign: there is no key")
	}
	signed := ed25519.Sign(k.private, manifestOf(b.tags(), sum256Of))
	b.Signature = signatureText(k.public(), signed)
	return b, nil
}

// Signed checks the bag's signature against its tag manifest.
func (b Bag) Signed() Signature {
	if len(b.Signature) == 0 {
		return Signature{}
	}
	return readSignature(b.Signature, manifestOf(b.tags(), sum256Of))
}

// signatureText is the one way of writing a signature.
func signatureText(public ed25519.PublicKey, signature []byte) []byte {
	return fmt.Appendf(nil, "Signature-Version: 1\nAlgorithm: Ed25519\nSigned-File: %s\nPublic-Key: %x\nKey-Fingerprint: %s\nSignature: %x\n",
		tagsFile, []byte(public), fingerprintOf(public), signature)
}

// readSignature checks the text of a signature against the file that was signed.
func readSignature(text, signed []byte) Signature {
	value := func(label string) []byte {
		for l := range strings.Lines(string(text)) {
			if v, ok := strings.CutPrefix(strings.TrimSuffix(l, "\n"), label+": "); ok {
				b, err := hex.DecodeString(v)
				if err != nil {
					return nil
				}
				return b
			}
		}
		return nil
	}
	public, signature := ed25519.PublicKey(value("Public-Key")), value("Signature")
	if len(public) != ed25519.PublicKeySize || !bytes.Equal(text, signatureText(public, signature)) {
		return Signature{State: WrongSigned}
	}
	s := Signature{State: WrongSigned, Key: fingerprintOf(public)}
	if ed25519.Verify(public, signed, signature) {
		s.State = Signed
	}
	return s
}
