import { describe, expect, it } from 'vitest';
import { FloorLife } from '../../support/floor-life.ts';
import { min, saw } from '../../support/pass-kit.ts';

describe('the first water', () => {
  /** Begun at 0, water on at 20 with neither basin nor person. */
  const rinsing = () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    life.at(20).do({ type: 'BeginRinse', chair: 2, visit: v, basin: null });
    const again = (basin: number | null) => life.do({ type: 'BeginRinse', chair: 2, visit: v, basin }, saw(life, v));
    const first = () => life.facts(v).passes[0]?.firstWater;
    return { life, v, again, first };
  };

  it('[R2] is not answered by water said to be on once more', () => {
    const { life, again, first } = rinsing();
    life.at(21);
    again(null);
    expect(first()).toMatchObject({ at: min(20), confirmed: false });
  });

  it('[R2] is answered by a later word that names the basin', () => {
    const { life, again, first } = rinsing();
    life.at(21);
    again(91);
    expect(first()).toMatchObject({ at: min(20), confirmed: true });
  });

  it('[R2] is answered once it ran clear, when water is on again', () => {
    const { life, v, again, first } = rinsing();
    life.at(26).do({ type: 'ClearAndOff', visit: v });
    expect(first()).toMatchObject({ confirmed: false });
    again(null);
    expect(first()).toMatchObject({ at: min(20), confirmed: true });
  });
});
