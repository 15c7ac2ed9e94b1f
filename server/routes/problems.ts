import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { ZodError } from 'zod';
import type { ProblemCode, ProblemDetails } from '../../shared/problem-code.ts';
import { problemOf, PROBLEM_TYPE, type Problem } from '../../shared/problem.ts';
import { BODY_LIMIT } from '../../shared/protocol.ts';
import { faultOf } from './body-fault.ts';

/** Thrown by a handler to refuse; everything else thrown is a fault of ours. */
export class RefusedRequest extends Error {
  readonly problem: Problem;
  constructor(code: ProblemCode, details: Partial<ProblemDetails> = {}) {
    super(code);
    this.problem = problemOf(code, details);
  }
}

/** A body or parameter that does not fit its schema. */
export class BodyRefused extends Error {
  readonly statusCode = 400;
  readonly zod: ZodError;
  constructor(zod: ZodError) {
    super('invalid-body');
    this.zod = zod;
  }
}

export function sendProblem(reply: FastifyReply, problem: Problem): FastifyReply {
  if (problem.status === 503) void reply.header('retry-after', '2');
  // As bytes: a problem is not put through the route's schema of its answer.
  return reply
    .code(problem.status)
    .header('content-type', `${PROBLEM_TYPE}; charset=utf-8`)
    .send(Buffer.from(JSON.stringify(problem)));
}

/** What Fastify itself refuses, by its error codes. */
const byCode: Readonly<Record<string, ProblemCode>> = {
  FST_ERR_CTP_INVALID_JSON_BODY: 'invalid-json',
  FST_ERR_CTP_EMPTY_JSON_BODY: 'invalid-json',
  FST_ERR_CTP_INVALID_CONTENT_LENGTH: 'invalid-json',
  FST_ERR_CTP_INVALID_MEDIA_TYPE: 'unsupported-media-type',
  FST_ERR_CTP_BODY_TOO_LARGE: 'too-large',
  FST_ERR_BAD_URL: 'not-found',
  FST_ERR_NOT_FOUND: 'not-found',
};

export function problemFor(error: FastifyError | Error): Problem {
  if (error instanceof RefusedRequest) return error.problem;
  if (error instanceof BodyRefused) return problemOf('invalid-body', faultOf(error.zod.issues));
  const code = 'code' in error ? (byCode[error.code] ?? null) : null;
  if (code === 'too-large') return problemOf(code, { expected: `at most ${BODY_LIMIT} bytes` });
  if (code !== null) return problemOf(code);
  const status = 'statusCode' in error ? error.statusCode : undefined;
  if (error instanceof SyntaxError || status === 400) return problemOf('invalid-json');
  return problemOf('failed');
}

/** Answers an unknown address with a page where a person asked for one; null where it is not for that. */
export type PageForLost = (request: FastifyRequest, reply: FastifyReply) => FastifyReply | null;

/** Every refusal leaves as a problem document: of the rules, of a schema, of Fastify, of an unknown address. */
export function refuseByProblems(app: FastifyInstance, pageForLost: PageForLost): void {
  const taken: { readonly method: string; readonly path: RegExp }[] = [];
  app.addHook('onRoute', ({ method, url }) => {
    if (url.includes('*')) return;
    const path = new RegExp(`^${url.replace(/:[^/]+/g, '[^/]+')}$`);
    for (const one of [method].flat()) taken.push({ method: one, path });
  });
  app.setErrorHandler((error: FastifyError, request, reply) => {
    const problem = problemFor(error);
    if (problem.code === 'failed') request.log.error({ err: error }, 'a request failed');
    return sendProblem(reply, problem);
  });
  app.setNotFoundHandler((request: FastifyRequest, reply) => {
    const path = request.url.split('?')[0] ?? '';
    const allowed = [...new Set(taken.filter((one) => one.path.test(path)).map((one) => one.method))].join(', ');
    if (allowed === '') return pageForLost(request, reply) ?? sendProblem(reply, problemOf('not-found'));
    void reply.header('allow', allowed);
    return sendProblem(reply, problemOf('method-not-allowed', { expected: `it takes ${allowed}` }));
  });
}
