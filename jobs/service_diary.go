package jobs

import (
	"context"
	"fmt"
	"strings"
)

// DiaryInput is a diary page as typed. People is one person a line, with the hours after the last comma.
type DiaryInput struct {
	Day                                                 string
	Version                                             int
	Weather, People, Work, Deliveries, Delays, Visitors string
	FallProtection                                      string
}

// SaveDiary writes or changes one day of the site diary.
func (s *Service) SaveDiary(ctx context.Context, by By, jobID string, in DiaryInput) error {
	_, err := s.update(ctx, jobID, by, func(w *work) (string, error) {
		if !isDate(in.Day) || in.Day > w.rec.Job.Day(w.at) {
			return "", &InvalidError{Fields: []FieldError{{Field: "day", Message: "Enter the day as 2026-05-04, not later than today."}}}
		}
		old, _ := w.rec.DiaryDay(in.Day)
		if err := stale("the diary of "+DayText(in.Day), old.By.Name, old.Version, in.Version); err != nil {
			return "", err
		}
		page := DiaryPage{
			Day: in.Day, Weather: strings.TrimSpace(in.Weather), Work: strings.TrimSpace(in.Work), Deliveries: strings.TrimSpace(in.Deliveries),
			Delays: strings.TrimSpace(in.Delays), Visitors: strings.TrimSpace(in.Visitors), FallProtection: strings.TrimSpace(in.FallProtection),
			By: w.by, At: w.at, Version: old.Version + 1,
		}
		for _, line := range strings.Split(in.People, "\n") {
			if line = strings.TrimSpace(line); line == "" {
				continue
			}
			hand := DiaryHand{Name: line}
			if i := strings.LastIndex(line, ","); i >= 0 {
				hand.Name, hand.Hours = strings.TrimSpace(line[:i]), strings.TrimSpace(line[i+1:])
			}
			if hand.Name == "" || hand.Hours == "" {
				return "", &InvalidError{Fields: []FieldError{{Field: "people", Message: fmt.Sprintf("Enter one person a line with the hours after a comma, such as Jo, 7 1/2. This line is not: %s", line)}}}
			}
			page.People = append(page.People, hand)
		}
		return "", w.emit(EvDiarySaved, Change{Diary: &page})
	})
	return err
}

// DiaryDay is the diary page of a day.
func (r *Record) DiaryDay(day string) (DiaryPage, bool) {
	return find(r.Diary, func(p DiaryPage) bool { return p.Day == day })
}

// PeopleText is the people of a page as they are typed, one a line.
func (p DiaryPage) PeopleText() string {
	var lines []string
	for _, h := range p.People {
		lines = append(lines, h.Name+", "+h.Hours)
	}
	return strings.Join(lines, "\n")
}

// OfDay is what the record itself says of a day: its readings and photographs, by time of receipt in the job's zone.
func (r *Record) OfDay(day string) (readings []Reading, photos []Photo) {
	for _, x := range r.Readings {
		if r.Job.Day(x.Received) == day {
			readings = append(readings, x)
		}
	}
	for _, p := range r.Photos {
		if r.Job.Day(p.Received) == day {
			photos = append(photos, p)
		}
	}
	return readings, photos
}
