package main

import (
	"context"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"newelbook/cmd/newelbook/demo/pictures"
)

// Everything in the journey is invented.
const (
	builderName   = "Ada Sample (invented)"
	builderLogin  = "ada"
	ownerName     = "Ines Sample (invented)"
	inspectorName = "R. Sample (invented)"
	journeyZone   = "America/Chicago"
)

// wholeJob goes from the first start on an empty folder to a pack that owner and inspector have answered, on a phone.
func wholeJob(t *testing.T, browser context.Context) {
	dir := t.TempDir()
	s := serveLinked(t, dir)
	p := newPerson(t, browser, s.address, 390)
	firstStart(p, s)
	newJob(p)
	describeRuns(p)
	measureFraming(p)
	photographFraming(p)
	closeFraming(p)
	measureOpenings(p)
	writeDay(p)
	owner, inspector := issuePack(p)
	acceptAsOwner(newPerson(t, browser, s.address, 390), owner)
	answerAsInspector(newPerson(t, browser, s.address, 390), inspector)
	takeLinksBack(p)
	late := newPerson(t, browser, s.address, 390)
	for _, link := range []string{owner, inspector} {
		late.openTo(link, http.StatusGone)
		late.sees("This link no longer opens", "Ring the yard (invented)")
	}
	sound(t, dir)
}

// firstStart makes the builder's account at the one-time address that the server printed.
func firstStart(p *person, s *servingTest) {
	_, setup, ok := strings.Cut(s.out.String(), "at this one-time address:\n  "+s.address)
	if !ok {
		p.Fatalf("the first start printed no one-time address:\n%s", s.out)
	}
	setup, _, _ = strings.Cut(setup, "\n")
	p.open(setup)
	p.fill("Your name", builderName)
	p.fill("Sign-in name", builderLogin)
	p.fill("Password", password)
	p.fill("The same password again", password)
	p.follow("Make the account")
	p.sees("The builder's account is made", "No job yet")
	p.openTo(setup, http.StatusNotFound)
}

// newJob makes a job and says what its connectors take off a rail.
func newJob(p *person) {
	p.open("/jobs")
	p.follow("New job")
	p.fill("Reference", "J-1")
	p.fill("Name", "Deck guard at the boathouse")
	p.fill("Site", "1 Invented Quay")
	p.fill("Owner", ownerName)
	p.fill("Builder", builderName)
	p.fill("How to reach the builder", "Ring the yard (invented)")
	p.fill("Permit number", "P-77")
	p.choose("Rule set", "International Residential Code, 2018")
	p.choose("Units", "Feet and inches")
	p.fill("Time zone", journeyZone)
	p.follow("Make the job")
	p.follow("Specification")
	p.fill("Connector allowance, top rail", "1/4")
	p.fill("Connector allowance, bottom rail", "1/4")
	p.follow("Save the specification")
}

// describeRuns describes a level run, the stair beside it and a removable length, as people write lengths.
func describeRuns(p *person) {
	p.follow("Add a run")
	p.pick("Datum end", "Wall")
	p.pick("Far end", "Stair head")
	p.fill("Run length", "8 ft 6")
	p.fill("Greatest drop", "3' 6\"")
	p.pick("Joists meet the edge", "End on")
	p.fill("First joist", "6½")
	p.follow("Lay out the run")
	p.sees("R1 is laid out", "Level run of 102″")

	p.follow("Add a run")
	p.follow("Rake, along a stair")
	p.pick("Datum end", "Stair head")
	p.fill("Starts at run", "R1")
	p.pick("Far end", "Stair foot")
	p.fill("Total rise", "3' 6\"")
	p.fill("Tread run", "10 1/2 in")
	p.follow("Lay out the run")
	p.sees("R2 is laid out", "R2-P1", "is R1-P2")

	p.follow("Add a run")
	p.follow("Removable")
	p.fill("Run length", "1524 mm")
	p.fill("Why this length is removable", "The boat is craned in here twice a year.")
	if got := p.value("Post mount"); got != "sleeve" {
		p.Errorf("a new removable run is offered the post mount %q, want sleeve", got)
	}
	p.follow("Lay out the run")
	p.sees("R3 is laid out", "Removable length of 60″")
}

// measureFraming answers for both bolts of the level run: one is too near the edge, and is moved and measured again.
func measureFraming(p *person) {
	p.follow("Job")
	p.follow("Framing")
	p.follow("Upper bolt below the top of the framing")
	p.choose("Where do you stand?", "R1-P1")
	p.choose("Where do you stand?", "R1-P2")
	p.follow("Ask")
	p.fill("Reading at R1-P1", "1 1/2")
	p.fill("Reading at R1-P2", "2 1/8")
	p.follow("Save the readings")
	p.sees("fails the limit", "good")
	p.follow("Deviation D")
	p.sees("1 1/2″ is not at least 2″", "open")
	p.follow("Measure again")
	p.fill("Reading at R1-P1", `2-1/8"`)
	p.unfold("Note, or no reading here")
	p.fill("Note on R1-P1", "Bolt moved down, the old hole plugged.")
	p.follow("Save the reading")
	p.sees("good", "Deviation D2 is put right with it.")
	p.follow("Deviations")
	p.sees("D2", "put right")
}

// photographFraming files two pictures at once to a post that decking will hide, through the script that sends them one by one.
func photographFraming(p *person) {
	at := moment().In(zoneOf(p, journeyZone))
	p.follow("Photographs")
	p.follow("R1-P1")
	p.follow("R1-P1 The post in its place")
	p.upload(picture(p, pictures.Wide, "R1-P1", at.Add(-9*time.Minute)), picture(p, pictures.InsideFace, "R1-P1", at.Add(-8*time.Minute)))
	p.sees("R1-P1-wide.jpg", "still on this phone")
	p.follow("Send")
	p.sees("Photograph 1", "Photograph 2")
}

