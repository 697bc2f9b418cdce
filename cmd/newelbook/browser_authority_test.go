package main

import (
	"context"
	"net/http"
	"strings"
	"testing"
)

// authorities sets on a phone what the authority makes of photographs. One that accepts none has a hold point seen with a witness, who must
// be named; one that wants the permit in every picture is served by the slate.
func authorities(t *testing.T, browser context.Context) {
	f := newFixture(t).withJob()
	asked := f.askURL("framing.photo_inside", "R1-P1", "R1-P2")
	wide, inside := f.check("framing.photo_wide", "R1-P2"), f.check("framing.photo_inside", "R1-P1")
	s := f.serve()
	p := newPerson(t, browser, s.address, 390)
	p.signIn()
	owed := func() bool {
		_, st := framing(t, s, f)
		for _, o := range st.Outstanding {
			if o.Hold && o.CheckID == inside {
				return true
			}
		}
		return false
	}
	set := func(policy string) {
		p.open(f.url("particulars"))
		p.pick("What the authority makes of photographs", policy)
		p.follow("Save")
	}

	set("It does not accept them as proof")
	p.open(asked)
	p.sees("Seen with a witness: inside face", "Name and office, as they gave them.")
	p.choose("Is it so at R1-P1", "Yes")
	p.choose("Is it so at R1-P2", "No")
	p.followTo("Save", http.StatusUnprocessableEntity)
	p.refused("Who saw it with you")
	if !owed() {
		t.Error("an answer without a witness filled the hold point")
	}
	p.fill("Who saw it with you", "Iris Sample, building office")
	p.keep("witness")
	p.follow("Save")
	rec, _ := framing(t, s, f)
	var saw []string
	for _, r := range rec.Readings {
		saw = append(saw, r.Check.Place.Label+" "+string(r.Answer.Seen)+" "+r.Answer.Witness)
	}
	if want := "R1-P1 yes Iris Sample, building office, R1-P2 no Iris Sample, building office"; strings.Join(saw, ", ") != want {
		t.Errorf("on record: %q, want %q", saw, want)
	}
	if owed() {
		t.Error("the hold point is still owed after it was seen with a witness")
	}
	p.open(f.url("check") + "?id=" + inside)
	p.sees("with Iris Sample, building office")
	p.keep("seen")

	set("The permit must be in every picture")
	p.open(f.url("photos", "new") + "?check=" + wide)
	p.sees("permit")
	p.follow("Slate to hold in view")
	p.sees("R1-P2", "P-78", "2 Invented Quay", "America/")
	p.seesNot("open it again for a new one")
	at := ask[string](p, `return document.querySelector('[data-slate-time]').textContent`)
	p.until("the slate's clock stands still", func() bool {
		return ask[string](p, `return document.querySelector('[data-slate-time]').textContent`) != at
	})
	if left := ask[int](p, `return document.documentElement.scrollHeight - innerHeight`); left > 0 {
		t.Errorf("the slate is %d px higher than the screen", left)
	}
	p.keep("slate")
	p.follow("Back")
	if want := f.url("photos", "new"); !strings.HasPrefix(p.where(), want) {
		t.Errorf("the slate leads back to %s, want %s", p.where(), want)
	}
}
