// How a page of 1,000 fields and 10,000 zones moves, by Chromium's own trace: for each thing a user does, how long frames
// took and what kept the page from answering. Figures go to the terminal, the trace to OUT.
//
// Two times are told of a task: by the clock, in which a busy machine counts, and of the processor, in which it does not.
// A task that takes over 200 ms of the processor is a stall, and fails.
import { existsSync, mkdtempSync, writeFileSync } from 'node:fs';
import { loadavg, cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { browser, done, look, need, out, page, program, ready, shared, sleep, view } from './harness.mjs';
import { read } from './tracing.mjs';

const stall = 200; // ms of the processor
const survey = join(shared, 'data', 'ssurgo-ar017');
if (!existsSync(survey)) { need(false, `no county survey at ${survey}`); done(); }
const work = mkdtempSync(join(tmpdir(), 'trace-'));

// strips lays fields over the county that are long and narrow, so that each meets ten soils.
function strips(columns, rows) {
  const features = [], w = 0.3 / columns, h = 0.52 / rows;
  for (let i = 0; i < columns; i++) for (let j = 0; j < rows; j++) {
    const x = -91.44 + i * w, y = 33.02 + j * h, e = x + 0.95 * w, n = y + 0.95 * h;
    features.push({ type: 'Feature', properties: { id: `P${features.length + 1}` }, geometry: { type: 'Polygon', coordinates: [[[x, y], [e, y], [e, n], [x, n], [x, y]]] } });
  }
  return JSON.stringify({ type: 'FeatureCollection', features });
}

const fields = join(work, 'fields.geojson'), run = join(work, 'run');
writeFileSync(fields, strips(500, 2));
program('screen', fields, '--survey', survey, '--out', run);
const load = () => `${loadavg().slice(0, 2).map(x => x.toFixed(1)).join(' and ')} over 1 and 5 minutes, ${cpus().length} cores`;
console.log(`load of the machine: ${load()}`);

const site = await view(run), b = await browser();
try {
  const p = await page(b, site.url + 'runs');
  await b.startTracing(p, { path: join(out, 'trace.json'), categories: ['-*', 'devtools.timeline', 'devtools.timeline.frame', 'disabled-by-default-devtools.timeline', 'disabled-by-default-devtools.timeline.frame', 'blink.user_timing'] });
  await p.goto(site.url + 'run/1/');
  await p.evaluate(() => performance.mark('begin loading'));
  await ready(p);
  await sleep(2500);
  await p.evaluate(() => performance.mark('end loading'));
  const zones = await p.evaluate(async () => (await (await fetch('/run/1/part?part=1')).json()).classes.length);
  const doing = async (name, what, answered) => {
    await sleep(600);
    await p.evaluate(name => { document.body.dataset.ms = ''; performance.mark('begin ' + name); }, name);
    await what();
    if (answered) await p.waitForFunction(() => document.body.dataset.ms !== '', null, { timeout: 30000 });
    await sleep(700);
    await p.evaluate(name => performance.mark('end ' + name), name);
  };
  const set = (id, value, event) => p.evaluate(([id, value, event]) => { const e = document.getElementById(id); e.value = value; e.dispatchEvent(new Event(event, { bubbles: true })); }, [id, value, event]);
  const box = await p.locator('#map canvas').boundingBox();
  const drag = async (dx, dy) => {
    const x = box.x + box.width / 2, y = box.y + box.height / 2;
    await p.mouse.move(x, y);
    await p.mouse.down();
    for (let i = 1; i <= 60; i++) { await p.mouse.move(x + dx * i, y + dy * i); await sleep(8); }
    await p.mouse.up();
  };
  await doing('panned by mouse, all fields', () => drag(3, 1.5));
  await p.click('[data-move=in]'); await p.click('[data-move=in]'); await sleep(1500);
  await doing('panned by mouse, near', () => drag(-3, -1.5));
  await p.locator('#map canvas').focus();
  await doing('panned by keyboard', async () => { for (let i = 0; i < 8; i++) { await p.keyboard.press('ArrowRight'); await sleep(60); } });
  await doing('wheel nearer', async () => { await p.mouse.move(box.x + 300, box.y + 200); for (let i = 0; i < 6; i++) { await p.mouse.wheel(0, -240); await sleep(60); } });
  await p.click('[data-move=all]'); await sleep(1500);
  await doing('one class only', () => set('f-class', 'marginal', 'change'), true);
  await doing('all classes again', () => set('f-class', '', 'change'), true);
  await doing('one factor only', () => set('f-factor', 'drainage', 'change'), true);
  await doing('all factors again', () => set('f-factor', '', 'change'), true);
  await doing('typed into the search', async () => { await p.focus('#f-find'); await p.keyboard.type('P77', { delay: 90 }); }, true);
  await doing('search emptied', () => set('f-find', '', 'input'), true);
  await doing('sorted by lime', () => set('f-sort', '-lime', 'change'), true);
  await doing('a limit moved', () => set('k-available_water.suited', '180', 'input'), true);
  await doing('lime shown', () => set('f-show', 'lime', 'change'), true);
  await doing('classes shown again', () => set('f-show', '', 'change'), true);
  await doing('down the list', async () => { for (let i = 0; i < 12; i++) { await p.hover(`#zones tbody tr:nth-child(${3 + i})`); await sleep(30); } });
  await look(p, 'traced');
  const told = read(await b.stopTracing());
  console.log(`1,000 fields, ${zones} zones`);
  need(zones >= 10000, `${zones} zones are too few`);
  const line = (name, ...c) => console.log('  ' + name.padEnd(30) + c.map(x => String(x).padStart(10)).join(''));
  line('', 'tasks', 'longest', 'of it', 'frames', 'median', '95 %', 'longest');
  line('', '>50 ms', 'ms', 'CPU ms', '', 'ms', 'ms', 'ms');
  for (const t of told) {
    line(t.name, t.long, t.longest.toFixed(0), t.cpu.toFixed(0), t.frames.length, t.median.toFixed(0), t.high.toFixed(0), t.most.toFixed(0));
    if (t.name !== 'loading') need(t.cpu <= stall, `${t.name}: a task takes ${t.cpu.toFixed(0)} ms of the processor: ${t.what}`);
  }
  writeFileSync(join(out, 'trace-figures.json'), JSON.stringify({ load: loadavg(), zones, told }, null, 1));
} catch (e) { need(false, e.stack.split('\n').slice(0, 2).join(' ')); }
console.log(`load of the machine: ${load()}`);
await b.close();
await site.stop();
done();
