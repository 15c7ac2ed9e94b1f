import { rankOf, type BellLevel } from '../../../core/bells/level.ts';
import type { Ms } from '../../../core/time.ts';
import type { PushTrouble } from '../../../shared/push.ts';
import type { EngineLog } from '../../engine/engine-log.ts';
import type { Timers } from '../../engine/timers.ts';
import type { PostPush, PushOutcome, PushRequest } from './post-push.ts';

/** More waiting than this for one device, and the least urgent, oldest one goes: bells are few, and all of them stand on the wall. */
export const MOST_WAITING = 8;
/** First wait after a failure; doubled each time. */
const FIRST_WAIT: Ms = 1_000;
/** A push service may ask for longer: what is new by then is tried all the same. */
const LONGEST_WAIT: Ms = 120_000;

export interface PushLetter {
  /** One letter per bell waits: a newer one of the same takes its place. */
  readonly key: string;
  readonly level: BellLevel;
  /** On the process's clock, ms: after it nobody is helped by it any more. */
  readonly usefulUntil: number;
  /** Encrypts and signs; done as it is sent, so that no turn waits for it. */
  readonly seal: () => PushRequest;
}

export interface LaneDeps {
  readonly post: PostPush;
  readonly timers: Timers;
  readonly log: EngineLog;
  /** The process's clock, which only goes forward, in ms. */
  readonly elapsed: () => number;
}

/** All that goes to one endpoint: one at a time, the most urgent first. One that hangs holds up itself alone. */
export class PushLane {
  readonly #deps: LaneDeps;
  readonly #device: string;
  readonly #gone: () => void;
  #waiting: PushLetter[] = [];
  #underWay: { readonly abort: () => void } | null = null;
  #paused: (() => void) | null = null;
  #failures = 0;
  #closed = false;
  #trouble: PushTrouble | null = null;

  constructor(device: string, gone: () => void, deps: LaneDeps) {
    this.#device = device;
    this.#gone = gone;
    this.#deps = deps;
  }

  get trouble(): PushTrouble | null {
    return this.#trouble;
  }

  get waiting(): number {
    return this.#waiting.length;
  }

  push(letter: PushLetter): void {
    if (this.#closed) return;
    this.#waiting = [...this.#waiting.filter(({ key }) => key !== letter.key), letter];
    if (this.#waiting.length > MOST_WAITING) {
      const least = Math.min(...this.#waiting.map(({ level }) => rankOf(level)));
      this.#drop(
        this.#waiting.find(({ level }) => rankOf(level) === least),
        'too many wait',
      );
    }
    this.#deps.timers.soon(() => this.#next());
  }

  close(): void {
    this.#closed = true;
    this.#waiting = [];
    this.#paused?.();
    this.#underWay?.abort();
  }

  #drop(letter: PushLetter | undefined, why: string): void {
    if (letter === undefined) return;
    this.#waiting = this.#waiting.filter((one) => one !== letter);
    this.#deps.log.warn({ device: this.#device, level: letter.level, why }, 'a push was given up');
  }

  #next(): void {
    if (this.#closed || this.#underWay !== null || this.#paused !== null) return;
    const now = this.#deps.elapsed();
    for (const late of this.#waiting.filter(({ usefulUntil }) => usefulUntil <= now)) this.#drop(late, 'too late');
    const top = Math.max(...this.#waiting.map(({ level }) => rankOf(level)));
    const letter = this.#waiting.find(({ level }) => rankOf(level) === top);
    if (letter === undefined) return;
    this.#waiting = this.#waiting.filter((one) => one !== letter);
    this.#send(letter);
  }

  #send(letter: PushLetter): void {
    let request: PushRequest;
    try {
      request = letter.seal();
    } catch (error) {
      this.#trouble = 'refused';
      this.#deps.log.error({ err: error, device: this.#device }, 'a push could not be sealed');
      return this.#next();
    }
    const { posted, abort } = this.#deps.post(request);
    this.#underWay = { abort };
    void posted.then((outcome) => {
      this.#underWay = null;
      if (!this.#closed) this.#heard(outcome, letter);
    });
  }

  #heard(outcome: PushOutcome, letter: PushLetter): void {
    switch (outcome.is) {
      case 'taken':
        this.#failures = 0;
        this.#trouble = null;
        return this.#next();
      case 'gone':
        this.close();
        this.#deps.log.info({ device: this.#device }, 'a push subscription is over');
        return this.#gone();
      case 'refused':
        this.#trouble = 'refused';
        this.#deps.log.warn({ device: this.#device, status: outcome.status }, 'a push was refused');
        return this.#next();
      case 'later':
        return this.#later(outcome, letter);
      default:
        return outcome satisfies never;
    }
  }

  /** Tried again while it is of use, unless a newer one of the same bell waits by now. */
  #later({ afterMs, why }: Extract<PushOutcome, { is: 'later' }>, letter: PushLetter): void {
    this.#trouble = 'slow';
    const wait = Math.min(LONGEST_WAIT, afterMs ?? FIRST_WAIT * 2 ** Math.min(this.#failures, 10));
    this.#failures += 1;
    const again = this.#deps.elapsed() + wait < letter.usefulUntil;
    const outdated = this.#waiting.some(({ key }) => key === letter.key);
    if (again && !outdated) this.#waiting = [letter, ...this.#waiting];
    else if (!again) this.#deps.log.warn({ device: this.#device, level: letter.level, why }, 'a push was given up');
    const stop = this.#deps.timers.after(wait, () => {
      this.#paused = null;
      this.#next();
    });
    this.#paused = stop;
  }
}
