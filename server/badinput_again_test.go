package server_test

import (
	"net/http"
	"net/url"
	"strings"

	"newelbook/media/exifwrite"
)

// sentAgain are forms sent twice, as they were and otherwise.
func sentAgain() []bad {
	again := func(b func(w *ground) *browser, page, action func(w *ground) string, pairs ...string) func(w *ground) answer {
		return func(w *ground) answer {
			return w.twice(b(w), action(w), with(b(w).page(page(w)).fields(action(w)), pairs...))
		}
	}
	ada, ben := func(w *ground) *browser { return w.ada }, func(w *ground) *browser { return w.ben }
	under := func(path string) func(w *ground) string { return func(w *ground) string { return w.job + path } }
	return []bad{
		{"a job sent twice", func(w *ground) answer {
			return w.twice(w.ada, "/jobs", with(w.ada.page("/jobs/new").fields("/jobs"), "ref", "NB-0044", "name", "Gate", "site", "2 Example Lane", "owner", "Olive Sample", "rule_set", "irc-2018", "units", "in"))
		}, 303, "", nil, nil, ""},
		{"a run sent twice", again(ada, under("/runs/new?kind=level"), under("/runs"), "label", "R2", "length", "140"), 303, "", nil, nil, ""},
		{"a specification sent twice", again(ada, under("/specification"), under("/specification"), "post_width", "5 1/2"), 303, "", nil, nil, ""},
		{"an amendment sent twice", again(ada, under("/rules"), under("/amendments"), "key", "guard.height_level", "value", "42", "said_by", "Iris Sample", "on", "2026-05-01"), 303, "", nil, nil, ""},
		{"a diary page sent twice", again(ben, under("/diary/2026-05-04"), under("/diary/2026-05-04"), "work", "Blocking"), 303, "", nil, nil, ""},
		{"a deviation sent twice", again(ben, under("/deviations/new?place=job&stage=framing"), under("/deviations/new"), "what", "The ledger was cut"), 303, "", nil, nil, ""},
		{"a pack sent twice", again(ada, under("/packs"), under("/packs"), "purpose", "handover", "originals", "no"), 303, "", nil, nil, ""},
		{"a reading sent twice", func(w *ground) answer {
			v, check := w.reading(w.ben, "R1-P1")
			return w.twice(w.ben, w.job+"/readings", with(v, "text:"+check, "2"))
		}, 303, "", nil, nil, ""},
		{"a photograph sent twice", func(w *ground) answer {
			v, content := w.ben.filing(w.job, "place=job&stage=framing"), picture(w.t, 3, exifwrite.Tags{})
			first := w.ben.upload(w.job+"/photos", v, file{"a.jpg", content}).want(http.StatusSeeOther)
			w.mark()
			second := w.ben.upload(w.job+"/photos", v, file{"a.jpg", content})
			if second.location != first.location {
				w.t.Errorf("sent again it leads to %q, at first to %q", second.location, first.location)
			}
			return second
		}, 303, "", nil, nil, ""},
		{"a run sent again otherwise", func(w *ground) answer {
			v := with(w.ada.page(w.job+"/runs/new?kind=level").fields(w.job+"/runs"), "label", "R2", "length", "140")
			w.ada.post(w.job+"/runs", v).want(http.StatusSeeOther)
			return w.post(w.ada, w.job+"/runs", with(v, "length", "150"))
		}, 409, sentBefore, map[string]string{"length": "150"}, []string{"Made already", "R2", "140"}, ""},
		{"a job sent again otherwise", func(w *ground) answer {
			v := with(w.ada.page("/jobs/new").fields("/jobs"), "ref", "NB-0045", "name", "Gate", "site", "2 Example Lane", "owner", "Olive Sample", "rule_set", "irc-2018", "units", "in")
			w.ada.post("/jobs", v).want(http.StatusSeeOther)
			return w.post(w.ada, "/jobs", with(v, "name", "Gate and steps"))
		}, 409, sentBefore, map[string]string{"name": "Gate and steps"}, []string{"Made already", "NB-0045"}, ""},
		{"a deviation sent again otherwise", func(w *ground) answer {
			path := w.job + "/deviations/new"
			v := with(w.ben.page(path+"?place=job&stage=framing").fields(path), "what", "The ledger was cut")
			w.ben.post(path, v).want(http.StatusSeeOther)
			return w.post(w.ben, path, with(v, "what", "The ledger was cut twice"))
		}, 409, sentBefore, map[string]string{"what": "The ledger was cut twice"}, []string{"Made already", "D1, Whole job", "The ledger was cut"}, ""},
		{"particulars sent again otherwise", func(w *ground) answer {
			v := with(w.ada.page(w.job+"/particulars").fields(w.job+"/particulars"), "permit", "S-2002")
			w.ada.post(w.job+"/particulars", v).want(http.StatusSeeOther)
			return w.post(w.ada, w.job+"/particulars", with(v, "permit", "S-3003"))
		}, 409, sentBefore, map[string]string{"permit": "S-3003"}, []string{"What stands saved", "S-2002"}, ""},
		{"a reading sent again otherwise", func(w *ground) answer {
			v, check := w.reading(w.ben, "R1-P1")
			w.ben.post(w.job+"/readings", with(v, "text:"+check, "2 1/8")).want(http.StatusSeeOther)
			return w.post(w.ben, w.job+"/readings", with(v, "text:"+check, "2 1/4"))
		}, 409, sentBefore, nil, []string{"2 1/8"}, ""},
		{"a form of one job sent to another", func(w *ground) answer {
			v := with(w.ada.page(w.job+"/runs/new?kind=level").fields(w.job+"/runs"), "label", "R2", "length", "140")
			w.ada.post(w.job+"/runs", v).want(http.StatusSeeOther)
			return w.post(w.ada, w.ada.aJob()+"/runs", v)
		}, 409, sentBefore, nil, nil, ""},
	}
}

