package pack_test

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	ics "github.com/arran4/golang-ical"

	"newelbook/checklist"
	"newelbook/checklist/layout"
	"newelbook/jobs"
	"newelbook/media"
	"newelbook/views/pack"
)

// facts are those of a kept pack: a small job, one run, its framing still open.
func facts(t *testing.T) pack.Facts {
	t.Helper()
	whole := keptPack(t, "release-1.zip.gz")
	z, err := zip.NewReader(bytes.NewReader(whole), int64(len(whole)))
	if err != nil {
		t.Fatal(err)
	}
	f := pack.Facts{RecordHash: pack.Hash{1, 2, 3}, Pictures: map[media.ID]pack.Picture{}}
	for _, entry := range z.File {
		if !strings.HasSuffix(entry.Name, "/data/record.json") {
			continue
		}
		r, err := entry.Open()
		if err != nil {
			t.Fatal(err)
		}
		if err := json.NewDecoder(r).Decode(&f.Record); err != nil {
			t.Fatal(err)
		}
	}
	picture := jpegOf(t, 3, 64, 48)
	for _, p := range f.Record.Photos {
		id, _, _ := p.Shown()
		f.Pictures[id] = pack.Picture{Payload: pack.Bytes("data/pictures/"+id.String()+".jpg", picture), W: 64, H: 48}
	}
	return f
}

// The documents are made from one tree: each holds what it is for, in its order, and none points outside itself.
func TestEditions(t *testing.T) {
	tree := pack.Build(facts(t))
	if got := tree.Editions(); !slices.Equal(got, []pack.Edition{pack.OwnerEdition, pack.InspectorEdition, pack.FramingRequest}) {
		t.Fatalf("the pack holds %q", got)
	}
	for _, e := range tree.Editions() {
		d := tree.Edition(e)
		if err := d.Check(); err != nil {
			t.Errorf("%s: %v", e, err)
		}
		golden(t, "text/"+string(e)+".golden", pack.Text(d))
		if again := pack.Text(pack.Build(facts(t)).Edition(e)); again != pack.Text(d) {
			t.Errorf("%s: two trees of the same facts differ", e)
		}
	}
	order := func(e pack.Edition) (ids []string) {
		for _, s := range tree.Edition(e).Sections {
			if s.Level == 1 {
				ids = append(ids, s.ID)
			}
		}
		return ids
	}
	if got := order(pack.OwnerEdition); !slices.Equal(got, []string{"guard", "unusual", "care", "never", "call", "signoffs", "integrity"}) {
		t.Errorf("owner: %q", got)
	}
	if got := order(pack.InspectorEdition); got[0] != "attention" || got[len(got)-1] != "integrity" || !slices.Contains(got, "concealed") {
		t.Errorf("inspector: %q", got)
	}
}

// A pack for an authority that accepts no photographs says so, and prints with each hold point who saw it; one for an authority that wants
// the permit in every picture says in how many it is said to be.
func TestPhotoPolicies(t *testing.T) {
	refused := facts(t)
	refused.Record.Job.Photo = checklist.PhotosRefused
	asked := 0
	for i := range refused.Record.Stages {
		for j := range refused.Record.Stages[i].Checks {
			c := &refused.Record.Stages[i].Checks[j]
			if c.Check.Ask != checklist.AskPhoto || !c.Check.Hold {
				continue
			}
			asked++
			c.Check.Ask, c.Check.Witness = checklist.AskSeen, true
			if asked == 2 {
				r := jobs.Reading{ID: "seen", Check: c.Check, Answer: checklist.Answer{Seen: checklist.SeenYes, Witness: "Iris Sample"}, By: jobs.Actor{Name: "Ben Sample"}, Claimed: refused.Record.Frozen}
				c.Readings, c.Current = []jobs.Reading{r}, r.ID
			}
		}
	}
	text := pack.Text(pack.Build(refused).Edition(pack.InspectorEdition))
	for _, want := range []string{
		"does not accept photographs as proof", fmt.Sprintf("one is named for 1 of %d hold points", asked), "What was seen with a witness, place by place", "with Iris Sample as witness",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the pack of an authority that accepts no photographs lacks %q", want)
		}
	}
	permit := facts(t)
	permit.Record.Job.Photo, permit.Record.Job.Permit = checklist.PermitInFrame, "EX-7"
	permit.Record.Photos[0].Shows = []string{jobs.ShowsPermit}
	want := fmt.Sprintf("Permit EX-7 is said to be in view in 1 of %d photograph", len(permit.Record.Photos))
	if text := pack.Text(pack.Build(permit).Edition(pack.InspectorEdition)); !strings.Contains(text, want) {
		t.Errorf("the pack lacks %q", want)
	}
}

