// The clock of a slate: it goes on from the server's time, in the job's zone, so that a phone that is set wrong shows the right time.
'use strict';
(function () {

var when = document.querySelector('[data-slate]');
if (!when) return;
var zone = when.dataset.zone, made = Number(when.dataset.slate), began = Date.now();
var clock, day, offset;
try {
  clock = new Intl.DateTimeFormat('en-GB', { timeZone: zone, hour: '2-digit', minute: '2-digit', second: '2-digit', hourCycle: 'h23' });
  day = new Intl.DateTimeFormat('en-GB', { timeZone: zone, weekday: 'short', day: 'numeric', month: 'short', year: 'numeric' });
  offset = new Intl.DateTimeFormat('en-GB', { timeZone: zone, timeZoneName: 'longOffset' });
} catch (e) {
  return; // a browser that does not know the zone keeps the time that the page came with
}

function part(format, at, kind) {
  return format.formatToParts(at).filter(function (p) { return p.type === kind; }).map(function (p) { return p.value; })[0] || '';
}

function put(name, text) {
  var el = when.querySelector(name);
  if (el.textContent !== text) el.textContent = text;
}

function tick() {
  var at = new Date(made + Date.now() - began);
  put('[data-slate-time]', clock.format(at));
  put('[data-slate-day]', ['weekday', 'day', 'month', 'year'].map(function (k) { return part(day, at, k); }).join(' '));
  put('[data-slate-zone]', (part(offset, at, 'timeZoneName').slice(3) || '+00:00') + ' ' + zone);
  setTimeout(tick, 1000 - (made + Date.now() - began) % 1000);
}
when.querySelector('[data-slate-still]').remove();
tick();

// A phone's own clock goes into its photographs, so it is said where it is far off.
var apart = Math.round((began - made) / 60000), here = -new Date(began).getTimezoneOffset();
var there = part(offset, new Date(made), 'timeZoneName').slice(3).match(/^([+-])(\d+):(\d+)$/);
var site = there ? (there[1] === '-' ? -1 : 1) * (Number(there[2]) * 60 + Number(there[3])) : 0;
var off = [];
var much = Math.abs(apart) < 90 ? Math.abs(apart) + ' minutes ' : 'more than an hour ';
if (Math.abs(apart) >= 5) off.push('This phone’s clock is ' + much + (apart > 0 ? 'ahead.' : 'behind.'));
if (here !== site) off.push('This phone is set to another time zone than the site.');
put('[data-slate-off]', off.join(' '));

var fill = document.querySelector('[data-slate-fill]');
if (document.fullscreenEnabled) {
  fill.hidden = false;
  fill.addEventListener('click', function () {
    if (document.fullscreenElement) document.exitFullscreen();
    else document.documentElement.requestFullscreen().catch(function () { fill.hidden = true; });
  });
}
if (navigator.wakeLock) navigator.wakeLock.request('screen').catch(function () {}); // a browser may refuse; the slate stands all the same

})();
