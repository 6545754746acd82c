/** Facts of the trade: common practice, no source. */
import { describe, expect, it } from 'vitest';
import { wheels } from '../../../services/wheels/thornmere.js';
import { answer, type DiagnosisQuestion, type DiagnosisResult } from '../../../services/calculations/diagnosis/answer.js';
import type { SignId } from '../../../services/reference/signs.js';

const ask = (question: DiagnosisQuestion): DiagnosisResult => answer(question).result;
const drives = [undefined, 'double-drive', 'flyer-lead', 'bobbin-lead'] as const;
const asked = <T>(list: readonly T[]): (readonly [T, (typeof drives)[number]])[] => list.flatMap((x) => drives.map((d) => [x, d] as const));
const of = (drive: (typeof drives)[number]): Pick<DiagnosisQuestion, 'drive'> => (drive === undefined ? {} : { drive });
const place = (r: DiagnosisResult, tension: string): number => r.causes.findIndex((c) => c.tension === tension);

describe('common practice: a tension too strong is loosened before anything is tightened', () => {
  it.each(asked<SignId>(['yanks', 'hands-hurt', 'thin-spots', 'under-twisted', 'wheel-gets-ahead']))('%s, %s', (sign, drive) => {
    const r = ask({ signs: [sign], ...of(drive) });
    expect(place(r, 'loosen')).toBeGreaterThanOrEqual(0);
    expect(place(r, 'loosen')).toBeLessThan(3);
    if (place(r, 'tighten') >= 0) expect(place(r, 'tighten')).toBeGreaterThan(place(r, 'loosen'));
    expect(r.doFirst.join(' ')).toContain('Slacken before you tighten');
  });
  it('and so are all of them together', () => {
    const r = ask({ signs: ['yanks', 'hands-hurt', 'thin-spots', 'under-twisted', 'wheel-gets-ahead'] });
    expect(r.causes[0]!.tension).toBe('loosen');
    expect(r.causes.map((c) => c.tension)).not.toContain('tighten');
  });
});

describe('common practice: a tension too loose is tightened, once snag, leader and hook were looked at', () => {
  it.each(asked<SignId>(['will-not-draw-in', 'yarn-slack', 'hands-drift-back', 'draws-in-weakly']))('%s, %s', (sign, drive) => {
    const r = ask({ signs: [sign], ...of(drive) });
    const tightening = r.causes[place(r, 'tighten')];
    expect(tightening).toBeDefined();
    expect(tightening!.checkFirst).toMatch(/caught/);
    expect(tightening!.checkFirst).toMatch(/leader/);
    expect(tightening!.checkFirst).toMatch(/hook/);
    expect(r.doFirst.join(' ')).toMatch(/caught yarn, the leader and the hooks before you touch any tension/);
    expect(tightening!.cautions.join(' ')).toMatch(/three/);
  });
  it.each(drives.filter((d) => d !== undefined))('a wheel on which nothing holds, %s: groove, brake and oil are looked at, the brake slackened, then the band tightened', (drive) => {
    const r = ask({ signs: ['band-slips'], drive });
    const slipping = r.causes.find((c) => c.id === 'band-slips')!;
    expect(slipping.tension).toBe('tighten');
    expect(slipping.checkFirst).toMatch(/clean.*brake slack.*oily/s);
    expect(slipping.tryNext.indexOf('Slacken the brake')).toBeLessThan(slipping.tryNext.indexOf('tighten the band'));
  });
  it('snag and leader stand before tension where they fit as well', () => {
    const r = ask({ signs: ['will-not-draw-in'] });
    const [snag, tension] = [r.causes.findIndex((c) => c.id === 'snag'), r.causes.findIndex((c) => c.tension === 'tighten')];
    expect(snag).toBeGreaterThanOrEqual(0);
    expect(snag).toBeLessThan(tension);
  });
});

