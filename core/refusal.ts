import type { PersonId, PlaceNumber, VisitId } from './ids.ts';
import type { EpochMs } from './time.ts';

/** Why the rules refuse a command. A refusal is a value, never thrown. */
export const ruleRefusals = [
  'unknown-visit',
  'unknown-place',
  'unknown-person',
  'unknown-service',
  'unknown-directions',
  'unknown-part',
  'unknown-moment',
  'already-done',
  'moved-on',
  'wrong-stage',
  'product-on',
  'place-taken',
  'number-taken',
  'label-taken',
  'name-taken',
  'service-needed',
  'person-needed',
  'reason-needed',
  'nothing-to-take-back',
  'bell-gone',
  'time-in-future',
  'time-too-old',
  'times-cross',
  'directions-contradict',
  'out-of-range',
  'in-use',
  'not-allowed',
  'against-directions',
  'cover-not-here',
] as const;
export type RuleRefusal = (typeof ruleRefusals)[number];

/** Something others did since the version that the sender had seen (S7). */
export interface DoneSince {
  readonly type: string;
  readonly at: EpochMs;
  readonly by: PersonId | null;
}

export interface Refused {
  readonly outcome: 'refused';
  readonly code: RuleRefusal;
  /** The visit concerned, its version as it is now, and what others did since. */
  readonly visit: VisitId | null;
  readonly since: readonly DoneSince[];
  /** Place concerned, and field of an entry, where that helps. */
  readonly place: PlaceNumber | null;
  readonly field: string | null;
}

export interface Done {
  readonly outcome: 'done';
  /** The visit that the command made or changed. */
  readonly visit: VisitId | null;
}

export type Answer = Done | Refused;
