import { randomUUID } from 'node:crypto';
import type { FastifyInstance } from 'fastify';
import { SECOND, type Ms } from '../../../core/time.ts';
import type { Engine } from '../../engine/engine.ts';
import type { EngineLog } from '../../engine/engine-log.ts';
import type { Timers } from '../../engine/timers.ts';
import type { HostNames } from '../../live/origin.ts';
import type { Store } from '../../store/store.ts';
import { machineAddresses } from './destination.ts';
import { Hooks } from './hooks.ts';
import { HouseNames } from './names.ts';
import { poster } from './post-once.ts';

/** A lamp in the house answers in milliseconds; one attempt may not keep the next step waiting for longer than this. */
const ATTEMPT_WITHIN: Ms = 5 * SECOND;

export interface OpenHooksDeps {
  readonly engine: Engine;
  readonly store: Store;
  readonly timers: Timers;
  readonly log: EngineLog;
  readonly hostNames: HostNames;
}

/** Hooks of this process: they begin once it listens, for then it knows its own address, and end before it closes. */
export function openHooks({ engine, store, timers, log, hostNames }: OpenHooksDeps, http: FastifyInstance): Hooks {
  const ports = (): number[] => http.addresses().flatMap((at) => (typeof at === 'object' ? [at.port] : []));
  const own = { ports, hostNames, addresses: machineAddresses };
  const hooks = new Hooks({
    tables: store.reach,
    engine,
    own,
    post: poster({ names: new HouseNames(), own, timers, withinMs: ATTEMPT_WITHIN }),
    timers,
    log,
    freshId: randomUUID,
    elapsed: () => performance.now(),
    wall: () => Date.now(),
    now: () => engine.heartbeat().now,
  });
  http.addHook('onListen', async () => hooks.begin());
  http.addHook('preClose', async () => hooks.end());
  return hooks;
}
