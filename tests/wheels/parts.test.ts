/** A part is the same part through renaming, moving, taking off and putting back. What is expected follows from what a spinner would call the same. */
import { describe, expect, it } from 'vitest';
import { partsOf, partsRestored, type Part } from '../../services/wheels/parts.js';
import type { Wheel } from '../../services/wheels/profile.js';

const small = { name: 'small', grooveDiameter: '40 mm' };
const large = { name: 'large', grooveDiameter: '60 mm' };
const ids = (parts: readonly Part[]): Record<string, string> => Object.fromEntries(parts.filter((part) => part.at !== undefined).map((part) => [part.at!, part.id]));
const next = (profile: Wheel, was: Wheel, before = partsOf(was)): Part[] => partsOf(profile, before, was);

describe('parts of a wheel', () => {
  it('get ids in their order, by their names or places', () => {
    expect(partsOf({ whorls: [small, { grooveDiameter: '50 mm' }], bobbins: [{ coreDiameter: '20 mm', flyer: 'jumbo' }], flyers: [{ name: 'jumbo' }] })).toEqual([
      { id: 'part-1', kind: 'whorl', name: 'small', at: '/whorls/0' }, { id: 'part-2', kind: 'whorl', name: 'whorl 2', at: '/whorls/1' },
      { id: 'part-3', kind: 'bobbin', name: 'bobbin 1', flyer: 'jumbo', at: '/bobbins/0' }, { id: 'part-4', kind: 'flyer', name: 'jumbo', at: '/flyers/0' },
    ]);
    expect(partsOf({ name: 'no parts' })).toEqual([]);
  });
  it('keep them when they are listed in another order, measured anew or renamed', () => {
    const was = { whorls: [small, large] };
    expect(ids(next({ whorls: [large, small] }, was))).toEqual({ '/whorls/0': 'part-2', '/whorls/1': 'part-1' });
    expect(ids(next({ whorls: [{ ...small, grooveDiameter: '41 mm' }, large] }, was))).toEqual({ '/whorls/0': 'part-1', '/whorls/1': 'part-2' });
    expect(next({ whorls: [{ ...small, name: 'lace' }, large] }, was)[0]).toEqual({ id: 'part-1', kind: 'whorl', name: 'lace', at: '/whorls/0' });
  });
  it('without names go by what they are, not by their number', () => {
    const [a, b] = [{ grooveDiameter: '40 mm' }, { grooveDiameter: '60 mm' }];
    expect(ids(next({ whorls: [b] }, { whorls: [a, b] }))).toEqual({ '/whorls/0': 'part-2' });
    expect(ids(next({ whorls: [{ grooveDiameter: '42 mm' }, b] }, { whorls: [a, b] }))).toEqual({ '/whorls/0': 'part-1', '/whorls/1': 'part-2' });
  });
  it('are remembered when they are taken off, and known when they come back; a new one is a new one', () => {
    const was = { whorls: [small, large] };
    const without = next({ whorls: [large] }, was);
    expect(without).toEqual([{ id: 'part-1', kind: 'whorl', name: 'small' }, { id: 'part-2', kind: 'whorl', name: 'large', at: '/whorls/0' }]);
    expect(ids(next({ whorls: [large, small] }, { whorls: [large] }, without))).toEqual({ '/whorls/0': 'part-2', '/whorls/1': 'part-1' });
    expect(ids(next({ whorls: [large, { name: 'tiny', grooveDiameter: '20 mm' }] }, { whorls: [large] }, without))).toEqual({ '/whorls/0': 'part-2', '/whorls/1': 'part-3' });
  });
  it('of one name on two flyers are two', () => {
    const was: Wheel = { whorls: [{ ...small, flyer: 'lace' }, { ...small, flyer: 'jumbo' }] };
    expect(ids(next({ whorls: [was.whorls![1]!, was.whorls![0]!] }, was))).toEqual({ '/whorls/0': 'part-2', '/whorls/1': 'part-1' });
  });
  it('of a revision that is restored are those of then, and ids of later ones are never given again', () => {
    const then = partsOf({ whorls: [small] });
    const now = next({ whorls: [small, large] }, { whorls: [small] }, then);
    const restored = partsRestored(then, now);
    expect(restored).toEqual([{ id: 'part-1', kind: 'whorl', name: 'small', at: '/whorls/0' }, { id: 'part-2', kind: 'whorl', name: 'large' }]);
    expect(ids(partsOf({ whorls: [small, { name: 'third' }] }, restored, { whorls: [small] }))).toEqual({ '/whorls/0': 'part-1', '/whorls/1': 'part-3' });
  });
  it('that are long gone are forgotten at last, the oldest first', () => {
    let [was, parts]: [Wheel, Part[]] = [{}, []];
    for (let i = 0; i < 300; i++) {
      const profile = { whorls: [{ name: `w${i}`, grooveDiameter: `${i + 10} mm` }] };
      parts = partsOf(profile, parts, was);
      was = profile;
    }
    expect(parts).toHaveLength(201);
    expect(parts.at(-1)).toMatchObject({ id: 'part-300', at: '/whorls/0' });
  });
});
