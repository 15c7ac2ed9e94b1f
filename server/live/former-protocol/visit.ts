import { z } from 'zod';
import { rules, stageLimit } from './directions.ts';
import { count, episodes, id, instant, stage, visitBells, word } from './words.ts';

const mark = { at: instant, by: id.nullable(), version: count };
const water = z.object({ ...mark, basin: count.nullable(), confirmed: z.boolean() }).nullable();
const marked = z.object(mark).nullable();

const pass = z.object({
  directions: id.nullable(),
  directionsVersion: count.nullable(),
  rules: rules.nullable(),
  begun: marked,
  beginUnknown: z.boolean(),
  parts: z.array(z.object({ part: count, begunAt: instant, doneAt: instant, by: id.nullable() })),
  hands: z.array(z.object({ by: id.nullable(), fromAt: instant, untilAt: instant.nullable(), freeAt: instant })),
  leftInWork: z.array(z.object({ part: count, sinceAt: instant })),
  tests: z.array(
    z.object({
      ...mark,
      place: word(['first', 'last', 'porous'], 'porous'),
      result: word(['ready', 'not-yet'], 'not-yet'),
      part: count.nullable(),
    }),
  ),
  heat: z.object({ ...mark, on: z.boolean() }).nullable(),
  heated: z.boolean(),
  limits: z.object({ ...mark, raised: z.boolean() }).nullable(),
  applied: marked,
  water,
  firstWater: water,
  clear: marked,
  shampoos: z.array(
    z.object({
      ...mark,
      indicator: word(['colourless', 'coloured'], 'coloured').nullable(),
      strip: z.number().nullable(),
    }),
  ),
  neutralizerOn: marked,
  neutralizerWater: water,
  rodsOut: marked,
  closeBought: z.boolean(),
});

const owedItem = word(
  [
    'begin-unknown',
    'product-unknown',
    'not-marked',
    'rinse-short',
    'shampoos-short',
    'dwell-short',
    'proof-missing',
    'neutralizer-not-timed',
    'rods-not-marked',
  ],
  'not-marked',
);
const owedReason = word(
  ['done-not-marked', 'client-asked', 'skin-reaction', 'equipment', 'directions-changed', 'other'],
  'other',
);
const burnsEnd = word(['eased', 'advice-sought', 'physician', 'emergency'], 'advice-sought');

const burns = z.object({
  place: word(['skin', 'eye'], 'skin'),
  at: instant,
  by: id.nullable(),
  waterAt: instant.nullable(),
  closed: z.object({ ...mark, done: burnsEnd }).nullable(),
});

export const visit = z.object({
  id,
  version: count,
  chair: count,
  service: id.nullable(),
  stylist: id.nullable(),
  seatedAt: instant,
  stage,
  pass: count,
  passes: z.array(pass),
  limits: z.array(stageLimit),
  way: z.array(z.object({ ...mark, stage, pass: count })),
  owed: z.array(z.object({ version: count, item: owedItem, stage, pass: count, reason: owedReason.nullable() })),
  burns: burns.nullable(),
  bells: visitBells,
  episodes,
  lastMove: z
    .object({ type: z.string(), at: instant, recordedAt: instant, by: id.nullable(), version: count })
    .nullable(),
  end: word(
    ['done', 'next-seated', 'abandoned', 'abandoned-with-product', 'discarded', 'unattended'],
    'done',
  ).nullable(),
  prepared: marked,
  settled: marked,
  attendedAt: instant.nullable(),
  timeLostAt: instant.nullable(),
});
