import type { BellCause, BellEnd, BellKind, Circle, WidenReason } from '../bells/bell.ts';
import type { BellLevel } from '../bells/level.ts';
import type { StageLimit } from '../directions/directions.ts';
import type { Rules } from '../directions/rules.ts';
import type { DirectionsId, PersonId, PlaceNumber, ServiceId, VisitId } from '../ids.ts';
import type { EpochMs, Ms } from '../time.ts';
import type { Stage } from './stages/stage.ts';
import type {
  BurnsEnd,
  BurnsPlace,
  OwedItem,
  OwedReason,
  StrandPlace,
  StrandResult,
  TinglesAnswer,
  VisitEnd,
} from './visit.ts';

/** Commands that may come too late to change a visit and are then kept as statements (X3). */
export const statedCommands = [
  'ChooseService',
  'NameStylist',
  'WriteLabel',
  'BeginApplication',
  'MarkPartDone',
  'FinishApplication',
  'NameBasin',
  'ClearAndOff',
  'MarkShampoo',
  'PutNeutralizerOn',
  'TakeRodsOut',
  'MoveOn',
  'MoveTo',
  'Abandon',
  'Discard',
  'CloseBurns',
  'SayPrep',
  'JoinAsHelper',
  'LeaveAsHelper',
  'TestStrand',
  'SetHeat',
  'SetLimits',
  'AnswerUnattended',
  'ReportTingles',
  'AnswerTingles',
  'OfferHead',
  'AnswerOffer',
] as const;
export type StatedCommand = (typeof statedCommands)[number];

/** One pass as planned when the client sat down: the rules are copied, so that a visit's stream stands alone. */
export interface PassPlan {
  readonly directions: DirectionsId | null;
  readonly version: number | null;
  readonly rules: Rules | null;
}

export interface OwedNow {
  readonly item: OwedItem;
  readonly stage: Stage;
  readonly pass: number;
}

