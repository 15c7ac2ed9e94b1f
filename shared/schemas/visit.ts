import { z } from 'zod';
import { id, instant, placeNumber } from './basics.ts';
import { bell, episodes } from './bells.ts';
import { rules, stage, stageLimit } from './directions.ts';

export const version = z.int().min(1);
const passIndex = z.int().min(0);

export const mark = z.strictObject({ at: instant, by: id.nullable(), version });
export const water = mark.extend({ basin: placeNumber.nullable(), confirmed: z.boolean() });
export const indicator = z.enum(['colourless', 'coloured']);
export const strip = z.number().min(0).max(14);
export const shampoo = mark.extend({ indicator: indicator.nullable(), strip: strip.nullable() });

export const partIndex = z.int().min(0).max(11);
export const strandPlace = z.enum(['first', 'last', 'porous']);
export const strandResult = z.enum(['ready', 'not-yet']);

const hands = z.strictObject({ by: id.nullable(), fromAt: instant, untilAt: instant.nullable(), freeAt: instant });
const strandTest = mark.extend({ place: strandPlace, result: strandResult, part: partIndex.nullable() });

export const pass = z.strictObject({
  directions: id.nullable(),
  directionsVersion: version.nullable(),
  rules: rules.nullable(),
  begun: mark.nullable(),
  beginUnknown: z.boolean(),
  parts: z.array(z.strictObject({ part: partIndex, begunAt: instant, doneAt: instant, by: id.nullable() })),
  hands: z.array(hands),
  leftInWork: z.array(z.strictObject({ part: partIndex, sinceAt: instant })),
  tests: z.array(strandTest),
  heat: mark.extend({ on: z.boolean() }).nullable(),
  heated: z.boolean(),
  limits: mark.extend({ raised: z.boolean() }).nullable(),
  applied: mark.nullable(),
  water: water.nullable(),
  firstWater: water.nullable(),
  clear: mark.nullable(),
  shampoos: z.array(shampoo),
  neutralizerOn: mark.nullable(),
  neutralizerWater: water.nullable(),
  rodsOut: mark.nullable(),
  closeBought: z.boolean(),
});

export const owedItem = z.enum([
  'begin-unknown',
  'product-unknown',
  'not-marked',
  'rinse-short',
  'shampoos-short',
  'dwell-short',
  'proof-missing',
  'neutralizer-not-timed',
  'rods-not-marked',
]);
export const owedReason = z.enum([
  'done-not-marked',
  'client-asked',
  'skin-reaction',
  'equipment',
  'directions-changed',
  'other',
]);
export const burnsPlace = z.enum(['skin', 'eye']);
export const burnsEnd = z.enum(['eased', 'advice-sought', 'physician', 'emergency']);
export const visitEnd = z.enum([
  'done',
  'next-seated',
  'abandoned',
  'abandoned-with-product',
  'discarded',
  'unattended',
]);

export const tinglesAnswer = z.enum(['eased', 'mistaken', 'to-water', 'burns']);

const burns = z.strictObject({
  place: burnsPlace,
  at: instant,
  by: id.nullable(),
  waterAt: instant.nullable(),
  closed: mark.extend({ done: burnsEnd }).nullable(),
});

export const visitFacts = z.strictObject({
  id,
  version,
  chair: placeNumber,
  service: id.nullable(),
  stylist: id.nullable(),
  seatedAt: instant,
  stage,
  pass: passIndex,
  passes: z.array(pass),
  limits: z.array(stageLimit),
  way: z.array(mark.extend({ stage, pass: passIndex })),
  owed: z.array(z.strictObject({ version, item: owedItem, stage, pass: passIndex, reason: owedReason.nullable() })),
  burns: burns.nullable(),
  bells: z.array(bell),
  episodes,
  lastMove: z
    .strictObject({ type: z.string(), at: instant, recordedAt: instant, by: id.nullable(), version })
    .nullable(),
  end: visitEnd.nullable(),
  prepared: mark.nullable(),
  settled: mark.nullable(),
  attendedAt: instant.nullable(),
  timeLostAt: instant.nullable(),
  acts: z.array(z.strictObject({ by: id.nullable(), at: instant })),
  tingles: z
    .strictObject({
      at: instant,
      by: id.nullable(),
      answered: mark.extend({ answer: tinglesAnswer }).nullable(),
    })
    .nullable(),
  offered: mark.extend({ to: id }).nullable(),
});
