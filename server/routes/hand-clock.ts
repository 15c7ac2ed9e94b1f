import type { FastifyInstance } from 'fastify';
import { handTurn } from '../../shared/schemas/wire.ts';
import type { Engine } from '../engine/engine.ts';
import { isLoopback } from '../clock/hand-clock-allowed.ts';
import { RefusedRequest } from './problems.ts';

const schema = {
  summary: 'Takes a turn at the time that the hand-driven clock shows',
  tags: ['hand-driven clock'],
  response: { 200: handTurn },
};

/** Exists only on a server whose clock is moved by hand: nobody waits for real time to pass. */
export function handClockRoute(app: FastifyInstance, engine: Engine): void {
  app.post('/api/v1/hand-clock/turn', { schema }, ({ ip }) => {
    if (!isLoopback(ip.replace(/^::ffff:/, ''))) throw new RefusedRequest('loopback-only');
    engine.turn();
    const { now, revision } = engine.heartbeat();
    return { now, revision };
  });
}
