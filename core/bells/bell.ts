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
  'long-stage',
  'unattended',
  'burns',
  'abandoned',
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
  'long-stage',
  'unattended',
  'burns',
  'abandoned',
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
  /** When it came to its present level; sound counts from here. */
  readonly levelAt: EpochMs;
  readonly taken: Taken | null;
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
