import { describe, expect, it } from 'vitest';
import { MINUTE, SECOND } from '../../../../core/time.ts';
import { HookLane, TEST_WITHIN, type Letter } from '../../../../server/reach/hooks/hook-lane.ts';
import { MOST_REFUSALS, usefulFor } from '../../../../server/reach/hooks/patience.ts';
import type { Posted } from '../../../../server/reach/hooks/post-once.ts';
import type { HookFault, HookTested } from '../../../../shared/hooks.ts';
import { HandWorld, NOON, row } from './kit.ts';

const ok: Posted = { outcome: 'delivered', status: 204 };
const no = (why: HookFault, status: number | null = null): Posted => ({ outcome: 'failed', why, status });

function began() {
  const world = new HandWorld();
  const lane = new HookLane(row(), world.deps);
  let count = 0;
  const letter = (usefulForMs: number = usefulFor.rung): Letter => {
    count += 1;
    return { id: `msg_${count}`, body: `{"n":${count}}`, bornAt: world.at, usefulForMs };
  };
  const push = async (usefulForMs?: number): Promise<void> => {
    lane.push(letter(usefulForMs));
    await world.settle();
  };
  return { world, lane, letter, push };
}

describe('the lane of a hook', () => {
  it('[R9] steps go in order, one at a time, the next when the one before has arrived', async () => {
    const { world, lane, push } = began();
    for (let n = 0; n < 3; n += 1) await push();
    expect(world.ids).toEqual(['msg_1']);
    await world.answer(ok);
    expect(world.ids).toEqual(['msg_1', 'msg_2']);
    await world.answer(ok);
    await world.answer(ok);
    expect(world.ids).toEqual(['msg_1', 'msg_2', 'msg_3']);
    expect([lane.waiting, lane.failing, lane.deliveredAt]).toEqual([0, null, NOON]);
  });

  it('[R9] nothing is sent before the turn that tells of it is over', () => {
    const { world, lane, letter } = began();
    lane.push(letter());
    expect(world.sent).toEqual([]);
  });

  it('[R9] a step that does not arrive is tried again under the same id, signed for the new instant, ever more slowly', async () => {
    const { world, lane, push } = began();
    await push();
    const gaps: number[] = [];
    for (let attempt = 1; attempt <= 7; attempt += 1) {
      const from = world.at;
      await world.answer(no('refused'));
      while (world.sent.length === attempt) await world.pass(SECOND);
      gaps.push((world.at - from) / SECOND);
    }
    expect(gaps).toEqual([1, 2, 4, 8, 8, 8, 8]);
    expect(new Set(world.ids)).toEqual(new Set(['msg_1']));
    const [first, second] = world.sent.map(({ headers }) => headers);
    expect(Number(second?.['webhook-timestamp']) - Number(first?.['webhook-timestamp'])).toBe(1);
    expect(second?.['webhook-signature']).not.toBe(first?.['webhook-signature']);
    expect(lane.failing).toEqual({ sinceAt: NOON, why: 'refused', status: null, givenUp: 0 });
    await world.answer(ok);
    expect([lane.failing, lane.waiting]).toEqual([null, 0]);
  });

  it.each<[string, Posted]>([
    ['nobody is there', no('refused')],
    ['it hangs', no('timeout')],
    ['its name is unknown', no('no-name')],
    ['it says "not now" (503)', no('answered', 503)],
    ['it says "too many" (429)', no('answered', 429)],
  ])(
    '[R9] while %s a call is tried for two minutes, then given up and said, and the next takes its turn',
    async (_how, fails) => {
      const { world, lane, push } = began();
      await push();
      await world.pass(MINUTE);
      await push();
      while (world.at < 2 * MINUTE + 9 * SECOND && world.ids.at(-1) === 'msg_1') {
        await world.answer(fails);
        await world.pass(SECOND);
      }
      expect(world.at).toBeGreaterThanOrEqual(2 * MINUTE);
      expect(world.ids.at(-1)).toBe('msg_2');
      expect(lane.failing?.givenUp).toBe(1);
      expect(world.logged).toContain('warn steps for a hook were given up');
      await world.answer(ok);
      expect(world.logged.at(-1)).toBe('info a hook takes steps again');
    },
  );

  it('[R9] what makes a lamp go out is tried for a quarter of an hour', () => {
    expect([usefulFor.ended, usefulFor.taken, usefulFor.standing]).toEqual([15 * MINUTE, 15 * MINUTE, 15 * MINUTE]);
  });

  it.each<[string, Posted, number]>([
    ['404', no('answered', 404), MOST_REFUSALS],
    ['500', no('answered', 500), MOST_REFUSALS],
    ['a redirect', no('redirect', 307), MOST_REFUSALS],
    ['410, gone', no('answered', 410), 1],
  ])(
    '[R9] a receiver that is there and answers %s holds up what follows no longer than so many attempts',
    async (_how, fails, attempts) => {
      const { world, lane, push } = began();
      await push(usefulFor.ended);
      await push();
      while (world.ids.at(-1) === 'msg_1' && world.at < MINUTE) {
        await world.answer(fails);
        await world.pass(SECOND);
      }
      expect(world.ids.filter((id) => id === 'msg_1')).toHaveLength(attempts);
      expect(world.ids.at(-1)).toBe('msg_2');
      expect(lane.failing?.givenUp).toBe(1);
    },
  );

  it('[R9] no more than 200 steps wait; the oldest but the one under way goes first, and it is said', async () => {
    const { world, lane, push } = began();
    for (let n = 0; n < 250; n += 1) await push();
    expect(lane.waiting).toBe(200);
    await world.answer(ok);
    expect(world.ids).toEqual(['msg_1', 'msg_52']);
    expect(world.logged).toContain('warn steps for a hook were given up');
  });

  it('[R9] a test goes behind what waits, cuts the pause short, is sent once, and tells what came of it', async () => {
    const { world, lane, letter, push } = began();
    await push();
    await world.answer(no('refused'));
    const tested = lane.test(letter(usefulFor.test));
    await world.settle();
    expect([world.at, world.ids]).toEqual([0, ['msg_1', 'msg_1']]);
    await world.answer(ok);
    expect(world.ids.at(-1)).toBe('msg_2');
    await world.answer(no('answered', 401));
    expect(await tested).toEqual({ outcome: 'failed', why: 'answered', status: 401, afterMs: 0 });
    expect(lane.waiting).toBe(0);
  });

  it('[R9] a test whose turn does not come is answered as waiting, and dropped', async () => {
    const { world, lane, letter, push } = began();
    await push();
    let tested: HookTested | null = null;
    void lane.test(letter(usefulFor.test)).then((outcome) => (tested = outcome));
    await world.pass(TEST_WITHIN);
    await world.settle();
    expect(tested).toEqual({ outcome: 'waiting', behind: 1 });
    await world.answer(ok);
    expect([world.ids, lane.waiting]).toEqual([['msg_1'], 0]);
  });

  it('[R9] a lane that is closed cuts what is under way and sends no more', async () => {
    const { world, lane, push } = began();
    await push();
    await push();
    lane.close();
    await world.answer(no('broken'));
    await push();
    await world.pass(MINUTE);
    expect([world.aborted, world.ids]).toEqual([1, ['msg_1']]);
  });
});
