import { visitOf, type FloorEvent, type Recorded } from '../../../core/events.ts';
import type { PersonId } from '../../../core/ids.ts';
import type { EpochMs } from '../../../core/time.ts';

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
  readonly endedAt: EpochMs | null;
  /** Why it ended; `replaced` by a later row of its cause. */
  readonly why: string | null;
}

const bellTypes = ['BellRung', 'BellTaken', 'BellEnded', 'FloorBellRung', 'FloorBellTaken', 'FloorBellEnded'] as const;
type BellEvent = Extract<FloorEvent, { type: (typeof bellTypes)[number] }>;

function isBellEvent(event: FloorEvent): event is BellEvent {
  return (bellTypes as readonly string[]).includes(event.type);
}

export function bellEventOf({ event }: Recorded): BellEvent | null {
  return isBellEvent(event) ? event : null;
}

export function subjectOf(recorded: Recorded): string {
  return visitOf(recorded.stream) ?? 'floor';
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
      const row: BellRow = { ...rung, endedAt: null, why: null };
      return standing === null ? [row] : [{ ...standing, endedAt: at, why: 'replaced' }, row];
    }
    case 'BellTaken':
    case 'FloorBellTaken':
      if (standing === null || by === null || standing.firstTakenBy !== null) return [];
      return [{ ...standing, firstTakenBy: by, firstTakenAt: at }];
    case 'BellEnded':
    case 'FloorBellEnded':
      return standing === null ? [] : [{ ...standing, endedAt: at, why: event.why }];
    default:
      return event satisfies never;
  }
}
