import type { Floor } from '../floor.ts';
import type { PersonId } from '../ids.ts';
import type { Figures } from '../salon/salon.ts';
import { earliest, type EpochMs } from '../time.ts';
import { miss, nextEpisode, ring, widen, type Ringing } from '../visit/evolve-bells.ts';
import type { Visit } from '../visit/history.ts';
import { isUnattended } from '../visit/unattended.ts';
import type { VisitFacts } from '../visit/visit.ts';
import { bellKinds, type Bell, type BellCause, type BellEnd, type BellKind } from './bell.ts';
import { carriedOn, nextCarryAt, type Around, type Reach } from './carrying.ts';
import { firstPeopled, type People } from './circles.ts';
import { freeHelper } from './free-helper.ts';
import { rankOf, type BellLevel } from './level.ts';
import type { Outside } from './outside.ts';
import { floorRows } from './rules/floor.ts';
import { chairCause, floorCauses, visitRules, type VisitCause } from './rules/registry.ts';
import type { BellRule } from './rules/rule.ts';
import type { BellStep } from './step.ts';
import { rungAtChair, rungAtVisit, rungOnFloor, type Rung, type Subject } from './subject.ts';
import { whose } from './whose.ts';

export { bellDrafts } from './step.ts';
export type { BellStep } from './step.ts';
export type { Subject } from './subject.ts';

interface Due {
  readonly kind: BellKind;
  readonly level: BellLevel;
  readonly dueAt: EpochMs;
}

/** One bell to be decided about: where it may ring, what is due of it, and what it would mean if it ended. */
interface Question {
  readonly name: Subject;
  readonly cause: BellCause;
  readonly due: Due | null;
  readonly ends: () => BellEnd;
}

/** What surrounds the bells of one subject. */
interface Scene {
  readonly rung: Rung;
  readonly people: People;
  readonly reach: Reach | null;
  readonly helper: () => PersonId | null;
  /** When a bell due at an instant is taken to have rung: now, or at its instant where nothing is recorded. */
  readonly rungAt?: (dueAt: EpochMs) => EpochMs;
}

/** All that is to be done about bells at `now`: pure, and nothing when asked again after it was done (R1). */
export function bellsDue(floor: Floor, now: EpochMs, outside: Outside | null): BellStep[] {
  const { people } = floor;
  const reach = outside?.reach ?? null;
  const steps: BellStep[] = [];
  for (const visit of Object.values(floor.visits)) {
    const helper = (): PersonId | null => freeHelper(floor, visit.facts, now);
    steps.push(...stepsOf(visit, floor.salon.figures, now, { people, reach, helper }));
  }
  for (const place of Object.values(floor.places)) {
    if (place.help === null && place.bells.length === 0) continue;
    const due: Due | null = place.help && { kind: chairCause, level: 'CAUTION', dueAt: place.help.at };
    const scene = { rung: rungAtChair(place), people, reach, helper: () => null };
    steps.push(...decideOne(scene, { name: place.number, cause: chairCause, due, ends: () => 'deed-done' }, now));
  }
  for (const cause of floorCauses) {
    const row = floorRows(floor, cause, outside)
      .filter(({ dueAt }) => now >= dueAt)
      .pop();
    const scene = { rung: rungOnFloor(floor), people, reach, helper: () => null };
    const due: Due | null = row === undefined ? null : { kind: cause, ...row };
    steps.push(...decideOne(scene, { name: 'floor', cause, due, ends: () => 'cleared' }, now));
  }
  return steps;
}

/** The same for one visit. Who helps is picked by whoever knows what everybody did last; a screen by itself does not. */
export function stepsOf(visit: Visit, figures: Figures, now: EpochMs, around: Omit<Scene, 'rung'>): BellStep[] {
  const scene = { rung: rungAtVisit(visit.facts), ...around };
  const steps: BellStep[] = [];
  for (const cause of Object.keys(visitRules) as VisitCause[]) {
    const due = dueOf(visit.facts, cause, figures, now);
    const question = { name: visit.facts.id, cause, due, ends: () => endReason(visit, cause) };
    steps.push(...decideOne(scene, question, now));
  }
  return steps;
}

