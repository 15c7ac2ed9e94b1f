import type { EpochMs } from '../time.ts';
import type { Pass, StrandTest } from '../visit/visit.ts';

/** The test that said ready, if one did; ready anywhere counts, and the first counts (E6). */
export function readyTest(pass: Pass): StrandTest | null {
  return pass.tests.find((test) => test.result === 'ready') ?? null;
}

/** Ready closes the window this long after it, whatever else would (E6); null before. */
export function readyClose(pass: Pass): EpochMs | null {
  const ready = readyTest(pass);
  return ready === null || pass.rules === null ? null : ready.at + pass.rules.graceMs;
}

/**
 * When the next strand test is due (E6): the first at `firstTest` after the end of application, then every `testEvery`
 * after the last, as long as that is before the close. Null in apply, after ready, and when there is none.
 */
export function nextTestAt(pass: Pass, closesAt: EpochMs): EpochMs | null {
  const { rules, applied, tests } = pass;
  if (rules === null || applied === null || readyTest(pass) !== null) return null;
  const since = tests.filter((test) => test.at >= applied.at);
  const last = since[since.length - 1];
  const dueAt = last === undefined ? applied.at + rules.firstTestMs : last.at + rules.testEveryMs;
  return dueAt < closesAt ? dueAt : null;
}
