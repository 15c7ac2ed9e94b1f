import { describe, expect, it } from 'vitest';
import { abandoned, burns } from '../../../../core/bells/rules/harm.ts';
import { defaultFigures } from '../../../../core/salon/salon.ts';
import { facts, mark, min, pass } from '../../../support/pass-kit.ts';

const reported = { place: 'skin', at: min(12), by: null, waterAt: null, closed: null } as const;

describe('burns', () => {
  it('[S6] rings DANGER from the report until a person says what was done', () => {
    const visit = facts('rinse', pass(), { burns: reported });
    expect(burns.from(visit, defaultFigures)).toBe(min(12));
    expect(burns.level(visit)).toBe('DANGER');
    const closed = { ...mark(30), done: 'eased' } as const;
    expect(burns.from(facts('rinse', pass(), { burns: { ...reported, closed } }), defaultFigures)).toBeNull();
    expect(burns.from(facts('rinse'), defaultFigures)).toBeNull();
  });
});

describe('abandoned', () => {
  const left = { end: 'abandoned-with-product' } as const;

  it('[X4] rings WARNING from the leaving until somebody saw to it', () => {
    const visit = facts('finished', pass(), left, 20);
    expect(abandoned.from(visit, defaultFigures)).toBe(min(20));
    expect(abandoned.level(visit)).toBe('WARNING');
    expect(abandoned.from(facts('finished', pass(), { ...left, settled: mark(25) }), defaultFigures)).toBeNull();
  });

  it('[X4] does not ring for a client who left without product', () => {
    expect(abandoned.from(facts('finished', pass(), { end: 'abandoned' }), defaultFigures)).toBeNull();
    expect(abandoned.from(facts('process'), defaultFigures)).toBeNull();
  });

  it('[X4] counts from the seating where no way is known', () => {
    expect(abandoned.from(facts('finished', pass(), { ...left, way: [] }), defaultFigures)).toBe(min(-10));
  });
});
