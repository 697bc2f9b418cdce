// A page that shows how far something is looks again by itself: every second its part is fetched anew and put in the place of the one that
// stands there. Where the address leads elsewhere by then, it is over, and the browser goes there. Without this script, Look again does it.
(function () {
  'use strict';
  var part = document.querySelector('[data-live]');
  if (!part || !window.fetch) { return; }
  var pause = 1000, failed = 0;
  function again() {
    fetch(part.dataset.live, { redirect: 'manual', credentials: 'same-origin' }).then(function (answer) {
      if (answer.type === 'opaqueredirect') { location.replace(part.dataset.live); return null; }
      if (!answer.ok) { throw new Error('answer ' + answer.status); }
      return answer.text();
    }).then(function (text) {
      if (text === null) { return; }
      failed = 0;
      var fresh = new DOMParser().parseFromString(text, 'text/html').querySelector('[data-live]');
      if (!fresh) { location.replace(part.dataset.live); return; }
      if (fresh.innerHTML !== part.innerHTML) { part.innerHTML = fresh.innerHTML; quiet(); }
      setTimeout(again, pause);
    }).catch(function () { // out of reach for a while: the page stays as it is
      failed += 1;
      setTimeout(again, Math.min(pause * Math.pow(2, failed), 15000));
    });
  }
  function quiet() { part.querySelectorAll('.look').forEach(function (p) { p.hidden = true; }); }
  quiet();
  setTimeout(again, pause);
})();
