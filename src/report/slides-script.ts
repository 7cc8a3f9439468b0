/**
 * What runs in the slides: a classic script, as a page opened from a disk may not load another. Without it all slides
 * stand one below the other. The address ends in the number of the slide.
 */
export const slidesScript = `
(function () {
  'use strict';
  var root = document.documentElement;
  var slides = Array.prototype.slice.call(document.querySelectorAll('section.slide'));
  var place = document.querySelector('.bar output');
  var notes = document.querySelector('[data-does=notes]');
  var over = document.querySelector('[data-does=overview]');
  var now = 0;
  function asked() {
    var number = /^#([0-9]{1,4})$/.exec(location.hash);
    return number === null ? 0 : Math.min(Math.max(Number(number[1]) - 1, 0), slides.length - 1);
  }
  function show(index, focus) {
    slides[now].classList.remove('current');
    now = index;
    slides[now].classList.add('current');
    place.textContent = (now + 1) + ' / ' + slides.length;
    toggle('over', over, false);
    window.scrollTo(0, 0);
    if (focus) slides[now].querySelector('h1, h2').focus({ preventScroll: true });
  }
  function go(index) {
    var to = Math.min(Math.max(index, 0), slides.length - 1);
    show(to, true);
    location.hash = '#' + (to + 1);
  }
  function toggle(name, button, on) {
    var set = root.classList.toggle(name, on);
    button.setAttribute('aria-pressed', String(set));
    return set;
  }
  var does = {
    back: function () { go(now - 1); },
    on: function () { go(now + 1); },
    notes: function () { toggle('speaking', notes); },
    overview: function () {
      if (toggle('over', over)) document.querySelectorAll('.overview a')[now].focus();
    }
  };
  document.querySelector('.bar').addEventListener('click', function (event) {
    var button = event.target.closest('button');
    if (button !== null) does[button.getAttribute('data-does')]();
  });
  document.querySelector('.overview').addEventListener('click', function (event) {
    if (event.target.closest('a') !== null) toggle('over', over, false);
  });
  document.addEventListener('keydown', function (event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    var on = event.target instanceof Element ? event.target : root;
    if (event.key === ' ' && on.closest('button, summary, a') !== null) return;
    if (/^Arrow/.test(event.key) && on.closest('.scroll') !== null) return;
    var back = event.shiftKey && event.key === ' ';
    var acts = {
      ArrowRight: does.on, PageDown: does.on, ' ': back ? does.back : does.on,
      ArrowLeft: does.back, PageUp: does.back,
      Home: function () { go(0); }, End: function () { go(slides.length - 1); },
      n: does.notes, o: does.overview,
      Escape: function () { toggle('over', over, false); }
    };
    var act = Object.prototype.hasOwnProperty.call(acts, event.key) ? acts[event.key] : undefined;
    if (act === undefined) return;
    event.preventDefault();
    act();
  });
  window.addEventListener('hashchange', function () { if (asked() !== now) show(asked(), true); });
  root.classList.add('shown');
  show(asked(), false);
})();
`;
