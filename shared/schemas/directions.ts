import { z } from 'zod';
import { id, instant, span } from './basics.ts';

export const stage = z.enum(['prep', 'apply', 'process', 'rinse', 'neutralize', 'condition', 'dry', 'finished']);
export const productClass = z.enum(['hydroxide', 'thio', 'lightener', 'colour', 'other']);
export const partPlace = z.enum(['nape-left', 'nape-right', 'front-left', 'front-right', 'hairline', 'other']);

export const partPlan = z.strictObject({ place: partPlace, share: z.number(), ceilingMs: span.nullable() });

const shampoos = z.strictObject({
  kind: z.literal('shampoos'),
  count: z.int().min(1).max(10),
  dwellMs: span,
  proof: z.enum(['indicator', 'strip', 'count']),
  stripLimit: z.number().min(0).max(14).nullable(),
});
const neutralizer = z.strictObject({
  kind: z.literal('neutralizer'),
  minAfterMs: span,
  maxAfterMs: span,
  rinseMs: span,
  rods: z.boolean(),
});
const condition = z.strictObject({ kind: z.literal('condition'), dwellMs: span });

export const finishingStep = z.discriminatedUnion('kind', [shampoos, neutralizer, condition]);

const heatLimits = z.strictObject({ minAfterMs: span, maxAfterMs: span, ceilingMs: span.nullable() });

export const rules = z.strictObject({
  class: productClass,
  nominalMs: span,
  minAfterMs: span,
  maxAfterMs: span,
  ceilingMs: span.nullable(),
  minTotalMs: span.nullable(),
  manner: z.enum(['whole-head', 'by-part']),
  parts: z.array(partPlan).max(12),
  firstTestMs: span,
  testEveryMs: span,
  graceMs: span,
  rinseMs: span,
  finishing: z.array(finishingStep).max(4),
  heat: z.enum(['never', 'allowed', 'required']),
  underHeat: heatLimits.nullable(),
  headsPerContainer: z.number().min(0).max(100).nullable(),
  washAfterHours: z.number().min(0).max(10_000).nullable(),
  colourAfterDays: z.number().min(0).max(1_000).nullable(),
});

export const stageLimit = z.strictObject({ stage, limitMs: span });

export const directions = z.strictObject({
  id,
  version: z.int().min(1),
  rules,
  copiedAt: instant,
  copiedBy: id.nullable(),
  retired: z.boolean(),
});

export const service = z.strictObject({
  id,
  passes: z.array(id).max(6),
  limits: z.array(stageLimit).max(8),
  retired: z.boolean(),
});
