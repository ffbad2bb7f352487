// Files that the user brings: boundaries, laboratory tests, or both at once. The program reads them, tells what it
// understood and what is wrong, and screens what can be screened.
import {post, tell} from './net.mjs';
import {limeForm} from './limeform.mjs';

const $ = id => document.getElementById(id);
const most = 64 * 2 ** 20;
const make = (tag, textContent, more = {}) => Object.assign(document.createElement(tag), {textContent, ...more});
const items = (list, className = 'told') => { const ul = make('ul', '', {className}); ul.append(...list.map(x => x instanceof Node ? x : make('li', x))); return ul; };

export function files(map) {
  const found = $('found'), drop = $('drop');
  const run = Number(document.body.dataset.run);
  let latest = 0; // number of the last reading

  $('file').addEventListener('change', e => { if (e.target.files.length) send([...e.target.files]); });
  // The whole window takes files: one that misses the frame would otherwise be opened by the browser in the place of the page.
  for (const t of ['dragover', 'dragenter']) addEventListener(t, e => { if (e.dataTransfer?.types.includes('Files')) { e.preventDefault(); drop.classList.add('over'); } });
  addEventListener('dragleave', e => { if (!e.relatedTarget) drop.classList.remove('over'); });
  addEventListener('drop', e => {
    if (!e.dataTransfer?.files.length) return;
    e.preventDefault();
    drop.classList.remove('over');
    drop.scrollIntoView({block: 'center'});
    send([...e.dataTransfer.files]);
  });

  function say(what) { found.replaceChildren(make('p', what, {className: 'wrong'})); tell(what); }

  // more is what is asked for besides: how the fields are named, or that they were drawn here.
  async function send(list, more = '') {
    // told before sending, not after so much has gone out for nothing
    const size = list.reduce((n, f) => n + f.size, 0);
    if (size > most) { say('That is more than 64 MB; a page takes no more, the command line does.'); return; }
    const turn = ++latest, form = new FormData();
    for (const f of list) form.append('file', f, f.name);
    found.replaceChildren(make('p', 'Reading…'));
    // A choice made while files are read again for the one before: only the answer to the last one is shown, whichever comes first.
    try { const b = await post(`/read?run=${run}${more}`, form); if (turn === latest) show(b, list); } catch (e) { if (turn === latest) say(e.message); }
  }

  // show tells what was understood, in the order in which one checks it: what it is, what is wrong, then the details.
  function show(b, list) {
    const out = [make('h3', b.name || 'What you brought')];
    if (b.error) out.push(make('p', b.error, {className: 'wrong'}));
    if (b.what) out.push(make('p', b.what + '.'));
    if (b.faults?.length) out.push(items(b.faults.map(f => { const li = make('li', ''); li.append(make('strong', f.Severity), ' ' + f.Text); return li; })));
    if (b.fields?.length) out.push(items(b.fields.slice(0, 30).map(f => `${f.name}${f.name === f.id ? '' : ` (${f.id})`}: ${f.trouble || f.acres}`)));
    if (b.fields?.length > 30) out.push(make('p', `and ${b.fields.length - 30} more`));
    if (b.naming?.properties.length) out.push(names(b.naming, list));
    for (const l of b.lab || []) out.push(...understood(l));
    if (b.lacks) out.push(make('h4', 'To use these tests'), make('p', b.lacks));
    if (b.again) {
      out.push(make('p', 'This command rates the fields again with them; write for each name where the file stands:'), make('pre', b.again, {className: 'command'}));
      out.push(make('p', 'Or start the page with the fields and the survey (rootworthy view FIELDS --survey PATH), and drop the file there.'));
    }
    found.replaceChildren(...out);
    tell(b.error || b.lab?.find(l => l.error)?.error || b.what || 'read');
    if (map && b.shapes) {
      map.show(b.shapes.map(p => p.map(r => r.slice(0, -1))));
      map.fit([[b.bound[0], b.bound[1]], [b.bound[2], b.bound[3]]], 16);
    }
    if (b.upload && b.screen) choices(b);
  }

  // names lets the user say which property holds the id, the owner and the farm; the files are read again by it, so that faults are those of the choice.
  function names(n, list) {
    const box = make('fieldset', '', {className: 'lime', id: 'naming'});
    box.append(make('legend', 'Which property is what'));
    const selects = [['id', 'Field id', 'as usual: the id of the feature, else field_id, id, field or name, else a number'], ['customer', 'Owner', 'none'], ['farm', 'Farm', 'none']].map(([name, label, usual]) => {
      const s = make('select', '', {id: 'naming-' + name, name});
      s.append(make('option', usual, {value: ''}));
      // What tells all fields apart comes first where an id is chosen.
      const id = name === 'id', order = id ? [...n.properties.filter(p => !p.note), ...n.properties.filter(p => p.note)] : n.properties;
      s.append(...order.map(p => make('option', p.label + (id && p.note ? ` (${p.note})` : ''), {value: p.name})));
      const chosen = n[name] && (n.properties.find(p => p.name === n[name]) || n.properties.find(p => p.name.toLowerCase() === n[name].toLowerCase()));
      if (n[name] && !chosen) s.append(make('option', `${n[name]} (no field has it)`, {value: n[name]}));
      s.value = chosen?.name ?? n[name];
      const knob = make('div', '', {className: 'knob'});
      knob.append(make('label', label, {htmlFor: s.id}), s);
      box.append(knob);
      return s;
    });
    for (const s of selects) s.addEventListener('change', async () => {
      await send(list, selects.map(x => `&${x.name}=${encodeURIComponent(x.value)}`).join(''));
      $(s.id)?.focus(); // the form was made anew; whoever chooses by keyboard goes on where they were
    });
    return box;
  }

  function understood(l) {
    const out = [make('h4', l.error ? l.name : l.what)];
    if (l.error) out.push(make('p', `${l.what} ${l.error}`, {className: 'wrong'}));
    for (const p of l.parts || []) {
      if (!p.Lines?.length) continue;
      if (p.Heading) out.push(make('h5', p.Heading));
      out.push(items(p.Lines, 'told columns'));
    }
    return out;
  }

  // choices are the buttons that screen.
  function choices(b) {
    const tests = Boolean(b.lime), bounds = Boolean(b.bound);
    if (!tests && !bounds) return;
    const form = tests ? limeForm(b.lime) : null;
    if (form) found.append(form.box);
    const along = tests ? null : testsOfRun(b.tests);
    const go = make('p', ''), wrong = make('p', '', {className: 'wrong'});
    wrong.setAttribute('role', 'alert');
    const button = (label, among) => {
      const e = make('button', label, {type: 'button'});
      e.addEventListener('click', async () => {
        wrong.textContent = '';
        e.disabled = true;
        try { location.href = `/task/${(await post('/screen', {upload: b.upload, run: among, with: run, leave: along ? !along.checked : Boolean(b.tests), ...(form ? form.values() : {})})).task}#go`; } catch (err) { wrong.textContent = form ? form.blame(err.message) : err.message; tell(err.message); }
        e.disabled = false;
      });
      go.append(e, ' ');
    };
    const also = tests ? ' and these tests' : '';
    if (bounds) button(tests ? 'Screen it alone with these tests' : 'Screen it alone', 0);
    button(bounds ? `Screen it with the fields of this run${also}` : 'Screen again with these tests', run);
    found.append(wrong, go);
  }

  // testsOfRun offers to take the laboratory tests of the run along with a boundary, or says why they cannot be; the box is
  // ticked, because ground that was tested once is not to fall back to what the survey guesses unnoticed.
  function testsOfRun(t) {
    if (!t) return null;
    if (!t.held) { found.append(make('p', t.say, {className: 'note'})); return null; }
    const box = Object.assign(document.createElement('input'), {type: 'checkbox', id: 'with-tests', checked: true});
    const label = make('label', '', {className: 'tick'});
    label.append(box, `Keep the laboratory tests of this run: ${t.names}`);
    found.append(label, make('p', `${t.say} Without them the ground is rated as when the page was started.`, {className: 'hint'}));
    return box;
  }
  return {send, say};
}
