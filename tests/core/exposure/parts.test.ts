import { describe, expect, it } from 'vitest';
import { defaultParts } from '../../../core/directions/rules.ts';
import { partsOnHair } from '../../../core/exposure/parts.ts';
import { MINUTE } from '../../../core/time.ts';
import { relaxer } from '../../support/directions-kit.ts';
import { hands, mark, min, partsDone, pass } from '../../support/pass-kit.ts';

const whole = 30 * MINUTE;

describe('parts on hair', () => {
  it('[E5] nothing before first touch or with an unknown product', () => {
    expect(partsOnHair(pass({ begun: null }))).toEqual([]);
    expect(partsOnHair(pass({}, null))).toEqual([]);
  });

  it('[E5] with no marks the head is one part under the head’s ceiling', () => {
    expect(partsOnHair(pass())).toEqual([{ part: null, begunAt: min(0), doneAt: null, ceilingMs: whole }]);
    expect(partsOnHair(pass({ applied: mark(15) }))).toEqual([
      { part: null, begunAt: min(0), doneAt: min(15), ceilingMs: whole },
    ]);
  });

  it('[E5] the next part of the plan is in work from the last mark on', () => {
    expect(partsOnHair(pass({ parts: partsDone(4) }))).toEqual([
      { part: 0, begunAt: min(0), doneAt: min(4), ceilingMs: whole },
      { part: 1, begunAt: min(4), doneAt: null, ceilingMs: whole },
    ]);
  });

  it('[E5] marked out of order, the first unmarked part is the next', () => {
    const third = [{ part: 2, begunAt: min(0), doneAt: min(4), by: null }];
    expect(partsOnHair(pass({ parts: third }))[1]).toMatchObject({ part: 0, begunAt: min(4) });
  });

  it('[E5] what was never marked ran from the last mark to the end', () => {
    expect(partsOnHair(pass({ parts: partsDone(4, 8), applied: mark(20) })).slice(2)).toEqual([
      { part: 2, begunAt: min(8), doneAt: min(20), ceilingMs: whole },
      { part: 3, begunAt: min(8), doneAt: min(20), ceilingMs: whole },
    ]);
  });

  it('[E5] with nobody left at the head the next part counts as begun with the first touch', () => {
    const gone = pass({ parts: partsDone(4), hands: [hands(0, 4, { untilAt: min(4) })] });
    expect(partsOnHair(gone).slice(1)).toEqual([{ part: 1, begunAt: min(0), doneAt: null, ceilingMs: whole }]);
  });

  it('[E3] a part’s own ceiling comes before the head’s', () => {
    const parts = defaultParts.map((part, i) => (i === 1 ? { ...part, ceilingMs: 12 * MINUTE } : part));
    expect(partsOnHair(pass({ parts: partsDone(4) }, relaxer({ parts }))).map((one) => one.ceilingMs)).toEqual([
      whole,
      12 * MINUTE,
    ]);
  });
});
