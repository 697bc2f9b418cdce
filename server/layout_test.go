package server_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// aStair describes a rake and a removable length through their forms and returns their paths.
func (b *browser) aStair(job string) (rake, removable string) {
	b.s.t.Helper()
	add := func(kind string, pairs ...string) string {
		v := with(b.page(job+"/runs/new?kind="+kind).fields(job+"/runs"), pairs...)
		return b.post(job+"/runs", v).want(http.StatusSeeOther).location
	}
	return add("rake", "label", "R2", "start", "stair foot", "end", "stair head", "total_rise", "42", "tread", "10"),
		add("removable", "label", "R3", "clear_opening", "48", "removable_why", "Getting the barbecue up in spring", "post_mount", "sleeve")
}

func TestLayoutPages(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	run := ada.aRun(job)
	rake, removable := ada.aStair(job)

	page := ada.page(run)
	page.says("R1", "Finished top", "R1-P1", "Near face", "R1-B1", "Clear at the bottom", "Hook the tape on", "Loads", "Working", "Caution", "v1", "in use")
	drawn(t, page, "/P1", "/P2", "/P3", "/B1", "/B2")
	ada.page(run+"/sheet").says("Shop sheet R1", "Posts, from the datum", "Rails", "Infill marks", "Cautions")
	ada.page(rake).says("Rake", "Riser", "Tread", "Largest ball", "Handrail")
	ada.page(rake+"/sheet").says("Shop sheet R2", "plumb")
	ada.page(removable).says("Removable length", "Getting the barbecue up in spring", "Sleeve")
	ada.page(removable + "/sheet").says("Shop sheet R3")
	ada.page(job+"/runs").says("R1", "R2", "R3", "Add a run", "Materials")

	// Crew look, and are offered no change.
	ben := s.as("ben")
	ben.page(run).silent("Change the run")
	ben.page(run + "/sheet")
	ben.page(job + "/runs").silent("Add a run")
	ben.get(job + "/runs/nosuch").want(http.StatusNotFound)
	ben.get(job + "/runs/nosuch/sheet").want(http.StatusNotFound)
}

// The list of materials takes in every run, is there for the crew, and follows a measured opening.
func TestMaterialsPage(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	ada.page(job + "/materials").says("nothing to order")
	run := ada.aRun(job)
	ada.aStair(job)
	id := run[strings.LastIndex(run, "/")+1:] + "/B1.posts.opening_bottom"
	check := ada.page(job + "/check?" + url.Values{"id": {id}}.Encode())
	ada.post(job+"/readings", with(check.fields(job+"/readings"), "text:"+id, "65 15/16")).want(http.StatusSeeOther)

	ada.page(job+"/materials").says("R1 (layout v2)", "R2 (layout v1)", "R3 (layout v1)", "No spares are added", "Board 1", "R1-B1 top", "as built", "from point to point", "not counted", "Hold-down", "Caution")
	s.as("ben").page(job + "/materials").says("R1-B1 top")
	ada.get("/jobs/nosuch/materials").want(http.StatusNotFound)
}

// A measured opening makes a new version of the layout, which both pages show beside the plan.
func TestLayoutOvertaken(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	run := ada.aRun(job)
	id := run[strings.LastIndex(run, "/")+1:] + "/B1.posts.opening_bottom"
	check := ada.page(job + "/check?" + url.Values{"id": {id}}.Encode())
	ada.post(job+"/readings", with(check.fields(job+"/readings"), "text:"+id, "65 15/16")).want(http.StatusSeeOther)

	ada.page(run).says("v2", "as built", "65 15/16", "planned", "superseded", "The opening as measured")
	ada.page(run+"/sheet").says("R1-B1 was measured after it was planned", "Sheets of layout v1 are out of date", "65 15/16")
}

// A rail's marks at full size come as a PDF, on the paper of the job or on the one asked for; what has no strip is said in words.
func TestStrip(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	run := ada.aRun(job)
	bodies := map[string]string{}
	for _, path := range []string{"/strips/B1/bottom", "/strips/B1/bottom?paper=letter", "/strips/b1/BOTTOM?paper=a4"} {
		a := s.as("ben").get(run + path).want(http.StatusOK)
		if kind := a.header.Get("Content-Type"); kind != "application/pdf" || !strings.HasPrefix(a.body, "%PDF-1.7") {
			t.Errorf("%s is %s", path, kind)
		}
		if name := a.header.Get("Content-Disposition"); !strings.HasPrefix(name, "inline") || !strings.Contains(name, "R1-B1-bottom.pdf") {
			t.Errorf("%s is called %q", path, name)
		}
		bodies[path] = a.body
	}
	if bodies["/strips/B1/bottom"] != bodies["/strips/B1/bottom?paper=letter"] || bodies["/strips/B1/bottom"] == bodies["/strips/b1/BOTTOM?paper=a4"] {
		t.Error("a job in inches is not printed on Letter, or A4 is the same")
	}
	for path, says := range map[string]string{
		"/strips/B9/bottom": "There is no rail", "/strips/B1/middle": "There is no rail", "/strips/B1/bottom?paper=legal": "choose a4 or letter",
	} {
		ada.get(run + path).want(http.StatusNotFound).says(says)
	}
	ada.get(job + "/runs/nosuch/strips/B1/bottom").want(http.StatusNotFound)
	v := ada.page(run + "/edit").fields(run + "/retired")
	ada.post(run+"/retired", v).want(http.StatusSeeOther)
	ada.get(run + "/strips/B1/bottom").want(http.StatusNotFound).says("mark and cut nothing")
}

// drawn demands outlines of places in the drawings of a page, and that every link of a drawing leads somewhere on it.
func drawn(t *testing.T, a answer, places ...string) {
	t.Helper()
	ids := map[string]bool{}
	for _, n := range a.find(func(n *html.Node) bool { return attr(n, "id") != "" }) {
		ids[attr(n, "id")] = true
	}
	for _, place := range places {
		if len(a.find(func(n *html.Node) bool { return n.Data == "polygon" && strings.HasSuffix(attr(n, "data-place"), place) })) == 0 {
			t.Errorf("no outline of %s", place)
		}
	}
	links := a.find(func(n *html.Node) bool { return attr(n, "class") == "d-place" })
	if len(links) < len(places) {
		t.Errorf("%d links in the drawings, want one for each of %d places", len(links), len(places))
	}
	for _, n := range links {
		if to := strings.TrimPrefix(attr(n, "href"), "#"); !ids[to] {
			t.Errorf("%s leads to #%s, which is not on the page", attr(n, "aria-label"), to)
		}
	}
}
