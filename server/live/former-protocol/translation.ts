import { z } from 'zod';
import type { Floor } from '../../../core/floor.ts';
import type { CommandRequest, FloorEntity, Heartbeat, Push } from '../../../shared/wire.ts';
import { directions, service } from './directions.ts';
import { visit } from './visit.ts';
import { count, episodes, floorBells, id, instant, knewCause, NEAREST_BELL, word } from './words.ts';

const figures = z.object({
  reserveMs: z.number(),
  walkMs: z.number(),
  rinseLeadMs: z.number(),
  soonMs: z.number(),
  waterSureMs: z.number(),
  takeBackMs: z.number(),
});

const salon = z.object({
  setUpAt: instant.nullable(),
  zone: z.string(),
  language: z.string(),
  hourCycle: word(['h12', 'h23'], 'h23'),
  figures,
  wall: z.object({ diagonalIn: z.number(), distanceM: z.number() }),
  usualService: id.nullable(),
  demonstration: z.boolean(),
  civilOffsetMs: z.number(),
  uncertainSince: instant.nullable(),
  offsetHeld: z.boolean(),
  lastSure: z.object({ aliveAt: instant, timescale: z.string().nullable() }).nullable(),
});

const place = z.object({ number: count, kind: word(['chair', 'basin'], 'basin'), retired: z.boolean() });

const roles = ['stylist', 'assistant', 'senior', 'reception', 'manager', 'owner'] as const;
const person = z.object({
  id,
  // A right that the screen does not know gives it nothing to offer.
  roles: z.array(z.string()).transform((all) => roles.filter((role) => all.includes(role))),
  retired: z.boolean(),
});

const gap = z.object({
  fromAt: instant,
  toAt: instant,
  why: word(['slept', 'restarted', 'rebooted'], 'restarted'),
});

const words = z.string();

/** What a screen of the former protocol is told of each thing on the floor: what these let through is what it knew. */
export const formerEntity = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('salon'), facts: salon, name: words.nullable() }),
  z.object({ kind: z.literal('place'), facts: place, label: words }),
  z.object({ kind: z.literal('person'), facts: person, name: words }),
  z.object({ kind: z.literal('service'), facts: service, name: words }),
  z.object({ kind: z.literal('directions'), facts: directions, name: words, source: words.nullable() }),
  z.object({ kind: z.literal('visit'), facts: visit, label: words.nullable() }),
  z.object({ kind: z.literal('floor-bells'), facts: z.object({ bells: floorBells, episodes }) }),
  z.object({ kind: z.literal('gap'), facts: gap.nullable() }),
]);
export type FormerEntity = z.output<typeof formerEntity>;

export const formerBeat = z.object({
  timescale: z.string(),
  now: instant,
  civilOffsetMs: z.number(),
  run: z.string(),
  revision: count,
  unsaved: z.boolean(),
  storage: z.object({
    trouble: word(['full', 'failing', 'readonly', 'corrupt', 'busy'], 'failing').nullable(),
    damageFoundAt: instant.nullable(),
    backupAt: instant.nullable(),
    backupTrouble: word(['none-yet', 'folder', 'full', 'failing', 'unverified'], 'failing').nullable(),
  }),
  awayMs: z.number().nullable(),
});

export interface FormerPush extends Omit<Push, 'entities'> {
  readonly entities: Readonly<Record<string, FormerEntity | null>>;
}

/** An entity in the former protocol's words; null for a kind of thing that it did not have. */
export function toldFormerly(entity: FloorEntity): FormerEntity | null {
  const told = formerEntity.safeParse(entity);
  return told.success ? told.data : null;
}

export function pushedFormerly({ entities, ...push }: Push): FormerPush {
  const told: Record<string, FormerEntity | null> = {};
  for (const [key, entity] of Object.entries(entities)) {
    const former = entity === null ? null : toldFormerly(entity);
    if (entity === null || former !== null) told[key] = former;
  }
  return { ...push, entities: told };
}

export function beatFormerly(beat: Heartbeat): z.output<typeof formerBeat> {
  return formerBeat.parse(beat);
}

/**
 * "I'll go" to a bell that was told as another one means the one that was told. A command does not say which protocol
 * its screen speaks; where a bell of the named cause stands, that one is meant.
 */
export function meantNow(request: CommandRequest, floor: Floor): CommandRequest {
  if (request.type !== 'TakeBell' || request.visit === null || request.cause !== NEAREST_BELL) return request;
  const bells = floor.visits[request.visit]?.facts.bells ?? [];
  if (bells.some(({ cause }) => cause === NEAREST_BELL)) return request;
  const newer = bells.find(({ cause }) => !knewCause(cause));
  return newer === undefined ? request : { ...request, cause: newer.cause };
}
