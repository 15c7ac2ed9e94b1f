import type { VisitFacts } from '../../../core/visit/visit.ts';

/** Visits that still owe a reason, the oldest first; how many reasons that makes. */
export function owing(visits: readonly VisitFacts[]): {
  readonly visits: readonly VisitFacts[];
  readonly count: number;
} {
  const open = (visit: VisitFacts): number => visit.owed.filter((one) => one.reason === null).length;
  const list = visits.filter((visit) => open(visit) > 0 && reasonsAsked(visit));
  return {
    visits: [...list].sort((a, b) => a.seatedAt - b.seatedAt),
    count: list.reduce((sum, visit) => sum + open(visit), 0),
  };
}

/** Never while hands are busy: from drying on (S4: at the till). */
function reasonsAsked(visit: VisitFacts): boolean {
  return visit.stage === 'dry' || visit.stage === 'finished';
}
