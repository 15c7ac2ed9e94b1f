import type { Sender } from './command.ts';
import { visitStream, type Draft, type FloorEvent, type Stream, type WordChange } from './events.ts';
import type { Floor } from './floor.ts';
import type { PlaceNumber, VisitId } from './ids.ts';
import type { Answer, DoneSince, RuleRefusal } from './refusal.ts';
import { MINUTE, SECOND, HOUR, type EpochMs, type Ms } from './time.ts';
import type { VisitEvent } from './visit/events.ts';
import { since, type Visit } from './visit/history.ts';

/** What follows from a command: events to record, words to keep aside, and the answer to its sender. */
export interface Decision {
  readonly events: readonly Draft[];
  readonly words: readonly WordChange[];
  readonly answer: Answer;
}

/** What a command is judged against. */
export interface Setting {
  readonly floor: Floor;
  readonly sender: Sender;
  /** The turn's one reading of time (T1). */
  readonly now: EpochMs;
  /** When it happened: now, or earlier if the sender says so (X3). */
  readonly at: EpochMs;
}

/** A screen's estimate of now may be ahead by this much and still be taken as now. */
export const aheadBelieved: Ms = 2 * SECOND;
/** Older than this is kept as a statement only (X3). */
export const statementAfter: Ms = 30 * MINUTE;
/** Nobody remembers further back than this; refused, as an ancient time is a fault of the sender's clock. */
export const rememberedFor: Ms = 24 * HOUR;

export function done(visit: VisitId | null, events: readonly Draft[], words: readonly WordChange[] = []): Decision {
  return { events, words, answer: { outcome: 'done', visit } };
}

interface RefusalDetails {
  readonly visit?: VisitId | null;
  readonly since?: readonly DoneSince[];
  readonly place?: PlaceNumber | null;
  readonly field?: string | null;
}

/** A decision where something else might be. */
export function isRefusal(value: object): value is Decision {
  return 'answer' in value;
}

export function refuse(code: RuleRefusal, details: RefusalDetails = {}): Decision {
  const { visit = null, since: others = [], place = null, field = null } = details;
  return { events: [], words: [], answer: { outcome: 'refused', code, visit, since: others, place, field } };
}

/** One event of a visit, at the moment the command speaks of. */
export function onVisit(setting: Setting, visit: VisitId, event: VisitEvent): Draft {
  return { stream: visitStream(visit), at: setting.at, event };
}

/** One event of the salon, its people or directions, now. */
export function onStream(setting: Setting, stream: Stream, event: FloorEvent): Draft {
  return { stream, at: setting.now, event };
}

/** What happened at the head since the version that the sender saw; with none seen, the last thing only. */
export function sinceSeen(setting: Setting, visit: Visit): DoneSince[] {
  const { seen } = setting.sender;
  const entries = seen === null ? visit.history.slice(-1) : since(visit, seen);
  return entries.map((entry) => ({ type: entry.event.type, at: entry.at, by: entry.by }));
}

/**
 * A move that does not fit the stage. If others acted since the sender looked, that is why: `moved-on` with who did what;
 * else it is simply not the stage for it (S7).
 */
export function doesNotFit(setting: Setting, visit: Visit): Decision {
  const { seen } = setting.sender;
  const others = seen === null ? [] : sinceSeen(setting, visit);
  return refuse(others.length > 0 ? 'moved-on' : 'wrong-stage', { visit: visit.facts.id, since: others });
}

/** The same was done already: the second is told who did it and when (S7). */
export function alreadyDone(visit: VisitId | null, mark: { at: EpochMs; by: string | null }, type: string): Decision {
  return refuse('already-done', { visit, since: [{ type, at: mark.at, by: mark.by }] });
}

/** Whether the sender had seen a version when it spoke. */
export function hadSeen(setting: Setting, version: number): boolean {
  return setting.sender.seen !== null && setting.sender.seen >= version;
}
