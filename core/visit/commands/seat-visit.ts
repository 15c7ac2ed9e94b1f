import { done, onVisit, refuse, type Decision, type Setting } from '../../decision.ts';
import type { Draft, WordChange } from '../../events.ts';
import type { PersonId, PlaceNumber, ServiceId } from '../../ids.ts';
import { wordKey } from '../../words.ts';
import { owedOnLeaving, skipped } from '../stages/leaving.ts';
import { isUnattended } from '../unattended.ts';
import { productOn, type VisitFacts } from '../visit.ts';
import type { VisitCommand } from './command.ts';
import { chairInUse, isDecision, planOf, unknownProduct, visitFor } from './visit-lookup.ts';

interface Seating {
  readonly chair: PlaceNumber;
  readonly service: ServiceId | null;
  readonly stylist: PersonId | null;
  readonly label: string | null;
}

/** Seats the next client; the visit before is finished, its open steps not marked, unless product is on it (S9). */
export function seatVisit(setting: Setting, command: Extract<VisitCommand, { type: 'SeatVisit' }>): Decision {
  const noChair = chairInUse(setting.floor, command.chair);
  if (noChair !== null) return noChair;
  const stylist = command.stylist === null ? null : setting.floor.people[command.stylist];
  if (stylist === undefined || stylist?.retired === true) return refuse('unknown-person');
  return seatNew(setting, command);
}

/** The new visit carries the command's id. */
export function seatNew(setting: Setting, seating: Seating): Decision {
  const id = setting.sender.id;
  const before = visitFor(setting.floor, seating.chair, null);
  // Nobody is under a product that was left for hours (T4).
  const left = before !== null && isUnattended(before.facts, setting.now);
  if (before !== null && productOn(before.facts) && !left) {
    return refuse('product-on', { visit: before.facts.id, place: seating.chair });
  }
  const plan = seating.service === null ? unknownProduct : planOf(setting.floor, seating.service);
  if (isDecision(plan)) return plan;
  const events: Draft[] = before === null ? [] : [endedBy(setting, before.facts, left ? 'unattended' : 'next-seated')];
  events.push(
    onVisit(setting, id, {
      type: 'VisitSeated',
      chair: seating.chair,
      service: plan.service,
      stylist: seating.stylist,
      passes: plan.passes,
      limits: plan.limits,
      after: before?.facts.id ?? null,
    }),
  );
  const words: WordChange[] = seating.label === null ? [] : [{ key: wordKey.visit(id), text: seating.label }];
  return done(id, events, words);
}

/** Ends a visit where it stands; what it still wanted is owed. */
export function endedBy(setting: Setting, visit: VisitFacts, end: 'next-seated' | 'done' | 'unattended'): Draft {
  const never = visit.stage === 'prep' && visit.pass === 0;
  const owed = never
    ? []
    : [...owedOnLeaving(visit, setting.at), ...skipped(visit, { stage: 'finished', pass: visit.passes.length - 1 })];
  return onVisit(setting, visit.id, { type: 'VisitEnded', end, owed });
}
