package views

// NoticePage says what happened and what to do, where there is nothing else to show.
type NoticePage struct {
	Frame
	Says   string
	Number string // of the request, for whoever looks after the server
	Link   Fact   // where to go on; Label and URL
}

// NewUnasked says that nothing of a form of readings is asked any more; back leads to where the questions are.
func NewUnasked(f Frame, back string) NoticePage {
	f.Title, f.Errors = "Nothing of this is asked any more", linked(f.Errors, nil)
	return NoticePage{Frame: f, Says: "The layout was changed after the form was opened. Nothing was saved.", Link: Fact{Label: "Back to the questions", URL: back}}
}
