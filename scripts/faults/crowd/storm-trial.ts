import { readFileSync } from 'node:fs';
import { availableParallelism, loadavg } from 'node:os';
import { MINUTE, SECOND } from '../../../core/time.ts';
import { relaxer } from '../../../tests/support/directions-kit.ts';
import { HandClock } from '../../../tests/support/hand-clock.ts';
import { ServerProcess, setUpSalon } from '../../../tests/support/server-process.ts';
import { pause, until } from '../pause.ts';
import type { Trial, TrialContext } from '../trial.ts';
import { Crowd } from './crowd.ts';

const SCREENS = { short: 150, long: 1_000 } as const;
const CHAIRS = 12;
/** All must be current again within so much after the server listens; judged in the long form, printed in both. ms. */
const GOAL = 10 * SECOND;

/** Peak memory of a process, MB: the kernel's own high-water mark (proc(5), VmHWM). */
function peakOf(pid: number): number {
  const line = /VmHWM:\s+(\d+) kB/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'));
  return Math.round(Number(line?.[1]) / 1024);
}

/** What a process has worked so far, s: user and system time in ticks of 10 ms (proc(5)). */
function workOf(pid: number): number {
  const fields = readFileSync(`/proc/${pid}/stat`, 'utf8')
    .replace(/^.*\) /, '')
    .split(' ');
  return (Number(fields[11]) + Number(fields[12])) / 100;
}

async function busyFloor(built: TrialContext['built']): Promise<ServerProcess> {
  const server = new ServerProcess(new HandClock(), undefined, ['--log-level', 'fatal'], { run: [built.server] });
  await server.start();
  await setUpSalon(server, relaxer(), CHAIRS);
  for (let chair = 1; chair <= CHAIRS; chair++) {
    const visit = await server.do({ type: 'BeginApplication', chair, visit: null, service: null });
    server.clock.pass(MINUTE);
    if (chair % 2 === 0) await server.do({ type: 'FinishApplication', visit });
  }
  return server;
}

async function stormed({ short, built, say, claim }: TrialContext): Promise<void> {
  const screens = short ? SCREENS.short : SCREENS.long;
  const server = await busyFloor(built);
  const crowd = new Crowd(built.screens, server.address, screens);
  try {
    const { revision } = await server.turn();
    const firstMs = await until('all screens linked', () => crowd.currentAt(revision) === screens, 120_000);
    const calm = peakOf(server.pid);
    await server.kill();
    await until('all screens have lost it', () => crowd.linked === 0, 30_000);
    // Long enough away for the screens' waits to have grown: they come back spread, or all at once, as they would.
    await pause(short ? 1_000 : 5_000);
    await server.start();
    const begun = performance.now();
    await server.do({ type: 'AddPlace', kind: 'chair', number: 40, label: '40' });
    const now = await server.turn();
    await until('all screens current again', () => crowd.currentAt(now.revision) === screens, 120_000);
    const tookMs = performance.now() - begun;
    say(
      `${screens} screens of a floor with ${CHAIRS} busy chairs linked in ${(firstMs / 1000).toFixed(1)} s; server killed`,
    );
    say(
      `after the restart all were at the same revision within ${(tookMs / 1000).toFixed(1)} s (goal ${GOAL / 1000} s)`,
    );
    const busy = `${loadavg()[0]?.toFixed(1)} processes at once on ${availableParallelism()} cores`;
    say(
      `the server worked ${workOf(server.pid).toFixed(1)} s for it, its start included; the machine was asked for ${busy}`,
    );
    say(`peak memory of the server ${peakOf(server.pid)} MB (before the kill ${calm} MB)`);
    claim('all screens are current again', crowd.currentAt(now.revision) === screens, `${screens}`);
    if (!short) claim('within 10 s', tookMs <= GOAL, `${(tookMs / 1000).toFixed(1)} s`);
  } finally {
    crowd.leave();
    await server.stop();
  }
}

export const stormTrials: readonly Trial[] = [{ name: 'storm of screens after a restart', form: 'both', run: stormed }];
