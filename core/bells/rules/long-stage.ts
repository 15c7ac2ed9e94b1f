import { stageBegan, stageLimit } from '../../visit/visit.ts';
import type { BellRule } from './rule.ts';

/** The stage lasts longer than the service allows. */
export const longStage: BellRule = {
  cause: 'long-stage',
  kind: 'long-stage',
  level: () => 'CAUTION',
  from: (visit) => {
    const limit = visit.stage === 'finished' ? null : stageLimit(visit);
    return limit === null ? null : stageBegan(visit) + limit;
  },
};
