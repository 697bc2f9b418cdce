package server_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"newelbook/jobs"
)

// record is the record of a job by its path.
func (s *site) record(job string) *jobs.Record {
	s.t.Helper()
	rec, err := s.service.Record(s.t.Context(), strings.TrimPrefix(job, "/jobs/"))
	if err != nil {
		s.t.Fatal(err)
	}
	return rec
}

// checkID is the id of a check by its key and the label of its place.
func (s *site) checkID(job, key, place string) (check, placeID string) {
	s.t.Helper()
	sheet, err := s.record(job).Sheet()
	if err != nil {
		s.t.Fatal(err)
	}
	for _, c := range sheet.Checks {
		if c.Check.Key == key && c.Check.Place.Label == place {
			return c.Check.ID, c.Check.Place.ID
		}
	}
	s.t.Fatalf("no check %s at %s", key, place)
	return "", ""
}

// ask opens the question for the places and reads its form.
func (b *browser) ask(job, stage, key string, places ...string) url.Values {
	b.s.t.Helper()
	return b.page(job + "/stages/" + stage + "/ask?" + url.Values{"key": {key}, "at": places}.Encode()).fields(job + "/readings")
}

// A reading that looks like a slip is asked about once and never refused: one button takes what was meant, one keeps what was typed,
// and sent again as it is it stands. Settling one question leaves the others asked, and loses nothing.
func TestSlipsAreAskedAboutOnce(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	ada.aRun(job)
	const key = "framing.bolt_upper"
	p1, at1 := s.checkID(job, key, "R1-P1")
	p2, at2 := s.checkID(job, key, "R1-P2")
	p3, at3 := s.checkID(job, key, "R1-P3")
	sheet, err := s.record(job).Sheet()
	if err != nil {
		t.Fatal(err)
	}
	if c, _ := sheet.Check(p1); c.Check.Nominal.Format(sheet.Style) != `2 1/8"` {
		t.Fatalf("the layout has %v, want 2 1/8 in", c.Check.Nominal)
	}
	saved := func() map[string]string {
		out := map[string]string{}
		for _, r := range s.record(job).Readings {
			out[r.CheckID] = r.Typed
		}
		return out
	}

	form := with(ada.ask(job, "framing", key, at1, at2, at3), "text:"+p1, "51", "text:"+p2, "218", "text:"+p3, "2 1/16", "note:"+p2, "Knot.")
	asked := ada.post(job+"/readings", form).want(http.StatusUnprocessableEntity)
	asked.faults(map[string]string{"text:" + p1: "Did you mean 51 mm?", "text:" + p2: "Did you mean 2 1/8?"})
	asked.says("Take 51 mm", "Keep 51", "Take 2 1/8", "Keep 218", "is far from the 2 1/8″ on the layout")
	if got := saved(); len(got) != 0 {
		t.Errorf("saved while asking: %v", got)
	}

	// One is kept: the other is still asked, and the third still typed.
	kept := asked.fields(job + "/readings")
	kept.Set("keep:"+p1, "yes")
	still := ada.post(job+"/readings", kept).want(http.StatusUnprocessableEntity)
	still.faults(map[string]string{"text:" + p2: "Did you mean 2 1/8?"})
	still.silent("Keep 51")
	again := still.fields(job + "/readings")
	if again.Get("text:"+p1) != "51" || again.Get("text:"+p3) != "2 1/16" || again.Get("note:"+p2) != "Knot." {
		t.Errorf("fields kept = %v", again)
	}
	again.Set("take:"+p2, "2 1/8")
	ada.post(job+"/readings", again).want(http.StatusSeeOther)
	if got := saved(); got[p1] != "51" || got[p2] != "2 1/8" || got[p3] != "2 1/16" {
		t.Errorf("saved %v", got)
	}

	// Sent again as it is, it stands; changed to another slip, it is asked about anew.
	form = with(ada.ask(job, "framing", key, at1), "text:"+p1, "218")
	doubt := ada.post(job+"/readings", form).want(http.StatusUnprocessableEntity).fields(job + "/readings")
	ada.post(job+"/readings", with(doubt, "text:"+p1, "214")).want(http.StatusUnprocessableEntity).faults(map[string]string{"text:" + p1: "Did you mean 2 1/4?"})
	ada.post(job+"/readings", with(doubt, "text:"+p1, "218")).want(http.StatusSeeOther)
	if got := saved(); got[p1] != "218" {
		t.Errorf("saved %q, want it as typed", got[p1])
	}

	// What is no length at all can only be taken as meant.
	form = with(ada.ask(job, "framing", key, at1), "text:"+p1, "21/8")
	page := ada.post(job+"/readings", form).want(http.StatusUnprocessableEntity)
	page.says("Did you mean 2 1/8?", "is no length")
	page.silent("Keep 21/8")
	ada.post(job+"/readings", page.fields(job+"/readings")).want(http.StatusUnprocessableEntity)
}

