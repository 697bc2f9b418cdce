package server_test

import (
	"net/http"
	"strings"
	"testing"
)

// Rule sets are looked up, and set against one another, in the office; the crew sees the adopted rules of the job alone.
func TestRuleSetsAreForTheOffice(t *testing.T) {
	s := newSite(t).withPeople()
	ada, ben := s.as("ada"), s.as("ben")
	job := ada.aJob()
	ada.aRun(job)
	ada.page("/jobs").says("Rule sets")
	ada.page("/rules").says("International Residential Code, 2018", "Building Code F4 and D1")
	ada.page("/rules/ontario-9.8").says("Ontario Building Code", "at most 100 mm", "inclusive", "9.8.8.5", "official text")
	ada.page(job+"/rules?against=ontario-9.8").says("A what-if", "nothing is judged again", "Figures that differ", "about 3 15/16")
	ada.get("/rules/irc-1999").want(http.StatusNotFound).says("There is no such rule set", "choose one of irc-2018")
	ada.get(job+"/rules?against=irc-1999").want(http.StatusNotFound).says("There is no such rule set", "choose one of irc-2018")

	for _, path := range []string{"/rules", "/rules/ontario-9.8", job + "/rules?against=ontario-9.8"} {
		ben.get(path).want(http.StatusForbidden).says("Only the builder does this")
	}
	rules := ben.page(job + "/rules")
	rules.says("International Residential Code, 2018", "Opening in a level guard")
	rules.silent("Against another rule set", "Ontario", "Enter the figure", "Withdraw")
	ben.page("/jobs").silent("Rule sets")
	if a := s.visitor().get("/rules"); a.status != http.StatusSeeOther || !strings.HasPrefix(a.location, "/sign-in") {
		t.Errorf("a visitor gets %d %q, want the sign-in page", a.status, a.location)
	}
}

// A figure of the authority's is entered, withdrawn with a reason, and stays on the sheet.
func TestWithdrawAmendment(t *testing.T) {
	s := newSite(t).withPeople()
	ada, ben := s.as("ada"), s.as("ben")
	job := ada.aJob()
	amendments, withdrawals := job+"/amendments", job+"/withdrawals"
	first := ada.page(job + "/rules")
	first.silent("Withdraw a figure")
	ada.post(amendments, with(first.fields(amendments), "key", "bolt.edge_min", "value", "2 1/2", "said_by", "R. Sample", "on", "2026-05-01")).want(http.StatusSeeOther)
	page := ada.page(job + "/rules")
	page.says("The authority's own figures", "said by R. Sample", "the code: at least 2 in", "Withdraw a figure of the authority's")
	form := page.fields(withdrawals)

	a := ada.post(withdrawals, with(form, "withdrawn", "bolt.edge_min", "why", "")).want(http.StatusUnprocessableEntity)
	a.faults(map[string]string{"why": "Enter why the figure no longer holds"})
	if got := a.fields(withdrawals).Get("withdrawn"); got != "bolt.edge_min" {
		t.Errorf("the figure chosen is kept as %q", got)
	}
	ben.post(withdrawals, with(form, "withdrawn", "bolt.edge_min", "why", "No.")).want(http.StatusForbidden)
	v := with(a.fields(withdrawals), "why", "The letter was about another site.")
	ada.post(withdrawals, v).want(http.StatusSeeOther)
	ada.post(withdrawals, v).want(http.StatusSeeOther) // the same form again changes nothing
	after := ada.page(job + "/rules")
	after.says("Figures of the authority's that no longer hold", "2 1/2", "Said by R. Sample", "withdrawn", "by Ada", "The letter was about another site.")
	after.silent("Withdraw a figure of the authority's", "The authority's own figures")
	ben.page(job+"/rules").says("no longer hold", "The letter was about another site.")
}
