import type { Bell, BellCause, Circle } from '../bells/bell.ts';
import { rankOf, type BellLevel } from '../bells/level.ts';
import type { PersonId } from '../ids.ts';
import type { EpochMs, Ms } from '../time.ts';
import type { BellStepEvent } from './events.ts';

/** What rings at one subject: a visit, a chair or the floor. */
export interface Ringing {
  readonly bells: readonly Bell[];
  readonly episodes: readonly { readonly cause: BellCause; readonly episode: number }[];
}

type BellRung = Omit<Extract<BellStepEvent, { type: 'BellRung' }>, 'type'>;

/** Rings a bell, or replaces the standing one of its cause; taken carries over (R2). */
export function ring<T extends Ringing>(subject: T, event: BellRung, at: EpochMs): T {
  const bell = rung(subject.bells.find((one) => one.cause === event.cause) ?? null, event, at);
  return {
    ...subject,
    bells: [...subject.bells.filter((other) => other.cause !== event.cause), bell],
    episodes: [
      ...subject.episodes.filter((other) => other.cause !== event.cause),
      { cause: event.cause, episode: event.episode },
    ],
  };
}

/** Whoever was shown a lesser level has not been shown this one, and whoever could not go is asked again (R7). */
function rung(standing: Bell | null, event: BellRung, at: EpochMs): Bell {
  const { cause, kind, level, episode, dueAt, circle, helper } = event;
  const afresh = standing === null || rankOf(level) > rankOf(standing.level);
  const sounds = level !== 'NOTICE';
  return {
    cause,
    kind,
    level,
    episode,
    dueAt,
    rungAt: standing?.rungAt ?? at,
    levelAt: at,
    soundAt: standing?.soundAt ?? (sounds ? at : null),
    helper,
    circle,
    circleAt: afresh || circle > standing.circle ? at : standing.circleAt,
    taken: standing?.taken ?? null,
    passed: afresh ? [] : standing.passed,
    shown: afresh ? [] : standing.shown,
    unreached: afresh ? [] : standing.unreached,
  };
}

type OneBell = (bell: Bell) => Bell;

function onBell<T extends Ringing>(subject: T, cause: BellCause, change: OneBell): T {
  return { ...subject, bells: subject.bells.map((bell) => (bell.cause === cause ? change(bell) : bell)) };
}

/** Somebody said "I'll go". */
export function take<T extends Ringing>(subject: T, cause: BellCause, by: PersonId, at: EpochMs): T {
  return onBell(subject, cause, (bell) => ({ ...bell, taken: { by, at } }));
}

/** Somebody said "I can't"; who had said "I'll go" before takes it back with that. */
export function pass<T extends Ringing>(subject: T, cause: BellCause, by: PersonId): T {
  return onBell(subject, cause, (bell) => ({
    ...bell,
    passed: [...bell.passed.filter((one) => one !== by), by],
    taken: bell.taken?.by === by ? null : bell.taken,
  }));
}

/** Carried on to more people (R6). */
export function widen<T extends Ringing>(subject: T, cause: BellCause, circle: Circle, at: EpochMs): T {
  return onBell(subject, cause, (bell) => ({ ...bell, circle, circleAt: at }));
}

interface Receipt {
  readonly cause: BellCause;
  readonly episode: number;
  readonly level: BellLevel;
  readonly person: PersonId;
}

function meant(bell: Bell, { episode, level }: Receipt): boolean {
  return bell.episode === episode && bell.level === level;
}

/** A device confirmed that it has shown it (R7); late is better than never. */
export function show<T extends Ringing>(subject: T, receipt: Receipt, at: EpochMs): T {
  const { person } = receipt;
  return onBell(subject, receipt.cause, (bell) => {
    if (!meant(bell, receipt) || bell.shown.some((one) => one.person === person)) return bell;
    const unreached = bell.unreached.filter((one) => one !== person);
    return { ...bell, shown: [...bell.shown, { person, at }], unreached };
  });
}

/** Nobody confirmed in time that this person has it before their eyes (R7). */
export function miss<T extends Ringing>(subject: T, receipt: Receipt): T {
  return onBell(subject, receipt.cause, (bell) =>
    meant(bell, receipt) && !bell.unreached.includes(receipt.person)
      ? { ...bell, unreached: [...bell.unreached, receipt.person] }
      : bell,
  );
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
    soundAt: bell.soundAt === null ? null : later(bell.soundAt),
    circleAt: later(bell.circleAt),
    taken: bell.taken === null ? null : { ...bell.taken, at: later(bell.taken.at) },
    shown: bell.shown.map((one) => ({ ...one, at: later(one.at) })),
  }));
  return { ...subject, bells };
}

/** Number of the episode that would begin now (R2). */
export function nextEpisode(subject: Ringing, cause: BellCause): number {
  return (subject.episodes.find((one) => one.cause === cause)?.episode ?? 0) + 1;
}

/** The subject after one step of a bell. */
export function stepBells<T extends Ringing>(
  subject: T,
  event: BellStepEvent,
  recorded: { readonly at: EpochMs; readonly by: PersonId | null },
): T {
  const { at, by } = recorded;
  switch (event.type) {
    case 'BellRung':
      return ring(subject, event, at);
    case 'BellWidened':
      return widen(subject, event.cause, event.circle, at);
    case 'BellTaken':
      return by === null ? subject : take(subject, event.cause, by, at);
    case 'BellPassed':
      return by === null ? subject : pass(subject, event.cause, by);
    case 'BellShown':
      return show(subject, event, at);
    case 'BellNotReached':
      return miss(subject, event);
    case 'BellEnded':
      return endBell(subject, event.cause);
    default:
      return event satisfies never;
  }
}
