import { shell } from '../shell/registration.svelte.ts';
import type { Session } from '../state/session.svelte.ts';
import { LOOK_EVERY_MS, nothingSeen, oneMore, opensItself, seenMore, troubleIn, type Openings } from './watchdog.ts';

const OPENINGS = 'basinbell.wall.opened-itself';
/** Heartbeats come every 2 s: heard for the last time longer ago than this, it was not heard since the last look, ms. */
const LATELY_MS = LOOK_EVERY_MS + 5_000;
/** A server that takes longer to say that it is there is not there, ms. */
const ANSWER_MS = 3_000;

/** What the watchdog knows the page by. Everything beside the session, for that may be what hangs. */
export interface Watched {
  /** The server was heard lately. */
  readonly heard: () => boolean;
  /** The second that is painted, as written on the page. */
  readonly second: () => string | undefined;
  readonly hidden: () => boolean;
  readonly ringing: () => boolean;
  readonly opensAlone: () => boolean;
  readonly answers: () => Promise<boolean>;
  readonly open: () => void;
  /** Throws where the browser allows none. */
  readonly storage: () => Pick<Storage, 'getItem' | 'setItem'>;
  /** Monotonic, and the device's clock; ms. */
  readonly performanceNow: () => number;
  readonly wallNow: () => number;
  /** Calls when the next frame is painted. */
  readonly nextFrame: (painted: () => void) => void;
}

/** Looks now and then whether the wall still hears and paints, and opens it anew where that helps. */
export class Watchdog {
  readonly #page: Watched;
  #seen = nothingSeen;
  #second: string | undefined = undefined;
  #secondAt = 0;
  #framed = true;
  #asking = false;

  constructor(page: Watched) {
    this.#page = page;
    this.#secondAt = page.performanceNow();
  }

  look(): void {
    this.#seen = seenMore(this.#seen, { heard: this.#page.heard(), painted: this.#painted() });
    const trouble = troubleIn(this.#seen);
    if (trouble !== null && !this.#asking) void this.#consider(trouble);
  }

  #painted(): boolean {
    const { hidden, second, performanceNow, nextFrame } = this.#page;
    const now = performanceNow();
    const framed = this.#framed;
    this.#framed = false;
    nextFrame(() => (this.#framed = true));
    if (second() !== this.#second) this.#secondAt = now;
    this.#second = second();
    // A clock that stands still gives nothing to paint.
    const moved = now - this.#secondAt < 2_000;
    return hidden() || (framed && moved);
  }

  async #consider(trouble: 'server' | 'painting'): Promise<void> {
    this.#asking = true;
    const { answers, opensAlone, ringing, wallNow } = this.#page;
    const answered = await answers();
    this.#asking = false;
    try {
      const storage = this.#page.storage();
      const openings = readOpenings(storage.getItem(OPENINGS));
      const now = wallNow();
      const one = { trouble, answers: answered, opensAlone: opensAlone(), ringing: ringing(), openings, now };
      if (!opensItself(one)) return;
      storage.setItem(OPENINGS, JSON.stringify(oneMore(openings, now)));
    } catch {
      // Where nothing can be counted over openings there is none: it could go on for ever.
      return;
    }
    this.#page.open();
  }
}

/** The wall under the eyes of its watchdog. */
export function keepWatch(session: Session): void {
  const dog = new Watchdog({
    heard: () => isHeard(session),
    second: () => document.documentElement.dataset['second'],
    hidden: () => document.visibilityState === 'hidden',
    ringing: () => session.mirror.bells.some((standing) => session.sounds(standing) !== null),
    opensAlone: () => shell.opensAlone === 'yes',
    answers,
    open: () => location.reload(),
    storage: () => sessionStorage,
    performanceNow: () => performance.now(),
    wallNow: () => Date.now(),
    nextFrame: (painted) => void requestAnimationFrame(painted),
  });
  setInterval(() => dog.look(), LOOK_EVERY_MS);
}

/** A server of another version is heard, and would refuse the page again: `Renewal` sees to that. */
function isHeard({ link, silentForMs }: Session): boolean {
  return link.phase === 'refused' || (silentForMs !== null && silentForMs < LATELY_MS);
}

async function answers(): Promise<boolean> {
  try {
    const response = await fetch('/healthz', { cache: 'no-store', signal: AbortSignal.timeout(ANSWER_MS) });
    return response.ok;
  } catch {
    return false;
  }
}

function readOpenings(text: string | null): Openings | null {
  try {
    const kept = JSON.parse(text ?? 'null') as Partial<Openings> | null;
    return typeof kept?.times === 'number' && typeof kept.at === 'number' ? { times: kept.times, at: kept.at } : null;
  } catch {
    return null;
  }
}
