import { rankOf } from '../../../core/bells/level.ts';
import type { BellLevel } from '../../../core/bells/level.ts';
import { score } from './score.ts';

/** A bell that should sound on this device now. */
export interface SoundingBell {
  /** Subject, cause and episode; a second ringing of the same bell gets a key of its own. */
  readonly key: string;
  readonly level: BellLevel;
  /** On the server's timescale: only says which of two is older. */
  readonly sinceAt: number;
  /** Muted on this device (R4): no burst, and one at once when the mute ends. Not said: sounds. */
  readonly muted?: boolean;
  /** What a wall says after its burst (W4); null or not there: nothing. */
  readonly said?: string | null;
}

/** What has been played so far on this device; instants of its monotonic clock. */
export interface Played {
  /** Bells that have had their own burst. */
  readonly heard: ReadonlySet<string>;
  /** Beginning of each level's last burst. */
  readonly lastAt: ReadonlyMap<BellLevel, number>;
  /** No burst before this instant: one is still sounding. */
  readonly busyUntil: number;
}

export interface Burst {
  readonly key: string;
  readonly level: BellLevel;
  readonly atMs: number;
}

export const NOTHING_PLAYED: Played = { heard: new Set(), lastAt: new Map(), busyUntil: Number.NEGATIVE_INFINITY };

/** Silence left between two bursts, so that they are told apart. */
export const BETWEEN_MS = 300;

/**
 * When a bell wants to sound next: at once the first time, then whenever its level repeats (R5). Bells of one
 * level share one rhythm: five heads in DANGER are not five times as loud, and every one has its own first burst.
 */
function wantedAt(bell: SoundingBell, played: Played): number | null {
  const lastAt = played.lastAt.get(bell.level);
  if (lastAt === undefined || !played.heard.has(bell.key)) return Number.NEGATIVE_INFINITY;
  const { everyMs } = score(bell.level);
  return everyMs === null ? null : lastAt + everyMs;
}

interface Wanted {
  readonly bell: SoundingBell;
  readonly at: number;
  readonly startAt: number;
}

/** Most urgent first; then those never heard; then the one that stands longest. */
function byUrgency(a: Wanted, b: Wanted): number {
  const level = rankOf(b.bell.level) - rankOf(a.bell.level);
  if (level !== 0) return level;
  if (a.at !== b.at) return a.at < b.at ? -1 : 1;
  return a.bell.sinceAt - b.bell.sinceAt || (a.bell.key < b.bell.key ? -1 : 1);
}

/**
 * The next burst on this device, or null if nothing will sound. All bells given should sound now. Never two at a time; of those that are due the
 * most urgent goes first, then the one that has waited longest; a lesser one waits when it would run into a more
 * urgent one's instant.
 */
export function nextBurst(bells: readonly SoundingBell[], played: Played, now: number): Burst | null {
  const free = Math.max(now, played.busyUntil);
  const wanted: Wanted[] = [];
  for (const bell of bells) {
    const at = wantedAt(bell, played);
    if (at !== null) wanted.push({ bell, at, startAt: Math.max(at, free) });
  }
  let chosen: Wanted | null = null;
  for (const one of wanted.sort(byUrgency)) {
    const endsAt = one.startAt + score(one.bell.level).lengthMs + BETWEEN_MS;
    if (chosen === null || endsAt <= chosen.startAt) chosen = one;
  }
  return chosen && { key: chosen.bell.key, level: chosen.bell.level, atMs: chosen.startAt };
}

/** Without what is silent for a while: when it sounds again it counts as never heard and has its burst at once. */
export function unheard(played: Played, keys: ReadonlySet<string>): Played {
  if (![...keys].some((key) => played.heard.has(key))) return played;
  return { ...played, heard: new Set([...played.heard].filter((key) => !keys.has(key))) };
}

/** Sound was lost while this burst lasted: it was not heard, and nothing is busy any more. */
export function cutOff(burst: Burst | null, played: Played, now: number): Played {
  if (burst === null || now >= played.busyUntil) return played;
  return { ...unheard(played, new Set([burst.key])), busyUntil: now };
}

/** What has been played once this burst has begun. Bells that stopped are forgotten, so the set cannot grow. */
export function afterBurst(burst: Burst, bells: readonly SoundingBell[], played: Played): Played {
  const standing = new Set(bells.map((bell) => bell.key));
  return {
    heard: new Set([...played.heard, burst.key].filter((key) => standing.has(key))),
    lastAt: new Map(played.lastAt).set(burst.level, burst.atMs),
    busyUntil: burst.atMs + score(burst.level).lengthMs + BETWEEN_MS,
  };
}