// savedMeanwhile are forms of two people who opened the same thing.
func savedMeanwhile() []bad {
	two := func(b func(w *ground) *browser, page, action func(w *ground) string, field, mine, theirs string, more ...string) func(w *ground) answer {
		return func(w *ground) answer {
			first, second := w.ada.page(page(w)).fields(action(w)), b(w).page(page(w)).fields(action(w))
			w.ada.post(action(w), with(with(first, more...), field, theirs)).want(http.StatusSeeOther)
			return w.post(b(w), action(w), with(with(second, more...), field, mine))
		}
	}
	ada, ben := func(w *ground) *browser { return w.ada }, func(w *ground) *browser { return w.ben }
	under := func(path string) func(w *ground) string { return func(w *ground) string { return w.job + path } }
	unsaid := func(page, action func(w *ground) string, pairs ...string) func(w *ground) answer {
		return func(w *ground) answer {
			return w.post(w.ada, action(w), without(with(w.ada.page(page(w)).fields(action(w)), pairs...), "version"))
		}
	}
	run := func(w *ground) string { return w.run }
	edit := func(w *ground) string { return w.run + "/edit" }
	return []bad{
		{"a job saved meanwhile", two(ada, under("/particulars"), under("/particulars"), "permit", "S-3003", "S-2002"), 409, meanwhile("Somebody else", "the job"), map[string]string{"permit": "S-3003"}, []string{"What stands saved", "S-2002"}, ""},
		{"a specification saved meanwhile", two(ada, under("/specification"), under("/specification"), "post_width", "4", "5 1/2"), 409, meanwhile("Somebody else", "the job"), map[string]string{"post_width": "4"}, []string{"What stands saved", "5 1/2"}, ""},
		{"an amendment over a job saved meanwhile", two(ada, under("/rules"), under("/amendments"), "value", "44", "42", "key", "guard.height_level", "said_by", "Iris Sample", "on", "2026-05-01"), 409, meanwhile("Somebody else", "the job"), map[string]string{"value": "44"}, []string{"42"}, ""},
		{"a run saved meanwhile", two(ada, edit, run, "length", "150", "144"), 409, meanwhile("Somebody else", "run R1"), map[string]string{"length": "150"}, []string{"What stands saved", "144"}, ""},
		{"a diary page saved meanwhile", two(ben, under("/diary/2026-05-04"), under("/diary/2026-05-04"), "weather", "Wet", "Dry until noon"), 409, meanwhile("Ada Sample", "the diary of 4 May 2026"), map[string]string{"weather": "Wet"}, []string{"What stands saved", "Dry until noon"}, ""},
		{"a deviation ended meanwhile", func(w *ground) answer {
			path := w.deviation()
			first, second := w.ada.page(path).fields(path), w.ada.page(path).fields(path)
			w.ada.post(path, with(first, "state", "referred", "reason", "Whether it may stay.", "name", "Iris Sample")).want(http.StatusSeeOther)
			return w.post(w.ada, path, with(second, "state", "accepted", "reason", "Seen on site", "name", "Olive Sample"))
		}, 409, meanwhile("Ada Sample", "deviation D1"), map[string]string{"reason": "Seen on site", "name": "Olive Sample", "state": "accepted"}, []string{"What stands saved", "Iris Sample"}, ""},
		{"a stage closed meanwhile", two(ada, under("/stages/framing"), under("/stages/framing/closing"), "reason", "Seen", "The inspector looked at it on site."), 409, meanwhile("Ada Sample", "the stage framing"), nil, nil, ""},
		{"a photograph filed meanwhile", func(w *ground) answer {
			w.ben.upload(w.job+"/photos", w.ben.filing(w.job, "place=job&stage=framing"), file{"a.jpg", picture(w.t, 4, exifwrite.Tags{})}).want(http.StatusSeeOther)
			path := w.job + "/photos/" + w.record(w.job).Photos[0].ID
			first, second := w.ada.page(path).fields(path), w.ben.page(path).fields(path)
			w.ada.post(path, with(first, "caption", "Theirs")).want(http.StatusSeeOther)
			return w.post(w.ben, path, with(second, "caption", "Mine"))
		}, 409, meanwhile("Somebody else", "photograph 1"), map[string]string{"caption": "Mine"}, []string{"What stands saved", "Theirs"}, ""},
		{"marks over a photograph described meanwhile", func(w *ground) answer {
			path, v := w.marks()
			w.ada.post(path+"/marks", v).want(http.StatusSeeOther)
			v.Set("form_id", "another-form-id")
			return w.post(w.ben, path+"/marks", with(v, "mark-0-text", "mine"))
		}, 409, meanwhile("Somebody else", "photograph 1"), map[string]string{"mark-0-text": "mine"}, nil, ""},
		{"photographs of a card filed meanwhile", func(w *ground) answer {
			v := w.card()
			w.ada.post(w.job+"/photos/filing", v).want(http.StatusSeeOther)
			v.Set("form_id", "another-form-id")
			return w.post(w.ben, w.job+"/photos/filing", v)
		}, 409, meanwhile("Somebody else", "photograph 1"), nil, nil, ""},

		{"a job without its version", unsaid(under("/particulars"), under("/particulars"), "permit", "S-2002"), 409, unsaidOf("the job"), map[string]string{"permit": "S-2002"}, nil, ""},
		{"a specification without its version", unsaid(under("/specification"), under("/specification"), "post_width", "4"), 409, unsaidOf("the job"), map[string]string{"post_width": "4"}, nil, ""},
		{"an amendment without its version", unsaid(under("/rules"), under("/amendments"), "key", "guard.height_level", "value", "42", "said_by", "Iris Sample", "on", "2026-05-01"), 409, unsaidOf("the job"), map[string]string{"value": "42"}, nil, ""},
		{"a run without its version", unsaid(edit, run, "length", "150"), 409, unsaidOf("run R1"), map[string]string{"length": "150"}, nil, ""},
		{"a run taken out without its version", unsaid(edit, func(w *ground) string { return w.run + "/retired" }), 409, unsaidOf("run R1"), nil, nil, ""},
		{"a diary page without its version", unsaid(under("/diary/2026-05-04"), under("/diary/2026-05-04"), "work", "Blocking"), 409, unsaidOf("the diary of 4 May 2026"), map[string]string{"work": "Blocking"}, nil, ""},
		{"a stage closed without its version", unsaid(under("/stages/framing"), under("/stages/framing/closing"), "reason", "Seen"), 409, unsaidOf("the stage framing"), nil, nil, ""},
		{"a deviation without its version", func(w *ground) answer {
			path := w.deviation()
			return w.post(w.ada, path, without(with(w.ada.page(path).fields(path), "state", "accepted", "reason", "Seen on site", "name", "Olive Sample"), "version"))
		}, 409, unsaidOf("deviation D1"), map[string]string{"reason": "Seen on site"}, nil, ""},
	}
}

