import type { Bell } from '../../../../core/bells/bell.ts';
import type { Recorded, Stream } from '../../../../core/events.ts';
import { emptyFloor, type Floor } from '../../../../core/floor.ts';
import type { Posted, Post, Outgoing } from '../../../../server/reach/hooks/post-once.ts';
import type { HookRow } from '../../../../server/store/reach-tables.ts';
import type { Timers } from '../../../../server/engine/timers.ts';
import { NOON } from '../../engine/kit.ts';

export { NOON };

let seq = 0;

export function recorded(stream: Stream, event: unknown, at = NOON): Recorded {
  seq += 1;
  return {
    stream,
    at,
    event: event as Recorded['event'],
    seq,
    version: seq,
    recordedAt: at,
    by: 'person-ama',
    device: 'device-0001',
    command: 'command-0001',
  };
}

export function bell(over: Partial<Bell>): Bell {
  return {
    cause: 'off',
    kind: 'rinse',
    level: 'WARNING',
    episode: 1,
    dueAt: NOON,
    rungAt: NOON,
    levelAt: NOON,
    soundAt: NOON,
    helper: null,
    circle: 0,
    circleAt: NOON,
    taken: null,
    passed: [],
    shown: [],
    unreached: [],
    ...over,
  };
}

/** A floor that holds no more than what steps are told from. */
export function floorWith(bells: {
  readonly visit?: readonly Bell[];
  readonly chair?: readonly Bell[];
  readonly floor?: readonly Bell[];
  readonly civilOffsetMs?: number;
}): Floor {
  const visit = { facts: { chair: 4, bells: bells.visit ?? [] } } as unknown as Floor['visits'][string];
  const place = { number: 4, kind: 'chair', retired: false, bells: bells.chair ?? [] };
  return {
    ...emptyFloor,
    salon: { ...emptyFloor.salon, civilOffsetMs: bells.civilOffsetMs ?? 0 },
    visits: { 'visit-0001': visit },
    places: { 4: place as unknown as Floor['places'][number] },
    floorBells: { ...emptyFloor.floorBells, bells: bells.floor ?? [] },
    words: { 'place/4/label': 'F', 'visit/visit-0001/label': 'Mrs Invented', 'person/person-ama/name': 'Ama' },
  };
}

export const row = (over: Partial<HookRow> = {}): HookRow => ({
  id: 'hook-0001',
  name: 'Lamp',
  url: 'http://lamp.test/bell',
  secret: `whsec_${Buffer.alloc(32, 7).toString('base64')}`,
  on: true,
  madeAt: NOON,
  ...over,
});

/** Timers that go on by hand, and a receiver that answers when the test says so. */
export class HandWorld implements Timers {
  readonly sent: Outgoing[] = [];
  readonly logged: string[] = [];
  /** Ms since the world began. */
  at = 0;
  aborted = 0;
  #answers: ((posted: Posted) => void)[] = [];
  #soon: (() => void)[] = [];
  #waiting: { readonly dueAt: number; readonly task: () => void }[] = [];

  readonly post: Post = (out) => {
    this.sent.push(out);
    const posted = new Promise<Posted>((resolve) => this.#answers.push(resolve));
    return { posted, abort: () => void (this.aborted += 1) };
  };

  get deps() {
    const log = (level: string) => (_details: unknown, message: string) => void this.logged.push(`${level} ${message}`);
    return {
      post: this.post,
      timers: this,
      log: { error: log('error'), warn: log('warn'), info: log('info') },
      elapsed: () => this.at,
      wall: () => NOON + this.at,
      now: () => NOON + this.at,
    };
  }

  /** Ids of what was sent, in order. */
  get ids(): (string | undefined)[] {
    return this.sent.map(({ headers }) => headers['webhook-id']);
  }

  soon(task: () => void): void {
    this.#soon.push(task);
  }

  after(ms: number, task: () => void): () => void {
    const one = { dueAt: this.at + ms, task };
    this.#waiting.push(one);
    return () => void (this.#waiting = this.#waiting.filter((other) => other !== one));
  }

  every(): () => void {
    return () => undefined;
  }

  /** What was to happen soon happens. */
  async settle(): Promise<void> {
    for (let round = 0; round < 6; round += 1) {
      await Promise.resolve();
      for (const task of this.#soon.splice(0)) task();
    }
  }

  /** The receiver answers the oldest attempt under way. */
  async answer(posted: Posted): Promise<void> {
    this.#answers.shift()?.(posted);
    await this.settle();
  }

  /** Time goes on, and what waited so long is done. */
  async pass(ms: number): Promise<void> {
    const until = this.at + ms;
    for (;;) {
      const [next] = this.#waiting.filter(({ dueAt }) => dueAt <= until).sort((a, b) => a.dueAt - b.dueAt);
      if (next === undefined) break;
      this.at = next.dueAt;
      this.#waiting = this.#waiting.filter((one) => one !== next);
      next.task();
      await this.settle();
    }
    this.at = until;
  }
}
