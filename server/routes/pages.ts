import { existsSync } from 'node:fs';
import { join } from 'node:path';
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

/** Beside the pages. What makes them start without the server is asked for anew each time, as they are. */
const files = [
  'icon.svg',
  'icon-180.png',
  'icon-192.png',
  'icon-512.png',
  'icon-whole-512.png',
  'manifest.webmanifest',
  'sw.js',
] as const;

/** Files under `assets` carry a hash of their content in their name: they never change. */
const ASSET = /^[\w-][\w.-]*$/;
const FOR_EVER = 'public, max-age=31536000, immutable';
const ANEW = 'no-cache';

/** The built pages. Without a build the API works all the same; one made meanwhile is served at once. */
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
  await app.register(fastifyStatic, { root: folder, serve: false, cacheControl: false });
  const hidden = { schema: { hide: true } };
  app.get<{ Params: { name: string } }>('/assets/:name', hidden, ({ params }, reply) => {
    if (!ASSET.test(params.name)) throw new RefusedRequest('not-found');
    return send(reply, folder, `assets/${params.name}`, FOR_EVER);
  });
  for (const file of files) app.get(`/${file}`, hidden, (_request, reply) => send(reply, folder, file, ANEW));
  for (const [address, page] of Object.entries(pages)) {
    app.get(address, hidden, (_request, reply) => send(reply, folder, page, ANEW));
  }
  app.get('/favicon.ico', { schema: { hide: true } }, (_request, reply) => reply.redirect('/icon.svg', 308));
}

/** An unknown file is refused like any other unknown address: in that case nothing is to be kept either. */
function send(reply: FastifyReply, folder: string, file: string, keep: string): FastifyReply {
  if (!existsSync(join(folder, file))) throw new RefusedRequest('not-found');
  return reply.header('cache-control', keep).sendFile(file);
}

/** A person who typed a wrong address gets the first page, which says so; programs get their problem document. */
export function pageForLost(request: FastifyRequest, reply: FastifyReply, folder: string): FastifyReply | null {
  const person = request.method === 'GET' && (request.headers.accept ?? '').includes('text/html');
  if (!person || request.url.startsWith('/api/') || !existsSync(join(folder, pages['/']))) return null;
  return reply.code(404).sendFile(pages['/']);
}
