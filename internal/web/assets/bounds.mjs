// Boundaries that the user brings: dropped as files, drawn on the map, or typed corner by corner. All go the same way:
// the program reads them and tells their faults in its own words.
import {post, tell} from './net.mjs';

const $ = id => document.getElementById(id);
const most = 64 * 2 ** 20;

export function boundaries(map, picked) {
  const corners = $('corners'), found = $('found'), draw = $('draw');
  const canScreen = $('bounds').dataset.screen === 'true';
  let handles = [];

  // ---- drawing
  const read = () => corners.value.split('\n').map(l => l.split(/[,;\s]+/).filter(Boolean).map(Number)).filter(p => p.length >= 2 && p.every(Number.isFinite)).map(p => [p[0], p[1]]);
  function write(points, redraw = true) {
    corners.value = points.map(p => `${p[0].toFixed(7)}, ${p[1].toFixed(7)}`).join('\n');
    if (map) map.show([points]);
    if (redraw) grips(points);
  }
  function grips(points) {
    for (const h of handles) h.remove();
    handles = map && points.length <= 200 ? points.map((p, i) => map.handle(p, at => { const now = read(); now[i] = at; write(now, false); }, `corner ${i + 1}`)) : [];
  }
  function stop() {
    if (map) { map.drawing = null; map.box.classList.remove('drawing'); map.box.querySelector('.cross')?.remove(); }
    draw.setAttribute('aria-pressed', 'false');
  }
  function add(p) { const now = read(); now.push(p); write(now); tell(`corner ${now.length} at ${p[0].toFixed(5)}, ${p[1].toFixed(5)}`); }

  if (!map) for (const id of ['draw', 'correct', 'corner', 'undo']) $(id).hidden = true;
  else {
    draw.setAttribute('aria-pressed', 'false');
    draw.addEventListener('click', () => {
      if (map.drawing) { stop(); return; }
      map.drawing = add;
      map.box.classList.add('drawing');
      map.box.append(Object.assign(document.createElement('div'), {className: 'cross'}));
      draw.setAttribute('aria-pressed', 'true');
      tell('Drawing: click the corners on the map, or move the map and add the corner in its middle.');
    });
    $('corner').addEventListener('click', () => add(map.centre()));
    $('undo').addEventListener('click', () => { const now = read(); now.pop(); write(now); });
    $('correct').addEventListener('click', () => {
      const i = map.fieldOf(picked());
      if (i < 0) { tell('The field of this zone has no outline.'); return; }
      const rings = map.shapes.fields.features[i].geometry.coordinates.map(p => p[0]).sort((a, b) => b.length - a.length);
      const name = document.querySelector('#zone-body [data-field-id]')?.dataset.fieldId;
      if (name) $('draw-id').value = name;
      write(rings[0].slice(0, -1));
      map.toField(i);
      $('bounds').scrollIntoView({block: 'start'});
      tell(`${rings[0].length - 1} corners to move or type over${rings.length > 1 ? '; the field has more parts, which this leaves out' : ''}.`);
    });
  }
  corners.addEventListener('input', () => { const now = read(); if (map) { map.show([now]); grips(now); } });

  $('check').addEventListener('click', () => {
    const now = read();
    if (now.length < 3) { say('A field needs three corners at least: longitude and latitude of each on a line of its own.'); return; }
    const id = $('draw-id').value.trim() || 'Drawn';
    const g = {type: 'FeatureCollection', features: [{type: 'Feature', id, properties: {field_id: id, name: id}, geometry: {type: 'Polygon', coordinates: [[...turned(now), turned(now)[0]]]}}]};
    stop();
    send([new File([JSON.stringify(g)], 'drawn.geojson', {type: 'application/geo+json'})]);
  });

  // turned runs the corners against the clock, as the standard wants outer rings.
  function turned(r) {
    const twice = r.reduce((a, p, i) => { const q = r[(i + 1) % r.length]; return a + p[0] * q[1] - q[0] * p[1]; }, 0);
    return twice < 0 ? [...r].reverse() : r;
  }

  // ---- files
  $('file').addEventListener('change', e => { if (e.target.files.length) send([...e.target.files]); });
  const drop = $('drop');
  for (const t of ['dragover', 'dragenter']) addEventListener(t, e => { if (e.dataTransfer?.types.includes('Files')) { e.preventDefault(); drop.classList.add('over'); } });
  addEventListener('dragleave', e => { if (!e.relatedTarget) drop.classList.remove('over'); });
  addEventListener('drop', e => {
    if (!e.dataTransfer?.files.length) return;
    e.preventDefault();
    drop.classList.remove('over');
    drop.scrollIntoView({block: 'center'});
    send([...e.dataTransfer.files]);
  });

  function say(what) { found.replaceChildren(Object.assign(document.createElement('p'), {className: 'wrong', textContent: what})); tell(what); }

  async function send(files) {
    const size = files.reduce((n, f) => n + f.size, 0);
    if (size > most) { say('That is more than 64 MB; a page takes no more, the command line does.'); return; }
    const form = new FormData();
    for (const f of files) form.append('file', f, f.name);
    found.replaceChildren(Object.assign(document.createElement('p'), {textContent: 'Reading…'}));
    try { show(await post('/read', form)); } catch (e) { say(e.message); }
  }

  function show(b) {
    const out = [];
    const add = (tag, textContent, more = {}) => { const e = Object.assign(document.createElement(tag), {textContent, ...more}); out.push(e); return e; };
    add('h3', b.name);
    if (b.error || b.lab?.error) add('p', b.error || b.lab.error, {className: 'wrong'});
    if (b.what) add('p', b.what + '.');
    const told = (items) => { const ul = add('ul', '', {className: 'told'}); ul.append(...items); };
    if (b.faults?.length) told(b.faults.map(f => { const li = document.createElement('li'); li.append(Object.assign(document.createElement('strong'), {textContent: f.Severity}), ' ' + f.Text); return li; }));
    if (b.lab?.columns?.length) told(b.lab.columns.map(c => Object.assign(document.createElement('li'), {textContent: c})));
    if (b.fields?.length) told(b.fields.slice(0, 30).map(f => Object.assign(document.createElement('li'), {textContent: `${f.name}${f.name === f.id ? '' : ` (${f.id})`}: ${f.trouble || f.acres}`})));
    if (b.fields?.length > 30) add('p', `and ${b.fields.length - 30} more`);
    found.replaceChildren(...out);
    tell(b.error || b.what || 'read');
    if (map && b.shapes) {
      map.show(b.shapes.map(r => r.slice(0, -1)));
      map.fit([[b.bound[0], b.bound[1]], [b.bound[2], b.bound[3]]], 16);
    }
    if (!b.upload || !b.bound || !canScreen) return;
    const go = document.createElement('p');
    const button = (label, run) => {
      const e = Object.assign(document.createElement('button'), {type: 'button', textContent: label});
      e.addEventListener('click', async () => {
        try { location.href = `/task/${(await post('/screen', {upload: b.upload, run})).task}#go`; } catch (err) { say(err.message); }
      });
      go.append(e, ' ');
    };
    button('Screen it alone', 0);
    button('Screen it with the fields of this run', Number(document.body.dataset.run));
    found.append(go);
  }
}
