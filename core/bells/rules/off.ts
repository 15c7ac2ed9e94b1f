import { classTraits } from '../../directions/product-class.ts';
import { readyTest } from '../../exposure/strand-tests.ts';
import { certainClose, windowOf } from '../../exposure/window.ts';
import { earliest, MINUTE, type EpochMs } from '../../time.ts';
import { currentPass, type Pass, type VisitFacts } from '../../visit/visit.ts';
import type { BellLevel } from '../level.ts';
import type { BellRule } from './rule.ts';

/** Colour past its window is shown as `rinse` is, and rings harder only this much later (R2). */
const COLOUR_GRACE = 10 * MINUTE;

/** The pass whose product waits for water: also in rinse, where burns take a head before any water is on (S6). */
function waiting(visit: VisitFacts): Pass | null {
  if (visit.stage === 'apply' || visit.stage === 'process') return currentPass(visit);
  const pass = visit.stage === 'rinse' ? currentPass(visit) : null;
  return pass?.firstWater === null ? pass : null;
}

function closeOf(visit: VisitFacts): EpochMs | null {
  const pass = waiting(visit);
  return pass === null ? null : certainClose(pass);
}

function traitOf(visit: VisitFacts, trait: 'rinse' | 'over'): BellLevel {
  return classTraits[currentPass(visit)?.rules?.class ?? 'other'][trait];
}

/** NOTICE before the window, once both its ends are known. */
export const soon: BellRule = {
  cause: 'off',
  kind: 'soon',
  level: () => 'NOTICE',
  from: (visit, figures) => {
    const pass = waiting(visit);
    if (pass === null || pass.applied === null) return null;
    const window = windowOf(pass, pass.applied.at);
    return window === null ? null : Math.min(window.opensAt, window.closesAt) - figures.soonMs;
  },
};

/**
 * Somebody must come: a strand is ready, or it is early enough to walk and still have the lead before the close. Once the time
 * was lost nobody can say that the close has not come (T3).
 */
export const rinse: BellRule = {
  cause: 'off',
  kind: 'rinse',
  level: (visit) => traitOf(visit, 'rinse'),
  from: (visit, figures) => {
    const pass = waiting(visit);
    const close = closeOf(visit);
    const byClose = close === null ? null : close - figures.rinseLeadMs - figures.walkMs;
    if (pass === null) return byClose;
    return earliest(byClose, readyTest(pass)?.at ?? null, visit.timeLostAt);
  },
};

/** The close has come. */
export const over: BellRule = {
  cause: 'off',
  kind: 'over',
  level: (visit) => traitOf(visit, 'over'),
  from: closeOf,
};

/** Colour long past its close. */
export const overLate: BellRule = {
  cause: 'off',
  kind: 'over',
  level: () => 'WARNING',
  from: (visit) => {
    const close = closeOf(visit);
    return close === null || currentPass(visit)?.rules?.class !== 'colour' ? null : close + COLOUR_GRACE;
  },
};
