import { z } from 'zod';
import type { ProblemCode } from '../problem-code.ts';
import { problemCodes } from '../problem-texts.ts';
import { id, instant, placeNumber } from './basics.ts';
import { version } from './visit.ts';

/** RFC 9457, with what a screen needs as extensions. */
export const problem = z.strictObject({
  type: z.string(),
  title: z.string(),
  status: z.int().min(400).max(599),
  detail: z.string(),
  code: z.enum(problemCodes as readonly [ProblemCode, ...ProblemCode[]]),
  visit: id.nullable(),
  version: version.nullable(),
  revision: z.int().min(0).nullable(),
  since: z.array(z.strictObject({ type: z.string(), at: instant, by: id.nullable() })),
  field: z.string().nullable(),
  place: placeNumber.nullable(),
  expected: z.string().nullable(),
});
