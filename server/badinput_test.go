package server_test

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"newelbook/jobs"
	"newelbook/media"
	"newelbook/media/exifwrite"
	"newelbook/views"
)

// bad is one thing that somebody sends that cannot be taken as it stands, and what must come of it.
type bad struct {
	name   string
	send   func(w *ground) answer
	status int
	says   string            // one whole sentence of the page
	keeps  map[string]string // what was typed, in the form that comes back
	shows  []string          // other words of the page
	saved  string            // what the ledger has more and less than before; empty is nothing
}

// ground is what a row starts from: a job of its own with one level run of two bays, on a site that all rows share.
type ground struct {
	*site
	ada, ben *browser
	job, run string
	before   ledger
}

// mark reads the ledger. What is sent after it is the bad input.
func (w *ground) mark() {
	if err := w.desk.Wait(w.t.Context(), strings.TrimPrefix(w.job, "/jobs/")); err != nil { // a pack that was sent before is issued first
		w.t.Fatal(err)
	}
	w.before = w.ledger()
}

// post sends a form as the bad input.
func (w *ground) post(b *browser, action string, v url.Values) answer {
	w.t.Helper()
	w.mark()
	return b.post(action, v)
}

// typed opens a page, types into its form and sends it as the bad input.
func (w *ground) typed(b *browser, page, action string, pairs ...string) answer {
	w.t.Helper()
	return w.post(b, action, with(b.page(page).fields(action), pairs...))
}

// without is a form that lacks a field.
func without(v url.Values, name string) url.Values {
	v.Del(name)
	return v
}

// twice sends a form, and then once more as the bad input: it must lead to where it led the first time.
func (w *ground) twice(b *browser, action string, v url.Values) answer {
	w.t.Helper()
	first := b.post(action, v).want(http.StatusSeeOther)
	again := w.post(b, action, v)
	if again.location != first.location {
		w.t.Errorf("sent again it leads to %q, at first to %q", again.location, first.location)
	}
	return again
}

// reading is the form of one upper bolt, with its check and place.
func (w *ground) reading(b *browser, post string) (v url.Values, check string) {
	w.t.Helper()
	check, at := w.checkID(w.job, "framing.bolt_upper", post)
	return b.ask(w.job, "framing", "framing.bolt_upper", at), check
}

// photo sends one file to the whole job as the bad input.
func (w *ground) photo(name string, content []byte) answer {
	w.t.Helper()
	v := with(w.ben.filing(w.job, "place=job&stage=framing"), "caption", "Both bolts")
	w.mark()
	return w.ben.upload(w.job+"/photos", v, file{name, content})
}

// card takes two photographs in unfiled and returns the form that files them, with the place and stage that nobody could suggest.
func (w *ground) card() url.Values {
	w.t.Helper()
	var inputs []jobs.PhotoInput
	for i := range 2 {
		inputs = append(inputs, jobs.PhotoInput{Facts: media.Photo{ID: media.ID{byte(i + 1)}, Kind: media.JPEG, Bytes: 1000, Width: 4, Height: 3}, Name: "card.jpg", Unfiled: true})
	}
	id := strings.TrimPrefix(w.job, "/jobs/")
	if _, err := w.service.AddPhotos(w.t.Context(), jobs.By{Actor: jobs.Actor{ID: "card", Name: "Card", Role: jobs.RoleBuilder}}, id, inputs); err != nil {
		w.t.Fatal(err)
	}
	v := w.ben.page(w.job + "/photos/filing").fields(w.job + "/photos/filing")
	names := views.BatchFields(v.Get("batch"))
	return with(v, names.Place, "job", names.Stage, "framing")
}

