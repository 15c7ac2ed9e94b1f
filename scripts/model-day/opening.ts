import type { VisitId } from '../../core/ids.ts';
import { MINUTE, SECOND, type Ms } from '../../core/time.ts';
import { between, type Draw } from './random.ts';
import { assistant, instructor } from './salon.ts';
import type { Temper } from './temper.ts';

/** The day so far when somebody looks in: it is played before that. */
export const DAY_SO_FAR: Ms = 65 * MINUTE;

/** Ids of our own visits: the first model at chair 4 is `model-4-1`. */
export function visitId(chair: number, model: number): VisitId {
  return `model-${chair}-${model}`;
}

export function modelOf(visit: VisitId): { readonly chair: number; readonly model: number } | null {
  const found = /^model-(\d+)-(\d+)$/.exec(visit);
  return found === null ? null : { chair: Number(found[1]), model: Number(found[2]) };
}

interface Opening {
  /** Seated so long before the moment of looking in. */
  readonly seatedBefore: Ms;
  readonly temper: Partial<Temper>;
}

const even = (pace: number): readonly number[] => [pace, pace, pace, pace];

/** No strand of theirs is found ready before somebody goes by the window. */
const NEVER_EARLY = 9;

/**
 * The first model of each chair, timed so that the wall tells the whole trade at the first look. Counted from then:
 * 1 in apply, in time, finish by +9 min; 2 in apply, its pace bell rang 20 s ago, the assistant has taken it and joins at +0:50;
 * 3 lightener, a strand test due since 20 s; 4 no room, part windows, off by +3:35, rings at +0:35; 5 under water; 6 neutralizer on,
 * off from about +2; 7 drying; 8 free, the next model comes at about +1:30.
 */
const openings: Readonly<Record<number, Opening>> = {
  1: { seatedBefore: 13 * MINUTE, temper: { service: 'service-relaxing', prepMs: 4 * MINUTE, pace: even(0.96) } },
  2: {
    seatedBefore: 10 * MINUTE + 28 * SECOND,
    temper: {
      ...{ service: 'service-relaxing', prepMs: 4.5 * MINUTE, pace: even(1.5), share: 0.6, lateMs: 0 },
      ...{ helps: true, taker: assistant, takeMs: 10 * SECOND, goMs: 60 * SECOND },
    },
  },
  3: {
    seatedBefore: 31 * MINUTE + 25 * SECOND,
    temper: {
      ...{ service: 'service-lightening', prepMs: 5 * MINUTE, pace: even(0.9), share: 0.2, lateMs: 0 },
      ...{ testMoreMs: 70 * SECOND, taker: instructor, takeMs: 16 * SECOND, readyShare: NEVER_EARLY },
    },
  },
  4: {
    seatedBefore: 30 * MINUTE + 25 * SECOND,
    temper: {
      ...{ service: 'service-relaxing', prepMs: 4 * MINUTE, pace: even(1.4), share: 0.9, lateMs: 0, helps: false },
      ...{ takeMs: 9 * SECOND, goMs: 35 * SECOND, taker: assistant, testMoreMs: 15 * SECOND },
    },
  },
  5: {
    seatedBefore: 33 * MINUTE,
    temper: {
      ...{
        service: 'service-relaxing',
        prepMs: 4 * MINUTE,
        pace: even(0.93),
        share: 0.9,
        lateMs: 0,
        readyShare: NEVER_EARLY,
      },
      ...{ takeMs: 10 * SECOND, goMs: 30 * SECOND },
    },
  },
  6: {
    seatedBefore: 49 * MINUTE + 25 * SECOND,
    temper: {
      ...{
        service: 'service-perm',
        prepMs: 7 * MINUTE,
        pace: even(0.9),
        share: 0.3,
        lateMs: 0,
        readyShare: NEVER_EARLY,
      },
      ...{ rinseMoreMs: 15 * SECOND, neutralizerMs: 5.75 * MINUTE },
    },
  },
  7: {
    seatedBefore: 62 * MINUTE,
    temper: {
      ...{
        service: 'service-colour',
        prepMs: 4 * MINUTE,
        pace: even(0.93),
        share: 0.2,
        lateMs: 0,
        readyShare: NEVER_EARLY,
      },
      ...{ rinseMoreMs: 20 * SECOND, dwellMoreMs: 20 * SECOND, dryMs: 20 * MINUTE },
    },
  },
  8: {
    seatedBefore: 64.5 * MINUTE,
    temper: {
      ...{
        service: 'service-colour',
        prepMs: 3 * MINUTE,
        pace: even(0.7),
        share: 0.15,
        lateMs: 0,
        readyShare: NEVER_EARLY,
      },
      ...{ rinseMoreMs: 18 * SECOND, dwellMoreMs: 18 * SECOND, dryMs: 17 * MINUTE },
    },
  },
};

/** When the first model of a chair is seated, before the moment of looking in; null for a chair that has no part. */
export function seatedBefore(chair: number): Ms | null {
  return openings[chair]?.seatedBefore ?? null;
}

/** What is laid down of a visit; a few seconds of it hang on the seed, so that no two days are quite alike. */
export function openingOf(visit: VisitId, draw: Draw): Partial<Temper> {
  const one = modelOf(visit);
  if (one?.chair === 8 && one.model === 2) return { pauseMs: between(draw, 6.2, 6.6) * MINUTE };
  const temper = one?.model === 1 ? openings[one.chair]?.temper : undefined;
  if (temper === undefined) return {};
  const prepMs = (temper.prepMs ?? 4 * MINUTE) + between(draw, -4, 4) * SECOND;
  return { ...temper, prepMs, pace: (temper.pace ?? []).map((one) => one * between(draw, 0.99, 1.01)) };
}
