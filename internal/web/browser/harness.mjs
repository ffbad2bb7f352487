// Starts the program, opens a browser, and keeps count of what holds and what does not.
import { spawn, spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';

const home = process.env.CHECKS_HOME || join(process.env.HOME, '.cache', 'rw-checks');
const require = createRequire(join(home, 'node_modules', 'x.js'));
const { chromium } = require('playwright-core');
const AXE = readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');
const GL = ['--enable-unsafe-swiftshader', '--use-gl=angle', '--use-angle=swiftshader'];

export const [, , bin, shared, out] = process.argv;
if (!out) { console.error('usage: node FILE BIN SHARED OUT'); process.exit(2); }
mkdirSync(out, { recursive: true });

let bad = 0, good = 0;
export function need(ok, what) { if (ok) good++; else { bad++; console.log('BAD  ' + what); } return ok; }
export function same(got, want, what) { need(JSON.stringify(got) === JSON.stringify(want), `${what}: got ${JSON.stringify(got)?.slice(0, 300)}, want ${JSON.stringify(want)?.slice(0, 300)}`); }
export function done() { console.log(`${bad ? 'FAIL' : 'OK'} ${good} held, ${bad} did not`); process.exit(bad ? 1 : 0); }

// program runs one command to its end.
export function program(...args) {
  const p = spawnSync(bin, args, { encoding: 'utf8' });
  return { code: p.status, out: p.stdout, err: p.stderr };
}

// view starts the page and resolves to its address; stop() interrupts it as Ctrl-C does.
export async function view(...args) {
  const child = spawn(bin, ['view', ...args], { stdio: ['ignore', 'pipe', 'pipe'] });
  let log = '';
  for (const s of [child.stdout, child.stderr]) s.on('data', d => { log += d; });
  const end = new Promise(ok => child.on('exit', code => ok(code)));
  for (let i = 0; i < 300 && !/http:\S+/.test(log) && child.exitCode === null; i++) await sleep(50);
  const url = /http:\S+/.exec(log)?.[0];
  if (!url) throw new Error('no address: ' + log);
  return { url, stop: async () => { child.kill('SIGINT'); return end; } };
}

export const sleep = ms => new Promise(ok => setTimeout(ok, ms));

export async function browser(webgl = true) {
  return chromium.launch({ executablePath: process.env.CHROMIUM || '/usr/bin/chromium',
    args: ['--no-sandbox', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--force-color-profile=srgb', ...(webgl ? GL : ['--disable-3d-apis', '--disable-gpu'])] });
}

// page opens an address and fails on script errors, console errors and requests to anywhere else. A browser logs every
// refusal of the program as an error; refused is the one that a task provokes.
export async function page(b, url, opt = {}, refused = 0) {
  const ctx = await b.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion: 'reduce', acceptDownloads: true, ...opt });
  const p = await ctx.newPage();
  p.on('pageerror', e => need(false, `script error: ${e.message}`));
  p.on('console', m => { if (m.type() === 'error' && !(refused && m.text().includes(`status of ${refused}`))) need(false, `console: ${m.text()}`); });
  p.on('request', r => { const u = new URL(r.url()); if (!['data:', 'blob:'].includes(u.protocol) && u.origin !== new URL(url).origin) need(false, `asks for ${u.origin}`); });
  await p.goto(url);
  return p;
}

// until asks again and again and resolves to true as soon as it holds, or to false after twenty seconds: a browser on a busy
// machine shows things when it can, not when a script expects them.
export async function until(holds) {
  for (const end = Date.now() + 20000; ;) {
    if (await holds()) return true;
    if (Date.now() > end) return false;
    await sleep(100);
  }
}

// becomes waits for what a user will see sooner or later.
export async function becomes(holds, what) { return need(await until(holds), what); }

// follow takes a way to another page and waits until that page is there; a click alone returns while the old one stands.
export async function follow(p, address, what) { await Promise.all([p.waitForURL(address), what()]); }

// still resolves to a picture of the map once two in a row are the same.
export async function still(p) {
  const canvas = () => p.locator('#map canvas').screenshot();
  let last = await canvas();
  await until(async () => { const now = await canvas(), same = now.equals(last); last = now; return same; });
  return last;
}

// screened waits until a run can be opened: the page listens before its first screening is done.
export async function screened(url, run) { need(await until(async () => (await fetch(`${url}run/${run}/`)).ok), `run ${run} is made`); }

export const ready = p => p.waitForFunction(() => document.body.classList.contains('has-map') && document.body.dataset.ms, null, { timeout: 60000 });

// act does something and waits until the page has been answered.
export async function act(p, what) {
  await p.evaluate(() => { document.body.dataset.ms = ''; });
  await what();
  await p.waitForFunction(() => document.body.dataset.ms !== '', null, { timeout: 30000 });
}

// look keeps a picture and checks that nothing sticks out sideways.
export async function look(p, name, full = false) {
  await p.screenshot({ path: join(out, name + '.png'), fullPage: full });
  const over = await p.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  need(over <= 0, `${name}: ${over} px wider than the window`);
}

// axe judges a state of the page that only a script reaches: the policy of the page is set aside for the judge alone.
export async function axe(b, url, name, reach, settle = ready) {
  const ctx = await b.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion: 'reduce', bypassCSP: true });
  const p = await ctx.newPage();
  await p.goto(url);
  await settle(p);
  await reach(p);
  await p.addScriptTag({ content: AXE });
  const r = await p.evaluate(() => axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }));
  for (const v of r.violations) need(false, `${name}: axe ${v.id}: ${v.help}, first ${v.nodes[0].target}`);
  need(r.passes.length > 20, `${name}: axe saw only ${r.passes.length} rules pass`);
  await ctx.close();
}
