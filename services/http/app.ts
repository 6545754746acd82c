/** Builds the application; it does not listen. */
import Fastify, { LogController, type FastifyInstance, type FastifyServerOptions } from 'fastify';
import { analysisRoutes } from '../analyses/route.js';
import { calculations as allCalculations } from '../calculations/index.js';
import type { Calculation } from '../calculations/calculation.js';
import { ProblemError } from '../foundation/problems.js';
import { pageRoutes } from '../pages/index.js';
import { cardRoutes } from '../cards/route.js';
import { loanRoutes } from '../loans/route.js';
import { measurementRoutes } from '../measurements/route.js';
import { transferRoutes } from '../transfer/route.js';
import { guildRoutes } from '../guilds/route.js';
import { historyRoutes } from '../history/route.js';
import { wheelRoutes } from '../wheels/route.js';
import type { Library } from '../wheels/store.js';
import * as sourceList from '../foundation/sources.js';
import { Apart } from './apart.js';
import { batchRoute } from './batch.js';
import { refuseWhenBusy } from './busy.js';
import { failures, longestAddress, parserFailure, rawReply, sendProblem, asProblem } from './failures.js';
import { constantHeaders } from './headers.js';
import { healthRoutes } from './health.js';
import { jsonBodies } from './json.js';
import { defaultLimits, limitRoutes, type Limits } from './limits.js';
import { mount } from './mount.js';
import { findWheelIn, noLibrary, shelfOf } from './library.js';
import { countRequests, metricsRoute } from './metrics.js';
import { findingIn, searchIn } from './library-search.js';
import { mediaTypesOf, requireAcceptable } from './negotiate.js';
import { openapi } from './openapi.js';
import { watchPaths } from './paths.js';
import { parseQuery } from './query.js';
import { referenceRoutes } from './reference.js';
import { requestIds, traceOf } from './request-id.js';
import { slowBodies } from './slow-bodies.js';
import { wellKnownRoutes } from './well-known.js';

export interface AppDeps {
  readonly config: { readonly version: string; readonly publicOrigin?: string; readonly limits?: Limits; readonly trustedProxies?: string };
  readonly logger?: FastifyServerOptions['logger'];
  /** Absent: what asks for it is answered with 503. */
  readonly library?: Library;
  /** In place of all calculations; for tests. */
  readonly calculations?: readonly Calculation[];
}

/** Bytes of a request body. */
const largestBody = 1_048_576;

const noSchemas = (): never => { throw new Error('A route has a schema of the framework; it is described by its operation instead.'); };

export async function buildApp(deps: AppDeps): Promise<FastifyInstance> {
  const app = Fastify({
    logger: deps.logger ?? false,
    logController: new LogController({ disableRequestLogging: true }),
    bodyLimit: largestBody,
    genReqId: requestIds(),
    requestIdHeader: false,
    ...(deps.config.trustedProxies === undefined ? {} : { trustProxy: deps.config.trustedProxies }),
    // A table may take long to arrive; any other body is held to `longestBody`, in slow-bodies.ts.
    requestTimeout: 6 * 3_600_000,
    return503OnClosing: false,
    // The parser's own limit lies well above ours, so that a long address is told from large headers.
    http: { maxHeaderSize: 32_768, requireHostHeader: false },
    routerOptions: { querystringParser: parseQuery, maxParamLength: 200 },
    // Questions are read by our own reader: the framework's compilers of schemas would only be loaded in vain.
    schemaController: { compilersFactory: { buildValidator: noSchemas, buildSerializer: noSchemas } },
    frameworkErrors: (error, request, reply) => { void sendProblem(asProblem(error, request), request, reply); },
    clientErrorHandler: parserFailure,
  });
  app.server.on('connect', (_request, socket) => socket.end(rawReply(new ProblemError('method-not-allowed', 'CONNECT is not taken here.', { headers: { allow: 'GET, HEAD, POST, OPTIONS' } }))));
  app.server.on('checkExpectation', (request, response) => app.server.emit('request', request, response));

  watchPaths(app);
  failures(app);
  jsonBodies(app);
  app.addHook('onRoute', (route) => {
    const operation = route.config?.operation;
    if (operation === undefined) return;
    if (typeof operation !== 'function') route.config!.made = mediaTypesOf(operation);
    else if (route.config!.made === undefined) throw new Error(`${route.url} does not say what it makes`);
  });
  app.addHook('onRequest', (request, reply, done) => {
    reply.headers(constantHeaders).header('request-id', request.id);
    const { headers } = request;
    if (request.raw.url!.length > longestAddress) throw new ProblemError('uri-too-long');
    if (headers.host === undefined && request.raw.httpVersion === '1.1') throw new ProblemError('bad-request-line', 'The Host header is missing.');
    if (headers['traceparent'] !== undefined) traceOf(headers['traceparent'], reply);
    const { accept } = headers;
    if (accept !== undefined && accept !== '*/*') {
      const { made } = request.routeOptions.config;
      if (made !== undefined) requireAcceptable(accept, made);
    }
    done();
  });

  slowBodies(app);
  countRequests(app);

  const { version, publicOrigin } = deps.config;
  const calculations = deps.calculations ?? allCalculations;
  const library = deps.library ?? noLibrary;
  const findWheel = findingIn(library, findWheelIn(library));
  refuseWhenBusy(app);
  limitRoutes(app, library, deps.config.limits ?? defaultLimits);
  openapi(app, version);
  const apart = new Apart();
  app.addHook('onClose', () => apart.close());
  for (const calculation of calculations) mount(app, calculation, findWheel, apart);
  wheelRoutes(app, { library });
  transferRoutes(app, { library });
  historyRoutes(app, { library });
  guildRoutes(app, { library });
  measurementRoutes(app, { library });
  loanRoutes(app, { library });
  cardRoutes(app, { library });
  analysisRoutes(app, { library });
  batchRoute(app, calculations, findWheel, apart);
  referenceRoutes(app, { calculations, sources: Object.values(sourceList).toSorted((a, b) => (a.id < b.id ? -1 : 1)) });
  healthRoutes(app, version, () => library.ready());
  metricsRoute(app);
  wellKnownRoutes(app);
  pageRoutes(app, { calculations, library: { ...shelfOf(library), search: (wanted, most) => searchIn(library, wanted, most) }, version, apart, ...(publicOrigin === undefined ? {} : { publicOrigin }) });
  return app;
}
