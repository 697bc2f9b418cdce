// Marks drawn over a photograph with a finger or a mouse. What counts is the text in the fields; this only writes it.
'use strict';
(function () {

var form = document.querySelector('[data-marks]'), figure = document.querySelector('.picture'), img = figure && figure.querySelector('img');
if (!form || !img) return;
var NS = 'http://www.w3.org/2000/svg', SIDE = 1000; // the overlay's units across and down
var tools = form.querySelector('[data-mark-tools]'), says = form.querySelector('[data-mark-says]');
var lines = Array.prototype.slice.call(form.querySelectorAll('[data-mark]'));
var kind = '', from = null;
var drawn = false; // whether the overlay draws the marks, and not the server

var over = document.createElementNS(NS, 'svg');
over.setAttribute('class', 'marks-over');
over.setAttribute('viewBox', '0 0 ' + SIDE + ' ' + SIDE);
over.setAttribute('preserveAspectRatio', 'none');
over.setAttribute('aria-hidden', 'true');
figure.append(over);

function field(line, part) { return line.querySelector('[name$="-' + part + '"]'); }
function kindOf(line) { return line.querySelector('select'); }
function number(line, part) { var n = parseFloat(field(line, part).value.replace(',', '.')); return isFinite(n) ? n * 10 : NaN; }

function fit() { // the picture may be narrower than its frame
  over.style.left = img.offsetLeft + 'px';
  over.style.top = img.offsetTop + 'px';
  over.style.width = img.offsetWidth + 'px';
  over.style.height = img.offsetHeight + 'px';
}

function shape(name, attributes) {
  ['marks-edge', 'marks-line'].forEach(function (className) {
    var e = document.createElementNS(NS, name);
    e.setAttribute('class', className);
    Object.keys(attributes).forEach(function (k) { e.setAttribute(k, attributes[k]); });
    over.append(e);
  });
}

function draw(kind, a, b) {
  if (kind === 'circle') {
    shape('ellipse', { cx: (a.x + b.x) / 2, cy: (a.y + b.y) / 2, rx: Math.abs(b.x - a.x) / 2, ry: Math.abs(b.y - a.y) / 2 });
    return;
  }
  shape('line', { x1: a.x, y1: a.y, x2: b.x, y2: b.y });
  if (kind === 'arrow') shape('circle', { cx: b.x, cy: b.y, r: 6 });
  if (kind === 'measure') { shape('circle', { cx: a.x, cy: a.y, r: 4 }); shape('circle', { cx: b.x, cy: b.y, r: 4 }); }
}

function show(now) {
  if (!drawn) {
    drawn = true;
    img.src = form.dataset.plain;
  }
  over.textContent = '';
  lines.forEach(function (line) {
    var a = { x: number(line, 'from_x'), y: number(line, 'from_y') }, b = { x: number(line, 'to_x'), y: number(line, 'to_y') };
    if (kindOf(line).value && isFinite(a.x + a.y + b.x + b.y)) draw(kindOf(line).value, a, b);
  });
  if (now) draw(kind, from, now);
}

function place(e) {
  var r = img.getBoundingClientRect();
  function within(v) { return Math.min(SIDE, Math.max(0, v * SIDE)); }
  return { x: within((e.clientX - r.left) / r.width), y: within((e.clientY - r.top) / r.height) };
}

function free() { return lines.find(function (line) { return !kindOf(line).value; }); }

tools.querySelectorAll('button').forEach(function (b) {
  b.addEventListener('click', function () {
    kind = kind === b.value ? '' : b.value;
    tools.querySelectorAll('button').forEach(function (other) { other.setAttribute('aria-pressed', String(other.value === kind)); });
    over.classList.toggle('is-drawing', kind !== '');
    says.textContent = !kind ? '' : free() ? 'Draw over the picture, from one end to the other.' : 'Save first: then there is room for more.';
    if (kind) { show(); figure.scrollIntoView({ block: 'nearest' }); }
  });
});

over.addEventListener('pointerdown', function (e) {
  if (!kind || !free()) return;
  from = place(e);
  over.setPointerCapture(e.pointerId);
  e.preventDefault();
});
over.addEventListener('pointermove', function (e) { if (from) show(place(e)); });
over.addEventListener('pointerup', function (e) {
  if (!from) return;
  var to = place(e), a = from, line = free();
  from = null;
  if (Math.abs(to.x - a.x) + Math.abs(to.y - a.y) < 10) { show(); return; } // a tap, not a mark
  kindOf(line).value = kind;
  [['from_x', a.x], ['from_y', a.y], ['to_x', to.x], ['to_y', to.y]].forEach(function (v) { field(line, v[0]).value = String(Math.round(v[1]) / 10); });
  show();
  line.closest('details').open = true;
  says.textContent = kind === 'measure' ? 'Write what was measured beside it, then save.' : 'Save when all marks are there.';
  field(line, 'text').focus({ preventScroll: true });
});
over.addEventListener('pointercancel', function () { from = null; show(); });
['touchstart', 'touchend'].forEach(function (name) { over.addEventListener(name, function (e) { if (kind) e.stopPropagation(); }); });

form.addEventListener('input', function () { show(); });
window.addEventListener('resize', fit);
if (img.complete) fit();
img.addEventListener('load', fit);
tools.hidden = false;

})();
