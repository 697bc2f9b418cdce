package views

import (
	"fmt"
	"html/template"
	"sync"
)

// Status is a state as shown: always its word, with a small mark that only agrees with it.
type Status struct {
	Word string
	kind string // the word whose mark and tone are used
}

// sign is how a state looks: the tone is a class name, the path a drawing in a square of 16.
type sign struct{ word, tone, path string }

// signs lists every word of state that the pages know, each with its mark. Marks are strokes, as a pencil makes them; a
// mark that is closed (fill) belongs to a state that is done with.
func signs() []sign {
	const (
		ring     = `<circle cx="8" cy="8" r="5.6" stroke-dasharray="2.93 2.93"/>`
		tick     = `<path d="M2.4 8.9c1.2 1 2.2 2.4 3 4C7.4 8.6 10 5 13.8 2.6"/>`
		calliper = `<path d="M8 1.8v12.4M1.2 8h4.3M3.6 5.9 5.7 8l-2.1 2.1M14.8 8h-4.3M12.4 5.9 10.3 8l2.1 2.1"/>`
		crow     = `<path d="M2 2.6 5.2 13.4 8.4 2.6"/><path d="M12.6 1.8v12.4" stroke-dasharray="2.2 1.7"/>`
		cross    = `<path d="M2.6 3.2c3.4 2.8 7 6.6 10.4 10M13.2 2.6C9.7 5.8 6.2 9.4 3 13.4"/>`
		box      = `<path d="M13.4 7v6.4H2.6V2.6H9"/>`
		boxTick  = `<path d="M13.4 8v5.4H2.6V2.6H9.4"/><path d="M5 7.2c1.2.8 2 1.9 2.7 3.2C9.2 6.8 11.4 3.9 14.6 1.8"/>`
		boxNote  = `<path d="M13.4 8.6v4.8H2.6V2.6h4.8"/><path d="M9.6 1.8h4.8v4.6l-4.8-.1z" class="solid"/><path d="M5.4 8.2h2.8M5.4 10.8h5"/>`
		wait     = `<path d="M2.6 8h1.6M7.2 8h1.6M11.8 8h1.6"/>`
		diamond  = `<path d="M8 1.6 14.4 8 8 14.4 1.6 8z"/><path d="M8 5v3.6M8 10.9v.2"/>`
		boards   = `<path d="M1.6 3.2h12.8M1.6 6.4h12.8M1.6 9.6h12.8M1.6 12.8h12.8"/>`
		again    = `<path d="M13.4 8A5.4 5.4 0 1 1 11.6 4"/><path d="M12 1.2 11.7 4.2 8.8 4"/>`
		pen      = `<path d="M1.8 14.2c2.4-4.6 3.2-5.4 4.2-4.4s-1.2 3.4.4 3.2 1.6-1.8 2.6-1.6.6 1.6 2 1.4 2.2-1 3.4-1.4"/><path d="M9.4 7.2 13.8 1.8"/>`
		away     = `<path d="M2.4 13.6V7.2h9.4"/><path d="M8.8 4 12.2 7.2 8.8 10.4"/>`
		shelf    = `<path d="M2 13.6h12M8 11V2.4M4.8 5.4 8 2.2l3.2 3.2"/>`
		phone    = `<path d="M4.6 1.6h6.8v12.8H4.6zM7 12h2"/>`
		dash     = `<path d="M3 8h10"/>`
		corner   = `<path d="M3 1.8h6.6L13 5.2v9H3zM9.6 1.8v3.4H13"/>`
		eye      = `<path d="M1.4 8C3.2 5 5.4 3.6 8 3.6S12.8 5 14.6 8c-1.8 3-4 4.4-6.6 4.4S3.2 11 1.4 8z"/><circle cx="8" cy="8" r="1.8"/>`
		oldSheet = `<path d="M3 1.8h6.6L13 5.2v9H3z"/><path d="M1.6 12.6 14.6 4.6"/>`
	)
	return []sign{
		// Verdicts.
		{"not checked", "quiet", ring}, {"good", "good", tick}, {"too close to call", "ask", calliper},
		{"off the layout", "off", crow}, {"fails the limit", "fails", cross},
		// Stages, and deviations.
		{"open", "ask", box}, {"closed", "good", boxTick}, {"closed with a deviation", "off", boxNote},
		{"cannot start yet", "quiet", wait}, {"hold point", "ask", diamond}, {"covered", "good", boards},
		{"put right", "good", again}, {"accepted", "good", pen}, {"referred", "ask", away},
		// Photographs.
		{"on the server", "good", shelf}, {"still on this phone", "ask", phone}, {"sending", "quiet", wait},
		{"wanted", "ask", eye},
		// Packs, layouts, and what is missing.
		{"issued", "good", corner}, {"superseded", "quiet", oldSheet}, {"retired", "quiet", oldSheet},
		{"expired", "quiet", oldSheet}, {"planned", "quiet", ring}, {"partly as built", "ask", ring}, {"as built", "good", tick},
		{"not recorded", "quiet", dash}, {"not screened", "quiet", dash}, {"not needed", "quiet", dash},
		{"not applicable", "quiet", dash}, {"yes", "good", tick}, {"no", "ask", cross},
	}
}

