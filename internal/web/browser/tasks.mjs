// What users do, one after the other. Each task keeps a picture.
import { cpSync, existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { act, axe, becomes, browser, done, follow, look, need, page, program, ready, same, screened, shared, sleep, still, until, view } from './harness.mjs';

const work = mkdtempSync(join(tmpdir(), 'page-'));
const demo = join(work, 'demo'), run = join(demo, 'run');
same(program('demo', '--out', demo).code, 0, 'the demo');
const zones = JSON.parse(readFileSync(join(run, 'zones.geojson'))).features;

const rows = p => p.$$eval('#zones tbody tr[data-zone]', trs => trs.map(t => ({ zone: t.querySelector('a.zone').textContent, class: t.cells[1].childNodes[1].textContent.trim().toLowerCase(), tons: t.cells[4].dataset.tons, acres: t.cells[2].textContent })));
const tasks = {
  async 'read the list before any script runs'(b, url) {
    const p = await page(b, url, { javaScriptEnabled: false });
    same(await p.locator('#zones tbody tr').count(), zones.length, 'rows without a script');
    need(await p.locator('#drawn svg').isVisible(), 'the drawn map shows without a script');
    await follow(p, /sort=-area/, () => p.locator('a.sort', { hasText: 'Acres' }).click()); // sorting is a link
    await follow(p, /\/zone\//, () => p.locator('a.zone').first().click());
    need((await p.textContent('main')).includes('The whole chain'), 'a zone is a page of its own');
    await look(p, 'no-script-zone', true);
  },
  async 'the same numbers as the files'(b, url) {
    const p = await page(b, url);
    await ready(p);
    const seen = await rows(p);
    same(seen.map(r => r.zone), zones.map(z => z.properties.zone_id), 'zones in the order of the files');
    same(seen.map(r => r.class), zones.map(z => z.properties.class), 'classes');
    same(seen.map(r => r.tons), zones.map(z => z.properties.lime_st_ac === null ? '' : z.properties.lime_st_ac.toFixed(4)), 'lime');
    for (const [i, r] of seen.entries()) need(Math.abs(Number(r.acres.replace('<', '')) - zones[i].properties.area_ac) <= 0.06 || Number(r.acres) >= 100, `acres of ${r.zone}: ${r.acres}`);
    await look(p, 'run');
    await p.evaluate(() => scrollTo(0, document.body.scrollHeight));
    const [file] = await Promise.all([p.waitForEvent('download'), p.click('a[download]:has-text("zones.geojson")')]);
    need(readFileSync(await file.path()).equals(readFileSync(join(run, 'zones.geojson'))), 'the download is the file, byte by byte');
  },
  async 'sift and sort'(b, url) {
    const p = await page(b, url);
    await ready(p);
    await act(p, () => p.selectOption('#f-class', 'unsuited'));
    same((await rows(p)).length, zones.filter(z => z.properties.class === 'unsuited').length, 'unsuited zones');
    await look(p, 'sifted');
    await act(p, () => p.click('#all'));
    await act(p, () => p.selectOption('#f-sort', '-lime'));
    const tons = (await rows(p)).map(r => r.tons === '' ? -1 : Number(r.tons));
    need(tons.every((t, i) => i === 0 || tons[i - 1] >= t), `sorted by lime: ${tons}`);
    await act(p, () => p.selectOption('#f-factor', 'ph_surface'));
    same((await rows(p)).length, zones.filter(z => z.properties.limiting === 'ph_surface' || z.properties.limiting_today === 'ph_surface').length, 'limited by surface pH');
    await act(p, () => p.click('#all'));
    await act(p, () => p.selectOption('#f-lime', 'over1'));
    same((await rows(p)).length, zones.filter(z => z.properties.lime_st_ac > 1).length, 'over a ton of lime');
    await act(p, () => p.click('#all'));
    await act(p, () => p.selectOption('#f-sure', 'low'));
    same((await rows(p)).length, zones.filter(z => z.properties.confidence === 'low').length, 'low confidence');
    await act(p, () => p.click('#all'));
    await act(p, () => p.fill('#f-find', 'kiln'));
    same((await rows(p)).map(r => r.zone), ['F2/1'], 'found by name');
  },
  async 'read a zone by keyboard alone'(b, url) {
    const p = await page(b, url);
    await ready(p);
    const where = () => p.evaluate(() => { const e = document.activeElement; return e.className + '|' + e.id + '|' + e.textContent.trim().slice(0, 20); });
    for (let i = 0; i < 40 && !(await where()).startsWith('zone|'); i++) await p.keyboard.press('Tab');
    need((await where()).startsWith('zone|'), 'Tab reaches the first zone');
    const first = await where();
    await p.keyboard.press('Enter');
    await p.waitForFunction(() => document.activeElement.id === 'zone-h');
    need((await p.textContent('#zone-body')).includes('Every step with its numbers'), 'the chain is there');
    await p.keyboard.press('Tab');
    await look(p, 'zone-by-keyboard');
    await p.keyboard.press('Escape');
    await p.waitForFunction(() => document.activeElement.className === 'zone');
    same(await where(), first, 'Esc returns to where one was');
    for (let i = 0; i < 200 && !(await p.evaluate(() => document.activeElement.tagName === 'CANVAS')); i++) await p.keyboard.press('Tab');
    need(await p.evaluate(() => document.activeElement.tagName === 'CANVAS'), 'Tab reaches the map');
    const before = await still(p);
    await p.keyboard.press('ArrowRight'); await p.keyboard.press('ArrowRight');
    await becomes(async () => !before.equals(await still(p)), 'arrows move the map');
    await look(p, 'map-by-keyboard');
    await p.keyboard.press('Escape');
    await becomes(() => p.evaluate(() => document.activeElement.tagName !== 'CANVAS'), 'Esc leaves the map');
  },
  async 'pick a zone on the map'(b, url) {
    const p = await page(b, url);
    await ready(p);
    await p.hover('tr[data-zone="0"]');
    await becomes(() => p.evaluate(() => document.querySelector('tr.hot')?.dataset.zone === '0'), 'row and zone light up together');
    const box = await p.locator('#map canvas').boundingBox();
    await still(p);
    search: for (let y = 0.3; y < 0.8; y += 0.08) for (let x = 0.1; x < 0.95; x += 0.08) {
      await p.mouse.click(box.x + x * box.width, box.y + y * box.height);
      await sleep(120);
      if (await p.locator('#zone').isVisible()) break search;
    }
    await becomes(() => p.locator('#zone-h').isVisible(), 'a click on the map shows the zone');
    await look(p, 'zone-by-map');
  },
  async 'move a limit'(b, url) {
    const p = await page(b, url);
    await ready(p);
    await p.locator('#whatif').scrollIntoViewIfNeeded();
    const before = await p.textContent('#strip');
    await act(p, () => p.fill('[id="k-water_table.suited"]', '60'));
    await act(p, () => p.selectOption('[id="k-drainage.suited"]', 'Moderately well drained'));
    await act(p, () => p.fill('[id="k-available_water.suited"]', '110'));
    await act(p, () => p.fill('[id="k-depth.suited"]', '80'));
    const moved = await p.$$eval('tr.moved a.zone', a => a.map(x => x.textContent));
    same(moved, ['F6/1'], 'Middle Forty is suited when roots need less');
    need((await p.textContent('#strip')) !== before && (await p.textContent('#status')).includes('1 class'), 'sums and status tell');
    console.log(`limits moved: worked out in ${await p.evaluate(() => document.body.dataset.ms)} ms`);
    await p.evaluate(() => scrollTo(0, 0));
    await look(p, 'what-if');
    await p.click('tr[data-zone="7"] a.zone');
    await p.waitForSelector('#zone-h');
    need((await p.textContent('#zone-body')).includes('the run itself says Marginal'), 'the zone tells what the run says');
    await p.click('#back');
    await p.fill('[id="k-depth.suited"]', '1000');
    await becomes(async () => (await p.textContent('#knob-fault')).includes('give a number from'), 'a number out of range is told beside the field');
    await act(p, () => p.click('#usual'));
    same((await p.textContent('#strip')).replace(/\s+/g, ' '), before.replace(/\s+/g, ' '), 'everything back as it was');
    await act(p, () => p.fill('#k-target', '6.2'));
    const tons = (await rows(p)).map(r => r.tons);
    need(tons.every((t, i) => t === '' || Number(t) <= zones[i].properties.lime_st_ac), 'a lower target asks for no more lime');
    await act(p, () => p.click('#usual'));
    await act(p, () => p.selectOption('#f-show', 'lime'));
    await still(p);
    await look(p, 'lime');
  },
  async 'a phone'(b, url) {
    for (const width of [320, 390]) {
      const p = await page(b, url, { viewport: { width, height: 800 } });
      await ready(p);
      await look(p, `phone-${width}`, true);
      await p.locator('a.zone').first().click();
      await p.waitForSelector('#zone-h');
      await look(p, `phone-${width}-zone`, true);
    }
  },
  async 'print and forced colours'(b, url) {
    const p = await page(b, url, { viewport: { width: 816, height: 1056 } });
    await ready(p);
    await p.emulateMedia({ media: 'print' });
    need(await p.locator('#drawn svg').isVisible() && !(await p.locator('#map').isVisible()) && !(await p.locator('#whatif').isVisible()), 'paper has the drawn map and no controls');
    await look(p, 'print', true);
    await p.emulateMedia({ media: 'screen', forcedColors: 'active' });
    await look(p, 'forced-colours');
  },
  async 'axe in states that a script reaches'(b, url) {
    await axe(b, url, 'zone shown', async p => { await p.locator('a.zone').nth(7).click(); await p.waitForSelector('#zone-h'); });
    await axe(b, url, 'limit moved', async p => { await act(p, () => p.fill('[id="k-depth.suited"]', '120')); });
    await axe(b, url, 'lime shown', async p => { await act(p, () => p.selectOption('#f-show', 'lime')); });
  },
};

// ---- tasks with a survey
const made = {
  async 'drop a file with faults'(b, url) {
    const file = join(work, 'broken.geojson');
    const good = JSON.parse(readFileSync(join(demo, 'fields.geojson')));
    good.features = good.features.slice(0, 3);
    const ring = good.features[0].geometry.coordinates[0];
    good.features[0].geometry.coordinates[0] = ring.slice(0, -1);
    good.features[1].geometry = null;
    writeFileSync(file, JSON.stringify(good, null, 1));
    const said = program('screen', file, '--survey', join(demo, 'survey'), '--out', join(work, 'broken-run')).err + program('screen', file, '--survey', join(demo, 'survey'), '--out', join(work, 'broken-run')).out;
    const p = await page(b, url + 'run/1/');
    await ready(p);
    await p.setInputFiles('#file', file);
    await p.waitForSelector('#found li');
    const told = await p.$$eval('#found .told:first-of-type li', l => l.map(x => x.textContent.replace(/^(fault|notice) /, '')));
    const flat = said.replace(/\s+/g, ' ');
    need(told.length >= 2, 'faults are told: ' + told);
    for (const t of told) need(flat.includes(t.replace(/\s+/g, ' ')) || flat.includes(t.replace(/^broken\.geojson/, '').replace(/\s+/g, ' ').slice(0, 60)), `the command line says it too: ${t}`);
    await p.locator('#found').scrollIntoViewIfNeeded();
    await look(p, 'file-with-faults');
    await p.setInputFiles('#file', { name: 'notes.geojson', mimeType: 'application/json', buffer: Buffer.from('not a map at all') });
    await p.waitForSelector('#found .wrong');
    need((await p.textContent('#found')).length > 30, 'a file that is none is told');
    await p.setInputFiles('#file', { name: 'lab.csv', mimeType: 'text/csv', buffer: Buffer.from('field_id,sample_id,top_cm,bottom_cm,date,ph_water\nF1,7,0,15,2026-01-14,5.4\nF2,8,0,15,2026-01-14,64\n') });
    await p.waitForFunction(() => document.querySelector('#found')?.textContent.includes('soil sample'));
    need((await p.textContent('#found')).includes('64'), 'a laboratory file is read and its fault told');
    await look(p, 'laboratory-file');
  },
  async 'draw a field and screen it'(b, url) {
    const p = await page(b, url + 'run/1/');
    await ready(p);
    await p.click('#draw');
    const box = await p.locator('#map canvas').boundingBox();
    const lines = async () => (await p.inputValue('#corners')).split('\n').filter(Boolean).length;
    for (const [i, [x, y]] of [[0.4, 0.4], [0.6, 0.4], [0.6, 0.6], [0.4, 0.6]].entries()) {
      await p.mouse.click(box.x + x * box.width, box.y + y * box.height);
      await becomes(async () => (await lines()) === i + 1, `corner ${i + 1} by mouse`);
    }
    await p.click('#undo');
    await p.click('#corner');
    same((await p.inputValue('#corners')).split('\n').length, 4, 'a corner by button');
    await p.fill('#corners', '-78.1905, 32.6125\n-78.1805, 32.6125\n-78.1805, 32.6095\n-78.1905, 32.6095');
    await p.fill('#draw-id', 'Try');
    await p.click('#check');
    await p.waitForSelector('#found button');
    await p.locator('#found').scrollIntoViewIfNeeded();
    await look(p, 'drawn');
    await p.click('#found button:has-text("Screen it alone")');
    await p.waitForURL(/\/run\/2\//, { timeout: 30000 });
    await ready(p);
    need((await rows(p)).every(r => r.zone.startsWith('Try/')), 'the drawn field is screened');
    await look(p, 'drawn-screened');
    await p.goto(url + 'run/1/');
    await ready(p);
    await p.click('tr[data-zone="0"] a.zone');
    await p.waitForSelector('#zone-h');
    await p.click('#correct');
    await p.waitForFunction(() => document.getElementById('draw-id').value === 'F1');
    const corners = (await p.inputValue('#corners')).split('\n');
    need(corners.length >= 4 && (await p.inputValue('#draw-id')) === 'F1', 'the corners of the field are there to correct');
    const [x, y] = corners[0].split(', ').map(Number);
    corners[0] = `${x + 0.002}, ${y}`;
    await p.fill('#corners', corners.join('\n'));
    await p.click('#check');
    await p.waitForSelector('#found button');
    await p.click('#found button:has-text("with the fields")');
    await p.waitForURL(/\/run\/3\//, { timeout: 30000 });
    await ready(p);
    const ids = new Set((await rows(p)).map(r => r.zone.split('/')[0]));
    same([...ids].sort(), ['F1', 'F2', 'F3', 'F4', 'F5', 'F6', 'F7'], 'all fields, one of them corrected');
  },
  async 'compare two runs'(b, url) {
    const p = await page(b, url + 'runs');
    need((await p.locator('tbody tr').count()) >= 3, 'runs are listed');
    await look(p, 'runs');
    await p.goto(url + 'compare?a=1&b=3');
    need((await p.textContent('main')).includes('Home Field (F1)'), 'the corrected field differs');
    await look(p, 'compared', true);
  },
};

const close = async b => { for (const c of b.contexts()) await c.close(); };
const b = await browser();
const one = await view(run);
const only = process.env.ONLY;
for (const [name, task] of Object.entries(tasks)) {
  if (only && !name.includes(only)) continue;
  console.log('task: ' + name);
  try { await task(b, one.url); await close(b); } catch (e) { need(false, `${name}: ${e.message.split('\n')[0]}`); }
}
same(await one.stop(), 0, 'Ctrl-C ends it');
const runs = join(work, 'runs');
const two = await view(join(demo, 'fields.geojson'), '--survey', join(demo, 'survey'), '--customer', 'owner', '--farm', 'farm', '--state', 'GA', '--runs', runs);
await screened(two.url, 1);
for (const [name, task] of Object.entries(made)) {
  console.log('task: ' + name);
  try { await task(b, two.url); await close(b); } catch (e) { need(false, `${name}: ${e.message.split('\n')[0]}`); }
}
await two.stop();
need(existsSync(join(runs, 'run-1', 'run.json')) && existsSync(join(runs, 'run-3', 'run.json')), 'runs are kept in folders');

console.log('task: a folder of runs');
const all = join(work, 'all');
cpSync(run, join(all, 'last year'), { recursive: true });
cpSync(join(runs, 'run-1'), join(all, 'this year'), { recursive: true });
const three = await view(all);
try {
  const p = await page(b, three.url);
  same(await p.locator('tbody th a').allTextContents(), ['last year', 'this year'], 'runs of a folder');
  await follow(p, /compare/, () => p.click('text=with the run before'));
  need((await p.textContent('h1')) === 'Two runs compared', 'two runs compared');
} catch (e) { need(false, e.message.split('\n')[0]); }
await b.close();
await three.stop();

console.log('task: no WebGL');
const plain = await browser(false);
const four = await view(run);
try {
  const p = await page(plain, four.url);
  await p.waitForFunction(() => document.body.dataset.map === 'drawn');
  need(await p.locator('#drawn svg').isVisible() && !(await p.locator('#map').isVisible()), 'the drawn map stands in');
  await act(p, () => p.selectOption('#f-show', 'lime'));
  need((await p.locator('#drawn svg').textContent()).includes('st/ac') || (await p.locator('#drawn svg').count()) === 1, 'it follows the choice');
  await act(p, () => p.click('a.field >> nth=3'));
  await look(p, 'no-webgl');
  await p.click('a.zone >> nth=0');
  await p.waitForSelector('#zone-h');
  await look(p, 'no-webgl-zone');
} catch (e) { need(false, e.message.split('\n')[0]); }
await plain.close();
await four.stop();

const county = join(shared, 'data', 'ssurgo-ar017');
if (!existsSync(county)) need(false, `no county survey at ${county}`);
else {
  console.log('task: cancel a long screening');
  // The program screens from its start and waits for no browser. So the browser stands first, the program has one
  // processor however many there are, and the fields are enough to keep it busy for far longer than a page takes to open.
  process.env.GOMAXPROCS = '1';
  const c = await browser();
  await (await c.newPage()).close();
  const many = join(work, 'many.geojson');
  const features = [];
  for (let i = 0; i < 300; i++) for (let j = 0; j < 300; j++) {
    const x = -91.45 + i * 0.001, y = 33.05 + j * 0.0015;
    features.push({ type: 'Feature', properties: { id: `${i}-${j}` }, geometry: { type: 'Polygon', coordinates: [[[x, y], [x + 0.0009, y], [x + 0.0009, y + 0.00135], [x, y + 0.00135], [x, y]]] } });
  }
  writeFileSync(many, JSON.stringify({ type: 'FeatureCollection', features }));
  const five = await view(many, '--survey', county);
  try {
    const p = await page(c, five.url);
    const stage = () => p.textContent('#stage');
    await becomes(async () => /At work/.test(await stage()), 'a long screening is at work');
    await look(p, 'progress');
    await p.click('#cancel');
    need(await until(async () => /cancelled/.test(await stage())), `cancelled; the page says: ${await stage()}`);
    await look(p, 'cancelled');
  } catch (e) { need(false, `cancel: ${e.message.split('\n')[0]}`); }
  await c.close();
  await five.stop();
}
done();
