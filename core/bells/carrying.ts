import type { PersonId } from '../ids.ts';
import { earliest, SECOND, type EpochMs, type Ms } from '../time.ts';
import type { Act } from '../visit/visit.ts';
import {
  actedFor,
  shownWithin,
  shownWithinByPush,
  type Bell,
  type BellCause,
  type BellKind,
  type Circle,
  type WidenReason,
} from './bell.ts';
import { audienceOf, longestShift, type Owner, type People } from './circles.ts';
import type { BellLevel } from './level.ts';
import { isThere } from './sounding.ts';
import { goesNow, takenUntil } from './taking.ts';

/** What is known of how people can be reached; the server tells it, no screen does. */
export interface Reach {
  /** Since when nobody at all can be reached; null while somebody can. */
  readonly nobodySince: EpochMs | null;
  /** People whom only a push reaches now: their devices are slower to confirm (R7). */
  readonly pushOnly: readonly PersonId[];
}

/** The surroundings in which a bell is carried from one to the next. */
export interface Around {
  readonly owner: Owner;
  readonly acts: readonly Act[];
  /** Causes whose deed is being done: they are carried no further. */
  readonly underWay: readonly BellCause[];
  readonly people: People;
  /** Null where nobody knows, as on a screen that goes by itself: then nobody is marked as not reached. */
  readonly reach: Reach | null;
}

/** How a bell goes on: to more people, or a person is marked as not reached. */
export type Carry =
  | { readonly do: 'widen'; readonly circle: Circle; readonly why: WidenReason }
  | { readonly do: 'unreached'; readonly person: PersonId };

/** Untaken, a bell is carried on after so long, and once more (R6). NOTICE never, DANGER is everyone's at once. */
const widensAfter: Readonly<Record<BellLevel, readonly Ms[]>> = {
  NOTICE: [],
  CAUTION: [120 * SECOND],
  WARNING: [45 * SECOND, 90 * SECOND],
  DANGER: [],
};
/** A strand test cannot wait that long, nor can somebody who stands there and asks for help. */
const sooner: Partial<Record<BellKind, readonly Ms[]>> = { test: [60 * SECOND], help: [60 * SECOND] };

/** Bells at which being shown is not asked for: one says itself that nobody is. */
const unconfirmed: readonly BellKind[] = ['nobody-reached'];

const next = (circle: Circle): Circle => (circle === 0 ? 1 : 2);

/** Since when a bell waits for somebody: when it came to its row, or a taking ran out; null while somebody goes. */
function waitsSince(bell: Bell): EpochMs | null {
  const until = takenUntil(bell) ?? bell.levelAt;
  return until === Infinity ? null : until;
}

/** The instants at which a bell is carried further, as it stands (R3, R6): functions of what is stored (R8). */
function instants(bell: Bell): readonly EpochMs[] {
  const since = waitsSince(bell);
  if (since === null) return [];
  const after = (sooner[bell.kind] ?? widensAfter[bell.level]).map((ms) => since + ms);
  return bell.taken === null ? after : [since, ...after];
}

/** How far a bell has come by the instants that have passed; from a taking that ran out it goes on from where it was. */
function cameTo(bell: Bell, now: EpochMs): { readonly circle: number; readonly why: WidenReason } {
  const passed = instants(bell).filter((at) => at <= now);
  if (bell.taken === null) return { circle: passed.length, why: 'untaken' };
  const fresh = passed.filter((at) => at > bell.circleAt);
  return { circle: bell.circle + fresh.length, why: fresh[0] === passed[0] ? 'taking-expired' : 'untaken' };
}

/** Whether a person needs no confirmation: they go, they are at that very head, or they have it before their eyes. */
function knows(person: PersonId, bell: Bell, acts: readonly Act[], now: EpochMs): boolean {
  if (bell.taken?.by === person || bell.shown.some((one) => one.person === person)) return true;
  return acts.some((act) => act.by === person && isThere(bell, act, now));
}

/** By when a person must have been shown a bell; null where that is not asked for (R7). */
function shownBy(person: PersonId, bell: Bell, { people, reach }: Around): EpochMs | null {
  const within = shownWithin[bell.level];
  if (within === null || reach === null || unconfirmed.includes(bell.kind)) return null;
  const { shift, away } = people[person] ?? { shift: null, away: null };
  // Whoever came later has the same time from then on.
  const since = Math.max(bell.circleAt, shift?.sinceAt ?? 0, away?.untilAt ?? 0);
  return since + (reach.pushOnly.includes(person) ? Math.max(within, shownWithinByPush) : within);
}

/** What is to be done next about who hears a standing bell; null when nothing is. Done and asked again until null. */
export function carriedOn(bell: Bell, around: Around, now: EpochMs): Carry | null {
  if (bell.level === 'NOTICE') return null;
  const { circle } = bell;
  const audience = audienceOf(bell, around.owner, around.people, now);
  if (goesNow(bell, now) !== null || around.underWay.includes(bell.cause)) return null;
  if (circle < 2 && audience.length === 0) return { do: 'widen', circle: next(circle), why: 'nobody-there' };
  const { circle: far, why } = cameTo(bell, now);
  if (circle < 2 && far > circle) return { do: 'widen', circle: far > 1 ? 2 : 1, why };
  for (const person of audience) {
    if (bell.unreached.includes(person) || knows(person, bell, around.acts, now)) continue;
    const due = shownBy(person, bell, around);
    if (due !== null && due <= now) return { do: 'unreached', person };
  }
  // Those of a wider circle have the same time: whoever was missed before is counted anew.
  const missed = audience.some((person) => {
    const due = bell.unreached.includes(person) ? shownBy(person, bell, around) : null;
    return due !== null && due <= now;
  });
  const known = audience.some((person) => knows(person, bell, around.acts, now));
  return circle < 2 && missed && !known ? { do: 'widen', circle: next(circle), why: 'not-shown' } : null;
}

/** The next instant after `now` at which that changes by itself; null when none will (T7). */
export function nextCarryAt(bell: Bell, around: Around, now: EpochMs): EpochMs | null {
  if (bell.level === 'NOTICE' || around.underWay.includes(bell.cause)) return null;
  let at: EpochMs | null = null;
  const on = bell.circle < 2 ? instants(bell) : [];
  // When a taking runs out it is asked again who has seen it, however far it was carried.
  const expires = bell.taken === null ? null : waitsSince(bell);
  for (const one of [...on, expires]) if (one !== null && one > now) at = earliest(at, one);
  for (const person of audienceOf(bell, around.owner, around.people, now)) {
    const due = shownBy(person, bell, around);
    const leftAt = around.acts.find((act) => act.by === person)?.at ?? null;
    for (const one of [due, leftAt === null ? null : leftAt + actedFor]) {
      if (one !== null && one > now) at = earliest(at, one);
    }
  }
  // Who is here changes who is asked.
  for (const { away, shift } of Object.values(around.people)) {
    for (const one of [away?.untilAt ?? null, shift === null ? null : shift.sinceAt + longestShift]) {
      if (one !== null && one > now) at = earliest(at, one);
    }
  }
  return at;
}
