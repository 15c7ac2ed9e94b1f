import { earliest, type EpochMs, type Ms } from '../time.ts';
import type { Pass } from '../visit/visit.ts';

/** How long the first and the last strand have had product on (E1). */
export interface TimeOnHair {
  readonly firstMs: Ms;
  /** Null until the application has ended. */
  readonly lastMs: Ms | null;
  /** Whether it still counts up. */
  readonly running: boolean;
}

/**
 * When the time on hair ends: water on for `waterSureMs` at a known basin, or the water running clear,
 * whichever is first (E1); null while neither can be said.
 */
export function offHairAt(pass: Pass, waterSureMs: Ms): EpochMs | null {
  // The first water ends it: a rinse repeated later puts no product back on.
  const sure = [pass.firstWater, pass.water].map((water) =>
    water === null || water.basin === null ? null : water.at + waterSureMs,
  );
  return earliest(...sure, pass.clear?.at ?? null);
}

/** Null before first touch and when first touch is unknown (S2). */
export function timeOnHair(pass: Pass, now: EpochMs, waterSureMs: Ms): TimeOnHair | null {
  if (pass.begun === null) return null;
  const off = offHairAt(pass, waterSureMs);
  const until = off === null ? now : Math.min(now, off);
  return {
    firstMs: Math.max(0, until - pass.begun.at),
    lastMs: pass.applied === null ? null : Math.max(0, until - pass.applied.at),
    running: off === null || now < off,
  };
}
