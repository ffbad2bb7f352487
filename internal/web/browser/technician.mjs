// What a technician does: mends a boundary corner by corner, brings laboratory tests, sets the new run beside the one
// before, takes files along. Every task keeps a picture.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { axe, becomes, browser, done, follow, look, need, page, program, ready, same, screened, still, view } from './harness.mjs';

const work = mkdtempSync(join(tmpdir(), 'technician-'));
const demo = join(work, 'demo'), run = join(demo, 'run');
same(program('demo', '--out', demo).code, 0, 'the demo');
const corners = async p => (await p.inputValue('#corners')).split('\n');
const status = p => p.textContent('#status');

// A field of two parts, one with a hole, over the invented survey.
const box = (x, y, w, h) => [[x, y], [x + w, y], [x + w, y + h], [x, y + h], [x, y]];
const island = { type: 'FeatureCollection', features: [{ type: 'Feature', properties: { id: 'Isle' }, geometry: { type: 'MultiPolygon',
  coordinates: [[box(-78.1905, 32.6095, 0.006, 0.003), box(-78.189, 32.6103, 0.001, 0.001).reverse()], [box(-78.183, 32.6095, 0.002, 0.003)]] } }] };
const lab = 'field_id,sample_id,top_cm,bottom_cm,date,ph_water,lbc_ppm_ph,lab\nF1,1,0,15,2026-01-14,5.1,310,Tarn Lab\nF2,2,0,15,2026-01-14,5.3,280,Tarn Lab\nF3,3,0,15,2026-01-14,5.6,240,Tarn Lab\nF4,4,0,15,2026-01-14,64,240,Tarn Lab\n';
const labPath = join(work, 'lab.csv');
writeFileSync(labPath, lab);

