/** Reads what the test runners wrote and turns it into true counts: whatever did not run to its end has failed. */

/** @typedef {{ passed: number, failed: number, notes: string[] }} Count */

const nothing = (/** @type {string} */ note) => ({ passed: 0, failed: 1, notes: [note] });

/**
 * A runner may end badly although no single test failed (an error between tests, a file that did not load).
 * @param {Count} count @param {number} exitCode @returns {Count}
 */
const withExit = (count, exitCode) => {
  if (count.passed + count.failed === 0) return nothing('no test was executed');
  if (exitCode === 0 || count.failed > 0) return count;
  return { ...count, failed: 1, notes: [...count.notes, `ended with code ${exitCode} although no test failed`] };
};

/**
 * @param {any} report vitest's JSON report, or null when there is none
 * @param {number} exitCode @returns {Count}
 */
export const countVitest = (report, exitCode) => {
  if (!report) return nothing('vitest left no report');
  const files = report.testResults ?? [];
  const unloaded = files.filter((file) => file.status === 'failed' && file.assertionResults.length === 0);
  const tests = files.flatMap((file) => file.assertionResults);
  const passed = tests.filter((test) => test.status === 'passed').length;
  const failed = tests.filter((test) => test.status === 'failed').length;
  const unrun = tests.length - passed - failed;
  const notes = unloaded.map((file) => `${file.name} did not load`);
  if (unrun > 0) notes.push(`${unrun} tests were skipped, which counts as failed`);
  return withExit({ passed, failed: failed + unrun + unloaded.length, notes }, exitCode);
};

/**
 * @param {any} report Playwright's JSON report, or null when there is none
 * @param {number} exitCode @returns {Count}
 */
export const countPlaywright = (report, exitCode) => {
  if (!report) return nothing('playwright left no report');
  const { expected, unexpected, flaky, skipped } = report.stats;
  const errors = report.errors ?? [];
  const notes = errors.map((error) => String(error.message ?? error).split('\n')[0]);
  if (flaky > 0) notes.push(`${flaky} tests passed only when repeated, which counts as failed`);
  if (skipped > 0) notes.push(`${skipped} tests were skipped, which counts as failed`);
  return withExit({ passed: expected, failed: unexpected + flaky + skipped + errors.length, notes }, exitCode);
};

/**
 * @param {string | null} text what `npm run faults` left as its last line, or null when it left none
 * @param {number} exitCode @returns {Count}
 */
export const countLastLine = (text, exitCode) => {
  const found = /^(\d+) passed, (\d+) failed$/.exec(text?.trim() ?? '');
  if (!found) return nothing('there was no last line that counts');
  return withExit({ passed: Number(found[1]), failed: Number(found[2]), notes: [] }, exitCode);
};

/** @param {number} exitCode @returns {Count} a check is one thing: it holds or it does not */
export const countCheck = (exitCode) =>
  exitCode === 0 ? { passed: 1, failed: 0, notes: [] } : { passed: 0, failed: 1, notes: [] };
