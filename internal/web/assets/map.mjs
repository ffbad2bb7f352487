// The map: geometry is loaded once; classes, sifting and marks are states of its features, so that moving a limit
// redraws colours and nothing else.
import * as gl from './maplibre/maplibre-gl.mjs';
import {get} from './net.mjs';
import {images, letterImage} from './marks.mjs';

gl.setWorkerUrl(new URL('./maplibre/maplibre-gl-worker.mjs', import.meta.url).href);

const FILLS = ['#e6e6e6', '#2c7fb8', '#ffe9a3', '#7a0f1e'];                      // by class: not rated, suited, marginal, unsuited
const LIME = ['#ffffff', '#fde3c8', '#f6b77a', '#dd8433', '#a9540f', '#6b2f05']; // one hue, a step a ton
const NEAR = 12; // from this zoom on a field of 40 acres is some 25 pixels wide: room for patterns, lines and letters
const state = k => ['feature-state', k];
const off = (shown, hidden) => ['case', ['boolean', state('off'), false], hidden, shown];

export class GroundMap {
  // open resolves once the map is drawn, and rejects where it cannot be.
  static async open(box, base, on) {
    const probe = document.createElement('canvas');
    if (!probe.getContext('webgl2')) throw new Error('the browser has no WebGL 2');
    const shapes = await get(`${base}shapes`);
    box.hidden = false;
    const m = new GroundMap(box, base, shapes, on);
    await m.ready;
    return m;
  }

  constructor(box, base, shapes, on) {
    this.box = box; this.on = on; this.shapes = shapes;
    this.base = base; this.n = shapes.zones.length;
    this.now = new Array(this.n).fill('');
    this.picked = this.lit = -1;
    this.hills = true; this.rates = false;
    this.bound = around(shapes.fields.some(Boolean) ? shapes.fields : shapes.zones);
    this.lights = {picked: null, hot: null}; this.kept = new Map();
    this.still = matchMedia('(prefers-reduced-motion: reduce)').matches;
    const map = this.map = new gl.Map({container: box, attributionControl: false, dragRotate: false, pitchWithRotate: false, touchPitch: false,
      maxPitch: 0, fadeDuration: 0, maxZoom: 19, bounds: this.bound, fitBoundsOptions: {padding: 24}, renderWorldCopies: false,
      style: {version: 8, sources: {}, layers: [{id: 'sea', type: 'background', paint: {'background-color': '#efeeea'}}]}});
    map.touchZoomRotate.disableRotation();
    map.keyboard.disableRotation();
    this.ready = new Promise((ok, no) => {
      map.once('load', () => { this.layers(); ok(); });
      map.once('error', e => no(e.error || new Error('the map cannot be drawn')));
    });
    const canvas = map.getCanvas();
    canvas.setAttribute('role', 'application');
    canvas.setAttribute('aria-label', 'Map of the zones. The list holds the same facts. Arrows move it, plus and minus bring it nearer, Escape leaves it.');
    canvas.addEventListener('keydown', e => { if (e.key === 'Escape') on.leave(); if (e.key === '0') this.whole(); });
  }

