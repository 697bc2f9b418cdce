package media

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math/bits"

	"github.com/disintegration/imaging"
)

// A Likeness is what a picture looks like from afar: of a picture of 9 by 8 greys, for each but the last of a row whether it is lighter
// than the next (a difference hash). Two of one scene, taken again, scaled or lighter, differ in few of the 64; two of different scenes in
// about half. It knows nothing of what is seen: a turned or cropped picture is another one, and two posts alike on a plain ground may
// be taken for one.
type Likeness uint64

// nearlySame is how many of 64 may differ in pictures that are shown as nearly the same. Of the scenes of TestLikeness none of one
// kind is missed and none of another is taken for it.
const nearlySame = 10

// flat is the range of greys, of 255, below which a picture has no likeness: noise would decide.
const flat = 24

// Near says whether two pictures are nearly the same.
func (l Likeness) Near(other Likeness) bool { return bits.OnesCount64(uint64(l^other)) <= nearlySame }

// likenessOf is a picture's likeness, false where it is too plain to have one.
func likenessOf(img image.Image) (Likeness, bool) {
	small := imaging.Resize(img, 9, 8, imaging.Box)
	var l Likeness
	low, high := uint8(255), uint8(0)
	for y := range 8 {
		var row [9]uint8
		for x := range row {
			row[x] = color.GrayModel.Convert(small.At(x, y)).(color.Gray).Y
			low, high = min(low, row[x]), max(high, row[x])
		}
		for x := range 8 {
			l <<= 1
			if row[x] > row[x+1] {
				l |= 1
			}
		}
	}
	return l, high >= low && high-low >= flat
}

// Likeness is that of an original, by its small picture. It is false where that is not made yet or too plain, and is kept in memory
// once it is known.
func (l *Library) Likeness(ctx context.Context, id ID) (likeness Likeness, ok bool, err error) {
	if known, ok := l.likenesses.Load(id); ok {
		k := known.(knownLikeness)
		return k.likeness, k.ok, nil
	}
	if err := ctx.Err(); err != nil {
		return 0, false, err
	}
	thumb, err := l.openDerived(id, Thumb)
	if err != nil || thumb == nil {
		return 0, false, err
	}
	defer func() { err = errors.Join(err, thumb.Close()) }()
	img, err := jpeg.Decode(thumb)
	if err != nil {
		return 0, false, fmt.Errorf("likeness of %s: %w", id, err)
	}
	likeness, ok = likenessOf(img)
	l.likenesses.Store(id, knownLikeness{likeness, ok})
	return likeness, ok, nil
}

// knownLikeness is a likeness, or that there is none.
type knownLikeness struct {
	likeness Likeness
	ok       bool
}
