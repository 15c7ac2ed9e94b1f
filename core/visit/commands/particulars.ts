import { alreadyDone, doesNotFit, done, onVisit, refuse, type Decision, type Setting } from '../../decision.ts';
import { wordKey } from '../../words.ts';
import type { VisitCommand } from './command.ts';
import { isDecision, planOf, type OnOpenVisit } from './visit-lookup.ts';

/** Another service, while nothing is on the hair. */
export const chooseService: OnOpenVisit<'ChooseService'> = (setting, visit, command) => {
  const { facts } = visit;
  if (facts.stage !== 'prep' || facts.pass !== 0) return doesNotFit(setting, visit);
  const plan = planOf(setting.floor, command.service);
  if (isDecision(plan)) return plan;
  const { passes, limits } = plan;
  return done(facts.id, [
    onVisit(setting, facts.id, { type: 'ServiceChosen', service: command.service, passes, limits }),
  ]);
};

export const nameStylist: OnOpenVisit<'NameStylist'> = (setting, visit, command) => {
  const { id } = visit.facts;
  const person = command.stylist === null ? null : setting.floor.people[command.stylist];
  if (person === undefined || person?.retired === true) return refuse('unknown-person');
  return done(id, [onVisit(setting, id, { type: 'StylistNamed', stylist: command.stylist })]);
};

/** The short label by which the client is called; a word kept aside. */
export const writeLabel: OnOpenVisit<'WriteLabel'> = (setting, visit, command) => {
  const { id } = visit.facts;
  return done(id, [onVisit(setting, id, { type: 'LabelWritten' })], [{ key: wordKey.visit(id), text: command.label }]);
};

/** Why a step is missing; also after the visit, from the list of what is owed (S4). */
export function giveReason(setting: Setting, command: Extract<VisitCommand, { type: 'GiveReason' }>): Decision {
  const visit = setting.floor.visits[command.visit];
  if (visit === undefined) return refuse('unknown-visit', { visit: command.visit });
  const owed = visit.facts.owed.find((one) => one.version === command.version && one.item === command.item);
  if (owed === undefined) return refuse('unknown-moment', { visit: command.visit });
  if (owed.reason !== null) {
    const entry = visit.history.find(
      ({ event }) => event.type === 'ReasonGiven' && event.version === command.version && event.item === command.item,
    );
    return alreadyDone(command.visit, { at: entry?.at ?? setting.now, by: entry?.by ?? null }, 'ReasonGiven');
  }
  const { version, item, reason } = command;
  const words = command.note === null ? [] : [{ key: wordKey.note(command.visit, version), text: command.note }];
  return done(command.visit, [onVisit(setting, command.visit, { type: 'ReasonGiven', version, item, reason })], words);
}
