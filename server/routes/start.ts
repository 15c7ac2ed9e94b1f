import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { problemCodes, problemTexts } from '../../shared/problem-texts.ts';
import type { ProblemCode } from '../../shared/problem-code.ts';
import { problem } from '../../shared/schemas/problem.ts';
import { about } from '../../shared/schemas/wire.ts';
import type { About } from '../../shared/wire.ts';

const modelDaySchema = {
  summary: 'Starts the model day: an invented salon with a data file of its own',
  tags: ['start'],
  response: { 200: z.strictObject({ url: z.url() }), '5xx': problem },
};
const problemSchema = {
  summary: 'What a problem of this code means',
  tags: ['start'],
  params: z.strictObject({ code: z.enum(problemCodes as readonly [ProblemCode, ...ProblemCode[]]) }),
  response: {
    200: z.strictObject({ code: z.string(), status: z.int(), title: z.string() }),
    '4xx': problem,
  },
};

export interface StartDeps {
  readonly about: () => About;
  /** Null where there is no model day: on the model day itself, and in tests. */
  readonly startModelDay: (() => Promise<{ readonly url: string }>) | null;
}

/** What the first page asks. */
export function startRoutes(app: FastifyInstance, { about: tell, startModelDay }: StartDeps): void {
  app.get(
    '/api/v1/about',
    { schema: { summary: 'What this server is', tags: ['start'], response: { 200: about } } },
    tell,
  );
  app.get<{ Params: { code: ProblemCode } }>('/api/v1/problems/:code', { schema: problemSchema }, ({ params }) => {
    const { status, title } = problemTexts[params.code];
    return { code: params.code, status, title };
  });
  if (startModelDay === null) return;
  app.post('/api/v1/model-day', { schema: modelDaySchema }, async () => ({ url: (await startModelDay()).url }));
}
