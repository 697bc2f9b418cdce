package views

// Form is what every page with a form carries besides its fields. The page sends ID back as form_id.
type Form struct {
	ID    string
	Typed Typed // what was typed, when the form came back; nil at first
	// Stale says that somebody else saved meanwhile, or that the form was sent before: the page shows what stands beside
	// what was typed, and the next sending is over what stands now.
	Stale bool
	Made  string // id of what the form made when it was sent before, on a page that makes something new
}

// Typed is posted text by field name.
type Typed map[string][]string

// Text is the text of a field: as typed when the form came back, as saved otherwise.
func (f Form) Text(name, saved string) string {
	if f.Typed == nil {
		return saved
	}
	if v := f.Typed[name]; len(v) > 0 {
		return v[0]
	}
	return ""
}

// All is every value of a field: as typed when the form came back, as saved otherwise.
func (f Form) All(name string, saved ...string) []string {
	if f.Typed == nil {
		return saved
	}
	return f.Typed[name]
}

// Version is the version that the form is over: the one it was opened on, until the page has shown a later one.
func (f Form) Version(saved int) string {
	if f.Typed == nil || f.Stale {
		return itoa(saved)
	}
	return f.Text("version", "")
}

// Stands lists the saved fields that differ from what was typed, when somebody else saved meanwhile.
func (f Form) Stands(saved []Stand) []Fact {
	if !f.Stale {
		return nil
	}
	var out []Fact
	for _, s := range saved {
		if typed, sent := f.Typed[s.Name]; sent && (len(typed) == 0 || typed[0] != s.Value) {
			out = append(out, Fact{Label: s.Label, Value: s.Value})
		}
	}
	if len(out) == 0 {
		out = append(out, Fact{Label: "Difference", Value: "none: what stands is what you typed"})
	}
	return out
}

// made leads to what the form made when it was sent before, and lists the fields of it that differ from what was typed.
func (f Form) made(name, url string, saved []Stand) []Fact {
	return append([]Fact{{Label: "Made already", Value: name, URL: url, Note: "open it to change it: saving below makes another"}}, f.Stands(saved)...)
}

// Stand is one field as it is saved: its form name, its label and its text.
type Stand struct{ Name, Label, Value string }
