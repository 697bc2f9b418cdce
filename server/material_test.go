package server_test

import (
	"encoding/csv"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// row is the text of the line of a piece in the list of every piece.
func (a answer) piece(label string) string {
	a.t.Helper()
	for _, n := range a.find(func(n *html.Node) bool { return strings.Contains(attr(n, "class"), "piece") }) {
		if text := textOf(n); strings.HasPrefix(text, label+" ") {
			return text
		}
	}
	a.t.Fatalf("no piece %s on the page", label)
	return ""
}

// A piece is ticked with one button, without script, and the tick is taken back with another; crew may do it.
func TestTickingPieces(t *testing.T) {
	s := newSite(t).withPeople()
	ada, ben := s.as("ada"), s.as("ben")
	job := ada.aJob()
	run := ada.aRun(job)
	id := run[strings.LastIndex(run, "/")+1:] + "/B1 top"
	tick := func(what string) answer {
		return ben.post(job+"/materials/ticks", url.Values{"piece": {id}, "tick": {what}, "back": {"piece-4"}})
	}
	page := ben.page(job + "/materials")
	if got := page.piece("R1-B1 top"); !strings.Contains(got, "to cut") || !strings.HasSuffix(got, "Cut R1-B1 top") {
		t.Errorf("before: %q", got)
	}
	if to, want := tick("cut").want(http.StatusSeeOther).location, job+"/materials?at="+url.QueryEscape(id)+"#piece-4"; to != want {
		t.Errorf("leads to %q, want %q", to, want)
	}
	page = ben.page(job + "/materials")
	if got := page.piece("R1-B1 top"); !strings.Contains(got, "Cut 4 May 2026") || !strings.Contains(got, "Not cut") || !strings.Contains(got, "Fitted R1-B1 top") {
		t.Errorf("cut: %q", got)
	}
	planned := func() bool {
		for _, n := range ben.page(job + "/materials").find(func(n *html.Node) bool {
			return n.Data == "input" && attr(n, "name") == "piece" && attr(n, "value") == id
		}) {
			if attr(n.Parent, "class") == "board-cut" {
				return true
			}
		}
		return false
	}
	if planned() {
		t.Error("a piece that is cut is still on a board of the plan")
	}
	tick("fitted").want(http.StatusSeeOther)
	if got := ben.page(job + "/materials").piece("R1-B1 top"); !strings.Contains(got, "Fitted 4 May 2026") {
		t.Errorf("fitted: %q", got)
	}
	tick("not cut").want(http.StatusSeeOther)
	if got := ben.page(job + "/materials").piece("R1-B1 top"); !strings.Contains(got, "to cut") || !planned() {
		t.Errorf("taken back: %q", got)
	}
	tick("burnt").want(http.StatusUnprocessableEntity).says("Tick the piece as cut or as fitted.")
	ben.post(job+"/materials/ticks", url.Values{"piece": {"nosuch/B1 top"}, "tick": {"cut"}}).want(http.StatusNotFound)
	ben.post(job+"/materials/ticks", url.Values{"piece": {id}, "tick": {"cut"}, "back": {"//elsewhere"}}).want(http.StatusSeeOther)

	// The opening is measured wider than planned: the rail that was cut is too short and is planned again.
	opening := run[strings.LastIndex(run, "/")+1:] + "/B1.posts.opening_bottom"
	check := ada.page(job + "/check?" + url.Values{"id": {opening}}.Encode())
	ada.post(job+"/readings", with(check.fields(job+"/readings"), "text:"+opening, "70")).want(http.StatusSeeOther)
	page = ben.page(job + "/materials")
	page.says("Cut or fitted before the layout changed", "too short", "It was cut to", "by layout v1")
	if !planned() {
		t.Error("a rail that is too short is not planned again")
	}
}

// boardWithRest is the form of the first board of the plan of which something is kept.
func (a answer) boardWithRest() url.Values {
	a.t.Helper()
	for _, form := range a.find(func(n *html.Node) bool { return attr(n, "class") == "board-cut" }) {
		v := url.Values{}
		for n := range form.Descendants() {
			if n.Type == html.ElementNode && n.Data == "input" {
				v.Add(attr(n, "name"), attr(n, "value"))
			}
		}
		if v.Has("rest") {
			return v
		}
	}
	a.t.Fatal("no board leaves anything to keep")
	return nil
}

// The whole of a board is recorded with one form: its pieces, and what is left of it, which the next plan uses.
func TestCuttingABoard(t *testing.T) {
	s := newSite(t).withPeople()
	ben := s.as("ben")
	job := s.as("ada").aJob()
	s.as("ada").aRun(job)
	board := ben.page(job + "/materials").boardWithRest()
	if len(board["piece"]) == 0 || board.Get("on_hand") != "" || board.Get("rest") == "" {
		t.Fatalf("the board is %v", board)
	}
	before := s.ledger()
	faulty := with(board, "rest", "a lot")
	again := ben.post(job+"/materials/boards", faulty).want(http.StatusUnprocessableEntity)
	again.says("What is kept of the board must be a length")
	if got := again.boardWithRest().Get("rest"); got != "a lot" {
		t.Errorf("what was typed came back as %q", got)
	}
	if diff := s.ledger().since(before); diff != "" {
		t.Errorf("a refused board changed %s", diff)
	}
	ben.follow(ben.post(job+"/materials/boards", with(board, "rest", "40"))).says("The board is recorded as cut", "Offcut.", "The board of R1-P1 blocking")
	ben.post(job+"/materials/boards", with(board, "rest", "40")).want(http.StatusUnprocessableEntity).says("The plan has changed since this page was opened")
}

func TestStockOnHandForm(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	ada.aRun(job)
	page := ada.page(job + "/materials")
	form := page.fields(job + "/materials/on-hand")
	refused := ada.post(job+"/materials/on-hand", with(form, "length", "a lot", "count", "-2", "from", "Behind the shed")).want(http.StatusUnprocessableEntity)
	refused.faults(map[string]string{"length": "Enter the length of one board", "count": "Enter how many boards there are"})
	if got := refused.fields(job + "/materials/on-hand").Get("from"); got != "Behind the shed" {
		t.Errorf("what was typed came back as %q", got)
	}
	entered := ada.follow(ada.post(job+"/materials/on-hand", with(form, "length", "16'", "count", "2", "from", "Behind the shed")))
	entered.says("Behind the shed", "2, ", "in the plan", "on hand")
	stock := ""
	for _, n := range entered.find(func(n *html.Node) bool { return strings.HasPrefix(attr(n, "action"), job+"/materials/on-hand/") }) {
		stock = attr(n, "action")
	}
	version := entered.fields(stock)
	ada.follow(ada.post(stock, with(version, "withdraw", "one"))).says("1, ")
	ada.post(stock, with(version, "withdraw", "one")).want(http.StatusUnprocessableEntity).says("Ada Sample changed this stock on hand after the page was opened")
	version = ada.page(job + "/materials").fields(stock)
	ada.follow(ada.post(stock, with(version, "withdraw", "all"))).says("None is entered.", "Withdrawn")
	ada.post(job+"/materials/on-hand/nosuch", version).want(http.StatusNotFound)
}

// The table for a spreadsheet is the order with the spares of the job's own setting.
func TestOrderCSV(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	ada.aRun(job)
	spec := ada.page(job + "/specification").fields(job + "/specification")
	ada.post(job+"/specification", with(spec, "spare_boards", "2", "spare_hardware", "10")).want(http.StatusSeeOther)
	ada.page(job+"/materials").says("2 boards of each section", "2 over")
	a := s.as("ben").get(job + "/materials/order.csv").want(http.StatusOK)
	if kind := a.header.Get("Content-Type"); !strings.HasPrefix(kind, "text/csv") || !strings.Contains(a.header.Get("Content-Disposition"), "order.csv") {
		t.Errorf("sent as %s, %s", kind, a.header.Get("Content-Disposition"))
	}
	rows, err := csv.NewReader(strings.NewReader(a.body)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	spares := 0
	for _, row := range rows {
		if row[0] == "board" && row[7] == "2" {
			spares++
		}
	}
	if spares == 0 || rows[0][8] != "order" {
		t.Errorf("no spare boards in %q", rows)
	}
	ada.get("/jobs/nosuch/materials/order.csv").want(http.StatusNotFound)
}