// marks is the path of a photograph, and a form that draws one arrow over it.
func (w *ground) marks() (path string, v url.Values) {
	w.t.Helper()
	w.ben.upload(w.job+"/photos", w.ben.filing(w.job, "place=job&stage=framing"), file{"a.jpg", picture(w.t, 8, exifwrite.Tags{})}).want(http.StatusSeeOther)
	path = w.job + "/photos/" + w.record(w.job).Photos[0].ID
	return path, with(w.ben.page(path).fields(path+"/marks"), "mark-0", "arrow", "mark-0-from_x", "1", "mark-0-from_y", "1", "mark-0-to_x", "50", "mark-0-to_y", "50", "mark-0-text", "lower bolt")
}

// deviation is the path of a deviation that a reading opened.
func (w *ground) deviation() string {
	w.t.Helper()
	v, check := w.reading(w.ben, "R1-P1")
	w.ben.post(w.job+"/readings", with(v, "text:"+check, "1 7/8")).want(http.StatusSeeOther)
	return w.job + "/deviations/" + w.record(w.job).Deviations[0].ID
}

// linked issues a pack and makes a link to it.
func (w *ground) linked(whom string) string {
	w.t.Helper()
	w.ada.issue(w.job, "handover", "no").want(http.StatusSeeOther)
	return w.ada.link(w.job, "1", whom)
}

// another sends a request of a method with a body and headers as the bad input.
func (w *ground) another(b *browser, method, path, body string, headers ...string) answer {
	w.t.Helper()
	r, err := http.NewRequestWithContext(w.t.Context(), method, w.URL+path, strings.NewReader(body))
	if err != nil {
		w.t.Fatal(err)
	}
	for i := 0; i+1 < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
	}
	w.mark()
	return b.do(r)
}

// TestBadInput sends what cannot be taken, over HTTP, to a real service on a real store: each is answered with its status and a
// sentence that says what to do, keeps what was typed, loses nothing that is saved and leaves nothing half saved.
func TestBadInput(t *testing.T) {
	s := newSite(t).withPeople()
	ada, ben := s.as("ada"), s.as("ben")
	for _, c := range slices.Concat(badLengths(), badFields(), badFiles(), sentAgain(), savedMeanwhile(), goneMeanwhile(), badRequests(), notCrew(), badLinks()) {
		t.Run(c.name, func(t *testing.T) {
			within := *s
			within.t = t
			w := &ground{site: &within, ada: &browser{&within, ada.Client}, ben: &browser{&within, ben.Client}}
			w.job = w.ada.aJob()
			w.run = w.ada.aRun(w.job)
			a := c.send(w)
			if w.before == nil {
				t.Fatal("the row sent nothing as the bad input")
			}
			if a.status != c.status {
				t.Errorf("status %d, want %d\n%s", a.status, c.status, a.text())
			}
			if got := w.ledger().since(w.before); got != c.saved {
				t.Errorf("the ledger has %q, want %q", got, c.saved)
			}
			if c.says != "" && !a.sentence(c.says) {
				t.Errorf("no sentence is %q:\n%s", c.says, a.text())
			}
			a.says(c.shows...)
			for name, want := range c.keeps {
				if !a.holds(name, want) {
					t.Errorf("no field %s holds %q", name, want)
				}
			}
		})
	}
}

// sentence says whether one element of the page has those words and no others.
func (a answer) sentence(want string) bool {
	return len(a.find(func(n *html.Node) bool { return n.Data != "html" && n.Data != "body" && textOf(n) == want })) > 0
}

// holds says whether a control of that name holds a text.
func (a answer) holds(name, want string) bool {
	for _, n := range a.find(func(n *html.Node) bool { return attr(n, "name") == name }) {
		switch {
		case n.Data == "textarea" && strings.TrimPrefix(textNodes(n), "\n") == want, n.Data == "select" && chosen(n) == want,
			n.Data == "input" && attr(n, "value") == want && (attr(n, "type") != "radio" || has(n, "checked")):
			return true
		}
	}
	return false
}

// Sentences that many rows end in.
const (
	nothingThere = "It may have been typed wrongly, or taken out of the record. Start from the list of jobs."
	unreadable   = "Nothing was saved. Open the page and send the form again."
	otherwise    = "Open the page and use what is on it."
	sentBefore   = "This form was sent once before with other content, and that was saved. What you typed now is kept below and is not saved yet: check it against what stands, then save again."
)