// shorten makes the run one bay of two posts, so that R1-P3 is no longer on the layout.
func (w *ground) shorten() {
	w.t.Helper()
	w.ada.post(w.run, with(w.ada.page(w.run+"/edit").fields(w.run), "length", "60")).want(http.StatusSeeOther)
}

// goneMeanwhile are forms about what is no longer there, or never was.
func goneMeanwhile() []bad {
	get := func(path string) func(w *ground) answer {
		return func(w *ground) answer {
			w.mark()
			return w.ben.get(strings.ReplaceAll(path, "JOB", w.job))
		}
	}
	return []bad{
		{"a reading for a check that is no longer on the layout", func(w *ground) answer {
			v, check := w.reading(w.ben, "R1-P3")
			w.shorten()
			return w.post(w.ben, w.job+"/readings", with(v, "text:"+check, "2 1/8"))
		}, 422, "The layout no longer asks this at R1-P3, so what you entered is not saved: 2 1/8. Open the stage again and pick the check that took its place.", nil, []string{"2 1/8"}, ""},
		{"readings of which one check is no longer on the layout", func(w *ground) answer {
			one, at1 := w.checkID(w.job, "framing.bolt_upper", "R1-P1")
			three, at3 := w.checkID(w.job, "framing.bolt_upper", "R1-P3")
			v := w.ben.ask(w.job, "framing", "framing.bolt_upper", at1, at3)
			w.shorten()
			return w.post(w.ben, w.job+"/readings", with(v, "text:"+one, "2", "text:"+three, "2 1/8"))
		}, 422, "The layout no longer asks this at R1-P3, so what you entered is not saved: 2 1/8. Open the stage again and pick the check that took its place.", nil, []string{"2 1/8"}, ""},
		{"a photograph for a check that is no longer on the layout", func(w *ground) answer {
			check, _ := w.checkID(w.job, "framing.photo_inside", "R1-P3")
			v := with(w.ben.filing(w.job, url.Values{"check": {check}}.Encode()), "caption", "Both bolts")
			w.shorten()
			w.mark()
			return w.ben.upload(w.job+"/photos", v, file{"a.jpg", picture(w.t, 5, exifwrite.Tags{})})
		}, 422, "The check that this is for is no longer on the layout, and nothing was taken in: choose a place and a stage below, or pick the check that took its place from the stage.", map[string]string{"caption": "Both bolts"}, nil, ""},
		{"a change of a run that was taken out", func(w *ground) answer {
			v := w.ada.page(w.run + "/edit").fields(w.run)
			w.ada.post(w.run+"/retired", w.ada.page(w.run+"/edit").fields(w.run+"/retired")).want(http.StatusSeeOther)
			return w.post(w.ada, w.run, with(v, "length", "150"))
		}, 422, "R1 was taken out of the job: describe it as a new run if it is to be built after all.", map[string]string{"length": "150"}, nil, ""},
		{"a job that does not exist", get("/jobs/nosuchjob"), 404, nothingThere, nil, nil, ""},
		{"a form to a job that does not exist", func(w *ground) answer {
			return w.post(w.ada, "/jobs/nosuchjob/particulars", w.ada.page(w.job+"/particulars").fields(w.job+"/particulars"))
		}, 404, nothingThere, nil, nil, ""},
		{"a run to a job that does not exist", func(w *ground) answer {
			return w.post(w.ada, "/jobs/nosuchjob/runs", with(w.ada.page(w.job+"/runs/new?kind=level").fields(w.job+"/runs"), "length", "140"))
		}, 404, nothingThere, nil, nil, ""},
		{"a photograph to a job that does not exist", func(w *ground) answer {
			v := w.ben.filing(w.job, "place=job&stage=framing")
			w.mark()
			return w.ben.upload("/jobs/nosuchjob/photos", v, file{"a.jpg", picture(w.t, 6, exifwrite.Tags{})})
		}, 404, nothingThere, nil, nil, ""},
		{"a run that does not exist", get("JOB/runs/nosuch"), 404, nothingThere, nil, nil, ""},
		{"a stage that does not exist", get("JOB/stages/roofing"), 404, nothingThere, nil, nil, ""},
		{"a photograph that does not exist", get("JOB/photos/nosuch"), 404, nothingThere, nil, nil, ""},
		{"a deviation that does not exist", get("JOB/deviations/nosuch"), 404, nothingThere, nil, nil, ""},
		{"a pack that does not exist", get("JOB/packs/9/pack.pdf"), 404, nothingThere, nil, nil, ""},
		{"a day that does not exist", get("JOB/diary/2026-02-30"), 404, nothingThere, nil, nil, ""},
	}
}
