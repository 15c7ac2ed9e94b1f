import { alreadyDone, doesNotFit, done, onVisit, refuse, type Decision, type Setting } from '../../decision.ts';
import type { ServiceId } from '../../ids.ts';
import type { VisitEvent } from '../events.ts';
import type { Visit } from '../history.ts';
import { owedOnLeaving, skipped } from '../stages/leaving.ts';
import { productOn } from '../visit.ts';
import type { VisitCommand } from './command.ts';
import { seatNew } from './seat-visit.ts';
import { chairInUse, isDecision, planOf, tooLateToFold, visitFor } from './visit-lookup.ts';

type BeginApplication = Extract<VisitCommand, { type: 'BeginApplication' }>;

/** First touch of product. At an empty chair it seats a visit in the same touch (S9). */
export function beginApplication(setting: Setting, command: BeginApplication): Decision {
  const { floor } = setting;
  const noChair = chairInUse(floor, command.chair);
  if (noChair !== null) return noChair;
  if (command.visit !== null && floor.visits[command.visit] === undefined)
    return refuse('unknown-visit', { visit: command.visit });
  const visit = visitFor(floor, command.chair, command.visit);
  if (visit === null || (command.visit === null && isOver(visit))) return beginAfresh(setting, command);
  const late = tooLateToFold(setting, visit, command.type);
  return late ?? beginOn(setting, visit, command.service);
}

/** The last product is off: Begin that names no visit is for the next client. A pass still to come is begun first (S10). */
function isOver({ facts }: Visit): boolean {
  return facts.stage !== 'prep' && !productOn(facts) && facts.passes[facts.pass + 1] === undefined;
}

function beginAfresh(setting: Setting, command: BeginApplication): Decision {
  const service = command.service ?? setting.floor.salon.usualService;
  if (service === null) return refuse('service-needed', { place: command.chair });
  const seating = seatNew(setting, { chair: command.chair, service, stylist: setting.sender.by, label: null });
  if (seating.answer.outcome === 'refused') return seating;
  const begun = onVisit(setting, setting.sender.id, { type: 'ApplicationBegun', pass: 0, owed: [] });
  return { ...seating, events: [...seating.events, begun] };
}

function beginOn(setting: Setting, visit: Visit, wanted: ServiceId | null): Decision {
  const { facts } = visit;
  const { id } = facts;
  const pass = facts.passes[facts.pass];
  if (facts.stage === 'prep') {
    const events: VisitEvent[] = [];
    const service = wanted ?? (facts.service === null ? setting.floor.salon.usualService : null);
    if (service === null && facts.service === null) return refuse('service-needed', { visit: id });
    if (service !== null && service !== facts.service && facts.pass === 0) {
      const plan = planOf(setting.floor, service);
      if (isDecision(plan)) return plan;
      events.push({ type: 'ServiceChosen', service, passes: plan.passes, limits: plan.limits });
    }
    events.push({ type: 'ApplicationBegun', pass: facts.pass, owed: [] });
    return done(
      id,
      events.map((event) => onVisit(setting, id, event)),
    );
  }
  const next = facts.pass + 1;
  const nextPass = facts.passes[next];
  if (nextPass !== undefined && pass !== undefined && pass.clear !== null) {
    const owed = [...owedOnLeaving(facts, setting.at), ...skipped(facts, { stage: 'prep', pass: next })];
    return done(id, [onVisit(setting, id, { type: 'ApplicationBegun', pass: next, owed })]);
  }
  if (pass !== undefined && pass.begun !== null && facts.stage === 'apply')
    return alreadyDone(id, pass.begun, 'ApplicationBegun');
  return doesNotFit(setting, visit);
}
