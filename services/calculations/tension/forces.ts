/** What resists and what is wanted, as a question gives it or as it usually is: friction, drag, hooks, and the pulls between which a setting must stay. */
import type { Notes } from '../../foundation/notes.js';
import type { Kind } from '../../foundation/quantity.js';
import type { Limits, Reader } from '../../foundation/read.js';
import type { Reading } from '../../foundation/reading.js';
import { expr, type Expr, type Knowns } from '../../foundation/uncertainty.js';
import type { Material } from '../../wheels/words.js';
import type { BagRead } from '../bag-test.js';
import { frictionFactor } from '../take-up/formula.js';
import * as notes from './notes.js';
import type { Forces } from './window.js';

const torqueLimits: Limits = { atLeast: 0, atMost: 100 };
const pullLimits: Limits = { moreThan: 0, atMost: 100 };

export function readForces(q: Readonly<Record<string, unknown>>, r: Reader, k: Knowns, out: Notes, bag: BagRead | undefined, material: Material | undefined): Forces {
  const input = (v: Reading | undefined): Expr | undefined => (v === undefined ? undefined : k.input(v));
  const quantity = (key: string, kind: Kind, limits: Limits): Expr | undefined => (q[key] === undefined ? undefined : input(r.quantity(q[key], `/${key}`, kind, limits)));
  const number = (key: string, limits: Limits): Expr | undefined => (q[key] === undefined ? undefined : input(r.number(q[key], `/${key}`, limits)));
  const or = (e: Expr | undefined, note: Parameters<Notes['assume']>[0], usual: Reading): Expr => e ?? (out.assume(note), k.assumed(usual));
  const own = number('hookFactor', { atLeast: 1, atMost: 100, says: 'from 1 to 100' });
  return {
    friction: or(number('bandFriction', { moreThan: 0.01, atMost: 3, says: 'from 0.01 to 3' }), notes.frictionTaken, material === 'urethane' ? { low: 0.45, high: 0.8 } : { low: 0.2, high: 0.4 }),
    drag: or(quantity('drag', 'torque', torqueLimits), notes.dragTaken, { low: 0.001, high: 0.012 }), spindle: or(quantity('spindleFriction', 'torque', torqueLimits), notes.spindleTaken, { low: 0.0001, high: 0.001 }),
    factor: own ?? (bag === undefined ? or(undefined, notes.hooksTaken, { low: 1.4, high: 3 }) : expr((lifts, pullsOff) => frictionFactor({ lifts, pullsOff }), bag.lifts, bag.off)),
    needed: or(quantity('pullNeeded', 'pull', pullLimits), notes.pullNeededTaken, { value: 0.00980665 * 5 }), borne: or(quantity('pullBorne', 'pull', pullLimits), notes.pullBorneTaken, { value: 0.00980665 * 60 }),
    start: quantity('startTorque', 'torque', torqueLimits) ?? k.assumed({ value: 0 }),
  };
}
