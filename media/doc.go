// Package media keeps photograph originals written once under the SHA-256 of their bytes, says what their Exif
// claims, and makes the smaller pictures that pages and packs show.
//
// Start with [Open], which gives a [Library] on a data folder: [Library.Intake] takes a photograph in,
// [Library.OpenView] gives a picture to show, [Library.Originals] is the [Store] that holds the originals.
//
// On disk:
//
//	originals/aa/<64 hex digits>          the bytes as received, mode 0440; aa is the first two digits
//	originals/tmp-*                       a write in progress, or what a crash left of one
//	derived/v2/aa/<64 hex digits>-1600.jpg  upright view, longest side 1600 px
//	derived/v2/aa/<64 hex digits>-320.jpg   upright thumbnail, longest side 320 px
//	derived/v2/aa/<64 hex digits>-none.txt  why there are none: the refusal, so that it is not tried each time
//	derived/v2/aa/<64 hex digits>-codes.txt the texts of the square codes in it, or that there are none
//	derived/tmp-*                         as above
//
// The name of an original is the plain SHA-256 of the file, so sha256sum alone can check the folder. derived/ may be
// deleted at any time; what is missing is made again.
//
// Invariants:
//
//   - An original is never changed, renamed or re-encoded; there is no delete. Same bytes twice are one file.
//   - An original appears under its name whole or not at all: it is written to a temporary file while it is hashed,
//     synced, then linked into place, which fails if the name is taken.
//   - Intake makes the original durable and decodes no pixel; pictures are made afterwards, by a bounded queue (Later) or
//     when they are asked for. Until then the camera's own thumbnail stands in for lists (OpenSoon).
//   - A file whose end is missing is refused at once. Damage within the data of the pixels shows when they are decoded:
//     the original stays, and OpenView says in words why there is no picture.
//   - Nothing is decoded before its type is known from its content and its pixel count from its header. The
//     registry of image formats (image.Decode) is never used.
//   - A refused file leaves nothing behind.
//   - Derived pictures carry no Exif, hence no position and no time.
//   - Exif is a claim made by whoever wrote the file, not proof. A wall time without an offset stays without one;
//     the zone of this machine is never assumed.
//
// It does not judge the claims (that is done where the job is known), does not know jobs, and does not take AVIF,
// TIFF, GIF, BMP, camera raw, or moving pictures. HEIC is kept whole and never decoded.
//
// Known weakness: a colour profile in the original is not applied, so wide-gamut photographs look a little paler in
// the derived pictures. Test with go test ./media/...; an implementation of [Store] is tested by package mediatest.
package media
