// A boundary as text, so that it can be typed, read out and mended without a map: a corner a line, longitude and
// latitude. A line "part" begins another part of the field, a line "hole" ground that is left out of it. In memory it is
// a list of polygons, each a list of rings, the outer one first, no ring closed by its first corner again.

export function parse(text) {
  const polygons = [];
  let ring = null;
  const begin = hole => {
    ring = [];
    if (hole && polygons.length) polygons.at(-1).push(ring); else polygons.push([ring]);
  };
  for (const line of text.split('\n')) {
    const word = line.trim().toLowerCase();
    if (word.startsWith('part')) { begin(false); continue; }
    if (word.startsWith('hole')) { begin(true); continue; }
    const p = line.split(/[,;\s]+/).filter(Boolean).map(Number);
    if (p.length < 2 || !p.every(Number.isFinite)) continue;
    if (!ring) begin(false);
    ring.push([p[0], p[1]]);
  }
  return polygons.map(p => p.filter((r, i) => i === 0 || r.length)).filter(p => p[0].length);
}

export function print(polygons) {
  const corner = p => `${p[0].toFixed(7)}, ${p[1].toFixed(7)}`;
  const several = polygons.length > 1 || polygons.some(p => p.length > 1);
  return polygons.map((p, i) => p.map((r, j) => [...(several ? [j ? `hole in part ${i + 1}` : `part ${i + 1}`] : []), ...r.map(corner)].join('\n')).join('\n')).join('\n');
}

// list gives every corner its place: polygon, ring and corner, in the order of the text.
export function list(polygons) {
  const out = [];
  polygons.forEach((p, i) => p.forEach((r, j) => r.forEach((at, k) => out.push({i, j, k, at, of: r.length}))));
  return out;
}

export const words = (polygons, c) => `corner ${c.k + 1} of ${c.of}` + (polygons.length > 1 ? `, part ${c.i + 1}` : '') + (c.j ? `, hole ${c.j}` : '');

export const next = (polygons, c) => { const r = polygons[c.i][c.j]; return r[(c.k + 1) % r.length]; };
export const middle = (a, b) => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];

// geometry closes the rings and turns them as the standard wants: outer ones against the clock, holes with it.
export function geometry(polygons) {
  const turned = (ring, hole) => {
    const [x, y] = ring[0];
    const twice = ring.reduce((a, p, i) => { const q = ring[(i + 1) % ring.length]; return a + (p[0] - x) * (q[1] - y) - (q[0] - x) * (p[1] - y); }, 0);
    const r = (twice < 0) === hole ? [...ring] : [...ring].reverse();
    return [...r, r[0]];
  };
  return {type: 'MultiPolygon', coordinates: polygons.map(p => p.map((r, j) => turned(r, j > 0)))};
}

// lacking says what is still missing of a boundary that can be read; '' when nothing is.
export function lacking(polygons) {
  if (!polygons.length) return 'A field needs three corners at least: longitude and latitude of each on a line of its own.';
  for (const [i, p] of polygons.entries()) for (const [j, r] of p.entries()) {
    if (r.length < 3) return `${j ? `Hole ${j} in part` : 'Part'} ${i + 1} has ${r.length === 1 ? 'one corner' : 'two corners'}; it needs three at least, or none.`;
  }
  return '';
}
