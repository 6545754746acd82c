/**
 * The same make found by another method, in small steps: velocities with impulses that fulfil friction and contact at the end
 * of each step (Moreau's time stepping; method class: Studer, Leine, Glocker, Int. J. Numer. Meth. Engng 76, 2008). First
 * order, so two step sizes are extrapolated. It knows no events and no closed form.
 */
import { describe, expect, it } from 'vitest';
import { run, type Motion } from '../../../services/calculations/draft-cycle/motion.js';
import { oneMake, randomMakes } from './scenes.js';

interface Found { slack: number; wound: number; stored: number }
function step(m: Motion, h: number): Found {
  const n = Math.round(m.until / h);
  const feed = (t: number): number => { const p = m.hand.find((x) => x.from <= t && t < x.to); return p === undefined ? 0 : p.start + ((p.end - p.start) * (t - p.from)) / (p.to - p.from); };
  const drafted = (t: number): number => m.draft.find((x) => x.from <= t && t < x.to)?.speed ?? 0;
  const { depth, rate } = m.pulse;
  const b0 = m.pulse.with * m.radius * m.carrier * depth * rate;
  let [v, s, x, wound, turns, slack] = [m.start.speed ?? 0, 0, m.start.length, 0, m.start.turns, 0];
  for (let i = 0; i < n; i++) {
    const [t, middle] = [i * h, (i + 0.5) * h];
    const [u, w] = [feed(middle), drafted(middle)];
    const top = m.ceiling * (1 + depth * Math.sin(rate * (t + h)));
    const pushed = v + h * b0 * Math.cos(rate * middle);
    // Friction drives towards the ceiling with what it has, and no further.
    const free = pushed < top ? Math.min(top, pushed + h * m.quickening) : Math.max(top, pushed - h * m.quickening);
    // Yarn pulls only when it would otherwise be too short, and then with all that friction allows behind it.
    const taut = u + s / h;
    v = taut < free ? taut : free;
    const l = x + s;
    s = Math.max(0, s + h * (u - v));
    x += h * (w - u);
    wound += h * v;
    const turning = (m.carrier * (1 + depth * Math.sin(rate * middle))) / (2 * Math.PI) - (m.perLap ? v / (2 * Math.PI * m.radius) : 0);
    const after = x + s;
    // The free length in the middle of the step; turns by the implicit midpoint.
    const k = (h * v) / (l + after);
    turns = (turns * (1 - k) + h * turning) / (1 + k);
    slack = Math.max(slack, s);
  }
  return { slack, wound, stored: turns };
}
const extrapolated = (m: Motion): Found => {
  const [coarse, fine] = [step(m, 2e-4), step(m, 1e-4)];
  return { slack: 2 * fine.slack - coarse.slack, wound: 2 * fine.wound - coarse.wound, stored: 2 * fine.stored - coarse.stored };
};
const onGrid = (m: Motion): Motion => {
  const g = (t: number): number => Math.round(t / 2e-4) * 2e-4;
  return { ...m, until: g(m.until), hand: m.hand.map((p) => ({ ...p, from: g(p.from), to: g(p.to) })).filter((p) => p.to > p.from), draft: m.draft.map((p) => ({ ...p, from: g(p.from), to: g(p.to) })) };
};

describe('against small steps', () => {
  const makes = randomMakes(45).map(onGrid);
  it('every set-up of the sample agrees in slack, yarn and turns', () => {
    let [slackened, worst] = [0, 0];
    for (const [i, m] of makes.entries()) {
      const [exact, other] = [run(m), extrapolated(m)];
      expect(exact.audits.failed, `set-up ${i}`).toEqual([]);
      const off = Math.abs(exact.mostSlack - other.slack);
      worst = Math.max(worst, off);
      expect(off, `slack of set-up ${i}`).toBeLessThan(2e-5 + 1e-3 * exact.mostSlack);
      expect(Math.abs(exact.wound - other.wound), `yarn of set-up ${i}`).toBeLessThan(1e-4);
      const stored = exact.twist * (m.start.length + m.draft.reduce((sum, d) => sum + d.speed * (d.to - d.from), 0) - exact.wound);
      expect(Math.abs(stored - other.stored), `turns of set-up ${i}`).toBeLessThan(2e-3 * Math.max(1, stored));
      if (exact.mostSlack > 1e-3) slackened++;
    }
    console.log(`${makes.length} set-ups, ${slackened} of them go slack; slack differs by ${worst.toExponential(1)} m at most`);
    expect(slackened).toBeGreaterThan(10);
    expect(makes.length - slackened).toBeGreaterThan(5);
  });
  it('a wheel that swings far more than its band can hold is answered or refused, and never runs for ever', () => {
    let answered = 0;
    for (const m of makes.filter((x) => x.pulse.depth > 0)) {
      for (const depth of [0.1, 0.2, 0.3, 0.6]) {
        try { if (run({ ...m, pulse: { ...m.pulse, depth } }).audits.failed.length === 0) answered++; } catch (error) { expect(String(error)).toContain('Events without end'); }
      }
    }
    console.log(`${answered} of 88 wheels that swing by 10 to 60 % are answered`);
    expect(answered).toBeGreaterThan(80);
  });
  it('comes nearer in the first order as its steps shrink', () => {
    const exact = run(oneMake).mostSlack;
    const off = [4e-3, 2e-3, 1e-3, 5e-4].map((h) => Math.abs(step(oneMake, h).slack - exact));
    const orders = off.slice(1).map((x, i) => Math.log2(off[i]! / x));
    console.log(`order of the small steps: ${orders.map((o) => o.toFixed(2)).join(', ')}`);
    for (const o of orders) expect(Math.abs(o - 1)).toBeLessThan(0.25);
  });
});
