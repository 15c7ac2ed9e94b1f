/*
 * Source: DOE-HDBK-1015/2-93: alkali in the eye, plenty of water for at least 15 min and a physician at once; on skin, very
 * large amounts of water for 1–2 h or until medical help. ANSI Z358.1 (secondary): the same 15 min.
 */
import { describe, expect, it } from 'vitest';
import { figureSince } from '../../core/visit/figure.ts';
import { headline, headlineFigure } from '../../core/visit/headline.ts';
import { FloorLife } from '../support/floor-life.ts';
import { saw } from '../support/pass-kit.ts';

/** The eye is reported at 4 min, water is on at 5. */
function eye(place: 'eye' | 'skin') {
  const life = FloorLife.salon();
  const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: 'service-1' });
  life.at(4).do({ type: 'ReportBurns', chair: 2, visit: v, place });
  life.at(5).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
  const count = () => {
    const line = headline(life.facts(v), { now: life.now, figures: life.floor.salon.figures, uncertain: false });
    return { deed: line.deed, figure: headlineFigure(line, life.now) };
  };
  return { life, v, count };
}

describe('published first aid', () => {
  it('[S6] eye: a count up passes the published 15 min and goes on until a person closes it', () => {
    const { life, v, count } = eye('eye');
    life.at(20);
    expect(count()).toEqual({ deed: 'keep-rinsing', figure: figureSince(15 * 60_000) });
    life.at(31);
    expect(count()).toEqual({ deed: 'keep-rinsing', figure: figureSince(26 * 60_000) });
    expect(life.bells(v)).toContain('burns DANGER #1');
    life.do({ type: 'CloseBurns', visit: v, done: 'physician' });
    expect(count().deed).toBe('rinse-clear');
  });

  it('[S6] skin: after the published 2 h the count still runs, and nothing in the product ends it', () => {
    const { life, v, count } = eye('skin');
    life.at(126);
    expect(count()).toEqual({ deed: 'keep-rinsing', figure: figureSince(121 * 60_000) });
    expect(life.send({ type: 'ClearAndOff', visit: v }, saw(life, v))).toMatchObject({ outcome: 'refused' });
    expect(life.send({ type: 'MoveOn', visit: v, to: 'dry' }, saw(life, v))).toMatchObject({ outcome: 'refused' });
  });
});
