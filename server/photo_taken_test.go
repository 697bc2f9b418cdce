package server_test

import (
	"net/http"
	"net/url"
	"strings"
	"sync"
	"testing"

	"newelbook/media/exifwrite"
	"newelbook/media/mediatest"
)

// A HEIC sent by the plain form is kept whole; where its picture would be stands a card in words.
func TestHEICWithoutView(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	body := mediatest.HEIC(4032, 3024, 1, nil)
	ada.follow(ada.upload(job+"/photos", ada.filing(job, "place=job&stage=framing"), file{"IMG_7.HEIC", body})).says("The photograph is on the server and filed.")
	p := s.record(job).Photos[0]
	if p.Kind != "heic" || p.Width != 3024 || p.Height != 4032 || p.Supplied != nil {
		t.Errorf("on record as %+v", p)
	}
	path := job + "/photos/" + p.ID
	ada.page(path).says("image/heic, 3024 by 4032 pixels", "kept as it was received")
	if got := ada.page(path + "/original"); got.body != string(body) || got.header.Get("Content-Type") != "image/heic" {
		t.Error("the original does not come back as it was sent")
	}
	for _, size := range []string{"view", "thumb"} {
		card := ada.page(path + "/" + size)
		if kind := card.header.Get("Content-Type"); kind != "image/svg+xml" || !strings.Contains(card.body, "HEIC original, kept whole.") || card.header.Get("Content-Security-Policy") != "default-src 'none'; sandbox" {
			t.Errorf("%s is %s: %s", size, kind, card.body)
		}
	}
	ada.page(job + "/photos").says("Photo 1")
}

// Crew who send one file at the same moment file it once.
func TestSameFileAtOnce(t *testing.T) {
	s := newSite(t).withPeople()
	ada := s.as("ada")
	job := ada.aJob()
	body := picture(t, 1, exifwrite.Tags{Make: "Example"})
	const senders = 6
	senderOf := make([]*browser, senders)
	forms := make([]string, senders)
	for i := range senders {
		senderOf[i] = s.as([]string{"ada", "ben"}[i%2])
		forms[i] = senderOf[i].filing(job, "place=job&stage=framing").Get("form_id")
	}
	var all sync.WaitGroup
	for i := range senders {
		all.Go(func() {
			v := url.Values{"form_id": {forms[i]}}
			v.Set("place", "job")
			v.Set("stage", "framing")
			if got := senderOf[i].upload(job+"/photos", v, file{"a.jpg", body}); got.status != http.StatusSeeOther {
				t.Errorf("sender %d: status %d", i, got.status)
			}
		})
	}
	all.Wait()
	if n := len(s.record(job).Photos); n != 1 {
		t.Errorf("%d photographs on record, want 1", n)
	}
}
