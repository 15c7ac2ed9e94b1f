import type { Circle } from '../../../core/bells/bell.ts';
import { visitOf, type FloorBellEvent, type Recorded } from '../../../core/events.ts';
import type { PersonId } from '../../../core/ids.ts';
import type { EpochMs } from '../../../core/time.ts';
import { bellSteps, type BellStepEvent } from '../../../core/visit/events.ts';

/**
 * One bell at one level, from its ringing to its end. The facts forget a bell when it ends, so these rows follow from
 * the bell steps of the log alone, each step changing only the row that stands: folding them again gives the same rows.
 */
export interface BellRow {
  /** Place in the log of the step that rang it. */
  readonly seq: number;
  /** A visit's id, or `floor`. */
  readonly subject: string;
  readonly cause: string;
  readonly kind: string;
  readonly level: string;
  readonly episode: number;
  readonly dueAt: EpochMs;
  readonly rungAt: EpochMs;
  /** The first who said they would go, and when; carried over when a later row replaces it (R2). */
  readonly firstTakenBy: PersonId | null;
  readonly firstTakenAt: EpochMs | null;
  /** How far it was carried (R6). */
  readonly circle: Circle;
  /** When a device first confirmed that it showed it, and to how many people it was not shown in time (R7). */
  readonly firstShownAt: EpochMs | null;
  readonly missed: number;
  /** How many said that they cannot go. */
  readonly passed: number;
  readonly endedAt: EpochMs | null;
  /** Why it ended; `replaced` by a later row of its cause. */
  readonly why: string | null;
}

type BellEvent = BellStepEvent | FloorBellEvent;

export function bellEventOf({ event }: Recorded): BellEvent | null {
  const step = event.type.startsWith('Floor') ? event.type.slice('Floor'.length) : event.type;
  return (bellSteps as readonly string[]).includes(step) ? (event as BellEvent) : null;
}

/** A visit, `chair/4`, or the floor. */
export function subjectOf({ stream, event }: Recorded): string {
  const chair = 'chair' in event && bellEventOf({ event } as Recorded) !== null ? event.chair : null;
  return visitOf(stream) ?? (chair === null ? 'floor' : `chair/${chair}`);
}

/** The rows that a step changes or adds, given the row of its cause that stands. */
export function stepBell(standing: BellRow | null, event: BellEvent, recorded: Recorded): BellRow[] {
  const { at, by, seq } = recorded;
  switch (event.type) {
    case 'BellRung':
    case 'FloorBellRung': {
      const { cause, kind, level, episode, dueAt } = event;
      const taken = { firstTakenBy: standing?.firstTakenBy ?? null, firstTakenAt: standing?.firstTakenAt ?? null };
      const rung = { seq, subject: subjectOf(recorded), cause, kind, level, episode, dueAt, rungAt: at, ...taken };
      const carried = { circle: event.circle, firstShownAt: null, missed: 0, passed: 0 };
      const row: BellRow = { ...rung, ...carried, endedAt: null, why: null };
      return standing === null ? [row] : [{ ...standing, endedAt: at, why: 'replaced' }, row];
    }
    case 'BellTaken':
    case 'FloorBellTaken':
      if (standing === null || by === null || standing.firstTakenBy !== null) return [];
      return [{ ...standing, firstTakenBy: by, firstTakenAt: at }];
    case 'BellWidened':
    case 'FloorBellWidened':
      return standing === null ? [] : [{ ...standing, circle: event.circle }];
    case 'BellShown':
    case 'FloorBellShown':
      return standing === null || standing.firstShownAt !== null ? [] : [{ ...standing, firstShownAt: at }];
    case 'BellNotReached':
    case 'FloorBellNotReached':
      return standing === null ? [] : [{ ...standing, missed: standing.missed + 1 }];
    case 'BellPassed':
    case 'FloorBellPassed':
      return standing === null ? [] : [{ ...standing, passed: standing.passed + 1 }];
    case 'BellEnded':
    case 'FloorBellEnded':
      return standing === null ? [] : [{ ...standing, endedAt: at, why: event.why }];
    default:
      return event satisfies never;
  }
}
