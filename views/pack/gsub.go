package pack

import "encoding/binary"

// alternates reads, from the GSUB table of a TrueType or OpenType font, the one-for-one substitutions of the given
// feature tags: glyph to glyph. The library's own reader knows only the features of shaping, not those of figures (numr,
// dnom, tnum). Anything malformed ends the reading; what was read until then stands.
func alternates(fontFile []byte, tags ...string) map[string]map[uint16]uint16 {
	out := make(map[string]map[uint16]uint16, len(tags))
	for _, tag := range tags {
		out[tag] = map[uint16]uint16{}
	}
	gsub := table{fontFile}.named("GSUB")
	features, lookups := gsub.at(gsub.u16(6)), gsub.at(gsub.u16(8))
	for i := range features.u16(0) {
		record := features.at(2 + 6*i)
		if len(record.b) < 6 {
			break
		}
		subs, wanted := out[string(record.b[:4])]
		if !wanted {
			continue
		}
		feature := features.at(record.u16(4))
		for j := range feature.u16(2) {
			lookups.at(lookups.u16(2 + 2*feature.u16(4+2*j))).singles(subs)
		}
	}
	return out
}

// table is a stretch of a font file read without going past its end: what is missing reads as zero.
type table struct{ b []byte }

func (t table) u16(off int) int {
	if off < 0 || off+2 > len(t.b) {
		return 0
	}
	return int(binary.BigEndian.Uint16(t.b[off:]))
}

func (t table) u32(off int) int { return t.u16(off)<<16 | t.u16(off+2) }

func (t table) at(off int) table {
	if off <= 0 || off >= len(t.b) {
		return table{}
	}
	return table{t.b[off:]}
}

// named finds a table of a font file by its tag.
func (t table) named(tag string) table {
	for i := range t.u16(4) {
		record := t.at(12 + 16*i)
		if len(record.b) >= 16 && string(record.b[:4]) == tag {
			found := t.at(record.u32(8))
			return table{found.b[:min(len(found.b), record.u32(12))]}
		}
	}
	return table{}
}

// singles adds the substitutions of a lookup of type 1, plain or wrapped as an extension (type 7).
func (t table) singles(subs map[uint16]uint16) {
	kind := t.u16(0)
	for i := range t.u16(4) {
		sub := t.at(t.u16(6 + 2*i))
		if kind == 7 && sub.u16(2) == 1 {
			sub = sub.at(sub.u32(4))
		} else if kind != 1 {
			continue
		}
		for n, gid := range sub.at(sub.u16(2)).coverage() {
			to := uint16(sub.u16(6 + 2*n))
			if sub.u16(0) == 1 {
				to = gid + uint16(sub.u16(4))
			}
			if _, done := subs[gid]; !done {
				subs[gid] = to
			}
		}
	}
}

// coverage lists the glyphs that a subtable covers, in its own order.
func (t table) coverage() []uint16 {
	var gids []uint16
	switch t.u16(0) {
	case 1:
		for i := range t.u16(2) {
			gids = append(gids, uint16(t.u16(4+2*i)))
		}
	case 2:
		for i := range t.u16(2) {
			for g := t.u16(4 + 6*i); g <= t.u16(6+6*i) && len(gids) < 1<<16; g++ {
				gids = append(gids, uint16(g))
			}
		}
	}
	return gids
}
