/** What may be kept, how a patch is merged, and that every demo wheel may be kept. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { guild, wheels } from '../../services/wheels/thornmere.js';
import { ProblemError } from '../../services/foundation/problems.js';
import { checkWheel, type Wheel } from '../../services/wheels/profile.js';
import { listed, mergePatch, read, readWheelBody, type StoredWheel } from '../../services/wheels/rules.js';
import { makeCursor, readCursor } from '../../services/wheels/cursor.js';

const kept: StoredWheel = { id: 'w', revision: 3, visibility: 'public', guild: 'g', profile: { name: 'N', condition: 'sound' }, parts: [], createdAt: new Date(0), updatedAt: new Date(1000) };
const issuesOf = (body: unknown, now?: StoredWheel) => {
  try {
    readWheelBody(body, now);
  } catch (error) {
    return (error as ProblemError).issues.map((issue) => [issue.pointer, issue.code]);
  }
  return [];
};

describe('demo wheels', () => {
  const all = Object.entries(wheels);
  it.each(all)('%s may be kept', (id, wheel) => {
    expect(checkWheel(wheel)).toEqual([]);
    expect(readWheelBody(wheel).profile).toEqual(wheel);
    expect(id).toMatch(/^thornmere-[a-z0-9-]+$/);
    expect(wheel.name).toContain('Thornmere');
  });

  it('are of every kind', () => {
    const some = (test: (wheel: Wheel) => boolean): number => Object.values(wheels).filter(test).length;
    const runs = (drive: string) => (wheel: Wheel): boolean => wheel.modes?.some((mode) => mode.drive === drive) === true;
    expect(all.length).toBeGreaterThanOrEqual(12);
    expect(some(runs('double-drive'))).toBeGreaterThanOrEqual(3);
    for (const drive of ['flyer-lead', 'bobbin-lead', 'spindle', 'electric']) expect(some(runs(drive)), drive).toBeGreaterThan(0);
    for (const style of ['saxony', 'norwegian', 'castle', 'great-wheel', 'charkha', 'electric', 'folding', 'modern-upright']) expect(some((wheel) => wheel.style === style), style).toBeGreaterThan(0);
    expect(some((wheel) => (wheel.modes?.length ?? 0) === 3 && wheel.bobbins?.every((bobbin) => bobbin.grooves?.length === 2) === true)).toBe(1);
    expect(some((wheel) => wheel.stages?.length === 1)).toBe(1);
    expect(some((wheel) => wheel.stages?.length === 2)).toBe(1);
    expect(some((wheel) => wheel.whorls?.[0]?.grooveDiameter !== undefined && wheel.whorls[0].grooveDiameter === wheel.bobbins?.[0]?.grooves?.[0]?.grooveDiameter)).toBe(1);
    expect(some((wheel) => wheel.driveWheel === undefined && wheel.whorls?.every((whorl) => whorl.statedRatio !== undefined) === true)).toBe(1);
    expect(some((wheel) => wheel.driveWheel?.grooveCircumference !== undefined)).toBe(1);
    expect(some((wheel) => wheel.driveWheel?.bandTurn !== undefined)).toBe(1);
    expect(some((wheel) => wheel.condition === 'do-not-run')).toBe(1);
    expect(guild.id).toBe('thornmere-guild');
  });
});

describe('a wheel to keep', () => {
  it('belongs to its guild unless it is said to be public', () => {
    expect(readWheelBody({ name: 'N' })).toEqual({ profile: { name: 'N' }, visibility: 'guild', parts: [] });
    expect(readWheelBody({ name: 'N', visibility: 'public' }).visibility).toBe('public');
    expect(readWheelBody({ name: 'N' }, kept).visibility).toBe('public');
  });

  it('may be sent back whole as it was read, and with nothing of that changed', () => {
    const whole = JSON.parse(JSON.stringify(read(kept))) as Record<string, unknown>;
    expect(readWheelBody({ ...whole, condition: 'watch' }, kept)).toEqual({ profile: { name: 'N', condition: 'watch' }, visibility: 'public', parts: [] });
    expect(issuesOf({ ...whole, revision: 4 }, kept)).toEqual([['/revision', 'unknown-field']]);
    expect(issuesOf({ ...whole, effective: {} }, kept)).toEqual([['/effective', 'unknown-field']]);
    expect(issuesOf(whole).map(([pointer]) => String(pointer)).toSorted()).toEqual(['/createdAt', '/effective', '/guild', '/id', '/parts', '/revision', '/updatedAt']);
  });

  it('is refused with every place named', () => {
    expect(issuesOf([])).toEqual([['', 'wrong-type']]);
    expect(issuesOf(null)).toEqual([['', 'wrong-type']]);
    expect(issuesOf({})).toEqual([['/name', 'missing-field']]);
    expect(issuesOf({ name: 'N', visibility: 'secret', driveWheel: { grooveDiameter: '560' }, colour: 'red' }).map((issue) => issue.join(' ')).toSorted()).toEqual(['/colour unknown-field', '/driveWheel/grooveDiameter missing-unit', '/visibility unknown-choice']);
    expect(issuesOf({ name: 'N\u0000' })).toEqual([['/name', 'out-of-range']]);
    expect(issuesOf({ name: 'N\ud800' })).toEqual([['/name', 'out-of-range']]);
  });

  it('is listed without the profile that calculations use', () => {
    expect(listed(kept)).toEqual({ id: 'w', revision: 3, visibility: 'public', guild: 'g', createdAt: '1970-01-01T00:00:00.000Z', updatedAt: '1970-01-01T00:00:01.000Z', name: 'N', condition: 'sound' });
    expect(read(kept).effective).toEqual(kept.profile);
  });
});

describe('merge patch', () => {
  it('does what the examples of RFC 7396, appendix A, say', () => {
    const cases: [unknown, unknown, unknown][] = [
      [{ a: 'b' }, { a: 'c' }, { a: 'c' }], [{ a: 'b' }, { b: 'c' }, { a: 'b', b: 'c' }], [{ a: 'b' }, { a: null }, {}],
      [{ a: 'b', b: 'c' }, { a: null }, { b: 'c' }], [{ a: ['b'] }, { a: 'c' }, { a: 'c' }], [{ a: 'c' }, { a: ['b'] }, { a: ['b'] }],
      [{ a: { b: 'c' } }, { a: { b: 'd', c: null } }, { a: { b: 'd' } }], [{ a: [{ b: 'c' }] }, { a: [1] }, { a: [1] }], [['a', 'b'], ['c', 'd'], ['c', 'd']],
      [{ a: 'b' }, ['c'], ['c']], [{ a: 'foo' }, null, null], [{ a: 'foo' }, 'bar', 'bar'], [{ e: null }, { a: 1 }, { e: null, a: 1 }], [[1, 2], { a: 'b', c: null }, { a: 'b' }], [{}, { a: { bb: { ccc: null } } }, { a: { bb: {} } }],
    ];
    for (const [target, patch, result] of cases) expect(mergePatch(target, patch)).toEqual(result);
  });
  it('leaves no trace of a name that objects have by themselves', () => {
    const patch: unknown = JSON.parse('{"__proto__":{"polluted":true}}');
    expect(issuesOf(mergePatch({ name: 'N' }, patch))).toEqual([['/__proto__', 'unknown-field']]);
    expect(({} as { polluted?: boolean }).polluted).toBeUndefined();
  });
  it('given twice is given once', () => {
    fc.assert(fc.property(fc.dictionary(fc.string(), fc.jsonValue()), fc.dictionary(fc.string(), fc.jsonValue()), (target, patch) => {
      const once = mergePatch(target, patch);
      expect(mergePatch(once, patch)).toEqual(once);
    }));
  });
});

describe('cursors', () => {
  it('open the list that they were made for, and no other', () => {
    fc.assert(fc.property(fc.stringMatching(/^[a-z0-9-]{1,80}$/), (last) => {
      const cursor = makeCursor('key', 'wheels ', last);
      expect(readCursor('key', 'wheels ', cursor)).toBe(last);
      for (const [key, list, text] of [['other', 'wheels ', cursor], ['key', 'wheels g', cursor], ['key', 'wheels ', `${cursor}A`], ['key', 'wheels ', cursor.slice(1)]] as const) {
        expect(() => readCursor(key, list, text)).toThrow(ProblemError);
      }
    }));
  });
  it.each(['', 'x', '%', 'dGhvcm5tZXJlLTQ'])('refuse “%s”', (text) => { expect(() => readCursor('key', 'wheels ', text)).toThrow('cursor'); });
});
