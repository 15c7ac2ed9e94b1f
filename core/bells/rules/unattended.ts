import { unattendedFrom } from '../../visit/unattended.ts';
import type { BellRule } from './rule.ts';

/** Nobody has touched a head in a timed stage for so long that somebody must ask whether it is still there (T4). */
export const unattended: BellRule = {
  cause: 'unattended',
  kind: 'unattended',
  level: () => 'CAUTION',
  from: unattendedFrom,
};
