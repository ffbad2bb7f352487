// How far a screening has come; it ends at the run that was made.
import {get, post} from './net.mjs';

const $ = id => document.getElementById(id);
const number = document.body.dataset.task;
const stage = $('stage'), bar = $('bar'), cancel = $('cancel'), result = $('result');
let said = '';

// say changes the text only when it says something new, so that a screen reader is not talked to death.
function say(what) { if (what !== said) stage.textContent = said = what; }

// show puts the state on the page and says whether the work goes on.
function show(p) {
  if (p.total > 0) { bar.max = p.total; bar.value = p.done; } else if (p.state === 'working') bar.removeAttribute('value');
  // in tens of percent only: each new text is read aloud
  const tenth = p.total > 0 ? `, ${Math.floor(10 * p.done / p.total) * 10} percent` : '';
  if (p.state === 'working') { say(cancel.disabled ? 'Cancelling' : `At work: ${p.stage}${tenth}`); return true; }
  cancel.hidden = true;
  bar.hidden = true;
  say(p.state === 'done' ? 'Done.' : `${p.state}: ${p.error}`);
  $('faults').replaceChildren(...(p.faults || []).map(f => {
    const li = document.createElement('li');
    li.append(Object.assign(document.createElement('strong'), {textContent: f.Severity}), ' ' + f.Text);
    return li;
  }));
  if (p.state === 'done') {
    result.href = `/run/${p.run}/`;
    result.hidden = false;
    // Who has waited here, or was sent here by a button, is taken on; who opens the page of a screening that was long done stays.
    if (document.body.dataset.seen === 'working' || location.hash === '#go') location.replace(result.href);
  }
  return false;
}

async function follow() {
  for (;;) {
    try {
      if (!show(await get(`/task/${number}`))) return;
      document.body.dataset.seen = 'working';
    } catch (e) { say(e.message); return; }
    await new Promise(r => setTimeout(r, 300));
  }
}
// What the button says is said before the program answers: the end may be told on the page by then, and has the last word.
cancel.addEventListener('click', async () => {
  cancel.disabled = true;
  say('Cancelling');
  try { await post(`/task/${number}/cancel`); } catch (e) { cancel.disabled = false; say(e.message); }
});
follow();