// meanwhile is the sentence for what somebody saved after a form was opened.
func meanwhile(who, what string) string {
	return who + " saved " + what + " after this form was opened. What you typed is kept below and what they saved stands beside it: put it together and save again."
}

// unsaidOf is the sentence for a form that lacks its version.
func unsaidOf(what string) string {
	return "This form does not say which version of " + what + " it was opened on. What you typed is kept below and what is saved stands beside it: put it together and save again."
}

// badLengths are lengths that are none, and runs that cannot be laid out.
func badLengths() []bad {
	newRun := func(pairs ...string) func(w *ground) answer {
		return func(w *ground) answer {
			return w.typed(w.ada, w.job+"/runs/new?kind=level", w.job+"/runs", append([]string{"label", "R2", "length", "140"}, pairs...)...)
		}
	}
	read := func(text string) func(w *ground) answer {
		return func(w *ground) answer {
			v, check := w.reading(w.ben, "R1-P1")
			return w.post(w.ben, w.job+"/readings", with(v, "text:"+check, text, "note:"+check, "From the stair side"))
		}
	}
	return []bad{
		{"a length that is none, in a run", newRun("length", "six feet"), 422, "Run length must be a length such as 41 3/8 or 3′ 5 3/8″.", map[string]string{"length": "six feet", "label": "R2"}, nil, ""},
		{"a fraction finer than 1/64, in a run", newRun("length", "40 1/128"), 422, "Run length must be a decimal or a fraction no finer than 1/64, such as 41 3/8 or 3′ 5 3/8″.", map[string]string{"length": "40 1/128"}, nil, ""},
		{"a unit that is none, in a run", newRun("length", "40 cubits"), 422, "Run length must be a length such as 41 3/8 or 3′ 5 3/8″.", map[string]string{"length": "40 cubits"}, nil, ""},
		{"a negative run", newRun("length", "-140"), 422, "Run length must be between 0″ and 12000″.", map[string]string{"length": "-140"}, nil, ""},
		{"a run longer than any", newRun("length", "2000'"), 422, "Run length must be between 0″ and 12000″.", nil, nil, ""},
		{"a run shorter than its posts", newRun("length", "2"), 422, "The run of 2″ is too short for its ends: there is no opening between them. Make it longer, or change its ends.", map[string]string{"length": "2"}, nil, ""},
		{"a run of no length", newRun("length", ""), 422, "Enter the run length, or the clear opening of a single bay: the posts cannot be placed without one.", nil, nil, ""},
		{"a rake without a rise", func(w *ground) answer {
			return w.typed(w.ada, w.job+"/runs/new?kind=rake", w.job+"/runs", "label", "R2", "total_rise", "")
		}, 422, "Enter the total rise, or the riser as measured: no rake can be laid out without one.", nil, nil, ""},
		{"a bay that cannot be laid out", func(w *ground) answer {
			v := with(w.ada.page(w.job+"/runs/new?kind=level").fields(w.job+"/runs"), "label", "R2", "length", "140", "posts", "0, 4, 70, 140", "connector_top", "1/2")
			a := w.post(w.ada, w.job+"/runs", v)
			return w.ada.follow(a)
		}, 200, "The opening of 1/2″ is used up by the connector allowance of 1/2″ at each end: no rail fits.", nil, []string{"R2-B1", "not laid out", "R2-B2", "14 balusters"}, "events +2, forms +1, layouts +1, runs +1"},
		{"a length that is none, in the specification", func(w *ground) answer {
			return w.typed(w.ada, w.job+"/specification", w.job+"/specification", "post_width", "thick")
		}, 422, "Post width must be a length such as 41 3/8 or 3′ 5 3/8″.", map[string]string{"post_width": "thick"}, nil, ""},
		{"a length that is none, in a reading", read("two"), 422, "Enter a length such as 41 3/8 or 3′ 5 3/8″.", nil, nil, ""},
		{"a length below zero, in a reading", read("-2"), 422, "Enter a length that is not below zero: only a plumb reading has a sign.", nil, nil, ""},
		{"a length beyond all, in a reading", read("9999999999999999999"), 422, "Enter a length no longer than 3,280 ft.", nil, nil, ""},
		{"a reading of nothing", read(""), 422, "Enter the reading that this note belongs to, or say that it does not apply.", nil, nil, ""},
		{"a count that is none", func(w *ground) answer {
			check, at := w.checkID(w.job, "infill.count", "R1-B1")
			return w.post(w.ben, w.job+"/readings", with(w.ben.ask(w.job, "infill", "infill.count", at), "text:"+check, "a dozen"))
		}, 422, "Enter how many there are as a whole number, such as 14.", nil, nil, ""},
	}
}

