/** Tries, pauses, deadlines and aborts, at a fake time against a scripted service. */
import { describe, expect, it } from 'vitest';
import { Aborted, NetworkFailure, ProblemReply, Timeout, UnreadableReply, type RetryInfo } from '../../sdk/src/index.js';
import { fetched, outcome, problem, scripted, type Step } from './fake.js';

const busy = problem(503, 'library-unavailable');
const reset = new TypeError('fetch failed');

describe('tries', () => {
  it.each([408, 425, 429, 500, 502, 503, 504])('status %i is tried again', async (status) => {
    const { clock, asked, wheelgrist } = scripted({}, problem(status, 'x'), fetched(200));
    const got = outcome(wheelgrist.listUnits());
    await clock.pass(1000);
    expect(got.value).toEqual({ ok: true });
    expect(asked).toHaveLength(2);
  });
  it.each([400, 401, 403, 404, 409, 412, 422, 428])('status %i is not', async (status) => {
    const { clock, asked, wheelgrist } = scripted({}, problem(status, 'x'), fetched(200));
    const got = outcome(wheelgrist.listUnits());
    await clock.pass(60_000);
    expect((got.error as ProblemReply).status).toBe(status);
    expect(asked).toHaveLength(1);
  });
  it('a broken connection is tried again, and so is a reply that breaks off', async () => {
    const cut = (): Step => () => Object.assign(fetched(200), { text: () => Promise.reject(new TypeError('terminated')) });
    const { clock, asked, wheelgrist } = scripted({}, reset, cut(), fetched(200));
    const got = outcome(wheelgrist.listUnits().withResponse());
    await clock.pass(5000);
    expect(got.value).toMatchObject({ data: { ok: true }, attempts: 3 });
    expect(asked).toHaveLength(3);
  });
  it('a question that is posted only asks, and is tried again; its body is the same', async () => {
    const { clock, asked, wheelgrist } = scripted({}, busy, fetched(200));
    const got = outcome(wheelgrist.ratio({ wheel: {} }));
    await clock.pass(1000);
    expect(got.value).toEqual({ ok: true });
    expect(asked.map((a) => a.body)).toEqual(['{"wheel":{}}', '{"wheel":{}}']);
  });
  it('what changes something is tried once', async () => {
    const { clock, asked, wheelgrist } = scripted({}, busy);
    const got = outcome(wheelgrist.transport.call({ id: 'change', method: 'PUT', path: '/v1/x' }, {}, {}, { a: 1 }));
    await clock.pass(60_000);
    expect(got.error).toBeInstanceOf(ProblemReply);
    expect(asked).toHaveLength(1);
  });
  it('unless it carries an idempotency key, the same on every try', async () => {
    const { clock, asked, wheelgrist } = scripted({}, busy, reset, fetched(200));
    const got = outcome(wheelgrist.transport.call({ id: 'make', method: 'POST', path: '/v1/x' }, {}, { headers: { 'idempotency-key': 'mine' } }, { a: 1 }));
    await clock.pass(10_000);
    expect(got.value).toEqual({ ok: true });
    expect(asked.map((a) => a.headers['idempotency-key'])).toEqual(['mine', 'mine', 'mine']);
  });
  it('ends with the last error after the tries that are allowed', async () => {
    for (const retries of [0, 1, 4]) {
      const { clock, asked, wheelgrist } = scripted({ retries }, reset, busy);
      const got = outcome(wheelgrist.listUnits());
      await clock.pass(25_000);
      expect(asked).toHaveLength(retries + 1);
      expect(got.error).toBeInstanceOf(retries === 0 ? NetworkFailure : ProblemReply);
    }
  });
});

describe('pauses', () => {
  it('are drawn from nothing up to a bound that doubles, and is never more than 8 s', async () => {
    for (const chance of [0, 0.25, 0.999]) {
      const waits: number[] = [];
      const { clock, wheelgrist } = scripted({ retries: 8, deadline: 0, random: () => chance, onRetry: (info: RetryInfo) => waits.push(info.wait) }, reset);
      outcome(wheelgrist.listUnits());
      await clock.pass(100_000);
      expect(waits).toEqual([250, 500, 1000, 2000, 4000, 8000, 8000, 8000].map((bound) => bound * chance));
    }
  });
  it('Retry-After comes first, as seconds and as a date', async () => {
    for (const after of ['7', 'Thu, 01 Jan 2026 00:00:07 GMT']) {
      const { clock, asked, wheelgrist } = scripted({}, problem(503, 'x', { 'retry-after': after }), fetched(200));
      const got = outcome(wheelgrist.listUnits());
      await clock.pass(6999);
      expect(asked).toHaveLength(1);
      await clock.pass(500);
      expect(got.value).toEqual({ ok: true });
      expect(asked[1]!.at - asked[0]!.at).toBe(7125);
    }
  });
  it.each(['soon', '-5', ''])('a Retry-After that says “%s” is passed over', async (after) => {
    const { clock, asked, wheelgrist } = scripted({}, problem(503, 'x', { 'retry-after': after }), fetched(200));
    outcome(wheelgrist.listUnits());
    await clock.pass(1000);
    expect(asked).toHaveLength(2);
  });
  it('when told to wait longer than the deadline, it says so at once', async () => {
    const { clock, wheelgrist } = scripted({ deadline: 5000 }, problem(429, 'too-many-requests', { 'retry-after': '60' }));
    const got = outcome(wheelgrist.listUnits());
    await clock.pass(1);
    expect(got.error).toMatchObject({ code: 'too-many-requests', headers: { 'retry-after': '60' } });
  });
  it('after a 429 every call of the client waits, and they do not all come back at one moment', async () => {
    let chance = 0;
    const { clock, asked, wheelgrist } = scripted({ random: () => (chance = (chance + 0.3) % 1) }, problem(429, 'too-many-requests', { 'retry-after': '10' }), fetched(200));
    const first = outcome(wheelgrist.listUnits());
    await clock.pass(1);
    const others = [1, 2, 3].map(() => outcome(wheelgrist.listSources()));
    await clock.pass(9990);
    expect(asked).toHaveLength(1);
    await clock.pass(1000);
    expect([first, ...others].every((o) => o.value !== undefined)).toBe(true);
    expect(new Set(asked.map((a) => a.at)).size).toBe(5);
    expect(Math.min(...asked.slice(1).map((a) => a.at - asked[0]!.at))).toBeGreaterThanOrEqual(10_000);
  });
  it('one reply cannot silence a client for more than a minute', async () => {
    const { clock, wheelgrist } = scripted({ retries: 0, deadline: 0 }, problem(429, 'too-many-requests', { 'retry-after': '999999999' }), fetched(200));
    outcome(wheelgrist.listUnits());
    await clock.pass(1);
    const later = outcome(wheelgrist.listUnits());
    await clock.pass(61_000);
    expect(later.value).toEqual({ ok: true });
  });
  it('a service in trouble gets at most a tenth more calls, after ten to begin with', async () => {
    const { clock, asked, wheelgrist } = scripted({ retries: 3 }, busy);
    for (let i = 0; i < 300; i++) {
      outcome(wheelgrist.listUnits());
      await clock.pass(10_000);
    }
    expect(asked.length - 300).toBeLessThanOrEqual(10 + 300 / 10);
    expect(asked.length - 300).toBeGreaterThan(30);
  });
});

