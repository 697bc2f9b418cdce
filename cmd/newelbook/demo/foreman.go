package demo

import (
	"fmt"
	"hash/fnv"
	"strconv"
	"strings"
	"time"

	"newelbook/checklist"
	"newelbook/checklist/length"
	"newelbook/jobs"
)

// slip is a reading of the story that is not as it should be.
type slip func(c checklist.Check, grid length.Length) (length.Length, bool)

// walk goes round the checks of a stage that no reading meets yet and that pass the filter, and answers each.
func (s *story) walk(stage checklist.Stage, of func(checklist.Check) bool, slips map[string]slip) error {
	rec, sheet, err := s.sheet()
	if err != nil {
		return err
	}
	st, _ := sheet.Stage(stage)
	grid := rec.Job.Spec.Grid
	byPlace := map[string][]jobs.ReadingInput{}
	var places []string
	for _, c := range st.Checks {
		if c.Verdict() != checklist.NotChecked || c.Check.Ask == checklist.AskPhoto || of != nil && !of(c.Check) {
			continue
		}
		in, err := s.answer(c.Check, sheet.Style, grid, slips[c.Check.Place.Label+" "+c.Check.Key])
		if err != nil {
			return err
		}
		if byPlace[c.Check.Place.ID] == nil {
			places = append(places, c.Check.Place.ID)
		}
		byPlace[c.Check.Place.ID] = append(byPlace[c.Check.Place.ID], in)
	}
	for _, place := range places {
		s.Clock.pass(6 * time.Minute)
		if _, err := s.Service.TakeReadings(s.ctx, s.crew(), s.job, byPlace[place]); err != nil {
			return fmt.Errorf("at %s: %w", place, err)
		}
	}
	return nil
}

// answer is what somebody with a tape would enter: what the layout asks for, give or take a grain of the grid, adjusted
// on the spot until it is good, unless the story says otherwise.
func (s *story) answer(c checklist.Check, style length.Style, grid length.Length, wrong slip) (jobs.ReadingInput, error) {
	in := jobs.ReadingInput{Field: c.ID, CheckID: c.ID}
	switch c.Ask {
	case checklist.AskSeen:
		in.Seen = string(checklist.SeenYes)
		if c.Key == checklist.KeyOwnerTold {
			in.PaperID = s.acknowledgement
		}
		return in, nil
	case checklist.AskMoist:
		in.Text = fmt.Sprintf("%d.%d", 12+chance(c.Place.Label+" "+c.Key)%4, chance(c.Key+" "+c.Place.Label)%10)
		return in, nil
	case checklist.AskCount:
		if c.Count == nil {
			return in, fmt.Errorf("%s has nothing to count", c.ID)
		}
		in.Text = strconv.Itoa(*c.Count)
		return in, nil
	}
	if wrong != nil {
		l, ok := wrong(c, grid)
		if !ok {
			return in, fmt.Errorf("%s has no figure to miss", c.ID)
		}
		in.Text = l.Format(style)
		return in, nil
	}
	if c.Ask == checklist.AskGap && len(c.Limits) > 0 && chance(c.Place.Label+" "+c.Key)%2 == 0 {
		in.Gauge, in.Tool = string(checklist.GaugeStopped), string(checklist.ToolGauge)
		return in, nil
	}
	for _, l := range tries(c, grid) {
		answer := checklist.Answer{Length: &l}
		if checklist.Evaluate(c, answer, checklist.UsualTool(c, answer), style).Verdict == checklist.Good {
			in.Text = l.Format(style)
			return in, nil
		}
	}
	if c.Ask == checklist.AskGap {
		in.Gauge, in.Tool = string(checklist.GaugeStopped), string(checklist.ToolGauge)
		return in, nil
	}
	return in, fmt.Errorf("%s: nothing near its figures is good", c.ID)
}

// tries are the readings that the tape may show, the likeliest first: about the nominal, or inside the limit.
func tries(c checklist.Check, grid length.Length) []length.Length {
	var about length.Length
	switch {
	case c.Nominal != nil:
		about = c.Nominal.Round(grid)
	case len(c.Limits) > 0:
		about = c.Limits[0].Value.Round(grid)
	}
	first := length.Length(chance(c.Place.Label+" "+c.Key)%3) - 1
	out := []length.Length{about + first*grid}
	for n := length.Length(0); n <= 24; n++ {
		out = append(out, about-n*grid, about+n*grid)
	}
	return out
}

// chance is a number that looks like chance and is the same every time.
func chance(seed string) uint32 {
	h := fnv.New32a()
	h.Write([]byte(seed))
	return h.Sum32()
}

// beyondLimit is past the limit by so many grains of the grid.
func beyondLimit(grains length.Length) slip {
	return func(c checklist.Check, grid length.Length) (length.Length, bool) {
		if len(c.Limits) == 0 {
			return 0, false
		}
		return c.Limits[0].Value + grains*grid, true
	}
}

// offNominal is so many grains of the grid off the layout.
func offNominal(grains length.Length) slip {
	return func(c checklist.Check, grid length.Length) (length.Length, bool) {
		if c.Nominal == nil {
			return 0, false
		}
		return c.Nominal.Round(grid) + grains*grid, true
	}
}

// pastTolerance is so many grains of the grid more than the workmanship tolerance allows.
func pastTolerance(grains length.Length) slip {
	return func(c checklist.Check, grid length.Length) (length.Length, bool) {
		if c.Nominal == nil || !c.HasTol {
			return 0, false
		}
		return (*c.Nominal + c.Plus).Round(grid) + grains*grid, true
	}
}

func keyed(keys ...string) func(checklist.Check) bool {
	return func(c checklist.Check) bool {
		for _, k := range keys {
			if strings.HasPrefix(c.Key, k) {
				return true
			}
		}
		return false
	}
}
