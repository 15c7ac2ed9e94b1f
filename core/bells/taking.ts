import type { PersonId } from '../ids.ts';
import type { EpochMs } from '../time.ts';
import { takenFor, type Bell } from './bell.ts';

/**
 * Until when a bell counts as taken (R3): a taking lasts only so long, but for burns, which stand until a person closes them. Null where
 * nobody has taken it.
 */
export function takenUntil({ taken, level, kind }: Bell): EpochMs | null {
  if (taken === null) return null;
  return kind === 'burns' ? Infinity : taken.at + takenFor[level];
}

/** Who is on the way at `now`; null when nobody said so, or the taking has run out. */
export function goesNow(bell: Bell, now: EpochMs): PersonId | null {
  const until = takenUntil(bell);
  return until !== null && now < until ? (bell.taken?.by ?? null) : null;
}
