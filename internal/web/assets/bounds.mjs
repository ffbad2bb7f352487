// Boundaries that the user draws on the map, types corner by corner, or corrects. All go the same way as files: the
// program reads them and tells their faults in its own words.
import {get, tell} from './net.mjs';
import {geometry, lacking, list, middle, next, parse, print, words} from './corners.mjs';
import {Grips} from './grips.mjs';
import {files} from './files.mjs';

const $ = id => document.getElementById(id);

export function boundaries(map, picked) {
  const text = $('corners'), draw = $('draw'), number = $('corner-number');
  // earlier texts, for taking back; the text is the one state that everything else is drawn from
  const past = [];
  let current = 0;
  const {send, say} = files(map);

  const edit = {
    // move puts a corner elsewhere; while it is dragged nothing but the outline follows.
    move(n, at, done) {
      const {polygons, c} = take(n);
      if (!c) return;
      if (done && !edit.dragged) keep();
      if (!done && !edit.dragged) { keep(); edit.dragged = true; }
      polygons[c.i][c.j][c.k] = at;
      current = n;
      write(polygons, done);
      if (done) { edit.dragged = false; tell(`${words(polygons, c)} at ${at[0].toFixed(5)}, ${at[1].toFixed(5)}`); }
    },
    // insert puts a corner in behind another one.
    insert(n, at, done) {
      const {polygons, c} = take(n);
      if (!c) return;
      keep();
      edit.dragged = !done;
      polygons[c.i][c.j].splice(c.k + 1, 0, at);
      current = n + 1;
      write(polygons, done);
      if (done) tell(`a corner put in: ${words(polygons, list(polygons)[current])}`);
    },
    // remove takes a corner away, and with the third last one its whole ring: two corners enclose nothing.
    remove(n) {
      const {polygons, c} = take(n);
      if (!c) return;
      const ring = polygons[c.i][c.j];
      if (ring.length <= 3 && c.j === 0 && polygons.length === 1) { tell('A field needs three corners; this one stays.'); return; }
      keep();
      const all = ring.length <= 3; // a hole or a part that is no more
      if (!all) ring.splice(c.k, 1);
      else if (c.j) polygons[c.i].splice(c.j, 1);
      else polygons.splice(c.i, 1);
      current = Math.max(0, Math.min(n, list(polygons).length - 1));
      write(polygons, true);
      tell(all ? (c.j ? `hole ${c.j} is gone with its last three corners` : `part ${c.i + 1} is gone with its last three corners`) : `${words(polygons, {...c, of: c.of})} taken away`);
      grips?.focus();
    },
    // choose makes a corner the current one, counted round the end; with go the map is moved to it and it gets the focus.
    choose(n, go) {
      const polygons = parse(text.value), all = list(polygons);
      if (!all.length) return;
      n = (n + all.length) % all.length;
      if (n === current && !go) return;
      current = n;
      show(polygons);
      if (go) { map?.sight(all[n].at); grips?.draw(); grips?.focus(); tell(words(polygons, all[n])); }
    },
  };
  const grips = map ? new Grips(map, edit) : null;

  function take(n) { const polygons = parse(text.value); return {polygons, c: list(polygons)[n]}; }
  function keep() { past.push(text.value); if (past.length > 200) past.shift(); }
  // write puts corners into the text. While one is dragged the outline alone follows: new marks would tear it from the hand.
  function write(polygons, whole) {
    text.value = print(polygons);
    if (whole) show(polygons); else map?.show(polygons);
  }
  function show(polygons) {
    const all = list(polygons);
    current = Math.max(0, Math.min(current, all.length - 1));
    number.max = Math.max(1, all.length);
    number.value = all.length ? current + 1 : '';
    number.disabled = $('corner-insert').disabled = $('corner-remove').disabled = all.length === 0;
    $('corner-words').textContent = all.length ? words(polygons, all[current]) : 'no corner yet';
    map?.show(polygons);
    grips?.show(polygons, current);
  }
  function stop() {
    if (map) { map.drawing = null; map.box.classList.remove('drawing'); map.box.querySelector('.cross')?.remove(); }
    draw.setAttribute('aria-pressed', 'false');
  }
  function add(p) {
    keep();
    const polygons = parse(text.value);
    if (!polygons.length) polygons.push([[]]);
    polygons.at(-1).at(-1).push(p);
    current = list(polygons).length - 1;
    write(polygons, true);
    tell(`corner ${current + 1} at ${p[0].toFixed(5)}, ${p[1].toFixed(5)}`);
  }

  if (!map) for (const id of ['draw', 'corner']) $(id).hidden = true;
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
  }
  $('undo').addEventListener('click', () => {
    if (!past.length) { tell('There is nothing to take back.'); return; }
    text.value = past.pop();
    show(parse(text.value));
    tell('The last change is taken back.');
  });
  // The boundary comes from the run with every corner; rings are closed there, and here the last corner is left out.
  $('correct').addEventListener('click', async () => {
    let f;
    try { f = await get(`${document.body.dataset.base}boundary?zone=${picked()}`); } catch (e) { say(e.message); return; }
    const polygons = f.coordinates.map(p => p.map(r => r.slice(0, -1)));
    $('draw-id').value = f.id;
    keep();
    current = 0;
    write(polygons, true);
    map?.frame(polygons);
    $('bounds').scrollIntoView({block: 'start'});
    text.focus({preventScroll: true});
    tell(`${list(polygons).length} corners in ${polygons.length === 1 ? 'one part' : polygons.length + ' parts'} to move, put in, take away or type over.`);
  });
  number.addEventListener('change', () => { if (number.valueAsNumber >= 1) { edit.choose(number.valueAsNumber - 1); const {c} = take(current); if (c) map?.sight(c.at); } });
  $('corner-insert').addEventListener('click', () => { const {polygons, c} = take(current); if (c) edit.insert(current, middle(c.at, next(polygons, c)), true); });
  $('corner-remove').addEventListener('click', () => edit.remove(current));
  // What is typed within a second is one change to take back, not one for each key.
  let typed = 0;
  text.addEventListener('beforeinput', () => { if (!typed) keep(); clearTimeout(typed); typed = setTimeout(() => { typed = 0; }, 1000); });
  text.addEventListener('input', () => show(parse(text.value)));

  $('check').addEventListener('click', () => {
    const polygons = parse(text.value), lacks = lacking(polygons);
    if (lacks) { say(lacks); return; }
    const id = $('draw-id').value.trim() || 'Drawn';
    const g = {type: 'FeatureCollection', features: [{type: 'Feature', id, properties: {field_id: id, name: id}, geometry: geometry(polygons)}]};
    stop();
    send([new File([JSON.stringify(g)], 'drawn.geojson', {type: 'application/geo+json'})], '&drawn=1');
  });
  show(parse(text.value));
}
