import type { z } from 'zod';

/** Which field of a body is wrong, and what was wanted there. Never what was sent: that may be a client's words. */
export interface BodyFault {
  readonly field: string | null;
  readonly expected: string;
}

/** Names of unknown fields come from the sender: only so much of them is repeated. */
const LONGEST_NAME = 64;

export function faultOf(issues: readonly z.core.$ZodIssue[]): BodyFault {
  const [issue] = issues;
  if (issue === undefined) return { field: null, expected: 'another body' };
  const path = issue.path.map(String);
  if (issue.code === 'unrecognized_keys')
    return { field: named([...path, ...issue.keys.slice(0, 1)]), expected: 'there is no such field' };
  if (issue.code === 'invalid_union') return { field: named(path), expected: 'one of the known kinds' };
  return { field: named(path), expected: issue.message.replace(/^Invalid (input|option|string): /, '') };
}

function named(path: readonly string[]): string | null {
  return path.length === 0 ? null : path.join('.').slice(0, LONGEST_NAME);
}
