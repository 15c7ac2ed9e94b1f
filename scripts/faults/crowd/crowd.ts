import { fork, type ChildProcess } from 'node:child_process';
import type { Standing } from './screens.ts';

/** Screens in processes of their own, so that they share no thread with whoever measures. */
export class Crowd {
  readonly #children: ChildProcess[];
  readonly #standing: Standing[] = [];

  constructor(entry: string, address: string, screens: number, processes = 2) {
    this.#children = Array.from({ length: processes }, (_, i) => {
      const own = Math.floor(screens / processes) + (i < screens % processes ? 1 : 0);
      const child = fork(entry, { env: { ...process.env, ADDRESS: address, SCREENS: String(own) } });
      child.on('message', (standing) => (this.#standing[i] = standing as Standing));
      return child;
    });
  }

  /** How many are linked and stand at this revision or beyond it. */
  currentAt(revision: number): number {
    const counts = this.#standing.flatMap(({ at }) => Object.entries(at));
    return counts.filter(([own]) => Number(own) >= revision).reduce((sum, [, n]) => sum + n, 0);
  }

  get linked(): number {
    return this.#standing.reduce((sum, { linked }) => sum + linked, 0);
  }

  get losses(): number {
    return this.#standing.reduce((sum, { losses }) => sum + losses, 0);
  }

  leave(): void {
    for (const child of this.#children) child.kill('SIGKILL');
  }
}
