import { takenFor } from '../../bells/bell.ts';
import { alreadyDone, done, onStream, onVisit, refuse, type Decision, type Setting } from '../../decision.ts';
import type { VisitCommand } from './command.ts';

/** "I'll go": quiet for a while, never hidden (R3). Somebody else may take it over. */
export function takeBell(setting: Setting, command: Extract<VisitCommand, { type: 'TakeBell' }>): Decision {
  const { by } = setting.sender;
  if (by === null) return refuse('person-needed', { visit: command.visit });
  const visit = command.visit === null ? null : setting.floor.visits[command.visit];
  if (visit === undefined) return refuse('unknown-visit', { visit: command.visit });
  const bells = visit === null ? setting.floor.floorBells.bells : visit.facts.bells;
  const bell = bells.find((one) => one.cause === command.cause);
  if (bell === undefined) return refuse('bell-gone', { visit: command.visit });
  const { taken } = bell;
  if (taken !== null && taken.by === by && setting.now < taken.at + takenFor[bell.level] && taken.at >= bell.levelAt) {
    return alreadyDone(command.visit, taken, 'BellTaken');
  }
  if (visit === null) return done(null, [onStream(setting, 'salon', { type: 'FloorBellTaken', cause: command.cause })]);
  return done(visit.facts.id, [onVisit(setting, visit.facts.id, { type: 'BellTaken', cause: command.cause })]);
}
