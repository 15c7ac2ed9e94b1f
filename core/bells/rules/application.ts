import { lateFrom } from '../../exposure/pace.ts';
import { latestFinish } from '../../exposure/window.ts';
import { MINUTE, type EpochMs } from '../../time.ts';
import { currentPass, type VisitFacts } from '../../visit/visit.ts';
import type { BellRule } from './rule.ts';

const ASK_AFTER = 3 * MINUTE;
const ASK_LOUDER_AFTER = 8 * MINUTE;
/** The pace bell goes only once the expected finish is this much before the latest (P4): it must not flutter. */
const PACE_SLACK = MINUTE;

function readySince(visit: VisitFacts): EpochMs | null {
  return visit.stage === 'prep' ? (visit.prepared?.at ?? null) : null;
}

/** Prep is complete, and nobody has begun: was the first touch forgotten? */
export const begunAsk: BellRule = {
  cause: 'begun?',
  kind: 'begun?',
  level: () => 'NOTICE',
  from: (visit) => {
    const since = readySince(visit);
    return since === null ? null : since + ASK_AFTER;
  },
};

export const begunAskLouder: BellRule = {
  cause: 'begun?',
  kind: 'begun?',
  level: () => 'CAUTION',
  from: (visit) => {
    const since = readySince(visit);
    return since === null ? null : since + ASK_LOUDER_AFTER;
  },
};

/**
 * Application is expected to end too late for the last strands (P4), while a second pair of hands still helps. By-part
 * products come off part by part and have no pace (E4); without a ceiling there is none either.
 */
export const pace: BellRule = {
  cause: 'pace',
  kind: 'pace',
  level: () => 'CAUTION',
  from: (visit, figures) => {
    const pass = visit.stage === 'apply' ? currentPass(visit) : null;
    if (pass === null || pass.rules?.manner !== 'whole-head') return null;
    const latest = latestFinish(pass, figures);
    if (latest === null) return null;
    const stands = visit.bells.some((bell) => bell.cause === 'pace');
    return lateFrom(pass, stands ? latest - PACE_SLACK : latest);
  },
};
