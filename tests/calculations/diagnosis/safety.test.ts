/** Safety comes before every advice. Common practice. */
import { describe, expect, it } from 'vitest';
import { wheels } from '../../../services/wheels/thornmere.js';
import { answer, type DiagnosisQuestion } from '../../../services/calculations/diagnosis/answer.js';
import { knowledge } from '../../../services/calculations/diagnosis/knowledge.js';
import { tell } from '../../../services/foundation/telling.js';
import { changes, fills, habits, signIds, signs, type SignId } from '../../../services/reference/signs.js';
import { seeded } from '../../support/random.js';

const stops = signs.filter((s) => s.danger === 'stop').map((s) => s.id);
const random = seeded(9);
const pick = <T>(list: readonly T[]): T => list[Math.floor(random.uniform() * list.length)]!;
const some = (n: number): SignId[] => Array.from({ length: n }, () => pick(signIds));
const anything = (): DiagnosisQuestion => ({
  signs: some(1 + Math.floor(random.uniform() * 6)), ...(random.uniform() < 0.5 ? { wheel: pick(Object.values(wheels)) } : {}), ...(random.uniform() < 0.5 ? { changed: pick(Object.keys(changes)) as keyof typeof changes } : {}),
  ...(random.uniform() < 0.5 ? { fill: pick(Object.keys(fills)) as keyof typeof fills } : {}), ...(random.uniform() < 0.5 ? { habits: [pick(Object.keys(habits)) as keyof typeof habits] } : {}), ...(random.uniform() < 0.3 ? { stepsTightened: Math.floor(random.uniform() * 6) } : {}),
});
/** What is never advised to a spinner; a caution or a "no …" may name it. */
const forbidden = /\b(ream|fil(e|ing)\b|tru(e|ing) (up|the)|roughen|straighten|glu(e|ing)|drill|weld|sand(ing|paper)?\b|scrape out|hammer|pliers|lever it|force it|with force)/i;
const withoutNo = (text: string): string => text.replace(/\b(no|never|without) [^.;:]*/gi, '');

describe('danger', () => {
  it.each(stops)('%s stops everything, whatever else is said', (danger) => {
    for (let i = 0; i < 15; i++) {
      const r = answer({ ...anything(), signs: [...some(4), danger, ...some(4)] });
      expect(r.result.verdict).toBe('stop');
      expect(r.cautions[0]!.code).toBe('stop');
      expect(r.result.causes.length).toBeGreaterThan(0);
      for (const c of r.result.causes) { expect(c.technicianOnly).toBe(true); expect(c.tension).toBe('leave'); }
      expect([r.result.questions, r.result.contradictions, r.result.measures]).toEqual([[], [], []]);
    }
  });
  it('a cracked flyer is the one thing that is said', () => {
    const { result } = answer({ signs: ['yanks', 'cracked-flyer', 'band-slips'], wheel: wheels['thornmere-4']! });
    expect(result.causes.map((c) => c.id)).toEqual(['damaged-flyer']);
    expect(result.causes[0]!.tryNext).toMatch(/^Do not spin on it/);
  });
  it('a wheel marked do not run is not diagnosed', () => {
    const r = answer({ signs: ['yanks'], wheel: wheels['thornmere-attic']! });
    expect([r.result.verdict, r.result.causes]).toEqual(['stop', []]);
    expect(r.cautions.map((c) => c.code)).toContain('do-not-run');
  });
  it('dangerous signs stand on top of the list', () => {
    const order = signs.map((s) => s.danger !== undefined);
    expect(order.lastIndexOf(true)).toBe(order.indexOf(false) - 1);
    expect(signs[0]!.id).toBe('cracked-flyer');
  });
  it('hands that hurt: stop for today, before anything', () => {
    const r = answer({ signs: ['squeaks', 'hands-hurt'] });
    expect(r.cautions[0]!.code).toBe('sore-hands');
    expect(r.result.doFirst.join(' ')).toMatch(/Stop spinning for today/);
  });
  it('a powered wheel is unplugged first', () => expect(answer({ signs: ['draws-in-weakly'], wheel: wheels['thornmere-electric']! }).cautions[0]!.code).toBe('unplug-first'));
});

