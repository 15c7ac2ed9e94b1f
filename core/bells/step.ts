import { visitStream, type Draft, type FloorBellEvent, type FloorEvent } from '../events.ts';
import type { PersonId } from '../ids.ts';
import type { EpochMs } from '../time.ts';
import type { BellStepEvent } from '../visit/events.ts';
import type { BellCause, BellEnd, BellKind, Circle, WidenReason } from './bell.ts';
import type { BellLevel } from './level.ts';
import type { Subject } from './subject.ts';

interface OfBell {
  readonly subject: Subject;
  readonly cause: BellCause;
  readonly episode: number;
}

/** What is to be done about one bell now, and why (R1, R9). */
export type BellStep = OfBell &
  (
    | {
        readonly do: 'ring';
        readonly kind: BellKind;
        readonly level: BellLevel;
        readonly dueAt: EpochMs;
        readonly circle: Circle;
        readonly helper: PersonId | null;
        readonly why: 'begins' | 'replaces';
      }
    | { readonly do: 'widen'; readonly circle: Circle; readonly why: WidenReason }
    /** Not shown to a person in time (R7). */
    | { readonly do: 'unreached'; readonly level: BellLevel; readonly person: PersonId; readonly why: 'not-shown' }
    | { readonly do: 'end'; readonly why: BellEnd }
  );

/** The events that record steps of bells, happening at `now`. */
export function bellDrafts(steps: readonly BellStep[], now: EpochMs): Draft[] {
  return steps.map((step) => draftAt(step.subject, eventOf(step), now));
}

/** A step of a bell as an event of its subject: of a visit's own stream, or of the salon's. */
export function draftAt(subject: Subject, event: BellStepEvent, at: EpochMs): Draft {
  if (typeof subject === 'string' && subject !== 'floor') return { stream: visitStream(subject), at, event };
  return { stream: 'salon', at, event: onFloor(event, typeof subject === 'number' ? subject : null) };
}

function onFloor(event: BellStepEvent, chair: number | null): FloorEvent {
  return { ...event, type: `Floor${event.type}`, chair } as FloorBellEvent;
}

function eventOf(step: BellStep): BellStepEvent {
  const { cause, episode } = step;
  switch (step.do) {
    case 'ring': {
      const { kind, level, dueAt, circle, helper } = step;
      return { type: 'BellRung', cause, kind, level, episode, dueAt, circle, helper };
    }
    case 'widen':
      return { type: 'BellWidened', cause, episode, circle: step.circle, why: step.why };
    case 'unreached':
      return { type: 'BellNotReached', cause, episode, level: step.level, person: step.person };
    case 'end':
      return { type: 'BellEnded', cause, episode, why: step.why };
    default:
      return step satisfies never;
  }
}
