import type { Browser } from '@playwright/test';
import { MINUTE, SECOND, type Ms } from '../../../core/time.ts';
import type { Device } from '../../../tests/e2e/devices.ts';
import { BlackHole } from '../../../tests/support/black-hole.ts';
import { relaxer } from '../../../tests/support/directions-kit.ts';
import { HandClock } from '../../../tests/support/hand-clock.ts';
import { ServerProcess, setUpSalon } from '../../../tests/support/server-process.ts';
import { pause } from '../pause.ts';
import type { Trial, TrialContext } from '../trial.ts';
import { browser, screensAt, standing, type Screens, type Standing } from './screens-of.ts';

/** How the server falls silent without a word, and comes back. */
interface Silence {
  readonly name: string;
  readonly form: Trial['form'];
  readonly fall: (server: ServerProcess, hole: BlackHole) => void;
  readonly end: (server: ServerProcess, hole: BlackHole) => void;
  /** Whether the server itself goes on meanwhile. */
  readonly serverGoesOn: boolean;
}

const silences: readonly Silence[] = [
  {
    name: 'a network that swallows everything',
    form: 'both',
    fall: (_, hole) => hole.swallow(),
    end: (_, hole) => hole.release(),
    serverGoesOn: true,
  },
  {
    name: 'a network that swallows everything and forgets the links',
    form: 'long',
    fall: (_, hole) => hole.swallow(),
    end: (_, hole) => {
      hole.cut();
      hole.release();
    },
    serverGoesOn: true,
  },
  {
    name: 'a stopped server process',
    form: 'long',
    fall: (server) => server.freeze(),
    end: (server) => server.thaw(),
    serverGoesOn: false,
  },
];

/** Numbers must be marked within so much, and everybody be at one revision within so much of the return. ms. */
const MARKED_WITHIN: Ms = 10 * SECOND;
const BACK_WITHIN: Ms = 2 * SECOND;
const STEP: Ms = 200;

/** Hand time follows real time for all, until it holds for every screen; the real ms it took, null if never within the limit. */
async function live(
  server: ServerProcess,
  screens: Screens,
  holds: (one: Standing) => boolean,
  limit: Ms,
): Promise<number | null> {
  const begun = performance.now();
  let passed = 0;
  for (;;) {
    const now = performance.now() - begun;
    server.clock.pass(now - passed);
    passed = now;
    await Promise.all(screens.both.map((device) => device.catchUp()));
    if ((await Promise.all(screens.both.map(standing))).every(holds)) return performance.now() - begun;
    if (performance.now() - begun > limit) return null;
    await pause(STEP);
  }
}

/** All clocks go on by so much at once. */
async function jump(server: ServerProcess, screens: Screens, ms: Ms): Promise<void> {
  server.clock.pass(ms);
  await Promise.all(screens.both.map((device) => device.catchUp()));
}

const pulsesOf = async (device: Device): Promise<number> => (await standing(device)).pulses;
const inSeconds = (ms: number | null): string => (ms === null ? 'never' : `${(ms / 1000).toFixed(1)} s`);

/** A head whose `rinse` rings in so much, by the clock of the floor. */
const RINGS_IN: Ms = 3 * MINUTE;

async function floor(built: TrialContext['built']): Promise<ServerProcess> {
  const server = new ServerProcess(new HandClock(), undefined, ['--log-level', 'fatal'], { run: [built.server] });
  await server.start();
  await setUpSalon(server, relaxer(), 2);
  const visit = await server.do({ type: 'BeginApplication', chair: 1, visit: null, service: null });
  server.clock.pass(15 * MINUTE);
  await server.do({ type: 'FinishApplication', visit });
  // Closes 15 min after the last touch; `rinse` comes 3 min before that, `soon` is past.
  server.clock.pass(12 * MINUTE - RINGS_IN);
  await server.turn();
  return server;
}

