// Patterns and letters for the map, drawn on small canvases at two pixels a unit: the same looks as the drawn map has.
const DARK = '#3a3a3a';

function canvas(w, h) {
  const c = document.createElement('canvas');
  c.width = w; c.height = h;
  return [c.getContext('2d'), () => c.getContext('2d').getImageData(0, 0, w, h)];
}

// dots, lines and dashes are the patterns of marginal, unsuited and not rated ground. Each tile fits onto itself at every edge.
function dots() {
  const [g, done] = canvas(16, 16);
  g.fillStyle = DARK;
  for (const [x, y] of [[4, 4], [12, 12]]) { g.beginPath(); g.arc(x, y, 2.2, 0, 7); g.fill(); }
  return done();
}

function lines() {
  const [g, done] = canvas(16, 16);
  g.strokeStyle = '#fff';
  g.lineWidth = 3;
  // three strokes, so that the corners of the tile are filled too
  for (const k of [-16, 0, 16]) { g.beginPath(); g.moveTo(k - 4, 20); g.lineTo(k + 20, -4); g.stroke(); }
  return done();
}

function dashes() {
  const [g, done] = canvas(32, 32);
  g.fillStyle = '#666666';
  g.fillRect(4, 7, 10, 2);
  g.fillRect(20, 23, 10, 2);
  return done();
}

// letterImage is a text in a white box with a dark rim: it can be read on any fill.
export function letterImage(text) {
  const font = '600 24px "Segoe UI",system-ui,"DejaVu Sans",sans-serif';
  const [probe] = canvas(4, 4);
  probe.font = font;
  // one letter gets a box nearly square
  const w = Math.ceil(Math.max(34, probe.measureText(text).width + 16)), h = 36;
  const [g, done] = canvas(w, h);
  g.fillStyle = '#fff';
  g.fillRect(1, 1, w - 2, h - 2);
  g.strokeStyle = '#1a1a1a';
  g.lineWidth = 2;
  g.strokeRect(1, 1, w - 2, h - 2);
  g.fillStyle = '#1a1a1a';
  g.font = font;
  g.textAlign = 'center';
  g.textBaseline = 'middle';
  g.fillText(text, w / 2, h / 2 + 1);
  return done();
}

// images are all that the map needs, by name; l0 to l3 are the letters by the digit of a class.
export function images() {
  return [['dots', dots()], ['lines', lines()], ['dashes', dashes()], ['l0', letterImage('–')], ['l1', letterImage('S')], ['l2', letterImage('M')], ['l3', letterImage('U')]];
}
