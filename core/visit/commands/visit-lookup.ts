import { onVisit, refuse, sinceSeen, statementAfter, type Decision, type Setting } from '../../decision.ts';
import type { Floor } from '../../floor.ts';
import type { PlaceNumber, ServiceId, VisitId } from '../../ids.ts';
import type { EpochMs } from '../../time.ts';
import type { PassPlan, StatedCommand } from '../events.ts';
import type { StageLimit } from '../../directions/directions.ts';
import type { Visit } from '../history.ts';
import type { VisitCommand } from './command.ts';

/** Judges one command about an open visit. */
export type OnOpenVisit<T extends VisitCommand['type']> = (
  setting: Setting,
  visit: Visit,
  command: Extract<VisitCommand, { type: T }>,
) => Decision;

export function isDecision(value: object): value is Decision {
  return 'answer' in value;
}

/** A visit that is known and still open; else the refusal. */
export function openVisit(setting: Setting, id: VisitId): Visit | Decision {
  const visit = setting.floor.visits[id];
  if (visit === undefined) return refuse('unknown-visit', { visit: id });
  if (visit.facts.stage !== 'finished') return visit;
  return refuse('moved-on', {
    visit: id,
    since: sinceSeen({ ...setting, sender: { ...setting.sender, seen: null } }, visit),
  });
}

/** The visit named if it is open, else whoever sits at the chair; null at a free chair. */
export function visitFor(floor: Floor, chair: PlaceNumber, named: VisitId | null): Visit | null {
  const byName = named === null ? undefined : floor.visits[named];
  if (byName !== undefined && byName.facts.stage !== 'finished') return byName;
  return Object.values(floor.visits).find(({ facts }) => facts.chair === chair && facts.stage !== 'finished') ?? null;
}

/** A chair in use; else the refusal. */
export function chairInUse(floor: Floor, chair: PlaceNumber): Decision | null {
  const place = floor.places[chair];
  return place === undefined || place.retired || place.kind !== 'chair'
    ? refuse('unknown-place', { place: chair })
    : null;
}

export function basinInUse(floor: Floor, basin: PlaceNumber): boolean {
  const place = floor.places[basin];
  return place !== undefined && !place.retired && place.kind === 'basin';
}

/** A forgotten part may be marked after others, as long as it lies between first touch and the end of application (X3). */
function forgottenPart({ facts }: Visit, command: StatedCommand, at: EpochMs): boolean {
  const pass = facts.passes[facts.pass];
  if (command !== 'MarkPartDone' || pass === undefined || pass.begun === null || at < pass.begun.at) return false;
  return facts.stage === 'apply' || (facts.stage === 'process' && pass.applied !== null && at <= pass.applied.at);
}

/** The moment that a late word may not precede; the event recorded last may have happened earlier. */
function latestAt({ facts, history }: Visit): EpochMs {
  return history.reduce((latest, entry) => Math.max(latest, entry.at), facts.seatedAt);
}

/**
 * Said later than it can still change the visit: it precedes the visit's latest event or is older than half an hour (X3).
 * Then it is kept as a statement, and a correction is offered; nothing is dropped.
 */
export function tooLateToFold(setting: Setting, visit: Visit, command: StatedCommand): Decision | null {
  if (setting.sender.happenedAt === null) return null;
  const precedes = setting.at < latestAt(visit) && !forgottenPart(visit, command, setting.at);
  if (!precedes && setting.now - setting.at <= statementAfter) return null;
  return stated(setting, visit, command);
}

/** The same of a visit that is over: what a device did while it was away is kept all the same. */
export function saidTooLate(setting: Setting, id: VisitId, command: StatedCommand): Decision | null {
  const visit = setting.floor.visits[id];
  return visit === undefined || setting.sender.happenedAt === null ? null : stated(setting, visit, command);
}

function stated(setting: Setting, visit: Visit, command: StatedCommand): Decision {
  const { id } = visit.facts;
  const moved = refuse('moved-on', { visit: id, since: sinceSeen(setting, visit) });
  return { ...moved, events: [onVisit(setting, id, { type: 'StatementKept', command })] };
}

export interface Plan {
  readonly service: ServiceId | null;
  readonly passes: readonly PassPlan[];
  readonly limits: readonly StageLimit[];
}

/** Nothing is known of the product: one pass without rules (S2). */
export const unknownProduct: Plan = {
  service: null,
  passes: [{ directions: null, version: null, rules: null }],
  limits: [],
};

/** A service's passes with the directions as they are written now; else the refusal. */
export function planOf(floor: Floor, id: ServiceId): Plan | Decision {
  const service = floor.services[id];
  if (service === undefined || service.retired) return refuse('unknown-service');
  const passes: PassPlan[] = [];
  for (const one of service.passes) {
    const directions = floor.directions[one];
    if (directions === undefined) return refuse('unknown-directions');
    passes.push({ directions: directions.id, version: directions.version, rules: directions.rules });
  }
  return { service: id, passes, limits: service.limits };
}
