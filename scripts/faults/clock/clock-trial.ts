import { HOUR, MINUTE, SECOND, type Ms } from '../../../core/time.ts';
import type { Trial, TrialContext } from '../trial.ts';
import { Watch, type Seen } from './watch.ts';

/** What the countdown may be off by. */
const ALLOWED: Ms = SECOND;

const steps = [
  { name: '1 h on', by: () => HOUR },
  { name: '1 h back', by: () => -HOUR },
  { name: '1 min on', by: () => MINUTE },
  { name: '1 min back', by: () => -MINUTE },
  { name: 'to 1970', by: (wall: number) => 40 * SECOND - wall },
] as const;

const within = (seen: readonly Seen[], of: (one: Seen) => Ms): Ms => Math.max(...seen.map((one) => Math.abs(of(one))));
const inSeconds = (ms: Ms): string => `${(ms / 1000).toFixed(3)} s`;

async function stepped({ short, built, say, claim }: TrialContext): Promise<void> {
  const watch = await Watch.begin(built.server);
  const { server, clock } = watch;
  const seen: Seen[] = [await watch.look()];
  for (const { name, by } of steps) {
    const ms = by(clock.wall);
    clock.stepWall(ms);
    const running = [await watch.look()];
    clock.pass(MINUTE);
    running.push(await watch.look());

    const across: Seen[] = [];
    for (const step of short ? [-ms] : [-ms, ms]) {
      await server.kill();
      clock.stepWall(step);
      clock.pass(40 * SECOND);
      await server.start();
      across.push(await watch.look());
    }
    if (!short) clock.stepWall(-ms);
    running.push(await watch.look());
    seen.push(...running, ...across);
    const worst = (some: readonly Seen[]): string => inSeconds(within(some, (one) => one.errorMs));
    say(
      `wall clock ${name}: countdown off by at most ${worst(running)} while running, ${worst(across)} across a restart`,
    );
  }
  const shown = within(seen, (one) => one.shownErrorMs);
  claim(
    'countdown error ≤ 1 s, wall clock stepped ±1 h, ±1 min, to 1970, while running and across restarts',
    seen.every((one) => Math.abs(one.errorMs) <= ALLOWED),
    `${inSeconds(within(seen, (one) => one.errorMs))} in ${seen.length} looks`,
  );
  claim('the time of day that is shown follows the wall clock', shown <= ALLOWED + SECOND, inSeconds(shown));
  claim(
    'never uncertain in the same boot',
    seen.every((one) => one.line.sureness === 'firm'),
  );
  await toTheClose(watch, claim);
  await server.stop();
}

/** On to the close: `rinse` and `over` ring once, at the instants by the stop watch. */
async function toTheClose(watch: Watch, claim: TrialContext['claim']): Promise<void> {
  const { server, clock } = watch;
  clock.pass(watch.leftMs - SECOND);
  const before = (await server.turn()) && (await server.facts(watch.visit)).bells.map(({ kind }) => kind);
  clock.pass(SECOND);
  const after = (await server.turn()) && (await server.facts(watch.visit)).bells.map(({ kind }) => kind);
  claim(
    'after all of it the bell of the close rings at its second',
    before.includes('rinse') && after.includes('over'),
    `${before.join()} a second before, ${after.join()} at it`,
  );
}

async function slept({ built, say, claim }: TrialContext): Promise<void> {
  const watch = await Watch.begin(built.server);
  await watch.look();
  watch.clock.sleep(20 * MINUTE);
  const seen = await watch.look();
  const gap = Watch.gapIn(seen);
  say(`the machine slept for 20 min: told as ${gap?.why} for ${inSeconds(gap?.ms ?? 0)}`);
  claim('a sleep of 20 min is told', gap?.why === 'slept' && Math.abs(gap.ms - 20 * MINUTE) <= SECOND);
  claim('the countdown is right after it', Math.abs(seen.errorMs) <= ALLOWED, inSeconds(seen.errorMs));
  await watch.server.stop();
}

