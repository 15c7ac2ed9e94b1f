import { timeOnHair } from '../../../core/exposure/time-on-hair.ts';
import { nextTestAt, readyTest } from '../../../core/exposure/strand-tests.ts';
import { certainClose, expectedFinish, latestFinish, partWindowsAt, windowOf } from '../../../core/exposure/window.ts';
import type { EpochMs, Ms } from '../../../core/time.ts';
import type { HeadlineContext } from '../../../core/visit/headline.ts';
import { currentPass, productOn, type Pass, type VisitFacts } from '../../../core/visit/visit.ts';
import { neutralizerWindow } from '../../../core/exposure/finishing.ts';

/** What the small axis at the chair shows, each value from core. */
export interface HairWindow {
  readonly opensAt: EpochMs;
  readonly closesAt: EpochMs;
  readonly roomMs: number;
  /** Hangs on an end of application that is not known yet (E7). */
  readonly expected: boolean;
  /** Whether the close too is only expected: not where it hangs on first touch (E3). */
  readonly closeExpected: boolean;
  /** Each part's own window, where no moment is right for all of them (E4). */
  readonly parts: readonly { readonly opensAt: EpochMs; readonly closesAt: EpochMs }[];
  /** While product goes on: the finish expected and the latest one (E7, P3). */
  readonly expectedFinishAt: EpochMs | null;
  readonly finishByAt: EpochMs | null;
  /** The next strand test that is due, and since when a strand is ready (E6). */
  readonly testAt: EpochMs | null;
  readonly readyAt: EpochMs | null;
}

/** The window that a head's water is waited for: the product's, or its neutralizer's; null where there is none. */
export function hairWindow(visit: VisitFacts, { now, figures }: HeadlineContext): HairWindow | null {
  const pass = currentPass(visit);
  if (pass === null) return null;
  if (visit.stage === 'neutralize') {
    const window = neutralizerWindow(pass);
    return window === null ? null : { ...window, ...settled, roomMs: window.closesAt - window.opensAt };
  }
  if (visit.stage !== 'apply' && visit.stage !== 'process') return null;
  const window = windowOf(pass, now);
  if (window === null) return null;
  const { opensAt, closesAt, roomMs, expected } = window;
  const applying = visit.stage === 'apply';
  const finishAt = applying ? expectedFinish(pass, now) : null;
  return {
    opensAt,
    closesAt,
    roomMs,
    expected,
    closeExpected: expected && certainClose(pass) !== closesAt,
    parts: roomMs < 0 ? partWindowsAt(pass, now) : [],
    // Past the planned time it would only say "now".
    expectedFinishAt: finishAt !== null && finishAt > now ? finishAt : null,
    finishByAt: applying ? latestFinish(pass, figures) : null,
    testAt: nextTestAt(pass, closesAt),
    readyAt: readyTest(pass)?.at ?? null,
  };
}

const settled = {
  expected: false,
  closeExpected: false,
  parts: [],
  expectedFinishAt: null,
  finishByAt: null,
  testAt: null,
  readyAt: null,
} as const;

/** Nobody entered a longest time on hair for this product: then nothing hangs on first touch (E3). */
export function noCeiling(pass: Pass | null): boolean {
  const { rules } = pass ?? { rules: null };
  return rules !== null && rules.ceilingMs === null && rules.parts.every((part) => part.ceilingMs === null);
}

export type HairClock =
  | { readonly known: true; readonly firstMs: Ms; readonly lastMs: Ms | null; readonly running: boolean }
  /** Product was on, but nobody knows since when (S2). */
  | { readonly known: false };

/** Time on hair as the chair shows it while product is on, m:ss (E1, T6); null while none is on. */
export function hairClock(visit: VisitFacts, { now, figures }: HeadlineContext): HairClock | null {
  const pass = currentPass(visit);
  if (pass === null || !productOn(visit)) return null;
  const time = timeOnHair(pass, now, figures.waterSureMs);
  if (time !== null) return { known: true, ...time };
  return pass.beginUnknown ? { known: false } : null;
}
