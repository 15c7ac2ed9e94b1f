import type { CommandId, PersonId, PlaceNumber } from '../../core/ids.ts';
import { SECOND, type EpochMs } from '../../core/time.ts';
import type { VisitCommand } from '../../core/visit/commands/command.ts';
import type { VisitFacts } from '../../core/visit/visit.ts';
import type { Temper } from './temper.ts';

/** What somebody does next at a chair, and when. */
export interface Act {
  readonly at: EpochMs;
  /** Made of what is done and the version it is done on, so that looking twice never does it twice (S8). */
  readonly id: CommandId;
  readonly by: PersonId | null;
  readonly seen: number | null;
  readonly command: VisitCommand;
}

/** What people at a chair know besides the visit itself. */
export interface Scene {
  readonly now: EpochMs;
  readonly temper: Temper;
  /** Whoever has hands free for this head: its student, or the assistant. */
  readonly hands: PersonId;
  /** One pair of hands: the student is not applying at another head, and nobody waits longer. */
  readonly mayBegin: boolean;
  /** Whoever would come to help is not helping at another head. */
  readonly mayHelp: boolean;
  /** The basin this head has already, else one that is free. */
  readonly freeBasin: PlaceNumber | null;
}

/** Moments are whole seconds (T1). */
export function wholeSecondAfter(at: EpochMs): EpochMs {
  return Math.ceil(at / SECOND) * SECOND;
}

export function actOn(visit: VisitFacts, at: EpochMs, by: PersonId | null, command: VisitCommand): Act {
  const id = `${visit.id}-v${visit.version}-${command.type}`.slice(-64);
  return { at: wholeSecondAfter(at), id, by, seen: visit.version, command };
}

/** The earlier of two; null when there is neither. */
export function sooner(a: Act | null, b: Act | null): Act | null {
  if (a === null || b === null) return a ?? b;
  return b.at < a.at ? b : a;
}

/** The earliest of several; of two at once the one named first. */
export function earliestOf(...acts: readonly (Act | null)[]): Act | null {
  return acts.reduce(sooner, null);
}
