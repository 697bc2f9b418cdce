// One photograph after another: the left and right keys, and a finger drawn over the picture, follow the links before and after.
'use strict';
(function () {

var FAR = 60; // CSS pixels that a finger travels sideways before it counts

function turn(rel) {
  var a = document.querySelector('.turns a[rel="' + rel + '"]');
  if (a) location.assign(a.href);
}

document.addEventListener('keydown', function (e) {
  if (e.defaultPrevented || e.altKey || e.ctrlKey || e.metaKey || e.shiftKey) return;
  if (e.target.closest && e.target.closest('input, select, textarea, [contenteditable]')) return;
  if (e.key === 'ArrowLeft') turn('prev');
  if (e.key === 'ArrowRight') turn('next');
});

var picture = document.querySelector('[data-turns]'), from = null;
if (!picture) return;
picture.addEventListener('touchstart', function (e) {
  var zoomed = window.visualViewport && window.visualViewport.scale > 1.05; // then a finger moves the picture
  from = e.touches.length === 1 && !zoomed ? { x: e.touches[0].clientX, y: e.touches[0].clientY } : null;
}, { passive: true });
picture.addEventListener('touchend', function (e) {
  if (!from || e.touches.length) return;
  var dx = e.changedTouches[0].clientX - from.x, dy = e.changedTouches[0].clientY - from.y;
  from = null;
  if (Math.abs(dx) < FAR || Math.abs(dx) < 2 * Math.abs(dy)) return;
  turn(dx > 0 ? 'prev' : 'next');
}, { passive: true });

})();
