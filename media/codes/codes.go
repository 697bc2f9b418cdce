// Package codes reads the square codes (QR, ISO/IEC 18004) of place tags in photographs.
//
// It looks for codes of one size alone, version 2, 25 modules a side: to know the size is what lets it read small, dirty, slanting and
// dark ones. Finding them in the picture is done here; the bits become text in gozxing's decoder, with its correction of errors.
//
// The same picture gives the same texts. Work is bounded whatever the picture shows, and no picture makes it panic. What a text means is
// for the caller to say, who must look for a check of its own in it: other people's codes are read as well.
package codes

import (
	"image"
	"slices"
)

// Modules is how many modules a code has along a side.
const Modules = 25

// smallest is the shorter side, in pixels, below which a picture is not halved again.
const smallest = 200

// most is how many codes are read in one picture.
const most = 12

// Read lists the texts of the codes in a picture, each once. It looks at the picture at its own scale and at smaller ones, so that
// near and far codes are read: one of about 40 pixels a side and more.
func Read(img *image.Gray) []string {
	var out []string
	g := greyOf(img)
	for {
		if g.w < Modules || g.h < Modules {
			return out
		}
		for _, text := range g.read() {
			if !slices.Contains(out, text) && len(out) < most {
				out = append(out, text)
			}
		}
		if min(g.w, g.h) < smallest {
			return out
		}
		g = g.half()
	}
}

// read lists the texts of the codes that are found at one scale.
func (g *grey) read() []string {
	g.ground()
	found := g.finders()
	var out []string
	var used []finder
	free := func(f finder) bool { return !slices.Contains(used, f) }
	for _, c := range corners(found) {
		if !free(c.at) || !free(c.right) || !free(c.below) {
			continue
		}
		if text, ok := g.readAt(c); ok {
			out, used = append(out, text), append(used, c.at, c.right, c.below)
		}
	}
	if len(out) > 0 {
		return out
	}
	for _, c := range guessed(found) {
		if text, ok := g.readAt(c); ok {
			return []string{text}
		}
	}
	return nil
}
