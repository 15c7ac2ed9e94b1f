import type { StageLimit } from '../../core/directions/directions.ts';
import type { PartPlan, Rules } from '../../core/directions/rules.ts';
import { SECOND } from '../../core/time.ts';
import type { Finishing, Leaflet, Offer } from './machine/head.ts';

/** An invented morning; both sides count from here. */
export const startAt = Date.UTC(2026, 4, 5, 9);
export const chairs = { all: [1, 2, 3, 4], taken: 2, free: [1, 3, 4], unknown: 77, basin: 91 } as const;

const min = 60;
const leaflet = (changes: Partial<Leaflet>): Leaflet => ({
  kind: 'hydroxide',
  minAfter: 10 * min,
  maxAfter: 15 * min,
  ceiling: 30 * min,
  minTotal: null,
  parts: [null, null, null, null],
  nominal: 15 * min,
  shares: [0.25, 0.25, 0.25, 0.25],
  byPart: false,
  firstTest: 5 * min,
  testEvery: 5 * min,
  grace: 2 * min,
  heat: 'never',
  underHeat: null,
  rinse: 5 * min,
  finishing: [],
  ...changes,
});
const shampoos = (changes: Partial<Extract<Finishing, { kind: 'shampoos' }>> = {}): Finishing => ({
  kind: 'shampoos',
  count: 2,
  dwell: 2 * min,
  proof: 'indicator',
  limit: null,
  ...changes,
});
const condition: Finishing = { kind: 'condition', dwell: 3 * min };

/** What the salon of the duel sells. All figures are invented for tests. */
export const offers: Offer[] = [
  // A relaxer with a ceiling.
  {
    passes: [leaflet({ finishing: [shampoos(), condition] })],
    limits: { prep: 20 * min, rinse: 12 * min, dry: 25 * min },
  },
  // A perm with a neutralizer.
  {
    passes: [
      leaflet({
        kind: 'thio',
        ceiling: 40 * min,
        heat: 'allowed',
        underHeat: { minAfter: 6 * min, maxAfter: 11 * min, ceiling: 32 * min },
        finishing: [
          { kind: 'neutralizer', minAfter: 5 * min, maxAfter: 10 * min, rinse: 3 * min, rods: true },
          condition,
        ],
      }),
    ],
    limits: { neutralize: 15 * min },
  },
  // A colour without a ceiling.
  {
    passes: [
      leaflet({
        kind: 'colour',
        ceiling: null,
        minAfter: 20 * min,
        maxAfter: 30 * min,
        firstTest: 12 * min,
        heat: 'required',
        finishing: [condition],
      }),
    ],
    limits: {},
  },
  // A lightener whose hairline has its own ceiling, then a toner.
  {
    passes: [
      leaflet({
        kind: 'lightener',
        ceiling: 50 * min,
        minTotal: 25 * min,
        parts: [null, null, 18 * min],
        nominal: 20 * min,
        shares: [0.5, 0.25, 0.25],
        testEvery: 3 * min,
        heat: 'allowed',
        finishing: [condition],
      }),
      leaflet({
        kind: 'colour',
        ceiling: null,
        minAfter: 4 * min,
        maxAfter: 9 * min,
        rinse: 2 * min,
        finishing: [condition],
      }),
    ],
    limits: { apply: 25 * min, condition: 8 * min },
  },
  // Conditioner first, then shampoos shown by strips.
  {
    passes: [
      leaflet({
        kind: 'other',
        ceiling: 25 * min,
        finishing: [condition, shampoos({ count: 1, proof: 'strip', limit: 7 })],
      }),
    ],
    limits: { process: 9 * min },
  },
  // Foils: a lightener that comes off part by part.
  {
    passes: [
      leaflet({
        kind: 'lightener',
        ceiling: 45 * min,
        maxAfter: 25 * min,
        parts: [null, null, 30 * min],
        shares: [0.5, 0.25, 0.25],
        byPart: true,
        heat: 'allowed',
        underHeat: { minAfter: 8 * min, maxAfter: 20 * min, ceiling: 40 * min },
        finishing: [condition],
      }),
    ],
    limits: {},
  },
];

function partsOf(one: Leaflet): PartPlan[] {
  return one.parts.map((ceiling, index) => ({
    place: index === 2 && ceiling !== null ? 'hairline' : 'other',
    share: one.shares[index] ?? 0,
    ceilingMs: ceiling === null ? null : ceiling * SECOND,
  }));
}

function finishingOf(step: Finishing): Rules['finishing'][number] {
  switch (step.kind) {
    case 'shampoos':
      return {
        kind: 'shampoos',
        count: step.count,
        dwellMs: step.dwell * SECOND,
        proof: step.proof,
        stripLimit: step.limit,
      };
    case 'neutralizer':
      return {
        kind: 'neutralizer',
        minAfterMs: step.minAfter * SECOND,
        maxAfterMs: step.maxAfter * SECOND,
        rinseMs: step.rinse * SECOND,
        rods: step.rods,
      };
    case 'condition':
      return { kind: 'condition', dwellMs: step.dwell * SECOND };
    default:
      throw new Error(step satisfies never);
  }
}

function rulesOf(one: Leaflet): Rules {
  return {
    class: one.kind,
    nominalMs: one.nominal * SECOND,
    minAfterMs: one.minAfter * SECOND,
    maxAfterMs: one.maxAfter * SECOND,
    ceilingMs: one.ceiling === null ? null : one.ceiling * SECOND,
    minTotalMs: one.minTotal === null ? null : one.minTotal * SECOND,
    manner: one.byPart ? 'by-part' : 'whole-head',
    parts: partsOf(one),
    firstTestMs: one.firstTest * SECOND,
    testEveryMs: one.testEvery * SECOND,
    graceMs: one.grace * SECOND,
    rinseMs: one.rinse * SECOND,
    finishing: one.finishing.map(finishingOf),
    heat: one.heat,
    underHeat: one.underHeat && {
      minAfterMs: one.underHeat.minAfter * SECOND,
      maxAfterMs: one.underHeat.maxAfter * SECOND,
      ceilingMs: one.underHeat.ceiling === null ? null : one.underHeat.ceiling * SECOND,
    },
    headsPerContainer: null,
    washAfterHours: null,
    colourAfterDays: null,
  };
}

function limitsOf(offer: Offer): StageLimit[] {
  return Object.entries(offer.limits).map(([stage, limit]) => ({
    stage: stage as StageLimit['stage'],
    limitMs: limit * SECOND,
  }));
}

/** The same, as core has them. */
export const services = offers.map((offer) => ({ passes: offer.passes.map(rulesOf), limits: limitsOf(offer) }));
