// Package pack turns a handover pack into bytes and checks such bytes again: one document tree, written as PDF, as HTML
// that opens with no server and as a BagIt (RFC 8493) ZIP, and Verify, which anyone can run on a pack without the server
// that made it.
//
// Start with Build, which makes a Tree from Facts, and its Editions; each is a Document of Sections and Blocks. Text dumps the tree for review; WritePDF and WriteHTML draw it; Bag
// lists the files of a pack, Freeze keeps them and WriteZIP streams them; Verify names every file that was changed,
// is missing or was added. StripOf and WriteStrip make the one file beside the pack: a rail's marks at full size.
//
// Invariants: the same tree, options and pictures give the same bytes, because nothing here reads a clock, ranges over a
// map into the output or asks the machine for anything; entries of a ZIP stand in byte order of their names, stored, with
// the one fixed time 1980-01-01 00:00 and no data descriptors; pictures pass through unchanged and are never held in memory
// as a whole pack.
//
// It deliberately computes nothing of the trade: lengths, verdicts and dates arrive as finished text.
//
// To test, run go test ./views/pack. Tests that call qpdf, pdftotext, pdffonts, pdfimages, python3 or sha256sum skip where
// those are absent.
package pack