describe('advice', () => {
  it('never stands above a caution: every answer begins with one, and a cause’s own stand before its advice', () => {
    for (let i = 0; i < 100; i++) {
      const r = answer(anything());
      expect(r.cautions.length).toBeGreaterThan(0);
      expect(r.cautions.some((c) => c.code === 'keep-clear')).toBe(true);
      for (const c of r.result.causes) {
        const keys = Object.keys(c);
        expect(keys.indexOf('cautions')).toBeLessThan(Math.min(keys.indexOf('checkFirst'), keys.indexOf('tryNext')));
      }
    }
  }, 60_000);
  it('never names what cannot be undone as a thing to do', () => {
    let looked = 0;
    for (const [id, [, , checkFirst, tryNext]] of Object.entries(knowledge.words)) {
      for (const text of [checkFirst, ...(typeof tryNext === 'string' ? [tryNext] : Object.values(tryNext as Record<string, string>))]) { expect(withoutNo(text), id).not.toMatch(forbidden); looked++; }
    }
    for (const list of Object.values(knowledge.contradictions)) expect(withoutNo(JSON.stringify(list))).not.toMatch(forbidden);
    expect(looked).toBeGreaterThan(150);
    for (const bad of ['Ream the hole.', 'File the hook smooth.', 'True up the groove.', 'Roughen the whorl.', 'Straighten the shaft.', 'Use a drop of glue.', 'Drill a hole.', 'Re-weld it.', 'Turn it with force.']) expect(withoutNo(bad)).toMatch(forbidden);
  });
  it('leaves to a repairer what is a repairer’s: technicianOnly wherever one is named, and on every remedy that cannot be undone', () => {
    for (const c of knowledge.causes) {
      const advised = knowledge.words[c.id]![3];
      const text = typeof advised === 'string' ? advised : Object.values(advised).join(' ');
      if (/repairer|wheelwright|qualified/.test(text) && c.id !== 'bobbin-swollen') expect(c.technicianOnly, c.id).toBe(true);
      if (c.technicianOnly === true) expect(text, c.id).toMatch(/repairer|wheelwright|qualified/);
    }
  });
  it('of heat on a band never comes without its caution', () => {
    const tired = knowledge.causes.find((c) => c.id === 'stretchy-band-tired')!;
    expect(tired.cautions).toContain('melting');
  });
  it('tells of left-hand threads with the side they are seen from', () => {
    const { result } = answer({ signs: ['whorl-stuck'] });
    expect(result.causes[0]!.id).toBe('whorl-stuck');
    expect(result.causes[0]!.cautions[0]).toMatch(/Seen from the whorl’s end, clockwise loosens.*never the wood/s);
    expect(result.causes[0]!.tryNext).toMatch(/never the wood or the arms.*If it resists, stop/s);
  });
});

describe('after three small steps without effect', () => {
  it('tightening is over', () => {
    let tightened = 0;
    for (let i = 0; i < 100; i++) {
      const { result, cautions } = answer({ ...anything(), stepsTightened: 3 + (i % 3) });
      if (result.verdict === 'stop') continue;
      for (const c of result.causes) { expect(c.tension).not.toBe('tighten'); if (/Do not tighten any further/.test(c.tryNext)) tightened++; }
      expect(result.doFirst.join(' ')).toMatch(/Stop tightening/);
      expect(cautions.map((c) => c.code)).toContain('three-small-steps');
    }
    expect(tightened).toBeGreaterThan(0);
  }, 60_000);
  it('two steps are not yet three', () => expect(answer({ signs: ['will-not-draw-in', 'yarn-slack', 'hands-drift-back'], stepsTightened: 2 }).result.causes.map((c) => c.tension)).toContain('tighten'));
});

it('what a person reads holds every caution of a cause above its lines', () => {
  const { result } = answer({ signs: ['will-not-draw-in', 'yarn-slack'] });
  for (const [i, card] of tell('diagnosis', result).advice!.cards.entries()) expect(card.cautions).toEqual(result.causes[i]!.cautions);
});
