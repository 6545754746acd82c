/** All pages. They need no scripts, and the calculators among them need no library. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { Calculation } from '../calculations/calculation.js';
import { ProblemError } from '../foundation/problems.js';
import type { Apart } from '../http/apart.js';
import { privateCaching } from '../http/headers.js';
import type { WheelSearch } from '../http/library-wheels.js';
import type { LinkDoor } from '../http/link.js';
import type { Operation } from '../http/operation.js';
import { assetRoutes, embedAddress } from './assets.js';
import { calculatorPage } from './calculate.js';
import { firstAidPage, sheetDrive, sheetDrives } from './first-aid.js';
import { frontPage } from './front.js';
import { cardPage, cardsPage, type ShownCard } from './cards.js';
import { parseQuery } from '../http/query.js';
import { html } from './html.js';
import { analysisPage, type ShownAnalysis } from './analysis.js';
import { loansPage } from './loans.js';
import { measurementsPage } from './measurements.js';
import { originOf, sendPage, type Page } from './layout.js';
import { problemOfCode, problemPage, problemsPage } from './problems.js';
import { oembedOperation, sendOembed } from './oembed.js';
import { referencePage } from './reference.js';
import { wheelPage, wheelsPage, type Shelved } from './wheels.js';
import { classSheet } from './class-sheet.js';

/** Wheels for people: public ones, and with a key its guild’s own. `find` throws `wheel-not-found` or `library-unavailable`. */
export interface Shelf {
  find(id: string, request: FastifyRequest): Promise<Shelved>;
  list(cursor: string | undefined): Promise<{ readonly items: readonly Shelved[]; readonly next?: string }>;
  /** What was measured of a wheel; throws as `find`. */
  measured?(id: string, request: FastifyRequest): Promise<Parameters<typeof measurementsPage>>;
  /** Loans and care of a wheel, to the holder of its guild’s key; throws as `find`, or `unauthorized`. */
  register?(id: string, request: FastifyRequest): Promise<Parameters<typeof loansPage>>;
  /** An analysis, to the holder of its guild’s key. Throws `analysis-not-found` or `unauthorized`. */
  analysis?(id: string, request: FastifyRequest): Promise<ShownAnalysis>;
  /** A card, if it is public or the caller’s own. Throws `card-not-found`. */
  card?(id: string, request: FastifyRequest): Promise<ShownCard>;
  /** Public cards. */
  cards?(cursor: string | undefined): Promise<{ readonly items: readonly Pick<ShownCard, 'id' | 'card'>[]; readonly next?: string }>;
  /** Throws `too-many` when more than `most` are like that. */
  search?(wanted: WheelSearch, most: number): Promise<readonly Shelved[]>;
}
export interface PageDeps {
  readonly calculations: readonly Calculation[];
  readonly library?: Shelf;
  readonly version: string;
  /** Answers what takes long. */
  readonly apart: Apart;
  /** What links to be copied begin with; what the request names when left out. */
  readonly publicOrigin?: string;
}

const operation = (id: string, summary: string, more: Partial<Operation> = {}): Operation => ({
  id, summary, tag: 'Pages', replies: { 200: { description: summary, mediaType: 'text/html', headers: ['ETag', 'Cache-Control'] }, 304: { description: 'It has not changed.' } }, problems: [], ...more,
});
const lost: Page = {
  title: 'Nothing stands here', description: 'Nothing stands at this address.',
  body: html`<h1>Nothing stands at this address</h1><p class="lead">It may have been moved, or the address has a slip in it.</p><p><a href="/">To the front page</a>, where everything is listed.</p>`,
};
const unreachable: Page = {
  title: 'The library cannot be reached', description: 'The library cannot be reached just now.',
  body: html`<h1>The library cannot be reached just now</h1><p class="lead">Try again in a few seconds. The <a href="/calculate/ratio">calculators</a> work without it.</p>`,
};

