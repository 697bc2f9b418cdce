package views

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"newelbook/jobs"
)

// DiaryURL is the path of one day of the site diary.
func DiaryURL(jobID, day string) string { return JobURL(jobID, "diary", day) }

// DiaryListPage lists the days of the site diary, today first.
type DiaryListPage struct {
	Frame
	Today Fact // Label, Note, and URL
	Days  []Row
	Other Field
	URL   string
}

// NewDiaryList is the list of days: those that have a page, and those on which something was recorded and nobody wrote.
func NewDiaryList(f Frame, rec *jobs.Record, today string) DiaryListPage {
	job := rec.Job
	p := DiaryListPage{URL: JobURL(job.ID, "diary")}
	f.Lead = "One page a day. The day’s readings and photographs draw themselves in."
	p.Today = Fact{Label: "Write today’s page", Note: dayText(today), URL: DiaryURL(job.ID, today)}
	if _, ok := rec.DiaryDay(today); ok {
		p.Today.Label = "Go on with today’s page"
	}
	days := map[string]bool{}
	for _, page := range rec.Diary {
		days[page.Day] = true
	}
	for _, r := range rec.Readings {
		days[job.Day(r.Received)] = true
	}
	for _, x := range rec.Photos {
		days[job.Day(x.Received)] = true
	}
	for day := range days {
		p.Days = append(p.Days, dayRow(rec, day))
	}
	slices.SortFunc(p.Days, func(a, b Row) int { return strings.Compare(b.URL, a.URL) })
	p.Other = newField(f, "day", "Day")
	p.Other.Kind, p.Other.Size = "date", "medium"
	p.Frame = f
	return p
}

// dayRow is one day in the list.
func dayRow(rec *jobs.Record, day string) Row {
	readings, photos := rec.OfDay(day)
	row := Row{Label: dayText(day), URL: DiaryURL(rec.Job.ID, day)}
	var notes []string
	page, ok := rec.DiaryDay(day)
	if ok {
		first, _, _ := strings.Cut(page.Work, "\n")
		notes = append(notes, strings.TrimSuffix(page.Weather, "."), strings.TrimSuffix(first, "."))
		if n := len(page.People); n > 0 {
			notes = append(notes, persons(n))
		}
	} else {
		row.Status = NewStatus("no page yet", "wanted")
	}
	if n := len(readings); n > 0 {
		notes = append(notes, counted(n, "reading"))
	}
	if n := len(photos); n > 0 {
		notes = append(notes, counted(n, "photograph"))
	}
	row.Note = strings.Join(slices.DeleteFunc(notes, func(s string) bool { return s == "" }), "; ")
	return row
}

func persons(n int) string {
	if n == 1 {
		return "1 person"
	}
	return fmt.Sprintf("%d people", n)
}

// dayText is a day for people; a text that is no day stays as it is.
func dayText(day string) string {
	t, err := time.Parse(time.DateOnly, day)
	if err != nil {
		return day
	}
	return t.Format("Monday 2 January 2006")
}

// dayBy is the day so many days later.
func dayBy(day string, n int) string {
	t, err := time.Parse(time.DateOnly, day)
	if err != nil {
		return day
	}
	return t.AddDate(0, 0, n).Format(time.DateOnly)
}

// DiaryDayPage is one day of the site diary: what is written, and what the record says of the day by itself.
type DiaryDayPage struct {
	Frame
	Form         Form
	URL, Version string
	Saved        string // who wrote it last, and when
	Stands       []Fact
	Fields       []FieldView
	Readings     []Row
	Photos       []Photo
	Few          bool   // so few that they are shown opened
	None         string // what stands where nothing was recorded on the day
	Before       Fact
	After        Fact
	ListURL      string

	ReadingsLabel, PhotosLabel string
}

// fewOfDay is how many readings and photographs of a day are shown without being asked for.
const fewOfDay = 12

