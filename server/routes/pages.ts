import { existsSync } from 'node:fs';
import { join, sep } from 'node:path';
import helmet from '@fastify/helmet';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { RefusedRequest } from './problems.ts';

/** A screen's address and the page it is. */
const pages = {
  '/': 'index.html',
  '/wall': 'wall.html',
  // Without a number it asks which.
  '/chair': 'chair.html',
  '/chair/:number': 'chair.html',
  '/pocket': 'pocket.html',
  '/salon': 'salon.html',
  '/sheet/:visit': 'sheet.html',
} as const;

/** Files under `assets` carry a hash of their content in their name: they never change. */
const FOR_EVER = 'public, max-age=31536000, immutable';

/** The built pages. Without a build the API works all the same. */
export async function pageRoutes(app: FastifyInstance, folder: string): Promise<void> {
  await app.register(helmet, {
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'self'"],
        // Components set sizes and places of lanes in style attributes.
        styleSrc: ["'self'", "'unsafe-inline'"],
        imgSrc: ["'self'", 'data:'],
        connectSrc: ["'self'", 'ws:', 'wss:'],
        objectSrc: ["'none'"],
        baseUri: ["'self'"],
        formAction: ["'self'"],
        frameAncestors: ["'self'"],
        // No upgrade-insecure-requests: a salon's own network has no certificates.
      },
    },
    strictTransportSecurity: false,
    // Both are ignored, with a complaint in the console, on plain http.
    crossOriginOpenerPolicy: false,
    originAgentCluster: false,
  });
  if (!existsSync(folder)) return;
  const assets = join(folder, 'assets') + sep;
  await app.register(fastifyStatic, {
    root: folder,
    // Known at start, so that an unknown address is refused like any other.
    wildcard: false,
    index: false,
    cacheControl: false,
    setHeaders: (reply, path) => reply.setHeader('cache-control', path.startsWith(assets) ? FOR_EVER : 'no-cache'),
  });
  for (const [address, page] of Object.entries(pages)) {
    app.get(address, { schema: { hide: true } }, (_request, reply) => {
      if (!existsSync(join(folder, page))) throw new RefusedRequest('not-found');
      return reply.sendFile(page);
    });
  }
  app.get('/favicon.ico', { schema: { hide: true } }, (_request, reply) => reply.redirect('/icon.svg', 308));
}

/** A person who typed a wrong address gets the first page, which says so; programs get their problem document. */
export function pageForLost(request: FastifyRequest, reply: FastifyReply, folder: string): FastifyReply | null {
  const person = request.method === 'GET' && (request.headers.accept ?? '').includes('text/html');
  if (!person || request.url.startsWith('/api/') || !existsSync(join(folder, pages['/']))) return null;
  return reply.code(404).sendFile(pages['/']);
}
