import { minimumAt } from '../../exposure/finishing.ts';
import type { BellRule } from './rule.ts';

/** The least time under water is reached: shown, never sounded. */
export const water: BellRule = {
  cause: 'water',
  kind: 'water',
  level: () => 'NOTICE',
  from: (visit) => (visit.stage === 'rinse' ? minimumAt(visit) : null),
};

/** Shampoo, a neutralizer's rinse or conditioner has had its least time. */
export const dwell: BellRule = {
  cause: 'dwell',
  kind: 'dwell',
  level: () => 'NOTICE',
  from: (visit) => (visit.stage === 'neutralize' || visit.stage === 'condition' ? minimumAt(visit) : null),
};