/** The next instant after `now` at which anything about a bell changes if nothing happens; null when nothing will (T7). */
export function nextBellAt(floor: Floor, now: EpochMs, outside: Outside | null = null): EpochMs | null {
  const { people } = floor;
  const reach = outside?.reach ?? null;
  let next: EpochMs | null = null;
  for (const { facts } of Object.values(floor.visits)) {
    next = earliest(
      next,
      nextBellOf(facts, floor.salon.figures, now),
      nextCarry(rungAtVisit(facts), people, reach, now),
    );
  }
  for (const place of Object.values(floor.places)) {
    if (place.bells.length > 0) next = earliest(next, nextCarry(rungAtChair(place), people, reach, now));
  }
  next = earliest(next, nextCarry(rungOnFloor(floor), people, reach, now));
  for (const cause of floorCauses) {
    for (const { dueAt } of floorRows(floor, cause, outside)) if (dueAt > now) next = earliest(next, dueAt);
  }
  return next;
}

/** The next instant at which a row of the table falls due at a visit. */
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

function nextCarry(rung: Rung, people: People, reach: Reach | null, now: EpochMs): EpochMs | null {
  const around: Around = { ...rung, people, reach };
  return earliest(...rung.ringing.bells.map((bell) => nextCarryAt(bell, around, now)));
}

/** Causes that an unattended head still rings for (T4). */
const heardUnattended: readonly VisitCause[] = ['unattended', 'tingles', 'burns', 'abandoned'];

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

function decideOne(scene: Scene, { name, cause, due, ends }: Question, now: EpochMs): BellStep[] {
  const { ringing } = scene.rung;
  const standing = ringing.bells.find((bell) => bell.cause === cause) ?? null;
  if (due === null) {
    return standing === null ? [] : [{ do: 'end', subject: name, cause, episode: standing.episode, why: ends() }];
  }
  if (standing !== null && !goesHigher(due, standing)) return carry(scene, name, standing, now);
  const episode = standing?.episode ?? nextEpisode(ringing, cause);
  const asked = whoIsAsked(scene, due, standing, now);
  const why = standing === null ? 'begins' : 'replaces';
  const step: BellStep = { do: 'ring', subject: name, cause, ...due, episode, ...asked, why };
  const bell = ring(ringing, step, scene.rungAt?.(due.dueAt) ?? now).bells.find((one) => one.cause === cause);
  return bell === undefined ? [step] : [step, ...carry(scene, name, bell, now)];
}

/** Helper and circle of a bell that begins or comes to a higher row. */
function whoIsAsked({ rung, people, helper }: Scene, due: Due, standing: Bell | null, now: EpochMs) {
  const wanted = whose[due.kind].helper && due.level !== 'NOTICE';
  const asked = standing?.helper ?? null;
  const bell = { ...due, helper: wanted ? (asked ?? helper()) : asked };
  const circle = firstPeopled(bell, standing?.circle ?? 0, rung.owner, people, now);
  return { circle, helper: bell.helper };
}

/** All further steps about who hears a standing bell, until there is none. */
function carry(scene: Scene, subject: Subject, standing: Bell, now: EpochMs): BellStep[] {
  const { rung, people, reach } = scene;
  const steps: BellStep[] = [];
  let ringing: Ringing = { bells: [standing], episodes: [] };
  for (let bell: Bell = standing; ; bell = ringing.bells[0] ?? bell) {
    const next = carriedOn(bell, { ...rung, people, reach }, now);
    if (next === null) return steps;
    const { cause, episode, level } = bell;
    if (next.do === 'widen') {
      steps.push({ ...next, subject, cause, episode });
      ringing = widen(ringing, cause, next.circle, now);
    } else {
      steps.push({ ...next, subject, cause, episode, level, why: 'not-shown' });
      ringing = miss(ringing, { cause, episode, level, person: next.person });
    }
  }
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
