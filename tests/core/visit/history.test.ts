import { describe, expect, it } from 'vitest';
import type { Recorded } from '../../../core/events.ts';
import { evolveVisit, lastMoveVersions, since, type Visit } from '../../../core/visit/history.ts';
import type { VisitEvent } from '../../../core/visit/events.ts';
import { relaxer } from '../../support/directions-kit.ts';
import { facts, min, pass } from '../../support/pass-kit.ts';

const seated: VisitEvent = {
  type: 'VisitSeated',
  chair: 2,
  service: null,
  stylist: null,
  passes: [{ directions: 'directions-1', version: 1, rules: relaxer() }],
  limits: [],
  after: null,
};

/** Events one after another, a minute apart, each by a command of its own unless named. */
function lived(...events: (VisitEvent | readonly [VisitEvent, string | null])[]): Visit {
  return events.reduce<Visit | undefined>((visit, one, i) => {
    const [event, command] = 'type' in one ? [one, `command-${i}`] : one;
    const recorded: Recorded = {
      stream: 'visit/v',
      at: min(i),
      event,
      seq: i + 1,
      version: i + 1,
      recordedAt: min(i) + 7,
      by: 'person-ama',
      device: null,
      command,
    };
    return evolveVisit(visit, 'v', recorded);
  }, undefined) as Visit;
}
const begun: VisitEvent = { type: 'ApplicationBegun', pass: 0, owed: [] };
const rung: VisitEvent = {
  type: 'BellRung',
  cause: 'off',
  kind: 'soon',
  level: 'NOTICE',
  episode: 1,
  dueAt: 5,
  circle: 0,
  helper: null,
};

describe('the history of a visit', () => {
  it('[X2] the last move is what came last, with when it was said', () => {
    const visit = lived(seated, begun);
    expect(visit.facts).toMatchObject({
      version: 2,
      lastMove: { type: 'ApplicationBegun', at: min(1), recordedAt: min(1) + 7, by: 'person-ama', version: 2 },
    });
    expect(lived(seated).facts.lastMove?.type).toBe('VisitSeated');
  });

  it('[X2] nothing but bell steps leaves it so', () => {
    const visit = lived(seated, begun, rung, { type: 'BellTaken', cause: 'off' });
    expect(visit.facts).toMatchObject({
      version: 4,
      lastMove: { version: 2 },
      bells: [{ taken: { by: 'person-ama' } }],
    });
    expect(visit.history).toHaveLength(2);
    expect(lived(seated, begun, { type: 'LabelWritten' }).facts.lastMove).toBeNull();
  });

  it('[R1] bells are not folded again: what has rung stays through a correction', () => {
    const corrected: VisitEvent = {
      type: 'TimeCorrected',
      of: 2,
      was: min(1),
      to: min(0),
      bought: false,
      reasoned: false,
    };
    const visit = lived(seated, begun, rung, corrected);
    expect(visit.facts.bells).toHaveLength(1);
    expect(visit.facts.episodes).toEqual([{ cause: 'off', episode: 1 }]);
    expect(visit.facts.passes[0]?.begun?.at).toBe(min(0));
  });

  it('[X2] everything that the last command did, and only that', () => {
    expect(lastMoveVersions(lived([seated, 'one'], [begun, 'one']))).toEqual([1, 2]);
    expect(lastMoveVersions(lived([seated, 'one'], [begun, 'two']))).toEqual([2]);
    expect(lastMoveVersions(lived([seated, null], [begun, null]))).toEqual([2]);
    expect(lastMoveVersions({ facts: facts('prep', pass()), history: [] })).toEqual([]);
  });

  it('[X1] a correction of what is not there changes nothing', () => {
    const corrected: VisitEvent = { type: 'TimeCorrected', of: 9, was: 0, to: 0, bought: false, reasoned: false };
    const visit = lived([seated, null], begun, corrected);
    expect(visit.facts).toMatchObject({ seatedAt: min(0), passes: [{ begun: { at: min(1) } }] });
  });

  it('[S7] what others did since a version, bell steps aside', () => {
    const visit = lived(seated, begun, rung, { type: 'ApplicationFinished' });
    expect(since(visit, 1).map((one) => one.version)).toEqual([2, 4]);
    expect(since(visit, 2).map((one) => one.version)).toEqual([4]);
    expect(since(visit, 4)).toEqual([]);
  });

  it('[X2] a move taken back twice by the log is gone once', () => {
    const visit = lived(seated, begun, { type: 'MoveTakenBack', versions: [2] });
    expect(visit.facts).toMatchObject({ stage: 'prep', version: 3, lastMove: null, passes: [{ begun: null }] });
    expect(visit.history.map((one) => one.version)).toEqual([1, 3]);
  });
});
