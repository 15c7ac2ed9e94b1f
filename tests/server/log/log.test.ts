import { describe, expect, it } from 'vitest';
import { MINUTE } from '../../../core/time.ts';
import type { Timers } from '../../../server/engine/timers.ts';
import { openLog } from '../../../server/log/open-log.ts';

/** A log whose lines are kept, and whose minutes pass by hand. */
function held() {
  const lines: Record<string, unknown>[] = [];
  let waiting: (() => void)[] = [];
  const timers: Timers = {
    soon: () => undefined,
    after: (ms, task) => {
      expect(ms).toBe(MINUTE);
      waiting.push(task);
      return () => undefined;
    },
    every: () => () => undefined,
  };
  const log = openLog('info', timers, {
    write: (line: string) => void lines.push(JSON.parse(line) as Record<string, unknown>),
  });
  const minute = (): void => {
    const due = waiting;
    waiting = [];
    for (const task of due) task();
  };
  return { log, lines, minute, windows: () => waiting.length };
}

describe('the log', () => {
  it('[R8] says a fault that repeats every 2 s once, and then once a minute with how often', () => {
    const { log, lines, minute } = held();
    for (let n = 0; n < 31; n++) log.error({ err: new Error('no space'), turn: n }, 'a turn failed');
    expect(lines.map(({ msg, times }) => [msg, times])).toEqual([['a turn failed', undefined]]);
    minute();
    expect(lines[1]).toMatchObject({ msg: 'a turn failed', times: 30, turn: 30, err: { message: 'no space' } });
    log.error({ err: new Error('no space') }, 'a turn failed');
    minute();
    expect(lines[2]).toMatchObject({ times: 1 });
    minute();
    expect(lines).toHaveLength(3);
    log.error({ err: new Error('no space') }, 'a turn failed');
    expect(lines[3]).not.toHaveProperty('times');
  });

  it('[R8] keeps apart what differs by sentence, code or severity, and looks through what only names a request', () => {
    const { log, lines } = held();
    const full = Object.assign(new Error('full'), { code: 'SQLITE_FULL' });
    const failing = Object.assign(new Error('io'), { code: 'SQLITE_IOERR_WRITE' });
    for (let n = 0; n < 2; n++) {
      const request = log.child({ reqId: n });
      request.error({ err: full }, 'a request failed');
      request.error({ err: failing }, 'a request failed');
      request.warn({ err: full }, 'a request failed');
      request.error(full);
      request.info('ending on SIGTERM');
    }
    expect(lines.map(({ level, msg }) => `${String(level)} ${String(msg)}`)).toEqual([
      '50 a request failed',
      '50 a request failed',
      '40 a request failed',
      '50 full',
      '30 ending on SIGTERM',
    ]);
  });

  it('[R8] a flood of sentences that all differ becomes a hundred lines a minute and one more, and is then forgotten', () => {
    const { log, lines, minute, windows } = held();
    for (let n = 0; n < 5_000; n++) log.warn(`nonsense ${n}`);
    expect(lines).toHaveLength(101);
    expect(windows()).toBe(101);
    minute();
    expect(lines).toHaveLength(102);
    expect(lines[101]).toMatchObject({ msg: 'nonsense 4999', times: 4_899 });
    minute();
    expect(windows()).toBe(0);
  });

  it('[R8] a plain error that repeats keeps its trace and its sentence', () => {
    const { log, lines, minute } = held();
    for (let n = 0; n < 3; n++) log.error(new Error('broken'));
    minute();
    expect(lines[1]).toMatchObject({ msg: 'broken', times: 2, err: { type: 'Error', message: 'broken' } });
  });
});
