package layout

import (
	"fmt"
	"reflect"
	"strings"

	"newelbook/checklist/length"
)

// Strip is what is marked on one rail, seen on the face that has the datum end to the left: the same for a drawing to scale and for
// a strip at full size. Marks and lengths are along the rail's top edge, from its datum-end cut. Where an end is bevelled in plan the two
// faces begin and end at other places, and all of it is along the face that is seen, from that face's own cut.
type Strip struct {
	Rail    Rail            `json:"rail"`
	Which   string          `json:"which"`          // RailTop or RailBottom
	Version string          `json:"version"`        // planned or as built
	Depth   length.Length   `json:"depth"`          // of the rail as it stands, square to its length
	Noun    string          `json:"noun"`           // what stands on a mark, as Infill.Noun has it
	Member  length.Length   `json:"member"`         // what one takes of the rail's edge: along a rake more than its width
	Rise    length.Length   `json:"rise"`           // of the rail away from the datum, negative where it falls; zero on the level
	Run     length.Length   `json:"run"`            // that goes with Rise; zero on the level
	Square  bool            `json:"square"`         // the ends are cut square; on a rake what stands on it is plumb all the same
	Marks   []length.Length `json:"marks"`          // their centres
	Hook    string          `json:"hook"`           // what the tape hooks on and what the marks are to, in words
	Face    string          `json:"face,omitempty"` // which face is seen, where an end is bevelled in plan; else empty
	// OtherFrom and OtherTo are how far past this face's datum end, and its far end, the other face has its own, negative where nearer the datum.
	OtherFrom length.Length `json:"other_from,omitempty"`
	OtherTo   length.Length `json:"other_to,omitempty"`
	Grid      length.Length `json:"grid"` // that marks are lettered to
}

// Which rail of a bay a strip is for.
const (
	RailTop    = "top"
	RailBottom = "bottom"
)

// Lean is how far a plumb line moves away from the datum for one of height square to the rail; zero on the level.
func (s Strip) Lean() float64 {
	if s.Run == 0 {
		return 0
	}
	return float64(s.Rise) / float64(s.Run)
}

// stripFace is the face that has the datum end to the left.
const stripFace = "the face on the right, seen from the datum"

// Long is how long the face that is seen is: the rail's length, which is along its middle, less half of what either end is bevelled by, or more.
func (s Strip) Long() length.Length { return s.Rail.Cut + (s.OtherFrom-s.OtherTo)/2 }

// Lettered is a place along the face as it is lettered: a mark that a bevel moved off the grid to the nearest on it.
func (s Strip) Lettered(at length.Length) length.Length {
	if s.Face == "" {
		return at
	}
	return at.Round(s.Grid)
}

// bevel moves a strip that is along the middle of a rail, so wide seen from above, to the face that is seen.
func (s *Strip) bevel(across length.Length) {
	r := s.Rail
	if r.SkewFrom == 0 && r.SkewTo == 0 {
		return
	}
	past := func(skew float64) length.Length { // from the cut on the face that is seen to that on the other
		if skew < 0 {
			return -2 * skewOver(skew, across)
		}
		return 2 * skewOver(skew, across)
	}
	s.Face, s.OtherFrom, s.OtherTo = stripFace, -past(r.SkewFrom), past(r.SkewTo)
	if r.SkewFrom == 0 {
		return
	}
	s.Hook = fmt.Sprintf("the datum-end cut of the %s rail on %s, to %s centres", s.Which, stripFace, s.Noun)
	marks := make([]length.Length, len(s.Marks))
	for i, m := range s.Marks {
		marks[i] = m + s.OtherFrom/2
	}
	s.Marks = marks
}

// EndLean is the same for the cuts of the rail's ends.
func (s Strip) EndLean() float64 {
	if s.Square {
		return 0
	}
	return s.Lean()
}

