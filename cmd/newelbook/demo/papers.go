package demo

import (
	"bytes"
	"fmt"
	"time"

	"newelbook/checklist"
	"newelbook/cmd/newelbook/demo/pictures"
	"newelbook/jobs"
	"newelbook/views/draw"
	"newelbook/views/pack"
)

// sheetOf is one invented paper: a page with its head, a caution that it is invented, and what it says.
func (s *story) sheetOf(title, from, number string, on time.Time, says ...pack.Block) ([]byte, error) {
	p := particulars()
	d := pack.Document{
		Title: title, Edition: "Invented for the demonstration", JobRef: p.Ref, Site: p.Site, Issued: on.Format("2 January 2006"), Author: from, Lang: "en", Created: on, OnePage: true,
		Facts:    []pack.Fact{{Key: "Number", Value: pack.Cell{Text: number}}, {Key: "Issued by", Value: pack.Cell{Text: from}}},
		Cautions: []string{"This paper is invented, with everything in it. Nothing was approved, tested or calculated."},
		Sections: []pack.Section{{ID: "says", Heading: "What it says", Level: 1, Blocks: says}},
	}
	var out bytes.Buffer
	err := pack.WritePDF(&out, d, pack.Options{Paper: pack.Letter, Fonts: pack.Fonts()})
	return out.Bytes(), err
}

func says(text string) pack.Block { return pack.Para{Runs: []pack.Run{{Text: text}}} }

// attach takes an invented paper in and attaches it.
func (s *story) attach(by jobs.By, body []byte, name string, in jobs.PaperInput) (string, error) {
	s.Clock.pass(3 * time.Minute)
	facts, err := s.Media.IntakePaper(s.ctx, bytes.NewReader(body))
	if err != nil {
		return "", fmt.Errorf("%s: %w", name, err)
	}
	in.Facts, in.Name = facts, name
	if in.PlaceID == "" {
		in.PlaceID = "job"
	}
	return s.Service.AddPaper(s.ctx, by, s.job, in)
}

// approved attaches what the authority sent with the permit, and the sheet that names the ties' tested strength.
func (s *story) approved() error {
	rec, sheet, err := s.sheet()
	if err != nil {
		return err
	}
	plan := draw.Plan(sheet.Plan, draw.PlanOptions{Width: 170, Height: 110, Style: rec.Job.Units.Style()})
	body, err := s.sheetOf("Guard and stair, sheet A-3, as approved", authority, "A-3", day(-6, 12, 0),
		says("Approved with the permit "+permit+". Guards as drawn; the removable length R4 to be dealt with by its drop."), pack.Drawing{Number: "A-3", Caption: "Plan of the guard.", Sheet: plan})
	if err != nil {
		return err
	}
	if _, err := s.attach(s.builder(), body, "A-3 approved.pdf", jobs.PaperInput{
		Kind: string(jobs.PaperDrawing), Title: "Guard and stair, sheet A-3, as approved (invented)", On: day(-6, 0, 0).Format(time.DateOnly), Issuer: authority,
	}); err != nil {
		return err
	}
	const house = "Kiln Street Test House (invented)"
	body, err = s.sheetOf("Tension tie: pull on the upper bolt", house, "KS 88", day(-400, 12, 0),
		says("Five specimens of the tie at the upper bolt of a 4x4 post, pulled to failure. The figure that the maker publishes is 1,800 lb."))
	if err != nil {
		return err
	}
	_, err = s.attach(s.builder(), body, "tie.pdf", jobs.PaperInput{
		Kind: string(jobs.PaperTest), Title: "Tension tie: pull on the upper bolt (invented)", On: day(-400, 0, 0).Format(time.DateOnly), Issuer: house,
	})
	return err
}

// instructions attaches the label of the rail connectors, photographed.
func (s *story) instructions() error {
	body, err := pictures.Draw(pictures.Labels, pictures.Params{Label: "R1-B1", Note: "rail connector: fitting and care", At: s.Clock.Now()})
	if err != nil {
		return err
	}
	_, err = s.attach(s.crew(), body, "connector label.jpg", jobs.PaperInput{
		Kind: string(jobs.PaperLabel), Title: "Rail connector: fitting, tightening and care (invented)", Issuer: "Saltglaze Fittings (invented)",
	})
	return err
}

// liftsOut attaches what was written of the removable length: an engineer's letter under its deviation, and the owner's acknowledgement,
// which the answer at handover names.
func (s *story) liftsOut() error {
	run, err := s.run("R4")
	if err != nil {
		return err
	}
	d, err := s.deviation("R4", string(checklist.Handover))
	if err != nil {
		return err
	}
	const engineer = "T. Orrin, P.E. (invented)"
	body, err := s.sheetOf("R4: posts in sleeves", engineer, "Letter 1", day(3, 12, 0), says("The posts of R4 stand in sleeves of the depth on the builder's sheet. This letter is of the posts while R4 is in; while it is out the edge is open."))
	if err != nil {
		return err
	}
	if _, err := s.attach(s.builder(), body, "R4 letter.pdf", jobs.PaperInput{
		Kind: string(jobs.PaperLetter), Title: "R4: posts in sleeves (invented)", On: day(3, 0, 0).Format(time.DateOnly), Issuer: engineer, PlaceID: run.ID, Rests: "deviation:" + d.ID,
	}); err != nil {
		return err
	}
	body, err = s.sheetOf("I know that R4 lifts out", owner, "Acknowledgement", day(5, 8, 0), says("I was shown how R4 lifts out and goes back, how it is locked, and how its sleeves are covered. While it is out the edge is open, and I keep people away from it."),
		pack.SignOff{Lines: []pack.SignLine{{Says: "Read and understood.", Name: owner, Office: "Owner", Date: day(5, 0, 0).Format("2 January 2006")}}})
	if err != nil {
		return err
	}
	s.acknowledgement, err = s.attach(s.builder(), body, "R4 acknowledged.pdf", jobs.PaperInput{
		Kind: string(jobs.PaperOther), Title: "The owner's acknowledgement of R4 (invented)", On: day(5, 0, 0).Format(time.DateOnly), Issuer: owner, PlaceID: run.ID, Rests: "deviation:" + d.ID,
	})
	return err
}
