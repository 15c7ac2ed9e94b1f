import { describe, expect, it } from 'vitest';
import { ruleRefusals } from '../../core/refusal.ts';
import { problemOf } from '../../shared/problem.ts';
import { problemCodes } from '../../shared/problem-texts.ts';
import { problem } from '../../shared/schemas/problem.ts';

describe('problems', () => {
  it.each([...problemCodes])('[S7] %s fits the document of RFC 9457 and says in a sentence what to do', (code) => {
    const bare = problemOf(code);
    const full = problemOf(code, {
      visit: 'visit-0001',
      version: 3,
      revision: 9,
      since: [{ type: 'RinseBegun', at: Date.UTC(2026, 2, 10, 12), by: 'person-ama' }],
      field: 'chair',
      place: 4,
      expected: 'a number',
    });
    for (const one of [bare, full]) {
      expect(problem.parse(one)).toEqual(one);
      expect(one.detail).toMatch(/^[A-Z].*[a-z"] .*\.$/);
      expect(one.detail).not.toMatch(/null|undefined|\(\)|\.\./);
    }
  });

  it('[S7] the list is closed and holds every refusal of the rules', () => {
    expect(problemCodes).toEqual(expect.arrayContaining([...ruleRefusals]));
    expect(new Set(problemCodes).size).toBe(problemCodes.length);
  });

  it('[S7] names who did what and when, the newest three at most', () => {
    const since = [1, 2, 3, 4].map((n) => ({ type: `Event${n}`, at: n * 1_000, by: n === 4 ? 'person-ama' : null }));
    const { detail } = problemOf('moved-on', { since });
    expect(detail).toContain('Since then: Event2 at 1970-01-01T00:00:02.000Z; ');
    expect(detail).toContain('Event4 at 1970-01-01T00:00:04.000Z by person-ama.');
    expect(detail).not.toContain('Event1');
  });
});
