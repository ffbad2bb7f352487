// What the page asks the program for. Every answer comes from the same origin; a change carries the token of the page.
const token = document.querySelector('meta[name=token]').content;

async function reply(response) {
  const data = await response.json().catch(() => ({error: `the program answered ${response.status}`}));
  if (!response.ok) throw new Error(data.error || `the program answered ${response.status}`);
  return data;
}

const unreachable = () => { throw new Error('the program does not answer; is it still running?'); };

export async function get(address, signal) {
  const r = await fetch(address, {headers: {Accept: 'application/json'}, signal}).catch(e => { if (e.name === 'AbortError') throw e; unreachable(); });
  return reply(r);
}

export async function text(address) {
  const r = await fetch(address).catch(unreachable);
  if (!r.ok) await reply(r);
  return r.text();
}

export async function post(address, body) {
  const headers = {'X-Rootworthy-Token': token, Accept: 'application/json'};
  if (!(body instanceof FormData)) headers['Content-Type'] = 'application/json';
  const r = await fetch(address, {method: 'POST', headers, body: body instanceof FormData ? body : JSON.stringify(body || {})}).catch(unreachable);
  return reply(r);
}

// tell says something to everybody, also to those who only hear the page.
export function tell(what) { document.getElementById('status').textContent = what; }
