import { describe, test } from 'vitest';
import { expectAgreement } from './agreement.ts';

// Two files of the same kind, so that two workers play them side by side.
describe('core and the independent model agree', () => {
  test(
    '[S1, S2, S7, X2, X3, E6, E9, E10, P0, P4, R2] over random sequences at one chair',
    { timeout: 3_600_000 },
    () => {
      expectAgreement(1_020_260_505);
    },
  );
});
