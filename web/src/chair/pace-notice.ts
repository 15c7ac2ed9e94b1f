import { expectedFinish, latestFinish } from '../../../core/exposure/window.ts';
import type { EpochMs, Ms } from '../../../core/time.ts';
import type { HeadlineContext } from '../../../core/visit/headline.ts';
import { currentPass, type VisitFacts } from '../../../core/visit/visit.ts';

/** Why the pace bell rings: when all of it will be on, and until when it should be (P2, P3, P4). */
export interface PaceNotice {
  readonly expectedAt: EpochMs;
  readonly latestAt: EpochMs;
  /** Not positive: near enough still to ring (P4). */
  readonly lateMs: Ms;
}

/** Null unless the pace bell stands. */
export function paceNotice(visit: VisitFacts, { now, figures }: HeadlineContext): PaceNotice | null {
  const pass = currentPass(visit);
  if (pass === null || !visit.bells.some((bell) => bell.cause === 'pace')) return null;
  const expectedAt = expectedFinish(pass, now);
  const latestAt = latestFinish(pass, figures);
  return expectedAt === null || latestAt === null ? null : { expectedAt, latestAt, lateMs: expectedAt - latestAt };
}
