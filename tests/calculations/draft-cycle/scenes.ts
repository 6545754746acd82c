/** Set-ups for the tests of a draft cycle: invented, and drawn at random within what wheels are. */
import type { Motion } from '../../../services/calculations/draft-cycle/motion.js';
import { scheduleOf } from '../../../services/calculations/draft-cycle/schedule.js';
import type { Treadled } from '../../../services/calculations/draft-cycle/treadled.js';
import { seeded } from '../../support/random.js';

/** One make under a hand that is quicker than the bobbin. */
export const oneMake: Motion = {
  quickening: 2.5, ceiling: 1.1, mass: 0.12, radius: 0.02, carrier: 56, perLap: false, pulse: { depth: 0, rate: 2 * Math.PI, with: 1 }, start: { length: 0.15, turns: 12 }, until: 2.5,
  hand: [{ from: 1.5, to: 1.6, start: 0, end: 0.8 }, { from: 1.6, to: 2.25, start: 0.8, end: 0.8 }, { from: 2.25, to: 2.35, start: 0.8, end: 0 }], draft: [{ from: 0, to: 1.2, speed: 0.5 }],
};
export const treadledMake: Treadled = {
  wheel: 0.1, carrierInertia: 2.2e-4, follower: 4.7e-5, carrier: 9, sticksTo: 0, way: -1, radius: 0.02, slip: 0.006, spindle: 2e-4, drag: 0.002, air: 3e-7, bearing: 0.005, flyerFollows: false, push: 0.26, pushes: 1,
  start: { speed: 6.2, angle: 0, length: 0.75, turns: 40 }, hand: [{ from: 1.5, to: 1.6, start: 0, end: 0.8 }, { from: 1.6, to: 2.25, start: 0.8, end: 0.8 }, { from: 2.25, to: 2.35, start: 0.8, end: 0 }], draft: [], until: 3,
};
/** As many set-ups as are asked for, the same each time: every drive, even and swinging wheels, gentle and pouncing hands. */
export function randomMakes(count: number): Motion[] {
  const r = seeded(20);
  return Array.from({ length: count }, (_, i): Motion => {
    const drive = (['flyer', 'double', 'bobbin'] as const)[i % 3]!;
    const radius = r.between(0.011, 0.037);
    const turning = r.between(0.7, 1.4);
    const ratio = r.between(5, 15);
    const carrier = 2 * Math.PI * turning * ratio;
    const inertia = drive === 'bobbin' ? r.between(1e-4, 5e-4) : r.between(3e-5, 1.2e-4);
    const torque = r.between(0.003, 0.012);
    const [draftLength, windOnTime] = [r.between(0.05, 0.5), r.between(0.3, 1)];
    const schedule = scheduleOf({ style: 'long-draw', draftLength, draftTime: r.between(0.3, 1), holdTime: r.between(0, 0.4), windOnTime, rise: windOnTime * r.between(0.05, 0.45), left: r.between(0.06, 0.3), makes: 2 });
    return {
      quickening: (radius * torque) / inertia, ceiling: radius * carrier * (drive === 'double' ? r.between(0.15, 0.4) : 1), mass: inertia / radius ** 2, radius, carrier, perLap: drive === 'bobbin',
      pulse: { depth: i % 2 === 0 ? 0 : r.between(0.01, 0.08), rate: 2 * Math.PI * turning, with: drive === 'double' ? -1 : 1 }, start: { length: schedule.length, turns: schedule.length * r.between(50, 300) }, hand: schedule.hand, draft: schedule.draft, until: schedule.until,
    };
  });
}
