import { beforeEach, describe, expect, it } from 'vitest';
import { Watchdog } from '../../../web/src/wall/keep-watch.ts';
import {
  oneMore,
  opensItself,
  SILENT_LOOKS,
  troubleIn,
  UNPAINTED_LOOKS,
  waitAfter,
  type Case,
} from '../../../web/src/wall/watchdog.ts';

const MINUTE = 60_000;
const reachable: Case = {
  trouble: 'server',
  answers: true,
  opensAlone: false,
  ringing: false,
  openings: null,
  now: 1_000_000_000,
};

describe('whether a wall opens itself', () => {
  it('[R10] never without the server while it hears nothing: it may be all that still rings', () => {
    expect(opensItself(reachable)).toBe(true);
    expect(opensItself({ ...reachable, ringing: true })).toBe(true);
    for (const opensAlone of [true, false]) {
      for (const ringing of [true, false]) {
        expect(opensItself({ ...reachable, answers: false, opensAlone, ringing })).toBe(false);
      }
    }
  });
  it('[R10] that paints nothing, without the server only where it opens alone and rings nothing', () => {
    const frozen = { ...reachable, trouble: 'painting', answers: false } as const;
    expect(opensItself({ ...frozen, answers: true, ringing: true })).toBe(true);
    expect(opensItself(frozen)).toBe(false);
    expect(opensItself({ ...frozen, opensAlone: true })).toBe(true);
    expect(opensItself({ ...frozen, opensAlone: true, ringing: true })).toBe(false);
  });
  it('[R10] less and less often, where it did not help', () => {
    expect([1, 2, 3, 4, 5, 6, 20].map((times) => waitAfter(times) / MINUTE)).toEqual([2, 4, 8, 16, 32, 60, 60]);
    const openings = { times: 3, at: reachable.now - 8 * MINUTE + 1 };
    expect(opensItself({ ...reachable, openings })).toBe(false);
    expect(opensItself({ ...reachable, openings: { ...openings, at: openings.at - 1 } })).toBe(true);
    expect(oneMore(openings, reachable.now)).toEqual({ times: 4, at: reachable.now });
  });
  it('[R10] counts anew after an hour without trouble, or when its clock was set back', () => {
    const { now } = reachable;
    expect(oneMore(null, now)).toEqual({ times: 1, at: now });
    expect(oneMore({ times: 5, at: now - 92 * MINUTE }, now).times).toBe(6);
    expect(oneMore({ times: 5, at: now - 92 * MINUTE - 1 }, now).times).toBe(1);
    expect(oneMore({ times: 5, at: now + 1 }, now).times).toBe(1);
  });
  it('[R10] is in trouble after two silent minutes, or half a minute without a painted second', () => {
    expect(troubleIn({ silent: SILENT_LOOKS - 1, unpainted: UNPAINTED_LOOKS - 1 })).toBeNull();
    expect(troubleIn({ silent: SILENT_LOOKS, unpainted: 0 })).toBe('server');
    expect(troubleIn({ silent: SILENT_LOOKS, unpainted: UNPAINTED_LOOKS })).toBe('painting');
  });
});

/** A wall whose every sign is in our hands. */
class Wall {
  heard = true;
  second = 0;
  paints = true;
  frames = true;
  hidden = false;
  answersNow = true;
  opened = 0;
  storageWorks = true;
  performance = 0;
  wall = 1_000_000_000;
  readonly kept = new Map<string, string>();
  dog = this.open();

  open(): Watchdog {
    return new Watchdog({
      heard: () => this.heard,
      second: () => String(this.second),
      hidden: () => this.hidden,
      ringing: () => false,
      opensAlone: () => false,
      answers: async () => this.answersNow,
      open: () => (this.opened += 1),
      storage: () => {
        if (!this.storageWorks) throw new Error('no storage here');
        return {
          getItem: (key) => this.kept.get(key) ?? null,
          setItem: (key, value) => void this.kept.set(key, value),
        };
      },
      performanceNow: () => this.performance,
      wallNow: () => this.wall,
      nextFrame: (painted) => {
        if (this.frames) painted();
      },
    });
  }

  /** So many looks, with the time that passes between them. */
  async looks(count: number, everyMs = 5_000): Promise<void> {
    for (let n = 0; n < count; n += 1) {
      this.performance += everyMs;
      this.wall += everyMs;
      if (this.paints) this.second = Math.floor(this.performance / 1_000);
      this.dog.look();
      await Promise.resolve();
      await Promise.resolve();
    }
  }
}

let wall: Wall;
beforeEach(() => (wall = new Wall()));

describe('the watchdog of a wall', () => {
  it('[R10] leaves one alone that hears and paints, also while it is hidden or its clock stands still', async () => {
    await wall.looks(100);
    Object.assign(wall, { hidden: true, frames: false, paints: false });
    await wall.looks(100);
    Object.assign(wall, { hidden: false, frames: true, paints: true });
    await wall.looks(1);
    await wall.looks(100, 0);
    expect(wall.opened).toBe(0);
  });

  it('[R10] opens one that hears nothing while the server answers others', async () => {
    wall.heard = false;
    await wall.looks(SILENT_LOOKS - 1);
    expect(wall.opened).toBe(0);
    await wall.looks(1);
    expect(wall.opened).toBe(1);
  });

  it('[R10] a word in between begins anew', async () => {
    wall.heard = false;
    await wall.looks(SILENT_LOOKS - 1);
    wall.heard = true;
    await wall.looks(1);
    wall.heard = false;
    await wall.looks(SILENT_LOOKS - 1);
    expect(wall.opened).toBe(0);
  });

  it('[R10] leaves one alone whose server is gone, however long, and opens it when it answers but is not heard', async () => {
    Object.assign(wall, { heard: false, answersNow: false });
    await wall.looks(1_000);
    expect(wall.opened).toBe(0);
    wall.answersNow = true;
    await wall.looks(1);
    expect(wall.opened).toBe(1);
  });

  it.each([
    ['whose second stands still', { paints: false }],
    ['that gets no frame', { frames: false }],
  ])('[R10] opens one %s', async (_what, hung) => {
    await wall.looks(3);
    Object.assign(wall, hung);
    await wall.looks(UNPAINTED_LOOKS - 1);
    expect(wall.opened).toBe(0);
    await wall.looks(2);
    expect(wall.opened).toBeGreaterThan(0);
  });

  it('[R10] one whom it does not help is opened after 2, 4, 8 … minutes, over its openings', async () => {
    wall.heard = false;
    const after: number[] = [];
    const began = wall.wall;
    while (after.length < 4) {
      const { opened } = wall;
      await wall.looks(1);
      if (wall.opened === opened) continue;
      after.push((wall.wall - began) / MINUTE);
      wall.dog = wall.open();
    }
    expect(after.map(Math.round)).toEqual([2, 4, 8, 16]);
  });

  it('[R10] where nothing can be counted it opens nothing', async () => {
    Object.assign(wall, { heard: false, storageWorks: false });
    await wall.looks(100);
    expect(wall.opened).toBe(0);
  });
});
