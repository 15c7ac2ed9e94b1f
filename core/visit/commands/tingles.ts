import { alreadyDone, done, doesNotFit, onVisit, type Decision, type Setting } from '../../decision.ts';
import type { Visit } from '../history.ts';
import type { VisitCommand } from './command.ts';

/** It itches or tingles: somebody is to look at it (S6). The stage changes only by a touch that says so. */
export function reportTingles(setting: Setting, { facts }: Visit): Decision {
  const { tingles, id } = facts;
  if (tingles !== null && tingles.answered === null) return alreadyDone(id, tingles, 'TinglesReported');
  return done(id, [onVisit(setting, id, { type: 'TinglesReported' })]);
}

/** Somebody has looked at it; water on and burns answer it too. */
export function answerTingles(
  setting: Setting,
  visit: Visit,
  { answer }: Extract<VisitCommand, { type: 'AnswerTingles' }>,
): Decision {
  const { tingles, id } = visit.facts;
  if (tingles === null) return doesNotFit(setting, visit);
  if (tingles.answered !== null) return alreadyDone(id, tingles.answered, 'TinglesAnswered');
  return done(id, [onVisit(setting, id, { type: 'TinglesAnswered', answer })]);
}
