import type { Clock } from '../../../server/clock/clock.ts';
import { Engine } from '../../../server/engine/engine.ts';
import type { Timers } from '../../../server/engine/timers.ts';
import { StreamBook } from '../../../server/live/stream-book.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { commandRequest } from '../../../shared/schemas/commands.ts';
import type { Ask } from '../../../scripts/model-day/ask.ts';
import type { Hand } from '../../../scripts/model-day/hour.ts';

/** Morning of an invented day. */
export const MORNING = Date.UTC(2026, 2, 10, 9);

/** The engine alone, its clock in our hand, asked as the API asks it. Nothing here waits for real time. */
export class FloorByHand implements Hand {
  readonly engine: Engine;
  readonly ask: Ask;
  #passed = 0;

  constructor() {
    const clock: Clock = {
      read: () => ({
        wall: MORNING + this.#passed,
        mono: this.#passed,
        uptime: this.#passed,
        bootId: 'one-boot',
      }),
    };
    const timers: Timers = {
      soon: (task) => queueMicrotask(task),
      after: () => () => undefined,
      every: () => () => undefined,
    };
    const log = { error: console.error, warn: console.error, info: () => undefined };
    this.engine = new Engine({ store: new MemoryStore(), clock, timers, log, freshId: () => 'fresh-id' });
    const book = new StreamBook('floor', this.engine.floor, this.engine.revision);
    this.engine.subscribe((change) => book.turn(change));
    this.ask = async (method, path, body) => {
      if (path === '/api/v1/floor') return { status: 200, body: JSON.parse(book.snapshot(this.engine.heartbeat())) };
      if (path === '/api/v1/hand-clock/turn') {
        this.engine.turn();
        return { status: 200, body: { now: this.engine.heartbeat().now, revision: this.engine.revision } };
      }
      const reply = await this.engine.submit(commandRequest.parse(body));
      return 'accepted' in reply
        ? { status: 200, body: reply.accepted }
        : { status: reply.refused.status, body: reply.refused };
    };
  }

  get now(): number {
    return this.engine.heartbeat().now;
  }

  pass(ms: number): void {
    this.#passed += ms;
  }
}
