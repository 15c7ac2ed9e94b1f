import { MINUTE, SECOND, type Ms } from '../../../core/time.ts';
import type { HookFault, HookStep } from '../../../shared/hooks.ts';

/**
 * How long after it happened a step is still worth delivering. A call is out of date after two minutes: by then the bell has
 * been carried further or come to its next row, and that is a step of its own. What makes a lamp go out is worth more
 * patience, or it burns on for nothing. A test is sent once. Common practice, no source.
 */
export const usefulFor: Readonly<Record<HookStep, Ms>> = {
  rung: 2 * MINUTE,
  widened: 2 * MINUTE,
  passed: 2 * MINUTE,
  not_reached: 2 * MINUTE,
  taken: 15 * MINUTE,
  ended: 15 * MINUTE,
  standing: 15 * MINUTE,
  test: 0,
};

const FIRST_WAIT: Ms = SECOND;
const LONGEST_WAIT: Ms = 8 * SECOND;

/** Pause before the next attempt, after so many. */
export function waitAfter(attempts: number): Ms {
  return Math.min(FIRST_WAIT * 2 ** (attempts - 1), LONGEST_WAIT);
}

/** A receiver that is there and does not want a step gets it so often, so that it does not hold up what follows. */
export const MOST_REFUSALS = 5;

/** Nobody is there just now, or somebody says "not now" (RFC 9110, RFC 6585): the receiver itself has not judged the step. */
const absent: readonly HookFault[] = ['timeout', 'refused', 'no-name', 'unreachable', 'broken', 'tls'];
const notNow: readonly number[] = [429, 502, 503, 504];
/** Gone for good: the specification asks for no further attempt. */
const GONE = 410;

export interface Tried {
  readonly why: HookFault;
  readonly status: number | null;
  /** Attempts at this step that the receiver refused, this one included. */
  readonly refusals: number;
}

export function isRefusal(why: HookFault, status: number | null): boolean {
  return !absent.includes(why) && (status === null || !notNow.includes(status));
}

/** Whether the receiver has had its say about this step. */
export function isHopeless({ why, status, refusals }: Tried): boolean {
  return isRefusal(why, status) && (status === GONE || refusals >= MOST_REFUSALS);
}
