import type { Ms } from '../../core/time.ts';
import type { Timers } from '../engine/timers.ts';
import type { SendNotice } from './send-notice.ts';

/** A late feed and a lost one are both borne before the watchdog bites. */
const FEEDS_PER_SPAN = 3;

export interface SupervisorDeps {
  readonly send: SendNotice;
  readonly watchdogMs: Ms | null;
  readonly timers: Timers;
  /** Takes a turn and says whether it came to its end. */
  readonly takesTurns: () => boolean;
  /** One short line for whoever looks after the machine; no words of clients. */
  readonly status: () => string;
  readonly log: { error(details: Readonly<Record<string, unknown>>, message: string): void };
}

/** Tells whoever started the server that it listens, that it lives, and that it ends. */
export class Supervisor {
  readonly #deps: SupervisorDeps;
  #sending = false;
  #stopFeeding: () => void = () => undefined;

  constructor(deps: SupervisorDeps) {
    this.#deps = deps;
  }

  /** The server listens; from now on the watchdog is fed. */
  async ready(): Promise<void> {
    const { watchdogMs, timers } = this.#deps;
    if (watchdogMs !== null) {
      this.#stopFeeding = timers.every(watchdogMs / FEEDS_PER_SPAN, () => void this.#feed());
    }
    await this.#send(['READY=1', this.#status()]);
  }

  /** The goodbye has begun; nothing is fed any more. */
  async stopping(): Promise<void> {
    this.#stopFeeding();
    await this.#send(['STOPPING=1', 'STATUS=ending']);
  }

  /**
   * Sent from the event loop, so a blocked loop feeds nothing, and one at a time, so nothing is fed in arrears. An engine
   * whose turns fail rings no bell: then a new start is the better chance.
   */
  async #feed(): Promise<void> {
    if (this.#sending) return;
    if (!this.#deps.takesTurns()) {
      this.#deps.log.error({}, 'the engine takes no turns: the watchdog is not fed');
      return;
    }
    this.#sending = true;
    await this.#send(['WATCHDOG=1', this.#status()]);
    this.#sending = false;
  }

  #status(): string {
    return `STATUS=${this.#deps.status()}`;
  }

  /** Never stands in the way of the floor: what cannot be told is logged. */
  async #send(lines: readonly string[]): Promise<void> {
    try {
      await this.#deps.send(lines);
    } catch (error) {
      this.#deps.log.error({ err: error, notice: lines[0] }, 'a notice to the service manager did not arrive');
    }
  }
}
