import { z } from 'zod';
import { id, instant, placeNumber, span } from './basics.ts';

export const placeKind = z.enum(['chair', 'basin']);
export const role = z.enum(['stylist', 'assistant', 'senior', 'reception', 'manager', 'owner']);
export const hourCycle = z.enum(['h12', 'h23']);

export const place = z.strictObject({ number: placeNumber, kind: placeKind, retired: z.boolean() });
export const person = z.strictObject({ id, roles: z.array(role).max(6), retired: z.boolean() });

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

export const salon = z.strictObject({
  setUpAt: instant.nullable(),
  zone: z.string().min(1).max(64),
  language: z.string().min(2).max(35),
  hourCycle,
  figures,
  wall: wallSize,
  usualService: id.nullable(),
  demonstration: z.boolean(),
  civilOffsetMs: z.int(),
  uncertainSince: instant.nullable(),
  offsetHeld: z.boolean(),
  lastSure: z.strictObject({ aliveAt: instant, timescale: z.string().nullable() }).nullable(),
});