// Once the run is covered, or the framing is closed for another purpose, nobody is asked to look at it.
func TestFramingRequestOnlyBeforeDecking(t *testing.T) {
	covered := facts(t)
	covered.Record.Covered = []jobs.Covered{{RunID: covered.Record.Layouts[0].RunID, On: "2026-05-06"}}
	closed := facts(t)
	closed.Record.Purpose = "handover"
	asked := facts(t)
	asked.Record.Purpose = "framing inspection"
	for i := range closed.Record.Stages {
		closed.Record.Stages[i].Closed = closed.Record.Stages[i].Stage == checklist.Framing
		asked.Record.Stages[i].Closed = closed.Record.Stages[i].Closed
	}
	for _, c := range []struct {
		name string
		f    pack.Facts
		want bool
	}{{"framing open", facts(t), true}, {"covered", covered, false}, {"framing closed", closed, false}, {"framing closed, inspection asked for", asked, true}} {
		if got := slices.Contains(pack.Build(c.f).Editions(), pack.FramingRequest); got != c.want {
			t.Errorf("%s: request %v, want %v", c.name, got, c.want)
		}
	}
}

// However many runs a job has and however long its names are, the request stays on one page with its lines to sign.
func TestFramingRequestIsOnePage(t *testing.T) {
	many := facts(t)
	x := &many.Record
	x.Job.Name, x.Job.Site = "Deck guard and stair guard at the old pump house by the lower ford", "1204 Lower Water Lane, behind the second gate, Sampleton upon Example"
	x.Job.Builder, x.Job.Contact = "Sample Decks and Stairs, guards and rails of wood", "555 0100, ring between seven and eight or leave word at the yard"
	x.Job.Authority, x.Job.Permit = "Sampleton and District Joint Building Office, second floor", "2026-EX-000418-B"
	for range 11 {
		x.Layouts = append(x.Layouts, x.Layouts[0])
	}
	for name, f := range map[string]pack.Facts{"small": facts(t), "many runs": many} {
		d := pack.Build(f).Edition(pack.FramingRequest)
		for _, p := range []pack.Paper{pack.A4, pack.Letter} {
			path := saved(t, "request.pdf", pdf(t, d, p))
			if pages := regexp.MustCompile(`Pages:\s+(\d+)`).FindStringSubmatch(tool(t, "pdfinfo", path)); pages[1] != "1" {
				t.Errorf("%s, paper %d: %s pages, want one", name, p, pages[1])
			}
			text := strings.Join(strings.Fields(tool(t, "pdftotext", "-raw", path, "-")), " ")
			if !regexp.MustCompile(`Outcome accepted correct and call again not inspected Name Office .*Date Signature`).MatchString(text) {
				t.Errorf("%s, paper %d: no room for the outcome and its date: %s", name, p, text)
			}
		}
	}
}

