import { ECDH } from 'node:crypto';
import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { Floor } from '../../core/floor.ts';
import type { PushReceipt, SubscriptionWanted } from '../../shared/push.ts';
import { id } from '../../shared/schemas/basics.ts';
import { problem } from '../../shared/schemas/problem.ts';
import {
  pushReceipt,
  pushTestSent,
  pushTestWanted,
  pushTold,
  receiptHeard,
  subscriptionTold,
  subscriptionWanted,
} from '../../shared/schemas/push.ts';
import { endpointFault } from '../reach/push/endpoint.ts';
import { MOST_DEVICES, type Pushes } from '../reach/push/pushes.ts';
import { StorageError } from '../store/store.ts';
import { RefusedRequest } from './problems.ts';

const tags = ['push'];
const params = z.strictObject({ device: id });
const refused = { '4xx': problem, '5xx': problem };
const schemas = {
  told: {
    summary: 'Whether bells go to phones by push, and the public key that a subscription is made with',
    tags,
    response: { 200: pushTold, ...refused },
  },
  one: {
    summary: 'How it stands with the pushes of one device',
    tags,
    params,
    response: { 200: subscriptionTold, ...refused },
  },
  keep: {
    summary: 'Keeps the subscription of one device and who holds it, in the place of what it had',
    description: 'Sent at every start of a page: with the same content it changes nothing and stays confirmed.',
    tags,
    params,
    body: subscriptionWanted,
    response: { 200: subscriptionTold, ...refused },
  },
  drop: { summary: 'Forgets the subscription of one device', tags, params, response: { 204: z.null(), ...refused } },
  hear: {
    summary: 'A worker says that it has shown what was pushed to it',
    description: 'Sent again it says so; nothing is recorded twice.',
    tags,
    body: pushReceipt,
    response: { 200: receiptHeard, ...refused },
  },
  test: {
    summary: 'Sends a push to one device by the very path of a bell',
    description: 'Answered at once. The device counts as reached by push once its receipt has come back.',
    tags,
    body: pushTestWanted,
    response: { 202: pushTestSent, ...refused },
  },
} as const;

interface OfDevice {
  readonly Params: { readonly device: string };
}

export interface PushRouteDeps {
  readonly pushes: Pushes;
  readonly floor: () => Floor;
  /** An endpoint on this machine, for tests: only under a clock moved by hand. */
  readonly loopbackToo: boolean;
}

export function pushRoutes(app: FastifyInstance, deps: PushRouteDeps): void {
  const { pushes } = deps;
  app.get('/api/v1/push', { schema: schemas.told }, () => stored(() => pushes.told));
  app.get<OfDevice>('/api/v1/push/subscriptions/:device', { schema: schemas.one }, ({ params: { device } }) => {
    return subscribed(pushes.subscription(device));
  });
  app.put<OfDevice & { Body: SubscriptionWanted }>(
    '/api/v1/push/subscriptions/:device',
    { schema: schemas.keep },
    ({ params: { device }, body }) => {
      judge(device, body, deps);
      return stored(() => pushes.keep(device, body));
    },
  );
  app.delete<OfDevice>('/api/v1/push/subscriptions/:device', { schema: schemas.drop }, (request, reply) => {
    subscribed(stored(() => pushes.drop(request.params.device)) ? true : null);
    return reply.code(204).send();
  });
  app.post<{ Body: PushReceipt }>('/api/v1/push/receipts', { schema: schemas.hear }, ({ body }) => {
    const outcome = stored(() => pushes.hear(body.receipt));
    if (outcome === 'unknown') throw new RefusedRequest('receipt-unknown');
    if (outcome === 'too-old') throw new RefusedRequest('receipt-too-old');
    return { outcome };
  });
  app.post<{ Body: { readonly device: string } }>('/api/v1/push/test', { schema: schemas.test }, (request, reply) => {
    if (!pushes.on) throw new RefusedRequest('push-off');
    const outcome = subscribed(stored(() => pushes.test(request.body.device)));
    return reply.code(202).send({ outcome });
  });
}

/** Refused while it is off, for nobody who does not exist, and for nothing that could not be sent to. */
function judge(device: string, { person, endpoint, keys }: SubscriptionWanted, deps: PushRouteDeps): void {
  const { pushes, floor, loopbackToo } = deps;
  if (!pushes.on) throw new RefusedRequest('push-off');
  if (floor().people[person]?.retired !== false) throw new RefusedRequest('unknown-person');
  const expected = endpointFault(endpoint, { loopbackToo });
  if (expected !== null) throw new RefusedRequest('invalid-body', { field: 'endpoint', expected });
  if (!isPublicKey(keys.p256dh)) {
    throw new RefusedRequest('invalid-body', { field: 'keys.p256dh', expected: 'a point of P-256' });
  }
  if (pushes.full && pushes.subscription(device) === null) {
    throw new RefusedRequest('out-of-range', { field: 'devices', expected: `at most ${MOST_DEVICES}` });
  }
}

/** Uncompressed, and on the curve: else nothing could be encrypted for it (RFC 8291 §3.1). */
function isPublicKey(p256dh: string): boolean {
  try {
    const key = Buffer.from(p256dh, 'base64url');
    return key.length === 65 && ECDH.convertKey(key, 'prime256v1').length === 65;
  } catch {
    return false;
  }
}

function subscribed<T>(found: T | null): T {
  if (found === null) throw new RefusedRequest('not-subscribed');
  return found;
}

/** What the disk does not take now may be asked again. */
function stored<T>(write: () => T): T {
  try {
    return write();
  } catch (error) {
    throw error instanceof StorageError ? new RefusedRequest('again') : error;
  }
}
