import type { Bell, BellCause } from '../bells/bell.ts';
import type { PersonId } from '../ids.ts';
import type { EpochMs, Ms } from '../time.ts';
import type { BellStepEvent } from './events.ts';
import type { VisitFacts } from './visit.ts';

/** What rings at one subject: a visit or the floor. */
export interface Ringing {
  readonly bells: readonly Bell[];
  readonly episodes: readonly { readonly cause: BellCause; readonly episode: number }[];
}

type BellRung = Extract<BellStepEvent, { type: 'BellRung' }>;

/** Rings a bell, or replaces the standing one of its cause; taken carries over (R2). */
export function ring<T extends Ringing>(subject: T, event: Omit<BellRung, 'type'>, at: EpochMs): T {
  const standing = subject.bells.find((bell) => bell.cause === event.cause);
  const bell: Bell = {
    cause: event.cause,
    kind: event.kind,
    level: event.level,
    episode: event.episode,
    dueAt: event.dueAt,
    rungAt: standing?.rungAt ?? at,
    levelAt: at,
    taken: standing?.taken ?? null,
  };
  return {
    ...subject,
    bells: [...subject.bells.filter((other) => other.cause !== event.cause), bell],
    episodes: [
      ...subject.episodes.filter((other) => other.cause !== event.cause),
      { cause: event.cause, episode: event.episode },
    ],
  };
}

/** Somebody said "I'll go". */
export function take<T extends Ringing>(subject: T, cause: BellCause, by: PersonId, at: EpochMs): T {
  return {
    ...subject,
    bells: subject.bells.map((bell) => (bell.cause === cause ? { ...bell, taken: { by, at } } : bell)),
  };
}

/** The bell of a cause no longer stands. */
export function endBell<T extends Ringing>(subject: T, cause: BellCause): T {
  return { ...subject, bells: subject.bells.filter((bell) => bell.cause !== cause) };
}

/** Bells with every instant from `fromAt` on so much later: the time is known again (T3). */
export function bellsMoved<T extends Ringing>(subject: T, fromAt: EpochMs, byMs: Ms): T {
  const later = (at: EpochMs): EpochMs => (at >= fromAt ? at + byMs : at);
  const bells = subject.bells.map((bell) => ({
    ...bell,
    dueAt: later(bell.dueAt),
    rungAt: later(bell.rungAt),
    levelAt: later(bell.levelAt),
    taken: bell.taken === null ? null : { ...bell.taken, at: later(bell.taken.at) },
  }));
  return { ...subject, bells };
}

/** Number of the episode that would begin now (R2). */
export function nextEpisode(subject: Ringing, cause: BellCause): number {
  return (subject.episodes.find((one) => one.cause === cause)?.episode ?? 0) + 1;
}

/** A visit after one step of a bell. */
export function stepBells(
  facts: VisitFacts,
  event: BellStepEvent,
  recorded: { at: EpochMs; by: PersonId | null },
): VisitFacts {
  switch (event.type) {
    case 'BellRung':
      return ring(facts, event, recorded.at);
    case 'BellTaken':
      return recorded.by === null ? facts : take(facts, event.cause, recorded.by, recorded.at);
    case 'BellEnded':
      return endBell(facts, event.cause);
    default:
      return event satisfies never;
  }
}
