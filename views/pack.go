package views

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"newelbook/checklist"
	"newelbook/jobs"
)

// PacksURL is the sheet of a job's issued packs.
func PacksURL(jobID string) string { return JobURL(jobID, "packs") }

// PackURL is the path of one issued pack's file: pack.zip, or pack/ and the name of a document.
func PackURL(jobID string, number int, file string) string {
	return JobURL(jobID, "packs", itoa(number)) + "/" + file
}

// packOffers are the ways to a pack's documents, those for a reader first: what to read, to print and to keep. at makes the address of
// a file of the pack.
func packOffers(p jobs.IssuedPack, reader string, at func(file string) string) []Fact {
	if len(p.Editions) == 0 { // of the first release
		return []Fact{{Label: "Read it", URL: at("pack/html/index.html")}, {Label: "PDF", URL: at("pack.pdf")}, {Label: "Whole pack, ZIP", URL: at("pack.zip")}}
	}
	labels := map[string]string{jobs.EditionOwner: "Owner's edition", jobs.EditionInspector: "Inspector's edition", jobs.EditionFraming: "Framing request, one page"}
	editions := slices.Clone(p.Editions)
	slices.SortStableFunc(editions, func(a, b string) int {
		switch {
		case a == reader && b != reader:
			return -1
		case b == reader && a != reader:
			return 1
		}
		return 0
	})
	var out []Fact
	for _, e := range editions {
		if e != jobs.EditionFraming {
			out = append(out, Fact{Label: "Read: " + labels[e], URL: at("pack/html/" + e + ".html")})
		}
		out = append(out, Fact{Label: "PDF: " + labels[e], URL: at("pack/" + e + ".pdf")})
	}
	return append(out, Fact{Label: "Days of care, for a calendar", URL: at("pack/care.ics")}, Fact{Label: "Whole pack, ZIP", URL: at("pack.zip")})
}

// Purposes of a pack that the form offers; anything else is typed.
const (
	PurposeHandover = "handover"
	PurposeFraming  = "framing inspection"
	PurposeOther    = "other"
)

// What a pack takes of photographs beside the views of them.
const (
	OriginalsEnclosed = "yes"
	OriginalsLeft     = "no"
	PositionsLeft     = "no positions"
)

// PackListPage is what is missing or open, the form that issues a pack, and the packs issued with their links and answers.
type PackListPage struct {
	Frame
	Missing  []string
	UnderWay *Row       // the pack that is being issued now
	Ended    *Notice    // what became of one that was asked for and not issued
	Issue    *PackIssue // nil for whoever may not issue
	Crew     string     // what stands for them
	Packs    []PackCard
	Link     *PackLink // nil where no link can be made
	NoLinks  string    // why not
}

// PackIssue is the form that issues a pack.
type PackIssue struct {
	Form                      Form
	URL                       string
	Purpose, Other, Originals Field
	Papers                    *Field // which of them leave with it; nil where none is attached
	Offered                   string // the ids of those
}

// Names of the fields that say which papers leave with a pack: the ticked ones, and all that were offered.
const (
	FieldEnclose = "papers"
	FieldOffered = "papers_offered"
)

// PackLink is the form that makes a link to a pack.
type PackLink struct {
	Form                Form
	URL                 string
	Pack, For, To, Days Field
}

// PackCard is one issued pack.
type PackCard struct {
	Heading   string
	Facts     []Fact
	Offers    []Fact   // what to read, to print and to keep
	Open      []string // what was missing or open when it was issued
	OpenLabel string
	Answers   []Row
	Links     []PackLinkRow
}

// PackLinkRow is one link with the form that takes it back.
type PackLinkRow struct {
	Row       Row
	RevokeURL string // empty for a link that is closed already, and for whoever may not
}

// PackForms are the forms of the sheet of packs: the one that came back holds what was typed.
type PackForms struct{ Issue, Link Form }

// Notice is something that happened, in a word and finished sentences.
type Notice struct {
	Status *Status
	Says   string
}

// NewPackList is the sheet of packs. builder says whether packs may be issued and links made, public whether the server has an
// address that guests can reach.
func NewPackList(f Frame, rec *jobs.Record, forms PackForms, builder, public bool, now time.Time) (PackListPage, error) {
	missing, err := rec.Unfinished()
	if err != nil {
		return PackListPage{}, err
	}
	f.Lead = "A pack is the record as it stands, frozen, numbered and hashed: for the owner to keep and the inspector to rely on."
	p := PackListPage{Missing: missing}
	if builder {
		p.Issue = packIssue(f, rec, forms.Issue)
	} else {
		p.Crew = "The builder issues packs and makes links to them."
	}
	switch {
	case !builder || len(rec.Packs) == 0:
	case !public:
		p.NoLinks = "Links are made only by a server that owner and inspector can reach. Start it with --public-url and its address, such as --public-url https://record.example."
	default:
		p.Link = packLink(f, rec, forms.Link)
	}
	for i := len(rec.Packs) - 1; i >= 0; i-- {
		p.Packs = append(p.Packs, packCard(rec, rec.Packs[i], builder, now))
	}
	p.Frame = f
	return p, nil
}

