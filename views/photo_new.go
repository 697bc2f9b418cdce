package views

import (
	"newelbook/checklist"
	"newelbook/jobs"
)

// PhotoNewPage takes photographs in: for one check, or for a place and stage that are chosen.
type PhotoNewPage struct {
	Frame
	Form     Form
	URL      string
	Back     string // where the form leads when all are in
	CheckID  string
	Asks     []Fact // what the check wants to see
	Hides    string // why it cannot wait
	Policy   string
	SlateURL string // what is held in view, filled in for this place
	Stage    *Field
	At       *Field
	Caption  Field
	Files    Field
	Outcomes []Row // what came of each file of the sending before
	Held     []Photo
	Cannot   *PhotoCannot
}

// PhotoCannot says in the record that a photograph cannot be taken.
type PhotoCannot struct {
	URL, FormID, Back string
	Seen, NA          string // name and value of the answer
	Reason            Field
	Hold              bool // a reason does not fill a hold point
}

// PhotoTarget is what photographs are filed to: a check, or a place and a stage.
type PhotoTarget struct{ CheckID, PlaceID, Stage string }

// PhotoOutcome is what came of one file: the photograph's number, or the sentence it was refused with.
type PhotoOutcome struct {
	Name    string
	Number  int    // 0 where it was not filed
	HeldAs  int    // number of the photograph that the same original was held as before, 0 for none
	Refused string // finished sentences
}

// NewPhotoNew is the page. outcomes are those of the sending before, empty at first; cannotID is the id of the form that says
// why there is no photograph. A check that the layout no longer has is not found.
func NewPhotoNew(f Frame, rec *jobs.Record, to PhotoTarget, form Form, back string, outcomes []PhotoOutcome, cannotID string) (PhotoNewPage, error) {
	sheet, err := rec.Sheet()
	if err != nil {
		return PhotoNewPage{}, err
	}
	job := rec.Job
	p := PhotoNewPage{Form: form, URL: JobURL(job.ID, "photos"), Back: form.Text("back", back), CheckID: to.CheckID, Policy: policyText(job), SlateURL: SlateURL(job.ID, to)}
	if to.CheckID != "" {
		c, ok := sheet.Check(to.CheckID)
		if !ok {
			return PhotoNewPage{}, jobs.ErrNotFound
		}
		p.ask(&f, rec, c, cannotID, form)
	} else {
		p.At, p.Stage = filterField(f, "place", "What it shows", byTag(placeOptions(rec, "Choose the run, post or bay")), form.Text("place", to.PlaceID)),
			filterField(f, "stage", "Stage", stageOptions("Choose the stage"), form.Text("stage", to.Stage))
		p.Stage.Hint = "With the tag it may stay empty: the time of the picture then says."
		if place, ok := rec.Place(p.At.Value); ok && place.Kind != checklist.PlaceJob {
			f.Place = place.Label
		}
	}
	if p.Back == "" {
		p.Back = PhotosURL(job.ID, "", placed(to.PlaceID))
	}
	p.Caption = newField(f, "caption", "Caption")
	p.Caption.Hint, p.Caption.Value, p.Caption.Complete = "May stay empty.", form.Text("caption", ""), "off"
	p.Files = newField(f, "photos", "Photographs")
	p.Files.Hint, p.Files.Accept, p.Files.Many = "As the camera saved them, JPEG first of all; one or many.", "image/jpeg,image/png,image/webp", true
	for _, o := range outcomes {
		p.Outcomes = append(p.Outcomes, o.row())
	}
	p.Frame = f
	return p, nil
}

// ask fills in what a check wants to see, what is there of it, and the way to say that it cannot be taken.
func (p *PhotoNewPage) ask(f *Frame, rec *jobs.Record, c *jobs.CheckState, cannotID string, form Form) {
	check := c.Check
	f.Title, f.Place = photoTitle(check), check.Place.Label
	if check.PhotoShows != "" {
		p.Asks = append(p.Asks, Fact{Label: "Must show", Value: check.PhotoShows})
	}
	if check.How != "" {
		p.Asks = append(p.Asks, Fact{Label: "How", Value: check.How})
	}
	p.Asks = append(p.Asks, Fact{Label: "Filed at", Value: check.Place.Label + ", " + string(check.Stage)})
	p.Hides = check.Reason
	if p.Back == "" {
		p.Back = CheckURL(rec.Job.ID, check.ID)
	}
	for _, x := range c.Photos {
		p.Held = append(p.Held, photo(rec, x))
	}
	if check.Ask != checklist.AskPhoto || len(c.Photos) > 0 {
		return
	}
	p.Cannot = &PhotoCannot{URL: JobURL(rec.Job.ID, "readings"), FormID: cannotID, Back: CheckURL(rec.Job.ID, check.ID), Seen: FieldSeen + check.ID, NA: string(checklist.SeenNA), Hold: check.Hold}
	p.Cannot.Reason = newField(*f, FieldReason+check.ID, "Can’t take it, because")
	p.Cannot.Reason.Value, p.Cannot.Reason.Complete = form.Text(FieldReason+check.ID, ""), "off"
}

func (o PhotoOutcome) row() Row {
	row := Row{Label: o.Name, Note: o.Refused, Status: NewStatus("not taken in", "no")}
	if o.Refused != "" {
		return row
	}
	row.Status, row.Note = NewStatus("on the server"), "filed as photo "+itoa(o.Number)
	switch {
	case o.Number == 0:
		row.Note = "held and filed here already as photo " + itoa(o.HeldAs) + "; nothing was added"
	case o.HeldAs > 0:
		row.Note += "; the same original is already held as photo " + itoa(o.HeldAs)
	}
	return row
}
