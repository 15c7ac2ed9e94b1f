import { nextTestAt } from '../../../core/exposure/strand-tests.ts';
import { windowOf } from '../../../core/exposure/window.ts';
import type { EpochMs } from '../../../core/time.ts';
import { currentPass, type VisitFacts } from '../../../core/visit/visit.ts';

/** When a strand would have to be tested again if it is "not yet" now (E6); null where no test comes before the close. */
export function nextIfNotYet(visit: VisitFacts, now: EpochMs): EpochMs | null {
  const pass = currentPass(visit);
  if (pass === null) return null;
  const test = { at: now, by: null, version: 0, place: 'first', result: 'not-yet', part: null } as const;
  const after = { ...pass, tests: [...pass.tests, test] };
  const window = windowOf(after, now);
  return window === null ? null : nextTestAt(after, window.closesAt);
}
