import type { Problem } from '../../../shared/problem.ts';
import type { WireAnswer } from '../../../shared/wire.ts';

/**
 * What came of one sending. Only our server's own answer or problem is an outcome; a dead network, a timeout, a fault of the
 * server, "again", and whatever a proxy or a hotel's portal says are not: it is sent again.
 */
export type Outcome =
  | { readonly kind: 'done'; readonly answer: WireAnswer }
  | { readonly kind: 'refused'; readonly problem: Problem }
  /** `server`: it was reached and could not take it now. */
  | { readonly kind: 'not-yet'; readonly why: 'network' | 'server' | 'not-ours' };

export interface Response {
  readonly status: number;
  /** Null where it was no JSON. */
  readonly body: unknown;
}

const again: Outcome = { kind: 'not-yet', why: 'server' };
const notOurs: Outcome = { kind: 'not-yet', why: 'not-ours' };

/** Codes after which the same command, sent again, may well be done. */
const passing: readonly string[] = ['again', 'failed'];

export function outcomeOf({ status, body }: Response): Outcome {
  if (status === 200 || status === 202) return isAnswer(body) ? { kind: 'done', answer: body } : notOurs;
  const problem = asProblem(status, body);
  if (status >= 500 || (problem !== null && passing.includes(problem.code))) return problem === null ? notOurs : again;
  return problem === null ? notOurs : { kind: 'refused', problem };
}

function isAnswer(body: unknown): body is WireAnswer {
  const one = body as WireAnswer | null;
  return (
    typeof one === 'object' &&
    one !== null &&
    (one.outcome === 'done' || one.outcome === 'kept-unsaved') &&
    (one.visit === null || typeof one.visit === 'string') &&
    (one.version === null || Number.isFinite(one.version)) &&
    Number.isFinite(one.revision)
  );
}

/** Told by its type; a code that this page does not know is a newer server's, and its own sentence says what to do. */
function asProblem(status: number, body: unknown): Problem | null {
  const one = body as Problem | null;
  if (typeof one !== 'object' || one === null || one.status !== status) return null;
  const ours = typeof one.code === 'string' && one.type === `/api/v1/problems/${one.code}`;
  if (!ours || typeof one.detail !== 'string') return null;
  return { ...one, since: Array.isArray(one.since) ? one.since.filter(isDone) : [] };
}

function isDone(one: unknown): boolean {
  const { type, at } = (one ?? {}) as { type?: unknown; at?: unknown };
  return typeof type === 'string' && Number.isFinite(at);
}

/** First wait before a touch that did not get through is sent again, and the longest, ms. */
export const AGAIN_MS = 1_500;
export const AGAIN_MOST_MS = 10_000;

/** Waits that grow, each cut by up to a quarter, so that many devices do not all come back in the same instant. */
export function againInMs(failures: number, chance: number): number {
  const whole = Math.min(AGAIN_MOST_MS, AGAIN_MS * 2 ** Math.max(0, failures - 1));
  return Math.round(whole * (1 - chance / 4));
}
