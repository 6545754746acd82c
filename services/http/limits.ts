/**
 * How much one guild or one address may ask in a minute, told in every reply that it holds for (RateLimit and
 * RateLimit-Policy, draft-ietf-httpapi-ratelimit-headers-10) and refused with 429 beyond. Guilds are counted together with
 * the other processes of the library; addresses in this process alone.
 */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { ProblemError } from '../foundation/problems.js';
import { callerOf, type KeyLookup } from '../guilds/caller.js';
import { operationNow } from './operation.js';

/** Requests in a minute; 0 is no limit. */
export interface Limits {
  /** Of one guild, with all of its keys: what makes, changes or removes something. */
  readonly writes: number;
  /** From one address, without a key. */
  readonly keyless: number;
}
export const defaultLimits: Limits = { writes: 6000, keyless: 0 };

/** Tells the library that `count` more were done in this minute of the epoch; gives what all processes have done together. */
export type ReportSpent = (guild: string, minute: number, count: number) => Promise<number>;

const minuteOf = (now: number): number => Math.floor(now / 60_000);
/** Whole seconds until the minute is over: at least one. */
const secondsLeft = (now: number): number => Math.max(1, Math.ceil(60 - (now % 60_000) / 1000));
/** Milliseconds between two reports of one guild. */
const reportEvery = 500;
/** Addresses and guilds that are remembered at most; beyond, all begin anew. */
const mostRemembered = 100_000;

interface Spent { minute: number; known: number; sent: number; unsent: number; reportedAt: number }

/** Counts by name in whole minutes. `report`: what others count belongs to it too; it is asked twice a second at most, so the sum lags behind by so much. */
export class Meter {
  private readonly spent = new Map<string, Spent>();
  constructor(private readonly quota: number, private readonly report?: ReportSpent) {}

  /** Takes one. Gives what is left, or undefined when there was none. */
  take(name: string, now: number): number | undefined {
    const minute = minuteOf(now);
    let own = this.spent.get(name);
    if (own === undefined) {
      if (this.spent.size >= mostRemembered) this.spent.clear();
      this.spent.set(name, (own = { minute, known: 0, sent: 0, unsent: 0, reportedAt: -Infinity }));
    } else if (own.minute !== minute) Object.assign(own, { minute, known: 0, sent: 0, unsent: 0, reportedAt: -Infinity });
    const used = own.known + own.sent + own.unsent;
    if (used >= this.quota) return undefined;
    own.unsent++;
    if (this.report !== undefined && own.sent === 0 && now - own.reportedAt >= reportEvery) this.tell(name, own, now);
    return this.quota - used - 1;
  }

  private tell(name: string, own: Spent, now: number): void {
    const { minute, unsent } = own;
    Object.assign(own, { sent: unsent, unsent: 0, reportedAt: now });
    this.report!(name, minute, unsent).then(
      (all) => { if (own.minute === minute) Object.assign(own, { known: all, sent: 0 }); },
      // The database is away: what was not told is told next time.
      () => { if (own.minute === minute) { own.unsent += own.sent; own.sent = 0; } },
    );
  }
}

/** Spends one of `meter` and says so, or refuses. */
function spend(meter: Meter, policy: keyof Limits, quota: number, name: string, reply: FastifyReply): void {
  const now = Date.now();
  const left = meter.take(name, now);
  const wait = secondsLeft(now);
  const headers = { 'ratelimit-policy': `"${policy}";q=${quota};w=60`, ratelimit: `"${policy}";r=${left ?? 0};t=${wait}` };
  if (left === undefined) throw new ProblemError('too-many-requests', `${policy === 'writes' ? 'This guild has changed' : 'This address has asked'} as much as is allowed in a minute (${quota}).`, { headers: { ...headers, 'retry-after': String(wait) } });
  reply.headers(headers);
}

/** Holds every route to its limit. Before any route is made. */
export function limitRoutes(app: FastifyInstance, library: KeyLookup & { readonly spent: ReportSpent }, limits: Limits): void {
  const writes = new Meter(limits.writes, (guild, minute, count) => library.spent(guild, minute, count));
  const keyless = new Meter(limits.keyless);
  const byAddress = (request: FastifyRequest, reply: FastifyReply): void => spend(keyless, 'keyless', limits.keyless, request.ip, reply);
  const byGuild = async (request: FastifyRequest, reply: FastifyReply): Promise<void> => {
    const caller = await callerOf(library, request);
    if (caller !== undefined) spend(writes, 'writes', limits.writes, caller.guild, reply);
  };
  app.addHook('onRoute', (route) => {
    const operation = route.config?.operation;
    if (operation === undefined) return;
    const before = [route.onRequest ?? []].flat();
    const changes = [route.method].flat().some((method) => method !== 'GET' && method !== 'HEAD');
    if (changes && typeof operation !== 'function' && operationNow(operation).key === 'needed' && limits.writes > 0) route.onRequest = [...before, byGuild];
    else if (limits.keyless > 0 && route.url.startsWith('/v1/')) {
      route.onRequest = [...before, (request, reply, done) => { if (request.headers.authorization === undefined) byAddress(request, reply); done(); }];
    }
  });
}
