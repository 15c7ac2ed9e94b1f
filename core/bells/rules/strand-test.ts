import { nextTestAt } from '../../exposure/strand-tests.ts';
import { certainClose } from '../../exposure/window.ts';
import { currentPass } from '../../visit/visit.ts';
import type { BellRule } from './rule.ts';

/** A strand test is due (E6). */
export const test: BellRule = {
  cause: 'test',
  kind: 'test',
  level: () => 'CAUTION',
  from: (visit) => {
    const pass = visit.stage === 'process' ? currentPass(visit) : null;
    const close = pass === null ? null : certainClose(pass);
    return pass === null || close === null ? null : nextTestAt(pass, close);
  },
};
