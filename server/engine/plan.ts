import type { Reach } from '../../core/bells/carrying.ts';
import { bellDrafts, bellsDue } from '../../core/bells/due.ts';
import { shownDrafts, type Receipt } from '../../core/bells/receipts.ts';
import type { CommandType } from '../../core/command.ts';
import { decide } from '../../core/decide.ts';
import type { Draft } from '../../core/events.ts';
import { forget } from '../../core/evolve.ts';
import { movedOnBy } from '../../core/salon/confirm-time.ts';
import type { EpochMs, Ms } from '../../core/time.ts';
import { problemOf } from '../../shared/problem.ts';
import type { CommandRequest } from '../../shared/wire.ts';
import type { Batch } from '../store/store.ts';
import { append, byItself, type LogState } from './log-state.ts';
import { refusalOf, type Reply } from './reply.ts';

/** Water and burns are never refused for want of storage (S2, S6): they are folded in memory and stored later. */
export const keptInMemory: readonly CommandType[] = ['BeginRinse', 'ReportBurns'];

export interface Asked {
  readonly request: CommandRequest;
  readonly hash: string;
}

/** What one turn is made from. */
export interface Turn {
  readonly now: EpochMs;
  /** What time itself did (T2, T3). */
  readonly drafts: readonly Draft[];
  readonly asked: readonly Asked[];
  /** Since when something is kept in memory only. */
  readonly unsavedSince: EpochMs | null;
  /** What is known of the devices; null where nobody watches over them. */
  readonly reach: Reach | null;
  /** Bells that devices say they have shown since the last turn (R7). */
  readonly receipts: readonly Receipt[];
  /** Nothing can be stored: only what is kept in memory is decided, and bells ring from memory (R8). */
  readonly unstorable: boolean;
  /** Told of a command that the rules could not judge: a fault of ours, which must not hold up the others. */
  readonly failed: (error: unknown, type: CommandType) => void;
}

export interface Plan {
  readonly state: LogState;
  readonly batches: readonly Batch[];
  /** One per command asked, in order. */
  readonly replies: readonly Reply[];
  readonly unsavedSince: EpochMs | null;
  /** By how much the timescale moved on, because somebody knew how long we were away (T3); 0 otherwise. */
  readonly movedOnMs: Ms;
}

interface Judged {
  readonly state: LogState;
  readonly events: Batch['events'];
  readonly words: Batch['words'];
  readonly reply: (revision: number) => Reply;
  /** Whether the answer is kept with the command's id; one that says *again* is not (S8). */
  readonly kept: boolean;
}

/** A whole turn on paper: commands one after another on the provisional floor, then the bells. Stores and tells nothing. */
export function plan(before: LogState, turn: Turn): Plan {
  const { unstorable } = turn;
  let { now } = turn;
  const time = append(before, turn.drafts, [], byItself, now);
  let { state } = time;
  const judged = turn.asked.map((one) => {
    const result = judge(state, one, { ...turn, now });
    state = result.state;
    now += movedOnBy(result.events);
    return result;
  });
  const shown = append(state, shownDrafts(state.floor, turn.receipts, now), [], byItself, now);
  state = shown.state;
  const changed = [time, shown, ...judged].some((one) => one.events.length > 0);
  const due = (unsavedSince: EpochMs | null) => bellsDue(state.floor, now, { unsavedSince, reach: turn.reach });
  const steps = due(turn.unsavedSince);
  const fallDue = changed || steps.length > 0;
  const unsavedSince = turn.unsavedSince ?? (unstorable && fallDue ? now : null);
  // Derived once a turn, unless what is derived from has changed by what was derived.
  const last = unsavedSince === turn.unsavedSince ? steps : due(unsavedSince);
  const bells = append(state, bellDrafts(last, now), [], byItself, now);
  const revision = bells.state.seq;
  const replies = judged.map((one) => one.reply(revision));
  const batches: Batch[] = [
    { events: time.events, words: [], kept: null, floor: time.state.floor },
    ...judged.map(({ events, words, kept, state: after }, i) => {
      const { request, hash } = turn.asked[i] as Asked;
      const answer = { id: request.id, bodyHash: hash, answer: JSON.stringify(replies[i]) };
      return { events, words, kept: kept ? answer : null, floor: after.floor };
    }),
    { events: shown.events, words: [], kept: null, floor: shown.state.floor },
    { events: bells.events, words: [], kept: null, floor: bells.state.floor },
  ];
  const grown = revision > before.seq;
  return {
    state: grown ? forgotten(bells.state, now) : bells.state,
    batches: batches.filter((batch) => batch.events.length > 0 || batch.kept !== null),
    replies,
    unsavedSince,
    movedOnMs: now - turn.now,
  };
}

function judge(state: LogState, { request }: Asked, turn: Turn): Judged {
  const refuse = (reply: Reply): Judged => ({ state, events: [], words: [], reply: () => reply, kept: false });
  if (turn.unstorable && !keptInMemory.includes(request.type)) return refuse({ refused: problemOf('again') });
  const { id, device, seen, happenedAt } = request;
  const by = request.by;
  try {
    const decision = decide(state.floor, request, { id, by, device, seen, happenedAt }, turn.now);
    const known = by !== null && state.floor.people[by] !== undefined ? by : null;
    // Once it is known how long we were away, this very word was said so much later.
    const saidAt = turn.now + movedOnBy(decision.events);
    const done = append(state, decision.events, decision.words, { by: known, device, command: id }, saidAt);
    const { answer } = decision;
    const { floor } = done.state;
    if (answer.outcome === 'refused') {
      const kept = !turn.unstorable || done.events.length > 0;
      return { ...done, words: decision.words, reply: (revision) => refusalOf(answer, floor, revision), kept };
    }
    const version = answer.visit === null ? null : (floor.visits[answer.visit]?.facts.version ?? null);
    const reply = (revision: number): Reply => ({
      accepted: { outcome: 'done', visit: answer.visit, version, revision },
    });
    return { ...done, words: decision.words, reply, kept: true };
  } catch (error) {
    turn.failed(error, request.type);
    return refuse({ refused: problemOf('failed') });
  }
}

/** Drops visits that need no watching any more, with what is remembered of their words; the log keeps both. */
function forgotten(state: LogState, now: EpochMs): LogState {
  const floor = forget(state.floor, now);
  if (floor === state.floor) return state;
  const gone = Object.keys(state.floor.visits).filter((id) => floor.visits[id] === undefined);
  const words = Object.entries(floor.words).filter(([key]) => !gone.some((id) => key.startsWith(`visit/${id}/`)));
  return { ...state, floor: { ...floor, words: Object.fromEntries(words) } };
}
