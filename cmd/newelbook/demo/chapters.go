package demo

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"newelbook/checklist"
	"newelbook/cmd/newelbook/demo/pictures"
	"newelbook/jobs"
	"newelbook/media"
	"newelbook/views/pack"
)

// badBolt is the check that fails on Tuesday and is put right on Wednesday.
const badBolt = "R1-P1 framing.bolt_upper"

// frame is Tuesday: every framing check is answered, one bolt too near the edge, and every place is photographed.
func (s *story) frame() error {
	s.Clock.set(day(1, 9, 0))
	if err := s.walk(checklist.Framing, keyed("framing.blocking"), nil); err != nil {
		return err
	}
	if err := s.walk(checklist.Framing, nil, map[string]slip{badBolt: beyondLimit(-8)}); err != nil {
		return err
	}
	s.Clock.set(day(1, 13, 30))
	if err := s.photograph(checklist.Framing); err != nil {
		return err
	}
	return s.writeDiary(1)
}

// putRight is Wednesday morning: the bolt is moved and measured again.
func (s *story) putRight() error {
	s.Clock.set(day(2, 10, 5))
	rec, sheet, err := s.sheet()
	if err != nil {
		return err
	}
	c, err := named(sheet, badBolt)
	if err != nil {
		return err
	}
	in, err := s.answer(c, sheet.Style, rec.Job.Spec.Grid, nil)
	if err != nil {
		return err
	}
	in.Note = "Bolt moved down; the old hole plugged."
	_, err = s.Service.TakeReadings(s.ctx, s.builder(), s.job, []jobs.ReadingInput{in})
	return err
}

// closeFraming is the rest of Wednesday: the stage is closed, the inspector is sent a framing pack and answers, and the
// runs are decked over.
func (s *story) closeFraming() error {
	if err := s.close(string(checklist.Framing)); err != nil {
		return err
	}
	if err := s.fitted("post", "blocking", "steel sleeve"); err != nil {
		return err
	}
	issued, err := s.Packs.Issue(s.ctx, s.builder(), s.job, pack.Order{Purpose: "framing inspection", Originals: true})
	if err != nil {
		return err
	}
	if _, s.inspectorLink, err = s.Service.MakeLink(s.ctx, s.builder(), s.job, jobs.LinkInput{Pack: issued.Number, For: string(jobs.RoleInspector), Name: inspector, Days: 730}); err != nil {
		return err
	}
	s.Clock.set(day(2, 11, 20))
	if _, err := s.Service.Answer(s.ctx, s.inspectorLink, "", "", jobs.AnswerInput{
		Kind: string(jobs.AnswerOutcome), Outcome: jobs.OutcomeAccepted, Stage: string(checklist.Framing), Name: inspector, Office: authority,
		On: s.Clock.Now().Format(time.DateOnly), Text: "Seen on site before decking, with the permit at hand.",
	}); err != nil {
		return err
	}
	for _, label := range []string{"R1", "R2", "R3", "R4"} {
		run, err := s.run(label)
		if err != nil {
			return err
		}
		s.Clock.pass(50 * time.Minute)
		if err := s.Service.CoverRun(s.ctx, s.crew(), s.job, jobs.CoverInput{RunID: run.ID, On: s.Clock.Now().Format(time.DateOnly), Note: "Decking down along the edge."}); err != nil {
			return fmt.Errorf("cover %s: %w", label, err)
		}
	}
	return s.writeDiary(2)
}

// strayHeight is the height that is first taken from the wrong face.
const strayHeight = "R1-P2 " + checklist.KeyPostTop