const tasks = {
  async 'correct every part and hole by keyboard'(b, url) {
    const p = await page(b, url + 'run/1/');
    await ready(p);
    await p.setInputFiles('#file', { name: 'isle.geojson', mimeType: 'application/geo+json', buffer: Buffer.from(JSON.stringify(island)) });
    await p.waitForSelector('#found button');
    await p.click('#found button:has-text("Screen it alone")');
    await p.waitForURL(/\/run\/2\//, { timeout: 30000 });
    await ready(p);
    await p.click('a.zone');
    await p.waitForSelector('#zone-h');
    await p.focus('#correct');
    await p.keyboard.press('Enter');
    await p.waitForFunction(() => document.getElementById('draw-id').value === 'Isle');
    const begin = await corners(p);
    same(begin.filter(l => !/^-/.test(l)), ['part 1', 'hole in part 1', 'part 2'], 'every part and hole is there');
    same(begin.length, 15, 'with all its corners');
    await still(p); // the map has come to the field
    await p.locator('.corner-mark[tabindex="0"]').focus();
    need(/^corner 1 of 4, part 1\. Arrows/.test(await p.evaluate(() => document.activeElement.getAttribute('aria-label'))), 'the first corner has the focus and says what to do');
    await look(p, 'corners');
    await p.keyboard.press('Insert');
    same((await corners(p)).length, 16, 'Insert puts a corner in');
    need((await status(p)).includes('corner 2 of 5'), 'and says so: ' + await status(p));
    await p.keyboard.press('ArrowUp');
    const moved = (await corners(p))[2].split(', ').map(Number);
    need(moved[1] > 32.6095 && Math.abs(moved[0] + 78.1875) < 1e-5, 'an arrow moves it north: ' + moved);
    await p.keyboard.press('PageDown');
    need((await status(p)).includes('corner 3 of 5'), 'Page Down goes to the next: ' + await status(p));
    await p.keyboard.press('Delete');
    same((await corners(p)).length, 15, 'Delete takes one away');
    need(await p.evaluate(() => document.activeElement.classList.contains('corner-mark')), 'and the focus stays on a corner');
    await p.fill('#corner-number', '5');
    await p.press('#corner-number', 'Enter');
    need((await p.textContent('#corner-words')).includes('hole 1'), 'a number chooses a corner: ' + await p.textContent('#corner-words'));
    await p.click('#corner-remove');
    await p.click('#corner-remove');
    same((await corners(p)).filter(l => /hole/.test(l)), [], 'a hole without three corners is gone');
    await p.click('#undo');
    same((await corners(p)).filter(l => /hole/.test(l)).length, 1, 'and comes back');
    await p.click('#check');
    await p.waitForSelector('#found button');
    same(await p.locator('#found li').first().textContent().then(t => t.startsWith('Isle: ')), true, 'the program reads it');
    await p.click('#found button:has-text("with the fields")');
    await p.waitForURL(/\/run\/3\//, { timeout: 30000 });
    await ready(p);
    const f = await p.evaluate(() => fetch('/run/3/boundary?zone=0').then(a => a.json()));
    same([f.coordinates.length, f.coordinates[0].length, f.coordinates[1].length], [2, 2, 1], 'the corrected field has both parts and the hole');
    need(await p.locator('header .note a').isVisible(), 'the run before is one step away');
  },
  async 'put a corner in by mouse'(b, url) {
    const p = await page(b, url + 'run/1/');
    await ready(p);
    await p.fill('#corners', '-78.1905, 32.6125\n-78.1805, 32.6125\n-78.1805, 32.6095\n-78.1905, 32.6095');
    await p.locator('#map').scrollIntoViewIfNeeded();
    await p.waitForSelector('.edge-mark');
    await p.locator('.edge-mark').first().click();
    same((await corners(p)).length, 5, 'a click on an edge puts a corner in');
    await still(p);
    const m = await p.locator('.corner-mark').nth(1).boundingBox();
    await p.mouse.move(m.x + 12, m.y + 12);
    await p.mouse.down();
    await p.mouse.move(m.x + 30, m.y + 40, { steps: 6 });
    await p.mouse.up();
    await becomes(async () => Number((await corners(p))[1].split(', ')[1]) < 32.6125, 'it is dragged');
    await look(p, 'corner-put-in');
    await p.click('#undo');
    same((await corners(p))[1], '-78.1855000, 32.6125000', 'one step back');
    await p.locator('.corner-mark').nth(1).click({ button: 'right' });
    same((await corners(p)).length, 4, 'the right button takes it away');
  },
  async 'bring tests and screen again'(b, url) {
    const p = await page(b, url + 'run/1/', {}, 400); // a wrong target is refused on the way
    await ready(p);
    await p.setInputFiles('#file', labPath);
    await p.waitForSelector('#found fieldset.lime');
    const told = await p.textContent('#found');
    const said = program('tests', 'check', labPath);
    const flat = t => t.replace(/\s+/g, '');
    for (const line of await p.$$eval('#found .columns li', l => l.map(x => x.textContent))) need(flat(said.out).includes(flat(line)), `tests check says it too: ${line}`);
    need(told.includes('"64" is not a pH'), 'the fault is told');
    same(await p.inputValue('#lime-method'), 'georgia-lbc', 'the method of the state is proposed');
    await p.locator('#found').scrollIntoViewIfNeeded();
    await look(p, 'tests-understood', true);
    await p.fill('#lime-target', '9');
    await p.click('#found button:has-text("Screen again")');
    await p.waitForFunction(() => document.getElementById('lime-target-fault').textContent);
    need((await p.textContent('#lime-target-fault')).includes('a target pH of 9 is not possible'), 'a target that cannot be is told beside its field');
    need(await p.evaluate(() => document.activeElement.id === 'lime-target'), 'and has the focus');
    await look(p, 'tests-wrong-target');
    await p.fill('#lime-target', '6.2');
    await p.click('#found button:has-text("Screen again")');
    await p.waitForURL(/\/run\/4\//, { timeout: 30000 });
    await ready(p);
    await look(p, 'tested');
    const faults = await p.textContent('#files');
    need(faults.includes('"64" is not a pH'), 'the new run tells the fault of the file too');
    need(faults.includes('lime-method') && faults.includes('georgia-lbc') && faults.includes('lab.csv'), 'the record says what it was made from');
    await follow(p, /compare/, () => p.click('header .note a'));
    need((await p.textContent('main')).includes('Home Field (F1)'), 'the tested fields differ from the run before');
    await look(p, 'tests-compared', true);
    const cli = join(work, 'cli');
    const args = ['screen', join(demo, 'fields.geojson'), '--survey', join(demo, 'survey'), '--customer', 'owner', '--farm', 'farm', '--state', 'GA', '--tests', labPath, '--lime-method', 'georgia-lbc', '--target-ph', '6.2', '--out', cli];
    need([0, 3].includes(program(...args).code), 'the command line does the same');
    for (const f of ['zones.geojson', 'lime.csv', 'fields.csv', 'reasons.jsonl', 'run.json']) need(readFileSync(join(cli, f)).equals(readFileSync(join(work, 'runs', 'run-4', f))), `with the same ${f}, byte by byte`);
  },
  async 'boundary and tests dropped together, files taken along'(b, url) {
    const p = await page(b, url + 'run/1/', {}, 422); // a spreader that cannot be is refused on the way
    await ready(p);
    const bag = (z, n) => `${z},${n},0,15,2026-01-14,5.4,300,Tarn Lab\n`;
    const files = [{ name: 'isle.geojson', type: 'application/geo+json', text: JSON.stringify(island) }, { name: 'bags.csv', type: 'text/csv', text: 'field_id,sample_id,top_cm,bottom_cm,date,ph_water,lbc_ppm_ph,lab\n' + bag('Isle', 1) }];
    await p.evaluate(files => { // as a hand drops them
      const data = new DataTransfer();
      for (const f of files) data.items.add(new File([f.text], f.name, { type: f.type }));
      document.getElementById('drop').dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
    }, files);
    await p.waitForSelector('#found fieldset.lime');
    need((await p.textContent('#found')).includes('1 soil sample read; 1 field read'), 'both are read: ' + (await p.textContent('#found')).slice(0, 120));
    await p.click('#found button:has-text("Screen it alone with these tests")');
    await p.waitForURL(/\/run\/5\//, { timeout: 30000 });
    await ready(p);
    need((await p.$$eval('#zones tbody tr[data-zone]', t => t.length)) > 1, 'the field has zones');
    await p.locator('#files').scrollIntoViewIfNeeded();
    await look(p, 'files');
    const taken = {};
    for (const name of ['zones.shp.zip', 'zones.gpkg', 'zones.fgb', 'zones.parquet', 'zones.kml', 'zones.kmz', 'zones.lime.tif', 'zones.lime.cog.tif', 'zones.csv', 'zones.xlsx', 'landowner.html', 'landowner.pdf', 'landowner-a4.pdf', 'technician.pdf']) {
      const [file] = await Promise.all([p.waitForEvent('download'), p.click(`#files a:text-is("${name}")`)]);
      same(file.suggestedFilename(), name, 'the name of the file');
      taken[name] = await file.path();
    }
    const kept = join(work, 'runs', 'run-5'), out = join(work, 'converted');
    same(program('convert', kept, '--to', 'all', '--out', out).code, 0, 'the command converts the run that was kept');
    for (const [name, path] of Object.entries(taken)) if (name.startsWith('zones.')) need(readFileSync(path).equals(readFileSync(join(out, name))), `${name} is that of the command, byte by byte`);
    // For one's own spreader, by keyboard: a width, a step, and a bookmark of both.
    await p.locator('#sp-width').focus();
    await p.keyboard.type('18m');
    await p.locator('#sp-rate-step').focus();
    await p.keyboard.type('a half');
    await follow(p, /\/spread\?/, () => p.keyboard.press('Enter'));
    need((await p.textContent('#sw-rate-step')).includes('"a half" is not a number') && await p.inputValue('#sp-width') === '18m', 'a step that is none is told beside its field, and the rest is kept');
    same(await p.locator('.downloads').count(), 0, 'there is no file for it');
    await look(p, 'spreader-wrong', true);
    await p.fill('#sp-rate-step', '0.3');
    await follow(p, /rate-step=0\.3/, () => p.press('#sp-rate-step', 'Enter'));
    same(program('spread', kept, '--layout', 'zip', '--width', '18m', '--rate-step', '0.3', '--out', join(work, 'spread')).code, 0, 'the command makes task data');
    await p.reload();
    for (const name of ['TASKDATA.zip', 'load-sheet.html', 'load-sheet.txt']) {
      const [file] = await Promise.all([p.waitForEvent('download'), p.click(`.downloads a:text-is("${name}")`)]);
      need(readFileSync(await file.path()).equals(readFileSync(join(work, 'spread', name))), `${name} is that of the command with the same flags`);
    }
    const told = (await p.textContent('.tasks')).replaceAll(/\s+/g, ' ');
    need(/All ?\d+\.\d\d/.test(told), 'the tons stand on the page: ' + told.slice(0, 200));
    await look(p, 'spreader', true);
    await p.setViewportSize({ width: 320, height: 800 });
    await look(p, 'spreader-phone', true);
    await axe(b, p.url(), 'the spreader', async () => {}, async () => {});
    await p.goto(url + 'run/1/');
    need((await p.textContent('#files')).includes('from the soil survey and not from a lime test'), 'a run without tests has no task data, and says why');
  },
  async 'files by keyboard, on a phone'(b, url) {
    const p = await page(b, url + 'run/1/', { viewport: { width: 320, height: 800 } });
    await ready(p);
    await p.locator('#files a:text-is("zones.gpkg")').focus();
    const [file] = await Promise.all([p.waitForEvent('download'), p.keyboard.press('Enter')]);
    same(file.suggestedFilename(), 'zones.gpkg', 'Enter takes a file along');
    await p.locator('#files').scrollIntoViewIfNeeded();
    await look(p, 'files-phone-320');
  },
  async 'tests on a phone, in forced colours, for a judge'(b, url) {
    for (const width of [320, 390]) {
      const p = await page(b, url + 'run/1/', { viewport: { width, height: 800 } });
      await ready(p);
      await p.setInputFiles('#file', labPath);
      await p.waitForSelector('#found fieldset.lime');
      await look(p, `tests-phone-${width}`, true);
    }
    const p = await page(b, url + 'run/1/');
    await ready(p);
    await p.setInputFiles('#file', labPath);
    await p.waitForSelector('#found fieldset.lime');
    await p.emulateMedia({ forcedColors: 'active' });
    await p.locator('#found').scrollIntoViewIfNeeded();
    await look(p, 'tests-forced-colours');
    await axe(b, url + 'run/1/', 'tests read', async q => { await q.setInputFiles('#file', labPath); await q.waitForSelector('#found fieldset.lime'); });
    await axe(b, url + 'run/1/', 'boundary corrected', async q => {
      await q.locator('a.zone').first().click();
      await q.waitForSelector('#zone-h');
      await q.click('#correct');
      await q.waitForSelector('.corner-mark');
    });
  },
};

const b = await browser();
const args = [join(demo, 'fields.geojson'), '--survey', join(demo, 'survey'), '--customer', 'owner', '--farm', 'farm', '--state', 'GA', '--runs', join(work, 'runs')];
const site = await view(...args);
await screened(site.url, 1);
const only = process.env.ONLY; // a task by a part of its name; some build on those before
for (const [name, task] of Object.entries(tasks)) {
  if (only && !name.includes(only)) continue;
  console.log('task: ' + name);
  try { await task(b, site.url); } catch (e) { need(false, `${name}: ${e.message.split('\n')[0]}`); }
  for (const c of b.contexts()) await c.close();
}
await site.stop();

console.log('task: the tests of a run, after the program was started anew');
const anew = await view(...args), other = /\/run\/(?!4\/)\d+\//;
await screened(anew.url, 1); // run-1 of the first start; the one that this start makes comes behind those that are there
try {
  const p = await page(b, anew.url + 'run/4/');
  await ready(p);
  await p.locator('a.zone').first().click();
  await p.waitForSelector('#zone-h');
  await p.focus('#correct');
  await p.keyboard.press('Enter');
  await p.waitForFunction(() => document.getElementById('draw-id').value === 'F1');
  await p.focus('#check');
  await p.keyboard.press('Enter');
  await p.waitForSelector('#with-tests');
  need(await p.isChecked('#with-tests') && (await p.textContent('#found')).includes('Keep the laboratory tests of this run: lab.csv'), 'the tests of the run are offered, and ticked');
  await p.locator('#found').scrollIntoViewIfNeeded();
  await look(p, 'tests-held');
  await follow(p, other, () => p.click('#found button:has-text("with the fields")'));
  await ready(p);
  const facts = await p.textContent('#files');
  need(facts.includes('lab.csv') && facts.includes('georgia-lbc') && facts.includes('drawn.geojson'), 'the new run was made with them: ' + facts.slice(-400));
  const north = join(work, 'north.geojson');
  writeFileSync(north, JSON.stringify({ type: 'FeatureCollection', features: [{ type: 'Feature', properties: { id: 'F1', farm: 'Heron Bend', owner: 'R. Alder' }, geometry: { type: 'Polygon', coordinates: [box(-78.1905, 32.6095, 0.01, 0.003)] } }] }));
  await p.goto(anew.url + 'run/4/');
  await ready(p);
  await p.setInputFiles('#file', north);
  await p.waitForSelector('#with-tests');
  await follow(p, other, () => p.click('#found button:has-text("Screen it alone")'));
  await ready(p);
  const name = /run-\d+/.exec(await p.textContent('h1'))[0], cli = join(work, 'north');
  need([0, 3].includes(program('screen', north, '--survey', join(demo, 'survey'), '--customer', 'owner', '--farm', 'farm', '--state', 'GA', '--tests', labPath, '--lime-method', 'georgia-lbc', '--target-ph', '6.2', '--out', cli).code), 'the command line does the same');
  for (const f of ['zones.geojson', 'fields.geojson', 'lime.csv', 'fields.csv', 'reasons.jsonl', 'run.json']) need(readFileSync(join(cli, f)).equals(readFileSync(join(work, 'runs', name, f))), `with the same ${f}, byte by byte`);
  await p.goto(anew.url + 'run/4/');
  await ready(p);
  await p.setInputFiles('#file', north);
  await p.waitForSelector('#with-tests');
  await p.uncheck('#with-tests');
  await follow(p, other, () => p.click('#found button:has-text("with the fields")'));
  await ready(p);
  need(!(await p.textContent('#files')).includes('lab.csv'), 'without the tick they stay away');
  await axe(b, anew.url + 'run/4/', 'tests held', async q => { await q.setInputFiles('#file', north); await q.waitForSelector('#with-tests'); });
} catch (e) { need(false, e.message.split('\n')[0]); }
await anew.stop();

console.log('task: tests where no survey is open');
const finished = await view(run);
try {
  const p = await page(b, finished.url);
  await ready(p);
  await p.setInputFiles('#file', labPath);
  await p.waitForSelector('#found pre.command');
  need(/^rootworthy screen fields\.geojson .*--survey survey .*--tests lab\.csv --out DIR$/.test(await p.textContent('#found pre.command')), 'the command to use them: ' + await p.textContent('#found pre.command'));
  await p.locator('#found').scrollIntoViewIfNeeded();
  await look(p, 'tests-no-survey');
} catch (e) { need(false, e.message.split('\n')[0]); }
await finished.stop();

console.log('task: relief under the zones');
// Rolling ground over the invented survey, from a text that any GIS reads.
const rows = [];
for (let r = 0; r < 280; r++) rows.push(Array.from({ length: 420 }, (_, c) => (40 + 9 * Math.sin(c / 23 + r / 60) + 6 * Math.cos(r / 31)).toFixed(2)).join(' '));
writeFileSync(join(work, 'dem.asc'), `ncols 420\nnrows 280\nxllcorner -78.212\nyllcorner 32.596\ncellsize 0.0001\nNODATA_value -9999\n${rows.join('\n')}\n`);
const dem = join(work, 'dem.tif');
const made = spawnSync('gdal_translate', ['-q', '-a_srs', 'EPSG:4326', join(work, 'dem.asc'), dem], { encoding: 'utf8' });
same(made.status, 0, 'gdal_translate makes the heights: ' + made.stderr);
const hills = await view(run, '--elevation', dem, '--elevation-unit', 'm');
try {
  const p = await page(b, hills.url);
  await ready(p);
  need(/^Relief: light from the north-west/.test(await p.textContent('#relief-note')), 'the page says how the relief is drawn');
  await p.uncheck('#f-relief');
  const bare = await still(p);
  await p.check('#f-relief');
  await becomes(async () => !bare.equals(await still(p)), 'the relief can be put on');
  await look(p, 'relief');
  await p.uncheck('#f-relief');
  await becomes(async () => bare.equals(await still(p)), 'and taken off');
  await p.emulateMedia({ media: 'print' });
  await becomes(async () => await p.locator('#drawn svg path[stroke-width="0.55"]').count() === 1, 'paper has the relief as strokes');
  await look(p, 'relief-print', true);
  await axe(b, hills.url, 'relief', async () => {});
} catch (e) { need(false, e.message.split('\n')[0]); }
await hills.stop();
await b.close();
done();