// The words of each edition are in its PDF and in its page, which both name the record that they were made from.
func TestEditionsAsFiles(t *testing.T) {
	f := facts(t)
	tree := pack.Build(f)
	for _, e := range tree.Editions() {
		d := tree.Edition(e)
		for _, p := range []pack.Paper{pack.A4, pack.Letter} {
			out := pdf(t, d, p)
			path := saved(t, "edition.pdf", out)
			tool(t, "qpdf", "--check", path)
			text := strings.Join(strings.Fields(tool(t, "pdftotext", "-raw", path, "-")), " ")
			for _, s := range d.Sections {
				if !strings.Contains(text, s.Heading) {
					t.Errorf("%s, paper %d: the text lacks %q", e, p, s.Heading)
				}
			}
			if !bytes.Contains(out, []byte("<dc:source>sha256:"+f.RecordHash.String()+"</dc:source>")) {
				t.Errorf("%s: the PDF does not name its record", e)
			}
		}
		var page bytes.Buffer
		if err := pack.WriteHTML(&page, d, folder()); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(page.String(), `<meta name="dcterms.source" content="sha256:`+f.RecordHash.String()+`">`) {
			t.Errorf("%s: the page does not name its record", e)
		}
	}
}

// Readings pushed by hand are told as that and nothing else.
func TestPushedByHandIsNoTest(t *testing.T) {
	text := strings.ToLower(pack.Text(pack.Build(facts(t)).Edition(pack.InspectorEdition)) + pack.Text(pack.Build(facts(t)).Edition(pack.OwnerEdition)))
	for _, wrong := range regexp.MustCompile(`[^.|\n]*by hand[^.|\n]*test[^.|\n]*`).FindAllString(text, -1) {
		if !strings.Contains(wrong, "not a load test") {
			t.Errorf("says %q", wrong)
		}
	}
}

// The calendar is read by a library that shares nothing with it: every day of care with its rule, in a time zone's own day.
func TestCalendar(t *testing.T) {
	f := facts(t)
	f.Record.Job.Zone = "Pacific/Auckland"
	f.Record.Frozen = time.Date(2026, 3, 31, 12, 30, 0, 0, time.UTC) // already 1 April there
	f.Record.Job.Site = "2 Example Lane; back, Sampleton — σκάλα, with a name that is long enough to be folded, more than once even"
	f.Record.Layouts[0].Lift = &layout.Lift{}
	text := pack.Calendar(f)
	if !bytes.Equal(text, pack.Calendar(f)) {
		t.Error("two calendars of the same facts differ")
	}
	for line := range bytes.SplitSeq(text, []byte("\r\n")) {
		if len(line) > 75 || bytes.ContainsAny(line, "\r\n") {
			t.Errorf("a line of %d octets, more than 75, or with a bare line end: %q", len(line), line)
		}
	}
	cal, err := ics.ParseCalendar(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]string{}
	uids := map[string]bool{}
	for _, e := range cal.Events() {
		start, err := e.GetAllDayStartAt()
		if err != nil {
			t.Fatal(err)
		}
		rule := ""
		if p := e.GetProperty(ics.ComponentPropertyRrule); p != nil {
			rule = p.Value
		}
		got[e.GetProperty(ics.ComponentPropertySummary).Value] = start.Format(time.DateOnly) + " " + rule
		uids[e.Id()] = true
		if where := e.GetProperty(ics.ComponentPropertyLocation).Value; where != f.Record.Job.Site {
			t.Errorf("the place comes back as %q", where)
		}
	}
	want := map[string]string{
		"Tighten the guard's bolts and screws": "2026-07-01 FREQ=YEARLY;INTERVAL=1",
		"Wash the guard":                       "2027-04-01 FREQ=YEARLY;INTERVAL=1",
		"Look for rot and looseness":           "2027-04-01 FREQ=YEARLY;INTERVAL=1",
		"Clear the sleeves of R1":              "2027-04-01 FREQ=YEARLY;INTERVAL=1",
		"Renew the finish":                     "2028-04-01 FREQ=YEARLY;INTERVAL=2",
	}
	for title, when := range want {
		if got[title] != when {
			t.Errorf("%s: %q, want %q", title, got[title], when)
		}
	}
	if len(got) != len(want) || len(uids) != len(want) {
		t.Errorf("%d events with %d ids, want %d: %v", len(got), len(uids), len(want), got)
	}
}

