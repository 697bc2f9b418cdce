package views

import (
	"fmt"
	"strings"

	"newelbook/jobs"
	"newelbook/media"
)

// PaperURL is the path of a paper, or of what lies under it.
func PaperURL(jobID, paperID string, parts ...string) string {
	return JobURL(jobID, append([]string{"papers", paperID}, parts...)...)
}

// PaperListPage lists the attached papers, those that hold first.
type PaperListPage struct {
	Frame
	Holding, Withdrawn []Row
	NewURL             string
}

// NewPaperList is the list.
func NewPaperList(f Frame, rec *jobs.Record) PaperListPage {
	f.Lead = "Approved drawings, engineers’ letters, test reports, labels: each kept as it was received, listed in every pack and enclosed with it unless it is left out."
	p := PaperListPage{NewURL: JobURL(rec.Job.ID, "papers", "new")}
	for _, x := range rec.Papers {
		row := paperRow(rec, x)
		if x.Holds() {
			p.Holding = append(p.Holding, row)
			continue
		}
		row.Status = NewStatus("withdrawn", "retired")
		row.Note = join(row.Note, sayFull(fmt.Sprintf("Withdrawn %s by %s: %s", stamp(x.Withdrawn, rec.Job.Location()), x.WithdrawnBy.Name, x.Why)))
		p.Withdrawn = append(p.Withdrawn, row)
	}
	p.Frame = f
	return p
}

func paperRow(rec *jobs.Record, x jobs.Paper) Row {
	return Row{Place: x.Place.Label, Label: x.Label() + ": " + x.Title, Note: sayFull(upperFirst(string(x.Kind)) + ", " + x.Issuer + ", " + paperDay(x)), URL: PaperURL(rec.Job.ID, x.ID)}
}

// paperDay is the date that a paper bears.
func paperDay(x jobs.Paper) string {
	if x.On == "" {
		return "no date on it"
	}
	return jobs.DayText(x.On)
}

// PaperDetails are the fields that say what a paper is.
type PaperDetails struct {
	Kind, Title, Issuer, On, At Field
	Rests                       *Field // nil where nothing could rest on it
}

// newPaperDetails are the fields, holding what is saved of x or, where the form came back, what was typed.
func newPaperDetails(f Frame, rec *jobs.Record, x jobs.Paper, form Form) PaperDetails {
	var d PaperDetails
	d.Kind = newField(f, "kind", "What it is")
	for _, k := range jobs.PaperKinds() {
		d.Kind.Options = append(d.Kind.Options, Option{Value: string(k), Label: upperFirst(string(k))})
	}
	d.Kind.Value = form.Text("kind", string(x.Kind))
	d.Title = newField(f, "title", "Title")
	d.Title.Hint, d.Title.Value, d.Title.Complete = "As it stands on the paper, or what it is in a few words.", form.Text("title", x.Title), "off"
	d.Issuer = newField(f, "issuer", "Who issued it")
	d.Issuer.Hint, d.Issuer.Value, d.Issuer.Complete = "The office, engineer, laboratory or maker that it names.", form.Text("issuer", x.Issuer), "off"
	d.On = newField(f, "on", "Date on it")
	d.On.Hint, d.On.Value, d.On.Complete, d.On.Size = "As 2026-05-04. Leave it empty where it bears none.", form.Text("on", x.On), "off", "medium"
	place := x.Place.ID
	if place == "" {
		place = "job"
	}
	d.At = *filterField(f, "place", "What it is about", placeOptions(rec, "Choose the job, or a run, post or bay"), form.Text("place", place))
	rests := rec.Rests()
	saved := rec.RestOf(x)
	if len(rests) == 0 && saved.Value == "" {
		return d
	}
	options, there := []Option{{Label: "Nothing in particular"}}, saved.Value == ""
	for _, r := range rests {
		options, there = append(options, Option{Value: r.Value, Label: r.Label}), there || r == saved
	}
	if !there {
		options = append(options, Option{Value: saved.Value, Label: saved.Label})
	}
	d.Rests = filterField(f, "rests", "What rests on it", options, form.Text("rests", saved.Value))
	d.Rests.Size, d.Rests.Hint = "", "A deviation that it ends or explains, or a figure of the authority’s own."
	return d
}

// PaperNewPage attaches a paper. A file that arrived whole with a form that was refused is held, and need not be sent again.
type PaperNewPage struct {
	Frame
	PaperDetails
	Form      Form
	URL, Back string
	File      Field
	Held      string // hash of the file that is held already, empty for none
	HeldName  string
	HeldNote  string
	Stands    []Fact
}

// HeldPaper is a file that is on the server and in no record yet.
type HeldPaper struct {
	Facts media.Paper
	Name  string
}

