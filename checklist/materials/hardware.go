package materials

import (
	"fmt"
	"slices"

	"newelbook/checklist/layout"
)

// fromLayout begins the source of every count.
const fromLayout = "counted from the layout: "

// hardware counts what the layouts show and then names what they do not.
func (m *maker) hardware(runs []Run) {
	for _, r := range runs {
		m.posts(r)
		m.bays(r)
		screws := fmt.Sprintf("%s screws for rails and cap, %s", m.text(r.Spec.ScrewLength), r.Spec.FastenerMetal)
		m.unknown(screws, "How many depends on the connectors and the cap, which the layout does not know.")
	}
	if len(runs) > 0 {
		m.unknown("Nuts, washers and sealer", "The layout does not know them.")
	}
	slices.SortStableFunc(m.list.Hardware, func(a, b Hardware) int {
		switch {
		case a.Known == b.Known:
			return 0
		case a.Known:
			return -1
		}
		return 1
	})
}

// count adds so many to the hardware of that name and note.
func (m *maker) count(n int, h Hardware) {
	if n == 0 {
		return
	}
	i := slices.IndexFunc(m.list.Hardware, func(have Hardware) bool { return have.What == h.What && have.Note == h.Note && have.Known })
	if i < 0 {
		i = len(m.list.Hardware)
		h.Known, h.Source = true, fromLayout+h.Source
		m.list.Hardware = append(m.list.Hardware, h)
	}
	m.list.Hardware[i].Count += n
}

// unknown names hardware that is not counted, once.
func (m *maker) unknown(what, why string) {
	h := Hardware{What: what, Note: "Not counted. " + why}
	if !slices.Contains(m.list.Hardware, h) {
		m.list.Hardware = append(m.list.Hardware, h)
	}
}

// posts counts what the posts of a run call for. A post shared with a run before it was counted there.
func (m *maker) posts(r Run) {
	for _, p := range r.Layout.Posts {
		if p.SharedAs != "" {
			continue
		}
		m.foot(p, r.Spec)
		if r.Spec.PostsAtCap == layout.PostsThroughCap || len(r.Layout.Cap) == 0 {
			note := fmt.Sprintf("For posts of %s by %s: size them to each post as measured.", m.text(r.Spec.PostWidth), m.text(r.Spec.PostDepth))
			m.count(1, Hardware{What: "Post cap", Note: note, Source: "one on each post that no cap rail covers"})
		}
	}
}

// foot counts what a post is held by, none where it stands there already: by what it is fixed on, on a flight, and else as the specification has
// all posts.
func (m *maker) foot(p layout.Post, spec layout.Spec) {
	on := ""
	if p.Stand != nil {
		on = p.Stand.FixedOn
	}
	switch {
	case p.Cut == 0 || on == layout.OnFooting:
	case on == layout.OnTreads:
		m.count(1, Hardware{What: "Post base, or hold-down through to blocking, on a tread", Note: named(spec.BaseTest, "The specification names none."), Source: "one at each post on a tread"})
	case on == layout.OnPad || spec.PostMount == layout.MountBase:
		m.count(1, Hardware{What: "Post base", Note: named(spec.BaseTest, "Its published guard-load test is not in the specification."), Source: "one at each post on a base, a foot post's on its pad or landing among them"})
		m.unknown("Anchors of post bases", "The layout does not know them.")
	case spec.PostMount == layout.MountBolted:
		m.bolted(p, spec)
	case spec.PostMount == layout.MountSleeve:
		m.sleeve(p, spec)
	}
}

// bolted counts the bolts and the hold-down of a bolted post.
func (m *maker) bolted(p layout.Post, spec layout.Spec) {
	if len(p.Bolts) == 0 {
		return
	}
	for _, pair := range [][]layout.Bolt{p.Bolts, p.Corner} {
		for _, b := range pair {
			m.count(1, Hardware{What: m.text(spec.BoltDiameter) + " through-bolt, " + m.text(b.Length) + " or longer", Note: "Through " + p.Through(b, m.style) + "; longer where spacers lie between.", Source: "those of each bolted post"})
		}
	}
	if p.HoldDown != "" {
		pairs := 1
		if len(p.Corner) > 0 {
			pairs = 2
		}
		m.count(pairs, Hardware{What: "Hold-down", Note: named(spec.HoldDown, "The specification names none."), Source: "one at each post where the layout calls for it, at a corner's post one each way"})
	}
}

// sleeve counts the fixings of a sleeve, where its holes are laid out.
func (m *maker) sleeve(p layout.Post, spec layout.Spec) {
	if p.Sleeve == nil {
		return
	}
	fixings := 0
	for _, h := range p.Sleeve.Holes {
		if h.For == "shank clearance" {
			fixings++
		}
	}
	if fixings == 0 {
		m.unknown("Fixings of "+spec.SleeveMaterial+" sleeves", "The layout does not know them.")
	}
	m.count(fixings, Hardware{What: m.text(spec.BoltDiameter) + " fixing of a " + spec.SleeveMaterial + " sleeve", Note: "Measure their length: the layout does not know what they go into.", Source: "one for each shank hole of each sleeve"})
}

// bays counts what rails and balusters stand in.
func (m *maker) bays(r Run) {
	lies := "level"
	if r.Layout.Kind == layout.Rake {
		lies = "raked"
	}
	for _, b := range r.Layout.Bays {
		used := b.Used()
		if used == nil {
			continue
		}
		m.count(4, Hardware{What: "Connector, " + lies + " rail", Note: named(r.Spec.ConnectorName, "The specification names none."), Source: "both ends of the two rails of each bay"})
		switch {
		case used.Infill.Kind == layout.FillPanels:
			m.unknown("What holds panels", "The layout does not know how the maker fixes them.")
		case used.Infill.Cables != nil:
			m.unknown("End fittings of cables", "One at each end of each cable, by the maker's kind.")
		case r.Spec.InfillFix == layout.FixFace && used.Infill.Count > 0:
			m.unknown("Screws of balusters on the face of the rails", "The layout does not know how many each takes.")
		case r.Spec.InfillMode == layout.FixedCentres:
			m.count(2*used.Infill.Count, Hardware{What: "Shoe, " + lies + " rail", Note: "Single shoes; where they come as strips, go by the strip's own count.", Source: "both ends of each baluster"})
		default:
			m.count(2*used.Infill.Count, Hardware{What: "Shoe, " + lies + " rail", Note: "Only where balusters stand in shoes: the specification does not say.", Source: "both ends of each baluster"})
		}
	}
}

// named is hardware as the specification names it, or the sentence for where it does not.
func named(name, none string) string {
	if name == "" {
		return none
	}
	return "In the specification: " + name + "."
}
