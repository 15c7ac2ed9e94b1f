import type { ProblemCode, ProblemDetails } from './problem-code.ts';
import { problemTexts } from './problem-texts.ts';

/** An RFC 9457 problem document. `detail` is a sentence that a person can act on. */
export interface Problem extends ProblemDetails {
  readonly type: string;
  readonly title: string;
  readonly status: number;
  readonly detail: string;
  readonly code: ProblemCode;
}

export const PROBLEM_TYPE = 'application/problem+json';

const nothing: ProblemDetails = {
  visit: null,
  version: null,
  revision: null,
  since: [],
  field: null,
  place: null,
  expected: null,
};

export function problemOf(code: ProblemCode, known: Partial<ProblemDetails> = {}): Problem {
  const { status, title, detail } = problemTexts[code];
  const details = { ...nothing, ...known };
  return { type: `/api/v1/problems/${code}`, title, status, detail: detail(details), code, ...details };
}
