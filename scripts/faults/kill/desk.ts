import type { Command, Sender } from '../../../core/command.ts';
import type { EpochMs } from '../../../core/time.ts';
import type { Snapshot } from '../../../shared/wire.ts';
import type { HandClock } from '../../../tests/support/hand-clock.ts';
import type { Acknowledged } from '../judge/lost.ts';
import { pause } from '../pause.ts';

/** Between two tries of a command that got no answer, real ms. */
const TRY_AGAIN = 10;

/**
 * What stands between the hands and the server: sends each command until it is answered, always under the same id, as a screen's
 * outbox does, and keeps a book of what was answered.
 */
export class Desk {
  readonly acknowledged: Acknowledged[] = [];
  /** Sent and not answered yet. */
  readonly unanswered = new Set<string>();
  sent = 0;
  /** Answered only after it was sent again. */
  resent = 0;
  /** Answered commands sent once more to see whether the answer is the same; those that got another one. */
  repeated = 0;
  readonly differed: string[] = [];
  readonly refusals = new Map<string, number>();
  over = false;
  readonly #clock: HandClock;
  #address: string | null = null;
  #opened: () => void = () => undefined;
  #gate = new Promise<void>((resolve) => (this.#opened = resolve));

  constructor(clock: HandClock) {
    this.#clock = clock;
  }

  /** Simulated now. */
  get now(): EpochMs {
    return this.#clock.wall;
  }

  /** The server is there: what waits goes on. */
  open(address: string): void {
    this.#address = address;
    this.#opened();
  }

  /** It is gone. */
  shut(): void {
    this.#address = null;
    this.#gate = new Promise<void>((resolve) => (this.#opened = resolve));
  }

  /** Resolves with the answer, however many servers that takes. */
  async say(command: Command, by: string | null = null): Promise<Acknowledged> {
    const id = `kill-${process.pid}-${++this.sent}`;
    const sender: Sender = { id, by, device: null, seen: null, happenedAt: null };
    const body = JSON.stringify({ ...sender, ...command });
    this.unanswered.add(id);
    for (let tries = 1; ; tries++) {
      const answer = await this.#ask(id, body);
      if (answer === null) continue;
      this.unanswered.delete(id);
      this.acknowledged.push(answer);
      if (tries > 1) this.resent += 1;
      if (answer.status !== 200) {
        const what = `${command.type}: ${String(answer.body['code'])}`;
        this.refusals.set(what, (this.refusals.get(what) ?? 0) + 1);
      }
      if (tries > 1 || this.sent % 10 === 0) await this.#once(id, body, answer);
      return answer;
    }
  }

  /** The floor as the server tells it; null when it does not answer. */
  async floor(): Promise<Snapshot | null> {
    await this.#gate;
    try {
      return (await (await fetch(`${this.#address}/api/v1/floor`)).json()) as Snapshot;
    } catch {
      await pause(TRY_AGAIN);
      return null;
    }
  }

  /** Sent once more, the answer must be the same (S8). */
  async #once(id: string, body: string, first: Acknowledged): Promise<void> {
    const again = await this.#ask(id, body);
    if (again === null) return;
    this.repeated += 1;
    if (JSON.stringify(again) !== JSON.stringify(first)) {
      this.differed.push(`${JSON.stringify(first)} then ${JSON.stringify(again)}`);
    }
  }

  /** Null when there was no answer, or one that says *again*. */
  async #ask(id: string, body: string): Promise<Acknowledged | null> {
    await this.#gate;
    try {
      const response = await fetch(`${this.#address}/api/v1/commands`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body,
      });
      const told = (await response.json()) as Record<string, unknown>;
      if (response.status < 500) return { id, status: response.status, body: told };
    } catch {
      // No answer is never an outcome.
    }
    await pause(TRY_AGAIN);
    return null;
  }
}
