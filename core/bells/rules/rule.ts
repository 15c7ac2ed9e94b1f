import type { Figures } from '../../salon/salon.ts';
import type { EpochMs } from '../../time.ts';
import type { VisitFacts } from '../../visit/visit.ts';
import type { BellCause, BellKind } from '../bell.ts';
import type { BellLevel } from '../level.ts';

/** A row of the table of bells: from which instant it is due, and at what level (R2). Pure. */
export interface BellRule {
  readonly cause: BellCause;
  readonly kind: BellKind;
  readonly level: (visit: VisitFacts) => BellLevel;
  /** The instant from which it stands as things are now (T7: from now ≥ it); null: not at all. */
  readonly from: (visit: VisitFacts, figures: Figures) => EpochMs | null;
}
