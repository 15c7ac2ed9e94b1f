import { alreadyDone, done, hadSeen, onVisit, type Decision, type Setting } from '../../decision.ts';
import type { PlaceNumber, VisitId } from '../../ids.ts';
import { neutralizeStep } from '../../exposure/finishing.ts';
import type { OwedNow, VisitEvent } from '../events.ts';
import type { Visit } from '../history.ts';
import { skipped } from '../stages/leaving.ts';
import type { Stage } from '../stages/stage.ts';
import { currentPass, type VisitFacts, type Water } from '../visit.ts';
import type { VisitCommand } from './command.ts';
import { basinInUse, chairInUse, unknownProduct, visitFor } from './visit-lookup.ts';

const beforeRinse: readonly Stage[] = ['prep', 'apply', 'process'];

/** "Water on": accepted at any chair in any stage, with or without a visit (S2). An unknown basin does not hold it up. */
export function beginRinse(setting: Setting, command: Extract<VisitCommand, { type: 'BeginRinse' }>): Decision {
  const over = endedBefore(setting, command.visit);
  const visit = over ?? visitFor(setting.floor, command.chair, command.visit);
  const basin = command.basin !== null && basinInUse(setting.floor, command.basin) ? command.basin : null;
  if (visit === null) {
    const noChair = chairInUse(setting.floor, command.chair);
    return noChair ?? done(setting.sender.id, seatForWater(setting, command.chair, basin));
  }
  const { facts } = visit;
  if (over !== null) return done(facts.id, [onVisit(setting, facts.id, { type: 'RinseBegun', basin, owed: [] })]);
  const latest = latestWater(visit);
  // From rinse on it is a repeat, and only from somebody who knew of the water that is on.
  // A water that was on before the one that is known is folded in all the same, at its own time (X3).
  const before = setting.sender.happenedAt !== null && latest !== null && setting.at < latest.at;
  if (latest !== null && !before && !hadSeen(setting, latest.version))
    return alreadyDone(facts.id, latest, 'RinseBegun');
  return done(facts.id, [onVisit(setting, facts.id, { type: 'RinseBegun', basin, owed: owedFor(visit) })]);
}

/** A visit that is over by now, whose water is told late: it is that client's water, not the next one's (X3). */
function endedBefore({ floor, sender }: Setting, named: VisitId | null): Visit | null {
  const visit = named === null || sender.happenedAt === null ? undefined : floor.visits[named];
  return visit?.facts.stage === 'finished' ? visit : null;
}

function seatForWater(setting: Setting, chair: PlaceNumber, basin: PlaceNumber | null) {
  const id = setting.sender.id;
  const seatedEvent: VisitEvent = {
    type: 'VisitSeated',
    chair,
    stylist: setting.sender.by,
    after: null,
    ...unknownProduct,
  };
  const owed: OwedNow[] = [
    { item: 'begin-unknown', stage: 'apply', pass: 0 },
    { item: 'product-unknown', stage: 'prep', pass: 0 },
  ];
  return [onVisit(setting, id, seatedEvent), onVisit(setting, id, { type: 'RinseBegun', basin, owed })];
}

/** The water that this stage already has; null where water is still wanted. */
function latestWater(visit: Visit): Water | null {
  const { facts } = visit;
  const pass = currentPass(facts);
  if (pass === null || beforeRinse.includes(facts.stage)) return null;
  const neutralizer = facts.stage === 'neutralize' && neutralizeStep(pass)?.kind === 'neutralizer';
  return neutralizer ? pass.neutralizerWater : pass.water;
}

/** Nobody said when, or with what, product went on: asked for once, with the first water (S2). */
function unasked(facts: VisitFacts): OwedNow[] {
  const { pass, owed } = facts;
  const wanted: OwedNow[] = [{ item: 'begin-unknown', stage: 'apply', pass }];
  if (currentPass(facts)?.rules === null) wanted.push({ item: 'product-unknown', stage: 'prep', pass });
  return wanted.filter(({ item }) => !owed.some((one) => one.item === item && one.pass === pass));
}

function owedFor(visit: Visit): OwedNow[] {
  const { facts } = visit;
  if (facts.stage === 'apply') return skipped(facts, { stage: 'rinse', pass: facts.pass });
  const pass = currentPass(facts);
  const neutralizer = facts.stage === 'neutralize' && pass !== null && neutralizeStep(pass)?.kind === 'neutralizer';
  if (neutralizer && pass.neutralizerOn === null)
    return [{ item: 'neutralizer-not-timed', stage: 'neutralize', pass: facts.pass }];
  return pass?.begun === null && !neutralizer ? unasked(facts) : [];
}
