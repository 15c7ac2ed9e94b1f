import { z } from 'zod';
import { id, instant } from './basics.ts';

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
  'long-stage',
  'unattended',
  'burns',
  'abandoned',
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
  'long-stage',
  'unattended',
  'burns',
  'abandoned',
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
  taken: z.strictObject({ by: id, at: instant }).nullable(),
});

export const episodes = z.array(z.strictObject({ cause: bellCause, episode }));

export const floorBells = z.strictObject({ bells: z.array(bell), episodes });

export const gap = z.strictObject({
  fromAt: instant,
  toAt: instant,
  why: z.enum(['slept', 'restarted', 'rebooted']),
});
