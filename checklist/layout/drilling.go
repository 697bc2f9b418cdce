package layout

import (
	"fmt"
	"strings"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// Drill is the hole that a fastener of the run wants, from its diameter. Least and Most are what drills there are between the bounds of the
// figure, the same where there is one.
type Drill struct {
	For      string        `json:"for"`      // what for: "bolts", "screws through the cap"
	Fastener length.Length `json:"fastener"` // its diameter
	Least    length.Length `json:"least"`
	Most     length.Length `json:"most"`
	Note     string        `json:"note"`     // a finished sentence, may be empty
	Source   string        `json:"source"`   // what rule, and where it stands
	Standing string        `json:"standing"` // of that source, a codes.Standing
}

// Brief is the hole as a phrase: what for, its size, and the standing of its figure.
func (d Drill) Brief(style length.Style) string {
	return fmt.Sprintf("%s %s (%s)", d.For, d.size(style), d.Standing)
}

// size is the drill, or the least and the greatest.
func (d Drill) size(style length.Style) string {
	size := d.Least.Format(style)
	if d.Most != d.Least {
		size += " to " + d.Most.Format(style)
	}
	return size
}

// Says is the hole in a sentence, with its source, and the note.
func (d Drill) Says(style length.Style) string {
	text := fmt.Sprintf("%s, %s: %s (%s, %s).", upperFirst(d.For), d.Fastener.Format(style), d.size(style), d.Source, d.Standing)
	return strings.TrimSuffix(text+" "+d.Note, " ")
}

// drillStep is the step from one drill to the next, 1/64 in or 0.1 mm.
func (w *work) drillStep() length.Length {
	if w.in.Unit == length.Millimetres {
		return mm / 10
	}
	return in / 64
}

// drilling lists the holes that the run's fasteners want, those that stay the same from post to post and bay to bay.
func (w *work) drilling() {
	add := func(d Drill) { w.out.Drilling = append(w.out.Drilling, d) }
	step := w.drillStep()
	for _, p := range w.out.Posts {
		if p.SharedAs == "" && len(p.Bolts) > 0 {
			least, most := BoltHole(w.spec.BoltDiameter)
			add(Drill{For: "bolts", Fastener: w.spec.BoltDiameter, Least: least.RoundUp(step), Most: most.RoundDown(step), Source: "1/32 to 1/16 in over the bolt, NDS 12.1.3.2", Standing: string(codes.SecondaryText)})
			break
		}
	}
	w.lagHoles(add)
	w.screwHoles(add)
	if d := w.spec.CableDiameter; w.spec.InfillKind == FillCables && d > 0 {
		hole := (d + in/16).RoundUp(step)
		add(Drill{For: "cables", Fastener: d, Least: hole, Most: hole, Source: "1/16 in over the cable", Standing: practice,
			Note: "At the ends of a cable its maker's fitting says what hole it wants."})
	}
}

// framingWoods are the lightest and the heaviest softwood that framing is usually of (common practice, no source); the specification does not
// name the framing's own.
var framingWoods = [2]string{"spruce-pine-fir", "southern-pine"}

// lagHoles are those of the lag screws that fix a steel sleeve to the framing.
func (w *work) lagHoles(add func(Drill)) {
	if w.spec.PostMount != MountSleeve || w.spec.SleeveMaterial != SleeveSteel || len(w.out.Posts) == 0 {
		return
	}
	light, ok := codes.SpeciesByKey(framingWoods[0])
	heavy, found := codes.SpeciesByKey(framingWoods[1])
	if !ok || !found {
		return
	}
	d, step := w.spec.BoltDiameter, w.drillStep()
	least, _ := LagPilot(d, heavy.G)
	_, most := LagPilot(d, light.G)
	shank, short, long := LagClearance(d).Round(step), 4*in, 6*in
	if w.in.Unit == length.Millimetres {
		short, long = 100*mm, 150*mm
	}
	add(Drill{For: "lag screws of a sleeve, into framing", Fastener: d, Least: least.RoundUp(step), Most: most.RoundDown(step),
		Source: "60 to 70 % of the diameter, which serves framing of both " + light.Name + " and " + heavy.Name + ", NDS 12.1.4.2", Standing: string(codes.Memory),
		Note: fmt.Sprintf("As deep as the thread goes. For the shank first %s, as deep as that is without thread (NDS 12.1.4.2, secondary text). A lag of %s has at least %s of thread, one of %s %s (ASME B18.2.1, secondary text). An inch of thread is worth %s lb of pull in %s, %s in %s (NDS 12.2-1, secondary text): what a sleeve's fixings need is an engineer's to say.",
			w.text(shank), w.text(short), w.text(LagThread(short)), w.text(long), w.text(LagThread(long)),
			thousands(LagWithdrawal(d, light.G)), light.Name, thousands(LagWithdrawal(d, heavy.G)), heavy.Name)})
}

// screwHoles are those of the screws of rails and cap: a clearance hole through the cap, so that the screw draws it down, and a lead hole in
// what holds the thread.
func (w *work) screwHoles(add func(Drill)) {
	d, step := w.spec.ScrewDiameter, w.drillStep()
	if w.spec.ScrewLength <= 0 || d <= 0 {
		return
	}
	if len(w.out.Cap) > 0 {
		add(Drill{For: "screws through the cap", Fastener: d, Least: d.Round(step), Most: d.Round(step), Source: "the screw's own diameter, so that it draws the cap down", Standing: practice})
	}
	wood, ok := codes.SpeciesByKey(w.spec.Species)
	if !ok {
		return
	}
	lead, of := ScrewLead(d, wood.G)
	lead = lead.Round(step)
	add(Drill{For: "lead holes for screws", Fastener: d, Least: lead, Most: lead,
		Source: fmt.Sprintf("%s of the root in %s, the root two thirds of the diameter (Wood Handbook ch. 8, official text), NDS 12.1.5.3", of, wood.Name), Standing: string(codes.Memory),
		Note: "Where the screw's maker gives a lead hole, that one goes."})
}