// NewDiaryDay is the page of a day not later than today.
func NewDiaryDay(f Frame, rec *jobs.Record, day, today string, form Form) (DiaryDayPage, error) {
	sheet, err := rec.Sheet()
	if err != nil {
		return DiaryDayPage{}, err
	}
	job := rec.Job
	f.Title = dayText(day)
	page, written := rec.DiaryDay(day)
	p := DiaryDayPage{Form: form, URL: DiaryURL(job.ID, day), Version: form.Version(page.Version), ListURL: JobURL(job.ID, "diary")}
	if written {
		p.Saved = fmt.Sprintf("Saved by %s, %s.", page.By.Name, stamp(page.At, job.Location()))
	}
	p.Stands = form.Stands(diaryStands(page))
	p.Fields = diaryFields(f, rec, page, form)
	p.Before = Fact{Label: "The day before", URL: DiaryURL(job.ID, dayBy(day, -1))}
	if day < today {
		p.After = Fact{Label: "The day after", URL: DiaryURL(job.ID, dayBy(day, 1))}
	}
	readings, photos := rec.OfDay(day)
	for _, r := range readings {
		p.Readings = append(p.Readings, Row{
			Place: r.Check.Place.Label, Label: r.Check.Title, Note: fmt.Sprintf("%s, %s", r.Received.In(job.Location()).Format("15:04"), r.By.Name),
			Figure: ReadingText(r, sheet.Style), Status: NewStatus(r.Result.Verdict.Word()), URL: CheckURL(job.ID, r.CheckID),
		})
	}
	for _, x := range photos {
		p.Photos = append(p.Photos, photo(rec, x))
	}
	p.Few, p.ReadingsLabel, p.PhotosLabel = len(readings)+len(photos) <= fewOfDay, counted(len(readings), "reading"), counted(len(photos), "photograph")
	if len(readings)+len(photos) == 0 {
		p.None = "No reading and no photograph was received on this day."
	}
	p.Frame = f
	return p, nil
}

// diaryFields are the questions of a day, in the order in which they are answered on site.
func diaryFields(f Frame, rec *jobs.Record, page jobs.DiaryPage, form Form) []FieldView {
	box := func(name, label, hint, saved string) FieldView {
		v := newField(f, name, label)
		v.Hint, v.Value, v.Complete = hint, form.Text(name, saved), "off"
		return FieldView{Box: &v}
	}
	area := func(rows int, name, label, hint, saved string) FieldView {
		view := box(name, label, hint, saved)
		view.Area, view.Box = view.Box, nil
		view.Area.Rows = rows
		return view
	}
	return []FieldView{
		box("weather", "Weather", "", page.Weather),
		area(3, "people", "People and hours", strings.TrimSpace("One a line, such as Jo, 7 1/2. "+lastPeople(rec, page.Day)), page.PeopleText()),
		area(4, "work", "Work done", "", page.Work),
		area(2, "fall_protection", "Fall protection where the guard is missing", "What kept people from the open edge.", page.FallProtection),
		area(2, "deliveries", "Deliveries", "", page.Deliveries),
		area(2, "delays", "Delays", "", page.Delays),
		area(2, "visitors", "Visitors", "", page.Visitors),
	}
}

// lastPeople recalls who was there last, for whoever writes the same down again.
func lastPeople(rec *jobs.Record, day string) string {
	for i := len(rec.Diary) - 1; i >= 0; i-- {
		if p := rec.Diary[i]; (day == "" || p.Day < day) && len(p.People) > 0 {
			return "Last time: " + strings.ReplaceAll(p.PeopleText(), "\n", "; ") + "."
		}
	}
	return ""
}

func diaryStands(p jobs.DiaryPage) []Stand {
	return []Stand{
		{"weather", "Weather", p.Weather}, {"people", "People and hours", p.PeopleText()}, {"work", "Work done", p.Work},
		{"fall_protection", "Fall protection", p.FallProtection}, {"deliveries", "Deliveries", p.Deliveries}, {"delays", "Delays", p.Delays}, {"visitors", "Visitors", p.Visitors},
	}
}
