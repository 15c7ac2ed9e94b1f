import { describe, expect, it } from 'vitest';
import { FloorLife } from '../../../support/floor-life.ts';
import { min } from '../../../support/pass-kit.ts';

const take = (visit: string | null, cause: 'off' | 'not-saved' | 'water' = 'off') =>
  ({ type: 'TakeBell', visit, cause }) as const;
const ama = { by: 'person-ama' };
const joss = { by: 'person-joss' };

/** A bell `rinse` at WARNING, rung at 27 min. */
function ringing() {
  const life = FloorLife.salon();
  const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: 'service-1' });
  life.at(15).do({ type: 'FinishApplication', visit: v });
  life.at(27);
  return { life, v };
}

describe('I’ll go', () => {
  it('[R3] is kept with who and when, and the bell stands on', () => {
    const { life, v } = ringing();
    life.do(take(v), ama);
    expect(life.facts(v).bells).toMatchObject([{ kind: 'rinse', taken: { by: 'person-ama', at: min(27) } }]);
  });

  it('[R3] wants to know who, a bell that stands and a visit that is known', () => {
    const { life, v } = ringing();
    expect(life.send(take(v))).toMatchObject({ code: 'person-needed', visit: v });
    expect(life.send(take(v, 'water'), ama)).toMatchObject({ code: 'bell-gone', visit: v });
    expect(life.send(take('visit-x'), ama)).toMatchObject({ code: 'unknown-visit' });
  });

  it('[R3] somebody else may take it over', () => {
    const { life, v } = ringing();
    life.do(take(v), ama);
    life.at(27.5).do(take(v), joss);
    expect(life.facts(v).bells[0]?.taken).toEqual({ by: 'person-joss', at: min(27.5) });
  });

  it('[S7] the same person again while it is quiet: said already; once it sounds again it is taken anew', () => {
    const { life, v } = ringing();
    life.do(take(v), ama);
    life.now = min(28.5) - 1;
    expect(life.send(take(v), ama)).toMatchObject({
      code: 'already-done',
      visit: v,
      since: [{ type: 'BellTaken', at: min(27), by: 'person-ama' }],
    });
    life.now = min(28.5);
    life.do(take(v), ama);
    expect(life.facts(v).bells[0]?.taken?.at).toBe(min(28) + 30_000);
  });

  it('[R3] a bell that rose since it was taken can be taken again at once', () => {
    const { life, v } = ringing();
    life.at(29.8).do(take(v), ama);
    life.at(30).do(take(v), ama);
    expect(life.facts(v).bells).toMatchObject([{ kind: 'over', taken: { at: min(30) } }]);
    expect(life.send(take(v), ama)).toMatchObject({ code: 'already-done' });
  });

  it('[R2] of the floor: one bell however many heads, and no visit in the answer', () => {
    const { life } = ringing();
    expect(life.send(take(null, 'not-saved'), ama)).toMatchObject({ code: 'bell-gone', visit: null });
    life.unsavedSince = min(28);
    life.at(28);
    expect(life.send(take(null, 'not-saved'), ama)).toEqual({ outcome: 'done', visit: null });
    expect(life.floor.floorBells.bells).toMatchObject([{ taken: { by: 'person-ama', at: min(28) } }]);
    expect(life.send(take(null, 'not-saved'), ama)).toMatchObject({ code: 'already-done', visit: null });
  });
});
