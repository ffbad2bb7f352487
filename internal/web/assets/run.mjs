// The page of a run: what is sifted, sorted and moved stands in the address; the program answers with the list, the sums
// and a digit a zone for the map.
import {get, text, tell} from './net.mjs';
import {GroundMap} from './map.mjs';
import {whatIf} from './whatif.mjs';
import {boundaries} from './bounds.mjs';

const $ = id => document.getElementById(id);
const base = document.body.dataset.base;
const query = new URLSearchParams(location.search);
let map = null, asking = null, picked = -1, timer = 0, later = null; // later: what waits for the next answer

// change sets parameters, drops empty ones and asks again.
function change(values, wait = 0) {
  for (const [k, v] of Object.entries(values)) v === '' || v === null ? query.delete(k) : query.set(k, v);
  // another list begins at its first row again
  if (!('from' in values)) query.delete('from');
  clearTimeout(timer);
  document.body.dataset.ms = ''; // until the answer is shown
  timer = setTimeout(refresh, wait);
}

async function refresh() {
  asking?.abort();
  asking = new AbortController();
  const q = query.toString();
  history.replaceState(null, '', q ? '?' + q : location.pathname);
  try {
    const p = await get(`${base}part?${q}&part=1${draws() ? '&draw=1' : ''}`, asking.signal);
    $('rows').innerHTML = p.list;
    $('strip').innerHTML = p.strip;
    $('answer').replaceChildren(...p.answer.map(a => Object.assign(document.createElement('p'), {textContent: a})));
    if (p.map) {
      drawnFor = drawing();
      $('drawn').innerHTML = p.map;
    }
    map?.paint(p);
    mark(picked);
    $('knob-fault').textContent = '';
    document.body.dataset.ms = p.ms;
    tell(p.status);
    later?.();
    later = null;
    // a what-if changes the zone that stands open too
    if (picked >= 0) await show(picked, false);
  } catch (e) {
    if (e.name === 'AbortError') return;
    $('knob-fault').textContent = e.message;
    tell(e.message);
  }
}

// draws says whether the drawn map must be asked for: only without WebGL, and only when it would be another.
const drawing = () => query.get('show') + ' ' + query.get('field') + ' ' + asks();
let drawnFor = drawing();
const draws = () => !map && drawing() !== drawnFor;

// asks returns the parameters of the what-if alone.
function asks() {
  const out = new URLSearchParams();
  for (const [k, v] of query) if (k.includes('.') || k === 'target' || k === 'works') out.set(k, v);
  return out;
}

// show puts the details of a zone in the place of the list.
async function show(place, go = true) {
  picked = place;
  try {
    const q = asks();
    q.set('part', '1');
    $('zone-body').innerHTML = await text(`${base}zone/${place}?${q}`);
  } catch (e) { tell(e.message); return; }
  $('list').hidden = true;
  $('zone').hidden = false;
  $('correct').disabled = false;
  mark(place);
  map?.pick(place);
  if (go) {
    $('zone-h').focus({preventScroll: true});
    $('zone').scrollIntoView({block: 'nearest'});
    tell($('zone-h').textContent.replace(/\s+/g, ' '));
  }
}

// back puts the list in the place of a zone again, with the focus on the row that one came from.
function back() {
  const was = picked;
  picked = -1;
  $('zone').hidden = true;
  $('list').hidden = false;
  $('correct').disabled = true;
  map?.pick(-1);
  mark(-1);
  (document.querySelector(`tr[data-zone="${was}"] a.zone`) || $('list-h')).focus();
}

// mark shows in the list which zone stands open.
function mark(place) {
  for (const r of document.querySelectorAll('tr.picked')) r.classList.remove('picked');
  document.querySelector(`tr[data-zone="${place}"]`)?.classList.add('picked');
}

// hot lights up a zone in the list and on the map together.
function hot(place) {
  for (const r of document.querySelectorAll('tr.hot')) r.classList.remove('hot');
  if (place >= 0) document.querySelector(`tr[data-zone="${place}"]`)?.classList.add('hot');
  map?.hot(place);
}

