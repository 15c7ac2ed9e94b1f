import { alreadyDone, done, doesNotFit, onVisit, refuse, type Decision, type Setting } from '../../decision.ts';
import type { VisitCommand } from './command.ts';
import { chairInUse, tooLateToFold, unknownProduct, visitFor } from './visit-lookup.ts';

/** Burns or product in the eye: to the water at once, from any stage, with or without a visit (S6). */
export function reportBurns(setting: Setting, command: Extract<VisitCommand, { type: 'ReportBurns' }>): Decision {
  const visit = visitFor(setting.floor, command.chair, command.visit);
  if (visit === null) {
    const noChair = chairInUse(setting.floor, command.chair);
    if (noChair !== null) return noChair;
    const id = setting.sender.id;
    return done(id, [
      onVisit(setting, id, {
        type: 'VisitSeated',
        chair: command.chair,
        stylist: setting.sender.by,
        after: null,
        ...unknownProduct,
      }),
      onVisit(setting, id, { type: 'BurnsReported', place: command.place }),
    ]);
  }
  const { facts } = visit;
  const standing = facts.burns !== null && facts.burns.closed === null ? facts.burns : null;
  if (standing !== null && standing.place === command.place) return alreadyDone(facts.id, standing, 'BurnsReported');
  return done(facts.id, [onVisit(setting, facts.id, { type: 'BurnsReported', place: command.place })]);
}

/** A person says what was done; until then the bell stands and the count runs, also once the client has left. */
export function closeBurns(setting: Setting, command: Extract<VisitCommand, { type: 'CloseBurns' }>): Decision {
  const visit = setting.floor.visits[command.visit];
  if (visit === undefined) return refuse('unknown-visit', { visit: command.visit });
  const late = tooLateToFold(setting, visit, command.type);
  if (late !== null) return late;
  const { burns, id } = visit.facts;
  if (burns === null) return doesNotFit(setting, visit);
  if (burns.closed !== null) return alreadyDone(id, burns.closed, 'BurnsClosed');
  return done(id, [onVisit(setting, id, { type: 'BurnsClosed', done: command.done })]);
}
