import { describe, expect, it } from 'vitest';
import { emptyFloor, openVisits, visitAt } from '../../core/floor.ts';
import { FloorLife } from '../support/floor-life.ts';

describe('who is on the floor', () => {
  it('[S9] the visit at a chair, until it is finished', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'SeatVisit', chair: 2, service: null, stylist: null, label: null });
    expect(visitAt(life.floor, 2)?.id).toBe(v);
    expect(visitAt(life.floor, 3)).toBeNull();
    expect(openVisits(life.floor).map((one) => one.id)).toEqual([v]);
    life.do({ type: 'Discard', visit: v });
    expect(visitAt(life.floor, 2)).toBeNull();
    expect(openVisits(life.floor)).toEqual([]);
  });

  it('[S9] nobody before the first', () => {
    expect(visitAt(emptyFloor, 1)).toBeNull();
  });
});
