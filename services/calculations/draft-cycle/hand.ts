/** What the hand does, as it was asked: by the way of drafting, or piece by piece. Pure. */
import type { Notes } from '../../foundation/notes.js';
import type { Reader } from '../../foundation/read.js';
import { middle } from '../../foundation/reading.js';
import type { Draft, Feed } from './motion.js';
import * as notes from './notes.js';
import { scheduleOf, shortest, styles, usual, type Habit, type Schedule, type Style } from './schedule.js';

export interface Moves { readonly schedule: Schedule; /** Absent: as after many makes like these. */ readonly startTurns?: number; readonly habit?: Habit; /** s between rows of the series. */ readonly step?: number }
/** What one question may ask for: s, makes, pieces, rows. */
export const most = { time: 3600, treadled: 60, makes: 400, pieces: 2000, rows: 6000, streamed: 100_000 } as const;
type Json = Record<string, unknown>;

export function readMoves(q: Json, r: Reader, out: Notes, treadled: boolean): Moves {
  const get = (key: string, kind: Parameters<Reader['quantity']>[2], limits: object): number | undefined => { const v = q[key] === undefined ? undefined : r.quantity(q[key], `/${key}`, kind, limits); return v === undefined ? undefined : middle(v); };
  const style: Style = (q['drafting'] === undefined ? undefined : r.choice(q['drafting'], '/drafting', styles, { continuous: 'short-forward', 'short-draw': 'short-backward', longdraw: 'long-draw' })) ?? 'short-backward';
  const time = { moreThan: 0, atMost: 120, says: 'more than 0 and at most 120 s' };
  const length = { moreThan: 1e-4, atMost: 10, says: 'from 0.1 mm to 10 m' };
  const u = usual[style];
  const own = ['draftLength', 'draftTime', 'holdTime', 'windOnTime', 'handRise', 'leftBehind'];
  const makes = q['makes'] === undefined ? undefined : r.number(q['makes'], '/makes', { atLeast: 1, atMost: most.makes, says: `a whole number from 1 to ${most.makes}` });
  if (makes !== undefined && !Number.isInteger(middle(makes))) r.fail('/makes', { code: 'out-of-range', detail: 'Makes are counted whole.', received: JSON.stringify(q['makes']).slice(0, 40), expected: `a whole number from 1 to ${most.makes}` });
  const step = get('series', 'time', { atLeast: 1e-4, atMost: 60, says: 'from 0.1 ms to 60 s' });
  const stepped = step === undefined ? {} : { step };
  const spelled = readPieces(q, r);
  const habit: Habit = {
    style, draftLength: get('draftLength', 'part', length) ?? u.draftLength, draftTime: get('draftTime', 'time', time) ?? u.draftTime, holdTime: get('holdTime', 'time', { ...time, atLeast: 0, moreThan: -1 }) ?? u.holdTime,
    windOnTime: get('windOnTime', 'time', time) ?? u.windOnTime, rise: get('handRise', 'time', { ...time, atLeast: 0, moreThan: -1 }) ?? u.rise, left: get('leftBehind', 'part', length) ?? u.left, makes: makes === undefined ? (style === 'short-forward' ? 5 : 3) : middle(makes),
  };
  if (spelled !== undefined) {
    out.assume(notes.handMoves);
    for (const key of ['drafting', 'makes', ...own]) if (q[key] !== undefined) r.fail(`/${key}`, { code: 'one-of', detail: 'What the hand does was given piece by piece, so its habits are not asked.', received: `hand and ${key}`, expected: 'one way' });
    bounded(spelled.schedule, step, r, '/hand', treadled);
    return { ...spelled, ...stepped };
  }
  if (q['drafting'] === undefined || own.some((key) => q[key] === undefined && (style !== 'short-forward' || ['draftLength', 'draftTime'].includes(key)))) out.assume(notes.habitTaken);
  if (q['start'] === undefined) out.assume(notes.steadyMakes);
  if (style !== 'short-forward' && 2 * habit.rise > habit.windOnTime) {
    r.fail(q['handRise'] === undefined ? '/windOnTime' : '/handRise', { code: 'impossible-geometry', detail: 'Speeding up and slowing down take longer than the whole wind-on.', received: `${habit.rise} s twice, in ${habit.windOnTime} s`, expected: 'a rise of at most half the wind-on' });
    return { schedule: { hand: [], draft: [], until: 1, length: 1, speed: 0 }, habit };
  }
  const schedule = scheduleOf(habit);
  bounded(schedule, step, r, '/makes', treadled);
  const turns = startOf(q, r)?.turns;
  return { schedule, habit, ...(turns === undefined ? {} : { startTurns: turns }), ...stepped };
}

