import { repeatEvery } from '../../../core/bells/bell.ts';
import type { BellLevel } from '../../../core/bells/level.ts';

/** One pulse of a burst. */
export interface Pulse {
  /** From the beginning of the burst. */
  readonly atMs: number;
  readonly lengthMs: number;
  /** Fundamental. ISO 7731 asks for 500–2500 Hz. */
  readonly hz: number;
  /** Within the pulse; 10–20 % of it (IEC 60601-1-8, Table 4). */
  readonly riseMs: number;
  readonly fallMs: number;
}

export interface Score {
  readonly level: BellLevel;
  readonly pulses: readonly Pulse[];
  readonly lengthMs: number;
  /** From the beginning of one burst to the beginning of the next (R5); null: once only. */
  readonly everyMs: number | null;
}

/**
 * Parts of the fundamental, its second harmonic, and so on. The fundamentals stay at 800 Hz or below, so that
 * the fifth harmonic is still under 4000 Hz; the weakest is 9 dB below the fundamental (Table 4: within ±15 dB).
 */
export const HARMONICS = [1, 0.71, 0.6, 0.5, 0.36] as const;

const RISE = 0.15;

/** Pitches in ratios of a just scale on 480 Hz: 500–800 Hz. Our own figures, no melody of any device. */
const LOW = 540;
const MID = 640;
const HIGH = 800;

interface Plan {
  readonly lengthMs: number;
  readonly pulses: readonly (readonly [atMs: number, hz: number])[];
}

/**
 * Pulses per burst by the published table for high, medium and low priority (IEC 60601-1-8, Tables 3 and 4),
 * mapped by R5: DANGER high, WARNING and CAUTION medium, NOTICE low. Pulse lengths are within 75–200 ms (high)
 * and 125–250 ms (others), figures from memory. A borrowing as order of urgency: this is no medical alarm.
 */
const PLANS = {
  // Ten pulses: three and two, a pause, three and two. Climbs and stays up.
  DANGER: {
    lengthMs: 120,
    pulses: [
      [0, MID],
      [190, MID],
      [380, HIGH],
      [680, HIGH],
      [870, HIGH],
      [1370, MID],
      [1560, MID],
      [1750, HIGH],
      [2050, HIGH],
      [2240, HIGH],
    ],
  },
  // Three rising.
  WARNING: {
    lengthMs: 180,
    pulses: [
      [0, LOW],
      [300, MID],
      [600, HIGH],
    ],
  },
  // Three, the last one lower, slower.
  CAUTION: {
    lengthMs: 200,
    pulses: [
      [0, MID],
      [360, MID],
      [720, LOW],
    ],
  },
  // Two low ones, once.
  NOTICE: {
    lengthMs: 200,
    pulses: [
      [0, LOW],
      [400, LOW],
    ],
  },
} as const satisfies Record<BellLevel, Plan>;

/** What a bell of this level sounds like. */
export function score(level: BellLevel): Score {
  const plan: Plan = PLANS[level];
  const pulses = plan.pulses.map(([atMs, hz]): Pulse => {
    const riseMs = plan.lengthMs * RISE;
    return { atMs, hz, lengthMs: plan.lengthMs, riseMs, fallMs: riseMs * 2 };
  });
  const last = pulses.at(-1);
  return { level, pulses, everyMs: repeatEvery[level], lengthMs: last ? last.atMs + last.lengthMs : 0 };
}
