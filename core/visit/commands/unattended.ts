import { doesNotFit, done, onVisit, refuse, type Decision, type Setting } from '../../decision.ts';
import { wordKey } from '../../words.ts';
import { isUnattended } from '../unattended.ts';
import type { VisitCommand } from './command.ts';
import { endedBy } from './seat-visit.ts';
import type { OnOpenVisit } from './visit-lookup.ts';

/** Still there: the visit goes on. Gone: it ends, its open steps not marked, and is not counted (T4). */
export const answerUnattended: OnOpenVisit<'AnswerUnattended'> = (setting, visit, { there }) => {
  const { id } = visit.facts;
  if (!isUnattended(visit.facts, setting.now)) return doesNotFit(setting, visit);
  if (there) return done(id, [onVisit(setting, id, { type: 'AttendedSaid' })]);
  return done(id, [endedBy(setting, visit.facts, 'unattended')]);
};

/** The label and all notes of one visit go; what was done when stays. */
export function eraseWords(setting: Setting, { visit: id }: Extract<VisitCommand, { type: 'EraseWords' }>): Decision {
  if (setting.floor.visits[id] === undefined) return refuse('unknown-visit', { visit: id });
  const keys = Object.keys(setting.floor.words).filter((key) => key.startsWith(wordKey.aboutVisit(id)));
  const events = [{ ...onVisit(setting, id, { type: 'WordsErased' }), at: setting.now }];
  return done(
    id,
    events,
    keys.map((key) => ({ key, text: null })),
  );
}
