import { alreadyDone, done, doesNotFit, onVisit, refuse, type Decision, type Setting } from '../../decision.ts';
import type { Visit } from '../history.ts';
import type { VisitCommand } from './command.ts';

/** Hands a head over: it stays whose it is until the other has accepted, and until then both are asked. */
export function offerHead(
  setting: Setting,
  { facts }: Visit,
  { to }: Extract<VisitCommand, { type: 'OfferHead' }>,
): Decision {
  const person = setting.floor.people[to];
  if (person === undefined || person.retired) return refuse('unknown-person', { field: 'to' });
  const { id, stylist, offered } = facts;
  if (stylist === to) return alreadyDone(id, { at: facts.seatedAt, by: to }, 'StylistNamed');
  if (offered?.to === to) return alreadyDone(id, offered, 'HeadOffered');
  return done(id, [onVisit(setting, id, { type: 'HeadOffered', to })]);
}

/** Accepted by whom it was offered to; declined by them, or taken back by anybody. */
export function answerOffer(
  setting: Setting,
  visit: Visit,
  { accept }: Extract<VisitCommand, { type: 'AnswerOffer' }>,
): Decision {
  const { id, offered, stylist } = visit.facts;
  const { by } = setting.sender;
  if (offered === null) {
    if (accept && by !== null && stylist === by) return alreadyDone(id, { at: setting.now, by }, 'OfferAnswered');
    return doesNotFit(setting, visit);
  }
  if (accept && by === null) return refuse('person-needed', { visit: id });
  if (accept && by !== offered.to) return refuse('not-allowed', { visit: id });
  return done(id, [onVisit(setting, id, { type: 'OfferAnswered', accepted: accept })]);
}
