package views_test

import (
	"regexp"
	"strings"
	"testing"
)

// said are the paragraphs that a test's script left, in order.
func said(document string) string {
	var out []string
	for _, m := range regexp.MustCompile(`<p class="said">([^<]*)</p>`).FindAllStringSubmatch(document, -1) {
		out = append(out, m[1])
	}
	return strings.Join(out, ",")
}

// say writes what a test's script saw.
const say = `var say = function (text) { document.body.append(Object.assign(document.createElement('p'), { className: 'said', textContent: text })); };`

// The left and right keys and a finger lead to the photographs beside this one; typing, a modified key and a finger that scrolls or
// moves a zoomed picture do not.
func TestScriptTurns(t *testing.T) {
	const page = `<figure class="picture" data-turns><img alt=""></figure><nav class="turns"><a rel="prev" href="#before">b</a><a rel="next" href="#after">a</a></nav><input id="box">`
	const press = `<script>addEventListener('load', function () {` + say + `
var see = function () { say(location.hash.slice(1) || 'stays'); history.replaceState(null, '', location.pathname); };
var key = function (name, more, on) { (on || document.body).dispatchEvent(new KeyboardEvent('keydown', Object.assign({ key: name, bubbles: true, cancelable: true }, more))); see(); };
var finger = function (x1, y1, x2, y2, n) {
  var f = document.querySelector('figure');
  var touch = function (x, y, id) { return new Touch({ identifier: id, target: f, clientX: x, clientY: y }); };
  var down = [touch(x1, y1, 1)]; if (n > 1) down.push(touch(x1 + 30, y1, 2));
  f.dispatchEvent(new TouchEvent('touchstart', { touches: down, changedTouches: down, bubbles: true }));
  f.dispatchEvent(new TouchEvent('touchend', { touches: [], changedTouches: [touch(x2, y2, 1)], bubbles: true })); see();
};
key('ArrowRight'); key('ArrowLeft'); key('ArrowRight', { altKey: true }); key('ArrowRight', {}, document.getElementById('box')); key('Enter');
finger(300, 100, 200, 110); finger(100, 100, 200, 90); finger(300, 100, 260, 100); finger(300, 100, 200, 180); finger(300, 100, 200, 100, 2);
});</script>`
	want := "after,before,stays,stays,stays,after,before,stays,stays,stays"
	if got := said(dumpWith(t, "turn.js", page+press)); got != want {
		t.Errorf("the script led to %q, want %q", got, want)
	}
}

// A mark that is drawn fills the first empty line in percent of the picture; a tap and a full form draw nothing.
func TestScriptMarks(t *testing.T) {
	line := func(i string) string {
		out := `<fieldset data-mark><select name="mark-` + i + `"><option value=""></option><option value="arrow"></option><option value="circle"></option><option value="measure"></option></select>`
		for _, part := range []string{"from_x", "from_y", "to_x", "to_y", "text"} {
			out += `<input name="mark-` + i + `-` + part + `">`
		}
		return out + `</fieldset>`
	}
	page := `<body style="margin:0"><figure class="picture" style="margin:0"><img alt="" style="display:block;width:400px;height:200px"></figure><form data-marks data-plain="plain.jpg"><div data-mark-tools hidden><button type="button" value="arrow">Arrow</button><button type="button" value="circle">Circle</button></div><p data-mark-says></p><details>` +
		line("0") + line("1") + `</details></form>`
	const press = `<script>addEventListener('load', function () {` + say + `
var over = document.querySelector('svg.marks-over');
over.setPointerCapture = function () {}; // no real pointer is down
var drag = function (x1, y1, x2, y2) { [['pointerdown', x1, y1], ['pointermove', x2, y2], ['pointerup', x2, y2]].forEach(function (e) { over.dispatchEvent(new PointerEvent(e[0], { clientX: e[1], clientY: e[2], pointerId: 1, bubbles: true, cancelable: true })); }); };
var line = function (i) { return Array.from(document.querySelectorAll('[data-mark]')[i].querySelectorAll('select, input')).map(function (f) { return f.value; }).join(' ').trim(); };
var tool = function (name) { document.querySelector('button[value="' + name + '"]').click(); };
say(document.querySelector('[data-mark-tools]').hidden ? 'hidden' : 'shown');
drag(40, 20, 200, 100); say('no tool: ' + line(0));
tool('arrow'); drag(40, 20, 41, 20); say('a tap: ' + line(0));
drag(40, 20, 200, 101); say(line(0));
tool('circle'); drag(300, 150, 900, -50); say(line(1));
drag(0, 0, 100, 100); say(line(0) + ' / ' + line(1));
say(document.querySelector('img').getAttribute('src')); say(String(over.querySelectorAll('.marks-line').length));
});</script>`
	want := "shown,no tool: ,a tap: ,arrow 10 10 50 50.5,circle 75 75 100 0,arrow 10 10 50 50.5 / circle 75 75 100 0,plain.jpg,3"
	if got := said(dumpWith(t, "marks.js", page+press)); got != want {
		t.Errorf("the script said\n%q, want\n%q", got, want)
	}
}

// The slate's clock goes on from the server's time in the job's zone, over a change of day and in the offset of that moment, whatever the
// phone's own clock says; a phone that is far off, or set to another zone, is told.
func TestScriptSlate(t *testing.T) {
	const parts = `<p data-slate-time></p><p data-slate-day></p><p data-slate-zone></p><p data-slate-still>still</p><p data-slate-off></p>`
	for _, tt := range []struct{ name, ahead, zone, want string }{
		// 2026-03-08 07:59:58 UTC: two seconds before clocks in Chicago go from 02:00 to 03:00. Sources: the IANA zone data in the browser.
		{"winter in Chicago", "0", "America/Chicago", "01:59:58 Sun 8 Mar 2026 -06:00 America/Chicago"},
		{"Auckland a day on", "0", "Pacific/Auckland", "20:59:58 Sun 8 Mar 2026 +13:00 Pacific/Auckland"},
		{"phone 7 minutes ahead", "420000", "UTC", "07:59:58 Sun 8 Mar 2026 +00:00 UTC This phone’s clock is 7 minutes ahead."},
		{"phone 9 minutes behind", "-540000", "UTC", "07:59:58 Sun 8 Mar 2026 +00:00 UTC This phone’s clock is 9 minutes behind."},
		{"phone a year ahead", "31536000000", "UTC", "07:59:58 Sun 8 Mar 2026 +00:00 UTC This phone’s clock is more than an hour ahead."},
		{"phone 4 minutes ahead", "240000", "UTC", "07:59:58 Sun 8 Mar 2026 +00:00 UTC"},
		{"a zone that no browser knows", "0", "Invented/Zone", "still"},
	} {
		page := `<script>var real = Date.now; Date.now = function () { return 1772956798000 + ` + tt.ahead + `; };</script><div data-slate="1772956798000" data-zone="` + tt.zone + `">` + parts + `</div><button data-slate-fill hidden></button>`
		press := `<script>addEventListener('load', function () {` + say + `say(Array.from(document.querySelectorAll('[data-slate] p')).map(function (p) { return p.textContent; }).filter(Boolean).join(' ').replace(' This phone is set to another time zone than the site.', '')); });</script>`
		if got := said(dumpWith(t, "slate.js", page+press)); got != tt.want {
			t.Errorf("%s: the slate says %q, want %q", tt.name, got, tt.want)
		}
	}
}
