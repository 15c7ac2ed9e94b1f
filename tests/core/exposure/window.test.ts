import { describe, expect, it } from 'vitest';
import {
  ceilingAt,
  certainClose,
  expectedFinish,
  latestFinish,
  partWindows,
  partWindowsAt,
  windowOf,
} from '../../../core/exposure/window.ts';
import { defaultParts } from '../../../core/directions/rules.ts';
import { MINUTE } from '../../../core/time.ts';
import { colour, relaxer } from '../../support/directions-kit.ts';
import { mark, min, partsDone, pass } from '../../support/pass-kit.ts';

const after = (minutes: number, rules = relaxer()) => pass({ applied: mark(minutes) }, rules);
const hairline = defaultParts.map((part, i) => (i === 3 ? { ...part, ceilingMs: 12 * MINUTE } : part));

describe('opens', () => {
  it('[E2] opens minAfter after the end of application', () => {
    expect(windowOf(after(15), min(15))?.opensAt).toBe(min(25));
  });

  it('[E2] opens no earlier than the least total from first touch', () => {
    const rules = relaxer({ minTotalMs: 26 * MINUTE });
    expect(windowOf(after(15, rules), min(15))?.opensAt).toBe(min(26));
    expect(windowOf(after(17, rules), min(17))?.opensAt).toBe(min(27));
    expect(partWindows(after(15, rules))[0]?.opensAt).toBe(min(26));
  });
});

describe('closes', () => {
  it('[E3] closes maxAfter after the end of application, if that comes before the ceiling', () => {
    expect(windowOf(after(10), min(10))?.closesAt).toBe(min(25));
    expect(windowOf(after(15), min(15))?.closesAt).toBe(min(30));
  });

  it('[E3] closes at the first strand’s ceiling when application was slow', () => {
    expect(windowOf(after(15.5), min(16))?.closesAt).toBe(min(30));
    expect(windowOf(after(22), min(22))?.closesAt).toBe(min(30));
  });

  it('[E3] a part’s own lower ceiling brings the close earlier once that part is begun', () => {
    const rules = relaxer({ parts: hairline });
    const three = pass({ parts: partsDone(5, 10, 15) }, rules);
    expect(ceilingAt(pass({ parts: partsDone(5, 10) }, rules))).toBe(min(30));
    expect(ceilingAt(three)).toBe(min(27));
    expect(windowOf(three, min(15))?.closesAt).toBe(min(27));
  });

  it('[E3] in apply only what hangs on first touch is certain', () => {
    expect(certainClose(pass())).toBe(min(30));
    expect(certainClose(after(10))).toBe(min(25));
    expect(certainClose(pass({}, colour()))).toBeNull();
    expect(certainClose(after(10, colour()))).toBe(min(40));
    expect(certainClose(pass({}, null))).toBeNull();
  });

  it('[E3] without a ceiling it closes maxAfter after the end of application alone', () => {
    expect(ceilingAt(pass({}, colour()))).toBeNull();
    expect(windowOf(after(70, colour()), min(70))).toMatchObject({ opensAt: min(90), closesAt: min(100) });
  });
});

