/** How often the watchdog looks, ms: by a timer of its own, for those that paint may be what hangs. */
export const LOOK_EVERY_MS = 5_000;
/** So many looks without a word of the server, two minutes: far beyond what a lost line needs to come back. */
export const SILENT_LOOKS = 24;
/** So many looks in which time went on and nothing was painted, half a minute. */
export const UNPAINTED_LOOKS = 6;

/** Wait before the next opening, ms: doubled with each, for one that did not help will hardly help at once again. */
const FIRST_WAIT_MS = 2 * 60_000;
const LONGEST_WAIT_MS = 60 * 60_000;
/** So long without trouble, and it counts anew. */
const WELL_AFTER_MS = 60 * 60_000;

/** What the watchdog sees at one look. */
export interface Signs {
  /** The server was heard since the last look. */
  readonly heard: boolean;
  /** A frame was painted and the second on it moved on, or there was none to move to; a hidden page paints nothing and counts. */
  readonly painted: boolean;
}

export interface Seen {
  readonly silent: number;
  readonly unpainted: number;
}

export const nothingSeen: Seen = { silent: 0, unpainted: 0 };

export function seenMore(seen: Seen, { heard, painted }: Signs): Seen {
  return { silent: heard ? 0 : seen.silent + 1, unpainted: painted ? 0 : seen.unpainted + 1 };
}

export type Trouble = 'server' | 'painting';

export function troubleIn({ silent, unpainted }: Seen): Trouble | null {
  if (unpainted >= UNPAINTED_LOOKS) return 'painting';
  return silent >= SILENT_LOOKS ? 'server' : null;
}

/** Openings so far, kept over them. `at` by the device's clock, epoch ms. */
export interface Openings {
  readonly times: number;
  readonly at: number;
}

/** What is known when there is trouble. */
export interface Case {
  readonly trouble: Trouble;
  /** The server answered a plain question just now: the page can be had, and what this one knows will be told again. */
  readonly answers: boolean;
  /** This page opens from what is kept on the device. */
  readonly opensAlone: boolean;
  /** Something rings here, by what this page knows. */
  readonly ringing: boolean;
  /** Null: none so far. */
  readonly openings: Openings | null;
  /** The device's clock, epoch ms. */
  readonly now: number;
}

/**
 * Whether the wall opens itself anew. Without the server it knows more than a page just opened would, and may be all that
 * still rings: it stays, unless it paints nothing, rings nothing, and opens without the server.
 */
export function opensItself({ trouble, answers, opensAlone, ringing, openings, now }: Case): boolean {
  if (openings !== null && now - openings.at < waitAfter(openings.times)) return false;
  return answers || (trouble === 'painting' && opensAlone && !ringing);
}

export function waitAfter(times: number): number {
  return Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** (times - 1));
}

/** One more; a long time after the last it counts anew. A clock that was set back counts as long. */
export function oneMore(openings: Openings | null, now: number): Openings {
  const well = openings === null || now < openings.at || now - openings.at > waitAfter(openings.times) + WELL_AFTER_MS;
  return { times: well ? 1 : openings.times + 1, at: now };
}
