import { describe, expect, it } from 'vitest';
import type { Reply } from '../../../server/engine/reply.ts';
import { storageFacts } from '../../../server/engine/storage-facts.ts';
import { MINUTE, NOON, processing, salonBench, SECOND } from './kit.ts';

const code = (reply: Reply): string => ('refused' in reply ? reply.refused.code : reply.accepted.outcome);

describe('a damaged data file', () => {
  it('[S2] takes water and burns in memory, rings from memory, refuses the rest, and is not tried again', async () => {
    const bench = await salonBench();
    const visit = await processing(bench);
    const written = bench.disk.writes.length;
    bench.disk.declareDamaged('planted', 'check');
    bench.pass(12 * MINUTE);
    expect(bench.bells(visit)).toEqual(['rinse WARNING #1']);
    expect(bench.floorBells()).toEqual(['not-saved WARNING #1']);
    expect(bench.wakeUpMs).toBeGreaterThan(2 * SECOND);
    expect(code(await bench.send({ type: 'BeginRinse', chair: 1, visit, basin: 91 }))).toBe('kept-unsaved');
    expect(code(await bench.send({ type: 'ReportBurns', chair: 2, visit: null, place: 'eye' }))).toBe('kept-unsaved');
    expect(code(await bench.send({ type: 'BeginApplication', chair: 3, visit: null, service: null }))).toBe('again');
    expect(bench.disk.writes.length).toBe(written);
  });

  it('[R8] is told to the screens and to whoever asks for readiness, with when it was found', async () => {
    const bench = await salonBench();
    expect(bench.engine.heartbeat().storage).toEqual({
      trouble: null,
      damageFoundAt: null,
      backupAt: null,
      backupTrouble: 'none-yet',
    });
    bench.disk.declareDamaged('planted', 'check');
    expect(bench.engine.probe()).toBe('corrupt');
    expect(bench.engine.heartbeat().storage).toMatchObject({ trouble: 'corrupt', damageFoundAt: NOON });
  });

  it('[T2] instants of the wall clock are told on the timescale', () => {
    const damage = { foundAt: NOON, what: 'planted', by: 'check' } as const;
    const backups = { madeAt: NOON - MINUTE, trouble: null };
    expect(storageFacts(null, damage, backups, MINUTE)).toEqual({
      trouble: 'corrupt',
      damageFoundAt: NOON - MINUTE,
      backupAt: NOON - 2 * MINUTE,
      backupTrouble: null,
    });
  });
});
