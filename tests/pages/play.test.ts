/** The wheel on the front page says what the calculations say at the same fill. */
import { describe, expect, it } from 'vitest';
import { answer as ratio } from '../../services/calculations/ratio/answer.js';
import { answer as takeUp } from '../../services/calculations/take-up/answer.js';
import { answer as tension } from '../../services/calculations/tension/answer.js';
import { said } from '../../services/foundation/telling.js';
import { wheels } from '../../services/wheels/thornmere.js';
import { bagTest, play, playable } from '../../sdk/embeds/play.js';

describe.each(playable.map((id) => [id]))('%s', (id) => {
  const wheel = wheels[id]!;
  const drawn = takeUp({ wheel, steps: 3 }).result.pairs;
  const windows = tension({ wheel, bagTest }).result.windows;
  it('has a pair for each of take-up and of tension, alike', () => {
    const { pairs } = play({ wheel: id, pair: 0, full: 0, turns: 0 });
    expect(pairs.length).toBe(drawn.length);
    expect(windows.map((w) => [w.whorl, w.bobbin, w.groove])).toEqual(drawn.map((p) => [p.whorl, p.bobbin, p.groove]));
    expect(new Set(pairs).size).toBe(pairs.length);
  });
  it.each([[0, 'empty'], [0.5, 'half'], [1, 'full']] as const)('at fill %d says what they say', (full, name) => {
    for (const [pair, p] of drawn.entries()) {
      const facts = new Map(play({ wheel: id, pair, full, turns: 0 }).facts);
      const point = p.fill[full * 2]!;
      expect(facts.get('Drawn in at most, for one wheel turn')).toBe(point.mostDrawnInPerWheelTurn && said(point.mostDrawnInPerWheelTurn));
      expect(facts.get('Softest twist it can make now')).toBe(point.leastTwist && said(point.leastTwist));
      const w = windows[pair]![name];
      const setting = windows[pair]!.of === 'brake-torque' ? 'Brake' : 'Band tension';
      expect(facts.get(`${setting}: borne up to`)).toBe(w.most === undefined ? 'nothing' : said(w.most));
      expect(facts.get(`${setting}: draws in from`)).toBe(said(w.least));
    }
  });
  it('turns flyer and bobbin as far as the ratios say', () => {
    const { result } = ratio({ wheel });
    const facts = new Map(play({ wheel: id, pair: 0, full: 0.3, turns: 2 }).facts);
    const whorl = result.whorls?.find((w) => w.name === drawn[0]!.whorl);
    const bobbin = result.bobbins?.find((b) => b.name === drawn[0]!.bobbin && (drawn[0]!.groove === undefined || b.groove === drawn[0]!.groove));
    const flyers = facts.get('Flyer turns for one wheel turn');
    const bobbins = facts.get('Bobbin turns for one wheel turn');
    expect(flyers ?? bobbins).toBeDefined();
    if (flyers !== undefined) expect(flyers).toBe(said(whorl!.flyerRatio));
    if (bobbins !== undefined) expect(bobbins).toBe(said(bobbin!.bobbinRatio));
  });
});

it('takes anything that is asked', () => {
  const usual = play({ wheel: playable[0], pair: 0, full: 0, turns: 0 });
  expect(play({ wheel: '__proto__', pair: -3, full: NaN, turns: Infinity })).toEqual(usual);
  expect(play({ wheel: 'none', pair: 0.5, full: -1, turns: -1 })).toEqual(usual);
  expect(play({ wheel: playable[0], pair: 0, full: 9, turns: 0 }).facts).toEqual(play({ wheel: playable[0], pair: 0, full: 1, turns: 0 }).facts);
});
