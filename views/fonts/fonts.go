// Package fonts holds the typefaces of the printed pack as TrueType files: Barlow, and Fira Sans for the Greek and
// Cyrillic letters and the arrows that Barlow lacks. The web pages use the same families (views/static/fonts). Both stand
// under the SIL Open Font License 1.1, whose text is beside the files; README.md says how they were made.
//
// Barlow carries the features frac, tnum, numr and dnom. A writer that does not apply OpenType features finds the
// superior figures 1 to 9 (U+00B9, U+00B2, U+00B3, U+2074 to U+2079) and the fraction slash (U+2044) as characters, but
// the inferior ones only through dnom.
package fonts

import (
	"bytes"
	_ "embed"
)

var (
	//go:embed Barlow-Regular.ttf
	regular []byte
	//go:embed Barlow-SemiBold.ttf
	semiBold []byte
	//go:embed Barlow-Italic.ttf
	italic []byte
	//go:embed FiraSans-Regular.ttf
	wide []byte
	//go:embed FiraSans-SemiBold.ttf
	wideSemiBold []byte
)

// Regular is Barlow Regular.
func Regular() []byte { return bytes.Clone(regular) }

// SemiBold is Barlow SemiBold.
func SemiBold() []byte { return bytes.Clone(semiBold) }

// Italic is Barlow Italic.
func Italic() []byte { return bytes.Clone(italic) }

// Wide is Fira Sans Regular with Latin, Greek and Cyrillic letters and arrows, for text that Barlow cannot set.
func Wide() []byte { return bytes.Clone(wide) }

// WideSemiBold is the semibold of Wide.
func WideSemiBold() []byte { return bytes.Clone(wideSemiBold) }