describe('room and parts', () => {
  it('[E4] room is closes − opens, down to below zero', () => {
    expect(windowOf(after(15), min(15))?.roomMs).toBe(5 * MINUTE);
    expect(windowOf(after(20), min(20))?.roomMs).toBe(0);
    expect(windowOf(after(22), min(22))?.roomMs).toBe(-2 * MINUTE);
  });

  it('[E4] each part has a window of its own, under its own ceiling', () => {
    const rules = relaxer({ parts: hairline });
    expect(partWindows(pass({ parts: partsDone(3, 6, 9, 12), applied: mark(12) }, rules))).toEqual([
      { part: 0, opensAt: min(13), closesAt: min(27) },
      { part: 1, opensAt: min(16), closesAt: min(27) },
      { part: 2, opensAt: min(19), closesAt: min(27) },
      { part: 3, opensAt: min(22), closesAt: min(21) },
    ]);
  });

  it('[E4] no part has a window before the application has ended, before first touch, or of an unknown product', () => {
    expect(partWindows(pass())).toEqual([]);
    expect(partWindows(pass({ begun: null, applied: mark(3) }))).toEqual([]);
    expect(partWindows(pass({ applied: mark(3) }, null))).toEqual([]);
  });

  it('[E7] while application runs they are those that it would leave as it is expected to go on', () => {
    const one = pass({ parts: partsDone(6) });
    // r = (3.75 + 6) / 2 = 4.875 a part: the parts end at 10.875, 15.75, 20.625, which leaves no room (P1, P2).
    expect(partWindowsAt(one, min(6)).map(({ opensAt, closesAt }) => [opensAt, closesAt])).toEqual([
      [min(16), min(30)],
      [min(20.875), min(35.625)],
      [min(25.75), min(35.625)],
      [min(30.625), min(35.625)],
    ]);
    expect(partWindowsAt(one, min(25))[1]?.opensAt).toBe(min(35));
    expect(partWindowsAt(pass(), min(16))).toEqual([{ part: 0, opensAt: min(26), closesAt: min(30) }]);
    const done = pass({ parts: partsDone(3, 6, 9, 12), applied: mark(12) });
    expect(partWindowsAt(done, min(30))).toEqual(partWindows(done));
    expect(partWindowsAt(pass({ begun: null }), min(6))).toEqual([]);
  });

  it('[E5] with no parts marked the head is one part', () => {
    expect(partWindows(after(15))).toEqual([{ part: 0, opensAt: min(25), closesAt: min(30) }]);
  });

  it('[E4] without a ceiling a part closes with the head', () => {
    expect(partWindows(after(15, colour()))).toEqual([{ part: 0, opensAt: min(35), closesAt: min(45) }]);
  });
});

describe('expected values', () => {
  it('[E7] expects the end at first touch + nominal, later at now, and knows it once it was said', () => {
    expect(expectedFinish(pass(), min(0))).toBe(min(15));
    expect(expectedFinish(pass(), min(14))).toBe(min(15));
    expect(expectedFinish(pass(), min(16))).toBe(min(16));
    expect(expectedFinish(after(9), min(16))).toBe(min(9));
  });

  it('[E7] marks as expected what hangs on the end of application', () => {
    expect(windowOf(pass(), min(3))).toEqual({
      opensAt: min(25),
      closesAt: min(30),
      roomMs: 5 * MINUTE,
      expected: true,
      appliedAt: min(15),
    });
    expect(windowOf(after(15), min(15))?.expected).toBe(false);
  });

  it('[S2] has no window without a first touch or without a known product', () => {
    expect(windowOf(pass({ begun: null, beginUnknown: true }), min(3))).toBeNull();
    expect(windowOf(pass({}, null), min(3))).toBeNull();
    expect(expectedFinish(pass({ begun: null }), min(3))).toBeNull();
    expect(expectedFinish(pass({}, null), min(3))).toBeNull();
  });
});

describe('latest finish', () => {
  const figures = { reserveMs: 2 * MINUTE, walkMs: MINUTE };

  it('[P3] is the earliest ceiling − minAfter − reserve', () => {
    expect(latestFinish(pass(), figures)).toBe(min(18));
    const rules = relaxer({ parts: hairline });
    expect(latestFinish(pass({ parts: partsDone(5, 10, 15) }, rules), figures)).toBe(min(15));
  });

  it('[P3] keeps at least the walk in reserve', () => {
    expect(latestFinish(pass(), { reserveMs: 2 * MINUTE, walkMs: 5 * MINUTE })).toBe(min(15));
  });

  it('[P3] is unknown without a ceiling', () => {
    expect(latestFinish(pass({}, colour()), figures)).toBeNull();
    expect(latestFinish(pass({}, null), figures)).toBeNull();
  });
});
