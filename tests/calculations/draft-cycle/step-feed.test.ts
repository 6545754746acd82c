/** A hand that lets in all at once, against the closed form: u²/2a of slack, taut after 2u/a, or later where the ceiling comes first. */
import { describe, expect, it } from 'vitest';
import { stepFeed } from '../../../services/calculations/draft-cycle/formula.js';
import { run } from '../../../services/calculations/draft-cycle/motion.js';
import { oneMake } from './scenes.js';

const at = (feed: number): ReturnType<typeof run> => run({ ...oneMake, quickening: 2, ceiling: 0.5, start: { length: 10, turns: 100 }, hand: [{ from: 0, to: 6, start: feed, end: feed }], draft: [], until: 6 });

describe('a step of the hand, ceiling 0.5 m/s, 2 m/s²', () => {
  // By hand: 0.2²/4 = 0.01 m, taut at 0.2 s; 0.4²/4 = 0.04 m, 0.5²/(4·0.1) = 0.625 s.
  it.each([[0.2, 0.01, 0.2, 0.2], [0.25, 0.015625, 0.25, 0.25], [0.4, 0.04, 0.625, 0.1]])('%s m/s', (feed, slack, taut, snatch) => {
    const form = stepFeed({ feed, quickening: 2, ceiling: 0.5 });
    const ran = at(feed);
    const grab = ran.events.find((e) => e.event === 'grab')!;
    for (const [found, wanted] of [[form.slack, slack], [form.taut, taut], [form.snatch, snatch], [ran.mostSlack, slack], [grab.time, taut], [grab.difference!, snatch]] as const) expect(Math.abs(found - wanted)).toBeLessThan(1e-9);
    // The hand stops at the end at once, so nothing more may happen after the grab.
    expect(ran.grabs).toBe(1);
  });
  it.each([0.5, 0.7])('%s m/s never closes', (feed) => {
    expect(stepFeed({ feed, quickening: 2, ceiling: 0.5 }).taut).toBe(Infinity);
    expect(at(feed).grabs).toBe(0);
    expect(at(feed).mostSlack).toBeGreaterThan(0.05);
  });
  it('a hand that stops at once is run into', () => {
    const ran = run({ ...oneMake, start: { length: 1, turns: 50, speed: 0.3 }, hand: [{ from: 0, to: 1, start: 0.3, end: 0.3 }], draft: [], until: 1.5 });
    expect(ran.events).toEqual([{ event: 'grab', time: 1, difference: 0.3 }]);
    expect(ran.audits.failed).toEqual([]);
  });
  it('a hand that climbs through the ceiling without slack begins to pile it up there, whatever the last digit says', () => {
    for (let i = 0; i < 200; i++) {
      const ceiling = 0.1 + 0.0007 * i;
      const ran = run({ ...oneMake, quickening: 3, ceiling, hand: [{ from: 0, to: 0.2, start: 0, end: 0.5 }, { from: 0.2, to: 0.4, start: 0.5, end: 0 }], draft: [], until: 1.5 });
      expect(ran.events[0]!.event).toBe('slack-begins');
      expect(Math.abs(ran.events[0]!.time - ceiling / 2.5)).toBeLessThan(1e-9);
      expect(ran.grabs).toBe(1);
      expect(ran.audits.failed).toEqual([]);
    }
  });
});
