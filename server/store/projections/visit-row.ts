import type { VisitId } from '../../../core/ids.ts';
import type { EpochMs } from '../../../core/time.ts';
import type { Visit } from '../../../core/visit/history.ts';

/** A visit in one line: what the start goes by, and lists of visits. */
export interface VisitRow {
  readonly id: VisitId;
  readonly version: number;
  readonly chair: number;
  readonly service: string | null;
  readonly stylist: string | null;
  readonly seatedAt: EpochMs;
  readonly stage: string;
  readonly pass: number;
  readonly endedAt: EpochMs | null;
  readonly endedHow: string | null;
  /** Reasons still owed, and bells standing. */
  readonly owes: number;
  readonly bells: number;
}

export function visitRow({ facts }: Visit): VisitRow {
  const last = facts.way[facts.way.length - 1];
  return {
    id: facts.id,
    version: facts.version,
    chair: facts.chair,
    service: facts.service,
    stylist: facts.stylist,
    seatedAt: facts.seatedAt,
    stage: facts.stage,
    pass: facts.pass,
    endedAt: facts.stage === 'finished' ? (last?.at ?? facts.seatedAt) : null,
    endedHow: facts.end,
    owes: facts.owed.filter((one) => one.reason === null).length,
    bells: facts.bells.length,
  };
}

/** How long a finished visit is still kept at hand: an hour, with a reason owed a day. As `forget` in core says. */
export const keptFor = { ended: 3_600_000, owing: 24 * 3_600_000 } as const;

/** Whether a start folds the visit; `now` is the last sign of life. */
export function keptAtHand(row: VisitRow, now: EpochMs): boolean {
  if (row.endedAt === null || row.bells > 0) return true;
  return row.endedAt >= now - (row.owes > 0 ? keptFor.owing : keptFor.ended);
}
