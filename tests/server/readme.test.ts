import { execFile } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { HandClock } from '../support/hand-clock.ts';
import { ServerProcess } from '../support/server-process.ts';

vi.setConfig({ testTimeout: 90_000, hookTimeout: 60_000 });

const readme = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');

/** The shell lines below the remark that says they are run. */
function curlLines(): string {
  const after = readme.slice(readme.indexOf('<!-- The lines below are run by a test. -->'));
  const block = /```sh\n([\s\S]*?)```/.exec(after)?.[1];
  if (block === undefined) throw new Error('the README has no curl lines');
  return block;
}

describe('the curl lines of the README', () => {
  const server = new ServerProcess(new HandClock());
  beforeAll(() => server.start());
  afterAll(() => server.stop());

  it('run as written against a server on a hand-driven clock, and take a visit to neutralize', async () => {
    const lines = curlLines();
    const written = 'BASE=http://localhost:4680/api/v1';
    expect(lines).toContain(written);
    const script = `set -euo pipefail\n${lines.replace(written, `BASE=${server.address}/api/v1`)}`;
    const { stdout } = await promisify(execFile)('bash', ['-c', script]);
    expect(stdout).toContain('"openapi"');
    const answers = stdout.split('\n').filter((line) => line.startsWith('{"outcome"'));
    expect(answers.length).toBe((lines.match(/^say '/gm) ?? []).length);
    expect(answers.every((line) => (JSON.parse(line) as { outcome: string }).outcome === 'done')).toBe(true);
    const facts = await server.facts('visit-0001');
    expect(facts).toMatchObject({ chair: 2, stage: 'neutralize', stylist: 'person-ama' });
    expect(facts.passes[0]?.water).toMatchObject({ basin: 91 });
    expect(facts.way.filter((mark) => mark.stage === 'rinse')).toHaveLength(1);
  });

  it('name the commands that npm knows', () => {
    const scripts = (
      JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')) as { scripts: object }
    ).scripts;
    for (const [, name] of readme.matchAll(/npm run ([a-z-]+)/g)) expect(Object.keys(scripts)).toContain(name);
    expect(Object.keys(scripts)).toEqual(expect.arrayContaining(['start', 'test']));
  });
});