// Yes at all of the named places answers those that are not answered otherwise, and fills in no measurement.
func TestYesAtAll(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	ada.aRun(job)
	const key = "framing.blocking"
	p1, at1 := s.checkID(job, key, "R1-P1")
	p2, at2 := s.checkID(job, key, "R1-P2")
	p3, at3 := s.checkID(job, key, "R1-P3")
	form := ada.ask(job, "framing", key, at1, at2, at3)
	if form.Has("all") {
		t.Error("yes at all is ticked beforehand")
	}
	none := ada.post(job+"/readings", with(form, "seen:"+p2, "not applicable", "all", "yes")).want(http.StatusUnprocessableEntity)
	none.says("Yes at all 3", "R1-P1, R1-P2, R1-P3", "why this does not apply")
	back := none.fields(job + "/readings")
	if back.Get("all") != "yes" || back.Get("seen:"+p2) != "not applicable" {
		t.Errorf("fields kept = %v", back)
	}
	ada.post(job+"/readings", with(back, "seen:"+p2, "no")).want(http.StatusSeeOther)
	got := map[string]string{}
	for _, r := range s.record(job).Readings {
		got[r.CheckID] = string(r.Answer.Seen)
	}
	if len(got) != 3 || got[p1] != "yes" || got[p2] != "no" || got[p3] != "yes" {
		t.Errorf("recorded %v", got)
	}
	bolt, at := s.checkID(job, "framing.bolt_upper", "R1-P1")
	length := ada.ask(job, "framing", "framing.bolt_upper", at, at2)
	ada.post(job+"/readings", with(length, "all", "yes")).want(http.StatusUnprocessableEntity).faults(map[string]string{"text:" + bolt: "at one place at least"})
}

func TestAskAndJudge(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	ada.aRun(job)
	ben := s.as("ben")

	stage := ben.page(job + "/stages/framing")
	stage.says("Framing", "Left to check", "Upper bolt below the top of the framing", "hold point", "Decked over")
	key := "framing.bolt_upper"
	pick := ben.page(job + "/stages/framing/ask?key=" + key)
	pick.says("Upper bolt below the top of the framing", "R1-P1", "All 3 left")
	if got := pick.fields(job + "/stages/framing/ask"); len(got["at"]) != 0 || got.Get("key") != key {
		t.Errorf("the form that picks places holds %v, want the key alone", got)
	}

	p1, at1 := s.checkID(job, key, "R1-P1")
	p2, at2 := s.checkID(job, key, "R1-P2")
	form := ben.ask(job, "framing", key, at1, at2)
	for name, v := range form {
		if strings.HasPrefix(name, "text:") && v[0] != "" {
			t.Errorf("%s is filled in with %q", name, v[0])
		}
	}

	// Nothing entered, and something that cannot be read: 422, everything at once, text kept.
	ben.post(job+"/readings", form).want(http.StatusUnprocessableEntity).faults(map[string]string{"text:" + p1: "at one place at least"})
	a := ben.post(job+"/readings", with(form, "text:"+p1, "two", "text:"+p2, "2")).want(http.StatusUnprocessableEntity)
	if got := a.fields(job + "/readings"); got.Get("text:"+p1) != "two" || got.Get("text:"+p2) != "2" {
		t.Errorf("fields kept = %v", got)
	}
	if n := len(s.record(job).Readings); n != 0 {
		t.Errorf("%d readings were saved with one at fault", n)
	}

	// Saved: back on the stage, the readings first, each with its verdict and figure.
	form = with(form, "text:"+p1, "2", "text:"+p2, "1 1/4", "note:"+p2, "knot in the way")
	first := ben.post(job+"/readings", form)
	page := ben.follow(first)
	text := page.text()
	if just, left := strings.Index(text, "Just recorded"), strings.Index(text, "Left to check"); just < 0 || left < just {
		t.Errorf("just recorded at %d, left to check at %d", just, left)
	}
	page.says("fails the limit", "at least 2", "1 1/4", "Note: Knot in the way.", "Deviation D1", "Ben Sample")

	// The same form again: the same answer, nothing twice.
	if again := ben.post(job+"/readings", form); again.location != first.location {
		t.Errorf("again leads to %q, first to %q", again.location, first.location)
	}
	if n := len(s.record(job).Readings); n != 2 {
		t.Errorf("%d readings, want 2", n)
	}
	other := ben.post(job+"/readings", with(form, "text:"+p1, "2 1/8")).want(http.StatusConflict)
	if got := other.fields(job + "/readings").Get("text:" + p1); got != "2 1/8" {
		t.Errorf("text kept = %q", got)
	}

	// What is answered already can be picked too.
	ben.page(job+"/stages/framing/ask?"+url.Values{"key": {key}, "again": {at2}}.Encode()).says("Read before", "1 1/4")

	// Measured again and good: the deviation is put right, both readings stay.
	form = ben.ask(job, "framing", key, at2)
	ben.follow(ben.post(job+"/readings", with(form, "text:"+p2, "2 1/8", "back", job+"/check?id="+url.QueryEscape(p2)))).
		says("2 1/8", "put right", "All readings, 2", "1 1/4")
	ada.page(job).says("Framing", "2 of")
}

