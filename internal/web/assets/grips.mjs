// Corners on the map, to be taken hold of: by mouse and finger dragged, by keyboard moved, inserted and removed. Only
// those in sight are shown, and only as many as one can tell apart; the text beside holds them all.
import {list, middle, next, words} from './corners.mjs';

// Above so many in sight, marks of 24 px lie on each other and each new picture takes long; the current corner alone is shown then.
const most = 150;

export class Grips {
  constructor(map, edit) {
    this.map = map; this.edit = edit;
    this.marks = []; this.polygons = []; this.current = 0;
    map.map.on('moveend', () => this.draw());
  }

  show(polygons, current) {
    this.polygons = polygons;
    this.current = current;
    this.draw();
  }

  draw() {
    // marks are made anew, so the focus would be lost with the one that had it
    const held = document.activeElement?.classList.contains('corner-mark');
    for (const m of this.marks) m.remove();
    this.marks = [];
    const all = list(this.polygons), seen = this.map.map.getBounds();
    let near = all.map((c, n) => ({...c, n})).filter(c => seen.contains(c.at));
    if (near.length > most) { const one = near.find(c => c.n === this.current); near = one ? [one] : []; }
    if (near.length > 1) for (const c of near) this.between(c);
    for (const c of near) this.corner(c, held);
  }

  corner(c, held) {
    const el = Object.assign(document.createElement('button'), {type: 'button', className: 'corner-mark' + (c.n === this.current ? ' current' : ''), title: words(this.polygons, c)});
    const m = this.map.handle(c.at, el, {drag: at => this.edit.move(c.n, at, false), end: at => this.edit.move(c.n, at, true)});
    el.setAttribute('aria-label', `${words(this.polygons, c)}. Arrows move it, Page Down and Page Up go on, Insert adds one after it, Delete takes it away.`);
    // one stop for Tab among all corners; Page Down and Page Up go through them
    el.tabIndex = c.n === this.current ? 0 : -1;
    // the map library gives its markers a role of its own; this one is a button
    el.removeAttribute('role');
    el.addEventListener('focus', () => this.edit.choose(c.n));
    el.addEventListener('click', e => e.stopPropagation());
    el.addEventListener('contextmenu', e => { e.preventDefault(); this.edit.remove(c.n); });
    el.addEventListener('keydown', e => this.key(e, c));
    this.marks.push(m);
    if (held && c.n === this.current) el.focus({preventScroll: true});
  }

  // between is a place on an edge where a corner can be put in.
  between(c) {
    const el = Object.assign(document.createElement('div'), {className: 'edge-mark', title: 'put a corner in here'});
    const at = middle(c.at, next(this.polygons, c));
    let put = false;
    // the first pull puts the corner in, all further ones move it
    const put_in = (p, done) => { if (put) this.edit.move(c.n + 1, p, done); else { put = true; this.edit.insert(c.n, p, false); } };
    const m = this.map.handle(at, el, {drag: p => put_in(p, false), end: p => put_in(p, true)});
    el.setAttribute('aria-hidden', 'true'); // the corners themselves do the same by keyboard
    el.removeAttribute('tabindex');
    el.addEventListener('click', e => { e.stopPropagation(); if (!put) this.edit.insert(c.n, at, true); });
    this.marks.push(m);
  }

  key(e, c) {
    // in pixels of the screen, so that the same key moves less on ground seen from near; with Shift one pixel
    const step = e.shiftKey ? 1 : 5, by = {ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step]}[e.key];
    if (by) this.edit.move(c.n, this.map.shifted(c.at, by), true);
    else if (e.key === 'PageDown') this.edit.choose(c.n + 1, true);
    else if (e.key === 'PageUp') this.edit.choose(c.n - 1, true);
    else if (e.key === 'Insert' || e.key === '+') this.edit.insert(c.n, middle(c.at, next(this.polygons, c)), true);
    else if (e.key === 'Delete' || e.key === 'Backspace') this.edit.remove(c.n);
    else return;
    e.preventDefault();
    e.stopPropagation();
  }

  focus() { document.querySelector('.corner-mark.current')?.focus({preventScroll: true}); }
}
