import { describe, expect, test } from 'vitest';
import { countCheck, countLastLine, countPlaywright, countVitest } from '../../scripts/counts.mjs';

const file = (...statuses: string[]) => ({
  name: 'a.test.ts',
  status: statuses.includes('failed') ? 'failed' : 'passed',
  assertionResults: statuses.map((status) => ({ status })),
});

describe('true counts of vitest', () => {
  test('tests are counted over all files', () => {
    const report = { testResults: [file('passed', 'passed'), file('passed', 'failed')] };
    expect(countVitest(report, 1)).toEqual({ passed: 3, failed: 1, notes: [] });
  });

  test('a skipped test counts as failed', () => {
    const count = countVitest({ testResults: [file('passed', 'pending', 'todo')] }, 0);
    expect(count).toMatchObject({ passed: 1, failed: 2 });
  });

  test('a file that does not load counts as failed', () => {
    const broken = { name: 'b.test.ts', status: 'failed', assertionResults: [] };
    expect(countVitest({ testResults: [file('passed'), broken] }, 1)).toMatchObject({ passed: 1, failed: 1 });
  });

  test('no test executed is a failure even with exit code 0', () => {
    expect(countVitest({ testResults: [] }, 0)).toMatchObject({ passed: 0, failed: 1 });
  });

  test('no report is a failure even with exit code 0', () => {
    expect(countVitest(null, 0)).toMatchObject({ passed: 0, failed: 1 });
  });

  test('a bad end without a failed test is a failure', () => {
    expect(countVitest({ testResults: [file('passed')] }, 1)).toMatchObject({ passed: 1, failed: 1 });
  });
});

describe('true counts of playwright', () => {
  const stats = { expected: 3, unexpected: 0, flaky: 0, skipped: 0 };

  test('what was expected passed', () => {
    expect(countPlaywright({ stats, errors: [] }, 0)).toEqual({ passed: 3, failed: 0, notes: [] });
  });

  test('unexpected, flaky and skipped tests and errors outside of tests count as failed', () => {
    const report = { stats: { expected: 3, unexpected: 1, flaky: 2, skipped: 4 }, errors: [{ message: 'no server' }] };
    expect(countPlaywright(report, 1)).toMatchObject({ passed: 3, failed: 8 });
  });

  test('no test executed and no report are failures', () => {
    expect(countPlaywright({ stats: { ...stats, expected: 0 }, errors: [] }, 0)).toMatchObject({
      passed: 0,
      failed: 1,
    });
    expect(countPlaywright(null, 0)).toMatchObject({ passed: 0, failed: 1 });
  });
});

describe('true counts of the last line of the faults', () => {
  test('it says what passed and what failed', () => {
    expect(countLastLine('12 passed, 0 failed\n', 0)).toEqual({ passed: 12, failed: 0, notes: [] });
    expect(countLastLine('11 passed, 1 failed\n', 1)).toEqual({ passed: 11, failed: 1, notes: [] });
  });

  test('no line, another line, nothing tried and a bad end are failures', () => {
    for (const text of [null, '', 'trial 3 broke\n', '0 passed, 0 failed\n']) {
      expect(countLastLine(text, 0)).toMatchObject({ passed: 0, failed: 1 });
    }
    expect(countLastLine('12 passed, 0 failed\n', 1)).toMatchObject({ passed: 12, failed: 1 });
  });
});

test('a check is one thing: it holds or it does not', () => {
  expect([countCheck(0), countCheck(2)]).toEqual([
    { passed: 1, failed: 0, notes: [] },
    { passed: 0, failed: 1, notes: [] },
  ]);
});
