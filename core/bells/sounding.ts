import type { PersonId } from '../ids.ts';
import type { EpochMs, Ms } from '../time.ts';
import type { Act } from '../visit/visit.ts';
import { actedFor, isCall, othersHearAfter, repeatEvery, type Bell } from './bell.ts';
import { takenUntil } from './taking.ts';

/** A bell as heard: from when its bursts count, and how often; null when it is only shown. */
export interface Sounding {
  readonly sinceAt: EpochMs;
  readonly everyMs: Ms;
  /** A single burst, and then quiet until the taking runs out. */
  readonly once: boolean;
}

/** Who listens: a wall, for everybody in the room, or the device of one person whom the bell asks. */
export type Ear = 'room' | PersonId;

/**
 * Whether somebody who did something at a head is there for a bell (R3): within three minutes. For DANGER, and for a call, only who did it since
 * the bell was due: whoever raised it, or is at it; that somebody touched a tablet before says nothing then.
 */
export function isThere({ level, kind, dueAt }: Bell, act: Act, now: EpochMs): boolean {
  if (level === 'DANGER' || isCall(kind)) return act.at >= dueAt && act.at > now - actedFor;
  return act.at > now - actedFor;
}

/**
 * Whether and how a bell sounds at `now` for whoever listens (R3, R5). Whoever did something at that head within three minutes is
 * shown it and not rung; the others then hear it a minute later, DANGER and a call for somebody at once. Taken makes it quiet, never
 * hidden, and only for a while; burns that somebody has taken stay quiet, for they stand until a person closes them. What has come to
 * DANGER, and `over` at WARNING, sounds once through a taking that came before it.
 */
export function soundingOf(bell: Bell, ear: Ear, acts: readonly Act[], now: EpochMs): Sounding | null {
  const everyMs = repeatEvery[bell.level];
  if (everyMs === null) return null;
  const there = acts.filter((act) => isThere(bell, act, now));
  if (ear !== 'room' && there.some((act) => act.by === ear)) return null;
  if (bell.taken === null) {
    const waits = bell.level !== 'DANGER' && !isCall(bell.kind) && there.length > 0;
    if (waits && now < (bell.soundAt ?? bell.levelAt) + othersHearAfter) return null;
    return { sinceAt: bell.levelAt, everyMs, once: false };
  }
  const quietUntil = takenUntil(bell) ?? Infinity;
  if (now >= quietUntil) return { sinceAt: quietUntil, everyMs, once: false };
  if (bell.kind === 'burns') return null;
  const louder = bell.level === 'DANGER' || (bell.kind === 'over' && bell.level === 'WARNING');
  const ringsThrough = louder && bell.taken.at < bell.levelAt;
  return ringsThrough && now < bell.levelAt + everyMs ? { sinceAt: bell.levelAt, everyMs, once: true } : null;
}