const forward = [
  ['right', 0],
  ['1 h ahead', HOUR],
] as const;

async function rebootedForward({ short, built, say, claim }: TrialContext): Promise<void> {
  for (const [name, error] of short ? forward.slice(0, 1) : forward) {
    const watch = await Watch.begin(built.server);
    await watch.look();
    await watch.server.kill();
    watch.clock.reboot(7 * MINUTE, error);
    await watch.server.start();
    const seen = await watch.look();
    const gap = Watch.gapIn(seen);
    say(
      `off for 7 min, another boot, wall clock ${name}: gap told ${inSeconds(gap?.ms ?? 0)}, sureness ${seen.line.sureness}`,
    );
    claim('the gap is told', gap?.why === 'rebooted' && Math.abs(gap.ms - 7 * MINUTE - error) <= 6 * SECOND, name);
    // A wall clock that is ahead cannot be told from a longer gap: it errs to the water, and the gap says by how much.
    if (error === 0) claim('the countdown is right', Math.abs(seen.errorMs) <= ALLOWED, inSeconds(seen.errorMs));
    else
      claim(
        'the countdown errs to the water by no more than told',
        seen.errorMs <= 0 && seen.errorMs >= -error - SECOND,
      );
    await watch.server.stop();
  }
}

/** No number at all, or one that is marked. */
const unsure = ({ line }: Seen): boolean => line.number === null || line.sureness === 'uncertain';

const backward = [
  ['1 h behind', -HOUR],
  ['at 1970', -Date.UTC(2026, 2, 10, 12)],
] as const;

async function rebootedBackward({ short, built, say, claim }: TrialContext): Promise<void> {
  for (const [name, back] of short ? backward.slice(1) : backward) {
    const watch = await Watch.begin(built.server);
    await watch.look();
    await watch.server.kill();
    const off = 7 * MINUTE;
    watch.clock.reboot(off, back);
    await watch.server.start();
    const lost = await watch.look();
    const bells = Watch.floorBellsIn(lost);
    say(
      `off for 7 min, another boot, wall clock ${name}: "${lost.line.deed}" ${lost.line.number === null ? 'without a number' : lost.line.sureness}, bells ${bells.join() || 'none'}`,
    );
    claim(
      'the time is uncertain, and no number stands that could be taken for true',
      lost.uncertain && unsure(lost),
      name,
    );
    claim('`time-uncertain` rings', bells.includes('time-uncertain WARNING'));
    watch.clock.pass(90 * SECOND);
    // Whoever stands there says how long nobody kept watch: up to the moment at which the machine came back.
    await watch.server.do({ type: 'ConfirmTime', awayMs: off });
    const found = await watch.look();
    const stillRings = Watch.floorBellsIn(found).includes('time-uncertain WARNING');
    claim('once confirmed it is certain', !found.uncertain && !unsure(found) && !stillRings);
    claim('and the countdown is right', Math.abs(found.errorMs) <= ALLOWED, inSeconds(found.errorMs));
    claim(
      'the gap is told',
      Math.abs((Watch.gapIn(found)?.ms ?? 0) - off) <= 6 * SECOND,
      inSeconds(Watch.gapIn(found)?.ms ?? 0),
    );
    await watch.server.kill();
    await watch.server.start();
    const after = await watch.look();
    claim('and stays right over a restart', Math.abs(after.errorMs) <= ALLOWED && !after.uncertain);
    await watch.server.stop();
  }
}

export const clockTrials: readonly Trial[] = [
  { name: 'clock: wall clock stepped', form: 'both', run: stepped },
  { name: 'clock: machine asleep', form: 'both', run: slept },
  { name: 'clock: another boot, wall clock forward', form: 'both', run: rebootedForward },
  { name: 'clock: another boot, wall clock backward', form: 'both', run: rebootedBackward },
];