  layers() {
    const map = this.map, part = name => new URL(`${this.base}shapes/${name}`, location.href).href; // fetched by the map's own thread
    for (const [name, image] of images()) map.addImage(name, image, {pixelRatio: 2});
    // Zones come in pieces, each a source with layers of its own: the map's thread hands every source back to the page at once.
    const pieces = [...Array(this.shapes.pieces).keys()];
    for (const k of pieces) map.addSource('zones' + k, {type: 'geojson', data: part('zones' + k), tolerance: 0.3, maxzoom: 15});
    const each = (id, layer) => { for (const k of pieces) map.addLayer({id: id + k, source: 'zones' + k, ...layer}); };
    this.fills = pieces.map(k => 'fill' + k);
    map.addSource('fields', {type: 'geojson', data: part('fields'), tolerance: 0.3, maxzoom: 15});
    map.addSource('outside', {type: 'geojson', data: part('outside')});
    map.addSource('lit', {type: 'geojson', data: {type: 'FeatureCollection', features: []}});
    map.addSource('letters', {type: 'geojson', data: this.letters(() => '')});
    map.addSource('drawn', {type: 'geojson', data: {type: 'FeatureCollection', features: []}});
    const fill = ['match', ['to-number', state('c'), 0], 1, FILLS[1], 2, FILLS[2], 3, FILLS[3], 10, LIME[0], 11, LIME[1], 12, LIME[2], 13, LIME[3], 14, LIME[4], 15, LIME[5], FILLS[0]];
    map.addLayer({id: 'outside', type: 'fill', source: 'outside', paint: {'fill-color': '#fff'}});
    map.addLayer({id: 'outside-dashes', type: 'fill', source: 'outside', paint: {'fill-pattern': 'dashes'}});
    each('fill', {type: 'fill', paint: {'fill-color': fill, 'fill-antialias': false, 'fill-opacity': off(1, 0.12)}});
    for (const [c, name] of [[0, 'dashes'], [2, 'dots'], [3, 'lines']]) {
      each(name, {type: 'fill', minzoom: NEAR, paint: {'fill-pattern': name, 'fill-antialias': false, 'fill-opacity': ['case', ['boolean', state('off'), false], 0, ['==', ['to-number', state('c'), 0], c], 1, 0]}});
    }
    if (document.body.dataset.relief) this.relief(document.body.dataset.relief.split(' ').map(Number));
    each('rim', {type: 'line', minzoom: NEAR, layout: {'line-join': 'round'}, paint: {'line-color': '#fff', 'line-width': 3, 'line-opacity': off(1, 0.3)}});
    each('core', {type: 'line', minzoom: NEAR, layout: {'line-join': 'round'}, paint: {'line-color': '#1a1a1a', 'line-width': 1.25, 'line-opacity': off(1, 0.25)}});
    map.addLayer({id: 'edge-rim', type: 'line', source: 'fields', layout: {'line-join': 'round'}, paint: {'line-color': '#fff', 'line-width': ['interpolate', ['linear'], ['zoom'], 9, 1.5, 13, 5]}});
    map.addLayer({id: 'edge', type: 'line', source: 'fields', layout: {'line-join': 'round'}, paint: {'line-color': '#1a1a1a', 'line-width': ['interpolate', ['linear'], ['zoom'], 9, 0.6, 13, 2.2]}});
    map.addLayer({id: 'lit', type: 'line', source: 'lit', layout: {'line-join': 'round'}, paint: {'line-color': '#005fcc', 'line-width': ['get', 'width']}});
    map.addLayer({id: 'letters', type: 'symbol', source: 'letters', minzoom: NEAR, layout: {'icon-image': ['get', 'k'], 'icon-padding': 3}});
    map.addLayer({id: 'drawn-fill', type: 'fill', source: 'drawn', paint: {'fill-color': '#005fcc', 'fill-opacity': 0.15}});
    map.addLayer({id: 'drawn-rim', type: 'line', source: 'drawn', paint: {'line-color': '#fff', 'line-width': 5}});
    map.addLayer({id: 'drawn-line', type: 'line', source: 'drawn', paint: {'line-color': '#005fcc', 'line-width': 2.5, 'line-dasharray': [3, 2]}});
    map.on('click', e => {
      if (this.drawing) { this.drawing([e.lngLat.lng, e.lngLat.lat]); return; }
      const f = this.at(e.point);
      if (f >= 0) this.on.pick(f);
    });
    let due = 0;
    map.on('mousemove', e => { cancelAnimationFrame(due); due = requestAnimationFrame(() => { if (!map.isMoving()) this.on.hot(this.drawing ? -1 : this.at(e.point)); }); });
    map.on('zoomend', () => this.write());
    map.on('mouseout', () => this.on.hot(-1));
  }

  // relief lays the light on the ground over the fills, under lines and letters.
  relief([w, s, e, n]) {
    this.map.addSource('relief', {type: 'image', url: new URL(`${document.body.dataset.base}relief.png`, location.href).href, coordinates: [[w, n], [e, n], [e, s], [w, s]]});
    this.map.addLayer({id: 'relief', type: 'raster', source: 'relief', paint: {'raster-fade-duration': 0}}, 'dashes0');
  }

  // seeRelief shows it or not; never over rates, whose shades are their meaning.
  seeRelief(on) {
    this.hills = on;
    if (this.map.getLayer('relief')) this.map.setLayoutProperty('relief', 'visibility', on && !this.rates ? 'visible' : 'none');
  }

  at(point) {
    const f = this.map.queryRenderedFeatures(point, {layers: this.fills}).filter(f => !f.state.off)[0];
    return f ? f.id : -1;
  }

  letters(kind) {
    const features = [];
    this.shapes.letters.forEach((p, i) => { const k = kind(i); if (k) features.push({type: 'Feature', properties: {k}, geometry: {type: 'Point', coordinates: p}}); });
    return {type: 'FeatureCollection', features};
  }

  // paint shows what the program answered: classes or lime, and which zones pass the sift.
  paint(p) {
    const map = this.map, lime = p.steps;
    if (Boolean(lime) !== this.rates) { this.rates = Boolean(lime); this.seeRelief(this.hills); }
    for (let i = 0; i < this.n; i++) {
      const c = lime ? (lime[i] === '-' ? 0 : 10 + Number(lime[i])) : Number(p.classes[i]);
      const key = c + p.shown[i];
      if (key === this.now[i]) continue;
      this.now[i] = key;
      map.setFeatureState({source: 'zones' + Math.floor(i / this.shapes.apiece), id: i}, {c, off: p.shown[i] === '0'});
    }
    const marks = i => p.shown[i] === '0' ? '' : lime ? 'n:' + p.rates[i] : 'l' + p.classes[i];
    const key = lime ? p.rates.join() + p.shown : p.classes + p.shown;
    if (key === this.marks) return;
    this.marks = key;
    if (lime) for (const r of new Set(p.rates)) if (!map.hasImage('n:' + r)) map.addImage('n:' + r, letterImage(r), {pixelRatio: 2});
    this.due = marks;
    this.write();
  }

