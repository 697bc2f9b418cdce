package pack

import (
	"errors"
	"fmt"
	"slices"
)

// Check finds what would make the document point at nothing or say the same name twice: links to no section or photo, an
// anchor used twice, a QR code whose modules don't fill its square. The error lists every fault.
func (d Document) Check() error {
	var faults []error
	anchors := map[string]bool{}
	name := func(id, what string) {
		if id == "" {
			return
		}
		if anchors[id] {
			faults = append(faults, fmt.Errorf("%s: the anchor %q is used twice", what, id))
		}
		anchors[id] = true
	}
	for _, s := range d.Sections {
		name(s.ID, fmt.Sprintf("section %q", s.Heading))
		for _, b := range s.Blocks {
			if ph, ok := b.(Photo); ok {
				name(ph.ID, ph.Number)
			}
		}
	}
	target := func(to, where string) {
		if to != "" && !anchors[to] {
			faults = append(faults, fmt.Errorf("section %q: the link to %q leads nowhere", where, to))
		}
	}
	for _, s := range d.Sections {
		for _, b := range s.Blocks {
			for _, to := range links(b) {
				target(to, s.Heading)
			}
		}
	}
	for _, f := range d.Facts {
		target(f.Value.To, "title block")
	}
	if q := d.QR; q != nil && (q.Side <= 0 || len(q.Black) != q.Side*q.Side) {
		faults = append(faults, fmt.Errorf("the code has %d modules, not %d x %d", len(q.Black), q.Side, q.Side))
	}
	return errors.Join(faults...)
}

// links lists the anchors that a block leads to.
func links(b Block) []string {
	var out []string
	facts := func(fs []Fact) {
		for _, f := range fs {
			out = append(out, f.Value.To)
		}
	}
	runs := func(rs []Run) {
		for _, r := range rs {
			out = append(out, r.To)
		}
	}
	switch b := b.(type) {
	case Para:
		runs(b.Runs)
	case Note:
		runs(b.Runs)
	case KeyValues:
		facts(b.Facts)
	case Integrity:
		facts(b.Facts)
	case Table:
		for _, row := range b.Rows {
			for _, cell := range row {
				out = append(out, cell.To)
			}
		}
	}
	return out
}

// anchored says which anchors the document has.
func (d Document) anchored() map[string]bool {
	out := map[string]bool{}
	for _, s := range d.Sections {
		out[s.ID] = true
		for _, b := range s.Blocks {
			if ph, ok := b.(Photo); ok {
				out[ph.ID] = true
			}
		}
	}
	return out
}

// linkedWithin is the document with links to what it does not hold taken off; nothing that it shares with another is changed.
func (d Document) linkedWithin() Document {
	anchors := d.anchored()
	runs := func(rs []Run) []Run {
		rs = slices.Clone(rs)
		for i := range rs {
			if !anchors[rs[i].To] {
				rs[i].To = ""
			}
		}
		return rs
	}
	sections := slices.Clone(d.Sections)
	for i := range sections {
		blocks := slices.Clone(sections[i].Blocks)
		for k, b := range blocks {
			switch b := b.(type) {
			case Para:
				b.Runs = runs(b.Runs)
				blocks[k] = b
			case Note:
				b.Runs = runs(b.Runs)
				blocks[k] = b
			case Table:
				rows := make([][]Cell, len(b.Rows))
				for r := range b.Rows {
					rows[r] = slices.Clone(b.Rows[r])
					for c := range rows[r] {
						if !anchors[rows[r][c].To] {
							rows[r][c].To = ""
						}
					}
				}
				b.Rows = rows
				blocks[k] = b
			}
		}
		sections[i].Blocks = blocks
	}
	d.Sections = sections
	return d
}
