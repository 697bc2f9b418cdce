// Sending photographs: one post each, so that a lost signal loses one and not all. Without script the form sends them together.
'use strict';
(function () {

var waiting = 0; // photographs that are on this phone alone and are still to be sent

// How often a photograph is sent again by itself when no answer comes, and after how many seconds; any more is up to the person.
var PAUSES = [2, 4, 8, 15, 30, 30, 30, 30];
var SILENCE = 60000; // without any progress for so many milliseconds a connection counts as lost

var STATES = {
  ready: ['still on this phone', 'is-ask', 'M4.6 1.6h6.8v12.8H4.6zM7 12h2'],
  sending: ['sending', 'is-quiet', 'M2.6 8h1.6M7.2 8h1.6M11.8 8h1.6'],
  done: ['on the server', 'is-good', 'M2 13.6h12M8 11V2.4M4.8 5.4 8 2.2l3.2 3.2'],
  refused: ['not taken in', 'is-fails', 'M3 3l10 10M13 3 3 13'],
};

function el(tag, className, text) {
  var e = document.createElement(tag);
  if (className) e.className = className;
  if (text) e.textContent = text;
  return e;
}

// freshID works over plain HTTP in a house network too, where crypto.randomUUID is not to be had.
function freshID() {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), function (b) { return b.toString(16).padStart(2, '0'); }).join('');
}

