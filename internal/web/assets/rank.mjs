// The order of the fields changes while a weight is moved: a rough look at once, all draws when the hand rests. Both are
// worked out by the program.
import {get, tell} from './net.mjs';

const form = document.getElementById('weights'), fault = document.getElementById('weight-fault');
const fields = [...form.querySelectorAll('input[name]')];
let asking = null, timer = 0, rest = 0;

const query = () => new URLSearchParams(fields.map(f => [f.name, f.value]));

// ask brings the order for the weights as they stand; an answer that a newer question overtook is dropped.
async function ask(quick) {
  asking?.abort();
  asking = new AbortController();
  const q = query();
  try {
    const p = await get(`${location.pathname}?${q}&part=1${quick ? '&quick=1' : ''}`, asking.signal);
    document.getElementById('ranklist').innerHTML = p.list;
    document.getElementById('answer').replaceChildren(...p.answer.map(a => Object.assign(document.createElement('p'), {textContent: a})));
    document.querySelectorAll('.share').forEach((s, i) => { s.textContent = p.shares[i]; });
    document.querySelectorAll('[data-file]').forEach(a => { a.href = a.pathname + p.query; });
    history.replaceState(null, '', p.query || location.pathname);
    fault.textContent = '';
    document.body.dataset[quick ? 'quickms' : 'ms'] = p.ms;
    if (!quick) tell(`${p.status}. ${p.answer[0]}`);
  } catch (e) {
    if (e.name === 'AbortError') return;
    fault.textContent = e.message;
  }
}

// moved asks for a rough order at once and for all draws half a second after the last move.
function moved(field) {
  const wrong = !(field.valueAsNumber >= Number(field.min) && (field.max === '' || field.valueAsNumber <= Number(field.max)));
  field.setAttribute('aria-invalid', wrong);
  if (wrong) { fault.textContent = `${field.labels[0].textContent}: give a number from ${field.min}${field.max ? ' to ' + field.max : ''}.`; return; }
  clearTimeout(timer);
  clearTimeout(rest);
  document.body.dataset.ms = ''; // until all draws are shown
  timer = setTimeout(() => ask(true), 30);
  rest = setTimeout(() => ask(false), 500);
}

for (const f of fields) f.addEventListener('input', () => {
  const slide = form.querySelector(`[data-for="${f.id}"]`);
  if (slide) slide.value = f.value;
  moved(f);
});
for (const s of form.querySelectorAll('input[type=range]')) {
  // the page has the sliders hidden: without this script they would move nothing
  s.hidden = false;
  const f = document.getElementById(s.dataset.for);
  s.addEventListener('input', () => { f.value = s.value; moved(f); });
}
form.addEventListener('submit', e => { e.preventDefault(); ask(false); });
