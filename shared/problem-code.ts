import type { PlaceNumber, VisitId } from '../core/ids.ts';
import type { DoneSince, RuleRefusal } from '../core/refusal.ts';

/** What the edge refuses before the rules are asked. */
export type EdgeProblem =
  | 'invalid-json'
  | 'invalid-body'
  | 'unsupported-media-type'
  | 'too-large'
  | 'not-found'
  | 'method-not-allowed'
  | 'id-reused'
  | 'again'
  | 'foreign-origin'
  | 'loopback-only'
  | 'push-off'
  | 'not-subscribed'
  | 'receipt-unknown'
  | 'receipt-too-old'
  | 'unknown-protocol'
  | 'unknown-event'
  | 'bad-packet'
  | 'failed';

/** The one closed list of reasons for which something is refused. */
export type ProblemCode = RuleRefusal | EdgeProblem;

/** What a sentence is built from; also carried as extensions of the document. */
export interface ProblemDetails {
  readonly visit: VisitId | null;
  /** Version of that visit as it is now. */
  readonly version: number | null;
  readonly revision: number | null;
  /** What others did since the sender looked. */
  readonly since: readonly DoneSince[];
  readonly field: string | null;
  readonly place: PlaceNumber | null;
  /** What the edge has to add in words: what was expected in the field, or which method is allowed. */
  readonly expected: string | null;
}
