import type { VisitCommand } from '../../../core/visit/commands/command.ts';
import { moveOnTargets, type MoveOnTarget } from '../../../core/visit/commands/command.ts';
import { indexOnWay, itinerary } from '../../../core/visit/stages/stage.ts';
import { productOn, type VisitFacts } from '../../../core/visit/visit.ts';

export type LaterStep =
  | { readonly to: MoveOnTarget; readonly command: Extract<VisitCommand, { type: 'MoveOn' }> }
  /** Product is off already, though nobody marked the water. */
  | { readonly to: 'off'; readonly command: Extract<VisitCommand, { type: 'ClearAndOff' }> };

function isTarget(stage: string): stage is MoveOnTarget {
  return (moveOnTargets as readonly string[]).includes(stage);
}

/**
 * Steps further on than the next one, each reached in one touch; what is skipped is recorded as not marked and a
 * reason is owed (S4). With product on the only way on is water, or saying that it is off.
 */
export function laterSteps(visit: VisitFacts): readonly LaterStep[] {
  const burning = visit.burns !== null && visit.burns.closed === null;
  if (burning || visit.stage === 'finished') return [];
  if (visit.stage === 'apply' || visit.stage === 'process') {
    return productOn(visit) ? [{ to: 'off', command: { type: 'ClearAndOff', visit: visit.id } }] : [];
  }
  // Nothing has been done yet: the client leaves, or was seated by mistake, and both have a button of their own.
  if (visit.stage === 'prep') return [];
  const way = itinerary(visit.passes);
  const ahead = way.slice(indexOnWay(way, visit) + 2).filter(({ pass }) => pass === visit.pass);
  return ahead
    .map(({ stage }) => stage)
    .filter(isTarget)
    .filter((stage) => stage !== 'finished' || !productOn(visit))
    .map((stage) => step(visit, stage));
}

function step(visit: VisitFacts, to: MoveOnTarget): LaterStep {
  return { to, command: { type: 'MoveOn', visit: visit.id, to } };
}