  // write puts the letters on the map, but not before they can be seen.
  write() {
    if (!this.due || this.map.getZoom() < NEAR) return;
    this.map.getSource('letters').setData(this.letters(this.due));
    this.due = null;
  }

  // light draws a line round a zone. Only zones that are lit are drawn so: a line of no width round all of them is work too.
  async light(what, place) {
    const key = what === 'picked' ? 'picked' : 'lit';
    if (this[key] === place) return;
    this[key] = place;
    let f = null;
    if (place >= 0) {
      if (!this.kept.has(place)) {
        if (this.kept.size > 200) this.kept.clear();
        this.kept.set(place, get(`${this.base}shape/${place}`).catch(() => null));
      }
      f = await this.kept.get(place);
      if (this[key] !== place) return; // another one by now
    }
    this.lights[what] = f && {...f, properties: {width: what === 'picked' ? 6 : 4}};
    this.map.getSource('lit')?.setData({type: 'FeatureCollection', features: [this.lights.hot, this.lights.picked].filter(Boolean)});
  }

  hot(place) { this.light('hot', place); }

  pick(place) {
    this.light('picked', place);
    const b = place >= 0 && this.shapes.zones[place], seen = this.map.getBounds();
    if (b && !(seen.contains(b[0]) && seen.contains(b[1]) && this.map.getZoom() > 11)) this.fit(b, 15);
  }

  toField(i) { const b = this.shapes.fields[i]; if (b) this.fit(b, 16); }
  fit(bound, maxZoom) { this.map.fitBounds(bound, {padding: 50, maxZoom, animate: !this.still, duration: 500}); }
  whole() { if (this.bound) this.fit(this.bound, 19); }

  move(way) {
    const opt = {animate: !this.still, duration: 250}, step = 0.3 * Math.min(this.box.clientWidth, this.box.clientHeight);
    const by = {west: [-step, 0], east: [step, 0], north: [0, -step], south: [0, step]}[way];
    if (by) this.map.panBy(by, opt);
    else if (way === 'in') this.map.zoomIn(opt);
    else if (way === 'out') this.map.zoomOut(opt);
    else this.whole();
  }

  centre() { const c = this.map.getCenter(); return [c.lng, c.lat]; }

  // shifted returns the place some pixels away from another.
  shifted(at, [dx, dy]) {
    const p = this.map.project(at), q = this.map.unproject([p.x + dx, p.y + dy]);
    return [q.lng, q.lat];
  }

  // sight brings a place into view, if it is not there.
  sight(at) { if (!this.map.getBounds().contains(at)) this.map.jumpTo({center: at}); }

  // frame shows the whole of an outline.
  frame(polygons) { const b = boundOf({features: [{geometry: {coordinates: polygons}}]}); if (b) this.fit(b, 16); }

  // show draws outlines that are not part of the run: polygons whose rings are not closed.
  show(polygons) {
    const shapes = polygons.map(p => p.filter((r, i) => i === 0 || r.length > 2)).filter(p => p[0].length > 1);
    const features = shapes.map(p => ({type: 'Feature', properties: {}, geometry: p[0].length > 2 ? {type: 'Polygon', coordinates: p.map(r => [...r, r[0]])} : {type: 'LineString', coordinates: p[0]}}));
    this.map.getSource('drawn').setData({type: 'FeatureCollection', features});
  }

  // handle puts an element on the map that can be dragged.
  handle(at, el, on) {
    const m = new gl.Marker({element: el, draggable: true}).setLngLat(at).addTo(this.map);
    const place = () => { const p = m.getLngLat(); return [p.lng, p.lat]; };
    m.on('drag', () => on.drag(place()));
    m.on('dragend', () => on.end(place()));
    return m;
  }
}

// around is the box that holds boxes.
function around(boxes) {
  let w = 180, s = 90, e = -180, n = -90;
  for (const b of boxes) if (b) { w = Math.min(w, b[0][0]); s = Math.min(s, b[0][1]); e = Math.max(e, b[1][0]); n = Math.max(n, b[1][1]); }
  return w > e ? undefined : [[w, s], [e, n]];
}

function boundOf(c) {
  let w = 180, s = 90, e = -180, n = -90;
  for (const f of c.features) for (const polygon of f.geometry.coordinates) for (const [x, y] of polygon[0]) {
    if (x < w) w = x; if (x > e) e = x; if (y < s) s = y; if (y > n) n = y;
  }
  return w > e ? undefined : [[w, s], [e, n]];
}
