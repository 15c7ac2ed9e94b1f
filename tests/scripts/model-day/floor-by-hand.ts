import { asks } from '../../../core/bells/hearing.ts';
import type { Clock } from '../../../server/clock/clock.ts';
import { Engine } from '../../../server/engine/engine.ts';
import type { Timers } from '../../../server/engine/timers.ts';
import { StreamBook } from '../../../server/live/stream-book.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { commandRequest } from '../../../shared/schemas/commands.ts';
import { standingOn } from '../../../core/bells/subject.ts';
import type { Ask } from '../../../scripts/model-day/ask.ts';
import type { Hand } from '../../../scripts/model-day/hour.ts';

/** Morning of an invented day. */
export const MORNING = Date.UTC(2026, 2, 10, 9);

/** The engine alone, its clock in our hand, asked as the API asks it. Nothing here waits for real time. */
export class FloorByHand implements Hand {
  readonly engine: Engine;
  readonly ask: Ask;
  #passed = 0;

  /** `phones`: everybody has one in a pocket that shows what asks them, and says so. */
  constructor(phones = false) {
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
    const deps = { store: new MemoryStore(), clock, timers, log, freshId: () => 'fresh-id' };
    const reach = () => ({ nobodySince: null, pushOnly: [] });
    this.engine = new Engine(phones ? { ...deps, reach } : deps);
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

  /** Every phone confirms what it shows now (R7). */
  confirmShown(): void {
    const { people } = this.engine.floor;
    const receipts = standingOn(this.engine.floor).flatMap(({ bell, rung, visit, chair }) => {
      const { cause, episode, level } = bell;
      const fresh = Object.keys(people).filter(
        (person) => !bell.shown.some((one) => one.person === person) && asks(bell, rung, person, people, this.now),
      );
      return level === 'NOTICE'
        ? []
        : fresh.map((person) => ({ person, bell: { visit, chair, cause, episode, level } }));
    });
    if (receipts.length > 0) {
      this.engine.confirm(receipts);
      this.engine.turn();
    }
  }

  pass(ms: number): void {
    this.#passed += ms;
  }
}
