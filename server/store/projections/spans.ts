import type { PersonId, PlaceNumber, VisitId } from '../../../core/ids.ts';
import type { EpochMs } from '../../../core/time.ts';
import type { Visit } from '../../../core/visit/history.ts';
import type { Stage } from '../../../core/visit/stages/stage.ts';

/** A stretch of a visit in one stage at one place. */
export interface SpanRow {
  readonly visit: VisitId;
  /** Counts from 0 along the visit. */
  readonly n: number;
  readonly stage: Stage;
  readonly pass: number;
  /** The chair that the visit holds, also while the head is at a basin. */
  readonly chair: PlaceNumber;
  /** The basin at which the head lies; null away from it, or when nobody said which. */
  readonly basin: PlaceNumber | null;
  readonly fromAt: EpochMs;
  /** Null while it lasts. */
  readonly toAt: EpochMs | null;
  /** Who brought the visit to the stage. */
  readonly by: PersonId | null;
}

interface Change<T> {
  readonly at: EpochMs;
  readonly to: T;
}

/** The head stays at its basin through the finishing steps done there (B1). */
const atBasin: readonly Stage[] = ['rinse', 'neutralize', 'condition'];

/**
 * A later word wins: a change said to lie before an earlier one cuts that one short, so that no span is negative
 * (water on is folded in at its own time, X3).
 */
function inTime<T>(changes: readonly Change<T>[]): Change<T>[] {
  let next = Number.POSITIVE_INFINITY;
  return [...changes]
    .reverse()
    .map(({ at, to }) => {
      next = Math.min(next, at);
      return { at: next, to };
    })
    .reverse();
}

function valueAt<T>(changes: readonly Change<T>[], at: EpochMs): T | null {
  let value: T | null = null;
  for (const change of changes) if (change.at <= at) value = change.to;
  return value;
}

function chairsOf({ facts, history }: Visit): Change<PlaceNumber>[] {
  const chairs: Change<PlaceNumber>[] = [];
  for (const { event, at } of history) {
    if (event.type === 'VisitSeated' || event.type === 'MovedTo') chairs.push({ at, to: event.chair });
  }
  return chairs.length === 0 ? [{ at: facts.seatedAt, to: facts.chair }] : inTime(chairs);
}

/** Basins by the time their water came on; a basin named later holds from then on back (the water's whole time). */
function basinsOf({ history }: Visit): Change<PlaceNumber | null>[] {
  const basins: Change<PlaceNumber | null>[] = [];
  for (const { event, at } of history) {
    if (event.type === 'RinseBegun') basins.push({ at, to: event.basin });
    const last = basins[basins.length - 1];
    if (event.type === 'BasinNamed' && last !== undefined) basins[basins.length - 1] = { at: last.at, to: event.basin };
  }
  return inTime(basins);
}

/** The visit's stages in order, cut where the place changed; from its effective history, so corrections count. */
export function spansOf(visit: Visit): SpanRow[] {
  const way = inTime(visit.facts.way.map((mark) => ({ at: mark.at, to: mark })));
  const chairs = chairsOf(visit);
  const basins = basinsOf(visit);
  const rows: SpanRow[] = [];
  way.forEach(({ at: fromAt, to: mark }, i) => {
    if (mark.stage === 'finished') return;
    const toAt = way[i + 1]?.at ?? null;
    const wet = atBasin.includes(mark.stage);
    const cuts = [...chairs, ...(wet ? basins : [])].map((change) => change.at);
    const inside = cuts.filter((at) => at > fromAt && (toAt === null || at < toAt)).sort((a, b) => a - b);
    const starts = [...new Set([fromAt, ...inside])];
    starts.forEach((start, k) => {
      rows.push({
        visit: visit.facts.id,
        n: rows.length,
        stage: mark.stage,
        pass: mark.pass,
        chair: valueAt(chairs, start) ?? visit.facts.chair,
        basin: wet ? valueAt(basins, start) : null,
        fromAt: start,
        toAt: starts[k + 1] ?? toAt,
        by: mark.by,
      });
    });
  });
  return rows;
}
