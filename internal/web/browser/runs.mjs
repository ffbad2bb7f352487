// What somebody does who has runs of the command line: compares them, corrects a boundary of one that was made with tests, brings boundaries whose
// fields another program named. Every task keeps a picture, and what comes of it is held against the command line, byte by byte.
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { axe, becomes, browser, done, follow, look, need, page, program, ready, same, screened, view } from './harness.mjs';

const work = mkdtempSync(join(tmpdir(), 'runs-'));
const demo = join(work, 'demo'), runs = join(work, 'runs'), fields = join(demo, 'fields.geojson'), labPath = join(demo, 'lab.csv');
same(program('demo', '--out', demo).code, 0, 'the demo');
mkdirSync(runs);
const screen = (...args) => { const r = program('screen', ...args); need([0, 3].includes(r.code), `screen: ${r.code} ${r.err}`); };
const survey = ['--survey', join(demo, 'survey'), '--date', '2026-03-01'];

// Points over the first field, more acid in the west, so that its zones can be split.
const points = Array.from({ length: 20 }, (_, i) => `s${i},${(-78.1988 + 0.0003 * i).toFixed(6)},${(32.6152 + 0.0006 * (i % 5)).toFixed(6)},0-15 cm,2026-01-14,${(5 + 0.08 * i).toFixed(1)},300,Tarn Lab`);
const lab = 'sample_id,lon,lat,depth,date,ph_water,lbc_ppm_ph,lab\n' + points.join('\n') + '\n';
writeFileSync(labPath, lab);
const tests = ['--tests', labPath, '--lime-method', 'georgia-lbc', '--state', 'GA', '--interpolate', 'inverse-distance', '--split-zones', '2', '--spread-width', '60'];
screen(fields, ...survey, '--out', join(runs, 'autumn'));
screen(fields, ...survey, ...tests, '--out', join(runs, 'spring'));

const square = (x, y, w, h) => [[x, y], [x + w, y], [x + w, y + h], [x, y + h], [x, y]];
const boundaries = (name, ...features) => { const path = join(work, name); writeFileSync(path, JSON.stringify({ type: 'FeatureCollection', features: features.map(([properties, ring]) => ({ type: 'Feature', properties, geometry: { type: 'Polygon', coordinates: [ring] } })) })); return path; };
const files = ['zones.geojson', 'fields.geojson', 'lime.csv', 'fields.csv', 'reasons.jsonl', 'run.json'];
// kept holds the run on a page against one of the command line.
async function kept(p, typed, what) {
  const name = /run-\d+/.exec(await p.textContent('h1'))[0];
  for (const f of files) need(readFileSync(join(typed, f)).equals(readFileSync(join(runs, name, f))), `${what}: the same ${f}, byte by byte`);
}

