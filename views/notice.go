package views

// NoticePage says what happened and what to do, where there is nothing else to show.
type NoticePage struct {
	Frame
	Says   string
	Number string // of the request, for whoever looks after the server
	Link   Fact   // where to go on; Label and URL
}
