import type { StandingBell } from './floor-mirror.svelte.ts';

/** What is known when a screen considers opening itself anew. */
export interface RenewalFacts {
  /** The server's page is built from other files than this one. */
  readonly other: boolean;
  /** The server answers: without it this page is all there is. */
  readonly reached: boolean;
  /** The server does not speak this page's protocol: what is painted here cannot change any more. */
  readonly refused: boolean;
  /** No bell above NOTICE. */
  readonly calm: boolean;
  /** Somebody is at it: a panel is open, something is being typed or is not sent yet. */
  readonly occupied: boolean;
  /** How long it has been refused. */
  readonly refusedForMs: number;
}

/** A refused screen whose bells still stand waits so long: they are not the floor's any more. */
export const REFUSED_WAIT_MS = 30_000;

/** Only in a quiet moment, and only for another page than this: a screen that opens itself for ever shows nothing. */
export function opensAnew({ other, reached, refused, calm, occupied, refusedForMs }: RenewalFacts): boolean {
  if (!other || !reached || occupied) return false;
  return calm || (refused && refusedForMs >= REFUSED_WAIT_MS);
}

/** Whether the floor is quiet enough for a screen to open itself anew: no bell above NOTICE. */
export function quietMoment(bells: readonly StandingBell[]): boolean {
  return bells.every(({ bell }) => bell.level === 'NOTICE');
}

/** The scripts a page names, in order: their names carry a fingerprint of what is in them. */
export function scriptsNamed(html: string): string {
  return Array.from(html.matchAll(/<script[^>]*\bsrc="([^"]+)"/g), ([, src]) => src).join(' ');
}

/** What was tried before, kept over openings. */
export interface Tried {
  /** The scripts it was opened for. */
  readonly scripts: string;
  readonly times: number;
  /** When, by the device's clock, epoch ms. */
  readonly at: number;
}

/** Opened for a page and got another all the same, as where something between keeps old pages: again only so often. */
export const TRY_AGAIN_MS = 10 * 60_000;
const MOST_TRIES = 3;

export function mayTry(tried: Tried | null, scripts: string, now: number): boolean {
  if (tried === null || tried.scripts !== scripts) return true;
  return tried.times < MOST_TRIES && now - tried.at >= TRY_AGAIN_MS;
}

export function nowTried(tried: Tried | null, scripts: string, now: number): Tried {
  return { scripts, times: tried?.scripts === scripts ? tried.times + 1 : 1, at: now };
}
