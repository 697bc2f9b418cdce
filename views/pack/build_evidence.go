package pack

import (
	"fmt"
	"slices"
	"strings"

	"newelbook/jobs"
)

// diary is the site diary, a day at a time, with what the record itself says of that day.
func (b *builder) diary() Section {
	s := Section{ID: "diary", Heading: "Site diary", Level: 1}
	if len(b.x.Diary) == 0 {
		s.Blocks = append(s.Blocks, para("No page was written."))
		return s
	}
	readings, photos := map[string]int{}, map[string]int{}
	b.eachReading(func(_ jobs.ExportCheck, r *jobs.Reading) { readings[b.x.Job.Day(r.Received)]++ })
	for _, p := range b.x.Photos {
		photos[b.x.Job.Day(p.Received)]++
	}
	t := Table{Caption: "Days", Columns: []Column{{Head: "Day", Weight: 1.1}, {Head: "Weather and people", Weight: 2}, {Head: "Work, deliveries, delays, visitors", Weight: 4}, {Head: "Recorded", Weight: 1.3}}}
	for _, p := range b.x.Diary {
		var people []string
		for _, h := range p.People {
			people = append(people, h.Name+" "+h.Hours)
		}
		var work []string
		for _, part := range []struct{ head, text string }{{"", p.Work}, {"Deliveries: ", p.Deliveries}, {"Delays: ", p.Delays}, {"Visitors: ", p.Visitors}, {"Fall protection: ", p.FallProtection}} {
			if part.text != "" {
				work = append(work, part.head+part.text)
			}
		}
		t.Rows = append(t.Rows, []Cell{{Text: b.day(p.Day), Bold: true}, {Text: strings.Join(append([]string{p.Weather}, people...), "\n")}, {Text: strings.Join(work, "\n")},
			{Text: fmt.Sprintf("%s\n%s", plural(readings[p.Day], "reading"), plural(photos[p.Day], "photograph"))}})
	}
	s.Blocks = append(s.Blocks, t)
	return s
}

func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// photographs shows each photograph with what its file claims, when it was received, and what does not fit.
func (b *builder) photographs() Section {
	s := Section{ID: "photographs", Heading: "Photographs", Level: 1}
	if len(b.x.Photos) == 0 {
		s.Blocks = append(s.Blocks, para("No photograph was recorded."))
		return s
	}
	s.Blocks = append(s.Blocks, para("A photograph is a record of what was seen; it is not an inspection. The time under a picture is what its file claims; the time of receipt is this record's own. The originals are kept untouched under their SHA-256. "+b.positionsText()))
	for _, p := range b.x.Photos {
		s.Blocks = append(s.Blocks, b.photo(p))
	}
	return s
}

// positionsText says which positions leave with the pack. The pictures in it never carry any.
func (b *builder) positionsText() string {
	if b.x.NoPositions {
		return "Where the files claim to have been taken was left out of this pack, and with it the entries of the chain that say so; the chain verifies without them."
	}
	claim := 0
	for _, p := range b.x.Photos {
		if p.Exif.Position != nil {
			claim++
		}
	}
	switch {
	case claim == 0:
		return "No file claims a position."
	case b.x.Originals:
		return fmt.Sprintf("The pictures carry no position; the files of %d of %s claim one, which stands in record.json and in the enclosed originals.", claim, plural(len(b.x.Photos), "photograph"))
	}
	return fmt.Sprintf("The pictures carry no position; the files of %d of %s claim one, which stands in record.json.", claim, plural(len(b.x.Photos), "photograph"))
}

func (b *builder) photo(p jobs.ExportPhoto) Block {
	caption := p.Caption
	if caption == "" {
		caption = "No caption."
	}
	at, stage := p.Place.Label+", "+string(p.Stage), string(p.Stage)+" stage"
	if !p.Filed() {
		at, stage = "Not filed", "not filed to a stage"
	}
	photo := Photo{
		Number: fmt.Sprintf("Photo %d", p.Number), ID: "photo-" + p.ID, Caption: fmt.Sprintf("%s. %s", at, caption), Place: p.Place.Label,
		Claimed: claimed(p), Received: fmt.Sprintf("%s from %s", b.moment(p.Received), p.By.Name), ShortHash: p.Media.Short(),
		Alt:   fmt.Sprintf("Photograph %d at %s, %s: %s", p.Number, p.Place.Label, stage, caption),
		Typed: b.readFrom(p.ReadingID),
	}
	for _, f := range p.Flags {
		photo.Flags = append(photo.Flags, f.Sentence)
	}
	shown, _, _ := p.Shown()
	pic, ok := b.Pictures[shown]
	if !ok {
		return Note{Label: photo.Number, Runs: []Run{{Text: fmt.Sprintf("%s The picture could not be shown when the pack was made; the original is held under %s.", photo.Caption, p.Media)}}}
	}
	if marked, ok := b.Marked[p.ID]; ok {
		photo.Marks, photo.Plain = b.marksText(p.Photo), pic.Path
		pic = marked
	}
	photo.Picture, photo.Open, photo.Size, photo.W, photo.H = pic.Path, pic.Open, pic.Size, pic.W, pic.H
	photo.Read = photo.Typed != "" || b.readOff(p.ID)
	return photo
}

// readOff says whether something is to be read off a photograph: whether a check that it is filed to asks for that.
func (b *builder) readOff(photo string) bool {
	for _, st := range b.x.Stages {
		for _, c := range st.Checks {
			if c.Check.ReadOff() && slices.Contains(c.Photos, photo) {
				return true
			}
		}
	}
	return false
}

// marksText says whose marks are drawn over a picture.
func (b *builder) marksText(p jobs.Photo) string {
	by := ""
	if m := p.Marked; m != nil {
		by = fmt.Sprintf(" by %s, %s", m.By.Name, b.moment(m.At))
	}
	return "Marks were drawn over this copy" + by + ". The original has none."
}

// readFrom is the reading that was typed from a photograph, in one line; empty where there is none.
func (b *builder) readFrom(id string) string {
	out := ""
	b.eachReading(func(c jobs.ExportCheck, r *jobs.Reading) {
		if id != "" && r.ID == id {
			out = fmt.Sprintf("%s at %s. %s: %s", r.Answer.Show(b.style), c.Check.Place.Label, c.Check.Title, r.Result.Verdict.Word())
		}
	})
	return out
}

// eachReading visits every reading of the record, those of earlier layouts last.
func (b *builder) eachReading(visit func(jobs.ExportCheck, *jobs.Reading)) {
	of := func(checks []jobs.ExportCheck) {
		for _, c := range checks {
			for i := range c.Readings {
				visit(c, &c.Readings[i])
			}
		}
	}
	for _, st := range b.x.Stages {
		of(st.Checks)
	}
	of(b.x.Retired)
}

// claimed is what the file says of its own time, never converted.
func claimed(p jobs.ExportPhoto) string {
	c := p.Exif.Capture
	switch {
	case c.Local.IsZero():
		return "not recorded"
	case c.Offset == "":
		return c.Local.String() + ", zone not recorded"
	}
	return c.Local.String() + " " + c.Offset
}
