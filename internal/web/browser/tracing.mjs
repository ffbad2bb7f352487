// Reads a trace of Chromium: what the main thread of the page did between two marks, and when frames were drawn.

// read returns a line for each pair of marks "begin NAME" and "end NAME", in their order.
export function read(buffer) {
  const events = JSON.parse(buffer.toString()).traceEvents;
  const main = mainThread(events);
  const ours = e => e.pid === main.pid && e.tid === main.tid;
  const tasks = events.filter(e => ours(e) && e.ph === 'X' && (e.name === 'RunTask' || e.name === 'ThreadControllerImpl::RunTask'));
  const frames = events.filter(e => e.pid === main.pid && e.name === 'DrawFrame').map(e => e.ts).sort((a, b) => a - b);
  const inner = events.filter(e => ours(e) && e.ph === 'X' && e.name !== 'RunTask' && e.name !== 'ThreadControllerImpl::RunTask' && e.dur > 5000);
  return spans(events, main).map(({ name, from, to }) => {
    const within = tasks.filter(t => t.ts >= from - 1e3 && t.ts < to).map(t => ({ ts: t.ts, dur: t.dur / 1e3, cpu: (t.tdur ?? t.dur) / 1e3 }));
    const worst = within.reduce((a, t) => t.dur > a.dur ? t : a, { dur: 0, cpu: 0, ts: 0 });
    const heavy = within.reduce((a, t) => t.cpu > a.cpu ? t : a, { dur: 0, cpu: 0, ts: 0 });
    const drawn = frames.filter(t => t >= from && t < to);
    const gaps = drawn.slice(1).map((t, i) => (t - drawn[i]) / 1e3).filter(g => g < 1000).sort((a, b) => a - b); // longer ones: nothing moved
    const at = q => gaps.length ? gaps[Math.min(gaps.length - 1, Math.floor(q * gaps.length))] : 0;
    return { name, long: within.filter(t => t.dur > 50).length, longest: worst.dur, cpu: heavy.cpu, frames: drawn, median: at(0.5), high: at(0.95), most: at(1), what: spent(inner, heavy) };
  });
}

// spent names what a task spent its time on, the largest first.
function spent(inner, task) {
  const parts = inner.filter(e => e.ts >= task.ts && e.ts < task.ts + task.dur * 1e3).sort((a, b) => b.dur - a.dur).slice(0, 4);
  return parts.map(e => `${e.name} ${(e.dur / 1e3).toFixed(0)} ms ${(e.args?.data?.functionName || '')}`.trim()).join(', ');
}

// mainThread is that of the process which set the marks.
function mainThread(events) {
  const mark = events.find(e => e.cat?.includes('blink.user_timing') && e.name?.startsWith('begin '));
  if (!mark) throw new Error('the trace holds no mark');
  return { pid: mark.pid, tid: mark.tid };
}

function spans(events, main) {
  const out = [];
  for (const e of events.filter(e => e.pid === main.pid && e.cat?.includes('blink.user_timing') && (e.ph === 'I' || e.ph === 'R' || e.ph === 'i')).sort((a, b) => a.ts - b.ts)) {
    if (e.name.startsWith('begin ')) out.push({ name: e.name.slice(6), from: e.ts, to: Infinity });
    const open = out.find(s => e.name === 'end ' + s.name && s.to === Infinity);
    if (open) open.to = e.ts;
  }
  return out;
}