// byWord is the signs by their words, made once: a long page shows hundreds of them.
var byWord = sync.OnceValue(func() map[string]sign {
	m := map[string]sign{}
	for _, s := range signs() {
		m[s.word] = s
	}
	return m
})

// find is the sign of the word.
func find(word string) (sign, error) {
	s, ok := byWord()[word]
	if !ok {
		return sign{}, fmt.Errorf("no mark for the state %q", word)
	}
	return s, nil
}

// NewStatus is the state that the word names; as, when given, names the state whose mark stands beside a longer wording
// ("3 open" as "open"). It panics on a word without a mark: words are the program's own, never a user's.
func NewStatus(word string, as ...string) *Status {
	s, err := newStatus(word, as...)
	if err != nil {
		panic(err)
	}
	return &s
}

// worded is a value that has a word to be shown by, such as a verdict.
type worded interface{ Word() string }

// newStatus is the state of a word, or of a value that has one.
func newStatus(value any, as ...string) (Status, error) {
	var word string
	switch v := value.(type) {
	case Status:
		return v, nil
	case *Status:
		return *v, nil
	case worded:
		word = v.Word()
	default:
		word = fmt.Sprint(v)
	}
	s := Status{Word: word, kind: word}
	for _, a := range as {
		s.kind = a
	}
	_, err := find(s.kind)
	return s, err
}

// Tone is the class that colours the state.
func (s Status) Tone() (string, error) {
	found, err := find(s.kind)
	return "is-" + found.tone, err
}

// Mark is the small drawing beside the word. It is hidden from a screen reader, which has the word.
func (s Status) Mark() (template.HTML, error) {
	found, err := find(s.kind)
	return template.HTML(found.mark()), err
}

func (s sign) mark() string {
	return `<svg class="mark" viewBox="0 0 16 16" aria-hidden="true" focusable="false">` + s.path + `</svg>`
}

// Span is the whole state, mark and word. It is made here and not in a template because long pages show hundreds.
func (s Status) Span() (template.HTML, error) {
	found, err := find(s.kind)
	return template.HTML(`<span class="status is-` + found.tone + `">` + found.mark() + `<span>` + template.HTMLEscapeString(s.Word) + `</span></span>`), err
}

// statusFuncs make states in a template.
func statusFuncs() map[string]any {
	return map[string]any{
		"status": newStatus,
		"mark": func(word string) (template.HTML, error) {
			s, err := newStatus(word)
			if err != nil {
				return "", err
			}
			return s.Mark()
		},
	}
}
