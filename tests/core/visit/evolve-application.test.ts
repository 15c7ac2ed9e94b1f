import { describe, expect, it } from 'vitest';
import { FloorLife } from '../../support/floor-life.ts';
import { min } from '../../support/pass-kit.ts';

/** Ama began at 0; Joss joined at so many minutes. */
const two = (joined: number) => {
  const life = FloorLife.salon();
  const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null }, { by: 'person-ama' });
  life.at(joined).do({ type: 'JoinAsHelper', visit: v, person: 'person-joss' });
  const done = (at: number, part: number, by: string | null, happened: number | null = null) =>
    life
      .at(at)
      .do({ type: 'MarkPartDone', visit: v, part }, { by, happenedAt: happened === null ? null : min(happened) });
  const leaves = (at: number) => life.at(at).do({ type: 'LeaveAsHelper', visit: v, person: null });
  const begunAt = (part: number) => life.facts(v).passes[0]?.parts.find((one) => one.part === part)?.begunAt;
  return { done, leaves, begunAt };
};

describe('whose hands did a part', () => {
  it('[P0] two marked in one second by one person are both theirs', () => {
    const { done, begunAt } = two(1);
    done(4, 0, 'person-ama');
    done(4, 1, 'person-ama');
    expect([begunAt(0), begunAt(1)]).toEqual([min(0), min(4)]);
  });

  it('[P0] marked in the very second of leaving it is theirs, later it is not', () => {
    const at = (marked: number) => {
      const { done, leaves, begunAt } = two(1);
      leaves(5);
      done(marked, 3, 'person-joss');
      return begunAt(3);
    };
    expect([at(5), at(5 + 1 / 60)]).toEqual([min(1), min(0)]);
  });

  it('[P0] not known: the pair that could have begun earliest, whichever it is', () => {
    const { done, begunAt } = two(1);
    done(5, 0, 'person-joss');
    done(7, 1, 'person-ama');
    done(9, 2, null);
    done(11, 3, null);
    expect([begunAt(2), begunAt(3)]).toEqual([min(5), min(7)]);
  });

  it('[P0] not known, and both could have begun at once: whoever began the head', () => {
    const { done, begunAt } = two(0);
    done(4, 0, null);
    done(6, 1, 'person-joss');
    done(8, 2, 'person-ama');
    expect([begunAt(1), begunAt(2)]).toEqual([min(0), min(4)]);
  });

  it('[P0] who had finished a part when leaving was at nothing more', () => {
    const { done, leaves, begunAt } = two(1);
    done(5, 0, 'person-joss');
    leaves(5);
    done(7, 1, 'person-ama');
    done(9, 3, null);
    expect(begunAt(3)).toBe(min(7));
  });

  it('[P0] who left a part in work may have done it', () => {
    const { done, leaves, begunAt } = two(1);
    leaves(5);
    done(7, 0, 'person-ama');
    done(9, 3, null);
    expect(begunAt(3)).toBe(min(1));
  });

  it('[X3] a part done before somebody joined was none of theirs', () => {
    const { done, begunAt } = two(6);
    done(8, 0, 'person-ama');
    done(9, 1, null, 4);
    expect([begunAt(1), begunAt(0)]).toEqual([min(0), min(4)]);
  });
});