const rowOf = e => e.target.closest?.('tr[data-zone]');
// a click with a key held is meant for the browser: another tab, another window
const plain = e => e.button === 0 && !e.ctrlKey && !e.metaKey && !e.shiftKey && !e.altKey;

$('list').addEventListener('click', e => {
  if (!plain(e)) return;
  const link = e.target.closest('a');
  if (link?.classList.contains('zone')) { e.preventDefault(); show(Number(rowOf(e).dataset.zone)); return; }
  // These links work without a script; with one the list alone is exchanged, and the focus goes to what takes the link's place.
  if (link && (link.classList.contains('sort') || link.classList.contains('step'))) {
    e.preventDefault();
    const q = new URLSearchParams(link.search);
    const key = link.classList.contains('sort') ? link.textContent.trim() : null;
    change({sort: q.get('sort') || '', from: q.get('from') || ''});
    $('f-sort').value = query.get('sort') || '';
    if (key) later = () => [...document.querySelectorAll('#zones a.sort')].find(a => a.textContent.replace(/[▲▼\s]+$/, '').trim() === key.replace(/[▲▼\s]+$/, ''))?.focus();
    else later = () => document.querySelector('#rows .scroll')?.focus();
  }
});
$('list').addEventListener('mouseover', e => { const r = rowOf(e); hot(r ? Number(r.dataset.zone) : -1); });
$('list').addEventListener('mouseleave', () => hot(-1));
$('list').addEventListener('focusin', e => { const r = rowOf(e); hot(r ? Number(r.dataset.zone) : -1); });
$('back').addEventListener('click', back);
$('zone').addEventListener('keydown', e => { if (e.key === 'Escape') back(); });

for (const s of $('sift').querySelectorAll('select')) s.addEventListener('change', () => change({[s.name]: s.value}));
$('f-find').addEventListener('input', e => change({find: e.target.value.trim()}, 150));
$('sift').addEventListener('submit', e => e.preventDefault());
$('all').addEventListener('click', () => {
  for (const s of $('sift').querySelectorAll('select')) if (s.name !== 'sort') s.value = '';
  $('f-find').value = $('f-field').value = '';
  change({class: '', factor: '', lime: '', sure: '', find: '', field: ''});
  map?.whole();
});
$('fields').addEventListener('click', e => {
  const link = e.target.closest('a.field');
  if (!link || !plain(e)) return;
  e.preventDefault();
  if (picked >= 0) back();
  change({field: new URLSearchParams(link.search).get('field')});
  map?.toField(Number(link.dataset.field));
  $('list').scrollIntoView({block: 'start'});
});
$('f-show').addEventListener('change', e => change({show: e.target.value}));

const knobs = whatIf(change);
// These are hidden in the page: without a script they would do nothing.
$('sift').hidden = $('whatif').hidden = $('bounds').hidden = $('tools').hidden = false;

GroundMap.open($('map'), base, {pick: show, hot, leave: () => document.querySelector('#zones a')?.focus()}).then(m => {
  map = m;
  document.body.classList.add('has-map');
  $('map-hint').hidden = false;
  for (const b of document.querySelectorAll('[data-move]')) b.addEventListener('click', () => map.move(b.dataset.move));
  boundaries(map, () => picked);
  $('f-relief')?.addEventListener('change', e => map.seeRelief(e.target.checked));
  return refresh();
}).catch(e => {
  // no WebGL, or no script worker: the drawn map and the list hold all the facts
  $('map').hidden = true;
  document.querySelector('.pad').hidden = true;
  document.querySelector('.tick')?.remove(); // the drawn map has the relief as strokes
  document.body.dataset.map = 'drawn';
  console.info('the map is drawn without WebGL:', e.message);
  boundaries(null, () => picked);
  if ([...query].length) refresh();
});
export {knobs};