// badFields are other fields of forms.
func badFields() []bad {
	newJob := func(pairs ...string) func(w *ground) answer {
		return func(w *ground) answer {
			return w.typed(w.ada, "/jobs/new", "/jobs", append([]string{"ref", "NB-0043", "name", "Porch", "site", "2 Example Lane", "owner", "Olive Sample", "builder", "Sample Decks", "contact", "555 0100",
				"rule_set", "irc-2018", "units", "in", "zone", "America/Chicago"}, pairs...)...)
		}
	}
	amend := func(pairs ...string) func(w *ground) answer {
		return func(w *ground) answer {
			return w.typed(w.ada, w.job+"/rules", w.job+"/amendments", append([]string{"key", "guard.height_level", "value", "42", "said_by", "Iris Sample", "on", "2026-05-01"}, pairs...)...)
		}
	}
	return []bad{
		{"a zone that does not exist", newJob("zone", "America/Nowhere"), 422, "Enter the time zone by its name, such as America/Chicago or Europe/Dublin.", map[string]string{"zone": "America/Nowhere", "name": "Porch"}, nil, ""},
		{"a zone that is a file", newJob("zone", "../../etc/hostname"), 422, "Enter the time zone by its name, such as America/Chicago or Europe/Dublin.", nil, nil, ""},
		{"a rule set that does not exist", newJob("rule_set", "irc-1776"), 422, "Choose the rule set that the authority has adopted.", nil, nil, ""},
		{"a latitude that is no number", newJob("lat", "NaN", "lon", "NaN"), 422, "Enter degrees between -90 and 90, such as 44.9512.", map[string]string{"lat": "NaN"}, nil, ""},
		{"an amendment with a word for a length", amend("value", "waist high"), 422, "Height of a level guard: enter a value such as 36 in.", map[string]string{"value": "waist high"}, nil, ""},
		{"an amendment with a load for a length", amend("value", "200 lb"), 422, "Height of a level guard: enter a value such as 36 in.", map[string]string{"value": "200 lb"}, nil, ""},
		{"an amendment of a figure that the rule set lacks", amend("key", "climb.zone_low"), 422, `Choose a figure that International Residential Code, 2018 has; it has none called "climb.zone_low".`, nil, nil, ""},
		{"an amendment said tomorrow", amend("on", "2026-05-05"), 422, "Enter the date it was said as 2026-05-04, not later than today.", map[string]string{"on": "2026-05-05"}, nil, ""},
		{"a cover that is still to come", func(w *ground) answer { return w.typed(w.ada, w.run+"/cover", w.run+"/cover", "on", "2026-05-05") }, 422, "Enter the date it was covered as 2026-05-04, not later than today.", map[string]string{"on": "2026-05-05"}, nil, ""},
		{"a diary page of tomorrow", func(w *ground) answer {
			return w.post(w.ben, w.job+"/diary/2026-05-05", with(w.ben.page(w.job+"/diary/2026-05-04").fields(w.job+"/diary/2026-05-04"), "work", "Nothing yet"))
		}, 404, nothingThere, nil, nil, ""},
		{"a person of a diary without hours", func(w *ground) answer {
			day := w.job + "/diary/2026-05-04"
			return w.typed(w.ben, day, day, "people", "Ben Sample 8", "work", "Blocking")
		}, 422, "Enter one person a line with the hours after a comma, such as Jo, 7 1/2. This line is not: Ben Sample 8", map[string]string{"people": "Ben Sample 8", "work": "Blocking"}, nil, ""},
		{"a run with the label of another", func(w *ground) answer {
			return w.typed(w.ada, w.job+"/runs/new?kind=level", w.job+"/runs", "label", "R1", "length", "140")
		}, 422, "R1 is taken by another run: choose another label.", nil, nil, ""},
		{"a run of no kind that there is", func(w *ground) answer {
			return w.typed(w.ada, w.job+"/runs/new?kind=level", w.job+"/runs", "kind", "spiral", "label", "R2", "length", "140")
		}, 422, "Kind of run must be one of: level, rake, removable.", nil, nil, ""},
		{"a run without its label and kind", func(w *ground) answer { return w.post(w.ada, w.job+"/runs", url.Values{"length": {"140"}}) }, 422, "Enter the kind of run.", nil, nil, ""},
		{"stock on hand of no length", func(w *ground) answer {
			return w.typed(w.ben, w.job+"/materials", w.job+"/materials/on-hand", "length", "as long as the truck", "from", "Behind the shed")
		}, 422, "Enter the length of one board, such as 96 or 8′.", map[string]string{"length": "as long as the truck", "from": "Behind the shed"}, nil, ""},
		{"half a board on hand", func(w *ground) answer {
			return w.typed(w.ben, w.job+"/materials", w.job+"/materials/on-hand", "length", "96", "count", "1/2")
		}, 422, "Enter how many boards there are, from 1 to 1000.", map[string]string{"length": "96", "count": "1/2"}, nil, ""},
		{"stock on hand of a section that nothing is cut from", func(w *ground) answer {
			return w.typed(w.ben, w.job+"/materials", w.job+"/materials/on-hand", "stock", "gold bar; ", "length", "96")
		}, 422, "Choose the section that the boards are of.", map[string]string{"length": "96"}, nil, ""},
		{"a board of the plan without a piece", func(w *ground) answer {
			return w.post(w.ben, w.job+"/materials/boards", url.Values{"rest": {"40"}})
		}, 422, "No piece of the board is named: tick the pieces by themselves.", nil, nil, ""},
		{"a weight that is none", func(w *ground) answer {
			return w.typed(w.ada, w.job+"/specification", w.job+"/specification", "carry_alone", "what I can lift")
		}, 422, "Two people carry more than must be a weight such as 45 lb or 20 kg, no more than 1,000 kg.", map[string]string{"carry_alone": "what I can lift"}, nil, ""},
		{"bytes that are no text", newJob("name", "Porch \xff\xfe"), 400, unreadable, nil, nil, ""},
		{"a zero byte", newJob("name", "Porch\x00"), 400, unreadable, nil, nil, ""},
		{"a deviation of nothing", func(w *ground) answer {
			return w.typed(w.ben, w.job+"/deviations/new?place=job&stage=framing", w.job+"/deviations/new", "what", " ")
		}, 422, "Enter what is not as it should be, in one sentence.", nil, nil, ""},
		{"a pack for nothing", func(w *ground) answer {
			return w.typed(w.ada, w.job+"/packs", w.job+"/packs", "purpose", "", "originals", "maybe")
		}, 422, "Choose what the pack is for.", nil, nil, ""},
		{"a person with a short password", func(w *ground) answer {
			return w.typed(w.ada, "/people", "/people", "name", "Cy Sample", "login", "cy", "role", "crew", "password", "short", "repeat", "short")
		}, 422, "Enter a password of at least 10 characters; a few words in a row are good.", map[string]string{"name": "Cy Sample"}, nil, ""},
	}
}
