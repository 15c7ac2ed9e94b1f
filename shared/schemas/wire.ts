import { z } from 'zod';
import { streamNames } from '../protocol.ts';
import { screenKinds, soundKinds } from '../socket-events.ts';
import { reachKinds } from '../wire.ts';
import { id, instant, placeNumber, span } from './basics.ts';
import { bellCause, bellLevel, episode, floorBells, gap } from './bells.ts';
import { directions, service } from './directions.ts';
import { person, place, salon } from './salon.ts';
import { version, visitFacts } from './visit.ts';

export const streamName = z.enum(streamNames);
const revision = z.int().min(0);

export const floorEntity = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('salon'), facts: salon, name: z.string().nullable() }),
  z.strictObject({ kind: z.literal('place'), facts: place, label: z.string() }),
  z.strictObject({ kind: z.literal('person'), facts: person, name: z.string() }),
  z.strictObject({ kind: z.literal('service'), facts: service, name: z.string() }),
  z.strictObject({ kind: z.literal('directions'), facts: directions, name: z.string(), source: z.string().nullable() }),
  z.strictObject({ kind: z.literal('visit'), facts: visitFacts, label: z.string().nullable() }),
  z.strictObject({ kind: z.literal('floor-bells'), facts: floorBells }),
  z.strictObject({ kind: z.literal('gap'), facts: gap.nullable() }),
]);

const serverTime = { timescale: z.string(), now: instant, civilOffsetMs: z.int() };

export const snapshot = z.strictObject({
  ...serverTime,
  stream: streamName,
  run: z.string(),
  protocol: z.int(),
  revision,
  entities: z.record(z.string(), floorEntity),
});

export const push = z.strictObject({
  stream: streamName,
  previous: revision,
  revision,
  entities: z.record(z.string(), floorEntity.nullable()),
});

export const storageFacts = z.strictObject({
  trouble: z.enum(['full', 'failing', 'readonly', 'corrupt', 'busy']).nullable(),
  damageFoundAt: instant.nullable(),
  backupAt: instant.nullable(),
  backupTrouble: z.enum(['none-yet', 'folder', 'full', 'failing', 'unverified']).nullable(),
});

export const heartbeat = z.strictObject({
  ...serverTime,
  run: z.string(),
  revision,
  unsaved: z.boolean(),
  storage: storageFacts,
  awayMs: span.nullable(),
});

export const clockStamps = z.strictObject({ timescale: z.string(), receivedAt: instant, sentAt: instant });

export const joinRequest = z.strictObject({ streams: z.array(streamName).max(streamNames.length), protocol: z.int() });

export const keptTime = z.strictObject({ device: id, timescale: z.string().min(1).max(64), now: instant });

export const testBell = z.strictObject({ level: bellLevel });

export const here = z.strictObject({
  device: id,
  screen: z.enum(screenKinds),
  person: id.nullable(),
  sound: z.enum(soundKinds),
  heard: z.boolean(),
  seen: z.boolean(),
  mutedUntil: instant.nullable(),
});

export const bellMeant = z.strictObject({
  visit: id.nullable(),
  chair: placeNumber.nullable(),
  cause: bellCause,
  episode,
  level: bellLevel,
});

export const shownBells = z.strictObject({ device: id, person: id, bells: z.array(bellMeant).max(100) });

export const reachTold = z.strictObject({
  people: z.array(
    z.strictObject({
      person: id,
      how: z.enum(reachKinds),
      sinceAt: instant,
      mutedUntil: instant.nullable(),
    }),
  ),
  walls: z.strictObject({ sounding: z.int().min(0), silent: z.int().min(0) }),
});

export const wireAnswer = z.strictObject({
  outcome: z.enum(['done', 'kept-unsaved']),
  visit: id.nullable(),
  version: version.nullable(),
  revision,
});

export const handTurn = z.strictObject({ now: instant, revision });

export const readiness = z.strictObject({ ready: z.boolean(), storage: storageFacts });

export const backupsTold = z
  .strictObject({ folder: z.string(), sameDisk: z.boolean(), kept: z.int().min(0), flags: z.string() })
  .nullable();

export const about = z.strictObject({
  protocol: z.int(),
  run: z.string(),
  lan: z.boolean(),
  addresses: z.array(z.string()),
  handClock: z.boolean(),
  modelDay: z.boolean(),
});
