/** What is gathered while a cycle runs: extremes, events, and each balance by its own way, so that the audits have two numbers to compare. Pure. */
import { gainAt, slackAt, speedAt, type CycleEvent, type Motion, type Stretch } from './motion.js';
import { nodes, weights } from './turns.js';

/** One moment, for whoever looks. The same object each time. */
export interface Moment { time: number; letIn: number; drafted: number; drawIn: number; slack: number; free: number; twist: number; pull: number; wound: number; wheelSpeed: number }
export interface Look { readonly step: number; at(moment: Moment): void }
export interface Tally {
  /** Twist in the free length now, turns/m. */
  twist: number;
  /** Turns of the evenly turning member; those wound on; yarn wound on, from what was let in less the slack, and by quadrature of the draw-in. */
  turnsIn: number; woundTurns: number; wound: number; woundByRule: number;
  mostSlack: number; mostSlackAt: number; slackTime: number; spells: number;
  grabs: number; hardest: number; hardestAt: number;
  /** While taut; Infinity and 0 where it never was. */
  leastPull: number; mostPull: number;
  /** Of the yarn that was wound on. */
  leastTwist: number; mostTwist: number;
  /** The most twist while slack: what would snarl. */
  slackTwist: number;
  /** J: given to the package by its drive; taken by the hand; lost in snatches. */
  drive: number; yarn: number; lost: number;
  readonly events: CycleEvent[];
  readonly first: { readonly speed: number };
  slackSince: number | undefined;
  begins(time: number): void;
  stands(time: number): void;
  grab(time: number, difference: number, feed: number, mass: number): void;
  addWoundTurns(turns: number): void;
  sawTwist(twist: number, z: Stretch, tau: number): void;
}
/** Events kept with their times; beyond these they are counted only. */
export const mostEvents = 400;

export function newTally(m: Pick<Motion, 'start'>, speed: number): Tally {
  const twist = m.start.turns / m.start.length;
  const keep = (t: Tally, e: CycleEvent): void => { if (t.events.length < mostEvents) t.events.push(e); };
  return {
    twist, turnsIn: 0, woundTurns: 0, wound: 0, woundByRule: 0, mostSlack: 0, mostSlackAt: 0, slackTime: 0, spells: 0, grabs: 0, hardest: 0, hardestAt: 0,
    leastPull: Infinity, mostPull: 0, leastTwist: Infinity, mostTwist: 0, slackTwist: 0, drive: 0, yarn: 0, lost: 0, events: [], first: { speed }, slackSince: undefined,
    begins(time) { this.spells++; this.slackSince = time; keep(this, { event: 'slack-begins', time }); },
    stands(time) { keep(this, { event: 'at-the-ceiling', time }); },
    grab(time, difference, feed, mass) {
      this.grabs++;
      if (difference > this.hardest) [this.hardest, this.hardestAt] = [difference, time];
      this.slackTime += time - (this.slackSince ?? time);
      this.slackSince = undefined;
      // The blow does work on the hand as it moves, and the rest is lost in the yarn.
      this.yarn += mass * difference * feed;
      this.lost += 0.5 * mass * difference ** 2;
      keep(this, { event: 'grab', time, difference });
    },
    addWoundTurns(turns) { this.woundTurns += turns; },
    sawTwist(T, z, tau) {
      const v = speedAt(z, tau);
      if (v > 0 || (v === 0 && z.p1 > 0)) { if (T > this.mostTwist) this.mostTwist = T; if (T < this.leastTwist) this.leastTwist = T; }
      if (z.phase !== 'taut' && T > this.slackTwist) this.slackTwist = T;
    },
  };
}

/** Takes one stretch into the tally. */
export function gather(z: Stretch, m: Motion, tally: Tally): void {
  const { dt } = z;
  const swing = (tau: number): number => (z.depth === 0 ? 0 : z.b * Math.cos(z.rate * (z.t + tau)));
  let byRule = 0;
  for (let j = 0; j < 3; j++) {
    const tau = nodes[j]! * dt;
    const v = speedAt(z, tau);
    byRule += weights[j]! * v;
    const share = weights[j]! * dt * m.mass * v;
    if (z.phase === 'taut') {
      const driven = m.quickening + swing(tau);
      tally.drive += share * driven;
      tally.yarn += share * (driven - z.du);
    } else tally.drive += share * gainAt(z, tau);
  }
  tally.woundByRule += byRule * dt;
  tally.wound += z.u * dt + 0.5 * z.du * dt * dt - (slackAt(z, dt) - z.s);
  if (z.phase === 'taut') {
    for (const tau of [0, dt]) {
      const pull = m.mass * (m.quickening + swing(tau) - z.du);
      if (pull < tally.leastPull) tally.leastPull = Math.max(0, pull);
      if (pull > tally.mostPull) tally.mostPull = pull;
    }
    return;
  }
  const see = (tau: number): void => { const s = slackAt(z, tau); if (s > tally.mostSlack) [tally.mostSlack, tally.mostSlackAt] = [s, z.t + tau]; };
  see(dt);
  const gap = (tau: number): number => z.u + z.du * tau - speedAt(z, tau);
  let [low, high] = [0, dt];
  if (!(gap(low) > 0 && gap(high) < 0)) return;
  if (z.depth === 0) see(gap(0) / (gainAt(z, 0) - z.du));
  else {
    for (let i = 0; i < 50; i++) { const middle = (low + high) / 2; if (gap(middle) > 0) low = middle; else high = middle; }
    see(low);
  }
}
