import { failed, neutralizeStep } from '../../exposure/finishing.ts';
import { currentPass } from '../../visit/visit.ts';
import type { BellRule } from './rule.ts';

/** So many shampoos more than the directions ask for that still show alkali: it goes back to the rinse (S5). */
const EXTRA_FAILS = 2;

/** Two extra shampoos failed: there is still product in the hair, and water is what takes it out. */
export const backToRinse: BellRule = {
  cause: 'back-to-rinse',
  kind: 'back-to-rinse',
  level: () => 'CAUTION',
  from: (visit) => {
    const pass = visit.stage === 'neutralize' ? currentPass(visit) : null;
    const step = pass === null ? null : neutralizeStep(pass);
    if (pass === null || step?.kind !== 'shampoos') return null;
    const fails = pass.shampoos.filter((one, i) => i >= step.count && failed(one, step));
    const last = pass.shampoos[pass.shampoos.length - 1];
    // A later shampoo that shows it neutral answers it.
    if (last === undefined || !failed(last, step)) return null;
    return fails[EXTRA_FAILS - 1]?.at ?? null;
  },
};
