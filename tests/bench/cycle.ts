/**
 * What a draft cycle costs: 60 s of spinning under a prescribed hand, looked at every millisecond, against a general solver
 * that is asked for the same slack; the treadled wheel; and memory, which stays where it is while no series is asked for.
 * `npm run bench:cycle`. Quickest of several runs: what disturbs only ever adds.
 */
import { all, create } from 'mathjs';
import { run, type Motion } from '../../services/calculations/draft-cycle/motion.js';
import { treadle } from '../../services/calculations/draft-cycle/treadled.js';
import { oneMake, treadledMake } from '../calculations/draft-cycle/scenes.js';

type SolveOde = (f: (t: number, y: number[]) => number[], range: number[], y0: number[], how: object) => { t: number[]; y: number[][] };
const math = create(all!, {}) as unknown as { solveODE: SolveOde };
const repeated = (seconds: number): Motion => {
  const n = Math.round(seconds / oneMake.until);
  const shift = <T extends { from: number; to: number }>(list: readonly T[]): T[] => Array.from({ length: n }, (_, i) => list.map((p) => ({ ...p, from: p.from + i * oneMake.until, to: p.to + i * oneMake.until }))).flat();
  return { ...oneMake, hand: shift(oneMake.hand), draft: shift(oneMake.draft), until: n * oneMake.until };
};
const quickest = (times: number, work: () => void): number => {
  let best = Infinity;
  for (let i = 0; i < times; i++) { const t = performance.now(); work(); best = Math.min(best, performance.now() - t); }
  return best;
};
const wanted = { ms: 2, slack: 1e-6 };
const minute = repeated(60);
let [rows, deepest] = [0, 0];
const everyMillisecond = { step: 1e-3, at: (m: { slack: number }): void => { rows++; if (m.slack > deepest) deepest = m.slack; } };

// The slack in closed form: the hand speeds up for 0.1 s at 8 m/s², the package follows at 2.5 m/s² and is as fast at 0.8/2.5 s.
const byHand = 0.5 * 8 * 0.1 ** 2 + 0.8 * (0.8 / 2.5 - 0.1) - 0.5 * 2.5 * (0.8 / 2.5) ** 2;
for (let i = 0; i < 60; i++) run(minute, everyMillisecond);
rows = 0;
run(minute, everyMillisecond);
const inOne = rows;
const [looked, alone] = [quickest(80, () => { run(minute, everyMillisecond); }), quickest(80, () => { run(minute); })];
const off = Math.abs(run(minute).mostSlack - byHand);
console.log(`60 s of spinning, prescribed hand, every millisecond (${inOne} rows): ${looked.toFixed(2)} ms (wanted ${wanted.ms}); summary alone ${alone.toFixed(2)} ms; slack off by ${off.toExponential(1)} m (wanted ${wanted.slack})`);

// The general solver knows no events, so it is handed one phase ready cut: from the start of the wind-on until the package is as fast as the hand.
const feed = (t: number): number => Math.min(0.8, 8 * t);
const solved = (tol: number): { slack: number; ms: number } => {
  const t0 = performance.now();
  const { y } = math.solveODE((t, x) => [feed(t) - x[1]!, oneMake.quickening], [0, 0.8 / 2.5], [0, 0], { method: 'RK45', tol, minStep: 1e-9, maxStep: 0.1, maxIter: 1e5 });
  return { slack: y.at(-1)![0]!, ms: performance.now() - t0 };
};
for (const tol of [1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9]) {
  const found = Array.from({ length: 5 }, () => solved(tol)).toSorted((x, y) => x.ms - y.ms)[0]!;
  if (Math.abs(found.slack - byHand) > wanted.slack && tol > 1e-9) continue;
  console.log(`a general solver (Runge-Kutta 4(5)), one make's slack alone, handed to it ready cut: ${found.ms.toFixed(2)} ms, off by ${Math.abs(found.slack - byHand).toExponential(1)} m; ${(24 * found.ms).toFixed(0)} ms for the minute`);
  break;
}
for (let i = 0; i < 10; i++) treadle(treadledMake);
console.log(`the treadled wheel, 3 s: ${quickest(30, () => { treadle(treadledMake); }).toFixed(2)} ms`);

const held = (seconds: number): number => { const m = repeated(seconds); run(m); globalThis.gc?.(); const before = process.memoryUsage().heapUsed; const o = run(m); globalThis.gc?.(); void o; return process.memoryUsage().heapUsed - before; };
console.log(`kept after a run without a series: ${[60, 600, 3000].map((s) => `${s} s ${(held(s) / 1024).toFixed(0)} kB`).join(', ')}${globalThis.gc === undefined ? ' (run with --expose-gc to be sure)' : ''}`);
if (looked > wanted.ms || off > wanted.slack) process.exitCode = 1;
