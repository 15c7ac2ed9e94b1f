import { randomUUID } from 'node:crypto';
import type { FastifyInstance } from 'fastify';
import { SECOND, type Ms } from '../../../core/time.ts';
import type { EngineLog } from '../../engine/engine-log.ts';
import type { Engine } from '../../engine/engine.ts';
import type { Timers } from '../../engine/timers.ts';
import type { Store } from '../../store/store.ts';
import type { Presence } from '../presence.ts';
import { PushPost } from './post-push.ts';
import { Pushes } from './pushes.ts';

/** Push services answer within a second; one that does not is asked again rather than waited for. */
const ATTEMPT_WITHIN: Ms = 8 * SECOND;

export interface OpenPushDeps {
  readonly engine: Engine;
  readonly store: Store;
  readonly timers: Timers;
  readonly log: EngineLog;
  readonly presence: Presence;
  /** Where other devices find this server, the best first; empty before it listens, and where the network is not let in. */
  readonly addresses: () => readonly string[];
}

/** Pushes of this process: they begin once it listens, for then it knows its own address, and end before it closes. */
export function openPush(deps: OpenPushDeps, http: FastifyInstance): Pushes {
  const { engine, store, timers, log, presence, addresses } = deps;
  const wall = (): number => Date.now();
  const sending = new PushPost({ timers, withinMs: ATTEMPT_WITHIN, wall });
  const pushes = new Pushes({
    tables: store.reach,
    engine,
    post: sending.post,
    timers,
    log,
    elapsed: () => performance.now(),
    wall,
    freshId: randomUUID,
    home: () => addresses()[0] ?? ownAddress(http),
    ringsByPage: (person, device) => presence.ringsByPage(person, device),
    shown: (receipts) => engine.confirm(receipts),
  });
  presence.hearOfPushes((person) => pushes.reaches(person));
  http.addHook('onListen', async () => pushes.begin());
  http.addHook('preClose', async () => {
    pushes.end();
    sending.close();
  });
  return pushes;
}

/** Until it listens nothing leaves, so the last word is never read. */
function ownAddress(http: FastifyInstance): string {
  const scheme = 'setSecureContext' in http.server ? 'https' : 'http';
  const at = http.addresses().find((one) => typeof one === 'object');
  return at === undefined ? `${scheme}://localhost/` : `${scheme}://localhost:${at.port}/`;
}
