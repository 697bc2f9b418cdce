package layout

// cautions adds the warnings that fit this run.
func (w *work) cautions() {
	for _, f := range Facts() {
		if f.applies != nil && f.applies(w) {
			w.out.Cautions = append(w.out.Cautions, Caution{ID: f.ID, Sentence: f.Sentence, Source: f.Source})
		}
	}
}

// Fact is a piece of site sense that the program relies on, with where it leads.
type Fact struct {
	ID       string
	Sentence string
	Source   string
	Leads    string // "figure: infill_gap", "check: rails.length", "caution"

	applies func(*work) bool // nil where it never prints as a caution of its own
}

// Facts lists the facts of common practice that stand behind defaults, checks and cautions.
func Facts() []Fact { return nil }
