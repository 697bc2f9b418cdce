// Posts along a run, moved with a finger, a mouse or the arrow keys. What counts is the text in the field; this only writes it.
'use strict';
(function () {

var INCH = 25400000, MM = 1000000; // nanometres

document.querySelectorAll('[data-post-bar]').forEach(function (bar) {
  var field = document.getElementById(bar.dataset.field), span = document.getElementById(bar.dataset.over);
  if (!field || !window.newelbook) return;
  field.closest('.field').after(bar);
  var unit = bar.dataset.unit, metric = unit === 'mm';
  var fine = metric ? MM : INCH / 16, coarse = metric ? 5 * MM : INCH / 4, stride = metric ? 10 * MM : INCH;
  var width = Number(bar.dataset.width) || 0, joistWidth = Number(bar.dataset.joistWidth) || 0;
  var planned = list(bar.dataset.planned), joists = list(bar.dataset.joists);
  var length = 0, posts = [], held = -1;

  function list(text) { return text ? text.split(' ').map(Number) : []; }
  function read(text) { return window.newelbook.read(text, unit); }

  // write is the place as a person would type it: whole inches and sixteenths, or millimetres.
  function write(nm) {
    if (metric) return String(Math.round(nm / MM));
    var sixteenths = Math.round(nm / (INCH / 16)), whole = Math.floor(sixteenths / 16), over = sixteenths % 16, under = 16;
    while (over && over % 2 === 0) { over /= 2; under /= 2; }
    return over ? (whole ? whole + ' ' : '') + over + '/' + under : String(whole);
  }
  function shown(nm) { return write(nm) + (metric ? ' mm' : '\u2033'); }

  var track = bar.querySelector('[data-track]'), says = bar.querySelector('[data-says]');

  // load takes the posts from the field, or those that were laid out where it is empty.
  function load() {
    length = read(span ? span.value : '') || Number(bar.dataset.length) || 0;
    var typed = field.value.split(/[,;]\s*(?!\d{3}(?:\D|$))|;/).map(function (t) { return t.trim(); }).filter(Boolean).map(read);
    if (typed.some(function (nm) { return nm === null; })) { bar.hidden = true; return; }
    posts = (typed.length ? typed : planned).filter(function (nm) { return nm > 0 && nm < length; }).sort(function (a, b) { return a - b; });
    bar.hidden = length <= 0;
    draw();
  }

  // save writes the posts into the field. Ends are left out: each run has them anyway.
  function save() { field.value = posts.map(write).join('; '); }

  function place(e, nm) { e.style.left = 100 * nm / length + '%'; }

  function draw() {
    track.textContent = '';
    joists.forEach(function (nm) {
      if (nm < 0 || nm > length) return;
      var j = document.createElement('span');
      j.className = 'post-bar-joist';
      place(j, nm);
      track.append(j);
    });
    [0, length].forEach(function (nm) {
      var end = document.createElement('span');
      end.className = 'post-bar-end';
      place(end, nm);
      track.append(end);
    });
    posts.forEach(function (nm, i) {
      var b = document.createElement('button');
      b.type = 'button';
      b.className = 'post-bar-post' + (clash(nm) ? ' post-bar-clash' : '');
      b.setAttribute('role', 'slider');
      b.setAttribute('aria-label', 'Post ' + (i + 1) + ' between the ends');
      b.setAttribute('aria-valuemin', '0');
      b.setAttribute('aria-valuemax', String(Math.round(length / fine)));
      b.setAttribute('aria-valuenow', String(Math.round(nm / fine)));
      b.setAttribute('aria-valuetext', shown(nm) + ' from the datum' + (clash(nm) ? ', on a joist' : ''));
      place(b, nm);
      b.addEventListener('pointerdown', function (e) { b.setPointerCapture(e.pointerId); held = i; tell(i); });
      b.addEventListener('pointermove', function (e) {
        if (held !== i || !b.hasPointerCapture(e.pointerId)) return;
        var box = track.getBoundingClientRect();
        move(i, Math.round((e.clientX - box.left) / box.width * length / coarse) * coarse, b);
      });
      b.addEventListener('pointerup', function () { draw(); focus(i); });
      b.addEventListener('keydown', function (e) {
        var by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 }[e.key];
        if (e.key === 'Delete') { e.preventDefault(); take(i); return; }
        if (!by) return;
        e.preventDefault();
        move(i, Math.round(posts[i] / fine) * fine + by * (e.shiftKey ? stride : fine), b);
        draw();
        focus(i);
      });
      b.addEventListener('focus', function () { held = i; tell(i); });
      track.append(b);
    });
  }

  function focus(i) { var b = track.querySelectorAll('button')[i]; if (b) b.focus(); }

  // clash says whether a post stands where a joist does.
  function clash(nm) {
    return joists.some(function (j) { return Math.abs(nm - j) < (width + joistWidth) / 2; });
  }

  // move sets a post to a place between its neighbours.
  function move(i, nm, b) {
    var low = (i ? posts[i - 1] : 0) + width + coarse, high = (i + 1 < posts.length ? posts[i + 1] : length) - width - coarse;
    if (low > high) return;
    posts[i] = Math.min(Math.max(nm, low), high);
    place(b, posts[i]);
    b.classList.toggle('post-bar-clash', clash(posts[i]));
    save();
    tell(i);
  }

  function tell(i) {
    var before = i ? posts[i - 1] : 0, after = i + 1 < posts.length ? posts[i + 1] : length;
    says.textContent = shown(posts[i]) + ' from the datum; ' + shown(posts[i] - before) + ' and ' + shown(after - posts[i]) + ' between centres.' + (clash(posts[i]) ? ' It stands on a joist.' : '');
  }

  function take(i) {
    posts.splice(i, 1);
    held = -1;
    save();
    draw();
    says.textContent = 'Taken out.';
    focus(Math.min(i, posts.length - 1));
  }

  bar.querySelector('[data-add]').addEventListener('click', function () {
    var all = [0].concat(posts, [length]), widest = 0;
    for (var i = 1; i < all.length; i++) if (all[i] - all[i - 1] > all[widest + 1] - all[widest]) widest = i - 1;
    if (all[widest + 1] - all[widest] < 2 * width + 4 * coarse) { says.textContent = 'There is no room for another post.'; return; }
    posts.splice(widest, 0, Math.round((all[widest] + all[widest + 1]) / 2 / fine) * fine);
    save();
    draw();
    focus(widest);
  });
  bar.querySelector('[data-take]').addEventListener('click', function () {
    if (held >= 0 && held < posts.length) take(held); else says.textContent = 'Pick a post first.';
  });
  bar.querySelector('[data-equal]').addEventListener('click', function () {
    field.value = '';
    says.textContent = 'Equal bays when it is saved.';
    load();
  });
  field.addEventListener('change', load);
  if (span) span.addEventListener('change', load);
  load();
});

})();
