import { doesNotFit, done, onVisit, refuse, alreadyDone, type Decision, type Setting } from '../../decision.ts';
import { owedOnLeaving } from '../stages/leaving.ts';
import { productOn } from '../visit.ts';
import type { VisitCommand } from './command.ts';
import { chairInUse, visitFor, type OnOpenVisit } from './visit-lookup.ts';

/** To another chair, with everything that runs (X4). */
export const moveTo: OnOpenVisit<'MoveTo'> = (setting, visit, command) => {
  const { facts } = visit;
  const noChair = chairInUse(setting.floor, command.chair);
  if (noChair !== null) return noChair;
  const there = visitFor(setting.floor, command.chair, null);
  if (there !== null) return refuse('place-taken', { visit: there.facts.id, place: command.chair });
  return done(facts.id, [onVisit(setting, facts.id, { type: 'MovedTo', chair: command.chair })]);
};

/** The client leaves before the end; with product on that is recorded and rung (X4). */
export const abandon: OnOpenVisit<'Abandon'> = (setting, visit) => {
  const { facts } = visit;
  const end = productOn(facts) ? 'abandoned-with-product' : 'abandoned';
  return done(facts.id, [
    onVisit(setting, facts.id, { type: 'VisitEnded', end, owed: owedOnLeaving(facts, setting.at) }),
  ]);
};

/** A visit seated by mistake, before any product. */
export const discard: OnOpenVisit<'Discard'> = (setting, visit) => {
  const { facts } = visit;
  if (productOn(facts)) return refuse('product-on', { visit: facts.id, place: facts.chair });
  if (facts.stage !== 'prep' || facts.pass !== 0) return doesNotFit(setting, visit);
  return done(facts.id, [onVisit(setting, facts.id, { type: 'VisitEnded', end: 'discarded', owed: [] })]);
};

/** Somebody saw to a client who left with product on; the visit itself is over. */
export function settleAbandoned(
  setting: Setting,
  command: Extract<VisitCommand, { type: 'SettleAbandoned' }>,
): Decision {
  const visit = setting.floor.visits[command.visit];
  if (visit === undefined) return refuse('unknown-visit', { visit: command.visit });
  if (visit.facts.end !== 'abandoned-with-product') return doesNotFit(setting, visit);
  if (visit.facts.settled !== null) return alreadyDone(command.visit, visit.facts.settled, 'AbandonedSettled');
  return done(command.visit, [onVisit(setting, command.visit, { type: 'AbandonedSettled' })]);
}
