import { expect } from 'vitest';
import type { ProblemCode } from '../../../shared/problem-code.ts';
import { problem } from '../../../shared/schemas/problem.ts';
import type { TestServer, Told } from './kit.ts';

/** A sentence that tells what is wrong and where, and nothing stored. */
export async function refused(
  server: TestServer,
  ask: () => Promise<Told>,
  code: ProblemCode,
  field: string | null,
): Promise<void> {
  const { revision } = server.engine;
  const { status, type, body } = await ask();
  expect({ code: body.code, field: body.field }).toEqual({ code, field });
  expect(status).toBe(code === 'invalid-body' || code === 'invalid-json' ? 400 : body.status);
  expect(status).toBeGreaterThanOrEqual(400);
  expect(status).toBeLessThan(500);
  expect(type).toContain('application/problem+json');
  expect(problem.parse(body)).toEqual(body);
  expect(body.detail).toMatch(/^[A-Z].* .*\.$/);
  expect(server.engine.revision).toBe(revision);
}

export type Case = readonly [rule: string, what: string, body: object, code: ProblemCode, field: string | null];
