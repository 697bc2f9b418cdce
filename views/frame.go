package views

import "slices"

// Frame is what every page carries; page structs embed it.
type Frame struct {
	Title   string // of the browser tab; with Heading empty also the heading of the page
	Heading string // the h1, when it differs from Title
	Lead    string // one sentence under the heading, may be empty
	Lang    string // language of the page, "en" when empty
	Who     Who    // who is signed in; zero on the pages of an owner or inspector
	Home    string // where the product's mark leads, "/" when empty
	Flash   string // what has just been done, one finished sentence
	Place   string // label of the place in hand (R1-B2); stays on the screen of a phone
	Sheet   *TitleBlock
	JobNav  []NavItem
	Errors  []FieldError
}

// Who is the signed-in person as shown in the page head.
type Who struct{ Name, Role string }

// NavItem is one sheet in the list of a job's sheets. Note is a short count or state, such as "3 open".
type NavItem struct {
	Label, URL, Note string
	Current          bool
}

// TitleBlock is the ruled block that names the sheet, in the manner of a drawing. Empty cells are left out.
type TitleBlock struct {
	Job    string // reference
	Site   string
	Sheet  string // name of the sheet
	Layout string // version of the layout, such as "v3, built"
	Date   string
	More   []Fact // further cells: permit, authority, rule set
}

// Cells lists the cells of the block that hold something, in their order.
func (t TitleBlock) Cells() []Fact {
	all := append([]Fact{{Label: "Job", Value: t.Job}, {Label: "Site", Value: t.Site}, {Label: "Sheet", Value: t.Sheet},
		{Label: "Layout", Value: t.Layout}, {Label: "Date", Value: t.Date}}, t.More...)
	var cells []Fact
	for _, c := range all {
		if c.Value != "" {
			cells = append(cells, c)
		}
	}
	return cells
}

// FieldError is one thing to put right in a form. Field is the name of the form field, empty for the form as a whole;
// Message is a finished sentence that says what to do.
type FieldError struct {
	Field, Message string
	Meant          string // what was perhaps meant, offered to be taken; empty where there is no question
	Typed          bool   // what was typed can be kept as it is
}

// linked keeps the link of an error only where its field is one of the page's.
func linked(faults []FieldError, names []string) []FieldError {
	out := slices.Clone(faults)
	for i, e := range out {
		if !slices.Contains(names, e.Field) {
			out[i].Field = ""
		}
	}
	return out
}

// Framed is a page that embeds Frame.
type Framed interface{ ErrorFor(field string) string }

// ErrorFor is the message for the named field, empty if there is none.
func (f Frame) ErrorFor(field string) string {
	for _, e := range f.Errors {
		if e.Field == field {
			return e.Message
		}
	}
	return ""
}

// TabTitle is the text of the browser tab: "Error: " stands before it when a form has come back.
func (f Frame) TabTitle() string {
	title := f.Title
	if f.Sheet != nil && f.Sheet.Job != "" {
		title += ", " + f.Sheet.Job
	}
	if len(f.Errors) > 0 {
		title = "Error: " + title
	}
	return title + " | Newelbook"
}

// H1 is the heading of the page.
func (f Frame) H1() string {
	if f.Heading != "" {
		return f.Heading
	}
	return f.Title
}

// Language is the page's language tag.
func (f Frame) Language() string {
	if f.Lang != "" {
		return f.Lang
	}
	return "en"
}

// HomeURL is where the product's mark leads.
func (f Frame) HomeURL() string {
	if f.Home != "" {
		return f.Home
	}
	return "/"
}
