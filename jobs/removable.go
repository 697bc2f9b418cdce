package jobs

import (
	"fmt"
	"strings"

	"newelbook/checklist"
	"newelbook/checklist/layout"
)

// removable opens the deviation that a removable length brings with it.
func (w *work) removable(run Run) error {
	if run.Kind != layout.Removable {
		return nil
	}
	for _, d := range w.rec.Deviations {
		if d.Kind == DevRemovable && d.Place.RunID == run.ID {
			return nil
		}
	}
	why := ""
	if run.RemovableWhy != "" {
		why = " (" + strings.TrimSuffix(run.RemovableWhy, ".") + ")"
	}
	return w.open(Deviation{
		Kind: DevRemovable, Stage: checklist.Handover, Place: checklist.Place{ID: run.ID, Kind: checklist.PlaceRun, RunID: run.ID, Label: run.Label},
		What: fmt.Sprintf("%s is a removable length%s. Most places do not accept one as a required guard: it needs the owner's written acknowledgement and, under a permit, the authority's answer.", run.Label, why),
	})
}

// Awaits says, in a finished sentence, whose answer an open deviation waits for: that of a length which still lifts out, for the
// owner's and, under a permit, the authority's. It is empty for a deviation that the builder ends by hand.
func (r *Record) Awaits(d Deviation) string {
	if !r.liftsOut(d) {
		return ""
	}
	var whose []string
	if _, said := r.acknowledged(d); !said {
		whose = append(whose, "the owner acknowledges it, by accepting over a link a pack that says so")
	}
	if _, said := r.permitted(d); !said && r.Job.Permit != "" {
		whose = append(whose, "the authority accepts the whole job or the handover over a link to such a pack, because there is a permit")
	}
	if len(whose) == 0 {
		return ""
	}
	return "It cannot be ended by hand. It ends when " + strings.Join(whose, ", and ") + "."
}

// liftsOut says whether a deviation is the open one of a length that is still to be removable.
func (r *Record) liftsOut(d Deviation) bool {
	run, ok := r.Run(d.Place.RunID)
	return ok && d.Kind == DevRemovable && d.State == DevOpen && !run.Retired && run.Kind == layout.Removable
}

// Acknowledges lists the open deviations of removable lengths that the owner acknowledges by accepting the pack.
func (r *Record) Acknowledges(p IssuedPack) []Deviation {
	var out []Deviation
	for _, d := range r.Deviations {
		if r.liftsOut(d) && !p.Issued.Before(d.Opened) {
			out = append(out, d)
		}
	}
	return out
}

// acknowledged is the owner's standing acceptance of a pack that has the deviation; a refusal since takes it back.
func (r *Record) acknowledged(d Deviation) (Answer, bool) {
	return r.standing(d, RoleOwner, func(a Answer) (says, yes bool) {
		return a.Kind == AnswerAccept || a.Kind == AnswerDecline, a.Kind == AnswerAccept
	})
}

// permitted is the authority's standing acceptance of the handover, or of the whole job, over such a pack.
func (r *Record) permitted(d Deviation) (Answer, bool) {
	return r.standing(d, RoleInspector, func(a Answer) (says, yes bool) {
		return a.Kind == AnswerOutcome && (a.Stage == "" || a.Stage == checklist.Handover), a.Outcome == OutcomeAccepted
	})
}

// standing is the newest answer of a role that speaks of the deviation's place, and whether it says yes. An answer that names another
// place, or that is to a pack from before the deviation, does not speak of it.
func (r *Record) standing(d Deviation, from Role, reads func(Answer) (says, yes bool)) (Answer, bool) {
	for i := len(r.Answers) - 1; i >= 0; i-- {
		a := r.Answers[i]
		p, ok := r.Pack(a.Pack)
		if !ok || a.From != from || p.Issued.Before(d.Opened) || a.Place != "" && !strings.EqualFold(a.Place, d.Place.Label) {
			continue
		}
		if says, yes := reads(a); says {
			return a, yes
		}
	}
	return Answer{}, false
}

// answered ends the deviations of removable lengths that now have every answer which they wait for.
func (w *work) answered() error {
	for _, d := range w.rec.Deviations {
		if !w.rec.liftsOut(d) {
			continue
		}
		owner, ok := w.rec.acknowledged(d)
		if !ok {
			continue
		}
		d.Name, d.Reason = owner.Name+", owner", fmt.Sprintf("Acknowledged by accepting pack %d.", owner.Pack)
		if w.rec.Job.Permit != "" {
			authority, ok := w.rec.permitted(d)
			if !ok {
				continue
			}
			d.Name += "; " + authority.Name + ", for the authority"
			d.Reason += fmt.Sprintf(" Accepted by the authority over pack %d.", authority.Pack)
		}
		d.State, d.Ended, d.EndedBy = DevAccepted, w.at, w.by
		d.Version++
		if err := w.emit(EvDeviationChanged, Change{Deviation: &d}); err != nil {
			return err
		}
	}
	return nil
}
