import { earliest, type EpochMs, type Ms } from '../time.ts';
import type { Pass } from '../visit/visit.ts';
import { partsOnHair } from './parts.ts';

/** When product may come off and by when it must (E2–E4). */
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

/** Expected end of application: first touch + max(nominal, time so far), never before now while it runs (E7). */
export function expectedFinish(pass: Pass, now: EpochMs): EpochMs | null {
  if (pass.begun === null || pass.rules === null) return null;
  if (pass.applied !== null) return pass.applied.at;
  return pass.begun.at + Math.max(pass.rules.nominalMs, now - pass.begun.at);
}

/** opens = max(F + minAfter, B + minTotal) (E2). */
function opensAfter(pass: Pass, finish: EpochMs): EpochMs {
  const { rules, begun } = pass;
  if (rules === null || begun === null) return finish;
  const byTotal = rules.minTotalMs === null ? null : begun.at + rules.minTotalMs;
  return Math.max(finish + rules.minAfterMs, byTotal ?? Number.NEGATIVE_INFINITY);
}

/** The window of a pass; null while nothing is on hair or nothing is known of the product. */
export function windowOf(pass: Pass, now: EpochMs): Window | null {
  const finish = expectedFinish(pass, now);
  if (finish === null || pass.rules === null) return null;
  const opensAt = opensAfter(pass, finish);
  const closesAt = earliest(finish + pass.rules.maxAfterMs, ceilingAt(pass)) as EpochMs;
  return { opensAt, closesAt, roomMs: closesAt - opensAt, expected: pass.applied === null, appliedAt: finish };
}

/** The close as far as it is certain now: in apply only what hangs on first touch (E3); null when nothing is. */
export function certainClose(pass: Pass): EpochMs | null {
  if (pass.rules === null) return null;
  const byFinish = pass.applied === null ? null : pass.applied.at + pass.rules.maxAfterMs;
  return earliest(byFinish, ceilingAt(pass));
}

/** Each part's own window, first touched first (E4); empty before the application has ended. */
export function partWindows(pass: Pass): PartWindow[] {
  const { rules, applied, begun } = pass;
  if (rules === null || applied === null || begun === null) return [];
  return partsOnHair(pass).map((part) => {
    const byTotal = rules.minTotalMs === null ? Number.NEGATIVE_INFINITY : begun.at + rules.minTotalMs;
    const opensAt = Math.max((part.doneAt ?? applied.at) + rules.minAfterMs, byTotal);
    const byCeiling = part.ceilingMs === null ? null : part.begunAt + part.ceilingMs;
    return { part: part.part ?? 0, opensAt, closesAt: earliest(applied.at + rules.maxAfterMs, byCeiling) as EpochMs };
  });
}

/**
 * Latest finish of the application that still leaves every strand its minimum (P3): earliest ceiling − minAfter − reserve,
 * the reserve being at least the walk. Null where no ceiling was entered.
 */
export function latestFinish(pass: Pass, figures: { readonly reserveMs: Ms; readonly walkMs: Ms }): EpochMs | null {
  const ceiling = ceilingAt(pass);
  if (ceiling === null || pass.rules === null) return null;
  return ceiling - pass.rules.minAfterMs - Math.max(figures.reserveMs, figures.walkMs);
}
