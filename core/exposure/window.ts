import { earliest, latest, type EpochMs, type Ms } from '../time.ts';
import type { Pass } from '../visit/visit.ts';
import { limitsOf } from './limits.ts';
import { expectedFinishAt, expectedParts } from './pace.ts';
import { partsOnHair } from './parts.ts';
import { readyClose, readyTest } from './strand-tests.ts';

/** When product may come off and by when it must (E2–E4, E6). */
export interface Window {
  readonly opensAt: EpochMs;
  readonly closesAt: EpochMs;
  /** closes − opens; zero is one moment, below zero no moment is right for every strand (E4). */
  readonly roomMs: number;
  /** Expected while application runs: opens hangs on its end, which is not known yet (E7). */
  readonly expected: boolean;
  /** End of application, known or expected. */
  readonly appliedAt: EpochMs;
}

/** One part's own window (E4). */
export interface PartWindow {
  readonly part: number;
  readonly opensAt: EpochMs;
  readonly closesAt: EpochMs;
}

/**
 * The earliest instant at which a strand reaches its ceiling: min over parts begun of first touch + ceiling (E3).
 * Certain from first touch on, for a part begun later can only touch later. Null where no ceiling was entered.
 */
export function ceilingAt(pass: Pass): EpochMs | null {
  return earliest(...partsOnHair(pass).map((part) => (part.ceilingMs === null ? null : part.begunAt + part.ceilingMs)));
}

/** Expected end of application, never before now while it runs (E7, P2). */
export const expectedFinish = expectedFinishAt;

/** opens = max(F + minAfter, B + minTotal), or the moment a strand was ready (E2, E6). */
function opensAfter(pass: Pass, finish: EpochMs): EpochMs {
  const limits = limitsOf(pass);
  const ready = readyTest(pass);
  if (ready !== null) return ready.at;
  if (limits === null || pass.rules === null || pass.begun === null) return finish;
  const byTotal = pass.rules.minTotalMs === null ? null : pass.begun.at + pass.rules.minTotalMs;
  return Math.max(finish + limits.minAfterMs, byTotal ?? Number.NEGATIVE_INFINITY);
}

/** The window of a pass; null while nothing is on hair or nothing is known of the product. */
export function windowOf(pass: Pass, now: EpochMs): Window | null {
  const finish = expectedFinish(pass, now);
  const limits = limitsOf(pass);
  if (finish === null || limits === null) return null;
  const opensAt = opensAfter(pass, finish);
  const closesAt = earliest(finish + limits.maxAfterMs, ceilingAt(pass), readyClose(pass)) as EpochMs;
  const expected = pass.applied === null && readyTest(pass) === null;
  return { opensAt, closesAt, roomMs: closesAt - opensAt, expected, appliedAt: finish };
}

/** The close as far as it is certain now: in apply only what hangs on first touch (E3) or on a strand that is ready (E6). */
export function certainClose(pass: Pass): EpochMs | null {
  const limits = limitsOf(pass);
  if (limits === null) return null;
  const byFinish = pass.applied === null ? null : pass.applied.at + limits.maxAfterMs;
  return earliest(byFinish, ceilingAt(pass), readyClose(pass));
}

/** Each part's own window, first touched first (E4); empty before the application has ended. */
export function partWindows(pass: Pass): PartWindow[] {
  const limits = limitsOf(pass);
  const { rules, applied, begun } = pass;
  if (rules === null || limits === null || applied === null || begun === null) return [];
  const byTotal = rules.minTotalMs === null ? null : begun.at + rules.minTotalMs;
  return partsOnHair(pass).map((one) => {
    const part = one.part ?? 0;
    // Of a by-part product a ready strand speaks for its own part only; else for the head (E6).
    const ready =
      rules.manner === 'by-part'
        ? (pass.tests.find((test) => test.result === 'ready' && test.part === part) ?? null)
        : readyTest(pass);
    const opensAt = ready?.at ?? (latest((one.doneAt ?? applied.at) + limits.minAfterMs, byTotal) as EpochMs);
    const byCeiling = one.ceilingMs === null ? null : one.begunAt + one.ceilingMs;
    const byReady = ready === null ? null : ready.at + rules.graceMs;
    return { part, opensAt, closesAt: earliest(applied.at + limits.maxAfterMs, byCeiling, byReady) as EpochMs };
  });
}

/** The part windows as they stand now: while application runs, as it is expected to go on (E4, E7, P2). */
export function partWindowsAt(pass: Pass, now: EpochMs): PartWindow[] {
  const finish = expectedFinish(pass, now);
  if (finish === null || pass.applied !== null) return partWindows(pass);
  const toCome = pass.parts.length === 0 ? [] : expectedParts(pass, now).map((one) => ({ ...one, by: null }));
  return partWindows({
    ...pass,
    parts: [...pass.parts, ...toCome],
    applied: { at: finish, by: null, version: 0 },
  });
}

/**
 * Latest finish of the application that still leaves every strand its minimum (P3): earliest ceiling − minAfter − reserve,
 * the reserve being at least the walk. Null where no ceiling was entered.
 */
export function latestFinish(pass: Pass, figures: { readonly reserveMs: Ms; readonly walkMs: Ms }): EpochMs | null {
  const ceiling = ceilingAt(pass);
  const limits = limitsOf(pass);
  if (ceiling === null || limits === null) return null;
  return ceiling - limits.minAfterMs - Math.max(figures.reserveMs, figures.walkMs);
}
