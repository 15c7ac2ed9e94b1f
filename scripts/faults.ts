/**
 * `npm run faults`: tries to make the floor lose a chair, and prints for each trial what was tried and what was lost. Without
 * options the long form; `-- --short` the one that stands beside the other checks; `-- --only kill` those whose name holds a word.
 */
import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { buildServers } from './faults/built.ts';
import { tried, type Outcome } from './faults/trial.ts';
import { trials } from './faults/trials.ts';

const { values } = parseArgs({
  options: {
    short: { type: 'boolean', default: false },
    only: { type: 'string', default: '' },
    /** A file that is left the last line, for whoever counts. */
    'last-line': { type: 'string' },
  },
});
const { short, only } = values;
const print = (line: string): void => console.log(line);
const seconds = (ms: number): string => `${(ms / 1000).toFixed(1)} s`;

const chosen = trials
  .map((trial, i) => ({ trial, number: i + 1 }))
  .filter(({ trial }) => trial.name.includes(only) && (!short || trial.form === 'both'));
const begunAt = performance.now();
const built = await buildServers();
const outcomes: Outcome[] = [];

async function runOne({ trial, number }: (typeof chosen)[number], say: (line: string) => void): Promise<void> {
  say(`\n${number}. ${trial.name}`);
  const trialBegunAt = performance.now();
  outcomes.push(await tried(trial, { short, built }, say));
  say(`    ${seconds(performance.now() - trialBegunAt)}`);
}

/** Trials wait more than they work: two at a time in the short form, each told whole. What the long form measures it measures alone. */
async function lane(queue: typeof chosen): Promise<void> {
  for (let next = queue.shift(); next !== undefined; next = queue.shift()) {
    const lines: string[] = [];
    await runOne(next, short ? (line) => lines.push(line) : print);
    for (const line of lines) print(line);
  }
}
const queue = [...chosen];
await Promise.all(Array.from({ length: short ? 2 : 1 }, () => lane(queue)));

const failed = outcomes.filter(({ broken }) => broken.length > 0);
print(`\n${short ? 'Short' : 'Long'} form, ${seconds(performance.now() - begunAt)}.`);
for (const { name, broken } of failed) print(`  ✗ ${name}: ${broken.join('; ')}`);
// Nothing tried is nothing shown.
const failures = chosen.length === 0 ? 1 : failed.length;
const lastLine = `${outcomes.length - failed.length} passed, ${failures} failed`;
if (values['last-line'] !== undefined) writeFileSync(values['last-line'], `${lastLine}\n`);
print(lastLine);
// Servers and browsers that a failed trial left behind hold nothing up.
process.exit(failures === 0 ? 0 : 1);