func TestMeasuredOpening(t *testing.T) {
	s := newSite(t).withPeople()
	b := s.as("ada")
	job := b.aJob()
	b.aRun(job)
	id, at := s.checkID(job, "posts.opening_bottom", "R1-B2")
	form := b.ask(job, "posts", "posts.opening_bottom", at)
	page := b.follow(b.post(job+"/readings", with(form, "text:"+id, "66 5/16")))
	page.says("R1-B2 was laid out again from the measured 66 5/16", "rails now", "planned", "balusters")
	b.page(job).says("as built", "layout v2")
}

func TestObservations(t *testing.T) {
	s := newSite(t).withPeople()
	b := s.as("ada")
	job := b.aJob()
	b.aRun(job)
	key := "framing.blocking"
	id, at := s.checkID(job, key, "R1-P1")
	_, at3 := s.checkID(job, key, "R1-P3")
	form := b.ask(job, "framing", key, at)
	a := b.post(job+"/readings", with(form, "seen:"+id, "not applicable")).want(http.StatusUnprocessableEntity)
	a.faults(map[string]string{"seen:" + id: "why"})
	page := b.follow(b.post(job+"/readings", with(a.fields(job+"/readings"), "seen:"+id, "yes")))
	page.says("good", "The rest of the run is the same")

	check := job + "/check?id=" + url.QueryEscape(id)
	same := b.page(check).fields(job + "/same")
	if len(same["except"]) != 0 {
		t.Errorf("excepted beforehand: %v", same["except"])
	}
	same["except"] = []string{at3}
	b.follow(b.post(job+"/same", same)).says("R1-P2", "said to be the same as the rest of the run")
	if n := len(s.record(job).Readings); n != 2 {
		t.Errorf("%d readings, want 2: P1 and the rest without P3", n)
	}

	// A measurement never stands for others.
	bolt, boltAt := s.checkID(job, "framing.bolt_upper", "R1-P1")
	b.post(job+"/readings", with(b.ask(job, "framing", "framing.bolt_upper", boltAt), "text:"+bolt, "2")).want(http.StatusSeeOther)
	b.post(job+"/same", url.Values{"check": {bolt}}).want(http.StatusUnprocessableEntity).says("only an observation")
}

func TestPhotoCheck(t *testing.T) {
	s := newSite(t).withPeople()
	b := s.as("ada")
	job := b.aJob()
	b.aRun(job)
	id, at := s.checkID(job, "framing.photo_inside", "R1-P1")
	page := b.page(job + "/stages/framing/ask?" + url.Values{"key": {"framing.photo_inside"}, "at": {at}}.Encode())
	if !strings.Contains(page.body, `href="`+job+`/photos/new?check=`+url.QueryEscape(id)+`"`) {
		t.Errorf("the question does not lead to filing a photograph:\n%s", page.body)
	}
	form := page.fields(job + "/readings")
	b.post(job+"/readings", with(form, "seen:"+id, "not applicable")).want(http.StatusUnprocessableEntity).faults(map[string]string{"seen:" + id: "why the photograph cannot be taken"})
	b.follow(b.post(job+"/readings", with(form, "reason:"+id, "No phone on site that day"))).says("No photograph, because no phone on site that day")
}

func TestCheckPage(t *testing.T) {
	s := newSite(t).withPeople()
	b := s.as("ada")
	job := b.aJob()
	b.aRun(job)
	id, _ := s.checkID(job, "framing.bolt_upper", "R1-P1")
	page := b.page(job + "/check?id=" + url.QueryEscape(id))
	page.says("not recorded", "not checked", "at least 2", "Why")
	b.get(job + "/check?id=nothing").want(http.StatusNotFound)
	b.get(job + "/stages/framing/ask?key=nothing").want(http.StatusNotFound)
	b.get(job + "/stages/nothing").want(http.StatusNotFound)
}