// closeFraming finds the stage blocked with a list, and closes it over a deviation that names what is missing.
func closeFraming(p *person) {
	p.follow("Job")
	p.follow("Framing")
	p.followTo("Close the stage", http.StatusConflict)
	p.sees("Outstanding", "Photograph: inside face: no photograph.")
	p.followTo("Close over a deviation", http.StatusConflict)
	p.refused("Why the stage is closed without it")
	p.fill("Why the stage is closed without it", "The rest was seen by the inspector on site (invented).")
	p.follow("Close over a deviation")
	p.sees("The stage is closed", "closed with a deviation")
	p.follow("R1 Not covered yet")
	p.fill("Why it is covered with that missing", "Decked over the same afternoon (invented).")
	p.follow("Record the cover")
	p.sees("The cover is recorded")
}

// measureOpenings reads the openings of one bay wider than planned, which lays that bay out again.
func measureOpenings(p *person) {
	p.follow("Job")
	p.follow("Posts")
	p.follow("Clear opening at the bottom rail")
	p.choose("Where do you stand?", "R1-B1")
	p.follow("Ask")
	p.fill("Reading at R1-B1", "48 1/2")
	p.follow("Save the reading")
	p.follow("Clear opening at the top rail")
	p.choose("Where do you stand?", "R1-B1")
	p.follow("Ask")
	p.fill("Reading at R1-B1", "48 1/2")
	p.follow("Save the reading")
	p.sees("R1-B1 was laid out again from the measured 48 1/2″")
}

func writeDay(p *person) {
	p.follow("Job")
	p.follow("Diary")
	p.follow("Write today’s page")
	p.fill("Weather", "Dry, 18 °C")
	p.fill("People and hours", "Ada Sample, 8")
	p.fill("Work done", "Framing checked; the upper bolt of R1-P1 moved.")
	p.follow("Save the page")
	p.sees("R1-P1", "fails the limit")
}

// issuePack freezes the record and makes a link for owner and inspector each; it returns their paths.
func issuePack(p *person) (owner, inspector string) {
	p.follow("Job")
	p.follow("Pack")
	p.choose("What it is for", "Framing inspection")
	p.choose("Photographs, and where they were taken", "Views and originals")
	p.follow("Issue the pack")
	p.issued("Pack 1, framing inspection")
	link := func(role, name string) string {
		p.choose("Who it is for", role)
		p.fill("Name", name)
		p.follow("Make the link")
		path, ok := strings.CutPrefix(p.value("Address of the link"), p.site)
		if !ok || !strings.HasPrefix(path, "/g/") {
			p.Fatalf("the link's address is %q, want one under %s/g/", path, p.site)
		}
		p.follow("Back to the packs")
		return path
	}
	return link("The owner", ownerName), link("The inspector", inspectorName)
}

// issued waits until the pack that was asked for stands among the packs, opening their sheet again and again as somebody may who closed
// the page that shows how far it is.
func (p *person) issued(words string) {
	p.Helper()
	sheet := strings.TrimSuffix(p.where(), "/issuing")
	p.until("the pack is not issued", func() bool {
		p.open(sheet)
		return strings.Contains(ask[string](p, `return shownText()`), words)
	})
}

// acceptAsOwner opens the owner's link with no account, reads the pack and accepts it.
func acceptAsOwner(p *person, link string) {
	p.open(link)
	p.sees("You need no account")
	p.follow("Read: Inspector's edition")
	p.sees("fails the limit")
	p.open(link)
	p.follow("Read: Owner's edition")
	p.sees("What is unusual about it", "is a removable length")
	p.open(link)
	p.choose("What do you want to record?", "I accept the work")
	p.followTo("Record the answer", http.StatusUnprocessableEntity)
	p.sees("Enter your name")
	p.fill("Your name", ownerName)
	p.follow("Record the answer")
	p.sees("Your answer is recorded", ownerName)
	p.openTo("/jobs", http.StatusOK)
	p.sees("Sign in")
}

// answerAsInspector records an outcome over the inspector's link.
func answerAsInspector(p *person, link string) {
	p.open(link)
	p.choose("What do you want to record?", "The outcome of an inspection")
	p.choose("Outcome", "Correct and call again")
	p.pick("What was inspected", "Framing")
	p.fill("Date of the inspection", "2026-05-04")
	p.fill("In your words", "Tighten the lower bolts (invented).")
	p.fill("Your name", inspectorName)
	p.follow("Record the answer")
	p.sees("Your answer is recorded", inspectorName, "4 May 2026")
}

// takeLinksBack finds both answers in the job and takes both links back.
func takeLinksBack(p *person) {
	p.follow("Job")
	p.sees("correct and call again")
	p.follow("Pack")
	p.sees(ownerName, "accepted", inspectorName, "to be corrected", "4 May 2026")
	p.follow("Take it back")
	p.follow("Take it back")
	p.sees("taken back")
	p.seesNot("Take it back")
}

func zoneOf(t testing.TB, name string) *time.Location {
	t.Helper()
	zone, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return zone
}

// picture draws one picture of a place into a file of its own, and returns its path.
func picture(t testing.TB, kind pictures.Kind, label string, at time.Time) string {
	t.Helper()
	body, err := pictures.Draw(kind, pictures.Params{Label: label, At: at})
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), fmt.Sprintf("%s-%s.jpg", label, kind))
	if err := os.WriteFile(path, body, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}
