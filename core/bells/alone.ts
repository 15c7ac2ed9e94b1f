import type { Figures } from '../salon/salon.ts';
import type { EpochMs } from '../time.ts';
import { endBell, ring, widen } from '../visit/evolve-bells.ts';
import type { VisitFacts } from '../visit/visit.ts';
import type { People } from './circles.ts';
import { stepsOf } from './due.ts';

/**
 * A visit as it stands at `now` if nothing happens: with the bells that have fallen due since it was told, carried as far as
 * nobody answering carries them, and without those that have ended. What a screen goes by that does not hear the server (R10):
 * each bell has the identity that the server will give it, so that the server's own is the same bell. Who has been shown
 * what, and who is free to help, no screen knows. The very same object when no bell changes.
 */
export function withBellsDue(facts: VisitFacts, figures: Figures, now: EpochMs, people: People): VisitFacts {
  let next = facts;
  const rungAt = (dueAt: EpochMs): EpochMs => Math.max(dueAt, facts.seatedAt);
  const around = { people, reach: null, helper: () => null, rungAt };
  for (const step of stepsOf({ facts, history: [] }, figures, now, around)) {
    if (step.do === 'end') next = endBell(next, step.cause);
    else if (step.do === 'ring') next = ring(next, step, rungAt(step.dueAt));
    else if (step.do === 'widen') next = widen(next, step.cause, step.circle, now);
  }
  return next;
}
