import { describe, expect, it } from 'vitest';
import { standing } from '../../support/bell-kit.ts';
import { relaxer, tested } from '../../support/directions-kit.ts';
import { lineOf } from '../../support/headlines.ts';
import { facts, mark, min, pass, strand } from '../../support/pass-kit.ts';

const rules = relaxer(tested);
const head = (...tests: readonly ReturnType<typeof strand>[]) =>
  facts('process', pass({ applied: mark(15), tests }, rules));
const rinse = standing({ dueAt: min(27), rungAt: min(27), levelAt: min(27) });

describe('the number of a strand test', () => {
  it('[V1] test if it comes before the window, and while it is due', () => {
    expect(lineOf(head(), 16)).toMatchObject({ deed: 'test', number: { to: min(20) }, sureness: 'firm' });
    expect(lineOf(head(), 26)).toMatchObject({ deed: 'test', number: { to: min(20) } });
  });

  it('[V1] a test that comes with or after the opening does not stand before it', () => {
    expect(lineOf(head(strand(19.9, 'not-yet')), 20)).toMatchObject({ deed: 'test', number: { to: min(24.9) } });
    expect(lineOf(head(strand(20, 'not-yet')), 20)).toMatchObject({ deed: 'rinse-from', number: { to: min(25) } });
    expect(lineOf(head(strand(20, 'not-yet')), 25)).toMatchObject({ deed: 'test', number: { to: min(25) } });
    expect(lineOf(head(strand(23, 'not-yet')), 27)).toMatchObject({ deed: 'off-by', number: { to: min(30) } });
    expect(lineOf(head(strand(23, 'not-yet')), 28)).toMatchObject({ deed: 'test', number: { to: min(28) } });
  });

  it('[V1] not once rinse stands, nor in apply', () => {
    expect(lineOf({ ...head(), bells: [rinse] }, 27)).toMatchObject({ deed: 'off-by', number: { to: min(30) } });
    expect(lineOf({ ...head(), bells: [{ ...rinse, kind: 'soon' }] }, 23)).toMatchObject({ deed: 'test' });
    expect(lineOf(facts('apply', pass({}, rules)), 3)).toMatchObject({ deed: 'finish-by' });
  });

  it('[V1] ready: off by the grace', () => {
    expect(lineOf(head(strand(20, 'ready')), 20)).toMatchObject({
      deed: 'off-by',
      number: { to: min(22) },
      sureness: 'firm',
    });
  });
});
