import type { EpochMs, Ms } from '../../../core/time.ts';
import type { HookFailing, HookTested } from '../../../shared/hooks.ts';
import type { EngineLog } from '../../engine/engine-log.ts';
import type { Timers } from '../../engine/timers.ts';
import type { HookRow } from '../../store/reach-tables.ts';
import { isHopeless, isRefusal, waitAfter } from './patience.ts';
import type { Post, Posted } from './post-once.ts';
import { signedHeaders } from './standard-webhook.ts';

/** More steps waiting than this, and the oldest is given up: two minutes of the worst Saturday are fewer. */
const MOST_WAITING = 200;
/** A test that has not come to its turn within this is answered as waiting; longer than one attempt may take. */
export const TEST_WITHIN: Ms = 6_000;

/** One step on its way to one hook. */
export interface Letter {
  /** The same at every attempt. */
  readonly id: string;
  readonly body: string;
  /** On the process's clock. */
  readonly bornAt: number;
  readonly usefulForMs: Ms;
}

interface Queued extends Letter {
  refusals: number;
  readonly tested: ((posted: Posted) => void) | null;
}

export interface LaneDeps {
  readonly post: Post;
  readonly timers: Timers;
  readonly log: EngineLog;
  /** The process's clock, which only goes forward, in ms. */
  readonly elapsed: () => number;
  /** Wall clock, epoch ms: receivers compare a signature's time with theirs. */
  readonly wall: () => EpochMs;
  /** The timescale's now, for what is told. */
  readonly now: () => EpochMs;
}

/** One hook's steps, in order, one at a time. What it does to its receiver, or the receiver to it, concerns nobody else. */
export class HookLane {
  readonly hook: HookRow;
  readonly #deps: LaneDeps;
  #queue: Queued[] = [];
  #attempts = 0;
  #abort: (() => void) | null = null;
  #stopWaiting: (() => void) | null = null;
  #asked = false;
  #closed = false;
  deliveredAt: EpochMs | null = null;
  failing: HookFailing | null = null;

  constructor(hook: HookRow, deps: LaneDeps) {
    this.hook = hook;
    this.#deps = deps;
  }

  get waiting(): number {
    return this.#queue.length;
  }

  push(letter: Letter): void {
    this.#enqueue({ ...letter, refusals: 0, tested: null });
    // Between attempts the pause is kept: what is new waits behind what is old.
    if (this.#stopWaiting === null) this.#look();
  }

  /** Goes behind whatever waits, like any step; somebody stands there, so the pause is cut short. */
  test(letter: Letter): Promise<HookTested> {
    const { timers, elapsed } = this.#deps;
    const since = elapsed();
    return new Promise((resolve) => {
      const stop = timers.after(TEST_WITHIN, () => {
        const behind = this.#queue.findIndex(({ id }) => id === letter.id);
        this.#queue = this.#queue.filter(({ id }, place) => id !== letter.id || (place === 0 && this.#abort !== null));
        resolve({ outcome: 'waiting', behind: Math.max(behind, 0) });
      });
      const tested = (posted: Posted): void => {
        stop();
        resolve({ ...posted, afterMs: Math.round(elapsed() - since) });
      };
      this.#enqueue({ ...letter, refusals: 0, tested });
      this.#stopWaiting?.();
      this.#stopWaiting = null;
      this.#look();
    });
  }

  close(): void {
    this.#closed = true;
    this.#stopWaiting?.();
    this.#abort?.();
    this.#queue = [];
  }

  #enqueue(queued: Queued): void {
    this.#queue.push(queued);
    if (this.#queue.length <= MOST_WAITING) return;
    // The first may be under way.
    this.#queue.splice(1, 1);
    this.#countGivenUp(1);
  }

  /** Soon, never at once: the turn that tells of a step has to end first. */
  #look(): void {
    if (this.#asked) return;
    this.#asked = true;
    this.#deps.timers.soon(() => {
      this.#asked = false;
      this.#next();
    });
  }

  #next(): void {
    if (this.#closed || this.#abort !== null || this.#stopWaiting !== null) return;
    this.#dropUseless();
    const [first] = this.#queue;
    if (first === undefined) return;
    const { posted, abort } = this.#send(first);
    this.#abort = abort;
    posted
      .then((outcome) => {
        this.#abort = null;
        if (!this.#closed) this.#ended(first, outcome);
      })
      // A fault of ours at a lamp must not end the process that rings.
      .catch((error: unknown) => this.#deps.log.error({ err: error, hook: this.hook.id }, 'a hook’s lane failed'));
  }

  #send({ id, body }: Queued): ReturnType<Post> {
    const { post, wall } = this.#deps;
    const { url, secret } = this.hook;
    const signed = signedHeaders(secret, { id, timestamp: Math.floor(wall() / 1000), body });
    const headers = { 'content-type': 'application/json', 'user-agent': 'Basinbell', ...signed };
    return post({ url, headers, body });
  }

  #ended(letter: Queued, posted: Posted): void {
    if (posted.outcome === 'delivered') this.#delivered();
    else this.#failed(letter, posted);
    letter.tested?.(posted);
    this.#next();
  }

  #delivered(): void {
    const { hook, failing } = this;
    if (failing !== null) this.#deps.log.info({ hook: hook.id, givenUp: failing.givenUp }, 'a hook takes steps again');
    this.failing = null;
    this.deliveredAt = this.#deps.now();
    this.#drop();
  }

  #failed(letter: Queued, { why, status }: Extract<Posted, { outcome: 'failed' }>): void {
    const { timers, log, now } = this.#deps;
    if (this.failing === null) log.warn({ hook: this.hook.id, why, status }, 'a hook does not take a step');
    this.failing = { sinceAt: now(), givenUp: 0, ...this.failing, why, status };
    this.#attempts += 1;
    if (isRefusal(why, status)) letter.refusals += 1;
    if (letter.tested !== null) return this.#drop();
    if (isHopeless({ why, status, refusals: letter.refusals })) {
      this.#countGivenUp(1);
      return this.#drop();
    }
    this.#stopWaiting = timers.after(waitAfter(this.#attempts), () => {
      this.#stopWaiting = null;
      this.#next();
    });
  }

  #drop(): void {
    this.#queue.shift();
    this.#attempts = 0;
  }

  /** A test is tried once, whenever its turn comes. */
  #dropUseless(): void {
    const now = this.#deps.elapsed();
    const useful = this.#queue.filter(
      ({ bornAt, usefulForMs, tested }) => tested !== null || now < bornAt + usefulForMs,
    );
    this.#countGivenUp(this.#queue.length - useful.length);
    if (useful[0] !== this.#queue[0]) this.#attempts = 0;
    this.#queue = useful;
  }

  #countGivenUp(n: number): void {
    if (n === 0) return;
    this.#deps.log.warn({ hook: this.hook.id, steps: n }, 'steps for a hook were given up');
    if (this.failing !== null) this.failing = { ...this.failing, givenUp: this.failing.givenUp + n };
  }
}