// NewPaperNew is that page. held is the file that came with the form before, nil for none.
func NewPaperNew(f Frame, rec *jobs.Record, form Form, held *HeldPaper) PaperNewPage {
	p := PaperNewPage{Form: form, URL: JobURL(rec.Job.ID, "papers"), Back: JobURL(rec.Job.ID, "papers"), PaperDetails: newPaperDetails(f, rec, jobs.Paper{}, form)}
	f.Lead = "A PDF, or a picture of it as JPEG, PNG or WebP. It is kept as it is received and never changed."
	p.File = newField(f, "file", "File")
	p.File.Hint, p.File.Accept = fmt.Sprintf("At most %d MB.", media.DefaultBytes/1_000_000), "application/pdf,image/jpeg,image/png,image/webp"
	if held != nil {
		p.Held, p.HeldName = held.Facts.ID.String(), held.Name
		p.HeldNote = fmt.Sprintf("%s, %s, is on the server and need not be sent again.", orElse(held.Name, "The file"), bytesText(held.Facts.Bytes))
		p.File.Label, p.File.Hint = "Another file instead", "Leave it empty to attach the one that is on the server. "+p.File.Hint
	}
	if made, ok := rec.Paper(form.Made); ok {
		p.Stands = form.made(made.Label()+": "+made.Title, PaperURL(rec.Job.ID, made.ID), nil)
	}
	p.Frame = f
	return p
}

// PaperShowPage is one paper: what is said of it, the file, what rests on it, and the forms that describe it anew and withdraw it.
type PaperShowPage struct {
	Frame
	PaperDetails
	Form         Form
	URL, Version string
	WithdrawURL  string
	FileURL      string
	FileLabel    string
	PictureURL   string // of a paper that is a picture
	PictureAlt   string
	Gone         string // that it was withdrawn, when, by whom and why
	Facts        []Fact
	Rests        []Row // readings that name it
	Stands       []Fact
	Builder      bool // may describe and withdraw it
	Why          Field
}

// withdrawForm tells the id of the form that withdraws a paper from that of the form beside it.
const withdrawForm = "-withdraw"

// NewPaperShow is the page of a paper. builder says whether it may be described anew and withdrawn.
func NewPaperShow(f Frame, rec *jobs.Record, x jobs.Paper, form Form, builder bool) (PaperShowPage, error) {
	sheet, err := rec.Sheet()
	if err != nil {
		return PaperShowPage{}, err
	}
	job := rec.Job
	form.ID = strings.TrimSuffix(form.ID, withdrawForm)
	f.Title, f.Heading = x.Label(), x.Title
	p := PaperShowPage{
		URL: PaperURL(job.ID, x.ID), WithdrawURL: PaperURL(job.ID, x.ID, "withdrawal"), FileURL: PaperURL(job.ID, x.ID, "file"),
		FileLabel: fmt.Sprintf("Save the file, %s, %s", fileWord(x.File), bytesText(x.Bytes)), Version: form.Version(x.Version), Form: form, Builder: builder && x.Holds(),
	}
	if x.File != media.PDF {
		p.PictureURL, p.PictureAlt = PaperURL(job.ID, x.ID, "view"), x.Label()+": "+x.Title
	}
	if !x.Holds() {
		p.Gone = sayFull(fmt.Sprintf("Withdrawn %s by %s: %s", momentText(x.Withdrawn, job.Location()), x.WithdrawnBy.Name, x.Why))
	}
	p.Facts = []Fact{
		{Label: "Paper", Value: fmt.Sprint(x.Number)},
		{Label: "What it is", Value: upperFirst(string(x.Kind))},
		{Label: "Issued by", Value: x.Issuer},
		{Label: "Date on it", Value: paperDay(x)},
		{Label: "About", Value: x.Place.Label},
	}
	if rest := rec.RestOf(x); rest.Value != "" {
		fact := Fact{Label: "Rests on it", Value: rest.Label}
		if x.DeviationID != "" {
			fact.URL = DeviationURL(job.ID, x.DeviationID)
		}
		p.Facts = append(p.Facts, fact)
	}
	p.Facts = append(p.Facts,
		Fact{Label: "Received", Value: momentText(x.Received, job.Location()), Note: "from " + x.By.Name},
		Fact{Label: "SHA-256", Value: groupsOf(x.Media.String(), 8), Note: "of the file as it was received"},
		Fact{Label: "Sent as", Value: x.Name, Note: "the name it had on the device"},
	)
	for _, r := range sheet.ReadingsOn(x.ID) {
		p.Rests = append(p.Rests, Row{Place: r.Check.Place.Label, Label: r.Check.Title, Note: readBy(r, job), URL: CheckURL(job.ID, r.CheckID), Status: NewStatus(r.Result.Verdict.Word())})
	}
	p.Why = newField(f, "why", "Why it no longer holds")
	p.Why.Rows, p.Why.Value = 2, form.Text("why", "")
	described := form
	if form.Typed["why"] != nil { // the other form of the page came back
		described = Form{ID: form.ID}
	}
	p.PaperDetails = newPaperDetails(f, rec, x, described)
	p.Stands = described.Stands([]Stand{{"title", "Title", x.Title}, {"issuer", "Who issued it", x.Issuer}, {"on", "Date on it", x.On}, {"kind", "What it is", string(x.Kind)}})
	p.Frame = f
	return p, nil
}

// fileWord names a type of file for people.
func fileWord(k media.Kind) string {
	switch k {
	case media.PDF:
		return "PDF"
	case media.JPEG:
		return "JPEG"
	case media.PNG:
		return "PNG"
	}
	return "WebP"
}