describe('the deadline', () => {
  it('holds over all tries together', async () => {
    const { clock, asked, wheelgrist } = scripted({ deadline: 1000, retries: 9, random: () => 0.9 }, reset);
    const got = outcome(wheelgrist.listUnits());
    await clock.pass(1000);
    expect(got.error).toBeInstanceOf(NetworkFailure);
    expect(asked.length).toBeGreaterThan(1);
    expect(asked.at(-1)!.at - asked[0]!.at).toBeLessThan(1000);
  });
  it('ends a call whose fetch never settles and heeds no signal, and leaves no timer behind', async () => {
    const { clock, asked, wheelgrist } = scripted({ deadline: 1000 }, 'never');
    const got = outcome(wheelgrist.listUnits());
    await clock.pass(999);
    expect(got.done).toBe(false);
    await clock.pass(1);
    expect(got.error).toBeInstanceOf(Timeout);
    expect(asked[0]!.signal.aborted).toBe(true);
    expect(clock.waiting).toBe(0);
  });
  it('holds while the body is read, and says what the try before met', async () => {
    const slow: Step = () => Object.assign(fetched(200), { text: () => new Promise<string>(() => {}) });
    const { clock, wheelgrist } = scripted({ deadline: 3000 }, reset, slow);
    const got = outcome(wheelgrist.listUnits());
    await clock.pass(3000);
    expect(got.error).toBeInstanceOf(Timeout);
    expect((got.error as Timeout).cause).toBeInstanceOf(NetworkFailure);
  });
  it('may be set for one call, or left out', async () => {
    const { clock, wheelgrist } = scripted({ deadline: 1000 }, 'never');
    const short = outcome(wheelgrist.listUnits({}, { deadline: 10 }));
    const none = outcome(wheelgrist.listUnits({}, { deadline: 0 }));
    await clock.pass(1_000_000);
    expect(short.error).toBeInstanceOf(Timeout);
    expect(none.done).toBe(false);
  });
});

describe('the caller’s signal', () => {
  it('ends a call under way, in a pause, and before it began', async () => {
    for (const [step, wait] of [['never', 10], [busy, 50], ['never', -1]] as const) {
      const { clock, asked, wheelgrist } = scripted({}, step);
      const control = new AbortController();
      if (wait < 0) control.abort('changed my mind');
      const got = outcome(wheelgrist.listUnits({}, { signal: control.signal }));
      await clock.pass(Math.max(0, wait));
      control.abort('changed my mind');
      await clock.pass(0);
      expect(got.error).toBeInstanceOf(Aborted);
      expect((got.error as Aborted).cause).toBe('changed my mind');
      expect(asked).toHaveLength(wait < 0 ? 0 : 1);
      expect(clock.waiting).toBe(0);
    }
  });
});

describe('replies that are not what was asked for', () => {
  it('a page of a proxy with an error status keeps the status', async () => {
    const { clock, wheelgrist } = scripted({ retries: 0 }, fetched(502, '<html>Bad gateway</html>', { 'content-type': 'text/html' }));
    const got = outcome(wheelgrist.listUnits());
    await clock.pass(0);
    expect(got.error).toMatchObject({ name: 'ProblemReply', status: 502, code: undefined, problem: { type: 'about:blank', status: 502 } });
  });
  it('a sign-in page with status 200 is no answer', async () => {
    const { clock, wheelgrist } = scripted({}, fetched(200, '<html>Sign in</html>', { 'content-type': 'text/html' }));
    const got = outcome(wheelgrist.listUnits());
    await clock.pass(0);
    expect(got.error).toBeInstanceOf(UnreadableReply);
  });
  it('half an answer is none, and is asked for again', async () => {
    const { clock, wheelgrist } = scripted({}, fetched(200, '{"items": ['), fetched(200));
    const got = outcome(wheelgrist.listUnits());
    await clock.pass(1000);
    expect(got.value).toEqual({ ok: true });
  });
});
