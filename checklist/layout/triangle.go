package layout

import (
	"fmt"
	"math"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// What the guard of a stair stands over. Only the first two make the triangle of riser, tread and bottom rail in the plane of
// the guard.
const (
	StringerRisers = "closed risers"   // closed risers in the plane of the guard
	StringerCut    = "cut stringer"    // a cut stringer in the plane of the guard
	StringerClosed = "closed stringer" // its top edge runs along the rake
	StringerOpen   = "open risers"
	StringerInset  = "inset stringer" // risers and treads end short of the plane of the guard
)

// notScreenedWhy says why the triangle of a stair is not worked out; empty where it is.
func notScreenedWhy(stringer string) string {
	switch stringer {
	case StringerClosed:
		return "a closed stringer has no steps in the plane of the guard: measure the gap between the bottom rail and the stringer's top edge, square to the rail"
	case StringerOpen:
		return "with open risers a ball goes on through under the tread: measure that opening as well, tread to tread"
	case StringerInset:
		return "the stringer stands in from the guard, so that a ball goes down beside the treads: measure out past their ends"
	}
	return ""
}

// triangleLimit is the figure that the triangle is held to: its own, or that of a stair, or the general one.
func (w *work) triangleLimit() limit {
	for _, key := range []string{codes.OpeningTriangle, codes.OpeningStair, codes.OpeningLevel} {
		if lim := limitOf(w.in.Rules, key, w.style); lim.known {
			return lim
		}
	}
	return limit{words: "not given in this rule set"}
}

// triangleGauge says which figure a gauge is made to.
func (w *work) triangleGauge() string {
	if lim := w.triangleLimit(); lim.known {
		return "the figure is " + lim.words
	}
	return "the rule set has no figure for it"
}

// triangle works out the opening of riser, tread and bottom rail, where the stringer makes one in the plane of the guard.
func (w *work) triangle(s *Stair) {
	lim := w.triangleLimit()
	if why := notScreenedWhy(w.run.Stringer); why != "" {
		s.NotScreened = upperFirst(why) + "."
		s.Asks = append(s.Asks, "The triangle of riser, tread and bottom rail is not screened: "+why+". Try it with a gauge; "+w.triangleGauge()+".")
		w.say("Stair: the triangle of riser, tread and bottom rail is not screened, since %s.", why)
		return
	}
	s.Screened = true
	steps := w.steps(s)
	s.Sphere, s.SphereAt = steps.worst(w.spec.RakeBottom)
	assumed := ""
	if w.run.Stringer == "" {
		assumed = " A closed riser in the plane of the guard is assumed: say what the guard stands over."
	}
	w.say("Stair: the largest sphere through the triangle of riser, tread and bottom rail is %s, rounded up, with the rail %s above the nosing line and a nosing of %s.%s",
		s.Sphere.FormatUp(w.style), w.text(w.spec.RakeBottom), w.text(s.Nosing), assumed)
	if s.SphereAt > 0 {
		w.say("Stair: of the steps as measured, the one under riser %d leaves the largest triangle.", s.SphereAt)
	}
	if !lim.known {
		return
	}
	s.RailMost = steps.railMost(lim.figure.Value)
	value, figure := s.Sphere.FormatUpAgainst(lim.figure.Value, w.style)
	s.Tested = append(s.Tested, Tested{Key: lim.figure.Key, What: "The largest sphere through the triangle", Value: value, Figure: string(lim.figure.Bound) + " " + figure, Source: lim.figure.Source(), Inside: lim.passes(s.Sphere)})
	if !lim.passes(s.Sphere) {
		w.problem(w.run.Label, "rake_bottom", "A sphere of %s passes through the triangle of riser, tread and bottom rail; the figure is %s. %s", value, lim.words, s.RailMustStand(w.style))
	}
}

// RailMustStand says in a sentence how low the rail's underside must stand for the triangle to keep to the rules' figure (RailMost).
func (s *Stair) RailMustStand(style length.Style) string {
	if s.RailMost < 0 {
		return fmt.Sprintf("The rail's underside must stand more than %s below the nosing line.", s.RailMost.Abs().Format(style))
	}
	return fmt.Sprintf("The rail's underside must stand lower than %s above the nosing line.", s.RailMost.Format(style))
}

// steps are the steps over which a raked rail runs, each with its own riser and tread, in nanometres.
type steps struct {
	riser, tread, nosing length.Length
	// over is how high the line through the lowest and the top nosing stands over each tread at the riser behind it, by the number
	// of that riser less two; nil for steps that are all alike.
	over  []float64
	slope float64 // of that line
}

// steps returns the steps as measured where every one of them is, and all alike otherwise.
func (w *work) steps(s *Stair) steps {
	all := steps{riser: s.Riser, tread: s.Tread, nosing: s.Nosing}
	r, t := w.run.RisersMeasured, w.run.TreadsMeasured
	if len(r) != s.Risers || s.Risers < 2 || len(t) > 0 && len(t) != s.Treads {
		return all
	}
	treadAt := func(i int) float64 {
		if len(t) > 0 {
			return float64(t[i])
		}
		return float64(s.Tread)
	}
	var run, rise float64
	for i := range s.Treads {
		run, rise = run+treadAt(i), rise+float64(r[i+1])
	}
	if run <= 0 || rise <= 0 {
		return all
	}
	all.slope = rise / run
	var u, z float64 // from the lowest nosing
	for i := range s.Treads {
		u += treadAt(i)
		all.over = append(all.over, all.slope*(u+float64(s.Nosing))-z)
		z += float64(r[i+1])
	}
	return all
}

// reach is the sphere that passes for one of height over a tread at its riser: the circle in a right triangle of the rake.
func (s steps) reach() float64 { return 1 + 1/s.slope - math.Hypot(1, 1/s.slope) }

// worst is the largest sphere with the rail's underside at rail above the nosing line, and the number of the riser behind it; 0
// where the steps are alike.
func (s steps) worst(rail length.Length) (sphere length.Length, riser int) {
	if s.over == nil {
		return TriangleSphere(s.riser, s.tread, s.nosing, rail), 0
	}
	var most float64
	for i, over := range s.over {
		if over > most || i == 0 {
			most, riser = over, i+2
		}
	}
	return nearestNM(math.Max((most+float64(rail))*s.reach(), 0)), riser
}

// railMost is the height of the rail's underside above the nosing line at which a sphere just passes.
func (s steps) railMost(sphere length.Length) length.Length {
	if s.over == nil {
		return TriangleRail(s.riser, s.tread, s.nosing, sphere)
	}
	most := s.over[0]
	for _, over := range s.over {
		most = math.Max(most, over)
	}
	return nearestNM(float64(sphere)/s.reach() - most)
}
