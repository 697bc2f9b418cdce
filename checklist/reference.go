package checklist

import (
	"fmt"
	"slices"
	"strings"

	"newelbook/checklist/length"
)

// Reference is what a length is taken from, in words that follow "from". Readings of one question that were taken from
// different references do not compare: a height from the framing differs from one off the decking by the decking.
type Reference string

// References.
const (
	FromDecking  Reference = "the finished decking"
	FromFraming  Reference = "the top of the framing"
	FromPostTop  Reference = "the top of the post"
	FromNosings  Reference = "the line of the nosings"
	FromTread    Reference = "the tread below"
	FromDatum    Reference = "the datum"
	FromFarEnd   Reference = "the far end"
	FromLastPost Reference = "the post before"
	FromPostFace Reference = "the outside face of the posts"
	FromString   Reference = "a string along the posts"
	FromRail     Reference = "the face of the top rail"
)

// Otherwise is another reference that a reading may have been taken from, and what it then comes to from the check's own.
type Otherwise struct {
	From   Reference      `json:"from"`
	Alike  bool           `json:"alike,omitempty"`  // the check's figures hold from it as well
	Offset *length.Length `json:"offset,omitempty"` // from the check's own reference to this one; nil where the layout does not say
	Down   bool           `json:"down,omitempty"`   // the reading is taken back towards the check's own reference
	By     string         `json:"by,omitempty"`     // what the offset rests on, after "by": the decking's 1 in on the layout
}

// comes is what a reading taken from o comes to from the check's own reference.
func (o Otherwise) comes(got length.Length) (length.Length, bool) {
	switch {
	case o.Alike:
		return got, true
	case o.Offset == nil:
		return 0, false
	case o.Down:
		return *o.Offset - got, true
	}
	return *o.Offset + got, true
}

// reads is what the tape shows from o where it would show at from the check's own reference.
func (o Otherwise) reads(at length.Length) (length.Length, bool) {
	switch {
	case o.Alike:
		return at, true
	case o.Offset == nil:
		return 0, false
	case o.Down:
		return *o.Offset - at, true
	}
	return at - *o.Offset, true
}

// Otherwise is the other reference of that name, where the check has it.
func (c Check) Otherwise(from Reference) (Otherwise, bool) {
	i := slices.IndexFunc(c.Others, func(o Otherwise) bool { return o.From == from })
	if i < 0 {
		return Otherwise{}, false
	}
	return c.Others[i], true
}

// AsReadFrom is the check with the nominal that a tape would show from that reference, so that what was typed can be compared with
// the layout; without one where the layout does not say. It is for Slipped, never for Evaluate.
func (c Check) AsReadFrom(from Reference) Check {
	o, other := c.Otherwise(from)
	if !other || c.Nominal == nil {
		return c
	}
	at, ok := o.reads(*c.Nominal)
	c.Nominal = nil
	if ok {
		c.Nominal = &at
	}
	return c
}

// measuredFrom gives the check its reference and the others that its readings may be taken from.
func (k Check) measuredFrom(from Reference, others ...Otherwise) Check {
	k.Reference, k.Others = from, others
	return k
}

// TakenElsewhere says whether an answer was taken from a reference that the check's figures do not hold from.
func (c Check) TakenElsewhere(a Answer) bool {
	o, other := c.Otherwise(a.From)
	return a.Length != nil && other && !o.Alike
}

// elsewhere is the result of a length that was taken from another reference: it is not judged, and says what it comes to where the
// layout lets that be worked out.
func elsewhere(c Check, a Answer, t Tool, style length.Style) Result {
	o, _ := c.Otherwise(a.From)
	r := Result{HeldTo: heldTo(c, style)}
	says := fmt.Sprintf("%s was taken from %s, and the figures hold from %s.", a.Length.Format(style), a.From, c.Reference)
	again := fmt.Sprintf("Read it from %s for a verdict.", c.Reference)
	comes, ok := o.comes(*a.Length)
	if !ok {
		r.Why = fmt.Sprintf("%s The layout does not say what it comes to from there. %s", says, again)
		return r
	}
	r.Comes = &comes
	would := Evaluate(c, Answer{Length: &comes, From: c.Reference}, t, style).Verdict
	r.Why = fmt.Sprintf("%s By %s it comes to %s from there, where it would %s. %s", says, o.By, comes.Format(style), conditional(would), again)
	return r
}

