import type { EpochMs } from '../../../core/time.ts';
import type { Outcome } from './outcome.ts';
import { canBeStatement, type Touch } from './touch.ts';

/** What was refused is kept until somebody has read it, but no longer than this, and no more than so many. */
export const READ_WITHIN_MS = 24 * 60 * 60_000;
export const READ_AT_MOST = 50;

/** Without an outcome yet. */
export function isOpen({ state }: Touch): boolean {
  return state === 'waiting';
}

/** Wants reading by a person. */
export function wantsReading({ state }: Touch): boolean {
  return state === 'refused' || state === 'statement';
}

/**
 * The touch with what came of it. `moved-on` for one that named its time means that it came too late to change anything: kept
 * as a statement, with the offer to correct (X3).
 */
export function settled(
  touch: Touch,
  happenedAt: EpochMs | null,
  outcome: Exclude<Outcome, { kind: 'not-yet' }>,
  wallNow: number,
): Touch {
  if (outcome.kind === 'done')
    return { ...touch, state: outcome.answer.outcome, answer: outcome.answer, settledWall: wallNow };
  const { problem } = outcome;
  const late = problem.code === 'moved-on' && happenedAt !== null && canBeStatement(touch.command);
  return { ...touch, state: late ? 'statement' : 'refused', problem, settledWall: wallNow };
}

/** What a settled touch means for those after it. */
export interface Since {
  readonly touches: readonly Touch[];
  readonly underWay: ReadonlySet<string>;
  /** Server's now when the outcome came. */
  readonly now: EpochMs;
}

/**
 * Later touches that change with this outcome. One that was made on top of it has seen the version it made, so that a
 * device is not told of its own acts as of somebody else's (S7). One of the same lane did not happen before it, however
 * long it was under way (X3). What is under way itself must stay as it was sent (S8).
 */
export function after(done: Touch, happenedAt: EpochMs | null, { touches, underWay, now }: Since): readonly Touch[] {
  const version = done.answer?.version ?? null;
  const unnamed = happenedAt === null && done.answer !== null;
  return touches.flatMap((one) => {
    if (!isOpen(one) || one.id === done.id || one.tries > 0 || underWay.has(one.id)) return [];
    const over = one.over === done.id;
    const behind = unnamed && one.lane === done.lane && one.n > done.n;
    if (!over && !behind) return [];
    const seen = over && version !== null ? Math.max(one.seen ?? version, version) : one.seen;
    return [{ ...one, over: over ? null : one.over, seen, notBefore: behind ? Math.round(now) : one.notBefore }];
  });
}

/** Read or not: too old, or too many. What has no outcome is never among them. */
export function outdated(touches: readonly Touch[], wallNow: number): readonly string[] {
  const read = touches.filter((one) => wantsReading(one));
  const many = read.slice(0, Math.max(0, read.length - READ_AT_MOST));
  const old = read.filter(({ settledWall }) => settledWall !== null && wallNow - settledWall > READ_WITHIN_MS);
  return [...new Set([...many, ...old].map(({ id }) => id))];
}