const busy: Page = {
  title: 'Too much is asked just now', description: 'More is asked than can be answered just now.',
  body: html`<h1>Too much is asked just now</h1><p class="lead">Load this page again in a few seconds: nothing of what you asked is lost.</p>`,
};

const cursorOf = (request: FastifyRequest): string | undefined => new URLSearchParams(request.url.split('?')[1] ?? '').get('cursor') ?? undefined;

export function pageRoutes(app: FastifyInstance, deps: PageDeps): void {
  const { calculations, library, version, apart } = deps;
  const origin = (request: FastifyRequest): string => originOf(request, deps.publicOrigin);
  // What was built when the service started.
  const embeds = new Map(calculations.map((c) => [c.id, embedAddress(c.id)]));
  const script = embedAddress('play');
  const hasEmbed = (id: string): boolean => embeds.get(id) !== undefined;
  const doors = new Map<string, LinkDoor>();
  assetRoutes(app);

  app.get('/', { config: { operation: operation('frontPage', 'Front page') } }, (request, reply) =>
    sendPage(request, reply, frontPage({ calculations, hasLibrary: library !== undefined, origin: origin(request), asked: parseQuery(request.url.split('?').slice(1).join('?')), embeds, script }), version));

  app.get('/calculate/:calculation', { config: { operation: operation('calculatorPage', 'A calculator, without scripts', {
    description: 'A form, and above it the answer when something is asked. Takes the parameters of GET /v1/{calculation}.', params: z.strictObject({ calculation: z.string().min(1).max(40).describe('Such as ratio.') }), parameterExamples: { calculation: 'ratio' },
  }) } }, async (request, reply) => {
    const calculation = calculations.find((c) => c.id === (request.params as { calculation: string }).calculation);
    if (calculation === undefined) return sendPage(request, reply, lost, version, 404);
    try {
      const { page, status } = await calculatorPage(calculation, doors, hasEmbed(calculation.id), request, origin(request), apart);
      return sendPage(request, reply, page, version, status);
    } catch (error) {
      if (!(error instanceof ProblemError) || error.status !== 503) throw error;
      return sendPage(request, reply.headers(error.headers), busy, version, 503);
    }
  });

  app.get('/first-aid', { config: { operation: operation('firstAidPage', 'First-aid sheet, to print', { query: z.strictObject({ drive: z.enum(sheetDrives).exactOptional().describe('For a wheel that is driven so.') }) }) } }, (request, reply) =>
    sendPage(request, reply, firstAidPage(sheetDrive(new URLSearchParams(request.url.split('?')[1] ?? '').get('drive'))), version));
  app.get('/tables', { config: { operation: operation('tablesPage', 'The tables behind the numbers') } }, (request, reply) => sendPage(request, reply, referencePage(), version));
  app.get('/problems', { config: { operation: operation('problemsPage', 'What can go wrong') } }, (request, reply) => sendPage(request, reply, problemsPage(), version));
  app.get('/problems/:code', { config: { operation: operation('problemPage', 'What a problem means and what to do', { params: z.strictObject({ code: z.string().min(1).max(80).describe('Code of a problem.') }), parameterExamples: { code: 'missing-unit' } }) } }, (request, reply) => {
    const kind = problemOfCode((request.params as { code: string }).code);
    return kind === undefined ? sendPage(request, reply, lost, version, 404) : sendPage(request, reply, problemPage(kind), version);
  });

  if (library === undefined) return;
  const ratio = calculations.find((c) => c.id === 'ratio');
  const shelved = async (request: FastifyRequest, reply: FastifyReply, page: () => Promise<Page>): Promise<FastifyReply> => {
    try {
      // What is shown to the holder of a key is theirs alone.
      return sendPage(request, reply.header('vary', 'Authorization'), await page(), version, 200, request.headers.authorization === undefined ? undefined : privateCaching);
    } catch (error) {
      if (!(error instanceof ProblemError) || (error.status !== 404 && error.status !== 400 && error.status !== 503)) throw error;
      if (error.status === 503) reply.headers(error.headers);
      return sendPage(request, reply, error.status === 503 ? unreachable : lost, version, error.status === 400 ? 404 : error.status);
    }
  };
  if (ratio !== undefined) app.get('/oembed', { config: { operation: oembedOperation } }, (request, reply) => sendOembed(request, reply, origin(request), (id) => library.find(id, request), ratio, apart));
  app.get('/wheels', { config: { operation: operation('wheelsPage', 'Wheels of the library') } }, (request, reply) => shelved(request, reply, async () => {
    const { items, next } = await library.list(cursorOf(request));
    return wheelsPage(items, next);
  }));
  const setups = calculations.find((c) => c.id === 'setups');
  const { search } = library;
  if (setups !== undefined && search !== undefined) {
    app.get('/class-sheet', { config: { operation: operation('classSheet', 'One yarn on many wheels, on one sheet', { description: 'Takes the parameters of GET /v1/setups that are not about one wheel; style, drive, named or wheelId say which wheels.' }) } }, async (request, reply) => {
      try {
        const { page, status } = await classSheet(setups, { find: (id) => library.find(id, request), search }, request, apart);
        return sendPage(request, reply, page, version, status);
      } catch (error) {
        if (!(error instanceof ProblemError) || error.status !== 503) throw error;
        reply.headers(error.headers);
        return sendPage(request, reply, unreachable, version, 503);
      }
    });
  }
  app.get('/wheels/:id', { config: { operation: operation('wheelPage', 'Sheet of a wheel, to print', { params: z.strictObject({ id: z.string().min(1).max(80).describe('Id of a wheel.') }) }) } }, (request, reply) =>
    shelved(request, reply, async () => wheelPage(await library.find((request.params as { id: string }).id, request), ratio, origin(request), apart)));
  const { analysis, card, cards, measured, register } = library;
  if (analysis !== undefined) {
    app.get('/analyses/:id', { config: { operation: operation('analysisPage', 'What a table of wheels shows, to print, for its guild', { params: z.strictObject({ id: z.string().min(1).max(80).describe('Id of an analysis.') }), problems: ['unauthorized'], key: 'needed' }) } }, (request, reply) =>
      shelved(request, reply, async () => analysisPage(await analysis((request.params as { id: string }).id, request))));
  }
  if (register !== undefined) {
    app.get('/wheels/:id/loans', { config: { operation: operation('loansPage', 'Loans and care of a wheel, for its guild', { params: z.strictObject({ id: z.string().min(1).max(80).describe('Id of a wheel.') }), problems: ['unauthorized', 'forbidden'], key: 'needed' }) } }, (request, reply) =>
      shelved(request, reply, async () => loansPage(...await register((request.params as { id: string }).id, request))));
  }
  if (measured !== undefined) {
    app.get('/wheels/:id/measurements', { config: { operation: operation('measurementsPage', 'What was measured of a wheel', { params: z.strictObject({ id: z.string().min(1).max(80).describe('Id of a wheel.') }), key: 'optional' }) } }, (request, reply) =>
      shelved(request, reply, async () => measurementsPage(...await measured((request.params as { id: string }).id, request))));
  }
  if (card === undefined || cards === undefined) return;
  app.get('/cards', { config: { operation: operation('cardsPage', 'Cards of what was spun') } }, (request, reply) => shelved(request, reply, async () => {
    const { items, next } = await cards(cursorOf(request));
    return cardsPage(items, next);
  }));
  app.get('/cards/:id', { config: { operation: operation('cardPage', 'Sheet of a card, to print', { description: 'A card of a guild is shown with its key.', params: z.strictObject({ id: z.string().min(1).max(80).describe('Id of a card.') }), key: 'optional' }) } }, (request, reply) =>
    shelved(request, reply, async () => cardPage(await card((request.params as { id: string }).id, request))));
}
