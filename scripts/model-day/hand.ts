import { renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { EpochMs, Ms } from '../../core/time.ts';
import type { Hand } from './hour.ts';

/** Written beside and renamed: the server may look at any moment. */
function lay(file: string, hand: object): void {
  writeFileSync(`${file}.new`, JSON.stringify(hand));
  renameSync(`${file}.new`, file);
}

/** Sets the server's clock so many ms behind the real one; at 0 the real time goes on. */
export class BehindHand implements Hand {
  readonly file: string;
  #behindMs: Ms;

  constructor(folder: string, behindMs: Ms) {
    this.file = join(folder, 'clock.json');
    this.#behindMs = behindMs;
    this.pass(0);
  }

  /** Never ahead of real time: what is left over passes by itself. */
  pass(ms: Ms): void {
    this.#behindMs = Math.max(0, this.#behindMs - ms);
    lay(this.file, { behindMs: this.#behindMs });
  }

  toRealTime(): void {
    this.pass(this.#behindMs);
  }
}

/** A clock that stands still between two moves, at an instant of our choice: for pictures that come out alike. */
export class StillHand implements Hand {
  readonly file: string;
  #wall: EpochMs;
  readonly #beganAt: EpochMs;

  constructor(folder: string, wall: EpochMs) {
    this.file = join(folder, 'clock.json');
    this.#wall = wall;
    this.#beganAt = wall;
    this.pass(0);
  }

  pass(ms: Ms): void {
    this.#wall += ms;
    const since = this.#wall - this.#beganAt;
    lay(this.file, { at: { wall: this.#wall, mono: since, uptime: since, bootId: 'still' } });
  }
}
