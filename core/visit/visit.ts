import type { Bell, BellCause } from '../bells/bell.ts';
import type { StageLimit } from '../directions/directions.ts';
import type { Rules } from '../directions/rules.ts';
import type { DirectionsId, PersonId, PlaceNumber, ServiceId, VisitId } from '../ids.ts';
import type { EpochMs, Ms } from '../time.ts';
import type { Stage } from './stages/stage.ts';

/** Something that was done: when it happened, by whom, and as which version of its visit. */
export interface Mark {
  readonly at: EpochMs;
  readonly by: PersonId | null;
  readonly version: number;
}

/** One part of the head as done so far; `begunAt` follows P0. */
export interface PartDone {
  /** Index in the plan. */
  readonly part: number;
  readonly begunAt: EpochMs;
  readonly doneAt: EpochMs;
  readonly by: PersonId | null;
}

/** One pair of hands at the application: from first touch or joining, until it left (P0, P2). */
export interface Hands {
  readonly by: PersonId | null;
  readonly fromAt: EpochMs;
  readonly untilAt: EpochMs | null;
  /** When it finished its last part, or `fromAt`: its next part begins here (P0). */
  readonly freeAt: EpochMs;
}

export const strandPlaces = ['first', 'last', 'porous'] as const;
/** Where a strand was tested: the part done first, the part done last, the most porous place (E6). */
export type StrandPlace = (typeof strandPlaces)[number];
export type StrandResult = 'ready' | 'not-yet';

/** One strand test (E6); a note is a word kept aside. */
export interface StrandTest extends Mark {
  readonly place: StrandPlace;
  readonly result: StrandResult;
  /** Part tested, where it matters: a by-part product comes off part by part. */
  readonly part: number | null;
}

export interface Heat extends Mark {
  readonly on: boolean;
}

/** Limits changed for this head alone (E9). */
export interface LimitsChange extends Mark {
  readonly raised: boolean;
}

export interface Water extends Mark {
  readonly basin: PlaceNumber | null;
  /** Somebody named the basin after the water was said to be on: it is on (bell `water-on?`). */
  readonly confirmed: boolean;
}

export interface Shampoo extends Mark {
  readonly indicator: 'colourless' | 'coloured' | null;
  /** pH read from a strip, 0 to 14. */
  readonly strip: number | null;
}

/** One product from first touch to off, as facts; what follows from them is computed (E1–E8). */
export interface Pass {
  readonly directions: DirectionsId | null;
  readonly directionsVersion: number | null;
  /** Null when nobody said what product it is. */
  readonly rules: Rules | null;
  /** First touch, B. */
  readonly begun: Mark | null;
  /** Product was on hair, but nobody knows since when (S2). */
  readonly beginUnknown: boolean;
  readonly parts: readonly PartDone[];
  /** Pairs of hands, in the order in which they came; the first is whoever began. */
  readonly hands: readonly Hands[];
  /** Parts that were in work when a helper went: product has been on each since then, whoever finishes it (P0). */
  readonly leftInWork: readonly { readonly part: number; readonly sinceAt: EpochMs }[];
  readonly tests: readonly StrandTest[];
  /** What was last said of heat on the hair; null: it was never spoken of (E10). */
  readonly heat: Heat | null;
  /** Heat was on at some time of this pass. */
  readonly heated: boolean;
  readonly limits: LimitsChange | null;
  /** End of application, F. */
  readonly applied: Mark | null;
  /** Water that is on or was on last, and the first ever for this product: the one its window is judged by. */
  readonly water: Water | null;
  readonly firstWater: Water | null;
  /** Water ran clear and the product is off. */
  readonly clear: Mark | null;
  readonly shampoos: readonly Shampoo[];
  /** Last touch of a neutralizer, its own water, its own end; rods out. */
  readonly neutralizerOn: Mark | null;
  readonly neutralizerWater: Water | null;
  readonly rodsOut: Mark | null;
  /** A correction moved the close later by over two minutes (X1); stands until the rinse. */
  readonly closeBought: boolean;
}

/** A step that was skipped or cut short; a reason is owed at the till (S4). */
export const owedItems = [
  'begin-unknown',
  'product-unknown',
  'not-marked',
  'rinse-short',
  'shampoos-short',
  'dwell-short',
  'proof-missing',
  'neutralizer-not-timed',
  'rods-not-marked',
] as const;
export type OwedItem = (typeof owedItems)[number];

export const owedReasons = [
  'done-not-marked',
  'client-asked',
  'skin-reaction',
  'equipment',
  'directions-changed',
  'other',
] as const;
export type OwedReason = (typeof owedReasons)[number];

