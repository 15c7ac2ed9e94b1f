import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { muteLimit } from '../../../core/bells/mute.ts';
import { keepIn } from '../../../web/src/state/keep.ts';
import { MuteSwitch } from '../../../web/src/state/mute.svelte.ts';

const NOON = 1_800_000_000_000;
const BELL = { key: 'visit-1/off/1/rinse/WARNING', level: 'WARNING' as const };

/** A device whose clocks are set by hand; `open` is one more page of it. */
function device() {
  const hand = { floor: NOON, wall: NOON + 600_000, page: 1_000 };
  const keep = keepIn(null);
  const open = () => new MuteSwitch(keep, { performanceNow: () => hand.page, wallNow: () => hand.wall });
  const pass = (ms: number) => {
    hand.floor += ms;
    hand.wall += ms;
    hand.page += ms;
  };
  return { hand, keep, open, pass };
}

describe('the mute of a device', () => {
  it('[R4] is quiet about what stood, says until when, and ends by itself', () => {
    const { hand, open, pass } = device();
    const mute = open();
    expect(mute.start([BELL], hand.floor).untilAt).toBe(NOON + muteLimit);
    expect(mute.mutes(BELL.key, BELL.level, hand.floor)).toBe(true);
    pass(muteLimit - 1);
    expect(mute.look(hand.floor)).toBe(false);
    expect(mute.mutes(BELL.key, BELL.level, hand.floor)).toBe(true);
    pass(1);
    expect(mute.mutes(BELL.key, BELL.level, hand.floor)).toBe(false);
    expect(mute.look(hand.floor)).toBe(true);
    expect(mute.current).toBeNull();
    expect(mute.look(hand.floor)).toBe(false);
  });
  it('[R4] outlives a reload, and a reload does not lengthen it', () => {
    const { hand, open, pass } = device();
    open().start([BELL], hand.floor);
    pass(60_000);
    hand.page = 0;
    const again = open();
    expect(again.current?.untilAt).toBe(NOON + muteLimit);
    expect(again.mutes(BELL.key, BELL.level, hand.floor)).toBe(true);
    pass(60_000);
    expect(again.mutes(BELL.key, BELL.level, hand.floor)).toBe(false);
    expect(open().current).toBeNull();
  });
  it('[R4] is over after a touch, and the next page knows', () => {
    const { hand, open } = device();
    const mute = open();
    mute.start([BELL], hand.floor);
    mute.end();
    expect(mute.mutes(BELL.key, BELL.level, hand.floor)).toBe(false);
    expect(open().current).toBeNull();
  });
  it.each(['', '{', '[]', 'null', '{"fromAt":1}', '{"fromAt":1,"untilAt":2,"wallAt":3,"keys":[4]}'])(
    '[R4] is none where %j was left behind',
    (left) => {
      const { keep, open } = device();
      keep.write('mute', left);
      expect(open().current).toBeNull();
    },
  );
});

it('[R4] under clocks that are set, stand still or begin anew no bell is quiet for two minutes of real time, while one page stays', () => {
  const step = fc.record({
    ms: fc.integer({ min: 0, max: 40_000 }),
    floor: fc.constantFrom('runs', 'stands', 'back'),
    wall: fc.constantFrom('runs', 'stands', 'back'),
  });
  fc.assert(
    fc.property(fc.array(step, { minLength: 1, maxLength: 20 }), (steps) => {
      const { hand, open } = device();
      const mute = open();
      mute.start([BELL], hand.floor);
      let real = 0;
      for (const { ms, floor, wall } of steps) {
        real += ms;
        hand.page += ms;
        hand.floor += floor === 'runs' ? ms : floor === 'back' ? -ms : 0;
        hand.wall += wall === 'runs' ? ms : wall === 'back' ? -ms : 0;
        const muted = mute.mutes(BELL.key, BELL.level, hand.floor);
        if (real >= muteLimit) expect(muted).toBe(false);
        expect(mute.mutes(BELL.key, 'DANGER', hand.floor)).toBe(false);
        mute.look(hand.floor);
        expect(mute.current !== null).toBe(muted);
      }
    }),
    { numRuns: 500 },
  );
});
