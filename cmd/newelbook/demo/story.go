package demo

import (
	"fmt"
	"time"

	"newelbook/checklist/codes"
	"newelbook/jobs"
)

// zone is the story's; monday is its first day.
const (
	zone   = "America/Chicago"
	monday = "2026-05-04"
)

// day is a moment of the story: so many days after its Monday, by the clock on the wall.
func day(n, hour, minute int) time.Time {
	loc, err := time.LoadLocation(zone)
	if err != nil {
		panic(err) // zone data are built into the program
	}
	start, err := time.ParseInLocation(time.DateOnly, monday, loc)
	if err != nil {
		panic(err)
	}
	return time.Date(start.Year(), start.Month(), start.Day()+n, hour, minute, 0, 0, loc)
}

// The invented people and places. The site's position is a point in open water.
const (
	owner     = "Ines Tarrow (invented)"
	inspector = "R. Quill (invented)"
	authority = "Town of Marl Landing, building office (invented)"
	permit    = "ML-2026-0418"
	siteLat   = 47.4102
	siteLon   = -87.7015
)

func particulars() jobs.JobInput {
	return jobs.JobInput{
		Ref: "H-114", Name: "Deck guard at the kiln house", Site: "9 Saltglaze Row, Marl Landing (invented)", Owner: owner,
		Builder: "Holt & Lind, guards and stairs (invented)", Contact: "Maren Holt, ring the yard between 7 and 8 (invented)",
		Permit: permit, Authority: authority, Zone: zone, Begun: monday, Lat: fmt.Sprint(siteLat), Lon: fmt.Sprint(siteLon),
	}
}

// townsDrop is the town's own figure, stricter than the code's; no run of the job comes under the guard requirement by it.
var townsDrop = jobs.AmendmentInput{
	Version: 1, Key: codes.GuardTriggerDrop, Value: "28 in", SaidBy: inspector, Office: authority, On: "2026-04-24", Note: "By telephone, when the permit was asked for.",
}

// page is one day of the diary as somebody wrote it.
type page struct {
	weather, people, work, deliveries, delays, visitors, protection string
}

func pages() []page {
	const both = "Maren Holt, 8\nJo Lind, 8"
	return []page{
		{"Dry, 9 to 16 °C, light wind", both, "Set out the runs from the layout. Joists and rim are in; marked every post place on the rim and cut blocking.", "Cedar posts and rails; bolts, washers and tension ties.", "", "", "Barrier of planks and tape along all three open edges; ladder tied."},
		{"Dry, overcast", both, "Blocking in, posts bolted, sleeves for R4 fixed. Photographed every place before decking. One bolt on R1 came out too near the top of the rim.", "", "Half an hour lost to a dull auger.", "", "Barrier kept up; nobody past it but us."},
		{"Showers until ten, then dry", "Maren Holt, 8\nJo Lind, 6 1/2", "Moved the upper bolt on R1 and measured again. Framing pack issued; decking down after the inspector had been.", "Decking.", "Waited two hours for the rain.", "Inspector from the town at eleven.", "Barrier moved in to the joists while decking went down."},
		{"Dry, 21 °C", both, "Posts measured and plumbed, openings taken bottom and top. R1-B1 came out wider than planned, so its rails and balusters were laid out again. Rails cut and fitted.", "Rail connectors, stainless screws.", "", "", "Posts and a mid rope up by noon; barrier until then."},
		{"Dry, gusty", both, "Balusters in. Stair rails and balusters in. Cap rail on R1 and R2.", "", "", "Owner looked in at four.", "Guard closed on R1 and R2; stair taped off overnight."},
		{"Dry, still", "Maren Holt, 6\nJo Lind, 6", "Stair cap on. Post tops sealed and capped. Showed the owner how R4 lifts out and back, and how the sleeves are covered.", "", "", "Owner, for the handover.", "All edges guarded."},
	}
}

func (s *story) writeDiary(n int) error {
	p := pages()[n]
	s.Clock.set(day(n, 16, 40))
	return s.Service.SaveDiary(s.ctx, s.crew(), s.job, jobs.DiaryInput{
		Day: day(n, 12, 0).Format(time.DateOnly), Weather: p.weather, People: p.people, Work: p.work, Deliveries: p.deliveries,
		Delays: p.delays, Visitors: p.visitors, FallProtection: p.protection,
	})
}