function show(span, name) {
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

// small draws a picture into a canvas, since the page's policy allows no picture that is not from the server. A browser that can't
// open it shows none. One at a time: a hundred at once would fill a phone.
var drawn = Promise.resolve();
function small(file, canvas) {
  canvas.width = 144;
  canvas.height = 108;
  canvas.setAttribute('aria-hidden', 'true');
  drawn = drawn.then(function () { return createImageBitmap(file, { resizeWidth: 216, resizeQuality: 'low' }); }).then(function (bitmap) {
    var scale = Math.max(canvas.width / bitmap.width, canvas.height / bitmap.height), w = bitmap.width * scale, h = bitmap.height * scale;
    canvas.getContext('2d').drawImage(bitmap, (canvas.width - w) / 2, (canvas.height - h) / 2, w, h);
    bitmap.close();
  }).catch(function () { canvas.classList.add('is-empty'); });
}

// supplied is a JPEG of a HEIC photograph, which the server keeps and can't open; null for other files, or where this browser can't open
// it either.
function supplied(file) {
  return file.slice(0, 32).arrayBuffer().then(function (head) {
    var text = String.fromCharCode.apply(null, new Uint8Array(head));
    if (!/^[\s\S]{4}ftyp(hei[cxms]|mif1)/.test(text)) return null;
    return createImageBitmap(file).then(function (bitmap) {
      var scale = Math.min(1, 2000 / Math.max(bitmap.width, bitmap.height)), canvas = el('canvas');
      canvas.width = Math.round(bitmap.width * scale);
      canvas.height = Math.round(bitmap.height * scale);
      canvas.getContext('2d').drawImage(bitmap, 0, 0, canvas.width, canvas.height);
      bitmap.close();
      return new Promise(function (resolve) { canvas.toBlob(resolve, 'image/jpeg', 0.85); });
    });
  }).catch(function () { return null; });
}

function uploads(form) {
  var input = form.querySelector('input[type=file]'), list = form.querySelector('[data-uploads]');
  if (!input || !list) return;
  var items = [], begun = false, pause = null, away = false;
  var sum = el('p', 'uploads-sum'), whole = el('progress', 'uploads-whole');
  sum.setAttribute('role', 'status');
  whole.setAttribute('aria-label', 'of all photographs, sent');
  list.before(sum, whole);
  sum.hidden = whole.hidden = true;

  input.addEventListener('change', function () {
    choose(Array.from(input.files));
    input.value = '';
  });

  // Photographs may be dropped anywhere on the page: beside the box a browser would leave the page for the picture.
  var box = form.querySelector('.box-file'), folder = el('p', 'upload-why', 'A folder was dropped and is left out: open it and drop the photographs that are in it.');
  if (matchMedia('(pointer: fine)').matches) box.after(el('p', 'hint', 'Or drop them anywhere on this page.'));
  folder.hidden = true;
  folder.setAttribute('role', 'status');
  list.before(folder);
  ['dragenter', 'dragover', 'dragleave', 'drop'].forEach(function (kind) {
    addEventListener(kind, function (event) {
      if (!event.dataTransfer || !Array.from(event.dataTransfer.types).includes('Files')) return;
      event.preventDefault();
      box.classList.toggle('is-over', kind === 'dragenter' || kind === 'dragover');
      if (kind !== 'drop') return;
      var parts = Array.from(event.dataTransfer.items).filter(function (part) { return part.kind === 'file'; });
      var files = parts.filter(function (part) { var entry = part.webkitGetAsEntry && part.webkitGetAsEntry(); return !entry || !entry.isDirectory; });
      folder.hidden = files.length === parts.length;
      choose(files.map(function (part) { return part.getAsFile(); }));
    });
  });

  function choose(files) {
    files.forEach(function (file) {
      var twice = items.some(function (i) { return i.file.name === file.name && i.file.size === file.size && i.file.lastModified === file.lastModified; });
      if (!twice) items.push(item(file));
    });
    list.hidden = sum.hidden = items.length === 0;
    count();
    if (begun) next();
  }

  form.addEventListener('submit', function (event) {
    if (!items.length) return;
    event.preventDefault();
    begun = true;
    again();
  });
  addEventListener('online', function () { if (pause) again(); });

  function item(file) {
    var li = el('li'), picture = el('canvas'), status = el('span'), bar = el('progress');
    small(file, picture);
    bar.max = 1;
    bar.value = 0;
    bar.setAttribute('aria-label', 'sent of ' + file.name);
    show(status, 'ready');
    waiting++;
    li.append(picture, el('span', 'upload-name', file.name), status, bar);
    list.append(li);
    return { file: file, li: li, status: status, bar: bar, state: 'ready', id: freshID(), tries: 0, looking: false };
  }

  function of(state) { return items.filter(function (i) { return i.state === state; }); }

  // count says how far all of them are.
  function count() {
    var done = of('done').length, refused = of('refused').length, here = items.length - done - refused;
    var parts = [done + ' of ' + items.length + ' on the server'];
    if (here) parts.push(here + ' still on this phone');
    if (refused) parts.push(refused + ' not taken in');
    sum.textContent = parts.join(', ') + '.';
    whole.hidden = !begun;
    whole.max = Math.max(1, items.reduce(function (n, i) { return n + i.file.size; }, 0));
    whole.value = items.reduce(function (n, i) { return n + (i.state === 'ready' ? 0 : i.state === 'sending' ? i.bar.value * i.file.size : i.file.size); }, 0);
  }

  function clear(it) { it.li.querySelectorAll('button, .upload-why').forEach(function (old) { old.remove(); }); }

  // say puts words under a photograph, and a button where it is up to the person to go on.
  function say(it, text, button) {
    clear(it);
    if (text) it.li.append(el('p', 'upload-why', text));
    if (!button) return;
    var b = el('button', 'act', 'Send again');
    b.type = 'button';
    b.addEventListener('click', function () {
      if (it.state === 'refused') waiting++;
      it.state = 'ready';
      it.tries = 0;
      show(it.status, 'ready');
      again();
    });
    it.li.append(b);
  }

  function again() {
    if (pause) clearTimeout(pause);
    pause = null;
    items.forEach(function (i) { if (i.state === 'ready') i.held = false; });
    next();
  }

  function next() {
    count();
    if (pause || away || of('sending').length) return;
    var it = items.find(function (i) { return i.state === 'ready' && !i.held; });
    if (it) { send(it); return; }
    if (of('ready').length || items.some(function (i) { return i.looking; })) return;
    var odd = items.filter(function (i) { return i.state !== 'done' || i.odd; });
    if (!odd.length) {
      away = true;
      location.assign(form.dataset.upload || location.href);
      return;
    }
    // What is left to read comes first.
    odd.reverse().forEach(function (i) { list.prepend(i.li); });
    if (!form.querySelector('.uploads-on')) {
      var on = el('a', 'act uploads-on', 'Go on without them');
      on.href = form.dataset.upload || location.href;
      list.after(on);
    }
  }

  function send(it) {
    it.state = 'sending';
    it.tries++;
    show(it.status, 'sending');
    clear(it);
    count();
    supplied(it.file).then(function (view) { post(it, view); });
  }

  function post(it, view) {
    var data = new FormData(form), request = new XMLHttpRequest(), quiet = null;
    data.delete(input.name);
    data.set('form_id', it.id); // the same id each time: what arrived, with the answer lost, is not filed twice
    if (view) data.append('view', view, 'view.jpg');
    data.append(input.name, it.file, it.file.name);
    function alive() {
      clearTimeout(quiet);
      quiet = setTimeout(function () { request.abort(); }, SILENCE);
    }
    request.upload.addEventListener('progress', function (e) {
      alive();
      if (e.lengthComputable) it.bar.value = e.loaded / e.total;
      count();
    });
    request.addEventListener('loadend', function () {
      clearTimeout(quiet);
      answered(it, request);
      next();
    });
    alive();
    request.open('POST', form.action);
    request.setRequestHeader('Accept', 'application/json');
    request.send(data);
  }

  function answered(it, request) {
    var photos = null, kind = request.getResponseHeader('Content-Type') || '';
    if (request.status === 200 && kind.indexOf('application/json') === 0) photos = JSON.parse(request.responseText);
    if (photos) {
      it.state = 'done';
      it.bar.value = 1;
      waiting--;
      show(it.status, 'done');
      look(it, photos[0]);
      return;
    }
    it.bar.value = 0;
    if (request.status >= 400 && request.status < 500 && request.status !== 408 && request.status !== 429) {
      it.state = 'refused';
      waiting--;
      show(it.status, 'refused');
      say(it, reason(request) || 'The server did not take it.', true);
      return;
    }
    it.state = 'ready';
    it.held = true;
    show(it.status, 'ready');
    if (request.status === 200) { // some other page came: the way to sign in
      say(it, 'You are no longer signed in. Sign in on another page of this browser, then send it again from here. The photograph is safe on this phone.', true);
      return;
    }
    if (request.status === 507) {
      say(it, reason(request), true);
      return;
    }
    var seconds = PAUSES[it.tries - 1];
    if (seconds === undefined) {
      say(it, 'No answer from the server. The photograph is safe on this phone.', true);
      return;
    }
    say(it, 'No answer from the server. The photograph is safe on this phone and is sent again in ' + seconds + ' seconds.', true);
    it.held = false;
    pause = setTimeout(again, seconds * 1000);
  }

  // reason is the first line of the error summary of the page that came back.
  function reason(request) {
    var line = new DOMParser().parseFromString(request.responseText, 'text/html').querySelector('.error-summary li');
    return line ? line.textContent.trim() : '';
  }

  // look asks whether the server can show what it holds: a file may be damaged within.
  function look(it, photo) {
    if (!photo) return;
    it.looking = true;
    fetch(photo.url + '/view', { method: 'HEAD' }).then(function (answer) {
      it.odd = (answer.headers.get('Content-Type') || '').indexOf('image/svg') === 0;
      if (it.odd) say(it, 'It is on the server as photo ' + photo.number + ' and can’t be shown there. If you can, take or send it as JPEG as well.', false);
    }).catch(function () {}).then(function () {
      it.looking = false;
      next();
    });
  }
}

addEventListener('beforeunload', function (event) { if (waiting > 0) event.preventDefault(); });

document.querySelectorAll('form[data-upload]').forEach(uploads);

})();