async function fallenSilent(silence: Silence, of: Browser, { built, say, claim }: TrialContext): Promise<void> {
  const server = await floor(built);
  const hole = await BlackHole.open(() => server.address);
  const screens = await screensAt(of, server, hole.address);
  try {
    const linked = await live(server, screens, ({ confirmed }) => confirmed, 30_000);
    claim('both screens stand confirmed first', linked !== null, inSeconds(linked));
    const begunMs = server.clock.passedMs;
    silence.fall(server, hole);
    const marked = await live(server, screens, ({ confirmed }) => !confirmed, 60_000);
    say(`${silence.name}: numbers marked on wall and phone ${inSeconds(marked)} after the last byte`);
    claim('the numbers say so within 10 s', marked !== null && marked <= MARKED_WITHIN, inSeconds(marked));
    const spentMs = server.clock.passedMs - begunMs;
    await ringsAlone(server, screens, spentMs, claim);
    if (silence.serverGoesOn) await server.turn();
    await comesBack(silence, server, hole, screens, { say, claim });
  } finally {
    hole.release();
    server.thaw();
    await Promise.all(screens.both.map((device) => device.close()));
    await hole.close();
    await server.stop();
  }
}

/** The bell of the known instant rings on the wall, though no server said so. */
async function ringsAlone(
  server: ServerProcess,
  screens: Screens,
  spentMs: Ms,
  claim: TrialContext['claim'],
): Promise<void> {
  const before = await pulsesOf(screens.wall);
  // The clock went on a little before the silence, too: two seconds are left on the safe side.
  const passedMs = server.clock.passedMs;
  await jump(server, screens, RINGS_IN - spentMs - 8 * SECOND);
  await pause(1_500);
  const early = await pulsesOf(screens.wall);
  let rang: number | null = null;
  for (let step = 0; step < 80 && rang === null; step++) {
    await jump(server, screens, 250);
    await pause(250);
    if ((await pulsesOf(screens.wall)) > early) rang = server.clock.passedMs - passedMs;
  }
  claim('nothing rings before the instant', early === before, `${before} then ${early} pulses`);
  claim('the wall rings by itself', rang !== null);
  const dueMs = Math.abs(server.clock.passedMs - WHEN_RINSE_RINGS);
  claim('at the known instant', rang !== null && dueMs <= 1_500, `off by ${inSeconds(dueMs)}`);
}

/** By the stop watch of the hand, from its beginning: applied after 15 min, closed 15 min later, `rinse` 3 min before. */
const WHEN_RINSE_RINGS: Ms = 27 * MINUTE;

async function comesBack(
  silence: Silence,
  server: ServerProcess,
  hole: BlackHole,
  screens: Screens,
  { say, claim }: Pick<TrialContext, 'say' | 'claim'>,
): Promise<void> {
  // Let the burst that is being played end, so that a second one would be seen.
  await pause(3_000);
  const before = await Promise.all(screens.both.map(pulsesOf));
  silence.end(server, hole);
  const begun = performance.now();
  const { revision } = await server.turn();
  // The hand stands still: whatever rings now rings again for a bell that rang already.
  let back: number | null = null;
  while (back === null && performance.now() - begun < 30_000) {
    const all = await Promise.all(screens.both.map(standing));
    if (all.every((one) => one.revision === revision && one.confirmed)) back = performance.now() - begun;
    else await pause(50);
  }
  say(`after the return both screens stood at the server's revision, confirmed, within ${inSeconds(back)}`);
  claim('the same revision everywhere within 2 s', back !== null && back <= BACK_WITHIN, inSeconds(back));
  await pause(2_000);
  const after = await Promise.all(screens.both.map(pulsesOf));
  claim(
    'no bell sounds twice: the server’s adopts what rang',
    `${before.join()}` === `${after.join()}`,
    `${before.join()} then ${after.join()} pulses`,
  );
  const bells = (await server.floor()).entities;
  const visit = Object.values(bells).find((one) => one.kind === 'visit');
  const rung = visit?.kind === 'visit' ? visit.facts.bells.map(({ kind }) => kind) : [];
  claim('and the server rang it as well', rung.includes('rinse'), rung.join());
}

export const blackHoleTrials: readonly Trial[] = silences.map((silence) => ({
  name: `link: ${silence.name}`,
  form: silence.form,
  run: async (told) => {
    const of = await browser(told.short);
    try {
      await fallenSilent(silence, of, told);
    } finally {
      await of.close();
    }
  },
}));
