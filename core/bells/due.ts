import { visitStream, type Draft, type FloorEvent } from '../events.ts';
import type { Floor } from '../floor.ts';
import type { VisitId } from '../ids.ts';
import type { Figures } from '../salon/salon.ts';
import { earliest, type EpochMs } from '../time.ts';
import { nextEpisode, type Ringing } from '../visit/evolve-bells.ts';
import type { Visit } from '../visit/history.ts';
import { isUnattended } from '../visit/unattended.ts';
import type { VisitFacts } from '../visit/visit.ts';
import { bellKinds, type Bell, type BellCause, type BellEnd, type BellKind } from './bell.ts';
import { rankOf, type BellLevel } from './level.ts';
import { floorCauses, visitRules, type FloorCause, type VisitCause } from './rules/registry.ts';
import type { BellRule } from './rules/rule.ts';

/** Whose bell: a visit or the floor. */
export type Subject = VisitId | 'floor';

/** What is to be done about one bell now, and why (R1, R9). */
export type BellStep =
  | {
      readonly do: 'ring';
      readonly subject: Subject;
      readonly cause: BellCause;
      readonly kind: BellKind;
      readonly level: BellLevel;
      readonly episode: number;
      readonly dueAt: EpochMs;
      readonly why: 'begins' | 'replaces';
    }
  | {
      readonly do: 'end';
      readonly subject: Subject;
      readonly cause: BellCause;
      readonly episode: number;
      readonly why: BellEnd;
    };

interface Due {
  readonly kind: BellKind;
  readonly level: BellLevel;
  readonly dueAt: EpochMs;
}

/** All that is to be done about bells at `now`: pure, and nothing when asked again after it was done. */
export function bellsDue(floor: Floor, now: EpochMs, unsavedSince: EpochMs | null): BellStep[] {
  const steps: BellStep[] = [];
  for (const visit of Object.values(floor.visits)) {
    steps.push(...stepsOf(visit, floor.salon.figures, now));
  }
  for (const cause of floorCauses) {
    const since = sinceOf(floor, cause, unsavedSince);
    const due: Due | null = since === null ? null : { kind: cause, level: 'WARNING', dueAt: since };
    const step = decideOne(floor.floorBells, 'floor', cause, due, () => 'cleared');
    if (step !== null) steps.push(step);
  }
  return steps;
}

/** The same for one visit. */
export function stepsOf(visit: Visit, figures: Figures, now: EpochMs): BellStep[] {
  const steps: BellStep[] = [];
  for (const cause of Object.keys(visitRules) as VisitCause[]) {
    const due = dueOf(visit.facts, cause, figures, now);
    const step = decideOne(visit.facts, visit.facts.id, cause, due, () => endReason(visit, cause));
    if (step !== null) steps.push(step);
  }
  return steps;
}

/** The next instant after `now` at which a bell falls due if nothing happens; null when none will (T7). */
export function nextBellAt(floor: Floor, now: EpochMs): EpochMs | null {
  let next: EpochMs | null = null;
  for (const { facts } of Object.values(floor.visits))
    next = earliest(next, nextBellOf(facts, floor.salon.figures, now));
  return next;
}

/** The same for one visit; what a screen without a server goes by. */
export function nextBellOf(facts: VisitFacts, figures: Figures, now: EpochMs): EpochMs | null {
  let next: EpochMs | null = null;
  for (const rules of Object.values(visitRules)) {
    for (const rule of rules) {
      const from = rule.from(facts, figures);
      if (from !== null && from > now) next = earliest(next, from);
    }
  }
  return next;
}

/** Causes that an unattended head still rings for (T4). */
const heardUnattended: readonly VisitCause[] = ['unattended', 'burns', 'abandoned'];

/** The last row of a cause that is due (T7: from now ≥ its instant). */
function dueOf(facts: VisitFacts, cause: VisitCause, figures: Figures, now: EpochMs): Due | null {
  if (isUnattended(facts, now) && !heardUnattended.includes(cause)) return null;
  let due: Due | null = null;
  for (const rule of visitRules[cause] as readonly BellRule[]) {
    const from = rule.from(facts, figures);
    if (from !== null && now >= from) due = { kind: rule.kind, level: rule.level(facts), dueAt: from };
  }
  return due;
}

function sinceOf(floor: Floor, cause: FloorCause, unsavedSince: EpochMs | null): EpochMs | null {
  switch (cause) {
    case 'time-uncertain':
      return floor.salon.uncertainSince;
    case 'not-saved':
      return unsavedSince;
    default:
      return cause satisfies never;
  }
}

function decideOne(
  subject: Ringing,
  name: Subject,
  cause: BellCause,
  due: Due | null,
  why: () => BellEnd,
): BellStep | null {
  const standing = subject.bells.find((bell) => bell.cause === cause);
  if (due === null)
    return standing === undefined ? null : { do: 'end', subject: name, cause, episode: standing.episode, why: why() };
  if (standing === undefined)
    return { do: 'ring', subject: name, cause, ...due, episode: nextEpisode(subject, cause), why: 'begins' };
  if (!goesHigher(due, standing)) return null;
  return { do: 'ring', subject: name, cause, ...due, episode: standing.episode, why: 'replaces' };
}

/** A later row replaces an earlier; within a cause the level never falls (R2). */
function goesHigher(due: Due, standing: Bell): boolean {
  const level = rankOf(due.level) - rankOf(standing.level);
  return level > 0 || (level === 0 && bellKinds.indexOf(due.kind) > bellKinds.indexOf(standing.kind));
}

/** Why a bell of a visit no longer stands: what happened last at the head says it (R9, X3). */
function endReason(visit: Visit, cause: BellCause): BellEnd {
  const last = visit.history[visit.history.length - 1];
  const standing = visit.facts.bells.find((bell) => bell.cause === cause);
  if (last === undefined || standing === undefined) return 'cleared';
  if (last.event.type === 'TimeCorrected') return 'corrected';
  if (last.event.type === 'MoveTakenBack') return 'taken-back';
  if (last.at < standing.dueAt) return 'had-happened';
  if (visit.facts.stage === 'finished' && cause !== 'abandoned') return 'visit-ended';
  return 'deed-done';
}

/** The events that record steps of bells, happening at `now`. */
export function bellDrafts(steps: readonly BellStep[], now: EpochMs): Draft[] {
  return steps.map((step) => {
    const onFloor = step.subject === 'floor';
    return { stream: onFloor ? 'salon' : visitStream(step.subject), at: now, event: eventOf(step, onFloor) };
  });
}

function eventOf(step: BellStep, onFloor: boolean): FloorEvent {
  if (step.do === 'end') {
    return { type: onFloor ? 'FloorBellEnded' : 'BellEnded', cause: step.cause, episode: step.episode, why: step.why };
  }
  const { cause, kind, level, episode, dueAt } = step;
  const rung = { cause, kind, level, episode, dueAt };
  return onFloor ? { type: 'FloorBellRung', ...rung } : { type: 'BellRung', ...rung };
}
