import type { BellRow } from './bells.ts';
import type { RinseRow } from './rinses.ts';
import type { SpanRow } from './spans.ts';
import type { VisitRow } from './visit-row.ts';

/** All that is computed from the log, each list in the order of its key. */
export interface Projected {
  readonly visits: readonly VisitRow[];
  readonly spans: readonly SpanRow[];
  readonly rinses: readonly RinseRow[];
  readonly bells: readonly BellRow[];
}
