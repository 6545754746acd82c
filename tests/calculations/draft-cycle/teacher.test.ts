/** What a teacher asks, on invented wheels of the Thornmere Guild: the numbers and the sentence say the same. */
import { describe, expect, it } from 'vitest';
import { answer, type DraftCycleQuestion, type DraftCycleResult } from '../../../services/calculations/draft-cycle/answer.js';
import { tell } from '../../../services/foundation/telling.js';

const five = { name: 'Thornmere 5', driveWheel: { bandTurn: '1760 mm' }, modes: [{ drive: 'flyer-lead' as const }], whorls: [{ statedRatio: 9 }], bobbins: [{ coreDiameter: '22 mm', fullDiameter: '75 mm', lengthBetweenEnds: '90 mm' }] };
const longDraw: DraftCycleQuestion = { wheel: five, treadling: '60/min', drafting: 'long-draw', draftLength: '600 mm', draftTime: '1.2 s', holdTime: '0.5 s', windOnTime: '1.2 s', handRise: '0.5 s', leftBehind: '150 mm', woundDiameter: '48 mm', slipTorque: '6 mN*m', spindleFriction: '0.2 mN*m', hookFactor: 1.9 };
const ask = (q: DraftCycleQuestion): { r: DraftCycleResult; says: string; codes: string[] } => {
  const reply = answer(q);
  return { r: reply.result, says: tell('draft-cycle', reply.result, q).sentences.join(' '), codes: reply.warnings.map((w) => w.code) };
};
const value = (q: object | undefined): number => (q as { value: number }).value;

describe('why does it grab when I wind on', () => {
  it('a gentle hand is followed', () => {
    const { r, says, codes } = ask(longDraw);
    expect(r.verdict).toBe('follows');
    expect(value(r.slack.most)).toBe(0);
    expect(r.grab).toBeUndefined();
    expect(value(r.follows.handQuickening)).toBeLessThan(value(r.follows.quickening));
    expect(says).toContain('The bobbin follows the hand.');
    expect(codes).not.toContain('hand-too-quick');
  });
  it('a hand that pounces is not', () => {
    const { r, says, codes } = ask({ ...longDraw, windOnTime: '0.85 s', handRise: '0.05 s' });
    expect(r.verdict).toBe('grabs');
    expect(r.because).toBe('hand-too-quick');
    expect(value(r.follows.handQuickening)).toBeGreaterThan(3 * value(r.follows.quickening));
    // u²/2a of slack, less what the hand needs to speed up.
    expect(value(r.slack.most)).toBeGreaterThan(50);
    expect(value(r.slack.most)).toBeLessThan(1000 * 0.75 ** 2 / (2 * value(r.follows.quickening)));
    expect(value(r.grab!.difference)).toBeGreaterThan(0);
    expect(says).toContain('lags behind the hand');
    expect(says).toContain('let it start more gently');
    expect(says).toContain(`At most ${r.slack.most.text}`);
    expect(codes).toContain('hand-too-quick');
  });
});

describe('why does a fresh bobbin grab', () => {
  it('it is sluggish and strong: the same hand that a half full one follows', () => {
    const hand = { ...longDraw, windOnTime: '1 s', handRise: '0.3 s' };
    const [fresh, half] = [ask({ ...hand, woundDiameter: '22 mm' }), ask({ ...hand, woundDiameter: '46 mm' })];
    expect(half.r.verdict).toBe('follows');
    expect(fresh.r.verdict).toBe('grabs');
    expect(value(fresh.r.pull.held)).toBeGreaterThan(2 * value(half.r.pull.held));
    expect(value(fresh.r.follows.massFelt)).toBeGreaterThan(3 * value(half.r.follows.massFelt));
    expect(value(fresh.r.follows.quickening)).toBeLessThan(value(half.r.follows.quickening));
    expect(fresh.says).toContain('snatched tight');
    expect(half.says).toContain('The bobbin follows the hand.');
    // Both stand in the one table from empty to full.
    expect(value(half.r.overBobbin[0]!.slack)).toBeGreaterThan(0);
    expect(value(half.r.overBobbin[2]!.slack)).toBe(0);
  });
});

describe('why does it pulse with my foot', () => {
  // A light pull, a heavy bobbin, the hand at rest: I·ε·ω·κ against the torque, by hand 1.2e-4·ε·56.5·6.28 = 42.6ε mN·m against 1.8.
  const held: DraftCycleQuestion = { wheel: five, treadling: '60/min', slipTorque: '2 mN*m', spindleFriction: '0.2 mN*m', bobbinInertia: '0.00012 kg*m2', woundDiameter: '40 mm', hookFactor: 1.9, hand: [{ from: '0 s', to: '3 s', start: '0 m/s', end: '0 m/s' }], start: { length: '300 mm', turns: 30 } };
  it('one treadle jerks: slack and a snatch in each turn, the hand at rest', () => {
    const { r, says, codes } = ask({ ...held, treadleSwing: '12 %' });
    expect(r.verdict).toBe('grabs');
    expect(r.because).toBe('treadle');
    expect(value(r.slack.spells)).toBeGreaterThanOrEqual(3);
    expect(says).toContain('the wheel swings with each treadle');
    expect(codes).toContain('treadle-slackens');
  });
  it('two treadles swing a fifth as far, and the yarn stays taut', () => {
    const { r, says } = ask({ ...held, treadleSwing: '1.9 %', swingsPerTurn: 2 });
    expect(r.verdict).toBe('follows');
    expect(value(r.pull.least)).toBeGreaterThan(0);
    expect(value(r.pull.least)).toBeLessThan(value(r.pull.held));
    expect(says).toContain('follows the hand');
  });
});

