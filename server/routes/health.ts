import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { readiness } from '../../shared/schemas/wire.ts';
import type { Readiness } from '../../shared/wire.ts';
import type { Engine } from '../engine/engine.ts';

/** `healthz`: the process answers. `readyz`: the engine takes a turn and the log takes a sign of life. */
export function healthRoutes(app: FastifyInstance, engine: Engine): void {
  app.get(
    '/healthz',
    {
      schema: {
        summary: 'The process answers',
        tags: ['health'],
        response: { 200: z.strictObject({ alive: z.literal(true) }) },
      },
    },
    () => ({ alive: true as const }),
  );
  app.get(
    '/readyz',
    {
      schema: {
        summary: 'Turns are taken and can be stored',
        tags: ['health'],
        response: { 200: readiness, 503: readiness },
      },
    },
    (_request, reply) => {
      const trouble = engine.probe();
      const body: Readiness = { ready: trouble === null, storage: engine.storage() };
      return reply.code(body.ready ? 200 : 503).send(body);
    },
  );
}
