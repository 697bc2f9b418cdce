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
  var unit = box.dataset.entry || 'in';
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
    var b = key(group, '', 'tick-' + under, '', function (p) { p.fraction = fraction; join(p); });
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

// Photographs: one post each, so that a lost signal loses one and not all.

var waiting = 0;

// freshID works over plain HTTP in a house network too, where crypto.randomUUID is not to be had.
function freshID() {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), function (b) { return b.toString(16).padStart(2, '0'); }).join('');
}

var STATES = {
  ready: ['still on this phone', 'is-ask', 'M4.6 1.6h6.8v12.8H4.6zM7 12h2'],
  sending: ['sending', 'is-quiet', 'M2.6 8h1.6M7.2 8h1.6M11.8 8h1.6'],
  done: ['on the server', 'is-good', 'M2 13.6h12M8 11V2.4M4.8 5.4 8 2.2l3.2 3.2'],
};

function state(span, name) {
  var s = STATES[name], ns = 'http://www.w3.org/2000/svg', svg = document.createElementNS(ns, 'svg'), path = document.createElementNS(ns, 'path');
  svg.setAttribute('class', 'mark');
  svg.setAttribute('viewBox', '0 0 16 16');
  svg.setAttribute('aria-hidden', 'true');
  path.setAttribute('d', s[2]);
  svg.append(path);
  span.className = 'status ' + s[1];
  span.textContent = '';
  span.append(svg, el('span', '', s[0]));
}

function uploads(form) {
  var input = form.querySelector('input[type=file]'), list = form.querySelector('[data-uploads]');
  if (!input || !list) return;
  var items = [];
  input.addEventListener('change', function () {
    Array.from(input.files).forEach(function (file) { items.push(item(file)); });
    input.value = '';
    list.hidden = items.length === 0;
  });
  form.addEventListener('submit', function (event) {
    if (!items.length) return;
    event.preventDefault();
    next();
  });
  function item(file) {
    var li = el('li'), picture = el('canvas'), status = el('span'), bar = el('progress');
    preview(file, picture);
    bar.max = 1;
    bar.value = 0;
    bar.setAttribute('aria-label', 'sent of ' + file.name);
    state(status, 'ready');
    waiting++;
    li.append(picture, el('span', 'upload-name', file.name), status, bar);
    list.append(li);
    return { file: file, li: li, status: status, bar: bar, state: 'ready', id: freshID() };
  }
  // reason is the first line of the error summary of the page that came back.
  function reason(request) {
    if (request.status === 0) return 'No answer from the server. The photograph is safe on this phone.';
    var line = new DOMParser().parseFromString(request.responseText, 'text/html').querySelector('.error-summary li');
    return line ? line.textContent.trim() : '';
  }
  // A canvas, since the page's policy allows no picture that is not from the server.
  function preview(file, canvas) {
    canvas.width = 144;
    canvas.height = 108;
    canvas.setAttribute('aria-hidden', 'true');
    createImageBitmap(file).then(function (bitmap) {
      var scale = Math.max(canvas.width / bitmap.width, canvas.height / bitmap.height), w = bitmap.width * scale, h = bitmap.height * scale;
      canvas.getContext('2d').drawImage(bitmap, (canvas.width - w) / 2, (canvas.height - h) / 2, w, h);
      bitmap.close();
    }, function () { canvas.hidden = true; });
  }
  function next() {
    if (items.some(function (i) { return i.state === 'sending'; })) return;
    var it = items.find(function (i) { return i.state === 'ready'; });
    if (it) { send(it); return; }
    if (items.every(function (i) { return i.state === 'done'; })) location.assign(form.dataset.upload || location.href);
  }
  function send(it) {
    var data = new FormData(form), request = new XMLHttpRequest();
    data.delete(input.name);
    data.append(input.name, it.file, it.file.name);
    data.set('form_id', it.id);
    it.state = 'sending';
    state(it.status, 'sending');
    it.li.querySelectorAll('button, .upload-why').forEach(function (old) { old.remove(); });
    request.upload.addEventListener('progress', function (e) { if (e.lengthComputable) it.bar.value = e.loaded / e.total; });
    request.addEventListener('loadend', function () {
      if (request.status >= 200 && request.status < 400) {
        it.state = 'done';
        it.bar.value = 1;
        waiting--;
        state(it.status, 'done');
      } else {
        it.state = 'failed';
        it.bar.value = 0;
        state(it.status, 'ready');
        var why = reason(request);
        if (why) it.li.append(el('p', 'upload-why', why));
        var b = el('button', 'act', 'Send again');
        b.type = 'button';
        b.addEventListener('click', function () { it.state = 'ready'; next(); });
        it.li.append(b);
      }
      next();
    });
    request.open('POST', form.action);
    request.send(data);
  }
}

addEventListener('beforeunload', function (event) { if (waiting > 0) event.preventDefault(); });

document.querySelectorAll('[data-entry]').forEach(entry);
document.querySelectorAll('form[data-upload]').forEach(uploads);
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