// Strips lists the strips of a bay as used: its bottom rail's, and its top rail's, with the same marks where it is cut from the same opening
// with the same connectors and with its own otherwise; none where those could not be laid out, which Infill.TopNote says. run and spec
// are those that l was computed from, the run's overrides laid over the job's. Nothing where the bay has no layout.
func Strips(l Layout, b Bay, run Run, spec Spec) []Strip {
	p := b.Used()
	if p == nil {
		return nil
	}
	s := Strip{Rail: p.Bottom, Which: RailBottom, Version: "planned", Depth: spec.RailDepth(), Noun: p.Infill.Noun(), Member: p.Infill.Member, Marks: p.Infill.Marks, Hook: p.Infill.Hook, Grid: l.Grid}
	if b.Built != nil {
		s.Version = "as built"
	}
	if l.Stair != nil {
		s.Rise, s.Run, s.Square = l.Stair.Riser, l.Stair.Tread, spec.RailRakeEnd == EndSquare
		s.Member = slope{s.Rise, s.Run}.along(s.Member)
		if run.Down() {
			s.Rise = -s.Rise
		}
	}
	top := s
	top.Rail, top.Which = p.Top, RailTop
	top.Hook = strings.Replace(s.Hook, RailBottom+" rail", RailTop+" rail", 1)
	switch {
	case p.Infill.TopMarks != nil:
		top.Marks = p.Infill.TopMarks
	case p.Top.Clear != p.Bottom.Clear || p.Top.Allowance != p.Bottom.Allowance:
		s.bevel(spec.railAcross())
		return []Strip{s}
	}
	s.bevel(spec.railAcross())
	top.bevel(spec.railAcross())
	return []Strip{s, top}
}

// Alike groups the bays that are laid out alike, in order of the first of each; measured bays stand alone, and so do those without a
// layout.
func Alike(l Layout) [][]Bay {
	var groups [][]Bay
	same := func(a, b Bay) bool {
		if a.Built != nil || b.Built != nil || a.Planned == nil || b.Planned == nil {
			return false
		}
		x, y := *a.Planned, *b.Planned
		x.Top.Label, x.Bottom.Label, y.Top.Label, y.Bottom.Label = "", "", "", ""
		return reflect.DeepEqual(x, y)
	}
next:
	for _, b := range l.Bays {
		for i := range groups {
			if same(groups[i][0], b) {
				groups[i] = append(groups[i], b)
				continue next
			}
		}
		groups = append(groups, []Bay{b})
	}
	return groups
}

// StripError says why a rail has no strip, in a finished sentence.
type StripError struct{ Reason string }

func (e *StripError) Error() string    { return e.Reason }
func (e *StripError) Sentence() string { return e.Reason }

// FindStrip returns the strip of the rail that is named by its label, such as "R1-B2 bottom", letters large or small; the bay's label
// alone stands for its bottom rail. The error is a *StripError: no such rail, a bay without a layout, with nothing that stands on its rails, or a top
// rail that is not marked as its bottom rail is.
func FindStrip(l Layout, run Run, spec Spec, name string) (Strip, error) {
	name = strings.Join(strings.Fields(name), " ")
	for _, b := range l.Bays {
		which, found := railOf(b.Label, name)
		if !found {
			continue
		}
		strips := Strips(l, b, run, spec)
		switch {
		case len(strips) == 0:
			return Strip{}, &StripError{fmt.Sprintf("%s has no layout, so there is nothing to mark: put right first what stands against it.", b.Label)}
		case len(strips[0].Marks) == 0:
			return Strip{}, &StripError{fmt.Sprintf("%s takes no %s, so there is nothing to mark on its rails.", b.Label, strips[0].Noun)}
		}
		for _, s := range strips {
			if s.Which == which {
				return s, nil
			}
		}
		return Strip{}, &StripError{topUnmarked(b)}
	}
	if len(l.Bays) == 0 {
		return Strip{}, &StripError{fmt.Sprintf("%s has no bay that was laid out, so no rail to mark.", l.Label)}
	}
	return Strip{}, &StripError{fmt.Sprintf("There is no rail %q in %s: name one from %s to %s, with bottom or top behind it.", name, l.Label, l.Bays[0].Label, l.Bays[len(l.Bays)-1].Label)}
}

// topUnmarked says why the top rail of a bay has no marks. One that was laid out before top rails had marks of their own does not say.
func topUnmarked(b Bay) string {
	if note := b.Used().Infill.TopNote; note != "" {
		return fmt.Sprintf("The top rail of %s has no marks yet. %s", b.Label, note)
	}
	return fmt.Sprintf("The top rail of %s is cut from another opening or with other connectors than its bottom rail, and this layout has no marks of its own for it: mark the bottom rail, stand each %s plumb on it and mark the top rail from them.", b.Label, b.Used().Infill.Noun())
}

// railOf says which rail of the bay is named, if one is.
func railOf(bay, name string) (which string, found bool) {
	for _, w := range []string{RailBottom, RailTop} {
		if strings.EqualFold(name, bay+" "+w) {
			return w, true
		}
	}
	return RailBottom, strings.EqualFold(name, bay)
}