// posts is Thursday morning: one height is taken from the framing, and so again, and one opening comes out wider than planned.
func (s *story) posts() error {
	s.Clock.set(day(3, 7, 50))
	rec, sheet, err := s.sheet()
	if err != nil {
		return err
	}
	c, err := named(sheet, strayHeight)
	if err != nil {
		return err
	}
	if _, err := s.Service.TakeReadings(s.ctx, s.crew(), s.job, []jobs.ReadingInput{{
		Field: c.ID, CheckID: c.ID, Text: (*c.Nominal + rec.Job.Spec.Decking).Round(rec.Job.Spec.Grid).Format(sheet.Style), From: string(checklist.FromFraming),
		Note: "Hooked on the rim from the ladder.",
	}}); err != nil {
		return err
	}
	if err := s.walk(checklist.Posts, nil, map[string]slip{
		"R1-B1 " + checklist.KeyOpeningBottom: offNominal(3), "R1-B1 " + checklist.KeyOpeningTop: offNominal(3),
		"R4-P1 " + checklist.KeyPostWidth: offNominal(0), "R4-P1 " + checklist.KeyPostDepth: offNominal(0), // their sleeves are in already
		"R4-P2 " + checklist.KeyPostWidth: offNominal(0), "R4-P2 " + checklist.KeyPostDepth: offNominal(0),
	}); err != nil {
		return err
	}
	return s.close(string(checklist.Posts))
}

func (s *story) rails() error {
	s.Clock.set(day(3, 12, 40))
	if err := s.walk(checklist.Rails, nil, nil); err != nil {
		return err
	}
	if err := s.picture(pictures.RailEnd, "R1-B1", checklist.Rails, "Rail seated in its connector, cut to the opening as measured.", pictures.Params{}); err != nil {
		return err
	}
	if err := s.instructions(); err != nil {
		return err
	}
	if err := s.fitted("top rail", "bottom rail"); err != nil {
		return err
	}
	if err := s.offcut(); err != nil {
		return err
	}
	if err := s.close(string(checklist.Rails)); err != nil {
		return err
	}
	return s.writeDiary(3)
}

// infill is Friday: one gap is too close to call.
func (s *story) infill() error {
	s.Clock.set(day(4, 8, 10))
	if err := s.walk(checklist.InfillSt, nil, map[string]slip{"R2-B1 infill.gap": beyondLimit(-1)}); err != nil {
		return err
	}
	rec, err := s.Service.Record(s.ctx, s.job)
	if err != nil {
		return err
	}
	read := rec.Readings[len(rec.Readings)-1]
	for _, r := range rec.Readings {
		if r.Check.Place.Label+" "+r.Check.Key == "R2-B1 infill.gap" {
			read = r
		}
	}
	if err := s.picture(pictures.BalusterGap, "R2-B1", checklist.InfillSt, "The widest gap found in the bay, tape held level.", pictures.Params{Measure: read.Typed}); err != nil {
		return err
	}
	if err := s.pointOut(read); err != nil {
		return err
	}
	if err := s.picture(pictures.StairRail, "R3-B1", checklist.InfillSt, "Balusters plumb along the stair.", pictures.Params{Orientation: 6}); err != nil {
		return err
	}
	if err := s.tagged(pictures.BalusterGap, "R2-B2", "The ball held before a gap; the tag of the bay beside it."); err != nil {
		return err
	}
	if err := s.fitted("baluster"); err != nil {
		return err
	}
	return s.close(string(checklist.InfillSt))
}

// caps is Friday afternoon: one overhang is off the layout and the owner lives with it.
func (s *story) caps() error {
	s.Clock.set(day(4, 13, 15))
	if err := s.walk(checklist.Caps, nil, map[string]slip{"R2 caps.overhang_middle": pastTolerance(2)}); err != nil {
		return err
	}
	if err := s.picture(pictures.Overhang, "R2", checklist.Caps, "Overhang at the middle of the run, from the outside post face.", pictures.Params{NoExif: true}); err != nil {
		return err
	}
	if err := s.fitted("cap rail"); err != nil {
		return err
	}
	if err := s.writeDiary(4); err != nil {
		return err
	}
	s.Clock.set(day(5, 7, 45))
	d, err := s.deviation("R2", string(checklist.Caps))
	if err != nil {
		return err
	}
	if err := s.accept(d, owner, "Seen on site by the owner: the cap follows a bow in the board, nothing loads on it, and a new board would not be straighter."); err != nil {
		return err
	}
	return s.close(string(checklist.Caps))
}

