package views

import (
	"slices"

	"newelbook/jobs"
)

// filingPage is how many unfiled photographs are shown at once; when they are filed the next ones come up.
const filingPage = 60

// FieldBatch is the field of a filing form that says which batch it files: the id of its first photograph.
const FieldBatch = "batch"

// BatchNames are the names of a batch's fields, its own, since a page has several.
type BatchNames struct{ Photos, Place, Stage string }

// BatchFields are the names of the fields of the batch that begins with a photograph.
func BatchFields(first string) BatchNames {
	return BatchNames{Photos: "photo-" + first, Place: "place-" + first, Stage: "stage-" + first}
}

// PhotoFilingURL is the page that files what came in without a place.
func PhotoFilingURL(jobID string) string { return JobURL(jobID, "photos", "filing") }

// FiledBatch says what came of filing n photographs.
func FiledBatch(n int) string {
	if n == 1 {
		return "One photograph is filed there now."
	}
	return itoa(n) + " photographs are filed there now."
}

// PhotoFilingPage is the photographs that nobody filed yet, in batches, each with a place and a stage that its time suggests.
type PhotoFilingPage struct {
	Frame
	Form    Form
	URL     string
	Batches []PhotoBatch
	More    string      // how many others come up later
	Named   []PhotoTick // filed by the tag in the picture, their view not named yet
	Others  string      // how many more of those come up later
	Empty   string
	WallURL string
}

// PhotoBatch is one form: photographs with a box each, and where they are to be filed.
type PhotoBatch struct {
	ID, Title string
	Why       string
	Shots     []PhotoTick
	Error     string // of the boxes
	At, Stage *Field
	Do        string
}

// PhotoTick is a photograph with the box that takes it along, and the views that it may be.
type PhotoTick struct {
	Photo  Photo
	Views  *PhotoViews
	Box    string // name of the box
	ID     string // its value and the end of its control's id
	Ticked bool
}

// NewPhotoFiling is that page.
func NewPhotoFiling(f Frame, rec *jobs.Record, form Form) (PhotoFilingPage, error) {
	sheet, err := rec.Sheet()
	if err != nil {
		return PhotoFilingPage{}, err
	}
	owed := owedViews(rec, sheet)
	f.Lead = "Suggested by the time that each file claims, against the readings and stages around it by the clock at the site. A guess: look, change what is wrong, untick what does not belong. Nothing is filed before you tap."
	p := PhotoFilingPage{Form: form, URL: PhotoFilingURL(rec.Job.ID), WallURL: JobURL(rec.Job.ID, "photos")}
	shown := 0
	for _, b := range rec.Batches(filingPage) {
		p.Batches = append(p.Batches, photoBatch(f, rec, owed, b, form))
		shown += len(b.Photos)
	}
	if left := rec.Find(jobs.PhotoFilter{Stage: jobs.NotFiled}).Len() - shown; left > 0 {
		p.More = counted(left, "photograph") + " more come up when these are filed."
	}
	n, named := unnamedViews(rec, owed, filingPage)
	for _, x := range named {
		p.Named = append(p.Named, PhotoTick{Photo: photo(rec, x), ID: x.ID, Views: newShotViews(rec, x, x.Place, owed[placeAndStage{x.Place.ID, x.Stage}], form)})
	}
	if left := n - len(named); left > 0 {
		p.Others = counted(left, "photograph") + " more come up when these are named."
	}
	if shown == 0 {
		f.Lead, p.Empty = "", "Every photograph is filed."
	}
	p.Frame = f
	return p, nil
}

func photoBatch(f Frame, rec *jobs.Record, owed map[placeAndStage][]Option, b jobs.Batch, form Form) PhotoBatch {
	first := b.Photos[0]
	names := BatchFields(first.ID)
	if form.Text(FieldBatch, first.ID) != first.ID {
		form = Form{ID: form.ID} // another batch came back
	}
	out := PhotoBatch{ID: first.ID, Why: b.Suggestion.Why, Error: f.ErrorFor(names.Photos), Title: "No place suggested", Do: "File them there"}
	s := b.Suggestion
	switch {
	case s.Whole():
		out.Title = s.Place.Label + ", " + string(s.Stage)
	case s.Stage != "":
		out.Title = upperFirst(string(s.Stage)) + ", no place suggested"
	case s.Place.ID != "":
		out.Title = s.Place.Label + ", no stage suggested"
	}
	if len(b.Photos) == 1 {
		out.Do = "File it there"
	}
	out.Title += ": " + counted(len(b.Photos), "photograph")
	if len(b.Photos) > 1 {
		out.Why = join("For the first of them:", lowerFirst(out.Why))
	}
	ticked := form.All(names.Photos)
	var views []Option
	if s.Whole() {
		views = owed[placeAndStage{s.Place.ID, s.Stage}]
	}
	for _, x := range b.Photos {
		out.Shots = append(out.Shots, PhotoTick{Photo: photo(rec, x), Views: newShotViews(rec, x, s.Place, views, form), Box: names.Photos, ID: x.ID, Ticked: form.Typed == nil || slices.Contains(ticked, x.ID)})
	}
	out.At = filterField(f, names.Place, "What they show", placeOptions(rec, "Choose the run, post or bay"), form.Text(names.Place, s.Place.ID))
	out.Stage = filterField(f, names.Stage, "Stage", stageOptions("Choose the stage"), form.Text(names.Stage, string(s.Stage)))
	return out
}
