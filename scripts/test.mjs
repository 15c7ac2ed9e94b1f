/** `npm test`: installs what a new machine needs, runs every check and every test, and counts truly. */
import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { ensureChromium } from './chromium.mjs';
import { countCheck, countLastLine, countPlaywright, countVitest } from './counts.mjs';
import { checkNode, ensureInstalled, npm, root, say } from './setting-up.mjs';

const reports = join(root, 'reports');
const vitestReport = join(reports, 'vitest.json');
const playwrightReport = join(reports, 'playwright.json');
const faultsReport = join(reports, 'faults.txt');

/** Far beyond what any step takes on two busy cores: a step that hangs is a failure, not a night without an answer. */
const STEP_LIMIT_MS = 15 * 60_000;

const readText = (/** @type {string} */ file) => {
  try {
    return readFileSync(file, 'utf8');
  } catch {
    return null;
  }
};

const readReport = (/** @type {string} */ file) => {
  try {
    return JSON.parse(readText(file) ?? '');
  } catch {
    return null;
  }
};

/** @typedef {{ name: string, script: string, args?: string[], env?: Record<string, string>, count: (code: number) => import('./counts.mjs').Count }} Step */

/**
 * Checks that read and run nothing, in two lanes side by side: each keeps one core busy. The pages are built before the tests, for
 * some ask the server for them.
 * @type {Step[][]}
 */
const checks = [
  [
    { name: 'format', script: 'format:check', count: countCheck },
    { name: 'lint', script: 'lint', count: countCheck },
    { name: 'types of the pages', script: 'types:web', count: countCheck },
  ],
  [
    { name: 'types', script: 'types:ts', count: countCheck },
    { name: 'imports', script: 'imports', count: countCheck },
    { name: 'build of the pages', script: 'build', count: countCheck },
  ],
];

/** @returns {Step[]} one after the other: each of them takes both cores */
const tests = (/** @type {string | null} */ chromium) => [
  {
    name: 'unit and other tests without a browser',
    script: 'unit',
    args: ['--reporter=default', '--reporter=json', `--outputFile.json=${vitestReport}`],
    count: (code) => countVitest(readReport(vitestReport), code),
  },
  {
    name: 'end-to-end tests',
    script: 'e2e',
    args: ['--reporter=list,json'],
    env: { PLAYWRIGHT_JSON_OUTPUT_FILE: playwrightReport, ...(chromium ? { BASINBELL_CHROMIUM: chromium } : {}) },
    count: (code) => countPlaywright(readReport(playwrightReport), code),
  },
  {
    name: 'faults, short form',
    script: 'faults',
    args: ['--short', `--last-line=${faultsReport}`],
    env: chromium ? { BASINBELL_CHROMIUM: chromium } : {},
    count: (code) => countLastLine(readText(faultsReport), code),
  },
];

const seconds = (/** @type {number} */ ms) => `${(ms / 1000).toFixed(1)} s`;

const take = async (/** @type {Step} */ step) => {
  console.log(`\n── ${step.name} (npm run ${step.script})`);
  const begunAt = Date.now();
  const args = ['run', '--silent', step.script, ...(step.args ? ['--', ...step.args] : [])];
  const code = await npm(args, { env: step.env, limitMs: STEP_LIMIT_MS });
  const count = step.count(code);
  const tookMs = Date.now() - begunAt;
  console.log(`── ${step.name}: ${count.failed ? 'FAILED' : 'good'} in ${seconds(tookMs)}`);
  return { name: step.name, tookMs, ...count };
};

const begunAt = Date.now();
checkNode();
await ensureInstalled();
const chromium = await ensureChromium();
rmSync(vitestReport, { force: true });
rmSync(playwrightReport, { force: true });
rmSync(faultsReport, { force: true });
mkdirSync(reports, { recursive: true });

const inOrder = async (/** @type {Step[]} */ steps) => {
  const taken = [];
  for (const step of steps) taken.push(await take(step));
  return taken;
};
const checked = await Promise.all(checks.map(inOrder));
const results = [...checked.flat(), ...(await inOrder(tests(chromium)))];

console.log('\nSummary');
for (const { name, tookMs, passed, failed, notes } of results) {
  console.log(`  ${name}: ${passed} passed, ${failed} failed, ${seconds(tookMs)}`);
  for (const note of notes) console.log(`    ${note}`);
}
say(`All of it took ${seconds(Date.now() - begunAt)}.`);
const total = (/** @type {'passed' | 'failed'} */ which) => results.reduce((sum, result) => sum + result[which], 0);
console.log(`${total('passed')} passed, ${total('failed')} failed`);
process.exit(total('failed') === 0 && total('passed') > 0 ? 0 : 1);
