import { z } from 'zod';
import { id, instant } from './basics.ts';

export const circle = z.union([z.literal(0), z.literal(1), z.literal(2)]);
export const widenReason = z.enum(['untaken', 'taking-expired', 'passed-on', 'not-shown', 'nobody-there']);

export const bellLevel = z.enum(['NOTICE', 'CAUTION', 'WARNING', 'DANGER']);
export const bellKind = z.enum([
  'begun?',
  'pace',
  'soon',
  'test',
  'rinse',
  'over',
  'water-on?',
  'water',
  'dwell',
  'back-to-rinse',
  'long-stage',
  'unattended',
  'tingles',
  'help',
  'burns',
  'abandoned',
  'nobody-reached',
  'time-uncertain',
  'not-saved',
]);
export const bellCause = z.enum([
  'begun?',
  'pace',
  'test',
  'off',
  'neutralizer',
  'water-on?',
  'water',
  'dwell',
  'back-to-rinse',
  'long-stage',
  'unattended',
  'tingles',
  'help',
  'burns',
  'abandoned',
  'nobody-reached',
  'time-uncertain',
  'not-saved',
]);
export const bellEnd = z.enum([
  'deed-done',
  'corrected',
  'taken-back',
  'had-happened',
  'moved-on',
  'cleared',
  'visit-ended',
]);

export const episode = z.int().min(1);

export const bell = z.strictObject({
  cause: bellCause,
  kind: bellKind,
  level: bellLevel,
  episode,
  dueAt: instant,
  rungAt: instant,
  levelAt: instant,
  soundAt: instant.nullable(),
  helper: id.nullable(),
  circle,
  circleAt: instant,
  taken: z.strictObject({ by: id, at: instant }).nullable(),
  passed: z.array(id),
  shown: z.array(z.strictObject({ person: id, at: instant })),
  unreached: z.array(id),
});

export const episodes = z.array(z.strictObject({ cause: bellCause, episode }));

export const floorBells = z.strictObject({ bells: z.array(bell), episodes });

export const gap = z.strictObject({
  fromAt: instant,
  toAt: instant,
  why: z.enum(['slept', 'restarted', 'rebooted']),
});
