/** The audits can fail: one term is broken at a time, and the balance that it belongs to is seen to miss it. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { describe, expect, it } from 'vitest';
import { contract } from '../../../services/calculations/draft-cycle/contract.js';
import type * as answers from '../../../services/calculations/draft-cycle/answer.js';
import { run, type Motion, type Outcome } from '../../../services/calculations/draft-cycle/motion.js';
import { treadle, type Treadled, type TreadledOutcome } from '../../../services/calculations/draft-cycle/treadled.js';
import { oneMake, treadledMake } from './scenes.js';

const folder = fileURLToPath(new URL('../../../services/calculations/draft-cycle/', import.meta.url));
/** A module with one text of it replaced. */
async function broken<T>(entry: string, file: string, from: string, to: string): Promise<T> {
  let found = 0;
  const { outputFiles } = await build({
    entryPoints: [`${folder}${entry}`], bundle: true, write: false, format: 'esm', platform: 'node', target: 'node20', logLevel: 'silent',
    plugins: [{ name: 'break', setup(b) { b.onLoad({ filter: new RegExp(`draft-cycle/${file}$`) }, ({ path }) => { const text = readFileSync(path, 'utf8'); found += text.split(from).length - 1; return { contents: text.replace(from, to), loader: 'ts' }; }); } }],
  });
  if (found !== 1) throw new Error(`“${from}” stands ${found} times in ${file}`);
  return (await import(`data:text/javascript;base64,${Buffer.from(outputFiles[0]!.contents).toString('base64')}`)) as T;
}
const led: Motion = { ...oneMake, perLap: true };
const swung: Motion = { ...oneMake, pulse: { ...oneMake.pulse, depth: 0.08 } };

describe('whole, nothing is missing', () => {
  it.each([['one make', oneMake], ['each lap takes a turn', led], ['the wheel swings', swung]])('%s', (_, m) => {
    const { audits } = run(m);
    expect(audits.failed).toEqual([]);
    expect(Math.abs(audits.turns)).toBeLessThan(1e-9 * 60);
    expect(Math.abs(audits.length)).toBeLessThan(1e-10);
    expect(Math.abs(audits.energy)).toBeLessThan(1e-10);
  });
  it('under the treadle', () => expect(treadle(treadledMake).audits.failed).toEqual([]));
});

describe('one term broken', () => {
  it.each([
    ['turns.ts', 'the wound turns without their slopes', '((h * h) / 10) * (g0 - flux1)', '0', oneMake, 'turns'],
    ['turns.ts', 'a weight of the collocation', 'T += h * (weights[0] * (s1 + s3) + weights[1] * s2);', 'T += h * (weights[0] * (s1 + s3) + 0.444 * s2);', oneMake, 'turns'],
    ['turns.ts', 'a lap that takes no turn', '- perLap * speed - w * T0', '- w * T0', led, 'turns'],
    ['turns.ts', 'drafted fibre that brings twist', '- T * w) / l', ') / l', { ...oneMake, hand: [{ from: 0, to: 2, start: 0.1, end: 0.1 }] }, 'turns'],
    ['tally.ts', 'a hand that slows at no cost', 'share * (driven - z.du)', 'share * driven', oneMake, 'energy'],
    ['tally.ts', 'a snatch that loses nothing', '0.5 * mass * difference ** 2', '0', oneMake, 'energy'],
    ['tally.ts', 'a blow that does not move the hand', 'this.yarn += mass * difference * feed;', '', oneMake, 'energy'],
    ['motion.ts', 'let in without its change of speed', ' - 0.5 * z.du * tau * tau', '', oneMake, 'turns'],
    ['motion.ts', 'yarn that is drafted and not there', 'z.x += z.w * tau', 'z.x += 0.999 * z.w * tau', oneMake, 'length'],
    ['motion.ts', 'slack kept after it closed', "z.s, z.v] = ['taut', 0, z.u]", "z.s, z.v] = ['taut', z.s + 0.001, z.u]", oneMake, 'turns'],
  ] as const)('%s: %s', async (file, _, from, to, m, which) => {
    const { run: bad } = await broken<{ run(m: Motion): Outcome }>('motion.ts', file, from, to);
    expect(run(m).audits.failed).toEqual([]);
    expect(bad(m).audits.failed).toContain(which);
  });
  it.each([
    ['slipping friction', 'm.slip * Math.abs(is * speed - follower)', '0.999 * m.slip * Math.abs(is * speed - follower)', 'energy'],
    ['the wheel’s share of a blow', '(ic * way * r * blow) / J0', '0', 'energy'],
    ['the bobbin on its shaft', 'd[SPINDLE] = m.spindle * Math.abs(follower - ic * speed);', 'd[SPINDLE] = 0;', 'energy'],
    ['wound turns', 'd[TURNS] = y[TWIST]! * v;', 'd[TURNS] = y[TWIST]! * v * 0.9999;', 'turns'],
    ['slack', "phase === 'taut' ? 0 : u - v;", "phase === 'taut' ? 0 : 0.999 * (u - v);", 'turns'],
  ])('treadled.ts: %s', async (_, from, to, which) => {
    const { treadle: bad } = await broken<{ treadle(m: Treadled): TreadledOutcome }>('treadled.ts', 'treadled.ts', from, to);
    expect(bad(treadledMake).audits.failed).toContain(which);
  });
  it('gives an error and no result', async () => {
    const { answer } = await broken<typeof answers>('answer.ts', 'tally.ts', 'share * (driven - z.du)', 'share * driven');
    expect(() => answer(contract.example)).toThrow(/energy of the run do not balance/);
  });
});
