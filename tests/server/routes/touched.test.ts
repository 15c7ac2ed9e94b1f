import { describe, expect, it } from 'vitest';
import { MINUTE, SECOND } from '../../../core/time.ts';
import { TOUCHED_HEADER } from '../../../shared/protocol.ts';
import { TestServer } from './kit.ts';

/** Begins at chair 1 with what a device says beside it; when it counts as begun, against the server's now. */
async function begunAgo(
  touched: (now: number, timescale: string) => string,
  named: number | null = null,
): Promise<number> {
  const server = await (await TestServer.start()).setUp();
  const { now, timescale } = await server.floor();
  const happenedAt = named === null ? null : now - named;
  const body = { type: 'BeginApplication', chair: 1, visit: null, service: 'service-1', id: 'touch-0001', happenedAt };
  const told = await server.raw('POST', '/api/v1/commands', JSON.stringify(body), {
    [TOUCHED_HEADER]: touched(now, timescale),
  });
  expect(told.status).toBe(200);
  const visit = (await server.floor()).entities['visit/touch-0001'];
  if (visit?.kind !== 'visit') throw new Error('no visit');
  return Math.round((now - (visit.facts.passes[0]?.begun?.at ?? 0)) / SECOND);
}

describe('a request that a dead network held back', () => {
  it('[X3] counts as of its touch once its sender must have given it up', async () => {
    expect(await begunAgo((now, timescale) => `${now - 20 * MINUTE} ${timescale}`)).toBe(20 * 60);
    expect(await begunAgo((now, timescale) => `${now - 6 * SECOND} ${timescale}`)).toBe(6);
  });

  it('[X3] happens as it arrives while its sender still waits for the answer', async () => {
    expect(await begunAgo((now, timescale) => `${now - 4 * SECOND} ${timescale}`)).toBe(0);
  });

  it('[T5] is not believed of another timescale, nor where it says nothing of a time', async () => {
    expect(await begunAgo((now) => `${now - 20 * MINUTE} another`)).toBe(0);
    expect(await begunAgo((_now, timescale) => `long ago ${timescale}`)).toBe(0);
    expect(await begunAgo(() => '')).toBe(0);
  });

  it('[X4] never outdoes the time that a person gave', async () => {
    expect(await begunAgo((now, timescale) => `${now - 20 * MINUTE} ${timescale}`, 2 * MINUTE)).toBe(120);
  });
});