function bounded(s: Schedule, step: number | undefined, r: Reader, at: string, treadled: boolean): void {
  const longest = treadled ? most.treadled : most.time;
  if (s.until > longest) r.fail(at, { code: 'too-many', detail: `One question follows at most ${longest / 60} ${longest === 60 ? 'minute' : 'minutes'} of spinning${treadled ? ' where the push of the treadle is given' : ''}.`, received: `${Math.round(s.until)} s`, expected: `at most ${longest} s` });
  else if (step !== undefined && s.until / step > most.streamed) r.fail('/series', { code: 'too-many', detail: `So fine a series would have ${Math.floor(s.until / step)} rows.`, received: `${step} s for ${Math.round(s.until)} s`, expected: `at most ${most.streamed} rows: larger steps or fewer makes` });
}

function startOf(q: Json, r: Reader): { length?: number; turns?: number; speed?: number } | undefined {
  const o = q['start'] === undefined ? undefined : r.object(q['start'], '/start', ['length', 'turns', 'speed']);
  if (o === undefined) return undefined;
  const length = o['length'] === undefined ? undefined : r.quantity(o['length'], '/start/length', 'part', { moreThan: 1e-4, atMost: 100 });
  const turns = o['turns'] === undefined ? undefined : r.number(o['turns'], '/start/turns', { atLeast: 0, atMost: 1e6 });
  const speed = o['speed'] === undefined ? undefined : r.quantity(o['speed'], '/start/speed', 'speed', { atLeast: 0, atMost: 100 });
  return { ...(speed === undefined ? {} : { speed: middle(speed) }), ...(length === undefined ? {} : { length: middle(length) }), ...(turns === undefined ? {} : { turns: middle(turns) }) };
}

/** `hand`, `draft` and `start`, piece by piece; times from the start. */
function readPieces(q: Json, r: Reader): Pick<Moves, 'schedule' | 'startTurns'> | undefined {
  if (q['hand'] === undefined) {
    if (q['draft'] !== undefined) r.missing('/hand', 'What the hand lets in, piece by piece', '[{"from": "0 s", "to": "1 s", "start": "0 m/s", "end": "0.5 m/s"}]');
    return undefined;
  }
  const time = { atLeast: 0, atMost: most.time, says: `from 0 to ${most.time} s` };
  const speed = { atLeast: 0, atMost: 100, says: 'from 0 to 100 m/s' };
  const each = <T>(key: 'hand' | 'draft', parts: readonly (readonly [string, 'time' | 'speed'])[], make: (v: Record<string, number>) => T): T[] => {
    let last = 0;
    return (r.list(q[key] ?? [], `/${key}`, most.pieces, 'pieces') ?? []).flatMap((value, i) => {
      const at = `/${key}/${i}`;
      const o = r.object(value, at, parts.map(([name]) => name));
      if (o === undefined) return [];
      const v: Record<string, number> = {};
      for (const [name, kind] of parts) {
        const read = o[name] === undefined ? r.missing(`${at}/${name}`, 'Each end of a piece', kind === 'time' ? '1.5 s' : '0.8 m/s') : r.quantity(o[name], `${at}/${name}`, kind, kind === 'time' ? time : speed);
        if (read === undefined) return [];
        v[name] = middle(read);
      }
      if (!(v['to']! > v['from']!) || v['from']! < last - 1e-12) return r.fail(`${at}/from`, { code: 'range-reversed', detail: 'Pieces follow each other in time, and each ends after it begins.', received: `${v['from']} to ${v['to']} s`, expected: `from ${last} s on` }) ?? [];
      last = v['to']!;
      return [make(v)];
    });
  };
  const hand = each('hand', [['from', 'time'], ['to', 'time'], ['start', 'speed'], ['end', 'speed']], (v): Feed => ({ from: v['from']!, to: v['to']!, start: v['start']!, end: v['end']! }));
  const draft = each('draft', [['from', 'time'], ['to', 'time'], ['speed', 'speed']], (v): Draft => ({ from: v['from']!, to: v['to']!, speed: v['speed']! }));
  const begins = startOf(q, r);
  if (begins?.length === undefined) r.missing('/start/length', 'The length between orifice and hand at the start', 'such as 150 mm');
  if (hand.length === 0 && r.issues.length === 0) r.missing('/hand', 'At least one piece of what the hand lets in', '[{"from": "0 s", "to": "1 s", "start": "0 m/s", "end": "0.5 m/s"}]');
  const schedule: Schedule = { hand, draft, until: Math.max(0, ...hand.map((p) => p.to), ...draft.map((p) => p.to)), length: begins?.length ?? 1, speed: begins?.speed ?? 0 };
  if (r.issues.length === 0 && shortest(schedule) < 1e-4) r.fail('/hand', { code: 'impossible-geometry', detail: 'More yarn is let in than there is between orifice and hand.', received: `${(shortest(schedule) * 1000).toFixed(1)} mm left at the shortest`, expected: 'a longer start, more drafting, or less let in' });
  return { schedule, startTurns: begins?.turns ?? 0 };
}
