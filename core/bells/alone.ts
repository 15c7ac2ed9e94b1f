import type { Figures } from '../salon/salon.ts';
import type { EpochMs } from '../time.ts';
import { endBell, ring } from '../visit/evolve-bells.ts';
import type { VisitFacts } from '../visit/visit.ts';
import { stepsOf } from './due.ts';

/**
 * A visit as it stands at `now` if nothing happens: with the bells that have fallen due since it was told, and without those
 * that have ended. What a screen goes by that does not hear the server (R10): each bell has the identity that the server will give
 * it, so that the server's own is the same bell. The very same object when no bell changes.
 */
export function withBellsDue(facts: VisitFacts, figures: Figures, now: EpochMs): VisitFacts {
  let next = facts;
  for (const step of stepsOf({ facts, history: [] }, figures, now)) {
    next = step.do === 'end' ? endBell(next, step.cause) : ring(next, step, Math.max(step.dueAt, facts.seatedAt));
  }
  return next;
}
