// A signature drawn with a finger or a mouse. The typed name serves as well: this only adds the strokes to the form.
'use strict';
document.querySelectorAll('[data-sign]').forEach(function (box) {
  var kept = box.querySelector('input'), field = box.querySelector('svg'), strokes = [], now = null, most = 4000, points = 0;
  var SVG = 'http://www.w3.org/2000/svg';

  function at(e) {
    var r = field.getBoundingClientRect();
    var x = Math.round((e.clientX - r.left) / r.width * 1000), y = Math.round((e.clientY - r.top) / r.height * 300);
    return [Math.min(Math.max(x, 0), 1000), Math.min(Math.max(y, 0), 300)];
  }
  function path(stroke) {
    var p = document.createElementNS(SVG, 'polyline');
    p.setAttribute('points', stroke.map(String).join(' '));
    field.append(p);
    return p;
  }
  function keep() { kept.value = strokes.map(function (s) { return s.map(String).join(' '); }).join(';'); }
  function wipe() { strokes = []; points = 0; field.querySelectorAll('polyline').forEach(function (p) { p.remove(); }); keep(); }

  field.addEventListener('pointerdown', function (e) {
    field.setPointerCapture(e.pointerId);
    now = { points: [at(e)] };
    points++;
    strokes.push(now.points);
    now.line = path(now.points);
    keep();
  });
  field.addEventListener('pointermove', function (e) {
    if (!now || points >= most) return;
    var p = at(e), last = now.points[now.points.length - 1];
    if (Math.abs(p[0] - last[0]) + Math.abs(p[1] - last[1]) < 3) return;
    now.points.push(p);
    points++;
    now.line.setAttribute('points', now.points.map(String).join(' '));
    keep();
  });
  ['pointerup', 'pointercancel'].forEach(function (kind) { field.addEventListener(kind, function () { now = null; }); });
  box.querySelector('[data-wipe]').addEventListener('click', wipe);
  kept.value.split(';').filter(Boolean).forEach(function (text) {
    var stroke = text.split(' ').map(function (p) { return p.split(',').map(Number); });
    strokes.push(stroke);
    points += stroke.length;
    path(stroke);
  });
  box.hidden = false;
});
