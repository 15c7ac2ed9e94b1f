import { z } from 'zod';
import { id, instant, placeNumber, span, word } from './basics.ts';
import { bellCause, bellKind, bellLevel, episode } from './bells.ts';

/** Longest name and address of a hook, in UTF-16 units. */
const NAME = 40;
const ADDRESS = 500;

const step = z.enum(['rung', 'widened', 'taken', 'passed', 'not_reached', 'ended', 'standing', 'test']);
const counts = z.record(bellLevel, z.int().min(0));
/** RFC 3339, always UTC. */
const civil = z.iso.datetime();

export const hookDocument = z.strictObject({
  type: z.templateLiteral(['bell.', step]),
  timestamp: civil,
  data: z.strictObject({
    step,
    why: z.string().nullable(),
    kind: bellKind.nullable(),
    level: bellLevel.nullable(),
    cause: bellCause.nullable(),
    episode: episode.nullable(),
    circle: z.union([z.literal(0), z.literal(1), z.literal(2)]).nullable(),
    subject: z.strictObject({
      of: z.enum(['chair', 'floor']),
      chair: placeNumber.nullable(),
      label: z.string().nullable(),
    }),
    dueAt: civil.nullable(),
    rungAt: civil.nullable(),
  }),
  standing: counts,
  untaken: counts,
});

export const hookFault = z.enum([
  'timeout',
  'refused',
  'no-name',
  'unreachable',
  'tls',
  'broken',
  'redirect',
  'answered',
  'own-address',
  'no-device',
]);

const status = z.int().min(100).max(999);

export const hookTold = z.strictObject({
  id,
  name: z.string(),
  url: z.string(),
  on: z.boolean(),
  waiting: z.int().min(0),
  deliveredAt: instant.nullable(),
  failing: z
    .strictObject({ sinceAt: instant, why: hookFault, status: status.nullable(), givenUp: z.int().min(0) })
    .nullable(),
});

export const hooksTold = z.array(hookTold);

export const hookWanted = z.strictObject({ name: word(NAME), url: word(ADDRESS) });

export const hookSwitch = z.strictObject({ on: z.boolean() });

export const hookMade = z.strictObject({ hook: hookTold, secret: z.string() });

export const hookTested = z.discriminatedUnion('outcome', [
  z.strictObject({ outcome: z.literal('delivered'), status, afterMs: span }),
  z.strictObject({ outcome: z.literal('failed'), why: hookFault, status: status.nullable(), afterMs: span }),
  z.strictObject({ outcome: z.literal('waiting'), behind: z.int().min(0) }),
]);
