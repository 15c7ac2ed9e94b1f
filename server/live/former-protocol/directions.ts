import { z } from 'zod';
import { count, id, instant, stage, word } from './words.ts';

const ms = z.number();

const finishing = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('shampoos'),
    count,
    dwellMs: ms,
    proof: word(['indicator', 'strip', 'count'], 'count'),
    stripLimit: z.number().nullable(),
  }),
  z.object({ kind: z.literal('neutralizer'), minAfterMs: ms, maxAfterMs: ms, rinseMs: ms, rods: z.boolean() }),
  z.object({ kind: z.literal('condition'), dwellMs: ms }),
]);

const place = word(['nape-left', 'nape-right', 'front-left', 'front-right', 'hairline', 'other'], 'other');

export const rules = z.object({
  class: word(['hydroxide', 'thio', 'lightener', 'colour', 'other'], 'other'),
  nominalMs: ms,
  minAfterMs: ms,
  maxAfterMs: ms,
  ceilingMs: ms.nullable(),
  minTotalMs: ms.nullable(),
  manner: word(['whole-head', 'by-part'], 'whole-head'),
  parts: z.array(z.object({ place, share: z.number(), ceilingMs: ms.nullable() })),
  firstTestMs: ms,
  testEveryMs: ms,
  graceMs: ms,
  rinseMs: ms,
  finishing: z.array(finishing),
  heat: word(['never', 'allowed', 'required'], 'allowed'),
  underHeat: z.object({ minAfterMs: ms, maxAfterMs: ms, ceilingMs: ms.nullable() }).nullable(),
  headsPerContainer: z.number().nullable(),
  washAfterHours: z.number().nullable(),
  colourAfterDays: z.number().nullable(),
});

export const stageLimit = z.object({ stage, limitMs: ms });

export const directions = z.object({
  id,
  version: count,
  rules,
  copiedAt: instant,
  copiedBy: id.nullable(),
  retired: z.boolean(),
});

export const service = z.object({
  id,
  passes: z.array(id),
  limits: z.array(stageLimit),
  retired: z.boolean(),
});
