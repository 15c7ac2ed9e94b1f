import { describe, expect, it } from 'vitest';
import { defaultParts } from '../../../core/directions/rules.ts';
import { ceilingOfPart, limitsOf, ownCeilingUnheeded } from '../../../core/exposure/limits.ts';
import { windowOf } from '../../../core/exposure/window.ts';
import { MINUTE } from '../../../core/time.ts';
import { relaxer, warmed } from '../../support/directions-kit.ts';
import { mark, min, partsDone, pass } from '../../support/pass-kit.ts';

const off = { ...mark(3), on: false };
const on = { ...mark(3), on: true };

describe('limits under heat', () => {
  it('[E10] allowed: own figures once heat was on, and while heat was never spoken of', () => {
    const rules = relaxer(warmed);
    expect(limitsOf(pass({}, rules))).toEqual(warmed.underHeat);
    expect(limitsOf(pass({ heat: on, heated: true }, rules))).toEqual(warmed.underHeat);
    expect(limitsOf(pass({ heat: off, heated: true }, rules))).toEqual(warmed.underHeat);
    expect(limitsOf(pass({ heat: off }, rules))).toMatchObject({ minAfterMs: 10 * MINUTE, ceilingMs: 30 * MINUTE });
  });

  it('[E10] never or required: the directions’ figures are the only ones', () => {
    const { underHeat } = warmed;
    for (const heat of ['never', 'required'] as const) {
      const one = pass({ heat: on, heated: true }, relaxer({ heat, underHeat }));
      expect(limitsOf(one)).toMatchObject({ minAfterMs: 10 * MINUTE, maxAfterMs: 15 * MINUTE });
    }
    const none = pass({ heat: on, heated: true }, relaxer({ heat: 'allowed' }));
    expect(limitsOf(none)).toMatchObject({ maxAfterMs: 15 * MINUTE });
    expect(limitsOf(pass({}, null))).toBeNull();
  });

  it('[E10] the window follows them', () => {
    const rules = relaxer(warmed);
    const at = { applied: mark(10) };
    expect(windowOf(pass(at, rules), min(10))).toMatchObject({ opensAt: min(16), closesAt: min(19) });
    expect(windowOf(pass({ ...at, heat: off }, rules), min(10))).toMatchObject({ opensAt: min(20), closesAt: min(25) });
  });

  it('[E3] a part has its own ceiling or the head’s, whichever is earlier, under heat too', () => {
    const parts = defaultParts.map((part, i) => (i === 3 ? { ...part, ceilingMs: 25 * MINUTE } : part));
    const rules = relaxer({ ...warmed, parts });
    expect(ceilingOfPart(pass({ heat: off }, rules), 0)).toBe(30 * MINUTE);
    expect(ceilingOfPart(pass({ heat: off }, rules), 3)).toBe(25 * MINUTE);
    expect(ceilingOfPart(pass({ heat: on, heated: true }, rules), 3)).toBe(20 * MINUTE);
    expect(ceilingOfPart(pass({}, relaxer({ ceilingMs: null })), 0)).toBeNull();
  });
});

describe('a part with a ceiling of its own', () => {
  const hairline = (ceilingMs: number) =>
    relaxer({ parts: defaultParts.map((one, i) => (i === 3 ? { ...one, ceilingMs } : one)) });

  it('[E5] goes unheeded as long as no part is marked, where it is shorter than the head’s', () => {
    expect(ownCeilingUnheeded(pass({}, hairline(20 * MINUTE)))).toBe(true);
    expect(ownCeilingUnheeded(pass({ parts: partsDone(3) }, hairline(20 * MINUTE)))).toBe(false);
    expect(ownCeilingUnheeded(pass({}, hairline(30 * MINUTE)))).toBe(false);
    expect(ownCeilingUnheeded(pass({}, hairline(30 * MINUTE - 1)))).toBe(true);
    expect(ownCeilingUnheeded(pass())).toBe(false);
    expect(ownCeilingUnheeded(pass({}, null))).toBe(false);
    expect(ownCeilingUnheeded(pass({}, { ...hairline(20 * MINUTE), ceilingMs: null }))).toBe(true);
  });
});