func packIssue(f Frame, rec *jobs.Record, form Form) *PackIssue {
	v := PackIssue{Form: form, URL: PacksURL(rec.Job.ID)}
	v.Purpose = newField(f, "purpose", "What it is for")
	v.Purpose.Options = []Option{
		{Value: PurposeHandover, Label: "Handover to the owner"}, {Value: PurposeFraming, Label: "Framing inspection", Hint: "Before the deck is down."}, {Value: PurposeOther, Label: "Something else"},
	}
	v.Purpose.Value = form.Text("purpose", "")
	v.Other = newField(f, "purpose_other", "If something else, what")
	v.Other.Value, v.Other.Complete = form.Text("purpose_other", ""), "off"
	v.Originals = newField(f, "originals", "Photographs, and where they were taken")
	v.Originals.Hint = "Views of them are always in it, with no position in their files."
	v.Originals.Options = []Option{
		{Value: OriginalsEnclosed, Label: "Views and originals", Hint: "Originals carry all that the camera wrote, often the position."},
		{Value: OriginalsLeft, Label: "Views alone", Hint: "The record in the pack still says which position each file claims."},
		{Value: PositionsLeft, Label: "Views alone, and no positions", Hint: "They are left out of the record too, and with them the entries that hold them. A paper that is a picture with a position stays behind."},
	}
	v.Originals.Value = form.Text("originals", "")
	v.papers(f, rec, form)
	return &v
}

// papers offers the attached papers, each ticked until somebody unticks it.
func (v *PackIssue) papers(f Frame, rec *jobs.Record, form Form) {
	holding := rec.PapersInForce()
	if len(holding) == 0 {
		return
	}
	choose := newField(f, FieldEnclose, "Papers that leave with it")
	choose.Hint = "As received, for owner and inspector to save. One that is left out is listed as not enclosed."
	var ids, ticked []string
	known := strings.Fields(form.Text(FieldOffered, ""))
	for _, p := range holding {
		ids = append(ids, p.ID)
		choose.Options = append(choose.Options, Option{Value: p.ID, Label: p.Label() + ": " + p.Title, Hint: sayFull(upperFirst(string(p.Kind)) + ", " + p.Issuer)})
		if !slices.Contains(known, p.ID) || slices.Contains(form.All(FieldEnclose), p.ID) {
			ticked = append(ticked, p.ID)
		}
	}
	choose.Values, v.Papers, v.Offered = ticked, &choose, strings.Join(ids, " ")
}

func packLink(f Frame, rec *jobs.Record, form Form) *PackLink {
	v := PackLink{Form: form, URL: JobURL(rec.Job.ID, "links")}
	v.Pack = newField(f, "pack", "Which pack it opens")
	v.Pack.Size, v.Pack.Value = "medium", form.Text("pack", itoa(len(rec.Packs)))
	for i := len(rec.Packs) - 1; i >= 0; i-- {
		v.Pack.Options = append(v.Pack.Options, Option{Value: itoa(rec.Packs[i].Number), Label: packTitle(rec.Packs[i])})
	}
	v.For = newField(f, "for", "Who it is for")
	v.For.Options = []Option{{Value: string(jobs.RoleOwner), Label: "The owner", Hint: "May accept, say what stands in the way, or remark."}, {Value: string(jobs.RoleInspector), Label: "The inspector", Hint: "May record an outcome."}}
	v.For.Value = form.Text("for", "")
	v.To = newField(f, "name", "Name")
	v.To.Hint, v.To.Value, v.To.Complete = "Whom you give it to. The link proves nothing about who opens it.", form.Text("name", ""), "off"
	v.Days = newField(f, "days", "Days it stays open")
	v.Days.Size, v.Days.Mode, v.Days.Value = "short", "numeric", form.Text("days", "90")
	return &v
}

func packTitle(p jobs.IssuedPack) string {
	return fmt.Sprintf("Pack %d, %s", p.Number, orElse(p.Purpose, PurposeHandover))
}

