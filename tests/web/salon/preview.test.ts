import { describe, expect, it } from 'vitest';
import { defaultFigures } from '../../../core/salon/salon.ts';
import { MINUTE } from '../../../core/time.ts';
import { madeUpPass, previewOf, tickMinutes } from '../../../web/src/salon/form/preview.ts';
import { colour, relaxer, tested, warmed } from '../../support/directions-kit.ts';

const inMinutes = (ms: number): number => ms / MINUTE;

describe('the preview of a window', () => {
  it('[E2, E3, E4] shows the worked figures for a quick, a planned and a slow head', () => {
    // The worked table of the rules: applied in 10 → 20–25, 15 → 25–30. 23 min is past it: from 33, off by 30, −3.
    const { lanes } = previewOf(relaxer(), defaultFigures);
    expect(
      lanes.map(({ pace, tookMs, window }) => [
        pace,
        inMinutes(tookMs),
        inMinutes(window.opensAt),
        inMinutes(window.closesAt),
        inMinutes(window.roomMs),
      ]),
    ).toEqual([
      ['fast', 10, 20, 25, 5],
      ['nominal', 15, 25, 30, 5],
      ['slow', 23, 33, 30, -3],
    ]);
  });
  it('[E4] draws the parts’ own windows only where the head has no room', () => {
    const { lanes } = previewOf(relaxer(), defaultFigures);
    expect(lanes.map(({ parts }) => parts.length)).toEqual([0, 0, 4]);
  });
  it('[E4] four parts of 6 min have the windows of the worked example', () => {
    // 16–30, 22–36, 28–39, 34–39 when the application took 24 min.
    const preview = previewOf(relaxer({ nominalMs: 16 * MINUTE }), defaultFigures);
    const slow = preview.lanes[2];
    expect(slow?.tookMs).toBe(24 * MINUTE);
    expect(slow?.parts.map(({ opensAt, closesAt }) => [inMinutes(opensAt), inMinutes(closesAt)])).toEqual([
      [16, 30],
      [22, 36],
      [28, 39],
      [34, 39],
    ]);
  });
  it('[E3] an own ceiling of the hairline brings the close earlier', () => {
    const parts = [
      { place: 'hairline' as const, share: 0.5, ceilingMs: 20 * MINUTE },
      { place: 'nape-left' as const, share: 0.5, ceilingMs: null },
    ];
    const { lanes } = previewOf(relaxer({ parts }), defaultFigures);
    expect(lanes[0]?.window.closesAt).toBe(20 * MINUTE);
    // Without it: 25, 30 and 30.
    expect(lanes.map(({ earlierMs }) => inMinutes(earlierMs))).toEqual([5, 10, 10]);
    expect(previewOf(relaxer(), defaultFigures).lanes.map(({ earlierMs }) => earlierMs)).toEqual([0, 0, 0]);
  });
  it('[E3, P3] a hairline done last is counted from its own first touch', () => {
    const parts = [
      { place: 'nape-left' as const, share: 0.8, ceilingMs: null },
      { place: 'hairline' as const, share: 0.2, ceilingMs: 15 * MINUTE },
    ];
    const { lanes, finishByMs } = previewOf(relaxer({ parts }), defaultFigures);
    // Begun at 8 of 10, 12 of 15 and 18:24 of 23 min; the head's own 30 is the earlier one for the slow one.
    expect(lanes.map(({ window }) => inMinutes(window.closesAt))).toEqual([23, 27, 30]);
    // min(30, 27) − 10 − 2.
    expect(finishByMs).toBe(15 * MINUTE);
  });
  it('[E6] says when the first strand test is due, if it comes before the close', () => {
    const testsOf = (rules: ReturnType<typeof relaxer>) =>
      previewOf(rules, defaultFigures).lanes.map(({ testMs }) => (testMs === null ? null : inMinutes(testMs)));
    expect(testsOf(relaxer(tested))).toEqual([15, 20, 28]);
    // 10 + 14 < 25; 15 + 14 < 30; 23 + 14 is past 30.
    expect(testsOf(relaxer({ firstTestMs: 14 * MINUTE }))).toEqual([24, 29, null]);
    expect(testsOf(relaxer())).toEqual([null, null, null]);
  });
  it('[E10] shows either set of figures where heat is allowed and has its own', () => {
    const seen = (heated: boolean) =>
      previewOf(relaxer(warmed), defaultFigures, heated).lanes.map(({ window }) => [
        inMinutes(window.opensAt),
        inMinutes(window.closesAt),
      ]);
    expect(seen(false)).toEqual([
      [20, 25],
      [25, 30],
      [33, 30],
    ]);
    // 6 to 9 after the end, 20 from first touch.
    expect(seen(true)).toEqual([
      [16, 19],
      [21, 20],
      [29, 20],
    ]);
    // 20 − 6 − 2.
    expect(previewOf(relaxer(warmed), defaultFigures, true).finishByMs).toBe(12 * MINUTE);
    expect(previewOf(relaxer({ heat: 'required' }), defaultFigures, true)).toEqual(
      previewOf(relaxer(), defaultFigures),
    );
  });
  it('[P3] says until when the application must be finished: 30 − 10 − 2', () => {
    expect(previewOf(relaxer(), defaultFigures).finishByMs).toBe(18 * MINUTE);
    expect(previewOf(colour(), defaultFigures).finishByMs).toBeNull();
    // The reserve is the salon's own, and never less than the walk.
    expect(previewOf(relaxer(), { ...defaultFigures, reserveMs: 3 * MINUTE })).toMatchObject({
      finishByMs: 17 * MINUTE,
      reserveMs: 3 * MINUTE,
    });
    expect(previewOf(relaxer(), { ...defaultFigures, walkMs: 4 * MINUTE })).toMatchObject({
      finishByMs: 16 * MINUTE,
      reserveMs: 4 * MINUTE,
    });
  });
  it('the made-up head marks every part by its share and ends as a whole', () => {
    const pass = madeUpPass(relaxer(), 22 * MINUTE);
    expect(pass.parts.map(({ begunAt, doneAt }) => [inMinutes(begunAt), inMinutes(doneAt)])).toEqual([
      [0, 5.5],
      [5.5, 11],
      [11, 16.5],
      [16.5, 22],
    ]);
    expect(pass.applied?.at).toBe(22 * MINUTE);
  });
  it('its axis holds every bracket and has at most eight ticks', () => {
    for (const nominal of [1, 5, 15, 60, 180]) {
      const { axisMs, lanes } = previewOf(relaxer({ nominalMs: nominal * MINUTE }), defaultFigures);
      for (const { window, parts } of lanes) {
        for (const at of [window.opensAt, window.closesAt, ...parts.map((part) => part.opensAt)]) {
          expect(at).toBeLessThan(axisMs);
        }
      }
      expect(axisMs / (tickMinutes(axisMs) * MINUTE)).toBeLessThanOrEqual(8);
    }
  });
});
