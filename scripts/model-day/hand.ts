import { renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Ms } from '../../core/time.ts';
import type { Hand } from './hour.ts';

/** Sets the server's clock so many ms behind the real one; at 0 the real time goes on. */
export class BehindHand implements Hand {
  readonly file: string;
  #behindMs: Ms;

  constructor(folder: string, behindMs: Ms) {
    this.file = join(folder, 'clock.json');
    this.#behindMs = behindMs;
    this.#write();
  }

  /** Never ahead of real time: what is left over passes by itself. */
  pass(ms: Ms): void {
    this.#behindMs = Math.max(0, this.#behindMs - ms);
    this.#write();
  }

  toRealTime(): void {
    this.#behindMs = 0;
    this.#write();
  }

  /** Written beside and renamed: the server may look at any moment. */
  #write(): void {
    const beside = `${this.file}.new`;
    writeFileSync(beside, JSON.stringify({ behindMs: this.#behindMs }));
    renameSync(beside, this.file);
  }
}
