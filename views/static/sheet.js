// What the pages do better with script. Without it every form still works.
'use strict';
(function () {

// Lengths: the grammar of the server's parser, for the echo only. The server reads the text again and decides.

var INCH = 25400000, MM = 1000000, FARTHEST = 1e12; // nanometres
var UNITS = {
  '"': INCH, 'in': INCH, inch: INCH, inches: INCH, "'": 12 * INCH, ft: 12 * INCH, foot: 12 * INCH, feet: 12 * INCH,
  mm: MM, millimetre: MM, millimetres: MM, millimeter: MM, millimeters: MM,
  cm: 10 * MM, centimetre: 10 * MM, centimetres: 10 * MM, centimeter: 10 * MM, centimeters: 10 * MM,
  m: 1000 * MM, metre: 1000 * MM, metres: 1000 * MM, meter: 1000 * MM, meters: 1000 * MM,
};
var WHOLE = '\\d{1,3}(?:,\\d{3})+|\\d+';
var QUANTITY = '(?:(?:(' + WHOLE + ')(?:\\s+|\\s*-\\s*))?(\\d+)\\s*/\\s*(\\d+)|((?:' + WHOLE + ')(?:\\.\\d*)?|\\.\\d+))';
var SINGLE = new RegExp('^' + QUANTITY + '\\s*(\'|"|[a-z]+\\.?)?$');
var FEET = new RegExp('^(' + WHOLE + ')\\s*(?:\'|ft\\.?|foot|feet)\\s*-?\\s*' + QUANTITY + '\\s*(?:"|in\\.?|inch|inches)?$');

// plain spells typographic characters in ASCII; a vulgar fraction gains a space in front.
function plain(text) {
  return text.toLowerCase()
    .replace(/[\u00bc-\u00be\u2150-\u215f]/g, function (c) { return ' ' + c.normalize('NFKD'); })
    .replace(/[\u2044\u2215]/g, '/')
    .replace(/[\u2010-\u2013\u2212]/g, '-')
    .replace(/[\u2032\u2018\u2019\u00b4`]/g, "'")
    .replace(/[\u2033\u201c\u201d]/g, '"')
    .replace(/''/g, '"')
    .replace(/[\u00a0\u2007\u2009\u202f]/g, ' ')
    .trim();
}

function number(digits) { return Number(digits.replace(/,/g, '')); }

// quantity turns the four groups of a number into nanometres, or null.
function quantity(whole, over, under, decimal, unit) {
  if (decimal) return Math.round(number(decimal) * unit);
  over = Number(over);
  under = Number(under);
  if (over >= under) return null;
  var divisor = gcd(over, under);
  if (under / divisor > 64 || unit * over % under !== 0) return null;
  return (whole ? number(whole) * unit : 0) + unit * over / under;
}

function gcd(a, b) { return b ? gcd(b, a % b) : a; }

// read returns nanometres, or null for a text that is not a length yet.
function read(text, unit) {
  var s = plain(text), sign = 1, nm;
  if (s[0] === '-' || s[0] === '+') {
    sign = s[0] === '-' ? -1 : 1;
    s = s.slice(1).trim();
  }
  var m = FEET.exec(s);
  if (m) {
    nm = quantity(m[2], m[3], m[4], m[5], INCH);
    if (nm === null || nm >= 12 * INCH) return null;
    nm += number(m[1]) * 12 * INCH;
  } else {
    m = SINGLE.exec(s);
    var size = m && UNITS[(m[5] || unit).replace(/\.$/, '')];
    if (!size) return null;
    nm = quantity(m[1], m[2], m[3], m[4], size);
  }
  return nm === null || nm > FARTHEST ? null : sign * nm;
}

// mixed shows nanometres in inches to the nearest 1/64, as a whole number and a fraction.
function mixed(nm) {
  var grid = Math.round(Math.abs(nm) / (INCH / 64)), over = grid % 64, under = 64;
  while (over && over % 2 === 0) { over /= 2; under /= 2; }
  var whole = Math.floor(grid / 64), fraction = over ? over + '/' + under : '';
  return { minus: nm < 0 && grid > 0 ? '\u2212' : '', whole: whole || !fraction ? whole + (fraction ? ' ' : '') : '', fraction: fraction };
}

// metric shows nanometres in millimetres to 0.01.
function metric(nm) {
  var hundredths = Math.round(Math.abs(nm) / (MM / 100));
  return (nm < 0 && hundredths ? '\u2212' : '') + hundredths / 100 + ' mm';
}

function el(tag, className, text) {
  var e = document.createElement(tag);
  if (className) e.className = className;
  if (text) e.textContent = text;
  return e;
}

// showLength fills the echo: the value large, and the same in the other unit.
function showLength(out, nm, unit) {
  var big = el('span', 'echo-value'), m = mixed(nm), other = m.minus + m.whole + m.fraction + '\u2033';
  out.textContent = '';
  if (unit === 'mm') {
    big.textContent = metric(nm);
  } else {
    if (m.minus || m.whole) big.append(el('span', 'whole', m.minus + m.whole));
    if (m.fraction) big.append(el('span', 'fr', m.fraction));
    big.append('\u2033');
    other = metric(nm);
  }
  out.append(big, el('span', 'echo-note', other));
}

function entry(box) {
  var input = box.querySelector('input'), out = box.querySelector('[data-echo]'), pad = box.querySelector('[data-pad]');
  var unit = box.dataset.entry || 'in', row = box.closest('.entry-row');
  if (row) {
    pad.addEventListener('mousedown', function (e) { e.preventDefault(); }); // the box keeps the focus
    // The pad stays until another box is in hand: if it went with the focus, the button under the thumb would move away.
    input.addEventListener('focus', function () {
      document.querySelectorAll('.entry-row.in-hand').forEach(function (r) { r.classList.remove('in-hand'); });
      row.classList.add('in-hand');
    });
  }
  function refresh() {
    var nm = read(input.value, unit);
    if (nm !== null) { showLength(out, nm, unit); return; }
    out.textContent = '';
    if (input.value.trim()) out.append(el('span', 'echo-note', 'Not a length yet. Write it like ' + (unit === 'mm' ? '1050.' : '41 3/8.')));
  }
  function set(text) { input.value = text; refresh(); mark(); }
  function parts() {
    var m = /^\s*(-?)\s*(\d*(?:\.\d*)?)\s*(?:(\d+\/\d+))?\s*$/.exec(input.value);
    return m ? { minus: m[1], whole: m[2], fraction: m[3] || '' } : { minus: '', whole: '', fraction: '' };
  }
  function join(p) { set(p.minus + [p.whole, p.fraction].filter(Boolean).join(' ')); }
  function mark() {
    var now = parts().fraction;
    pad.querySelectorAll('[data-fraction]').forEach(function (b) { b.setAttribute('aria-pressed', String(now !== '' && b.dataset.fraction === now)); });
  }
  function key(group, label, className, name, press) {
    var b = el('button', className, label);
    b.type = 'button';
    if (row) b.tabIndex = -1; // Tab goes from box to box
    if (name) b.setAttribute('aria-label', name);
    b.addEventListener('click', function () { press(parts()); });
    group.append(b);
    return b;
  }
  var keys = el('div', 'pad-keys');
  '1234567890'.split('').forEach(function (d) {
    key(keys, d, '', '', function (p) { p.whole = (p.whole === '0' ? '' : p.whole) + d; join(p); });
  });
  var sign = 'signed' in box.dataset;
  if (unit === 'mm') key(keys, '.', '', 'point', function (p) { if (p.whole.indexOf('.') < 0) { p.whole = (p.whole || '0') + '.'; join(p); } });
  if (sign) key(keys, '+ / −', 'pad-word', 'change the direction', function (p) { p.minus = p.minus ? '' : '-'; join(p); });
  key(keys, 'Back', 'pad-word pad-2', 'take back the last key', function (p) { if (p.fraction) p.fraction = ''; else p.whole = p.whole.slice(0, -1); if (!p.whole && !p.fraction) p.minus = ''; join(p); });
  key(keys, 'Clear', 'pad-word pad-' + (3 - (unit === 'mm') - sign), '', function () { set(''); });
  pad.append(keys);
  if (row && unit === 'mm') key(keys, 'Next', 'pad-word pad-5', 'to the next box', function () { next(input); });
  if (unit === 'in') {
    var six = el('div', 'pad-keys pad-sixteenths');
    for (var i = 0; i < 16; i++) {
      var over = i, under = 16;
      while (over && over % 2 === 0) { over /= 2; under /= 2; }
      sixteenth(six, i ? over + '/' + under : '', i ? under : 1);
    }
    pad.append(six);
  }
  function sixteenth(group, fraction, under) {
    var b = key(group, '', 'tick-' + under, '', function (p) {
      p.fraction = fraction;
      join(p);
      if (row && input.value) next(input); // a sixteenth is the last key of a number
    });
    if (fraction) { b.append(el('span', 'fr', fraction)); b.dataset.fraction = fraction; } else { b.append(el('span', 'pad-word', 'even')); b.setAttribute('aria-label', 'even, no fraction'); }
  }
  pad.hidden = false;
  // A thumb uses the pad; the telephone's own keyboard would cover it. It comes back on a second tap.
  if (matchMedia('(pointer: coarse)').matches) {
    input.inputMode = 'none';
    input.addEventListener('click', function () { if (document.activeElement === input) input.inputMode = 'text'; });
    input.addEventListener('blur', function () { input.inputMode = 'none'; });
  }
  input.addEventListener('input', function () { refresh(); mark(); });
  refresh();
  mark();
}

// boxes are those of a form that asks several readings.
function boxes(form) { return Array.from(form.querySelectorAll('[data-entry] input, .entry-row > .field > .box > input')); }

// next goes from a box to the one after it; after the last, to the button that saves.
function next(input) {
  var all = boxes(input.form), after = all[all.indexOf(input) + 1];
  if (!after) { input.form.querySelector('.actions .do').focus(); return false; }
  after.focus();
  after.select();
  return true;
}

document.querySelectorAll('[data-entry]').forEach(entry);

// Enter goes to the next box of a form that asks several readings; in the last one it sends the form.
document.querySelectorAll('form[data-several]').forEach(function (form) {
  var all = boxes(form);
  all.forEach(function (input, i) {
    input.enterKeyHint = i + 1 < all.length ? 'next' : 'done';
    input.addEventListener('keydown', function (e) {
      if (e.key === 'Enter' && i + 1 < all.length) { e.preventDefault(); next(input); }
    });
  });
  var empty = all.find(function (input) { return !input.value; });
  if (form.querySelector('.entry-rows') && empty && !document.querySelector('[data-focus]')) empty.focus();
});

// read, for the scripts of single pages.
window.newelbook = { read: read };

// A drawing wider than the screen opens at the place in hand.
document.querySelectorAll('.drawing-scroll').forEach(function (box) {
  var current = box.querySelector('.d-current');
  if (!current || box.scrollWidth <= box.clientWidth) return;
  var place = current.getBoundingClientRect(), frame = box.getBoundingClientRect();
  box.scrollLeft += place.left + place.width / 2 - frame.left - frame.width / 2;
});

var summary = document.querySelector('[data-focus]');
if (summary) summary.focus();

})();
