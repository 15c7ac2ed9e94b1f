import type { PersonId, PlaceNumber, ServiceId } from '../ids.ts';
import type { Bell, BellCause } from '../bells/bell.ts';
import { MINUTE, SECOND, type EpochMs, type Ms } from '../time.ts';
import { defaultRoom, type Room } from './room.ts';

export const placeKinds = ['chair', 'basin'] as const;
export type PlaceKind = (typeof placeKinds)[number];

/** A chair or a basin. Its label is a word kept aside; the number is its identity and never changes. */
export interface Place {
  readonly number: PlaceNumber;
  readonly kind: PlaceKind;
  readonly retired: boolean;
  /** Somebody at this chair wants a second opinion (bell `help`); null when nobody does. */
  readonly help: { readonly by: PersonId | null; readonly at: EpochMs } | null;
  readonly bells: readonly Bell[];
  readonly episodes: readonly { readonly cause: BellCause; readonly episode: number }[];
}

export const roles = ['stylist', 'assistant', 'senior', 'reception', 'manager', 'owner'] as const;
export type Role = (typeof roles)[number];

/** Somebody who works on the floor; the name is a word kept aside. */
export interface Person {
  readonly id: PersonId;
  readonly roles: readonly Role[];
  readonly retired: boolean;
  /** Since when they are on shift; null when they are not. */
  readonly shift: { readonly sinceAt: EpochMs } | null;
  /** Away for a while; until then whoever covers is rung in their place. */
  readonly away: Away | null;
}

export interface Away {
  readonly fromAt: EpochMs;
  readonly untilAt: EpochMs;
  readonly cover: PersonId | null;
}

/** The salon's own figures: defaults that it may change within {@link figureLimits}. All in ms. */
export interface Figures {
  /** Kept free between the latest finish and the ceiling's demand, at least the walk to the basin (P3). */
  readonly reserveMs: Ms;
  /** Walk from a chair to a basin; rings `rinse` that much earlier (R2). */
  readonly walkMs: Ms;
  /** `rinse` before closes, besides the walk (R2). */
  readonly rinseLeadMs: Ms;
  /** `soon` before the window (R2). */
  readonly soonMs: Ms;
  /** Water at a known basin for so long ends the time on hair (E1). */
  readonly waterSureMs: Ms;
  /** How long a move can be taken back (X2). */
  readonly takeBackMs: Ms;
}

/** Who may raise a limit for one head (E9). */
export const mayRaise: readonly Role[] = ['senior', 'manager', 'owner'];

/** Common practice, no source. */
export const defaultFigures: Figures = {
  reserveMs: 2 * MINUTE,
  walkMs: MINUTE,
  rinseLeadMs: 2 * MINUTE,
  soonMs: 3 * MINUTE,
  waterSureMs: 60 * SECOND,
  takeBackMs: 10 * MINUTE,
};

/** Least and most that a salon may choose for each figure. */
export const figureLimits = {
  reserveMs: [MINUTE, 10 * MINUTE],
  walkMs: [0, 5 * MINUTE],
  rinseLeadMs: [0, 10 * MINUTE],
  soonMs: [MINUTE, 15 * MINUTE],
  waterSureMs: [0, 5 * MINUTE],
  takeBackMs: [MINUTE, 30 * MINUTE],
} as const satisfies Record<keyof Figures, readonly [Ms, Ms]>;

/** A wall display: its diagonal in inches and the distance in metres from which it is read (W1). */
export interface WallSize {
  readonly diagonalIn: number;
  readonly distanceM: number;
}

export interface Salon {
  /** Null until the salon has been set up. */
  readonly setUpAt: EpochMs | null;
  /** IANA zone, BCP 47 language and hour cycle in which instants are shown. */
  readonly zone: string;
  readonly language: string;
  readonly hourCycle: 'h12' | 'h23';
  readonly figures: Figures;
  readonly wall: WallSize;
  readonly room: Room;
  /** Bells also go to phones by push, which leaves the house (R7). */
  readonly push: boolean;
  /** Sold at a chair when Begin names no service; null until the first is written. */
  readonly usualService: ServiceId | null;
  /** Marks a demonstration on every screen. */
  readonly demonstration: boolean;
  /** Civil time shown to people = timescale + this offset (T2). May be negative. */
  readonly civilOffsetMs: number;
  /** Since when the time of this floor has been uncertain (T3); null when it is certain. */
  readonly uncertainSince: EpochMs | null;
  /** What was known last before the time was lost; null while it is certain. */
  readonly lastSure: LastSure | null;
  /** People said what time it is (T3): a wall clock that is behind that is wrong, and not shown until it has caught up. */
  readonly offsetHeld: boolean;
}

/** The last sign of life before the time was lost (T3). */
export interface LastSure {
  readonly aliveAt: EpochMs;
  /** The timescale it was on: a screen that still keeps it can tell how long the floor was away. Null in old logs. */
  readonly timescale: string | null;
}

export const emptySalon: Salon = {
  setUpAt: null,
  zone: 'UTC',
  language: 'en',
  hourCycle: 'h23',
  figures: defaultFigures,
  wall: { diagonalIn: 43, distanceM: 5 },
  room: defaultRoom,
  push: false,
  usualService: null,
  demonstration: false,
  civilOffsetMs: 0,
  uncertainSince: null,
  lastSure: null,
  offsetHeld: false,
};
