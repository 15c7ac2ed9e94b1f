/*
 * Common practice, no source: a whole head applied in about 15 min, in four parts from the nape on; processing 10 to 15 min
 * after that; rinse until the water runs clear; two washes with a neutralizing shampoo; conditioner; dry. No washing for 48
 * hours, no colour for a week, about three heads from one container. Ceiling, rinse minimum and dwells are invented, since
 * no published table of minutes exists (the FDA's consumer pages on relaxers only say: never longer than the directions).
 */
import { describe, expect, it } from 'vitest';
import { defaultParts } from '../../core/directions/rules.ts';
import { shampoosWanted } from '../../core/exposure/finishing.ts';
import { timeOnHair } from '../../core/exposure/time-on-hair.ts';
import { headline, headlineFigure } from '../../core/visit/headline.ts';
import { MINUTE } from '../../core/time.ts';
import { relaxer } from '../support/directions-kit.ts';
import { FloorLife, NOON } from '../support/floor-life.ts';
import { mark, min, pass, saw } from '../support/pass-kit.ts';

const line = (life: FloorLife, visit: string) => {
  const one = headline(life.facts(visit), { now: life.now, figures: life.floor.salon.figures, uncertain: false });
  const figure = headlineFigure(one, life.now);
  if (figure === null) return one.deed;
  const text =
    figure.form === 'minutes'
      ? `${figure.minutes} min`
      : `${figure.minutes}:${String(figure.seconds).padStart(2, '0')}`;
  return `${one.deed} ${figure.sign}${text}`;
};

describe('common practice, end to end', () => {
  it('[E5] four parts, beginning at the nape', () => {
    expect(defaultParts.map((part) => part.place)).toEqual(['nape-left', 'nape-right', 'front-left', 'front-right']);
    expect(defaultParts.reduce((sum, part) => sum + part.share, 0)).toBe(1);
  });

  it('[E4] the 15 min of application and the 10 to 15 after it leave 5 min for the rinse', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: 'service-1' });
    for (const part of [1, 2, 3, 4]) life.at(part * 3.75).do({ type: 'MarkPartDone', visit: v, part: null });
    expect(life.facts(v)).toMatchObject({ stage: 'process', way: [{}, {}, { stage: 'process', at: min(15) }] });
    expect(line(life, v)).toBe('rinse-from 10 min');
    expect([line(life.at(20), v), line(life.at(24.5), v)]).toEqual(['rinse-from 5:00', 'rinse-from 0:30']);
    expect([line(life.at(25), v), line(life.at(29), v)]).toEqual(['off-by 5:00', 'off-by 1:00']);
    expect([line(life.at(30), v), line(life.at(31.5), v)]).toEqual(['rinse-now 0:00', 'rinse-now +1:30']);
  });

  it('[S1] one visit as it should be owes nothing and sounds one bell', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: 'service-1' });
    expect(line(life, v)).toBe('finish-by 18 min');
    life.at(15).do({ type: 'FinishApplication', visit: v });
    life.at(27.5).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    expect(line(life, v)).toBe('rinse-clear 5:00');
    life.at(33).do({ type: 'ClearAndOff', visit: v });
    const on = life.facts(v).passes[0];
    expect(on && timeOnHair(on, life.now, life.floor.salon.figures.waterSureMs)).toEqual({
      firstMs: 28.5 * MINUTE,
      lastMs: 13.5 * MINUTE,
      running: false,
    });
    life.at(35).do({ type: 'MarkShampoo', visit: v, indicator: 'coloured', strip: null });
    life.at(37).do({ type: 'MarkShampoo', visit: v, indicator: 'colourless', strip: null }, saw(life, v));
    life.do({ type: 'MoveOn', visit: v, to: 'condition' });
    life.at(40).do({ type: 'MoveOn', visit: v, to: 'dry' });
    life.at(60).do({ type: 'MoveOn', visit: v, to: 'finished' });
    expect(life.facts(v)).toMatchObject({ end: 'done', owed: [], bells: [] });
    // Published load (ISA-18.2, EEMUA 191): about one bell per person and ten minutes. NOTICE makes no sound.
    const sounded = life.log.filter(({ event }) => event.type === 'BellRung' && event.level !== 'NOTICE');
    expect(sounded.map(({ at, event }) => [(at - NOON) / MINUTE, 'kind' in event && event.kind])).toEqual([
      [27, 'rinse'],
    ]);
  });

  it('[S5] a strip at the product’s pH of about 13.5 wants one more shampoo, at a shampoo’s 4.5 it does not', () => {
    const step = { kind: 'shampoos', count: 2, dwellMs: 0, proof: 'strip', stripLimit: 7 } as const;
    const shampoo = (strip: number) => ({ ...mark(30), indicator: null, strip });
    const wanted = (strip: number) => shampoosWanted(pass({ shampoos: [shampoo(13.5), shampoo(strip)] }), step);
    expect([wanted(13.5), wanted(4.5)]).toEqual([3, 2]);
  });

  it('[L1] 48 hours without washing, a week without colour, three heads from one container', () => {
    expect(relaxer()).toMatchObject({ washAfterHours: 48, colourAfterDays: 7, headsPerContainer: 3 });
  });
});
