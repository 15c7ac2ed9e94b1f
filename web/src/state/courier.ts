import type { EpochMs } from '../../../core/time.ts';
import { TOUCHED_HEADER } from '../../../shared/protocol.ts';
import type { CommandRequest } from '../../../shared/wire.ts';
import { isUrgent } from './lanes.ts';
import { againInMs, AGAIN_MOST_MS, outcomeOf, type Outcome, type Response } from './outcome.ts';
import type { Timers } from './timers.ts';

interface Deps {
  /** `touched`: when, and on which timescale, where the body leaves the time open. */
  readonly post: (body: CommandRequest, touched: string | null) => Promise<Response>;
  readonly timers: Timers;
  /** 0 to below 1. */
  readonly random: () => number;
  readonly came: (id: string, happenedAt: EpochMs | null, outcome: Outcome) => void;
  /** Something may go again, or has gone out. */
  readonly changed: () => void;
}

/** Carries single touches to the server: what is under way, what rests after a failure and for how long. */
export class Courier {
  readonly #deps: Deps;
  readonly #underWay = new Set<string>();
  readonly #resting = new Map<string, unknown>();
  readonly #failures = new Map<string, number>();
  /** Reached the server, which could not take them: water and burns may pass them. */
  readonly answeredAgain = new Set<string>();

  constructor(deps: Deps) {
    this.#deps = deps;
  }

  get underWay(): ReadonlySet<string> {
    return this.#underWay;
  }

  isFree(id: string): boolean {
    return !this.#underWay.has(id) && !this.#resting.has(id);
  }

  async send(request: CommandRequest, touched: string | null): Promise<void> {
    const { id, happenedAt } = request;
    this.#underWay.add(id);
    this.#deps.changed();
    const outcome = await this.#post(request, touched);
    this.#underWay.delete(id);
    if (outcome.kind === 'not-yet') {
      const failures = (this.#failures.get(id) ?? 0) + 1;
      this.#failures.set(id, failures);
      if (outcome.why === 'server') this.answeredAgain.add(id);
      else this.answeredAgain.delete(id);
      // Water and burns are tried again and again without growing waits.
      this.rest(id, againInMs(isUrgent(request) ? 1 : failures, this.#deps.random()));
    } else this.forget(id);
    this.#deps.came(id, happenedAt, outcome);
  }

  /** Not sent again for so long; without a length, the longest wait. */
  rest(id: string, forMs: number = AGAIN_MOST_MS): void {
    this.#wake(id);
    const timer = this.#deps.timers.set(() => {
      this.#resting.delete(id);
      this.#deps.changed();
    }, forMs);
    this.#resting.set(id, timer);
  }

  /** The link is back: whatever rests goes at once. */
  wakeAll(): void {
    for (const id of [...this.#resting.keys()]) this.#wake(id);
    this.#failures.clear();
  }

  forget(id: string): void {
    this.#wake(id);
    this.#failures.delete(id);
    this.answeredAgain.delete(id);
  }

  #wake(id: string): void {
    if (this.#resting.has(id)) this.#deps.timers.clear(this.#resting.get(id));
    this.#resting.delete(id);
  }

  async #post(request: CommandRequest, touched: string | null): Promise<Outcome> {
    try {
      return outcomeOf(await this.#deps.post(request, touched));
    } catch {
      return { kind: 'not-yet', why: 'network' };
    }
  }
}

/** A request that has had no answer by now is given up and made again, ms. */
const ANSWER_WITHIN_MS = 5_000;

/** Posts one command to the server this page came from. */
export async function postCommand(body: CommandRequest, touched: string | null): Promise<Response> {
  const response = await fetch('/api/v1/commands', {
    method: 'POST',
    headers: { 'content-type': 'application/json', ...(touched === null ? {} : { [TOUCHED_HEADER]: touched }) },
    body: JSON.stringify(body),
    signal: AbortSignal.timeout(ANSWER_WITHIN_MS),
  });
  const text = await response.text();
  try {
    return { status: response.status, body: JSON.parse(text) as unknown };
  } catch {
    return { status: response.status, body: null };
  }
}
