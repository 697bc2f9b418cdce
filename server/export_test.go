package server

// RouteInfo is one address and who may open it, for tests that walk them all.
type RouteInfo struct {
	Method, Path         string
	Anyone, Crew, Builds bool
}

// RouteTable lists every address.
func RouteTable() []RouteInfo {
	var out []RouteInfo
	for _, r := range (&server{}).routes() {
		out = append(out, RouteInfo{Method: r.method, Path: r.path, Anyone: r.who == anyone, Crew: r.who == crew, Builds: r.who == builder})
	}
	return out
}

// Redact, Local and AnswerTo are what tests look at from outside.
var (
	Redact = redact
	Local  = local
)

// StatusOf is the status that an error is answered with.
func StatusOf(err error) int { return answerTo(err).status }
