/** The picture of a drive ratio: well formed, to scale, with the answer in words, and never a number that is none. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { answer } from '../../services/calculations/ratio/answer.js';
import { contract } from '../../services/calculations/ratio/contract.js';
import { picture } from '../../services/calculations/ratio/picture.js';
import { footer, palette, withoutStyle, type Colour } from '../../services/foundation/drawing.js';
import { ProblemError } from '../../services/foundation/problems.js';

/** Reads XML as far as a picture uses it; throws where it is not well formed. Gives every element with its attributes. */
function elementsOf(xml: string): { name: string; attributes: Record<string, string> }[] {
  const all: { name: string; attributes: Record<string, string> }[] = [];
  const open: string[] = [];
  let at = 0;
  for (const match of xml.matchAll(/<(\/?)([\w-]+)((?:\s+[\w:-]+="[^"<]*")*)\s*(\/?)>/g)) {
    const between = xml.slice(at, match.index);
    if (between.includes('<') || /&(?!#\d+;)/.test(between)) throw new Error(`not well formed before ${match[0]}: ${between}`);
    at = match.index + match[0].length;
    const [, closing, name, attributes, empty] = match;
    if (closing === '/') { if (open.pop() !== name) throw new Error(`</${name}> closes nothing`); continue; }
    const read = Object.fromEntries([...attributes!.matchAll(/([\w:-]+)="([^"]*)"/g)].map((m) => [m[1]!, m[2]!]));
    all.push({ name: name!, attributes: read });
    if (empty !== '/') open.push(name!);
  }
  if (open.length > 0 || xml.slice(at).trim() !== '') throw new Error(`left open: ${open.join(', ')}`);
  return all;
}
const circles = (svg: string, mark: string): number[] => elementsOf(svg).filter((e) => e.name === 'circle' && e.attributes['class'] === `wg-${mark}`).map((e) => Number(e.attributes['r']));

describe('to scale', () => {
  it.each([['560 mm', '60 mm', '48 mm', '2 mm'], ['22 in', '2 in', '1.75 in', '1.5 mm'], ['710 mm', '45 mm', '40 mm', '3 mm']])('wheel %s, whorl %s, bobbin %s, band %s', (wheel, whorl, bobbin, band) => {
    const question = { wheel: { driveWheel: { grooveDiameter: wheel }, modes: [{ drive: 'double-drive', band: { thickness: band } }], whorls: [{ grooveDiameter: whorl }], bobbins: [{ grooves: [{ grooveDiameter: bobbin }] }] } };
    const { result } = answer(question);
    const svg = picture(question);
    const [hub] = circles(svg, 'ink').toSorted((a, b) => b - a);
    // The ratio of pitch circles is the drive ratio. Coordinates carry two decimals.
    const flyer = result.whorls![0]!.flyerRatio as { value: number };
    const spool = result.bobbins[0]!.bobbinRatio as { value: number };
    for (const r of circles(svg, 'woad')) expect(Math.abs(hub! / r / flyer.value - 1)).toBeLessThan(0.002);
    for (const r of circles(svg, 'madder')) expect(Math.abs(hub! / r / spool.value - 1)).toBeLessThan(0.002);
    expect(circles(svg, 'woad')).toHaveLength(2);
    expect(svg).toContain('Distance not to scale');
  });
  it('keeps the distance of axle and flyer when it is known', () => {
    const svg = picture({ wheel: { driveWheel: { bandTurn: '1800 mm' }, axleToFlyer: { nearest: '500 mm', farthest: '520 mm' }, whorls: [{ bandTurn: '200 mm' }] } });
    const discs = elementsOf(svg).filter((e) => e.name === 'circle').map((e) => e.attributes);
    const wheel = discs.filter((d) => d['class'] === 'wg-ink').toSorted((a, b) => Number(b['r']) - Number(a['r']))[0]!;
    const whorl = discs.find((d) => d['class'] === 'wg-woad')!;
    expect((Number(whorl['cx']) - Number(wheel['cx'])) / Number(wheel['r'])).toBeCloseTo(510 / (1800 / Math.PI / 2), 2);
    expect(svg).not.toContain('Distance not to scale');
  });
  it('draws each line as far as the part turns', () => {
    const svg = picture({ wheel: { whorls: [{ statedRatio: 5 }, { statedRatio: 10 }] } });
    const lines = elementsOf(svg).filter((e) => e.name === 'path' && e.attributes['class'] === 'wg-woad').map((e) => { const [a, , b] = e.attributes['d']!.match(/-?[\d.]+/g)!.map(Number); return b! - a!; });
    expect(lines[1]! / lines[0]!).toBeCloseTo(2, 2);
    expect(svg).toContain('stamped ratios alone');
  });
});

describe('in words', () => {
  it('carries the answer, the caution and what is not to scale', () => {
    const svg = picture(contract.example);
    expect(svg).toMatch(/<title id="wg-title">Drive ratio of Thornmere 4<\/title>/);
    const described = /<desc[^>]*>([^<]*)<\/desc>/.exec(svg)![1]!;
    expect(described).toContain('flyer, small: 9.06 : 1.');
    expect(described).toContain('bobbin, plain, end: 11.2 : 1.');
    expect(described).toContain('bobbin leads');
    expect(described).toContain(footer);
  });
  it('says first that a wheel is not to be run', () => {
    const svg = picture({ wheel: { name: 'Attic', condition: 'do-not-run', driveWheel: { grooveDiameter: '500 mm' }, whorls: [{ grooveDiameter: '50 mm' }] } });
    expect(svg.indexOf('Marked do not run')).toBeLessThan(svg.indexOf('wg-band'));
  });
  it('leaves its style to a page that has its own sheet', () => {
    expect(picture(contract.example)).toContain('prefers-color-scheme:dark');
    expect(withoutStyle(picture(contract.example))).not.toContain('<style');
  });
  it('lets no name out of its place', () => {
    const name = '</text><script>alert(1)</script>&"\'\u0000\ud800';
    const svg = picture({ wheel: { name, driveWheel: { grooveDiameter: '500 mm' }, whorls: [{ name, grooveDiameter: '50 mm' }] } });
    expect(elementsOf(svg).map((e) => e.name)).not.toContain('script');
  });
});

describe('whatever is asked', () => {
  const size = fc.oneof(fc.integer({ min: 5, max: 900 }).map((x) => `${x} mm`), fc.integer({ min: 5, max: 900 }).map((x) => `${x} ± 4 mm`), fc.integer({ min: 5, max: 900 }).map((x) => `${x}-${x + 5} mm`), fc.integer({ min: 5, max: 900 }).map((x) => `over ${x} mm`));
  const groove = fc.oneof(size.map((s) => ({ grooveDiameter: s })), size.map((s) => ({ bandTurn: s })), size.map((s) => ({ grooveCircumference: s })), fc.integer({ min: 1, max: 40 }).map((r) => ({ statedRatio: r })));
  const wheel = fc.record({
    driveWheel: groove, whorls: fc.array(groove, { maxLength: 24 }), bobbins: fc.array(fc.record({ grooves: fc.array(groove, { minLength: 1, maxLength: 3 }) }), { maxLength: 5 }),
    stages: fc.array(fc.record({ driven: groove, driving: groove }), { maxLength: 2 }), wheelIs: fc.constantFrom('left', 'right', 'above', 'below'), axleToFlyer: fc.record({ nearest: size }),
    modes: fc.constantFrom([{ drive: 'double-drive' }], [{ drive: 'flyer-lead', band: { thickness: '2 mm' } }], [{ drive: 'bobbin-lead' }], [{ drive: 'spindle' }]),
  }, { requiredKeys: [] });
  it('is well formed, finite, and refuses what the answer refuses', () => {
    let drawn = 0;
    fc.assert(fc.property(fc.record({ wheel, wanted: fc.array(fc.integer({ min: 1, max: 40 }), { maxLength: 2 }) }, { requiredKeys: ['wheel'] }), (question) => {
      let refused: unknown;
      try { answer(question); } catch (error) { refused = error; }
      if (refused !== undefined) {
        expect(refused).toBeInstanceOf(ProblemError);
        expect(() => picture(question)).toThrow(ProblemError);
        return;
      }
      const svg = picture(question);
      drawn++;
      elementsOf(svg);
      expect(svg).not.toMatch(/NaN|Infinity|undefined|null/);
    }), { numRuns: 400 });
    expect(drawn).toBeGreaterThan(60);
  });
  it('draws the same each time', () => expect(picture(contract.example)).toBe(picture(contract.example)));
});

describe('palette', () => {
  const light = (hex: string): number => {
    const [r, g, b] = [1, 3, 5].map((i) => parseInt(hex.slice(i, i + 2), 16) / 255).map((c) => (c <= 0.03928 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
  };
  const contrast = (a: string, b: string): number => { const [x, y] = [light(a), light(b)].toSorted((p, q) => q - p); return (x! + 0.05) / (y! + 0.05); };
  const inks: readonly Colour[] = ['ink', 'soft', 'woad', 'madder', 'weld', 'lichen'];
  it.each(['light', 'dark'] as const)('passes WCAG AA as text in %s, on the ground and on cloth', (scheme) => {
    for (const ink of inks) for (const ground of ['ground', 'cloth'] as const) expect(contrast(palette[scheme][ink], palette[scheme][ground]), `${ink} on ${ground}`).toBeGreaterThanOrEqual(4.5);
    for (const ink of inks) expect(contrast(palette.light[ink], '#ffffff'), `${ink} in print`).toBeGreaterThanOrEqual(4.5);
  });
});