describe('common practice: grooves and bobbin', () => {
  it('equal grooves cannot draw in: tension is left alone', () => {
    const r = ask({ signs: ['will-not-draw-in', 'turn-as-one'], wheel: wheels['thornmere-9']! });
    expect(r.causes[0]!.id).toBe('equal-grooves');
    expect(r.causes[0]!.tension).toBe('leave');
    expect(r.causes[0]!.quantity).toMatchObject({ of: 'bobbin-per-flyer-turn', found: 'near' });
  });
  it('grooves that differ clearly are never called equal', () => {
    const r = ask({ signs: ['no-draw-in-at-any-tension', 'turn-as-one', 'will-not-draw-in'], wheel: wheels['thornmere-4']! });
    expect(r.causes.slice(0, 3).map((c) => c.id)).not.toContain('equal-grooves');
  });
  it('what is fed faster than the bobbin regains its speed makes coils', () => {
    const r = ask({ signs: ['snarls', 'yarn-slack'], habits: ['lets-in-fast'], drive: 'double-drive' });
    expect(r.causes[0]!.id).toBe('feeds-too-fast');
    expect(ask({ signs: ['snarls'], wheel: wheels['thornmere-4']!, fill: 'empty', draftLength: '1 m', wheelTurns: 1 }).causes.slice(0, 3).map((c) => c.id)).toContain('feeds-too-fast');
  });
  it('the pull must be raised as the bobbin fills, and slackened for the next', () => {
    const r = ask({ signs: ['weaker-as-it-fills'], fill: 'full', drive: 'flyer-lead' });
    expect(r.causes[0]!.id).toBe('filling-bobbin');
    expect(r.causes[0]!.tension).toBe('tighten');
    expect(ask({ signs: ['strong-since-empty'], fill: 'empty', changed: 'bobbin' }).causes[0]!.tension).toBe('loosen');
  });
  it('what was changed last is looked at first', () => {
    const r = ask({ signs: ['no-draw-in-at-any-tension', 'tightening-changes-nothing'], drive: 'double-drive', changed: 'band' });
    expect(r.doFirst.join(' ')).toMatch(/changed last: the band/);
    expect(r.causes[0]!.id).toBe('new-band-slippery');
    expect(r.causes[0]!.tryNext).toMatch(/old band.*back on/s);
  });
  it('a band that comes off is a matter of line before it is one of tension', () => {
    const r = ask({ signs: ['band-comes-off'] });
    expect(r.causes[0]!.id).toBe('out-of-line');
    expect(r.causes.slice(0, 3).map((c) => c.tension)).not.toContain('tighten');
  });
  it('on a bobbin that leads, the test by hand is said', () => {
    expect(ask({ signs: ['will-not-draw-in', 'yarn-slack', 'hands-drift-back'], drive: 'bobbin-lead' }).causes[0]!.tryNext).toMatch(/flyer turns and the bobbin stays/);
  });
});

describe('the wheel’s own numbers', () => {
  it('are those of the other calculations', async () => {
    const { answer: takeUp } = await import('../../../services/calculations/take-up/answer.js');
    const wheel = { ...wheels['thornmere-4']!, whorls: wheels['thornmere-4']!.whorls!.slice(0, 1) };
    const r = ask({ signs: ['snarls'], wheel, fill: 'empty', draftLength: '60 mm', wheelTurns: 1, twist: '100 /m' });
    const pair = takeUp({ wheel, draftLength: '60 mm', wheelTurns: 1 }).result.pairs[0]!;
    const of = (id: string) => r.measures.find((m) => m.of === id)!;
    const value = (x: unknown): number => (x as { value: number }).value;
    expect(value(of('feed').atMost)).toBeCloseTo(value(pair.fill[0]!.mostDrawnInPerWheelTurn), 10);
    expect(value(of('softest-twist').value)).toBeCloseTo(value(pair.fill[0]!.leastTwist), 10);
    expect(value(of('bobbin-per-flyer-turn').value)).toBeCloseTo(value(pair.bobbinPerFlyerTurn), 12);
    expect(value(of('twist').value)).toBeCloseTo(value(pair.fill[0]!.insertedTwist), 10);
  });
  it('a pull that the grooves cannot give is said: friction, line or measure', () => {
    const r = ask({ signs: ['yanks'], wheel: wheels['thornmere-9']! });
    expect(r.contradictions[0]).toMatchObject({ kind: 'sign-and-wheel' });
    expect(r.contradictions[0]!.look).toMatch(/friction.*out of line.*measured/s);
  });
  it('signs that seldom go together are said', () => {
    expect(ask({ signs: ['yanks', 'will-not-draw-in'] }).contradictions[0]!.kind).toBe('between-signs');
    expect(ask({ signs: ['snagged', 'will-not-draw-in'] }).contradictions).toEqual([]);
  });
  it('a bag test speaks', () => {
    const weak = ask({ signs: ['draws-in-weakly'], drive: 'flyer-lead', bagTest: { lifts: '2 g', pullsOff: '20 g' }, pullNeeded: '5 g' });
    expect(weak.causes[0]!.id).toBe('tension-too-loose');
    expect(weak.causes[0]!.quantity).toMatchObject({ of: 'draws-in', found: 'below' });
    const strong = ask({ signs: ['draws-in-weakly'], drive: 'flyer-lead', bagTest: { lifts: '30 g', pullsOff: '50 g' }, pullNeeded: '5 g' });
    expect(strong.contradictions[0]!.kind).toBe('sign-and-test');
    expect(strong.causes[0]!.id).not.toBe('tension-too-loose');
  });
});

describe('questions', () => {
  it('are at most three, about what was not said, and the answers move the order', () => {
    const r = ask({ signs: ['will-not-draw-in'] });
    expect(r.verdict).toBe('look-first');
    expect(r.questions.length).toBe(3);
    for (const q of r.questions) expect(q.id).not.toBe('will-not-draw-in');
    const bits = r.questions.map((q) => (q.bits as { value: number }).value);
    expect(bits).toEqual(bits.toSorted((a, b) => b - a));
    const first = r.questions.find((q) => !q.id.includes('/'))!;
    const yes = ask({ signs: ['will-not-draw-in', first.id as SignId] });
    expect(yes.causes[0]!.name).toBe(first.ifYes);
    const no = ask({ signs: ['will-not-draw-in'], notSeen: [first.id as SignId] });
    expect(no.questions.map((q) => q.id)).not.toContain(first.id);
  });
});
