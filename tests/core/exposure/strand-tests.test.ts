import { describe, expect, it } from 'vitest';
import { nextTestAt, readyClose, readyTest } from '../../../core/exposure/strand-tests.ts';
import { certainClose, partWindows, windowOf } from '../../../core/exposure/window.ts';
import { MINUTE } from '../../../core/time.ts';
import { relaxer, tested } from '../../support/directions-kit.ts';
import { mark, min, partsDone, pass, strand } from '../../support/pass-kit.ts';

const rules = relaxer(tested);
const after = (...tests: readonly ReturnType<typeof strand>[]) => pass({ applied: mark(15), tests }, rules);

describe('when a strand is tested', () => {
  it('[E6] first at firstTest after the end of application, not in apply', () => {
    expect(nextTestAt(after(), min(30))).toBe(min(20));
    expect(nextTestAt(pass({}, rules), min(30))).toBeNull();
    expect(nextTestAt(pass({ applied: mark(15) }, null), min(30))).toBeNull();
  });

  it('[E6] then testEvery after the last, as long as that is before the close', () => {
    expect(nextTestAt(after(strand(21, 'not-yet')), min(30))).toBe(min(26));
    const late = after(strand(25, 'not-yet'));
    expect(nextTestAt(late, min(30))).toBeNull();
    expect(nextTestAt(late, min(30) + 1)).toBe(min(30));
  });

  it('[E6] a test in apply is not the first one after it', () => {
    expect(nextTestAt(after(strand(14, 'not-yet')), min(30))).toBe(min(20));
  });

  it('[E6] a test in the very second of that end is', () => {
    const slow = relaxer({ ...tested, firstTestMs: 8 * MINUTE });
    const next = (at: number) => nextTestAt(pass({ applied: mark(15), tests: [strand(at, 'not-yet')] }, slow), min(30));
    expect([next(15 - 1 / 60), next(15)]).toEqual([min(23), min(20)]);
  });

  it('[E6] none after ready', () => {
    expect(nextTestAt(after(strand(20, 'ready')), min(30))).toBeNull();
  });
});

describe('ready', () => {
  it('[E6] opens at that instant and closes grace later, or by the close if that is earlier', () => {
    expect(windowOf(after(strand(20, 'ready')), min(20))).toMatchObject({ opensAt: min(20), closesAt: min(22) });
    expect(windowOf(after(strand(29, 'ready')), min(29))).toMatchObject({ opensAt: min(29), closesAt: min(30) });
    expect(certainClose(after(strand(20, 'ready')))).toBe(min(22));
  });

  it('[E6] the first one counts, wherever it was', () => {
    const two = after(strand(18, 'not-yet'), { ...strand(20, 'ready'), place: 'porous' }, strand(21, 'ready'));
    expect(readyTest(two)).toMatchObject({ at: min(20), place: 'porous' });
    expect(readyClose(two)).toBe(min(22));
    expect(readyClose(after(strand(18, 'not-yet')))).toBeNull();
  });

  it('[E6] in apply the window is certain and stands', () => {
    const early = pass({ tests: [strand(12, 'ready')] }, rules);
    expect(windowOf(early, min(13))).toMatchObject({ opensAt: min(12), closesAt: min(14), expected: false });
  });

  it('[E6] a by-part product: ready speaks for its own part', () => {
    const foils = relaxer({ ...tested, manner: 'by-part' });
    const marks = { parts: partsDone(3, 6, 9, 12), applied: mark(12), tests: [strand(15, 'ready', 0)] };
    const head = pass(marks, foils);
    expect(partWindows(head).slice(0, 2)).toEqual([
      { part: 0, opensAt: min(15), closesAt: min(17) },
      { part: 1, opensAt: min(16), closesAt: min(27) },
    ]);
    const whole = pass(marks, rules);
    expect(partWindows(whole).map((one) => (one.closesAt - one.opensAt) / MINUTE)).toEqual([2, 2, 2, 2]);
  });
});
