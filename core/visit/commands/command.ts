import type { BellCause } from '../../bells/bell.ts';
import type { PersonId, PlaceNumber, ServiceId, VisitId } from '../../ids.ts';
import type { EpochMs, Ms } from '../../time.ts';
import type { BurnsEnd, BurnsPlace, OwedItem, OwedReason, StrandPlace, StrandResult } from '../visit.ts';

/** Stages that "done, next" can name; apply, process and rinse have commands of their own. */
export const moveOnTargets = ['prep', 'neutralize', 'condition', 'dry', 'finished'] as const;
export type MoveOnTarget = (typeof moveOnTargets)[number];

/** What people can say about a head. */
export type VisitCommand =
  | {
      readonly type: 'SeatVisit';
      readonly chair: PlaceNumber;
      readonly service: ServiceId | null;
      readonly stylist: PersonId | null;
      readonly label: string | null;
    }
  | { readonly type: 'ChooseService'; readonly visit: VisitId; readonly service: ServiceId }
  | { readonly type: 'NameStylist'; readonly visit: VisitId; readonly stylist: PersonId | null }
  | { readonly type: 'WriteLabel'; readonly visit: VisitId; readonly label: string | null }
  /** "Begin": first touch of product. With `visit` null, whoever sits at the chair; at an empty one it seats (S9). */
  | {
      readonly type: 'BeginApplication';
      readonly chair: PlaceNumber;
      readonly visit: VisitId | null;
      readonly service: ServiceId | null;
    }
  /** `part` null: the next of the plan. */
  | { readonly type: 'MarkPartDone'; readonly visit: VisitId; readonly part: number | null }
  | { readonly type: 'FinishApplication'; readonly visit: VisitId }
  /** Prep is complete, or "not yet" after all. */
  | { readonly type: 'SayPrep'; readonly visit: VisitId; readonly complete: boolean }
  /** Another pair of hands at the application; `person` null: somebody. */
  | { readonly type: 'JoinAsHelper'; readonly visit: VisitId; readonly person: PersonId | null }
  /** Null: the nameless helper who joined last, else whoever did. */
  | { readonly type: 'LeaveAsHelper'; readonly visit: VisitId; readonly person: PersonId | null }
  | {
      readonly type: 'TestStrand';
      readonly visit: VisitId;
      readonly place: StrandPlace;
      readonly result: StrandResult;
      readonly part: number | null;
      readonly note: string | null;
    }
  | { readonly type: 'SetHeat'; readonly visit: VisitId; readonly on: boolean }
  /** Limits for this head alone (E9); null leaves one as it is. Lowering is free, raising wants the right and a reason. */
  | {
      readonly type: 'SetLimits';
      readonly visit: VisitId;
      readonly minAfterMs: Ms | null;
      readonly maxAfterMs: Ms | null;
      readonly ceilingMs: Ms | null;
      readonly reason: string | null;
    }
  /** "Water on": accepted at any chair in any stage (S2). */
  | {
      readonly type: 'BeginRinse';
      readonly chair: PlaceNumber;
      readonly visit: VisitId | null;
      readonly basin: PlaceNumber | null;
    }
  | { readonly type: 'NameBasin'; readonly visit: VisitId; readonly basin: PlaceNumber }
  /** Water runs clear and product is off (S9). */
  | { readonly type: 'ClearAndOff'; readonly visit: VisitId }
  | {
      readonly type: 'MarkShampoo';
      readonly visit: VisitId;
      readonly indicator: 'colourless' | 'coloured' | null;
      readonly strip: number | null;
    }
  | { readonly type: 'PutNeutralizerOn'; readonly visit: VisitId }
  | { readonly type: 'TakeRodsOut'; readonly visit: VisitId }
  | { readonly type: 'MoveOn'; readonly visit: VisitId; readonly to: MoveOnTarget }
  | { readonly type: 'MoveTo'; readonly visit: VisitId; readonly chair: PlaceNumber }
  | { readonly type: 'Abandon'; readonly visit: VisitId }
  | { readonly type: 'SettleAbandoned'; readonly visit: VisitId }
  | { readonly type: 'Discard'; readonly visit: VisitId }
  | {
      readonly type: 'ReportBurns';
      readonly chair: PlaceNumber;
      readonly visit: VisitId | null;
      readonly place: BurnsPlace;
    }
  | { readonly type: 'CloseBurns'; readonly visit: VisitId; readonly done: BurnsEnd }
  /** "I'll go"; `visit` null for a bell of a chair, both null for one of the floor. */
  | {
      readonly type: 'TakeBell';
      readonly visit: VisitId | null;
      readonly chair: PlaceNumber | null;
      readonly cause: BellCause;
    }
  /** "I can't": it is passed on at once (R3). */
  | {
      readonly type: 'PassBell';
      readonly visit: VisitId | null;
      readonly chair: PlaceNumber | null;
      readonly cause: BellCause;
    }
  /** It itches or tingles (S6); a person looks at it and says what it is. */
  | { readonly type: 'ReportTingles'; readonly visit: VisitId }
  | { readonly type: 'AnswerTingles'; readonly visit: VisitId; readonly answer: 'eased' | 'mistaken' }
  /** Hand over: offered to one, theirs once they have accepted. */
  | { readonly type: 'OfferHead'; readonly visit: VisitId; readonly to: PersonId }
  | { readonly type: 'AnswerOffer'; readonly visit: VisitId; readonly accept: boolean }
  | {
      readonly type: 'CorrectTime';
      readonly visit: VisitId;
      readonly of: number;
      readonly to: EpochMs;
      readonly reason: string | null;
    }
  | { readonly type: 'TakeBack'; readonly visit: VisitId }
  /** A head that nobody has touched for hours: the client is still there, or has gone long ago (T4). */
  | { readonly type: 'AnswerUnattended'; readonly visit: VisitId; readonly there: boolean }
  /** Erases all words kept about a visit: its label and notes. Times and steps stay. */
  | { readonly type: 'EraseWords'; readonly visit: VisitId }
  | {
      readonly type: 'GiveReason';
      readonly visit: VisitId;
      readonly version: number;
      readonly item: OwedItem;
      readonly reason: OwedReason;
      readonly note: string | null;
    };
