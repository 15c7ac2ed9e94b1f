import type { Command } from '../../../core/command.ts';
import { problemOf } from '../../../shared/problem.ts';
import type { CommandRequest } from '../../../shared/wire.ts';
import type { TouchStore } from '../../../web/src/state/device-store.ts';
import type { OtherPages, Told } from '../../../web/src/state/other-pages.ts';
import type { Response } from '../../../web/src/state/outcome.ts';
import { Outbox, type AboutTouch, type ServerSight } from '../../../web/src/state/outbox.svelte.ts';
import type { Touch } from '../../../web/src/state/touch.ts';
import { HandTimers } from './hand-timers.ts';
import { MemoryTouchStore } from './memory-touch-store.ts';

export const BEGIN = Date.UTC(2026, 2, 10, 12);

/** What the network, or whatever answers in its place, does with one request. */
export type Net =
  'through' | 'request-lost' | 'answer-lost' | 'hangs' | 'again' | 'failed' | 'html' | 'html-500' | 'odd';

export interface Applied {
  readonly request: CommandRequest;
  readonly at: number;
}

/** A server that does each id once and repeats its answer (S8), behind a network that can be spoilt. */
export class FakeServer {
  net: Net = 'through';
  linked = true;
  salon: ServerSight['salon'] = BEGIN - 1_000;
  readonly applied: Applied[] = [];
  readonly asked: CommandRequest[] = [];
  /** Answers of its own for some commands; null: it is done. */
  judge: (request: CommandRequest) => Response | null = () => null;
  readonly #answers = new Map<string, Response>();
  readonly #timers: HandTimers;

  constructor(timers: HandTimers) {
    this.#timers = timers;
  }

  get now(): number {
    return BEGIN + this.#timers.nowMs;
  }

  post = async (request: CommandRequest): Promise<Response> => {
    this.asked.push(request);
    switch (this.net) {
      case 'request-lost':
        throw new TypeError('failed to fetch');
      case 'hangs':
        return new Promise((_, reject) => this.#timers.set(() => reject(new Error('timeout')), 5_000));
      case 'again':
      case 'failed':
        return { status: problemOf(this.net).status, body: problemOf(this.net) };
      case 'html':
        return { status: 200, body: null };
      case 'html-500':
        return { status: 502, body: null };
      case 'odd':
        return { status: 404, body: { code: 'not-found', message: 'a proxy’s own words' } };
      case 'answer-lost':
        this.#answer(request);
        throw new TypeError('connection reset');
      case 'through':
        return this.#answer(request);
      default:
        return this.net satisfies never;
    }
  };

  #answer(request: CommandRequest): Response {
    const known = this.#answers.get(request.id);
    if (known !== undefined) return known;
    const answer = this.judge(request) ?? this.#done(request);
    // Answers marked *again* are not kept (S8).
    if (answer.status < 500) this.#answers.set(request.id, answer);
    return answer;
  }

  #done(request: CommandRequest): Response {
    this.applied.push({ request, at: request.happenedAt ?? this.now });
    const version = this.applied.length;
    return { status: 200, body: { outcome: 'done', visit: 'visit-1', version, revision: version } };
  }
}

/** Lets everything that was promised happen, time standing still. */
export async function quiet(): Promise<void> {
  for (let i = 0; i < 25; i++) await new Promise((resolve) => setImmediate(resolve));
}

/** Pages of one browser tell each other; a page that has gone hears no more. */
export class PageHub {
  readonly #ears = new Map<object, (told: Told) => void>();
  silent = false;

  page(): OtherPages & { close(): void } {
    const me = {};
    return {
      tell: (told) => {
        for (const [page, hear] of this.#ears) if (page !== me && !this.silent) hear(structuredClone(told));
      },
      listen: (hear) => void this.#ears.set(me, hear),
      close: () => void this.#ears.delete(me),
    };
  }
}

/** Timers of one page: they die with it, while time goes on. */
class PageTimers {
  readonly #timers: HandTimers;
  alive = true;

  constructor(timers: HandTimers) {
    this.#timers = timers;
  }

  set = (run: () => void, afterMs: number): unknown =>
    this.#timers.set(() => (this.alive ? run() : undefined), afterMs);
  clear = (timer: unknown): void => this.#timers.clear(timer);
}

/** A page that has died hears no answer. */
function heardBy(page: { readonly alive: boolean }, answer: Promise<Response>): Promise<Response> {
  return new Promise((resolve, reject) => {
    answer.then(
      (response) => (page.alive ? resolve(response) : undefined),
      (error: unknown) => (page.alive ? reject(error as Error) : undefined),
    );
  });
}

export interface Page {
  readonly outbox: Outbox;
  hidden: boolean;
  /** Ends the page as a battery does: nothing more is sent, nothing said. */
  die(): void;
  touch(command: Command, about?: Partial<AboutTouch>): Promise<Touch>;
}

/** One device with its store, its pages and the server it speaks to. */
export class TouchingDevice {
  readonly timers = new HandTimers();
  readonly server = new FakeServer(this.timers);
  readonly hub = new PageHub();
  readonly memory = new MemoryTouchStore();
  store: TouchStore = this.memory;
  /** The device's own wall clock is wrong by so much. */
  wallErrorMs = 0;
  timescale: string | null = 'scale-1';
  /** The server's now, as it is told, is off by so much. */
  lostMs = 0;
  #ids = 0;

  async open(): Promise<Page> {
    const pages = this.hub.page();
    const timers = new PageTimers(this.timers);
    const state = { hidden: false };
    const outbox = new Outbox({
      post: (body) => heardBy(timers, this.server.post(body)),
      timers,
      random: () => 0,
      wallNow: () => this.server.now + this.wallErrorMs,
      performanceNow: () => this.timers.nowMs,
      store: Promise.resolve(this.store),
      pages,
      hidden: () => state.hidden,
      server: () => this.sight(),
      person: () => 'person-1',
      device: 'device-1',
      newId: () => `made-here-${String(++this.#ids).padStart(4, '0')}`,
    });
    await quiet();
    return {
      outbox,
      get hidden() {
        return state.hidden;
      },
      set hidden(hidden) {
        state.hidden = hidden;
      },
      die: () => {
        timers.alive = false;
        pages.close();
      },
      touch: (command, about = {}) =>
        outbox.add(command, { seen: null, happenedAt: null, over: null, chair: null, ...about }),
    };
  }

  sight(): ServerSight {
    const { linked, salon, now } = this.server;
    return { linked, salon, now: now + this.lostMs, timescale: this.timescale, revision: this.server.applied.length };
  }

  /** Time passes in steps, so that what each step brings can follow. */
  async pass(ms: number, ...pages: readonly Page[]): Promise<void> {
    for (let left = ms; left > 0; left -= 500) {
      this.timers.advance(Math.min(500, left));
      await quiet();
      for (const page of pages) page.outbox.look();
      await quiet();
    }
  }
}

export const partDone = (visit: string, part: number): Command => ({ type: 'MarkPartDone', visit, part });
export const waterOn = (visit: string | null, chair = 1): Command => ({
  type: 'BeginRinse',
  chair,
  visit,
  basin: null,
});
