/**
 * What runs in the slides: a classic script, as a page opened from a disk may not load another. Without it all slides
 * stand one below the other. The address ends in the number of the slide. A second window of the same file, whose
 * address ends in #speaker- and the number, shows notes, time and what comes next; the two tell each other by
 * messages, which also reach windows of files, and a message is no more than a number.
 */
export const slidesScript = `
(function () {
  'use strict';
  var root = document.documentElement;
  var slides = Array.prototype.slice.call(document.querySelectorAll('section.slide'));
  var place = document.querySelector('.bar output');
  var notes = document.querySelector('[data-does=notes]');
  var over = document.querySelector('[data-does=overview]');
  var speaker = /^#speaker-/.test(location.hash);
  var partner = speaker ? window.opener : null;
  var now = 0;
  function asked() {
    var number = /^#(?:speaker-)?([0-9]{1,4})$/.exec(location.hash);
    return number === null ? 0 : Math.min(Math.max(Number(number[1]) - 1, 0), slides.length - 1);
  }
  function address(index) { return (speaker ? '#speaker-' : '#') + (index + 1); }
  function titleOf(slide) { return slide.querySelector('h1, h2').textContent; }
  function show(index, focus) {
    slides[now].classList.remove('current');
    now = index;
    slides[now].classList.add('current');
    place.textContent = (now + 1) + ' / ' + slides.length;
    toggle('over', over, false);
    fit();
    desk();
    window.scrollTo(0, 0);
    if (focus) slides[now].querySelector('h1, h2').focus({ preventScroll: true });
  }
  function go(index) {
    var to = Math.min(Math.max(index, 0), slides.length - 1);
    turn(to);
    if (partner !== null && !partner.closed) partner.postMessage({ slide: to }, '*');
  }
  function turn(to) {
    show(to, true);
    location.hash = address(to);
  }
  // What is larger than the screen of a projector is drawn smaller, as long as it can be read; a phone scrolls.
  function fit() {
    var slide = slides[now];
    slide.style.removeProperty('--fit');
    if (speaker || window.innerWidth < 800 || root.classList.contains('speaking')) return;
    for (var part = 96; part >= 60 && root.scrollHeight > window.innerHeight; part -= 4) {
      slide.style.setProperty('--fit', String(part / 100));
    }
  }
  function toggle(name, button, on) {
    var set = root.classList.toggle(name, on);
    button.setAttribute('aria-pressed', String(set));
    return set;
  }
  function openSpeaker() {
    if (speaker) return;
    if (partner !== null && !partner.closed) { partner.focus(); return; }
    partner = window.open(location.href.replace(/#.*$/, '') + '#speaker-' + (now + 1), '_blank', 'popup,width=1100,height=700');
    // Where windows are forbidden, the notes are shown here.
    if (partner === null) toggle('speaking', notes, true);
  }
  var begun = Date.now();
  function desk() {
    if (!speaker) return;
    var room = document.querySelector('.desk-notes');
    room.textContent = 'Nothing is noted for this slide.';
    var said = slides[now].querySelectorAll('.notes p');
    if (said.length > 0) room.textContent = '';
    said.forEach(function (one) { room.appendChild(one.cloneNode(true)); });
    var next = slides[now + 1];
    document.querySelector('.desk-next').textContent = next === undefined ? 'the end' : titleOf(next);
  }
  function clock() {
    var seconds = Math.floor((Date.now() - begun) / 1000);
    var two = function (number) { return (number < 10 ? '0' : '') + number; };
    document.querySelector('.desk-time').textContent =
      Math.floor(seconds / 60) + ':' + two(seconds % 60);
    var day = new Date();
    document.querySelector('.desk-day').textContent = day.getHours() + ':' + two(day.getMinutes());
  }
  var does = {
    back: function () { go(now - 1); },
    on: function () { go(now + 1); },
    notes: function () { toggle('speaking', notes); },
    speaker: openSpeaker,
    again: function () { begun = Date.now(); clock(); },
    overview: function () {
      if (toggle('over', over)) document.querySelectorAll('.overview a')[now].focus();
    }
  };
  document.addEventListener('click', function (event) {
    var button = event.target instanceof Element ? event.target.closest('[data-does]') : null;
    if (button !== null) does[button.getAttribute('data-does')]();
  });
  document.querySelector('.overview').addEventListener('click', function (event) {
    var link = event.target.closest('a');
    if (link === null) return;
    event.preventDefault();
    go(Number(link.getAttribute('href').slice(1)) - 1);
  });
  document.addEventListener('keydown', function (event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    var on = event.target instanceof Element ? event.target : root;
    if (event.key === ' ' && on.closest('button, summary, a') !== null) return;
    var room = on.closest('.scroll');
    if (/^Arrow/.test(event.key) && room !== null && room.scrollWidth > room.clientWidth) return;
    var back = event.shiftKey && event.key === ' ';
    var acts = {
      ArrowRight: does.on, PageDown: does.on, ' ': back ? does.back : does.on,
      ArrowLeft: does.back, PageUp: does.back,
      Home: function () { go(0); }, End: function () { go(slides.length - 1); },
      n: does.notes, l: does.overview, d: does.speaker,
      Escape: function () { toggle('over', over, false); }
    };
    var act = Object.prototype.hasOwnProperty.call(acts, event.key) ? acts[event.key] : undefined;
    if (act === undefined) return;
    event.preventDefault();
    act();
  });
  window.addEventListener('message', function (event) {
    var from = event.source;
    // Only the other window of the two is listened to; after a reload it is known by who opened it.
    if (from === null || from === window) return;
    if (from !== partner && (speaker || from.opener !== window)) return;
    var to = event.data === null || typeof event.data !== 'object' ? undefined : event.data.slide;
    if (typeof to !== 'number' || slides[to] === undefined) return;
    partner = from;
    if (to !== now) turn(to);
  });
  window.addEventListener('hashchange', function () { if (asked() !== now) show(asked(), true); });
  window.addEventListener('resize', fit);
  root.classList.add('shown');
  if (speaker) {
    root.classList.add('speaker');
    document.title = 'For the speaker: ' + document.title;
    clock();
    setInterval(clock, 1000);
  }
  show(asked(), false);
  document.fonts.ready.then(fit);
})();
`;
