import { describe, expect, it } from 'vitest';
import { defaultParts } from '../../../core/directions/rules.ts';
import { expectedFinishAt, expectedPartMs, lateFrom } from '../../../core/exposure/pace.ts';
import { MINUTE, SECOND } from '../../../core/time.ts';
import { relaxer } from '../../support/directions-kit.ts';
import { hands, mark, min, partsDone, pass } from '../../support/pass-kit.ts';

const shares = (...of: readonly number[]) =>
  relaxer({ parts: of.map((share) => ({ place: 'other', share, ceilingMs: null })) });

describe('the time a part takes', () => {
  it('[P1] is its share of the nominal time before anything is done', () => {
    expect(expectedPartMs(pass(), 0)).toBe(3.75 * MINUTE);
    expect(expectedPartMs(pass({}, shares(0.4, 0.6)), 1)).toBeCloseTo(9 * MINUTE, 6);
  });

  it('[P1] weighs the plan as one mean part already done', () => {
    expect(expectedPartMs(pass({ parts: partsDone(6) }), 1)).toBe(4.875 * MINUTE);
    expect(expectedPartMs(pass({ parts: partsDone(6, 12) }), 2)).toBe(5.25 * MINUTE);
  });

  it('[P1] unequal shares: R = (N/n + Σ dⱼ)/(1/n + Σ wⱼ), and a part takes R·wᵢ', () => {
    const one = pass({ parts: partsDone(8) }, shares(0.5, 0.3, 0.2));
    expect(expectedPartMs(one, 1)).toBeCloseTo((13 / (1 / 3 + 0.5)) * 0.3 * MINUTE, 6);
    expect(expectedPartMs(one, 2)).toBeCloseTo((13 / (1 / 3 + 0.5)) * 0.2 * MINUTE, 6);
  });

  it('[P1] is nothing for a product nothing is known of, and for a part that is not in the plan', () => {
    expect(expectedPartMs(pass({}, null), 0)).toBe(0);
    expect(expectedPartMs(pass(), 4)).toBe(0);
  });
});

describe('the expected finish', () => {
  it('[P2] without marks the head is one part: nominal, then now', () => {
    expect(expectedFinishAt(pass(), min(15))).toBe(min(15));
    expect(expectedFinishAt(pass(), min(15) + SECOND)).toBe(min(15) + SECOND);
    expect(expectedFinishAt(pass({ hands: [hands(0), hands(5)] }), min(6))).toBe(min(15));
  });

  it('[P2] a part in work ends at its expected time until that is past, then now', () => {
    const one = pass({ parts: partsDone(6) });
    expect(expectedFinishAt(one, min(10.875))).toBe(min(20.625));
    expect(expectedFinishAt(one, min(11.875))).toBe(min(21.625));
  });

  it('[P2] each pair of hands takes the next unbegun part when it is free', () => {
    const three = pass({ parts: partsDone(6), hands: [hands(0, 6), hands(6), hands(6)] });
    expect(expectedFinishAt(three, min(6))).toBe(min(10.875));
    const two = pass({ parts: partsDone(6), hands: [hands(0, 6), hands(6)] });
    expect(expectedFinishAt(two, min(6))).toBe(min(15.75));
  });

  it('[P2] hands that left take nothing; if all left, the work goes on from the last mark', () => {
    const gone = { untilAt: min(7) };
    const one = pass({ parts: partsDone(6), hands: [hands(0, 6), hands(6, 6, gone)] });
    expect(expectedFinishAt(one, min(7))).toBe(min(20.625));
    const none = pass({ parts: partsDone(6), hands: [hands(0, 6, gone)] });
    expect(expectedFinishAt(none, min(7))).toBe(min(20.625));
  });

  it('[P2] is the end itself once application ended, and nothing before first touch', () => {
    expect(expectedFinishAt(pass({ applied: mark(9) }), min(20))).toBe(min(9));
    expect(expectedFinishAt(pass({ begun: null }), min(20))).toBeNull();
    expect(expectedFinishAt(pass({}, null), min(20))).toBeNull();
  });
});

describe('the instant from which it is late', () => {
  it('[P4] is the first second at which the expected finish lies after the limit', () => {
    expect(lateFrom(pass(), min(18))).toBe(min(18) + SECOND);
    // Expected 15 from the beginning: already after 14, and not after 15 itself.
    expect(lateFrom(pass(), min(14))).toBe(min(0));
    expect(lateFrom(pass(), min(15))).toBe(min(15) + SECOND);
  });

  it('[P4] counts from the last mark, joining or leaving', () => {
    expect(lateFrom(pass({ parts: partsDone(6) }), min(18))).toBe(min(6));
    expect(lateFrom(pass({ parts: partsDone(6), hands: [hands(0, 6), hands(8)] }), min(15))).toBe(min(8));
    const left = pass({ parts: partsDone(6), hands: [hands(0, 6), hands(6, 6, { untilAt: min(9) })] });
    expect(lateFrom(left, min(18))).toBe(min(9));
  });

  it('[P4] with a part in work it comes when that part has eaten the slack', () => {
    // r = (3.75 + 4)/2 = 3.875: expected 15.625; 2.375 of slack to 18 run from 7.875.
    const from = lateFrom(pass({ parts: partsDone(4) }), min(18));
    expect(from).toBe(min(10.25) + SECOND);
  });

  it('[P4] is nothing before first touch and after the end of application', () => {
    expect(lateFrom(pass({ begun: null }), min(18))).toBeNull();
    expect(lateFrom(pass({ applied: mark(16) }), min(10))).toBeNull();
  });

  it('[P2] parts of the default plan are equal', () => {
    expect(new Set(defaultParts.map((part) => part.share))).toEqual(new Set([0.25]));
  });
});
