import type { Recorded } from '../events.ts';
import type { VisitId } from '../ids.ts';
import type { EpochMs } from '../time.ts';
import type { Entry } from './entry.ts';
import { isBellStep, isClockStep, isMove, type ClockStepEvent, type VisitEvent } from './events.ts';
import { bellsMoved, stepBells } from './evolve-bells.ts';
import { seated, step } from './evolve.ts';
import type { LastMove, VisitFacts } from './visit.ts';

/** A visit as facts, with the effective history from which they can be folded again (X1, X2). */
export interface Visit {
  readonly facts: VisitFacts;
  readonly history: readonly Entry[];
}

/**
 * The visit after one more event of its stream. Steps are applied to the facts; a correction or a take-back
 * changes the history and folds it again, so that both restore exactly what would have been.
 * Bells are never folded again: what has rung stays on record (R1, X3).
 */
export function evolveVisit(visit: Visit | undefined, id: VisitId, recorded: Recorded): Visit {
  const event = recorded.event as VisitEvent;
  if (isBellStep(event)) {
    if (visit === undefined) throw new Error(`bell step before the visit: ${id}`);
    return { ...visit, facts: { ...stepBells(visit.facts, event, recorded), version: recorded.version } };
  }
  if (isClockStep(event)) {
    if (visit === undefined) throw new Error(`clock step before the visit: ${id}`);
    return clockStepped(visit, event, recorded);
  }
  const entry: Entry = {
    version: recorded.version,
    at: recorded.at,
    recordedAt: recorded.recordedAt,
    by: recorded.by,
    command: recorded.command,
    event,
  };
  if (visit === undefined) return { facts: withLastMove(seated(id, entry), [entry]), history: [entry] };
  const history = amend([...visit.history, entry], event);
  const facts =
    event.type === 'TimeCorrected' || event.type === 'MoveTakenBack'
      ? refold(visit.facts, history)
      : step(visit.facts, entry);
  return { facts: withLastMove({ ...facts, version: recorded.version }, history), history };
}

function amend(history: readonly Entry[], event: VisitEvent): readonly Entry[] {
  if (event.type === 'TimeCorrected') {
    const moved = history.find((entry) => entry.version === event.of);
    return history.map((entry) => {
      if (entry.version === event.of) return { ...entry, at: event.to };
      // Begin at an empty chair seats in the same touch: the seating moves along (X1).
      const seatedBySame = entry.event.type === 'VisitSeated' && moved !== undefined && entry.command === moved.command;
      if (!seatedBySame) return entry;
      return { ...entry, at: entry.at === moved.at ? event.to : Math.min(entry.at, event.to) };
    });
  }
  if (event.type === 'MoveTakenBack') {
    return history.filter((entry) => entry.event.type === 'VisitSeated' || !event.versions.includes(entry.version));
  }
  return history;
}

/** The time was lost, or is known again: then all that was recorded since moves, and is folded anew (T3). */
function clockStepped({ facts, history }: Visit, event: ClockStepEvent, { at, version }: Recorded): Visit {
  if (event.type === 'TimeLost') {
    return { history, facts: { ...facts, version, timeLostAt: facts.timeLostAt ?? at } };
  }
  const { fromAt, byMs } = event;
  const later = (one: EpochMs): EpochMs => (one >= fromAt ? one + byMs : one);
  const moved = history.map((entry) => ({ ...entry, at: later(entry.at), recordedAt: later(entry.recordedAt) }));
  const folded = refold({ ...bellsMoved(facts, fromAt, byMs), timeLostAt: null }, moved);
  return { history: moved, facts: withLastMove({ ...folded, version }, moved) };
}

function refold(before: VisitFacts, history: readonly Entry[]): VisitFacts {
  const [first, ...rest] = history;
  if (first === undefined) return before;
  const facts = rest.reduce(step, seated(before.id, first));
  return { ...facts, bells: before.bells, episodes: before.episodes, timeLostAt: before.timeLostAt };
}

function withLastMove(facts: VisitFacts, history: readonly Entry[]): VisitFacts {
  return { ...facts, lastMove: lastMoveOf(history) };
}

function lastMoveOf(history: readonly Entry[]): LastMove | null {
  const last = history[history.length - 1];
  if (last === undefined || !isMove(last.event)) return null;
  return { type: last.event.type, at: last.at, recordedAt: last.recordedAt, by: last.by, version: last.version };
}

/** Versions that a take-back undoes: everything the last move's command did to this visit (X2). */
export function lastMoveVersions(visit: Visit): number[] {
  const last = visit.history[visit.history.length - 1];
  if (last === undefined) return [];
  if (last.command === null) return [last.version];
  return visit.history.filter((entry) => entry.command === last.command).map((entry) => entry.version);
}

/** What has happened at the head since a version somebody saw, bell steps aside (S7). */
export function since(visit: Visit, seen: number): Entry[] {
  return visit.history.filter((entry) => entry.version > seen);
}