// packCard is one issued pack with what was said of it.
func packCard(rec *jobs.Record, x jobs.IssuedPack, builder bool, now time.Time) PackCard {
	job := rec.Job
	card := PackCard{
		Heading: packTitle(x), Open: x.Open,
		Offers: packOffers(x, jobs.EditionOwner, func(file string) string { return PackURL(job.ID, x.Number, file) }),
		Facts:  append([]Fact{{Label: "Issued", Value: momentText(x.Issued, job.Location()), Note: "by " + x.By.Name}}, packFacts(x)...),
	}
	if n := len(x.Open); n > 0 {
		card.OpenLabel = counted(n, "thing") + " missing or open when it was issued"
	}
	for _, a := range rec.Answers {
		if a.Pack == x.Number {
			card.Answers = append(card.Answers, answerRow(rec, a))
		}
	}
	for _, l := range rec.Links {
		if l.Pack == x.Number {
			card.Links = append(card.Links, linkRow(rec, l, builder, now))
		}
	}
	return card
}

func packFacts(x jobs.IssuedPack) []Fact {
	originals := "not enclosed"
	if x.Originals {
		originals = "enclosed"
	}
	signed := Fact{Label: "Signed with the key", Value: "none", Note: "packs were not signed yet"}
	if x.SignedBy != "" {
		signed.Value, signed.Note = groupsOf(x.SignedBy, 8), "its fingerprint"
	}
	positions := "as their files claim"
	if x.NoPositions {
		positions = "left out"
	}
	return []Fact{
		{Label: "Originals", Value: originals},
		{Label: "Where photographs were taken", Value: positions},
		{Label: "Hash of the pack", Value: groupsOf(x.Hash, 8), Note: "SHA-256 of its manifest; answers refer to it"},
		signed,
		{Label: "Head of the record", Value: fmt.Sprintf("entry %d, %s", x.HeadSeq, groupsOf(x.HeadHash[:min(16, len(x.HeadHash))], 8))},
	}
}

// linkRow is a link with its state and, where it is open, the way to take it back.
func linkRow(rec *jobs.Record, l jobs.Link, builder bool, now time.Time) PackLinkRow {
	loc := rec.Job.Location()
	out := PackLinkRow{Row: Row{Label: l.Name, Note: fmt.Sprintf("for the %s, made %s, open until %s", l.For, stamp(l.Made, loc), stamp(l.Expires, loc)), Status: NewStatus("open")}}
	switch {
	case l.Revoked != nil:
		out.Row.Status, out.Row.Note = NewStatus("taken back", "retired"), fmt.Sprintf("for the %s, made %s, taken back %s", l.For, stamp(l.Made, loc), stamp(*l.Revoked, loc))
	case !now.Before(l.Expires):
		out.Row.Status = NewStatus("expired")
	case builder:
		out.RevokeURL = JobURL(rec.Job.ID, "links", l.ID, "revoked")
	}
	return out
}

// answerRow is what a guest said.
func answerRow(rec *jobs.Record, a jobs.Answer) Row {
	row := Row{Label: upperFirst(answerText(a)), Note: sayFull(fmt.Sprintf("%s%s, %s, %s", a.Name, between(", ", a.Office, ""), a.From, momentText(a.At, rec.Job.Location()))), Place: a.Place}
	if a.Kind == jobs.AnswerOutcome {
		row.Note = join("Inspected "+jobs.DayText(a.On)+".", row.Note)
	}
	row.Note = strings.TrimSpace(row.Note + " " + a.Text)
	switch {
	case a.Kind == jobs.AnswerAccept, a.Outcome == jobs.OutcomeAccepted:
		row.Status = NewStatus("accepted")
	case a.Kind == jobs.AnswerDecline:
		row.Status = NewStatus("not accepted", "open")
	case a.Outcome == jobs.OutcomeCorrect:
		row.Status = NewStatus("to be corrected", "open")
	case a.Outcome == jobs.OutcomeNotInspected:
		row.Status = NewStatus("not inspected", "not checked")
	default:
		row.Status = NewStatus("remark", "referred")
	}
	return row
}

// answerText is an answer in a few words.
func answerText(a jobs.Answer) string {
	switch a.Kind {
	case jobs.AnswerAccept:
		return "accepted by the owner"
	case jobs.AnswerDecline:
		return "not accepted by the owner"
	case jobs.AnswerOutcome:
		return stageOrWhole(a.Stage) + ": " + a.Outcome
	}
	return "remark by the " + string(a.From)
}

func stageOrWhole(s checklist.Stage) string {
	if s == "" {
		return "whole job"
	}
	return string(s)
}
