import type { BellCause, BellEnd, BellKind, Circle, WidenReason } from './bells/bell.ts';
import type { BellLevel } from './bells/level.ts';
import type { StageLimit } from './directions/directions.ts';
import type { Rules } from './directions/rules.ts';
import type { CommandId, DeviceId, DirectionsId, PersonId, PlaceNumber, ServiceId, VisitId } from './ids.ts';
import type { HelpEnd } from './salon/commands.ts';
import type { Room } from './salon/room.ts';
import type { Figures, PlaceKind, Role, WallSize } from './salon/salon.ts';
import type { EpochMs, Ms } from './time.ts';
import type { VisitEvent } from './visit/events.ts';

/** Streams of the one log: the salon itself, its people, its directions, and one per visit. */
export type Stream = 'salon' | 'people' | 'directions' | `visit/${VisitId}`;

export type SalonEvent =
  | {
      readonly type: 'SalonSetUp';
      readonly zone: string;
      readonly language: string;
      readonly hourCycle: 'h12' | 'h23';
      readonly demonstration: boolean;
    }
  | { readonly type: 'PlaceAdded'; readonly number: PlaceNumber; readonly kind: PlaceKind }
  | { readonly type: 'PlaceRelabelled'; readonly number: PlaceNumber }
  | { readonly type: 'PlaceRetired'; readonly number: PlaceNumber }
  | { readonly type: 'FiguresSet'; readonly figures: Figures }
  | { readonly type: 'WallSet'; readonly wall: WallSize }
  | { readonly type: 'RoomSet'; readonly room: Room }
  | { readonly type: 'PushSet'; readonly on: boolean }
  | { readonly type: 'HelpAsked'; readonly chair: PlaceNumber }
  | { readonly type: 'HelpEnded'; readonly chair: PlaceNumber; readonly how: HelpEnd }
  /** The wall clock stepped: only what people are shown moves (T2). Milliseconds, may be negative. */
  | { readonly type: 'CivilStepped'; readonly offsetMs: number }
  /** Timescale taken from the wall clock with no visit open (T2). */
  | { readonly type: 'TimescaleTaken' }
  /** The machine slept or the process was away: told on the screens (T2, T4). */
  | { readonly type: 'GapSeen'; readonly fromAt: EpochMs; readonly why: 'slept' | 'restarted' | 'rebooted' }
  /** The last sign of life and the timescale it was on (T3); both null in logs of an early version. */
  | { readonly type: 'TimeBecameUncertain'; readonly aliveAt: EpochMs | null; readonly timescale: string | null }
  /** How long nobody kept watch is known: now and what was recorded from `fromAt` on lie so much later (T3). */
  | { readonly type: 'TimeConfirmed'; readonly fromAt: EpochMs; readonly byMs: Ms }
  | FloorBellEvent;

/** Steps of bells whose subject is a chair, or with `chair` null the whole floor. */
export type FloorBellEvent =
  | {
      readonly type: 'FloorBellRung';
      readonly chair: PlaceNumber | null;
      readonly cause: BellCause;
      readonly kind: BellKind;
      readonly level: BellLevel;
      readonly episode: number;
      readonly dueAt: EpochMs;
      readonly circle: Circle;
      readonly helper: PersonId | null;
    }
  | {
      readonly type: 'FloorBellWidened';
      readonly chair: PlaceNumber | null;
      readonly cause: BellCause;
      readonly episode: number;
      readonly circle: Circle;
      readonly why: WidenReason;
    }
  | { readonly type: 'FloorBellTaken'; readonly chair: PlaceNumber | null; readonly cause: BellCause }
  | { readonly type: 'FloorBellPassed'; readonly chair: PlaceNumber | null; readonly cause: BellCause }
  | {
      readonly type: 'FloorBellShown' | 'FloorBellNotReached';
      readonly chair: PlaceNumber | null;
      readonly cause: BellCause;
      readonly episode: number;
      readonly level: BellLevel;
      readonly person: PersonId;
    }
  | {
      readonly type: 'FloorBellEnded';
      readonly chair: PlaceNumber | null;
      readonly cause: BellCause;
      readonly episode: number;
      readonly why: BellEnd;
    };

export type PeopleEvent =
  | { readonly type: 'PersonAdded'; readonly person: PersonId; readonly roles: readonly Role[] }
  | { readonly type: 'PersonChanged'; readonly person: PersonId; readonly roles: readonly Role[] }
  | { readonly type: 'PersonRetired'; readonly person: PersonId }
  | { readonly type: 'ShiftBegun'; readonly person: PersonId }
  | { readonly type: 'ShiftEnded'; readonly person: PersonId }
  | {
      readonly type: 'WentAway';
      readonly person: PersonId;
      readonly untilAt: EpochMs;
      readonly cover: PersonId | null;
    }
  | { readonly type: 'CameBack'; readonly person: PersonId };

export type DirectionsEvent =
  | {
      readonly type: 'DirectionsWritten';
      readonly directions: DirectionsId;
      readonly version: number;
      readonly rules: Rules;
      readonly copiedBy: PersonId | null;
    }
  | { readonly type: 'DirectionsRetired'; readonly directions: DirectionsId }
  | {
      readonly type: 'ServiceWritten';
      readonly service: ServiceId;
      readonly passes: readonly DirectionsId[];
      readonly limits: readonly StageLimit[];
    }
  | { readonly type: 'ServiceRetired'; readonly service: ServiceId }
  | { readonly type: 'UsualServiceChosen'; readonly service: ServiceId };

export type FloorEvent = SalonEvent | PeopleEvent | DirectionsEvent | VisitEvent;
export type FloorEventType = FloorEvent['type'];

/** An event as decided, before the log gives it its place. */
export interface Draft {
  readonly stream: Stream;
  /** When it happened, on the timescale; not always when it was recorded (X3). */
  readonly at: EpochMs;
  readonly event: FloorEvent;
}

/** An event with its place in the log. Never edited. */
export interface Recorded extends Draft {
  /** Place in the one log, from 1. */
  readonly seq: number;
  /** Place in its stream, from 1; the version its subject then has. */
  readonly version: number;
  readonly recordedAt: EpochMs;
  readonly by: PersonId | null;
  readonly device: DeviceId | null;
  /** The command that caused it; null for what the floor did by itself. */
  readonly command: CommandId | null;
}

/** A word kept aside from the log, so that it can be erased; `text` null erases it. */
export interface WordChange {
  readonly key: string;
  readonly text: string | null;
}

export function visitStream(visit: VisitId): Stream {
  return `visit/${visit}`;
}

/** The visit whose stream it is; null for the others. */
export function visitOf(stream: Stream): VisitId | null {
  return stream.startsWith('visit/') ? stream.slice('visit/'.length) : null;
}
