import { beforeEach, describe, expect, test } from 'vitest';
import type { BellLevel } from '../../../../core/bells/level.ts';
import { MINUTE, SECOND } from '../../../../core/time.ts';
import type { PushOutcome } from '../../../../server/reach/push/post-push.ts';
import { MOST_WAITING, PushLane, type PushLetter } from '../../../../server/reach/push/push-lane.ts';
import { HeldTimers } from '../../engine/kit.ts';

let timers: HeldTimers;
let elapsed: number;
let posted: { readonly name: string; readonly end: (outcome: PushOutcome) => void }[];
let aborted: string[];
let gone: number;
let logged: string[];
let lane: PushLane;

beforeEach(() => {
  timers = new HeldTimers();
  elapsed = 0;
  posted = [];
  aborted = [];
  gone = 0;
  logged = [];
  const say = (_: object, message: string): void => void logged.push(message);
  lane = new PushLane('device-ama', () => (gone += 1), {
    post: ({ endpoint: name }) => {
      let end: (outcome: PushOutcome) => void = () => undefined;
      const outcome = new Promise<PushOutcome>((resolve) => (end = resolve));
      posted.push({ name, end });
      return { posted: outcome, abort: () => void aborted.push(name) };
    },
    timers,
    log: { error: say, warn: say, info: say },
    elapsed: () => elapsed,
  });
});

const letter = (name: string, more: Partial<PushLetter> = {}): PushLetter => ({
  key: name,
  level: 'WARNING',
  usefulUntil: elapsed + 5 * MINUTE,
  seal: () => ({ endpoint: name, headers: {}, body: Buffer.from('') }),
  ...more,
});
const push = (...letters: readonly PushLetter[]): void => {
  for (const one of letters) lane.push(one);
  timers.runSoon();
};
/** The one under way ends so; what follows from it has followed. */
const end = async (outcome: PushOutcome): Promise<void> => {
  posted.at(-1)?.end(outcome);
  for (let i = 0; i < 4; i++) await Promise.resolve();
};
const taken: PushOutcome = { is: 'taken' };
const later = (afterMs: number | null = null): PushOutcome => ({ is: 'later', afterMs, why: '503' });
const names = (): string[] => posted.map(({ name }) => name);
/** The one wait is over. */
const wait = (ms: number): void => {
  const [only] = timers.waiting;
  expect(only?.ms).toBe(ms);
  timers.waiting = [];
  elapsed += ms;
  only?.task();
};

describe('what goes to one phone', () => {
  test('[R7] leaves one at a time, the most urgent first and then the oldest', async () => {
    push(letter('a'));
    push(letter('b'), letter('c', { level: 'CAUTION' }), letter('d', { level: 'DANGER' }), letter('e'));
    expect(names()).toEqual(['a']);
    for (let i = 0; i < 4; i++) await end(taken);
    expect(names()).toEqual(['a', 'd', 'b', 'e', 'c']);
    await end(taken);
    expect([lane.waiting, lane.trouble]).toEqual([0, null]);
  });

  test('[R7] of one bell only the newest waits', async () => {
    push(letter('a'));
    push(letter('ring', { key: 'bell' }), letter('end', { key: 'bell' }));
    await end(taken);
    await end(taken);
    expect(names()).toEqual(['a', 'end']);
  });

  test('[R7] no more than a few wait: the least urgent, oldest goes', async () => {
    push(letter('a'));
    push(letter('mild', { level: 'NOTICE' }));
    const many = Array.from({ length: MOST_WAITING }, (_, i) => letter(`w${i}`));
    push(...many);
    expect(lane.waiting).toBe(MOST_WAITING);
    push(letter('more'));
    expect(lane.waiting).toBe(MOST_WAITING);
    for (let i = 0; i <= MOST_WAITING; i++) await end(taken);
    expect(names()).toEqual(['a', ...many.slice(1).map(({ key }) => key), 'more']);
    expect(logged).toEqual(['a push was given up', 'a push was given up']);
  });
});

describe('a phone whose push service is in trouble', () => {
  test('[R7] is tried again after 1, 2, 4 … seconds, and at once after a success', async () => {
    push(letter('a'));
    for (const seconds of [1, 2, 4, 8]) {
      await end(later());
      expect(lane.trouble).toBe('slow');
      push(letter('b'));
      wait(seconds * SECOND);
    }
    await end(taken);
    expect(names()).toEqual(['a', 'a', 'a', 'a', 'a', 'b']);
    expect(lane.trouble).toBeNull();
    await end(later());
    wait(SECOND);
  });

  test('[R7] is left alone for as long as it asks for, two minutes at most', async () => {
    push(letter('a'));
    await end(later(20 * SECOND));
    wait(20 * SECOND);
    await end(later(60 * MINUTE));
    wait(2 * MINUTE);
    expect(names()).toEqual(['a', 'a', 'a']);
  });

  test('[R7] what is of no use any more is given up, and what is newer goes on', async () => {
    push(letter('old', { usefulUntil: 30 * SECOND }), letter('soon-old', { usefulUntil: 50 * SECOND }));
    await end(later(40 * SECOND));
    expect(logged).toEqual(['a push was given up']);
    push(letter('new'));
    elapsed += 20 * SECOND;
    wait(40 * SECOND);
    expect(names()).toEqual(['old', 'new']);
    expect(logged).toHaveLength(2);
  });

  test('[R7] a newer one of the same bell takes the place of what failed', async () => {
    push(letter('ring', { key: 'bell' }));
    push(letter('end', { key: 'bell' }));
    await end(later());
    wait(SECOND);
    await end(taken);
    expect(names()).toEqual(['ring', 'end']);
  });

  test.each<[BellLevel]>([['DANGER'], ['NOTICE']])(
    '[R7] refused at %s: that one is lost, the next is tried',
    async (level) => {
      push(letter('a', { level }));
      push(letter('b', { level }));
      await end({ is: 'refused', status: 403 });
      expect(lane.trouble).toBe('refused');
      await end(taken);
      expect([names(), lane.trouble]).toEqual([['a', 'b'], null]);
    },
  );

  test('[R7] one that cannot be sealed holds up nothing', async () => {
    const broken = letter('broken', {
      seal: () => {
        throw new Error('no key');
      },
    });
    push(broken, letter('b'));
    expect(names()).toEqual(['b']);
  });
});

describe('a lane that ends', () => {
  test('[R7] with its subscription: said once, and nothing leaves any more', async () => {
    push(letter('a'));
    push(letter('b'));
    await end({ is: 'gone' });
    push(letter('c'));
    expect([names(), gone, lane.waiting]).toEqual([['a'], 1, 0]);
  });

  test('[R7] with the process: what is under way is broken off, a wait stopped, and nothing follows', async () => {
    push(letter('a'));
    lane.close();
    expect(aborted).toEqual(['a']);
    await end(taken);
    expect([names(), gone]).toEqual([['a'], 0]);
    const other = lane;
    expect(other.waiting).toBe(0);
  });
});
