import type { FastifyInstance } from 'fastify';
import { TOUCHED_HEADER } from '../../shared/protocol.ts';
import { commandRequest } from '../../shared/schemas/commands.ts';
import { problem } from '../../shared/schemas/problem.ts';
import { wireAnswer } from '../../shared/schemas/wire.ts';
import type { CommandRequest } from '../../shared/wire.ts';
import type { Engine } from '../engine/engine.ts';
import { meantNow } from '../live/former-protocol/translation.ts';
import { isZone } from '../zones/temporal-zone.ts';
import { RefusedRequest, sendProblem } from './problems.ts';
import { withItsTime } from './touched.ts';

const schema = {
  summary: 'Says what was done on the floor',
  description:
    'One flat object. The id is made by the sender; the same id with the same body gets the same answer again. ' +
    '202: done, but kept in memory until the disk takes it.',
  tags: ['floor'],
  body: commandRequest,
  response: { 200: wireAnswer, 202: wireAnswer, '4xx': problem, '5xx': problem },
};

export function commandRoute(app: FastifyInstance, engine: Engine): void {
  app.post<{ Body: CommandRequest }>('/api/v1/commands', { schema }, async ({ body, headers }, reply) => {
    if (body.type === 'SetUpSalon') checkPlace(body.zone, body.language);
    const timed = withItsTime(body, headers[TOUCHED_HEADER], engine.heartbeat());
    const answer = await engine.submit(meantNow(timed, engine.floor));
    if ('refused' in answer) return sendProblem(reply, answer.refused);
    return reply.code(answer.accepted.outcome === 'done' ? 200 : 202).send(answer.accepted);
  });
}

/** Zones and languages are tables of this machine, which the rules cannot ask. */
function checkPlace(zone: string, language: string): void {
  if (!isZone(zone)) throw new RefusedRequest('invalid-body', { field: 'zone', expected: 'a zone of the IANA table' });
  try {
    Intl.getCanonicalLocales(language);
  } catch {
    throw new RefusedRequest('invalid-body', { field: 'language', expected: 'a language tag (BCP 47)' });
  }
}
