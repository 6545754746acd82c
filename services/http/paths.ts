/** Which addresses exist and which methods each takes: for 404, 405 with Allow, OPTIONS and preflights. Nothing of this is on the way of a good request. */
import type { FastifyInstance, FastifyReply, FastifyRequest, RouteOptions } from 'fastify';
import { ProblemError } from '../foundation/problems.js';
import { pathOf, sendProblem } from './failures.js';
import { constantHeaders, preflightHeaders } from './headers.js';

const order = ['GET', 'HEAD', 'POST', 'PUT', 'PATCH', 'DELETE', 'OPTIONS'];

export class Paths {
  private readonly byUrl = new Map<string, { readonly form: RegExp; readonly fixed: number; readonly methods: Set<string> }>();

  add(route: RouteOptions): void {
    let known = this.byUrl.get(route.url);
    if (known === undefined) {
      const parts = route.url.split('/').map((part) => part.split(/(:[A-Za-z]+|\*)/).map((piece) => (piece === '*' ? '.*' : piece.startsWith(':') ? '[^/]+' : piece.replace(/[.+?^${}()|[\]\\]/g, '\\$&'))).join(''));
      known = { form: new RegExp(`^${parts.join('/')}$`), fixed: route.url.split('/').filter((part) => !/[:*]/.test(part)).length, methods: new Set(['OPTIONS']) };
      this.byUrl.set(route.url, known);
    }
    for (const method of [route.method].flat()) {
      known.methods.add(method);
      if (method === 'HEAD') known.methods.add('GET');
    }
  }

  /** Methods of the address, as Allow has them; undefined when there is no such address. */
  allowed(path: string): string[] | undefined {
    let best: { readonly fixed: number; readonly methods: Set<string> } | undefined;
    for (const known of this.byUrl.values()) if ((best === undefined || known.fixed > best.fixed) && known.form.test(path)) best = known;
    return best && [...best.methods].toSorted((a, b) => order.indexOf(a) - order.indexOf(b));
  }

  /** Every address with its methods, HEAD and OPTIONS among them. */
  list(): { url: string; methods: string[] }[] {
    return [...this.byUrl].map(([url, known]) => ({ url, methods: [...known.methods] }));
  }
}

declare module 'fastify' {
  interface FastifyInstance {
    paths: Paths;
  }
}

/** Watches which routes are made, and answers for addresses and methods that have none. */
export function watchPaths(app: FastifyInstance): void {
  const paths = new Paths();
  app.decorate('paths', paths);
  app.addHook('onRoute', (route) => paths.add(route));
  app.setNotFoundHandler((request, reply) => answerNoRoute(paths, request, reply));
}

function answerNoRoute(paths: Paths, request: FastifyRequest, reply: FastifyReply): FastifyReply {
  const methods = request.url === '*' ? order : paths.allowed(pathOf(request.url));
  if (methods === undefined) return sendProblem(new ProblemError('not-found'), request, reply);
  const allow = methods.join(', ');
  if (request.method !== 'OPTIONS') {
    return sendProblem(new ProblemError('method-not-allowed', `${request.method} is not taken here; ${allow} are.`, { headers: { allow } }), request, reply);
  }
  reply.code(204).headers(constantHeaders).header('allow', allow);
  if (request.headers['access-control-request-method'] !== undefined) reply.headers(preflightHeaders).header('access-control-allow-methods', allow);
  return reply.send();
}