const tasks = {
  async 'compare last year with this year'(b, url) {
    const p = await page(b, url + 'runs');
    await follow(p, /compare/, () => p.click('tr:has-text("spring") a:has-text("with the run before")'));
    const said = program('compare', join(runs, 'autumn'), join(runs, 'spring'), '--out', join(work, 'changes.csv'));
    const flat = t => t.replace(/\s+/g, ' ');
    for (const s of await p.$$eval('#says li', l => l.map(x => x.textContent))) need(flat(said.out).includes(flat(s)), `compare says it too: ${s}`);
    const [file] = await Promise.all([p.waitForEvent('download'), p.click('a:has-text("changes.csv")')]);
    need(readFileSync(await file.path()).equals(readFileSync(join(work, 'changes.csv'))), 'changes.csv is that of the command, byte by byte');
    // One soil of the field became several zones, and each stands beside it with its share.
    const rows = await p.$$eval('#differs tbody tr', t => t.map(x => x.textContent));
    const home = rows.filter(r => r.includes('Home Field (F1)') && r.includes('F1/1'));
    need(home.length >= 2 && home.every(r => /\d+ % of its 63\.8 acres|all of it/.test(r)), 'the split zones stand beside the one they were: ' + home.length);
    need((await p.textContent('#turns')).includes('surface pH, which lime mends'), 'the turn of class has its reason');
    await look(p, 'compared', true);
    await follow(p, /\/run\/\d+\/zone\//, () => p.click('#differs a.zone >> nth=0'));
    for (const width of [390, 320]) {
      const q = await page(b, url + 'compare?a=1&b=2', { viewport: { width, height: 800 } });
      await look(q, `compared-phone-${width}`, true);
      need((await q.evaluate(() => getComputedStyle(document.querySelector('#differs td[data-run]'), '::before').content)).includes('autumn'), 'on a phone each side says which run it is');
    }
    const q = await page(b, url + 'compare?a=1&b=1');
    need((await q.textContent('main')).includes('Nothing differs') && await q.locator('#differs').count() === 0, 'a run beside itself has not changed');
    await axe(b, url + 'compare?a=1&b=2', 'compared', async () => {}, async () => {});
  },
  async 'correct a boundary of a run of the command line'(b, url) {
    const p = await page(b, url + 'run/2/');
    await ready(p);
    await p.locator('a.zone').first().click();
    await p.waitForSelector('#zone-h');
    await p.click('#correct');
    await p.waitForFunction(() => document.getElementById('draw-id').value === 'F1');
    await p.click('#check');
    await p.waitForSelector('#with-tests');
    const told = await p.textContent('#found');
    need(told.includes('Keep the laboratory tests of this run: lab.csv') && told.includes('--lime-method georgia-lbc') && told.includes('--split-zones 2'), 'its tests are there, and how they were used: ' + told.slice(-400));
    need(await p.locator('#naming').count() === 0, 'what was drawn has its name from the page');
    await p.locator('#found').scrollIntoViewIfNeeded();
    await look(p, 'tests-of-the-command-line');
    // Dropped as a file and screened alone it is what screen makes of it with the flags of both.
    const north = boundaries('north.geojson', [{ id: 'F1', name: 'North' }, square(-78.1992, 32.6146, 0.006, 0.0036)]);
    await p.setInputFiles('#file', north);
    await p.waitForSelector('#naming');
    need(await p.isChecked('#with-tests'), 'the box is ticked');
    await follow(p, /\/run\/(?!2\/)\d+\//, () => p.click('#found button:has-text("Screen it alone")'));
    await ready(p);
    const typed = join(work, 'north');
    screen(north, ...survey, ...tests, '--out', typed);
    await kept(p, typed, 'with the tests of the run');
    need(readFileSync(join(typed, 'lime.csv'), 'utf8').includes('test: georgia-lbc'), 'and the tests counted');
  },
  async 'tests that were changed, or are gone'(b, url) {
    const north = boundaries('north.geojson', [{ id: 'F1' }, square(-78.1992, 32.6146, 0.006, 0.0036)]);
    for (const [change, says] of [[() => writeFileSync(labPath, lab + ' '), 'lab.csv is no longer the file that it was made with'], [() => rmSync(labPath), 'no longer beside the run, beside the fields or where the program was started']]) {
      change();
      const p = await page(b, url + 'run/2/');
      await ready(p);
      await p.setInputFiles('#file', north);
      await p.waitForSelector('#found .note');
      const told = await p.textContent('#found .note');
      need(told.includes(says) && told.includes('Drop them together with the boundary'), 'the page says so: ' + told);
      need(await p.locator('#with-tests').count() === 0, 'and offers no tests');
      await look(p, 'tests-gone');
    }
    writeFileSync(labPath, lab);
  },
  async 'choose which property is the id'(b, url) {
    const east = boundaries('east.geojson', [{ parcel: '7', tract: '014', who: 'R. Alder' }, square(-78.1905, 32.6095, 0.006, 0.003)], [{ parcel: '7', tract: '015', who: 'R. Alder' }, square(-78.184, 32.6095, 0.003, 0.003)]);
    const p = await page(b, url + 'run/1/');
    await ready(p);
    await p.setInputFiles('#file', east);
    await p.waitForSelector('#naming');
    const offered = await p.$$eval('#naming-id option', o => o.map(x => x.textContent));
    same(offered.slice(1), ['tract: 014, 015', 'parcel: 7 (some alike)', 'who: R. Alder (some alike)'], 'the properties are offered, what can be an id first');
    const told = () => p.$$eval('#found > .told:first-of-type li', l => l.map(x => x.textContent));
    const choose = async (name, value) => { await p.selectOption('#naming-' + name, value); };
    await choose('id', 'parcel');
    await becomes(async () => (await p.textContent('#found')).includes('the id "7" is also that of'), 'an id that stands twice is told');
    const said = program('screen', east, ...survey, '--id', 'parcel', '--out', join(work, 'twice'));
    need((said.out + said.err).replace(/\s+/g, ' ').includes(/the id "7".*feature 1 of/.exec((await told())[0])[0]), 'in the words of the command line: ' + (await told())[0]);
    await look(p, 'id-twice', true);
    await p.focus('#naming-id');
    await p.keyboard.press('t'); // by keyboard: the first letter chooses
    await becomes(async () => (await p.textContent('#found')).includes('014: ') && await p.evaluate(() => document.activeElement.id) === 'naming-id', 'the fields have their ids, and the focus stays');
    await choose('customer', 'who');
    await becomes(() => p.evaluate(() => document.getElementById('naming-customer')?.value === 'who' && document.activeElement.id === 'naming-customer'), 'the owner is chosen');
    await p.locator('#naming').scrollIntoViewIfNeeded();
    await look(p, 'id-chosen');
    await axe(b, url + 'run/1/', 'fields named', async q => { await q.setInputFiles('#file', east); await q.waitForSelector('#naming'); });
    const phone = await page(b, url + 'run/1/', { viewport: { width: 320, height: 800 } });
    await ready(phone);
    await phone.setInputFiles('#file', east);
    await phone.waitForSelector('#naming');
    await look(phone, 'id-phone-320', true);
    await follow(p, /\/run\/(?!1\/)\d+\//, () => p.click('#found button:has-text("Screen it alone")'));
    await ready(p);
    const typed = join(work, 'east');
    screen(east, ...survey, '--id', 'tract', '--customer', 'who', '--out', typed);
    await kept(p, typed, 'with the chosen id and owner');
  },
};

const b = await browser();
const site = await view(fields, ...survey, '--runs', runs);
await screened(site.url, 3); // behind autumn and spring, which stand there already
const only = process.env.ONLY;
for (const [name, task] of Object.entries(tasks)) {
  if (only && !name.includes(only)) continue;
  console.log('task: ' + name);
  try { await task(b, site.url); } catch (e) { need(false, `${name}: ${e.message.split('\n')[0]}`); }
  for (const c of b.contexts()) await c.close();
}
await site.stop();
await b.close();
done();
