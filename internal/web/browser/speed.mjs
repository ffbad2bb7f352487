// How a large run feels: load, sift, what-if, pan and zoom, as Chromium measures them. Figures are printed; only a page
// that does not answer fails, because a shared machine with WebGL in software proves no speed.
import { join } from 'node:path';
import { existsSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { browser, done, need, page, program, ready, shared, sleep, view, look } from './harness.mjs';

const survey = join(shared, 'data', 'ssurgo-ar017');
if (!existsSync(survey)) { need(false, `no county survey at ${survey}`); done(); }
const work = mkdtempSync(join(tmpdir(), 'speed-'));

// squares lays n fields in rows over the county.
function squares(n) {
  const features = [], side = Math.ceil(Math.sqrt(n)), w = 0.32 / side, h = 0.5 / side;
  for (let i = 0; i < n; i++) {
    const x = -91.45 + (i % side) * w, y = 33.03 + Math.floor(i / side) * h;
    features.push({ type: 'Feature', properties: { id: 'P' + (i + 1) }, geometry: { type: 'Polygon', coordinates: [[[x, y], [x + 0.9 * w, y], [x + 0.9 * w, y + 0.9 * h], [x, y + 0.9 * h], [x, y]]] } });
  }
  return JSON.stringify({ type: 'FeatureCollection', features });
}

const median = a => a.slice().sort((x, y) => x - y)[a.length >> 1] || 0;

// More fields: .ci/browser-trace.
for (const n of (process.env.FIELDS || '1000').split(',').map(Number)) {
  const fields = join(work, `${n}.geojson`), run = join(work, `run-${n}`);
  writeFileSync(fields, squares(n));
  program('screen', fields, '--survey', survey, '--out', run);
  const site = await view(run), b = await browser();
  try {
    const begin = Date.now();
    const p = await page(b, site.url);
    const list = Date.now() - begin;
    await ready(p);
    const map = Date.now() - begin;
    const zones = await p.evaluate(async () => (await (await fetch('/run/1/part?part=1')).json()).classes.length);
    console.log(`${n} fields, ${zones} zones: list after ${list} ms, map after ${map} ms`);
    await p.evaluate(() => {
      window.tasks = []; window.gaps = [];
      new PerformanceObserver(l => { for (const e of l.getEntries()) window.tasks.push(Math.round(e.duration)); }).observe({ type: 'longtask' });
      let last = performance.now();
      const tick = now => { window.gaps.push(now - last); last = now; requestAnimationFrame(tick); };
      requestAnimationFrame(tick);
    });
    const measure = async (name, what, answered) => {
      await sleep(1500);
      await p.evaluate(() => { window.tasks.length = window.gaps.length = 0; document.body.dataset.ms = ''; });
      const t = Date.now();
      await what();
      if (answered) await p.waitForFunction(() => document.body.dataset.ms !== '', null, { timeout: 30000 });
      const took = Date.now() - t;
      await sleep(800);
      const [tasks, gaps, ms] = await p.evaluate(() => [window.tasks, window.gaps, document.body.dataset.ms]);
      console.log(`  ${name}: ${answered ? `answered after ${took} ms, of which the program took ${ms}; ` : ''}script busy over 50 ms: ${tasks.join(', ') || 'never'}; frames ${median(gaps).toFixed(0)} ms, longest ${Math.max(...gaps).toFixed(0)} ms`);
    };
    const set = (id, value, event) => p.evaluate(([id, value, event]) => { const e = document.getElementById(id); e.value = value; e.dispatchEvent(new Event(event)); }, [id, value, event]);
    await measure('sift', () => set('f-class', 'marginal', 'change'), true);
    await measure('sift taken back', () => set('f-class', '', 'change'), true);
    await measure('limit moved', () => set('k-available_water.suited', '180', 'input'), true);
    await measure('sorted', () => set('f-sort', '-lime', 'change'), true);
    const box = await p.locator('#map canvas').boundingBox();
    await measure('panned', async () => {
      await p.mouse.move(box.x + 300, box.y + 200);
      await p.mouse.down();
      for (let i = 0; i < 30; i++) await p.mouse.move(box.x + 300 + 5 * i, box.y + 200 + 3 * i);
      await p.mouse.up();
    });
    for (let i = 0; i < 3; i++) await measure('nearer', () => p.click('[data-move=in]'));
    await look(p, `large-${n}`);
  } catch (e) { need(false, `${n} fields: ${e.message.split('\n')[0]}`); }
  await b.close();
  await site.stop();
}
need(true, 'the runs were shown');
done();
