import { z } from 'zod';
import { id, instant, placeNumber, span } from './basics.ts';
import { bell, episodes } from './bells.ts';

export const placeKind = z.enum(['chair', 'basin']);
export const role = z.enum(['stylist', 'assistant', 'senior', 'reception', 'manager', 'owner']);
export const hourCycle = z.enum(['h12', 'h23']);

export const place = z.strictObject({
  number: placeNumber,
  kind: placeKind,
  retired: z.boolean(),
  help: z.strictObject({ by: id.nullable(), at: instant }).nullable(),
  bells: z.array(bell),
  episodes,
});
export const person = z.strictObject({
  id,
  roles: z.array(role).max(6),
  retired: z.boolean(),
  shift: z.strictObject({ sinceAt: instant }).nullable(),
  away: z.strictObject({ fromAt: instant, untilAt: instant, cover: id.nullable() }).nullable(),
});

export const figures = z.strictObject({
  reserveMs: span,
  walkMs: span,
  rinseLeadMs: span,
  soonMs: span,
  waterSureMs: span,
  takeBackMs: span,
});

export const wallSize = z.strictObject({
  diagonalIn: z.number().min(5).max(200),
  distanceM: z.number().min(0.3).max(30),
});

const volume = z.number().min(0).max(1);
export const room = z.strictObject({
  spoken: z.boolean(),
  names: z.boolean(),
  volume: z.strictObject({ CAUTION: volume, WARNING: volume, DANGER: volume }),
});

export const salon = z.strictObject({
  setUpAt: instant.nullable(),
  zone: z.string().min(1).max(64),
  language: z.string().min(2).max(35),
  hourCycle,
  figures,
  wall: wallSize,
  room,
  push: z.boolean(),
  usualService: id.nullable(),
  demonstration: z.boolean(),
  civilOffsetMs: z.int(),
  uncertainSince: instant.nullable(),
  offsetHeld: z.boolean(),
  lastSure: z.strictObject({ aliveAt: instant, timescale: z.string().nullable() }).nullable(),
});