// A document that was made from another record than the one beside it is named, though every manifest fits.
func TestVerifyHoldsDocumentsAgainstRecord(t *testing.T) {
	f := facts(t)
	f.Record.SignedBy = testKey(1).Fingerprint().String()
	record, err := json.Marshal(f.Record)
	if err != nil {
		t.Fatal(err)
	}
	sealed := func(made pack.Hash, key pack.Key) pack.Report {
		f.RecordHash = made
		d := pack.Build(f).Edition(pack.OwnerEdition)
		b := pack.Bag{Name: "x", Files: []pack.Payload{pack.Bytes("data/record.json", record), pack.Bytes("data/owner.pdf", pdf(t, d, pack.A4))}}
		b, err := b.Sign(key)
		if err != nil {
			t.Fatal(err)
		}
		return verifyZIP(t, zipped(t, b), pack.CheckRecord)
	}
	own := pack.Bytes("", record).SHA256
	if r := sealed(own, testKey(1)); !r.Sound {
		t.Errorf("its own record: %v", r.Findings)
	}
	if r := sealed(pack.Hash{9}, testKey(1)); len(r.Findings) != 1 || r.Findings[0].File != "data/owner.pdf" || !strings.Contains(r.Findings[0].Problem, "another record") {
		t.Errorf("another record: %v", r.Findings)
	}
	if r := sealed(own, testKey(2)); len(r.Findings) != 1 || r.Findings[0].File != "signature.txt" || !strings.Contains(r.Findings[0].Problem, "the record, the pack was signed with the key") {
		t.Errorf("a key that the record does not name: %v", r.Findings)
	}
	unsigned := pack.Bag{Name: "x", Files: []pack.Payload{pack.Bytes("data/record.json", record)}}
	if r := verifyZIP(t, zipped(t, unsigned), pack.CheckRecord); len(r.Findings) != 1 || !strings.Contains(r.Findings[0].Problem, "It is missing; by the record") {
		t.Errorf("a signature taken away: %v", r.Findings)
	}
}

// A later pack says what came into the record since the one before, and that nothing did.
func TestChangesSinceThePackBefore(t *testing.T) {
	since := func(seq int) string {
		f := facts(t)
		f.Record.Pack = 2
		f.Record.Packs = []jobs.IssuedPack{{Number: 1, HeadSeq: seq, Issued: f.Record.Frozen}}
		d := pack.Build(f).Edition(pack.InspectorEdition)
		d.Sections = slices.DeleteFunc(d.Sections, func(s pack.Section) bool { return s.ID != "changes" })
		_, text, _ := strings.Cut(pack.Text(d), "# Since pack 1 {#changes}\n")
		return text
	}
	chain := facts(t).Record.Chain
	last := len(chain)
	if chain[last-1].Type != jobs.EvPhotoAdded || chain[last-2].Type != jobs.EvLayoutMade {
		t.Fatalf("the chain ends with %s, %s", chain[last-2].Type, chain[last-1].Type)
	}
	for seq, want := range map[int][]string{
		last:     {"Nothing was changed in the record"},
		last - 1: {"*Photographs* | Photo 1\n"},
		last - 2: {"*Photographs* | Photo 1\n", "*Runs and layouts* | R1, now layout version 1, the last because: "},
	} {
		text := since(seq)
		for _, w := range want {
			if !strings.Contains(text, w) {
				t.Errorf("since event %d: lacks %q:\n%s", seq, w, text)
			}
		}
		if rows := strings.Count(text, "    *"); rows != len(want) && seq != last {
			t.Errorf("since event %d: %d rows, want %d:\n%s", seq, rows, len(want), text)
		}
	}
	if text := pack.Text(pack.Build(facts(t)).Edition(pack.OwnerEdition)); strings.Contains(text, "Since pack") {
		t.Error("a first pack says what changed since one before it")
	}
}