// handOver is Saturday: post tops, the removable length, the pack, and the owner's answer.
func (s *story) handOver() error {
	s.Clock.set(day(5, 8, 30))
	if err := s.walk(checklist.PostTops, nil, nil); err != nil {
		return err
	}
	for _, top := range []struct {
		kind    pictures.Kind
		caption string
	}{
		{pictures.EndGrain, "End grain sealed before the cap went on."}, {pictures.PostCap, "Cap sized to the post as measured."},
	} {
		if err := s.picture(top.kind, "R2-P2", checklist.PostTops, top.caption, pictures.Params{}); err != nil {
			return err
		}
	}
	if err := s.close(string(checklist.PostTops)); err != nil {
		return err
	}
	if err := s.liftsOut(); err != nil {
		return err
	}
	if err := s.walk(checklist.Handover, nil, nil); err != nil {
		return err
	}
	if err := s.photograph(checklist.Handover); err != nil {
		return err
	}
	if err := s.picture(pictures.RemovableOut, "R4", checklist.Handover, "The removable length out, its sleeves to be covered at once.", pictures.Params{}); err != nil {
		return err
	}
	if err := s.acknowledged(); err != nil {
		return err
	}
	if err := s.close(string(checklist.Handover)); err != nil {
		return err
	}
	if err := s.writeDiary(5); err != nil {
		return err
	}
	s.Clock.set(day(5, 17, 5))
	issued, err := s.Packs.Issue(s.ctx, s.builder(), s.job, pack.Order{Originals: true})
	if err != nil {
		return err
	}
	if _, s.ownerLink, err = s.Service.MakeLink(s.ctx, s.builder(), s.job, jobs.LinkInput{Pack: issued.Number, For: string(jobs.RoleOwner), Name: owner, Days: 730}); err != nil {
		return err
	}
	s.Clock.set(day(5, 19, 40))
	_, err = s.Service.Answer(s.ctx, s.ownerLink, "", "", jobs.AnswerInput{
		Kind: string(jobs.AnswerAccept), Name: owner, Text: "Read, and shown how the removable length goes out and back.",
	})
	return err
}

// acknowledged has the owner and the inspector answer for the removable length, over links to the pack that says so: its deviation ends
// with that.
func (s *story) acknowledged() error {
	_, link, err := s.Service.MakeLink(s.ctx, s.builder(), s.job, jobs.LinkInput{Pack: 1, For: string(jobs.RoleOwner), Name: owner, Days: 30})
	if err != nil {
		return err
	}
	if _, err := s.Service.Answer(s.ctx, link, "", "", jobs.AnswerInput{
		Kind: string(jobs.AnswerAccept), Name: owner, Text: "I know that R4 lifts out, and that the edge is open while it is out.",
	}); err != nil {
		return err
	}
	_, err = s.Service.Answer(s.ctx, s.inspectorLink, "", "", jobs.AnswerInput{
		Kind: string(jobs.AnswerOutcome), Outcome: jobs.OutcomeAccepted, Stage: string(checklist.Handover), Name: inspector, Office: authority,
		On: s.Clock.Now().Format(time.DateOnly), Text: "R4 lifts out: its drop is under the rule set's figure for a required guard.",
	})
	return err
}

// pointOut draws over the newest photograph what it shows of the reading, and joins the two.
func (s *story) pointOut(read jobs.Reading) error {
	rec, err := s.Service.Record(s.ctx, s.job)
	if err != nil {
		return err
	}
	p := rec.Photos[len(rec.Photos)-1]
	return s.Service.MarkPhoto(s.ctx, s.crew(), s.job, jobs.MarkInput{
		ID: p.ID, Version: p.Version, Shows: []string{"clear gap", "tape in the frame"}, Reading: read.ID,
		Marks: []jobs.MarkText{{Kind: string(media.MarkMeasure), FromX: "33", FromY: "60", ToX: "62.5", ToY: "60", Text: read.Typed}},
	})
}

