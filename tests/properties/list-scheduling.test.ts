import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectedFinishAt } from '../../core/exposure/pace.ts';
import { MINUTE } from '../../core/time.ts';
import { relaxer } from '../support/directions-kit.ts';
import { FloorLife, NOON } from '../support/floor-life.ts';
import { finishByWalking, type Story } from './list-scheduling.ts';

const people = ['person-ama', 'person-joss', 'person-sena'];

interface Rolled {
  readonly shares: readonly number[];
  readonly nominal: number;
  readonly pairs: number;
  /** What happens next, so many seconds after what was before: a helper comes, or somebody is done with a part. */
  readonly steps: readonly {
    readonly waitS: number;
    readonly comes: boolean;
    readonly by: number;
    readonly nth: number;
  }[];
  readonly waitS: number;
}

const rolled: fc.Arbitrary<Rolled> = fc.record({
  shares: fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 2, maxLength: 12 }),
  nominal: fc.integer({ min: 5, max: 60 }),
  pairs: fc.integer({ min: 1, max: 3 }),
  steps: fc.array(
    fc.record({ waitS: fc.integer({ min: 1, max: 400 }), comes: fc.boolean(), by: fc.nat(2), nth: fc.nat(11) }),
    { minLength: 3, maxLength: 12 },
  ),
  waitS: fc.nat(1200),
});

/** Lives a head by its commands, everybody signing for what they did, and keeps what really happened beside it. */
function live({ shares, nominal, pairs, steps, waitS }: Rolled) {
  const sum = shares.reduce((a, b) => a + b, 0);
  const parts = shares.map((one) => ({ place: 'other' as const, share: one / sum, ceilingMs: null }));
  const story: Story = { nominal, shares: parts.map((one) => one.share), there: [0], done: [] };
  const life = FloorLife.salon(relaxer({ nominalMs: nominal * MINUTE, ceilingMs: 180 * MINUTE, parts }));
  life.do({ type: 'AddPerson', name: 'Sena', roles: ['senior'] }, { id: 'person-sena' });
  const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null }, { by: 'person-ama' });
  const now = () => (life.now - NOON) / MINUTE;
  for (const step of steps) {
    life.pass(step.waitS / 60);
    const who = story.there.length;
    if (step.comes && who < pairs) {
      life.do({ type: 'JoinAsHelper', visit: v, person: people[who] ?? null });
      story.there.push(now());
      continue;
    }
    const open = parts.map((_, part) => part).filter((part) => !story.done.some((one) => one.part === part));
    // The last part would end the application.
    if (open.length < 2) continue;
    const part = open[step.nth % open.length] ?? 0;
    const by = step.by % story.there.length;
    life.do({ type: 'MarkPartDone', visit: v, part }, { by: people[by] ?? null });
    story.done.push({ part, by, at: now() });
  }
  life.pass(waitS / 60);
  const pass = life.facts(v).passes[0];
  if (pass === undefined) throw new Error('no pass');
  return { story, pass, life, now: now() };
}

describe('the expected finish', () => {
  it('[P2] is that of list scheduling by brute force, with one to three pairs of hands', () => {
    const hands = new Set<number>();
    let told = 0;
    fc.assert(
      fc.property(rolled, (one) => {
        const { story, pass, life, now } = live(one);
        if (story.done.length === 0) return;
        told += 1;
        hands.add(story.there.length);
        const expected = ((expectedFinishAt(pass, life.now) ?? NaN) - NOON) / MINUTE;
        expect(Math.abs(expected - finishByWalking(story, now)) * MINUTE).toBeLessThanOrEqual(1);
      }),
      { numRuns: 400 },
    );
    expect([told > 300, [...hands].sort()]).toEqual([true, [1, 2, 3]]);
  });

  it('[P1] the walk itself gives the worked line: one part of four done at 6, now 6: 20.625', () => {
    const story: Story = {
      nominal: 15,
      shares: [0.25, 0.25, 0.25, 0.25],
      there: [0],
      done: [{ part: 0, by: 0, at: 6 }],
    };
    expect(finishByWalking(story, 6)).toBe(20.625);
    expect(finishByWalking({ ...story, there: [0, 6] }, 6)).toBe(15.75);
  });
});
