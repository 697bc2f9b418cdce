package server_test

import (
	"bytes"
	"net/http"
	"net/url"
	"strings"
	"time"

	"newelbook/media/exifwrite"
	"newelbook/views"
)

// badFiles are files that are no photographs that can be taken.
func badFiles() []bad {
	one := func(name string, content []byte) func(w *ground) answer {
		return func(w *ground) answer { return w.photo(name, content) }
	}
	kept := map[string]string{"caption": "Both bolts", "place": "job", "stage": "framing"}
	return []bad{
		{"40 MB of text named .jpg", one("IMG_9.jpg", bytes.Repeat([]byte("not a picture\n"), 40_000_000/14)), 415, "IMG_9.jpg: This is a text file, not a photograph, whatever its name says. Choose the photograph itself. JPEG, PNG, WebP and HEIC photographs are taken here.", kept, nil, ""},
		{"a JPEG cut short", func(w *ground) answer {
			whole := picture(w.t, 1, exifwrite.Tags{})
			return w.photo("cut.jpg", whole[:len(whole)/2])
		}, 415, "cut.jpg: This picture is damaged or was cut short on its way here. Send it again; if that does not help, copy it from the camera once more.", kept, nil, ""},
		{"50,000 by 50,000 pixels", one("huge.png", hugePNG()), 413, "huge.png: This picture claims to be 50,000 by 50,000 pixels, more than the 120 million that can be opened here. Send the picture as the camera saved it.", kept, nil, ""},
		{"HEIC with nothing in it", one("IMG_1.HEIC", []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic")), 415, "IMG_1.HEIC: This picture is damaged or was cut short on its way here. Send it again; if that does not help, copy it from the camera once more.", kept, nil, ""},
		{"AVIF", one("IMG_1.avif", []byte("\x00\x00\x00\x18ftypavif\x00\x00\x00\x00mif1avif")), 415, "IMG_1.avif: This is an AVIF picture, which can't be opened here. Save or export it as JPEG and send that. JPEG, PNG, WebP and HEIC photographs are taken here.", kept, nil, ""},
		{"TIFF", one("scan.tif", []byte("II*\x00\x08\x00\x00\x00\x00\x00")), 415, "scan.tif: This is a TIFF or camera raw picture, which can't be opened here. Save or export it as JPEG and send that. JPEG, PNG, WebP and HEIC photographs are taken here.", kept, nil, ""},
		{"GIF", one("anim.gif", []byte("GIF89a\x01\x00\x01\x00\x00\x00\x00;")), 415, "anim.gif: This is a GIF picture, which can't be opened here. Save it as PNG or JPEG and send that. JPEG, PNG, WebP and HEIC photographs are taken here.", kept, nil, ""},
		{"an empty file", one("empty.jpg", nil), 415, "empty.jpg: This file is empty. Choose the photograph again and send it.", kept, nil, ""},
		{"no file at all", func(w *ground) answer {
			v := w.ben.filing(w.job, "place=job&stage=framing")
			w.mark()
			return w.ben.upload(w.job+"/photos", v)
		}, 422, "Choose at least one photograph.", nil, nil, ""},
		{"one good and one bad", func(w *ground) answer {
			v := w.ben.filing(w.job, "place=job&stage=framing")
			w.mark()
			return w.ben.upload(w.job+"/photos", v, file{"a.jpg", picture(w.t, 7, exifwrite.Tags{})}, file{"notes.txt", []byte("tomorrow")})
		}, 415, "notes.txt: This is a text file, not a photograph, whatever its name says. Choose the photograph itself. JPEG, PNG, WebP and HEIC photographs are taken here.", nil, []string{"a.jpg filed as photo 1"}, "events +1, forms +1, originals +1, photos +1"},
		{"a mark outside the picture", func(w *ground) answer {
			path, v := w.marks()
			return w.post(w.ben, path+"/marks", with(v, "mark-0-to_x", "100.5"))
		}, 422, "Enter a number from 0 to 100, the percent of the picture from its upper left corner.", map[string]string{"mark-0-to_x": "100.5", "mark-0-text": "lower bolt"}, nil, ""},
		{"a photograph read by nobody's reading", func(w *ground) answer {
			path, v := w.marks()
			return w.post(w.ben, path+"/marks", with(v, "reading", "nosuch"))
		}, 422, "Choose a measured reading of this job.", map[string]string{"mark-0-text": "lower bolt"}, nil, ""},
		{"photographs of a card filed with none ticked and nowhere", func(w *ground) answer {
			v := w.card()
			names := views.BatchFields(v.Get("batch"))
			return w.post(w.ben, w.job+"/photos/filing", with(without(v, names.Photos), names.Place, "", names.Stage, "framing"))
		}, 422, "Tick at least one photograph.", nil, []string{"Choose the run, post or bay that the photograph shows."}, ""},
		{"photographs of a card filed by nobody's batch", func(w *ground) answer {
			return w.post(w.ben, w.job+"/photos/filing", with(w.card(), "batch", "nosuch"))
		}, 422, "Tick at least one photograph.", nil, nil, ""},
		{"a photograph of no card filed in a batch", func(w *ground) answer {
			v := w.card()
			return w.post(w.ben, w.job+"/photos/filing", with(v, views.BatchFields(v.Get("batch")).Photos, "nosuch"))
		}, 404, nothingThere, nil, nil, ""},
		{"photographs that are no multipart form", func(w *ground) answer { return w.post(w.ben, w.job+"/photos", url.Values{"place": {"job"}}) }, 400, unreadable, nil, nil, ""},
	}
}

// badRequests are requests that no page of this site makes.
func badRequests() []bad {
	form := []string{"Content-Type", "application/x-www-form-urlencoded"}
	return []bad{
		{"a body that is over-long", func(w *ground) answer {
			return w.another(w.ada, http.MethodPost, "/jobs", "name="+strings.Repeat("x", 1<<20), append(form, "Sec-Fetch-Site", "same-origin")...)
		}, 413, "Nothing was saved. Send it in smaller parts.", nil, nil, ""},
		{"more fields than any form has", func(w *ground) answer {
			return w.another(w.ada, http.MethodPost, "/jobs", strings.Repeat("a=1&", 6000), append(form, "Sec-Fetch-Site", "same-origin")...)
		}, 413, "Nothing was saved. Send it in smaller parts.", nil, nil, ""},
		{"a body that is no form", func(w *ground) answer {
			return w.another(w.ada, http.MethodPost, "/jobs", "name=%zz", append(form, "Sec-Fetch-Site", "same-origin")...)
		}, 400, unreadable, nil, nil, ""},
		{"a wrong method", func(w *ground) answer { return w.another(w.ada, http.MethodDelete, w.job, "") }, 405, otherwise, nil, nil, ""},
		{"a post to what is only read", func(w *ground) answer { return w.post(w.ada, w.job+"/record", nil) }, 405, otherwise, nil, nil, ""},
		{"a get of what is only posted", func(w *ground) answer {
			w.mark()
			return w.ada.get(w.job + "/amendments")
		}, 405, otherwise, nil, nil, ""},
		{"a post from another site, as a browser tells it", func(w *ground) answer {
			v := with(w.ada.page(w.job+"/runs/new?kind=level").fields(w.job+"/runs"), "length", "140")
			return w.another(w.ada, http.MethodPost, w.job+"/runs", v.Encode(), append(form, "Sec-Fetch-Site", "cross-site")...)
		}, 403, "Nothing was saved. Open the page here and send the form again.", nil, nil, ""},
		{"a post from another site, by its origin", func(w *ground) answer {
			v := with(w.ada.page(w.job+"/runs/new?kind=level").fields(w.job+"/runs"), "length", "140")
			return w.another(w.ada, http.MethodPost, w.job+"/runs", v.Encode(), append(form, "Origin", "https://elsewhere.example")...)
		}, 403, "Nothing was saved. Open the page here and send the form again.", nil, nil, ""},
		{"a post by nobody who is signed in", func(w *ground) answer { return w.post(w.visitor(), w.job+"/runs", url.Values{"length": {"140"}}) }, 303, "", nil, nil, ""},
	}
}

// notCrew are things that the builder alone does, done by crew.
func notCrew() []bad {
	as := func(path string, v url.Values) func(w *ground) answer {
		return func(w *ground) answer {
			return w.post(w.ben, strings.NewReplacer("JOB", w.job, "RUN", w.run).Replace(path), v)
		}
	}
	const only = "Crew take readings and photographs, close what is complete and write the diary. Ask the builder for anything that changes the layout, the rules or what is issued."
	return []bad{
		{"crew make a job", as("/jobs", url.Values{"name": {"Mine"}}), 403, only, nil, nil, ""},
		{"crew change a job", as("JOB/particulars", url.Values{"permit": {"S-9"}, "version": {"1"}}), 403, only, nil, nil, ""},
		{"crew change the specification", as("JOB/specification", url.Values{"post_width": {"4"}, "version": {"1"}}), 403, only, nil, nil, ""},
		{"crew amend a figure", as("JOB/amendments", url.Values{"key": {"guard.height_level"}, "value": {"30"}, "version": {"1"}}), 403, only, nil, nil, ""},
		{"crew describe a run", as("JOB/runs", url.Values{"kind": {"level"}, "label": {"R2"}, "length": {"140"}}), 403, only, nil, nil, ""},
		{"crew change a run", as("RUN", url.Values{"length": {"150"}, "version": {"1"}}), 403, only, nil, nil, ""},
		{"crew take a run out", as("RUN/retired", url.Values{"version": {"1"}}), 403, only, nil, nil, ""},
		{"crew close a stage over a deviation", func(w *ground) answer {
			return w.typed(w.ben, w.job+"/stages/framing", w.job+"/stages/framing/closing", "reason", "Rain")
		}, 403, only, nil, nil, ""},
		{"crew open a stage again", as("JOB/stages/framing/reopening", url.Values{"reason": {"Rain"}, "version": {"1"}}), 403, only, nil, nil, ""},
		{"crew accept a deviation", func(w *ground) answer {
			return w.post(w.ben, w.deviation(), url.Values{"state": {"accepted"}, "reason": {"Fine"}, "name": {"Ben"}, "version": {"1"}})
		}, 403, only, nil, nil, ""},
		{"crew issue a pack", as("JOB/packs", url.Values{"purpose": {"handover"}, "originals": {"no"}}), 403, only, nil, nil, ""},
		{"crew make a link", as("JOB/links", url.Values{"pack": {"1"}, "for": {"owner"}, "name": {"Olive"}, "days": {"9"}}), 403, only, nil, nil, ""},
		{"crew add a person", as("/people", url.Values{"name": {"Cy Sample"}, "login": {"cy"}, "password": {password}, "repeat": {password}}), 403, only, nil, nil, ""},
	}
}

// badLinks are what links open no longer, and what guests send. The last of them moves the clock.
func badLinks() []bad {
	say := func(whom string, pairs ...string) func(w *ground) answer {
		return func(w *ground) answer {
			path := w.linked(whom)
			return w.typed(w.visitor(), path, path+"/answers", pairs...)
		}
	}
	return []bad{
		{"a link that was never made", func(w *ground) answer {
			w.mark()
			return w.visitor().get("/g/nosuchlink")
		}, 404, "Check that the whole address was copied. Otherwise ask the builder who sent it.", nil, nil, ""},
		{"an answer by a link that was never made", func(w *ground) answer {
			return w.post(w.visitor(), "/g/nosuchlink/answers", url.Values{"kind": {"remark"}, "text": {"Hello"}, "name": {"Iris"}})
		}, 404, "Check that the whole address was copied. Otherwise ask the builder who sent it.", nil, nil, ""},
		{"a link that was taken back", func(w *ground) answer {
			path := w.linked("owner")
			revoke := w.job + "/links/" + w.record(w.job).Links[0].ID + "/revoked"
			w.ada.post(revoke, w.ada.page(w.job+"/packs").fields(revoke)).want(http.StatusSeeOther)
			w.mark()
			return w.visitor().get(path)
		}, 410, "The builder has taken it back. Ask for a new one if you need it.", nil, []string{"555 0100"}, ""},
		{"an answer by a link that was taken back", func(w *ground) answer {
			path := w.linked("owner")
			g := w.visitor()
			v := with(g.page(path).fields(path+"/answers"), "kind", "accept", "name", "Olive Sample")
			revoke := w.job + "/links/" + w.record(w.job).Links[0].ID + "/revoked"
			w.ada.post(revoke, w.ada.page(w.job+"/packs").fields(revoke)).want(http.StatusSeeOther)
			return w.post(g, path+"/answers", v)
		}, 410, "The builder has taken it back. Ask for a new one if you need it.", nil, nil, ""},
		{"an inspection that is still to come", say("inspector", "kind", "outcome", "outcome", "accepted", "on", "2027-01-01", "name", "Iris Sample"), 422, "Enter the date of the inspection as 2026-05-04, not later than today.", map[string]string{"on": "2027-01-01", "name": "Iris Sample"}, nil, ""},
		{"an outcome from an owner", say("owner", "kind", "outcome", "outcome", "accepted", "on", "2026-05-04", "name", "Olive Sample"), 422, "Choose what you want to record.", map[string]string{"name": "Olive Sample"}, nil, ""},
		{"an answer from nobody", say("owner", "kind", "accept", "name", " "), 422, "Choose what you want to record.", nil, nil, ""},
		{"a link to no pack for no days", func(w *ground) answer {
			w.ada.issue(w.job, "handover", "no").want(http.StatusSeeOther)
			return w.typed(w.ada, w.job+"/packs", w.job+"/links", "pack", "9", "for", "owner", "name", "Olive Sample", "days", "many")
		}, 422, "Choose an issued pack: a link opens one pack alone.", nil, nil, ""},
		{"a link that has expired", func(w *ground) answer {
			path := w.linked("owner")
			w.clock.forward(30 * 24 * time.Hour)
			w.mark()
			return w.visitor().get(path)
		}, 410, "It was open until 3 Jun 2026, 09:00 -05:00. Ask the builder for a new one.", nil, nil, ""},
	}
}
