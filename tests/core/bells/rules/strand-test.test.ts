import { describe, expect, it } from 'vitest';
import { rinse } from '../../../../core/bells/rules/off.ts';
import { test as testBell } from '../../../../core/bells/rules/strand-test.ts';
import { defaultFigures as figures } from '../../../../core/salon/salon.ts';
import { relaxer, tested } from '../../../support/directions-kit.ts';
import { FloorLife } from '../../../support/floor-life.ts';
import { facts, mark, min, pass, strand } from '../../../support/pass-kit.ts';

const second = 1 / 60;
const processing = () => {
  const life = FloorLife.salon(relaxer(tested));
  const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
  life.at(15).do({ type: 'FinishApplication', visit: v });
  return { life, v };
};
const say = (life: FloorLife, v: string, result: 'ready' | 'not-yet') =>
  life.do({ type: 'TestStrand', visit: v, place: 'first', result, part: null, note: null });

describe('test', () => {
  it('[E6] CAUTION from the instant a test is due, until a test', () => {
    const { life, v } = processing();
    expect(life.at(20 - second).bells(v)).toEqual([]);
    expect(life.at(20).bells(v)).toEqual(['test CAUTION #1']);
    say(life.at(21), v, 'not-yet');
    expect(life.bells(v)).toEqual([]);
    expect(life.at(26).bells(v)).toContain('test CAUTION #2');
  });

  it('[E6] or until water on', () => {
    const { life, v } = processing();
    life.at(21).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    expect(life.bells(v)).toEqual([]);
  });

  it('[E6] an untested head goes on asking past its close, and none is asked for there anew', () => {
    const { life, v } = processing();
    expect(life.at(31).bells(v)).toEqual(['test CAUTION #1', 'over DANGER #1']);
    say(life, v, 'not-yet');
    expect(life.at(40).bells(v)).toEqual(['over DANGER #1']);
  });

  it('[E6] none in apply, without a product, after ready', () => {
    expect(testBell.from(facts('apply', pass({}, relaxer(tested))), figures)).toBeNull();
    expect(testBell.from(facts('process', pass({ applied: mark(15) }, null)), figures)).toBeNull();
    expect(testBell.from(facts('process', null), figures)).toBeNull();
    const ready = pass({ applied: mark(15), tests: [strand(20, 'ready')] }, relaxer(tested));
    expect(testBell.from(facts('process', ready), figures)).toBeNull();
    expect(testBell.level(facts('process'))).toBe('CAUTION');
  });
});

describe('rinse from ready', () => {
  it('[E6] stands at once when a strand is ready, over after the grace', () => {
    const { life, v } = processing();
    say(life.at(20), v, 'ready');
    expect(life.bells(v)).toEqual(['rinse WARNING #1']);
    expect(life.at(22 - second).bells(v)).toEqual(['rinse WARNING #1']);
    expect(life.at(22).bells(v)).toEqual(['over DANGER #1']);
  });

  it('[E6] ready in apply ends the application of a whole-head product, and rinse stands', () => {
    const life = FloorLife.salon(relaxer(tested));
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    say(life.at(12), v, 'ready');
    expect(life.facts(v)).toMatchObject({ stage: 'process', passes: [{ applied: { at: min(12) } }] });
    expect(life.bells(v)).toEqual(['rinse WARNING #1']);
  });

  it('[E6] ready in apply leaves the application of a by-part product going on', () => {
    const life = FloorLife.salon(relaxer({ ...tested, manner: 'by-part' }));
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    life.at(5).do({ type: 'MarkPartDone', visit: v, part: null });
    life.at(12).do({ type: 'TestStrand', visit: v, place: 'first', result: 'ready', part: 0, note: null });
    expect(life.facts(v)).toMatchObject({ stage: 'apply', passes: [{ applied: null }] });
  });

  it('[R2] comes no later than the close less lead and walk', () => {
    const one = pass({ applied: mark(15), tests: [strand(29, 'ready')] });
    expect(rinse.from(facts('process', one), figures)).toBe(min(27));
  });
});
