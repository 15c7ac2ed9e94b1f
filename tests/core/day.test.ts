import { describe, expect, it } from 'vitest';
import { headline } from '../../core/visit/headline.ts';
import { FloorLife, NOON } from '../support/floor-life.ts';
import { MINUTE } from '../../core/time.ts';

const deedAt = (life: FloorLife, visit: string) =>
  headline(life.facts(visit), { now: life.now, figures: life.floor.salon.figures, uncertain: false });

describe('one visit through the day', () => {
  it('[S1] goes through the seven stages with the bells of common practice', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'SeatVisit', chair: 2, service: 'service-1', stylist: 'person-ama', label: 'B.' });
    expect(life.facts(v).stage).toBe('prep');
    life.do({ type: 'BeginApplication', chair: 2, visit: v, service: null }, { by: 'person-ama' });
    expect(deedAt(life, v)).toMatchObject({ deed: 'finish-by', number: { to: NOON + 18 * MINUTE } });
    life.at(15).do({ type: 'FinishApplication', visit: v });
    expect(life.facts(v).stage).toBe('process');
    expect(deedAt(life, v)).toMatchObject({ deed: 'rinse-from', number: { to: NOON + 25 * MINUTE }, sureness: 'firm' });
    expect(life.bells(v)).toEqual([]);
    life.at(22);
    expect(life.bells(v)).toEqual(['soon NOTICE #1']);
    life.at(27);
    expect(life.bells(v)).toEqual(['rinse WARNING #1']);
    life.at(30);
    expect(life.bells(v)).toEqual(['over DANGER #1']);
    expect(deedAt(life, v)).toMatchObject({ deed: 'rinse-now', number: { to: NOON + 30 * MINUTE } });
    life.at(31).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    expect(life.bells(v)).toEqual([]);
    life.at(36);
    expect(life.bells(v)).toEqual(['water NOTICE #1']);
    life.do({ type: 'ClearAndOff', visit: v });
    expect(life.facts(v).stage).toBe('neutralize');
    life.pass(2).do({ type: 'MarkShampoo', visit: v, indicator: 'coloured', strip: null });
    life
      .pass(2)
      .do({ type: 'MarkShampoo', visit: v, indicator: 'colourless', strip: null }, { seen: life.facts(v).version });
    life.do({ type: 'MoveOn', visit: v, to: 'condition' });
    life.pass(3).do({ type: 'MoveOn', visit: v, to: 'dry' });
    life.pass(20).do({ type: 'MoveOn', visit: v, to: 'finished' });
    expect(life.facts(v)).toMatchObject({ stage: 'finished', end: 'done', owed: [], bells: [] });
  });
});
