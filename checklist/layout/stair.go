package layout

import (
	"fmt"

	"newelbook/checklist/codes"
	"newelbook/checklist/length"
)

// stair works out the geometry of a rake: from the total rise and the rule set's greatest riser, or from the riser and
// tread as measured.
func (w *work) stair() {
	r := w.run
	s := &Stair{TotalRise: r.TotalRise, Risers: r.Risers, Riser: r.Riser, Tread: r.Tread, Nosing: r.Nosing}
	w.out.Stair = s
	most := limitOf(w.in.Rules, codes.StairRiserMax, w.style)
	switch {
	case r.Tread <= 0:
		w.fatal(r.Label, "tread", "Enter the tread run: no rake can be laid out without it.")
		return
	case r.Riser > 0:
		if s.Risers == 0 && r.TotalRise > 0 {
			s.Risers = int(ratio{int64(r.TotalRise), int64(r.Riser)}.nearest())
		}
		if s.TotalRise == 0 {
			s.TotalRise = length.Length(s.Risers) * r.Riser
		}
		w.slope = slope{rise: r.Riser, run: r.Tread}
	case r.TotalRise <= 0:
		w.fatal(r.Label, "total_rise", "Enter the total rise, or the riser as measured: no rake can be laid out without one.")
		return
	case r.Risers == 0 && !most.known:
		w.fatal(r.Label, "risers", "Enter the number of risers: there is no figure in this rule set to find it from.")
		return
	default:
		if s.Risers == 0 {
			s.Risers, _ = EqualRisers(r.TotalRise, most.figure.Value)
		}
		s.Riser = ratio{int64(r.TotalRise), int64(s.Risers)}.nearest()
		// The slope is kept exact: the whole rise over as many treads as risers.
		w.slope = slope{rise: r.TotalRise, run: length.Length(s.Risers) * r.Tread}
		w.say("Stair: total rise %s in %s of %s.", w.text(r.TotalRise), plural(s.Risers, "riser"), w.text(s.Riser))
	}
	s.Treads = max(s.Risers-1, 0)
	s.StepSum = 2*s.Riser + s.Tread
	s.Run = length.Length(s.Treads) * s.Tread
	s.Angle, s.Complement, s.Factor = w.slope.angle(), 90-w.slope.angle(), w.slope.factor()
	w.say("Stair: rise %s in run %s is %.3f degrees above level, %.3f off plumb; each inch or millimetre of run is %.5f along the rake.", w.text(s.Riser), w.text(s.Tread), s.Angle, s.Complement, s.Factor)
	s.PostJog = length.MulDiv(w.spec.PostWidth, int64(w.slope.rise), int64(w.slope.run))
	w.say("Stair: a raked rail meets the uphill and the downhill face of a post %s apart in height: name the face.", w.text(s.PostJog))
	w.triangle(s)
	w.stairFigures(s, most)
	w.joint(s)
	s.Handrail = w.handrail(s)
}

// triangle works out the opening of riser, tread and bottom rail.
func (w *work) triangle(s *Stair) {
	s.Sphere = TriangleSphere(s.Riser, s.Tread, s.Nosing, w.spec.RakeBottom)
	w.say("Stair: the largest sphere through the triangle of riser, tread and bottom rail is %s, with the rail %s above the nosing line and a nosing of %s. A closed riser in the plane of the guard is assumed.",
		s.Sphere.FormatFine(w.style), w.text(w.spec.RakeBottom), w.text(s.Nosing))
	lim := limitOf(w.in.Rules, codes.OpeningTriangle, w.style)
	for _, general := range []string{codes.OpeningStair, codes.OpeningLevel} {
		if !lim.known {
			lim = limitOf(w.in.Rules, general, w.style)
		}
	}
	if !lim.known {
		return
	}
	s.RailMost = TriangleRail(s.Riser, s.Tread, s.Nosing, lim.figure.Value)
	if !lim.passes(s.Sphere) {
		value, _ := lim.against(s.Sphere, w.style)
		w.problem(w.run.Label, "rake_bottom", "A sphere of %s passes through the triangle of riser, tread and bottom rail; the figure is %s. The rail's underside must stand lower than %s above the nosing line.",
			value, lim.words, w.text(s.RailMost))
	}
}

// stairFigures holds riser, tread and uniformity to the rule set.
func (w *work) stairFigures(s *Stair, most limit) {
	test := func(key, field, what string, value length.Length) {
		if lim := limitOf(w.in.Rules, key, w.style); !lim.passes(value) {
			text, _ := lim.against(value, w.style)
			w.problem(w.run.Label, field, "%s is %s; the figure is %s.", what, text, lim.words)
		}
	}
	if !most.passes(s.Riser) {
		value, _ := most.against(s.Riser, w.style)
		w.problem(w.run.Label, "riser", "The riser is %s; the figure is %s.", value, most.words)
	}
	test(codes.StairRiserMin, "riser", "The riser", s.Riser)
	test(codes.StairTreadMin, "tread", "The tread", s.Tread)
	test(codes.StairTreadMax, "tread", "The tread", s.Tread)
	s.RiserSpread, s.RiserAdjacent = Uniformity(w.run.RisersMeasured)
	s.TreadSpread, s.TreadAdjacent = Uniformity(w.run.TreadsMeasured)
	if len(w.run.RisersMeasured) > 1 {
		test(codes.StairRiserUniform, "risers_measured", "The difference between the greatest and the smallest riser", s.RiserSpread)
		test(codes.StairRiserUniformAdjacent, "risers_measured", "The difference between neighbouring risers", s.RiserAdjacent)
	}
	if len(w.run.TreadsMeasured) > 1 {
		test(codes.StairTreadUniform, "treads_measured", "The difference between the greatest and the smallest tread", s.TreadSpread)
	}
}

// joint is how far behind the top nosing the level and the raked rail meet without a jog.
func (w *work) joint(s *Stair) {
	level, _, _ := w.heightOf(true)
	rake, _, _ := w.heightOf(false)
	if level <= 0 || rake <= 0 {
		return
	}
	s.Joint = length.MulDiv(level-rake, int64(w.slope.run), int64(w.slope.rise))
	w.say("Stair head: the level rail at %s and the raked one at %s meet without a jog %s behind the top nosing.", w.text(level), w.text(rake), w.text(s.Joint))
}

// handrail says whether the rule set asks for one on this flight.
func (w *work) handrail(s *Stair) string {
	figure, ok := w.in.Rules.Figure(codes.StairHandrailRisers)
	switch {
	case !ok:
		return "There is no figure in this rule set for the flight that needs a handrail: ask the authority."
	case s.Risers == 0:
		return "The number of risers is not given, so the handrail is not decided."
	case figure.Bound.TestNumber(float64(s.Risers), figure.Number):
		s.HandrailRequired = true
		return fmt.Sprintf("A handrail is required: %s, and the figure is %s %s (%s).", plural(s.Risers, "riser"), figure.Bound, figure.Text, figure.Source())
	}
	return fmt.Sprintf("A handrail is not required: %s, and the figure is %s %s (%s).", plural(s.Risers, "riser"), figure.Bound, figure.Text, figure.Source())
}
