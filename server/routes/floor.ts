import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { Recorded } from '../../core/events.ts';
import type { VisitId } from '../../core/ids.ts';
import { evolveVisit, type Visit } from '../../core/visit/history.ts';
import { id } from '../../shared/schemas/basics.ts';
import { visitRecord } from '../../shared/schemas/events.ts';
import { problem } from '../../shared/schemas/problem.ts';
import { snapshot } from '../../shared/schemas/wire.ts';
import type { RecordedOfVisit, VisitRecord } from '../../shared/wire.ts';
import type { Engine } from '../engine/engine.ts';
import type { Books } from '../live/live.ts';
import type { Store } from '../store/store.ts';
import { RefusedRequest } from './problems.ts';

const floorSchema = {
  summary: 'The floor as it is',
  description: 'What the stream `floor` begins with: entities by key, and the server’s time.',
  tags: ['floor'],
  response: { 200: snapshot },
};

const visitSchema = {
  summary: 'One visit: its facts, its words and all that happened, oldest first',
  tags: ['floor'],
  params: z.strictObject({ id }),
  response: { 200: visitRecord, '4xx': problem },
};

export function floorRoutes(app: FastifyInstance, engine: Engine, store: Store, books: Books): void {
  app.get('/api/v1/floor', { schema: floorSchema }, (_request, reply) => {
    // Already JSON text, encoded once per revision; as bytes it is sent as it is.
    const text = books.floor.snapshot(engine.heartbeat());
    return reply.header('content-type', 'application/json; charset=utf-8').send(Buffer.from(text));
  });
  app.get<{ Params: { id: VisitId } }>('/api/v1/visits/:id', { schema: visitSchema }, ({ params }) =>
    recordOf(params.id, engine, store),
  );
}

function recordOf(visit: VisitId, engine: Engine, store: Store): VisitRecord {
  const events = [...store.eventsOf(visit), ...engine.unsavedOf(visit)] as readonly RecordedOfVisit[];
  const facts = engine.floor.visits[visit]?.facts ?? folded(visit, events)?.facts;
  if (facts === undefined) throw new RefusedRequest('not-found');
  return { facts, words: { ...store.wordsOf(`visit/${visit}/`) }, events };
}

/** A visit that the floor has forgotten, folded again from its events. */
function folded(visit: VisitId, events: readonly Recorded[]): Visit | undefined {
  return events.reduce<Visit | undefined>((before, recorded) => evolveVisit(before, visit, recorded), undefined);
}
