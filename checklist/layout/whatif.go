package layout

import (
	"fmt"
	"strings"

	"newelbook/checklist/length"
)

// Change is one result of a layout that comes to another word or figure under another rule set.
type Change struct {
	Place string `json:"place"` // label of the run or bay
	What  string `json:"what"`
	A     string `json:"a"` // what it is under the first rule set
	B     string `json:"b"` // and under the second
}

// Differences lists what two layouts of the same runs, made under two rule sets, do not have alike, run by run: whether a guard
// and a hold-down are called for, how many balusters and how wide the gaps, each figure that a flight was held to, handrail and
// grip, each load that was screened, and what is at odds with a figure. It compares what came out, never the wording, so that a
// new clause alone is no difference. Lengths are shown in style.
func Differences(a, b []Layout, style length.Style) []Change {
	var all []Change
	for i := range min(len(a), len(b)) {
		d := differ{style: style, run: a[i].Label}
		d.runs(&a[i], &b[i])
		all = append(all, d.changes...)
	}
	return all
}

// differ collects the changes of one run.
type differ struct {
	style   length.Style
	run     string
	changes []Change
}

// say notes a change where the two are not alike.
func (d *differ) say(place, what, a, b string) {
	if a != b {
		d.changes = append(d.changes, Change{Place: place, What: what, A: a, B: b})
	}
}

// either is one of two.
func either[T any](is bool, yes, no T) T {
	if is {
		return yes
	}
	return no
}

func (d *differ) runs(a, b *Layout) {
	d.say(d.run, "A guard at this drop", either(a.Required.Required, "required", "not required"), either(b.Required.Required, "required", "not required"))
	d.say(d.run, "Hold-downs", holdDowns(a), holdDowns(b))
	for i := range max(len(a.Bays), len(b.Bays)) {
		label := ""
		if i < len(a.Bays) {
			label = a.Bays[i].Label
		} else {
			label = b.Bays[i].Label
		}
		x, y := partsOf(a, i), partsOf(b, i)
		d.say(label, "Balusters", balusters(x), balusters(y))
		d.say(label, "Largest gap", d.gap(x), d.gap(y))
	}
	d.stairs(a.Stair, b.Stair)
	for _, what := range screensOf(a, b) {
		x, y := screenOf(a, what), screenOf(b, what)
		d.say(d.run, upperFirst(what), screened(x, x), screened(y, x))
	}
	d.problems(a, b)
}

// holdDowns says at how many posts one is called for.
func holdDowns(l *Layout) string {
	n := 0
	for _, p := range l.Posts {
		if p.HoldDown != "" {
			n++
		}
	}
	if n == 0 {
		return "none called for"
	}
	return fmt.Sprintf("called for at %s", plural(n, "post"))
}

// partsOf is what goes into the bay at index i; nil where there is none.
func partsOf(l *Layout, i int) *Parts {
	if i >= len(l.Bays) {
		return nil
	}
	return l.Bays[i].Used()
}

func balusters(p *Parts) string {
	if p == nil {
		return "not laid out"
	}
	return fmt.Sprint(p.Infill.Count)
}

func (d *differ) gap(p *Parts) string {
	if p == nil {
		return "not laid out"
	}
	return p.Infill.Largest.Format(d.style)
}

// stairs compares what the flight was held to.
func (d *differ) stairs(a, b *Stair) {
	if a == nil || b == nil {
		return
	}
	var keys []string
	held := func(s *Stair) map[string]Tested {
		by := map[string]Tested{}
		for _, t := range s.Tested {
			if _, had := by[t.Key]; !had {
				keys = append(keys, t.Key)
			}
			by[t.Key] = t
		}
		return by
	}
	x, y := held(a), held(b)
	seen := map[string]bool{}
	for _, key := range keys {
		if seen[key] {
			continue
		}
		seen[key] = true
		what := x[key].What
		if what == "" {
			what = y[key].What
		}
		if word(x, key) != word(y, key) {
			d.say(d.run, what, word(x, key)+against(x, key), word(y, key)+against(y, key))
		}
	}
	d.say(d.run, "A handrail on the flight", either(a.HandrailRequired, "asked for", "not asked for, or it cannot be told"), either(b.HandrailRequired, "asked for", "not asked for, or it cannot be told"))
	d.say(d.run, "The grip", either(a.Graspable, "a hand closes on it", "a hand does not close on it, or it cannot be told"), either(b.Graspable, "a hand closes on it", "a hand does not close on it, or it cannot be told"))
}

// word is what a figure of the stair came to.
func word(held map[string]Tested, key string) string {
	t, found := held[key]
	if !found {
		return "no figure"
	}
	return either(t.Inside, "inside", "outside")
}

// against names the figure.
func against(held map[string]Tested, key string) string {
	t, found := held[key]
	if !found {
		return ""
	}
	return ", " + t.Figure
}

// screensOf lists the loads that either layout has screened or tried to, in order.
func screensOf(a, b *Layout) []string {
	var all []string
	seen := map[string]bool{}
	for _, l := range []*Layout{a, b} {
		for _, s := range l.Screens {
			if !seen[s.What] {
				seen[s.What] = true
				all = append(all, s.What)
			}
		}
	}
	return all
}

// screenOf is a load as a layout screens it; not screened where it does not.
func screenOf(l *Layout, what string) Screen {
	for _, s := range l.Screens {
		if s.What == what {
			return s
		}
	}
	return Screen{What: what}
}

// screened is what a load comes to. A force is in the unit of the one beside it, so that the two compare: rule sets name loads in their own.
func screened(s, beside Screen) string {
	switch {
	case !s.Screened:
		return "not screened"
	case s.Unit == "psi" || s.Unit == "MPa":
		return stress(s.Value, s.Unit)
	case s.Unit == "kN" && beside.Unit == "lb":
		return force(PoundsFromKilonewtons(s.Value), "lb")
	case s.Unit == "lb" && beside.Unit == "kN":
		return force(KilonewtonsFromPounds(s.Value), "kN")
	}
	return force(s.Value, s.Unit)
}

// problems compares where something is at odds with a figure: at which place and input.
func (d *differ) problems(a, b *Layout) {
	type spot struct{ place, field string }
	var order []spot
	collect := func(l *Layout) map[spot][]string {
		by := map[spot][]string{}
		for _, p := range l.Problems {
			at := spot{p.Place, p.Field}
			by[at] = append(by[at], p.Sentence)
			order = append(order, at)
		}
		return by
	}
	x, y := collect(a), collect(b)
	seen := map[spot]bool{}
	for _, at := range order {
		if seen[at] || len(x[at]) == len(y[at]) {
			continue
		}
		seen[at] = true
		d.say(at.place, "At odds with a figure", said(x[at]), said(y[at]))
	}
}

func said(sentences []string) string {
	if len(sentences) == 0 {
		return "nothing"
	}
	return strings.Join(sentences, " ")
}