// conditional is a verdict after "would".
func conditional(v Verdict) string {
	switch v {
	case FailsLimit:
		return "fail the limit"
	case NotChecked:
		return "be " + v.Word()
	}
	return "be " + string(v)
}

// perhapsFrom says of a reading off the layout from which other reference it would be on it: nobody may have said so.
func perhapsFrom(c Check, got length.Length, style length.Style) string {
	for _, o := range c.Others {
		comes, ok := o.comes(got)
		if ok && !o.Alike && comes >= *c.Nominal-c.Minus && comes <= *c.Nominal+c.Plus {
			return fmt.Sprintf(" If it was taken from %s, it comes to %s from %s: read it again and say what it is taken from.", o.From, comes.Format(style), c.Reference)
		}
	}
	return ""
}

// Question is what a check asks, whatever the station along its run: heights at both ends of a bay are one question.
func Question(c Check) (id, title string) {
	id = strings.TrimSuffix(c.Key, stationOf(c.Key))
	switch id {
	case "framing.place":
		return id, "Places of the posts"
	case KeyPostTop:
		return id, "Heights of the post tops"
	case "rails.height":
		return id, "Heights of the top rail"
	case "caps.overhang":
		return id, "Overhangs of the cap"
	case "caps.height":
		return id, "Finished heights"
	}
	return id, c.Title
}

// Station is where along its place a check is read, after "at"; empty where it is read at one place alone.
func Station(c Check) string {
	switch stationOf(c.Key) {
	case "_start":
		return "the datum end"
	case "_middle":
		return "the middle"
	case "_end":
		return "the far end"
	case "_lowest":
		return "the lowest place"
	}
	return ""
}

// stationOf is the end of a key that says where along its place a check is read.
func stationOf(key string) string {
	for _, station := range []string{"_start", "_middle", "_end", "_lowest"} {
		if strings.HasSuffix(key, station) {
			return station
		}
	}
	return ""
}

// overDecking are the references that a height of a level run may be taken from instead of the finished decking. post is the post whose
// top is meant, 0 for none.
func (c *collector) overDecking(k Check, post int) Check {
	if c.rake() {
		others := []Otherwise{{From: FromTread}}
		if post > 0 {
			others = append(others, Otherwise{From: FromPostTop})
		}
		return k.measuredFrom(FromNosings, others...)
	}
	down := -c.Spec.Decking
	others := []Otherwise{{From: FromFraming, Offset: &down, By: fmt.Sprintf("the decking's %s on the layout", c.text(c.Spec.Decking))}}
	if post > 0 {
		others = append(others, c.fromPostTop(post))
	}
	return k.measuredFrom(FromDecking, others...)
}

// fromPostTop is the top of a post as a reference: as measured where it was, as laid out otherwise.
func (c *collector) fromPostTop(post int) Otherwise {
	o := Otherwise{From: FromPostTop, Down: true}
	if at, ok := c.MeasuredTop[post]; ok {
		o.Offset, o.By = &at, fmt.Sprintf("the post's top as measured at %s", c.text(at))
		return o
	}
	for _, p := range c.Layout.Posts {
		if p.Number == post {
			at := c.onGrid(p.Top)
			o.Offset, o.By = &at, fmt.Sprintf("the post's top at %s on the layout", c.text(at))
		}
	}
	return o
}

// alongRun are the references that a post's place may be taken from instead of the datum.
func (c *collector) alongRun(k Check, number int) Check {
	far := c.Layout.Length
	others := []Otherwise{{From: FromFarEnd, Offset: &far, Down: true, By: fmt.Sprintf("the run's %s on the layout", c.text(far))}}
	for _, p := range c.Layout.Posts {
		if p.Number == number-1 && p.Centre > 0 { // the datum post is the datum
			at := c.onGrid(p.Centre)
			others = append(others, Otherwise{From: FromLastPost, Offset: &at, By: fmt.Sprintf("the place of %s on the layout, %s", p.Label, c.text(at))})
		}
	}
	return k.measuredFrom(FromDatum, others...)
}