// fitted ticks every piece of these kinds as cut and fitted.
func (s *story) fitted(kinds ...string) error {
	rec, err := s.Service.Record(s.ctx, s.job)
	if err != nil {
		return err
	}
	for _, p := range rec.Pieces() {
		if p.Gone || !slices.Contains(kinds, p.What) {
			continue
		}
		if err := s.Service.TickPiece(s.ctx, s.crew(), s.job, jobs.TickInput{PieceID: p.ID, Step: string(jobs.StepFitted), Done: true}); err != nil {
			return fmt.Errorf("tick %s: %w", p.Label, err)
		}
	}
	return nil
}

// offcut keeps what is left of the last board of rails.
func (s *story) offcut() error {
	rec, err := s.Service.Record(s.ctx, s.job)
	if err != nil {
		return err
	}
	for _, p := range rec.Pieces() {
		if p.What != "top rail" {
			continue
		}
		for _, kind := range rec.StockKinds() {
			if kind.Section == p.Section {
				return s.Service.AddOnHand(s.ctx, s.crew(), s.job, jobs.OnHandInput{Stock: kind.Key(), Length: `31 1/2"`, Offcut: true, From: "the last board of rails"})
			}
		}
	}
	return errors.New("no stock for rails")
}

// kinds says which picture shows what a photograph check asks for.
var kinds = map[string]pictures.Kind{
	"framing.photo_wide": pictures.Wide, "framing.photo_inside": pictures.InsideFace, "framing.photo_outside": pictures.OutsideFace, "framing.photo_edges": pictures.BoltTape,
	"framing.photo_sleeve_inside": pictures.SleeveDown, "framing.photo_sleeve_depth": pictures.SleeveDepth, "framing.photo_sleeve_top": pictures.SleeveTop,
	"framing.photo_joists_across": pictures.JoistBays, "framing.photo_joists_along": pictures.JoistBays, "framing.photo_labels": pictures.Labels,
	"framing.photo_permit": pictures.PermitCard, "handover.photo_run": pictures.Finished,
}

// photograph takes every photograph that a stage asks for.
func (s *story) photograph(stage checklist.Stage) error {
	_, sheet, err := s.sheet()
	if err != nil {
		return err
	}
	st, _ := sheet.Stage(stage)
	var shots []shot
	var filed []jobs.PhotoInput
	for _, c := range st.Checks {
		if c.Check.Ask != checklist.AskPhoto {
			continue
		}
		kind, ok := kinds[c.Check.Key]
		if !ok {
			return fmt.Errorf("no picture shows %s", c.Check.Key)
		}
		p := pictures.Params{Label: c.Check.Place.Label, Note: c.Check.Key[len(stage)+1:], Permit: permit}
		if c.Check.Key == "framing.photo_edges" {
			if edge, ok := sheet.Check(c.Check.Place.ID + ".framing.bolt_upper"); ok && edge.Current != nil {
				p.Measure = edge.Current.Typed
			}
		}
		shots = append(shots, shot{kind, p})
		filed = append(filed, jobs.PhotoInput{CheckID: c.Check.ID, Caption: upperFirst(c.Check.PhotoShows) + "."})
	}
	taken, err := s.shoot(shots)
	if err != nil {
		return err
	}
	for i, in := range taken {
		filed[i].Facts, filed[i].Name = in.Facts, in.Name
	}
	_, err = s.Service.AddPhotos(s.ctx, s.crew(), s.job, filed)
	return err
}

// picture takes one photograph and files it at a place.
func (s *story) picture(kind pictures.Kind, label string, stage checklist.Stage, caption string, p pictures.Params) error {
	rec, err := s.Service.Record(s.ctx, s.job)
	if err != nil {
		return err
	}
	for _, place := range rec.Places() {
		if place.Label != label {
			continue
		}
		p.Label = label
		taken, err := s.shoot([]shot{{kind, p}})
		if err != nil {
			return err
		}
		in := taken[0]
		in.PlaceID, in.Stage, in.Caption = place.ID, string(stage), caption
		_, err = s.Service.AddPhotos(s.ctx, s.crew(), s.job, []jobs.PhotoInput{in})
		return err
	}
	return fmt.Errorf("no place %s", label)
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
