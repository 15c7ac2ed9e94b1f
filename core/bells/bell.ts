import type { PersonId } from '../ids.ts';
import { MINUTE, SECOND, type EpochMs, type Ms } from '../time.ts';
import type { BellLevel } from './level.ts';

/** Rows of the table of bells that exist so far (R2). */
export const bellKinds = [
  'begun?',
  'pace',
  'soon',
  'test',
  'rinse',
  'over',
  'water-on?',
  'water',
  'dwell',
  'back-to-rinse',
  'long-stage',
  'unattended',
  'tingles',
  'help',
  'burns',
  'abandoned',
  'nobody-reached',
  'time-uncertain',
  'not-saved',
] as const;
export type BellKind = (typeof bellKinds)[number];

/** Why somebody is wanted. `off` is shared by soon, rinse and over; `neutralizer` likewise inside neutralize (S1). */
export const bellCauses = [
  'begun?',
  'pace',
  'test',
  'off',
  'neutralizer',
  'water-on?',
  'water',
  'dwell',
  'back-to-rinse',
  'long-stage',
  'unattended',
  'tingles',
  'help',
  'burns',
  'abandoned',
  'nobody-reached',
  'time-uncertain',
  'not-saved',
] as const;
export type BellCause = (typeof bellCauses)[number];

/** How a bell ended (R2, R9). */
export const bellEnds = [
  'deed-done',
  'corrected',
  'taken-back',
  'had-happened',
  'moved-on',
  'cleared',
  'visit-ended',
] as const;
export type BellEnd = (typeof bellEnds)[number];

export interface Taken {
  readonly by: PersonId;
  readonly at: EpochMs;
}

/** How far a bell is carried (R6): to those whose deed it is, to everyone on shift on the floor, also to the managers. */
export const circles = [0, 1, 2] as const;
export type Circle = (typeof circles)[number];

/** Why a bell was carried further (R3, R6, R7, R9). */
export const widenReasons = ['untaken', 'taking-expired', 'passed-on', 'not-shown', 'nobody-there'] as const;
export type WidenReason = (typeof widenReasons)[number];

/** A device of theirs has shown it to them (R7). */
export interface Shown {
  readonly person: PersonId;
  readonly at: EpochMs;
}

/** One standing bell. Its identity is (subject, cause, episode, level); the subject is whoever holds it. */
export interface Bell {
  readonly cause: BellCause;
  readonly kind: BellKind;
  readonly level: BellLevel;
  /** Counts from 1 within the subject and cause; grows when the cause comes to stand anew. */
  readonly episode: number;
  /** The instant the rules gave, and the instant at which it was rung. */
  readonly dueAt: EpochMs;
  readonly rungAt: EpochMs;
  /** When it came to its present row; sound counts from here. */
  readonly levelAt: EpochMs;
  /** When it first came to a level that sounds; null while it is only shown. */
  readonly soundAt: EpochMs | null;
  /** The one pair of hands asked besides those whose head it is, picked as it came to sound. */
  readonly helper: PersonId | null;
  readonly circle: Circle;
  /** Since when it is carried so far, at this level. */
  readonly circleAt: EpochMs;
  readonly taken: Taken | null;
  /** Who said that they cannot go. */
  readonly passed: readonly PersonId[];
  /** Who has been shown it at this level, and who was not in time (R7). */
  readonly shown: readonly Shown[];
  readonly unreached: readonly PersonId[];
}

/** Sound repeats until the bell is taken or ended (R5); null: shown only. */
export const repeatEvery = {
  DANGER: 5 * SECOND,
  WARNING: 15 * SECOND,
  CAUTION: 30 * SECOND,
  NOTICE: null,
} as const satisfies Record<BellLevel, Ms | null>;

/** A bell taken and still standing after this long sounds again (R3). */
export const takenFor = {
  DANGER: 30 * SECOND,
  WARNING: 90 * SECOND,
  CAUTION: 90 * SECOND,
  NOTICE: 90 * SECOND,
} as const satisfies Record<BellLevel, Ms>;

/** Whoever acted at a head is shown its bells without sound for this long (R3). */
export const actedFor: Ms = 3 * MINUTE;

/** With somebody at the head, the others hear a bell only this much later (R3); DANGER at once. */
export const othersHearAfter: Ms = 60 * SECOND;

/** A device confirms within this that it has shown a bell (R7); NOTICE asks for no confirmation. */
export const shownWithin = {
  DANGER: 3 * SECOND,
  WARNING: 8 * SECOND,
  CAUTION: 30 * SECOND,
  NOTICE: null,
} as const satisfies Record<BellLevel, Ms | null>;

/** The same for somebody who can only be reached by push. */
export const shownWithinByPush: Ms = 30 * SECOND;

/**
 * They call for others than whoever is there, so only those are not rung (S6, R3): raised by somebody's touch, or in want of another pair
 * of hands.
 */
const calls: readonly BellKind[] = ['burns', 'tingles', 'help', 'abandoned', 'pace'];
export const isCall = (kind: BellKind): boolean => calls.includes(kind);
