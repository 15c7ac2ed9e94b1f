import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import type { Command } from '../../core/command.ts';
import { MINUTE, SECOND, type EpochMs, type Ms } from '../../core/time.ts';
import { RealClock } from '../../server/clock/real-clock.ts';
import { Engine } from '../../server/engine/engine.ts';
import { realTimers } from '../../server/engine/timers.ts';
import { SqliteStore } from '../../server/store/sqlite-store.ts';
import { rules } from './floor.ts';
import type { Line } from './table.ts';

const VISITS = 200;
/** So many heads reach the instant of their bell in the same second. */
const AT_ONCE = 10;
/** Whole seconds in which a head's bell falls due. */
const SECONDS = VISITS / AT_ONCE;

/** Real time, from some moment on so much later: two minutes need not be waited for. */
class ShiftedClock {
  readonly #clock = new RealClock();
  shiftMs: Ms = 0;

  read() {
    const { wall, mono, uptime, bootId } = this.#clock.read();
    return { wall: wall + this.shiftMs, mono: mono + this.shiftMs, uptime: uptime + this.shiftMs, bootId };
  }
}

/** The instant at which a bell is recorded and told against the instant at which it was due, while 200 heads run (R8). */
export async function ringing(): Promise<Line[]> {
  const folder = mkdtempSync(join(tmpdir(), 'basinbell-bench-'));
  const clock = new ShiftedClock();
  const store = new SqliteStore({ folder });
  const log = { error: console.error, warn: console.error, info: () => undefined };
  const engine = new Engine({ store, clock, timers: realTimers, log, freshId: randomUUID });
  try {
    const dueAt = await runningHeads(engine);
    clock.shiftMs = dueAt - SECOND - engine.heartbeat().now;
    engine.turn();
    const late: number[] = [];
    engine.subscribe(({ events }) => {
      for (const { event } of events) {
        if (event.type === 'BellRung') late.push(engine.heartbeat().now - event.dueAt);
      }
    });
    const bare = bareTimers(dueAt - engine.heartbeat().now);
    await pause((SECONDS + 2) * SECOND);
    return [line(late, await bare)];
  } finally {
    engine.stop();
    store.close();
    rmSync(folder, { recursive: true });
  }
}

/** Plain timers for the same instants, side by side: what this machine can do at all. */
async function bareTimers(firstIn: Ms): Promise<number[]> {
  const from = performance.now();
  const each = Array.from({ length: SECONDS }, async (_, i) => {
    const due = firstIn + i * SECOND;
    await pause(due - (performance.now() - from));
    return performance.now() - from - due;
  });
  return Promise.all(each);
}

/** Heads that were begun in the last minutes; returns the instant at which the first of their bells falls due. */
async function runningHeads(engine: Engine): Promise<EpochMs> {
  const say = async (command: Command, happenedAt: EpochMs | null, id: string = randomUUID()): Promise<string> => {
    const reply = await engine.submit({ ...command, id, by: null, device: null, seen: null, happenedAt });
    if ('refused' in reply) throw new Error(`refused: ${command.type} ${reply.refused.code}`);
    return reply.accepted.visit ?? '';
  };
  const salon = { zone: 'UTC', language: 'en', hourCycle: 'h23', demonstration: false } as const;
  await say({ type: 'SetUpSalon', name: 'Bench', ...salon }, null);
  const written = { directions: null, name: 'Relaxer', source: 'invented', rules } as const;
  await say({ type: 'WriteDirections', ...written }, null, 'directions-bench');
  const sold = { service: null, name: 'Relaxing', passes: ['directions-bench'], limits: [] } as const;
  await say({ type: 'WriteService', ...sold }, null, 'service-bench');
  const finishedAt = Math.floor(engine.heartbeat().now / SECOND) * SECOND - MINUTE;
  for (let i = 0; i < VISITS; i += 1) {
    const number = i + 1;
    await say({ type: 'AddPlace', kind: 'chair', number, label: `${number}` }, null);
    const at = finishedAt - Math.floor(i / AT_ONCE) * SECOND;
    const begin = { type: 'BeginApplication', chair: number, visit: null, service: 'service-bench' } as const;
    const visit = await say(begin, at - 10 * MINUTE);
    await say({ type: 'FinishApplication', visit }, at);
  }
  return finishedAt - (SECONDS - 1) * SECOND + rules.minAfterMs - engine.floor.salon.figures.soonMs;
}

function line(late: readonly number[], bare: readonly number[]): Line {
  const at = (values: readonly number[], share: number): number =>
    [...values].sort((a, b) => a - b)[Math.ceil(share * values.length) - 1] ?? NaN;
  const told = (values: readonly number[]): string =>
    `p50 ${at(values, 0.5).toFixed(1)} ms, p99 ${at(values, 0.99).toFixed(1)} ms`;
  return {
    what: `a bell rung after its instant, ${VISITS} running visits (${late.length} bells)`,
    measured: told(late),
    against: `bare timers: ${told(bare)}`,
    ratio: (at(late, 0.99) / Math.max(1, at(bare, 0.99))).toFixed(2),
    goal: 'p99 ≤ 50 ms',
  };
}
