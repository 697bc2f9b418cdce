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
	s := &Stair{TotalRise: r.TotalRise, Risers: r.Risers, Riser: r.Riser, Tread: r.Tread, Nosing: r.Nosing, Tested: []Tested{}, Asks: []string{}}
	w.out.Stair = s
	if n := len(r.RisersMeasured); n > 1 {
		if s.Risers == 0 {
			s.Risers = n
		}
		if s.TotalRise == 0 && s.Riser == 0 && s.Risers == n {
			s.TotalRise = total(r.RisersMeasured)
		}
	}
	most := limitOf(w.in.Rules, codes.StairRiserMax, w.style)
	switch {
	case r.Tread <= 0:
		w.fatal(r.Label, "tread", "Enter the tread run: no rake can be laid out without it.")
		return
	case r.Riser > 0:
		if s.Risers == 0 && s.TotalRise > 0 {
			s.Risers = int(ratio{int64(s.TotalRise), int64(r.Riser)}.nearest())
		}
		if s.TotalRise == 0 {
			s.TotalRise = length.Length(s.Risers) * r.Riser
		}
		w.slope = slope{rise: r.Riser, run: r.Tread}
	case s.TotalRise <= 0:
		w.fatal(r.Label, "total_rise", "Enter the total rise, or the riser as measured: no rake can be laid out without one.")
		return
	case s.Risers == 0 && !most.known:
		w.fatal(r.Label, "risers", "Enter the number of risers: there is no figure in this rule set to find it from.")
		return
	default:
		if s.Risers == 0 {
			s.Risers, _ = EqualRisers(s.TotalRise, most.figure.Value)
		}
		s.Riser = ratio{int64(s.TotalRise), int64(s.Risers)}.nearest()
		// The slope is kept exact: the whole rise over as many treads as risers.
		w.slope = slope{rise: s.TotalRise, run: length.Length(s.Risers) * r.Tread}
		w.say("Stair: total rise %s in %s of %s.", w.text(s.TotalRise), plural(s.Risers, "riser"), w.text(s.Riser))
	}
	s.Treads = max(s.Risers-1, 0)
	w.takeNosing()
	s.NosingFrom = w.run.NosingFrom
	s.StepSum = 2*s.Riser + s.Tread
	s.Run = length.Length(s.Treads) * s.Tread
	s.Angle, s.Complement, s.Factor = w.slope.angle(), 90-w.slope.angle(), w.slope.factor()
	w.say("Stair: rise %s in run %s is %.3f degrees above level, %.3f off plumb; each inch or millimetre of run is %.5f along the rake.", w.text(s.Riser), w.text(s.Tread), s.Angle, s.Complement, s.Factor)
	s.PostJog = length.MulDiv(w.spec.PostWidth, int64(w.slope.rise), int64(w.slope.run))
	w.say("Stair: a raked rail meets the uphill and the downhill face of a post %s apart in height: name the face.", w.text(s.PostJog.Round(w.spec.Grid)))
	w.stepsFit(s)
	w.stairFigures(s)
	w.triangle(s)
	w.joint(s)
	w.handrail(s)
	w.sayUntested()
}

// ask adds what is still to be measured or said of the flight.
func (w *work) ask(format string, args ...any) {
	w.out.Stair.Asks = append(w.out.Stair.Asks, fmt.Sprintf(format, args...))
}

// joint is how far behind the top nosing the level and the raked rail meet without a jog.
func (w *work) joint(s *Stair) {
	level, _, _ := w.heightOf(true)
	for _, m := range w.in.Meets {
		if spec, _ := w.in.Spec.With(m.Run.Overrides, w.in.Unit); spec.LevelHeight > 0 { // faults stand in that run's layout
			level = spec.LevelHeight
		}
	}
	rake, _, _ := w.heightOf(false)
	if level <= 0 || rake <= 0 {
		return
	}
	s.Joint = length.MulDiv(level-rake, int64(w.slope.run), int64(w.slope.rise))
	w.say("Stair head: the level rail at %s and the raked one at %s meet without a jog %s behind the top nosing.", w.text(level), w.text(rake), w.text(s.Joint))
}
