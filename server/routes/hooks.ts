import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { HookTested, HookWanted } from '../../shared/hooks.ts';
import { id } from '../../shared/schemas/basics.ts';
import {
  hookDocument,
  hookMade,
  hookSwitch,
  hooksTold,
  hookTested,
  hookTold,
  hookWanted,
} from '../../shared/schemas/hooks.ts';
import { problem } from '../../shared/schemas/problem.ts';
import { MOST_HOOKS, type Hooks } from '../reach/hooks/hooks.ts';
import { StorageError } from '../store/store.ts';
import { RefusedRequest } from './problems.ts';

const tags = ['hooks'];
const params = z.strictObject({ id });
const refused = { '4xx': problem, '5xx': problem };
const schemas = {
  list: {
    summary: 'Lights and buzzers that are told of bells, and how it stands with each; never their secrets',
    tags,
    response: { 200: hooksTold },
  },
  add: {
    summary: 'Tells one more',
    description: 'The answer alone carries the secret with which its steps are signed (Standard Webhooks).',
    tags,
    body: hookWanted,
    response: { 201: hookMade, ...refused },
  },
  turn: { summary: 'Puts one on or off', tags, params, body: hookSwitch, response: { 200: hookTold, ...refused } },
  remove: { summary: 'Forgets one', tags, params, response: { 204: z.null(), ...refused } },
  test: {
    summary: 'Sends a step `test` by the very path of a real one, and says what came of it',
    tags,
    params,
    response: { 200: hookTested, ...refused },
  },
} as const;

/** What is POSTed to a hook, for the description of the API: a schema of JSON, since it is nobody's route here. */
export const hookPosts = {
  bell: {
    post: {
      summary: 'A step of a bell, told to every hook that is on',
      description: 'Signed as Standard Webhooks 1.0.0 has it: webhook-id, webhook-timestamp, webhook-signature.',
      tags,
      requestBody: {
        required: true,
        content: {
          'application/json': { schema: z.toJSONSchema(hookDocument, { target: 'draft-2020-12' }) as object },
        },
      },
      responses: { '2XX': { description: 'It has arrived. The body is not read.' } },
    },
  },
};

interface OfHook {
  readonly Params: { readonly id: string };
}

export function hookRoutes(app: FastifyInstance, hooks: Hooks): void {
  app.get('/api/v1/hooks', { schema: schemas.list }, () => hooks.list());
  app.post<{ Body: HookWanted }>('/api/v1/hooks', { schema: schemas.add }, ({ body }, reply) => {
    const expected = hooks.addressFault(body.url);
    if (expected !== null) throw new RefusedRequest('invalid-body', { field: 'url', expected });
    if (hooks.full) throw new RefusedRequest('out-of-range', { field: 'hooks', expected: `at most ${MOST_HOOKS}` });
    return reply.code(201).send(stored(() => hooks.add(body)));
  });
  app.patch<OfHook & { Body: { readonly on: boolean } }>('/api/v1/hooks/:id', { schema: schemas.turn }, (request) =>
    there(stored(() => hooks.turn(request.params.id, request.body.on))),
  );
  app.delete<OfHook>('/api/v1/hooks/:id', { schema: schemas.remove }, ({ params: { id: one } }, reply) => {
    if (!stored(() => hooks.remove(one))) throw new RefusedRequest('not-found');
    return reply.code(204).send();
  });
  app.post<OfHook>('/api/v1/hooks/:id/test', { schema: schemas.test }, ({ params: { id: one } }): Promise<HookTested> =>
    there(hooks.test(one)),
  );
}

/** What the disk does not take now may be asked again. */
function stored<T>(write: () => T): T {
  try {
    return write();
  } catch (error) {
    throw error instanceof StorageError ? new RefusedRequest('again') : error;
  }
}

function there<T>(found: T | null): T {
  if (found === null) throw new RefusedRequest('not-found');
  return found;
}