describe('why does Irish tension jerk with the heavy flyer', () => {
  const irish: DraftCycleQuestion = { ...longDraw, drive: 'bobbin-lead', wheel: { name: 'Thornmere 6', driveWheel: { bandTurn: '1760 mm' }, modes: [{ drive: 'bobbin-lead' as const }], bobbins: [{ grooves: [{ statedRatio: 8 }], coreDiameter: '30 mm', fullDiameter: '110 mm', lengthBetweenEnds: '110 mm' }] }, woundDiameter: '60 mm', windOnTime: '1.2 s', handRise: '0.5 s' };
  it('the flyer must slow down for yarn to go in: a heavy one is slow to', () => {
    const [heavy, light] = [ask({ ...irish, flyerInertia: '0.0008 kg*m2' }), ask({ ...irish, flyerInertia: '0.0001 kg*m2' })];
    expect(light.r.verdict).toBe('follows');
    expect(heavy.r.verdict).toBe('grabs');
    // Eight times the inertia, an eighth of the quickness.
    expect(value(light.r.follows.quickening) / value(heavy.r.follows.quickening)).toBeCloseTo(8, 9);
    expect(heavy.says).toContain('lags behind the hand');
    expect(heavy.codes).toContain('hand-too-quick');
  });
  it('each lap takes a turn out: turns in are those of the bobbin less one for each lap', () => {
    const { r } = ask({ ...irish, flyerInertia: '0.0001 kg*m2' });
    expect(value(r.turns.flyer) - value(r.turns.in)).toBeCloseTo(value(r.drawnIn) / (Math.PI * 0.06), 6);
  });
});

describe('short forward, letting in all the time', () => {
  it('has no twist that rises within a make', () => {
    const { r } = ask({ ...longDraw, drafting: 'short-forward', draftLength: '50 mm', draftTime: '1 s', holdTime: undefined, windOnTime: undefined, handRise: undefined } as never);
    expect(value(r.twist.first)).toBeCloseTo(9 / 0.05, 6);
    expect(value(r.twist.last)).toBeCloseTo(9 / 0.05, 6);
    expect(value(r.turns.woundOn)).toBeCloseTo(45, 6);
  });
});

describe('work is bounded, and says so', () => {
  const refused = (q: DraftCycleQuestion, pointer: string, code: string, says: RegExp): void => {
    try { answer(q); } catch (error) {
      const { issues } = error as { issues: { pointer: string; code: string; detail: string }[] };
      expect(issues.map((i) => [i.pointer, i.code])).toContainEqual([pointer, code]);
      expect(issues.map((i) => i.detail).join(' ')).toMatch(says);
      return;
    }
    throw new Error('it was answered');
  };
  const still = { from: '0 s', to: '1 s', start: '0 m/s', end: '0 m/s' };
  it.each<[string, DraftCycleQuestion, string, string, RegExp]>([
    ['makes', { ...longDraw, makes: 401 }, '/makes', 'out-of-range', /possible/],
    ['half a make', { ...longDraw, makes: 2.5 }, '/makes', 'out-of-range', /whole/],
    ['time', { ...longDraw, makes: 400, draftTime: '20 s' }, '/makes', 'too-many', /60 minutes/],
    ['time under the treadle', { ...longDraw, makes: 100, treadlePush: '260 mN*m' }, '/makes', 'too-many', /1 minute/],
    ['rows within an answer', { ...longDraw, series: '0.001 s' }, '/series', 'too-many', /at most 6000 rows/],
    ['rows at all', { ...longDraw, makes: 400, series: '0.0001 s' }, '/series', 'too-many', /rows/],
    ['pieces of the hand', { wheel: five, hand: Array.from({ length: 2001 }, () => still), start: { length: '1 m' } }, '/hand', 'too-many', /2000/],
    ['a hand that takes more than there is', { wheel: five, hand: [{ from: '0 s', to: '1 s', start: '1 m/s', end: '1 m/s' }], start: { length: '200 mm', turns: 5 } }, '/hand', 'impossible-geometry', /More yarn/],
    ['pieces that overlap', { wheel: five, hand: [still, still], start: { length: '200 mm' } }, '/hand/1/from', 'range-reversed', /follow each other/],
    ['a rise longer than the wind-on', { ...longDraw, handRise: '2 s' }, '/handRise', 'impossible-geometry', /longer than/],
    ['friction that takes all', { ...longDraw, spindleFriction: '6 mN*m' }, '/spindleFriction', 'impossible-geometry', /takes all/],
  ])('%s', (_, q, pointer, code, says) => refused(q, pointer, code, says));
});
