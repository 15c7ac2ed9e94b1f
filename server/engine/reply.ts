import { createHash } from 'node:crypto';
import type { Floor } from '../../core/floor.ts';
import type { Refused } from '../../core/refusal.ts';
import { problemOf, type Problem } from '../../shared/problem.ts';
import type { CommandRequest, WireAnswer } from '../../shared/wire.ts';

/** What the sender of a command is told. */
export type Reply = { readonly accepted: WireAnswer } | { readonly refused: Problem };

/** The same answer while it is kept in memory only. */
export function asUnsaved(reply: Reply): Reply {
  return 'accepted' in reply ? { accepted: { ...reply.accepted, outcome: 'kept-unsaved' } } : reply;
}

/** A refusal of the rules as the problem that crosses the wire. */
export function refusalOf(answer: Refused, floor: Floor, revision: number): Reply {
  const { code, visit, since, place, field } = answer;
  const version = visit === null ? null : (floor.visits[visit]?.facts.version ?? null);
  return { refused: problemOf(code, { visit, version, revision, since, place, field }) };
}

/**
 * SHA-256 of the body with its keys in order: the same command however it was written (S8). When it happened is left out:
 * a screen that could not get through sends the same touch again and then names its time (X3).
 */
export function bodyHash(request: CommandRequest): string {
  return createHash('sha256')
    .update(JSON.stringify(inOrder({ ...request, happenedAt: null })))
    .digest('hex');
}

function inOrder(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(inOrder);
  if (value === null || typeof value !== 'object') return value;
  const entries = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return entries.map(([key, one]) => [key, inOrder(one)]);
}