/** Everything that can happen to a visit. Ids, codes, numbers and instants only: words live aside. */
export type VisitEvent =
  | {
      readonly type: 'VisitSeated';
      readonly chair: PlaceNumber;
      readonly service: ServiceId | null;
      readonly stylist: PersonId | null;
      readonly passes: readonly PassPlan[];
      readonly limits: readonly StageLimit[];
      /** The visit that this one ended by taking its chair. */
      readonly after: VisitId | null;
    }
  | {
      readonly type: 'ServiceChosen';
      readonly service: ServiceId;
      readonly passes: readonly PassPlan[];
      readonly limits: readonly StageLimit[];
    }
  | { readonly type: 'StylistNamed'; readonly stylist: PersonId | null }
  | { readonly type: 'LabelWritten' }
  | { readonly type: 'ApplicationBegun'; readonly pass: number; readonly owed: readonly OwedNow[] }
  | { readonly type: 'PartMarkedDone'; readonly part: number }
  | { readonly type: 'ApplicationFinished' }
  /** Prep is complete, or is not after all. */
  | { readonly type: 'PrepSaid'; readonly complete: boolean }
  /** Another pair of hands at the application (P0). */
  | { readonly type: 'HelperJoined'; readonly person: PersonId | null }
  /** Null: the nameless helper who joined last, else whoever did. */
  | { readonly type: 'HelperLeft'; readonly person: PersonId | null }
  | {
      readonly type: 'StrandTested';
      readonly place: StrandPlace;
      readonly result: StrandResult;
      readonly part: number | null;
    }
  | { readonly type: 'HeatSet'; readonly on: boolean }
  /** Limits for this head alone; null leaves one as it was (E9). */
  | {
      readonly type: 'LimitsSet';
      readonly minAfterMs: Ms | null;
      readonly maxAfterMs: Ms | null;
      readonly ceilingMs: Ms | null;
      readonly raised: boolean;
    }
  | { readonly type: 'RinseBegun'; readonly basin: PlaceNumber | null; readonly owed: readonly OwedNow[] }
  | { readonly type: 'BasinNamed'; readonly basin: PlaceNumber }
  | { readonly type: 'WentClear'; readonly to: Stage; readonly toPass: number; readonly owed: readonly OwedNow[] }
  | {
      readonly type: 'ShampooMarked';
      readonly indicator: 'colourless' | 'coloured' | null;
      readonly strip: number | null;
    }
  | { readonly type: 'NeutralizerPutOn' }
  | { readonly type: 'RodsTakenOut' }
  | { readonly type: 'MovedOn'; readonly to: Stage; readonly toPass: number; readonly owed: readonly OwedNow[] }
  | { readonly type: 'VisitEnded'; readonly end: VisitEnd; readonly owed: readonly OwedNow[] }
  | { readonly type: 'MovedTo'; readonly chair: PlaceNumber }
  | { readonly type: 'BurnsReported'; readonly place: BurnsPlace }
  | { readonly type: 'BurnsClosed'; readonly done: BurnsEnd }
  | { readonly type: 'AbandonedSettled' }
  /** It itches or tingles (S6). */
  | { readonly type: 'TinglesReported' }
  | { readonly type: 'TinglesAnswered'; readonly answer: TinglesAnswer }
  /** The head is offered to somebody else, who takes it or does not. */
  | { readonly type: 'HeadOffered'; readonly to: PersonId }
  | { readonly type: 'OfferAnswered'; readonly accepted: boolean }
  | { readonly type: 'ReasonGiven'; readonly version: number; readonly item: OwedItem; readonly reason: OwedReason }
  | {
      readonly type: 'TimeCorrected';
      readonly of: number;
      readonly was: EpochMs;
      readonly to: EpochMs;
      readonly bought: boolean;
      readonly reasoned: boolean;
    }
  | { readonly type: 'MoveTakenBack'; readonly versions: readonly number[] }
  /** Said by a device that had been away, too late to change the visit; a correction is offered (X3). */
  | { readonly type: 'StatementKept'; readonly command: StatedCommand }
  /** The client is still there (T4). */
  | { readonly type: 'AttendedSaid' }
  /** All words kept about this visit were erased. */
  | { readonly type: 'WordsErased' }
  /** The server came back without knowing how long it had been away (T3). */
  | { readonly type: 'TimeLost' }
  /** It is known again: whatever was recorded from `fromAt` on happened so much later. */
  | { readonly type: 'TimeFound'; readonly fromAt: EpochMs; readonly byMs: Ms }
  | {
      readonly type: 'BellRung';
      readonly cause: BellCause;
      readonly kind: BellKind;
      readonly level: BellLevel;
      readonly episode: number;
      readonly dueAt: EpochMs;
      readonly circle: Circle;
      readonly helper: PersonId | null;
    }
  | {
      readonly type: 'BellWidened';
      readonly cause: BellCause;
      readonly episode: number;
      readonly circle: Circle;
      readonly why: WidenReason;
    }
  | { readonly type: 'BellTaken'; readonly cause: BellCause }
  | { readonly type: 'BellPassed'; readonly cause: BellCause }
  | {
      readonly type: 'BellShown' | 'BellNotReached';
      readonly cause: BellCause;
      readonly episode: number;
      readonly level: BellLevel;
      readonly person: PersonId;
    }
  | { readonly type: 'BellEnded'; readonly cause: BellCause; readonly episode: number; readonly why: BellEnd };

export type VisitEventType = VisitEvent['type'];

/** Steps of bells: they neither stand in the way of a take-back nor count as an act at the head. */
export const bellSteps = [
  'BellRung',
  'BellWidened',
  'BellTaken',
  'BellPassed',
  'BellShown',
  'BellNotReached',
  'BellEnded',
] as const satisfies readonly VisitEventType[];

export type BellStepEvent = Extract<VisitEvent, { type: (typeof bellSteps)[number] }>;

export function isBellStep(event: VisitEvent): event is BellStepEvent {
  return (bellSteps as readonly string[]).includes(event.type);
}

/** Steps of the clock: nobody did anything at the head, so they stand in nobody's way either. */
export const clockSteps = ['TimeLost', 'TimeFound'] as const satisfies readonly VisitEventType[];

export type ClockStepEvent = Extract<VisitEvent, { type: (typeof clockSteps)[number] }>;

export function isClockStep(event: VisitEvent): event is ClockStepEvent {
  return (clockSteps as readonly string[]).includes(event.type);
}

/** Moves whose moment can be corrected and that can be taken back (X1, X2). */
export const moveTypes = [
  'VisitSeated',
  'ApplicationBegun',
  'PartMarkedDone',
  'ApplicationFinished',
  'RinseBegun',
  'WentClear',
  'ShampooMarked',
  'NeutralizerPutOn',
  'RodsTakenOut',
  'MovedOn',
  'VisitEnded',
  'MovedTo',
  'BurnsReported',
  'BasinNamed',
  'PrepSaid',
  'HelperJoined',
  'HelperLeft',
  'StrandTested',
  'HeatSet',
  'LimitsSet',
  'TinglesReported',
  'TinglesAnswered',
] as const satisfies readonly VisitEventType[];

export function isMove(event: { readonly type: string }): boolean {
  return (moveTypes as readonly string[]).includes(event.type);
}
