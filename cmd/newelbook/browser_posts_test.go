package main

import (
	"context"
	"net/http"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"newelbook/checklist/length"
)

// movePosts drags a post along the run with a finger on a telephone, sets it to the sixteenth with the arrow keys, adds one and saves:
// the field holds what the finger did, and the layout follows the field.
func movePosts(t *testing.T, browser context.Context) {
	f := newFixture(t).withJob()
	s := f.serve()
	d := open(t, f.dir)
	p := newPerson(t, browser, s.address, 390)
	p.signIn()
	p.open(f.url("runs", f.runs[0], "edit"))
	p.until("the bar of posts is not shown", func() bool {
		return ask[bool](p, `const b = document.querySelector('[data-post-bar]'); return !!b && !b.hidden`)
	})
	if got := p.value("Post centres from the datum"); got != "" {
		t.Fatalf("the field of the posts begins with %q, want nothing: the bays are equal", got)
	}

	const post = `return document.querySelector('.post-bar-post')`
	from := p.spot(post)
	p.stroke(from, spot{X: from.X - 20, Y: from.Y}, spot{X: from.X - 60, Y: from.Y})
	p.until("dragging a post writes nothing", func() bool { return p.value("Post centres from the datum") != "" })
	dragged, err := length.Parse(p.value("Post centres from the datum"), length.Inches)
	if err != nil {
		t.Fatalf("the field holds %q: %v", p.value("Post centres from the datum"), err)
	}
	if dragged%(length.Inch/4) != 0 || dragged < 15*length.Inch || dragged > 40*length.Inch {
		t.Errorf("a post dragged 60 px to the left stands at %v; it was at about 47 in of 96", dragged)
	}

	p.do(chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(kb.ArrowRight))
	want := (dragged + 3*length.Inch/16).FormatBare(length.InchFraction)
	p.until("three arrow keys do not move the post by three sixteenths", func() bool { return p.value("Post centres from the datum") == want })
	p.sees("from the datum;", "between centres")
	p.keep("posts moved")

	p.do(p.tapAt(p.spot(`return named(arg)`, "Add a post")))
	p.until("no post was added", func() bool { return ask[float64](p, `return document.querySelectorAll('.post-bar-post').length`) == 2 })
	if got := p.press("Save and lay out again"); got != http.StatusOK {
		t.Fatalf("saving answers %d", got)
	}
	rec, err := d.service.Record(f.ctx, f.job)
	f.must(err)
	v, _ := rec.Layout(f.runs[0])
	if len(v.Layout.Posts) != 3 || v.Layout.Posts[0].Centre != dragged+3*length.Inch/16 {
		t.Errorf("posts laid out: %+v, want three, the first at %s", v.Layout.Posts, want)
	}
}