export interface Owed {
  /** The version at which it became owed, with its item the identity. */
  readonly version: number;
  readonly item: OwedItem;
  readonly stage: Stage;
  readonly pass: number;
  readonly reason: OwedReason | null;
}

export type BurnsPlace = 'skin' | 'eye';
export const burnsEnds = ['eased', 'advice-sought', 'physician', 'emergency'] as const;
export type BurnsEnd = (typeof burnsEnds)[number];

export interface Burns {
  readonly place: BurnsPlace;
  readonly at: EpochMs;
  readonly by: PersonId | null;
  /** From here the count runs up (S6); null until water is on. */
  readonly waterAt: EpochMs | null;
  readonly closed: (Mark & { readonly done: BurnsEnd }) | null;
}

/** What came of it when a client said that it itches or tingles (S6). */
export const tinglesAnswers = ['eased', 'mistaken', 'to-water', 'burns'] as const;
export type TinglesAnswer = (typeof tinglesAnswers)[number];

export interface Tingles {
  readonly at: EpochMs;
  readonly by: PersonId | null;
  readonly answered: (Mark & { readonly answer: TinglesAnswer }) | null;
}

/** The last thing that somebody did at a head; nobody knows whose hands it was where `by` is null. */
export interface Act {
  readonly by: PersonId | null;
  readonly at: EpochMs;
}

/** One entry of a visit's way: when it came to a stage, and whether somebody marked that. */
export interface StageMark extends Mark {
  readonly stage: Stage;
  readonly pass: number;
}

/** How a visit ended, if it has. */
export const visitEnds = [
  'done',
  'next-seated',
  'abandoned',
  'abandoned-with-product',
  'discarded',
  'unattended',
] as const;
export type VisitEnd = (typeof visitEnds)[number];

/** One client's stay as facts: what screens get. What follows from them every screen computes itself. */
export interface VisitFacts {
  readonly id: VisitId;
  /** Number of events in this visit's stream; commands carry the one their sender saw (S7). */
  readonly version: number;
  readonly chair: PlaceNumber;
  readonly service: ServiceId | null;
  readonly stylist: PersonId | null;
  readonly seatedAt: EpochMs;
  readonly stage: Stage;
  readonly pass: number;
  readonly passes: readonly Pass[];
  readonly limits: readonly StageLimit[];
  readonly way: readonly StageMark[];
  readonly owed: readonly Owed[];
  readonly burns: Burns | null;
  readonly bells: readonly Bell[];
  /** Last episode per cause, so that the next one counts on (R2). */
  readonly episodes: readonly { readonly cause: BellCause; readonly episode: number }[];
  /** What the take-back bar would undo; null when nothing can be. */
  readonly lastMove: LastMove | null;
  readonly end: VisitEnd | null;
  /** Prep was said to be complete, and nobody has said "not yet" since (bell `begun?`). */
  readonly prepared: Mark | null;
  /** Somebody saw to a client who left with product on (X4). */
  readonly settled: Mark | null;
  /** When somebody last said that the client is still there (T4). */
  readonly attendedAt: EpochMs | null;
  /** Since when nobody knows how much time has passed at this head (T3); null while the time is certain. */
  readonly timeLostAt: EpochMs | null;
  /** Who did something at this head, and when last; what is older than R3 asks for falls off. */
  readonly acts: readonly Act[];
  readonly tingles: Tingles | null;
  /** This head has been offered to somebody who has not answered yet. */
  readonly offered: (Mark & { readonly to: PersonId }) | null;
}

export interface LastMove {
  readonly type: string;
  readonly at: EpochMs;
  readonly recordedAt: EpochMs;
  readonly by: PersonId | null;
  readonly version: number;
}

/** The running pass; null when nothing is known of the product. */
export function currentPass(visit: VisitFacts): Pass | null {
  return visit.passes[visit.pass] ?? null;
}

/** Whether product is on this head: begun (or begin unknown) and not yet seen off. */
export function productOn(visit: VisitFacts): boolean {
  if (visit.stage === 'finished') return false;
  return visit.passes.some((pass) => (pass.begun !== null || pass.beginUnknown) && pass.clear === null);
}

/** The moment the visit came to its present stage. */
export function stageBegan(visit: VisitFacts): EpochMs {
  const last = visit.way[visit.way.length - 1];
  return last === undefined ? visit.seatedAt : last.at;
}

/** How long the salon allows the present stage before `long-stage`; null when no limit is set. */
export function stageLimit(visit: VisitFacts): Ms | null {
  return visit.limits.find((limit) => limit.stage === visit.stage)?.limitMs ?? null;
}
