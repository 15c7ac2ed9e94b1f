import { describe, expect, it } from 'vitest';
import { freeHelper } from '../../../core/bells/free-helper.ts';
import { beginShifts } from '../../support/bell-kit.ts';
import { FloorLife } from '../../support/floor-life.ts';

const AMA = 'person-ama';
const JOSS = 'person-joss';
const SENA = 'person-sena';
const REED = 'person-reed';

/** Ama's head at chair 2; Joss assists, Sena is a senior, Reed a stylist, Mio a manager. All on shift. */
function floor(): { life: FloorLife; head: string } {
  const life = FloorLife.salon();
  life.do({ type: 'AddPerson', name: 'Sena', roles: ['senior'] }, { id: SENA });
  life.do({ type: 'AddPerson', name: 'Reed', roles: ['stylist'] }, { id: REED });
  life.do({ type: 'AddPerson', name: 'Mio', roles: ['manager'] }, { id: 'person-mio' });
  beginShifts(life, AMA, JOSS, SENA, REED, 'person-mio');
  const seat = { type: 'SeatVisit', chair: 2, service: 'service-1', stylist: AMA, label: null } as const;
  return { life, head: life.do(seat, { by: AMA }) };
}
const helperOf = ({ life, head }: ReturnType<typeof floor>) => freeHelper(life.floor, life.facts(head), life.now);
const begin = (life: FloorLife, chair: number, by: string): string =>
  life.do({ type: 'BeginApplication', chair, visit: null, service: null }, { by });
/** Touches a head in passing, and is nowhere with hands full. */
const touch = (life: FloorLife, by: string): string =>
  life.do({ type: 'SeatVisit', chair: 4, service: 'service-1', stylist: null, label: null }, { by });

describe('the one free pair of hands', () => {
  it('[R2] is an assistant before anybody else, never whose head it is and never a manager', () => {
    expect(helperOf(floor())).toBe(JOSS);
  });

  it('[R2] without a free assistant whoever touched a head longest ago', () => {
    const salon = floor();
    const { life } = salon;
    begin(life, 1, JOSS);
    life.at(1);
    touch(life, REED);
    expect(helperOf(salon)).toBe(SENA);
    life.at(2);
    touch(life, SENA);
    expect(helperOf(salon)).toBe(REED);
  });

  it('[R2] of two alike always the same one', () => {
    const salon = floor();
    begin(salon.life, 1, JOSS);
    expect(helperOf(salon)).toBe(REED);
  });

  it('[R2] hands are full at an application, whoever began it and whoever joined', () => {
    const salon = floor();
    const visit = begin(salon.life, 1, REED);
    salon.life.do({ type: 'JoinAsHelper', visit, person: JOSS }, { by: JOSS });
    expect(helperOf(salon)).toBe(SENA);
    salon.life.at(3).do({ type: 'LeaveAsHelper', visit, person: JOSS }, { by: REED });
    expect(helperOf(salon)).toBe(JOSS);
  });

  it('[R2] and at the basin, by whoever touched it last', () => {
    const salon = floor();
    const { life } = salon;
    const visit = begin(life, 1, REED);
    life.at(15).do({ type: 'FinishApplication', visit }, { by: REED });
    expect(helperOf(salon)).toBe(JOSS);
    life.at(25).do({ type: 'BeginRinse', chair: 1, visit, basin: 91 }, { by: JOSS });
    expect(helperOf(salon)).toBe(SENA);
    // Sena's last touch is the later one, Reed is free since minute 15.
    life.at(26);
    touch(life, SENA);
    expect(helperOf(salon)).toBe(REED);
  });

  it('[R2] with nobody free whoever’s last touch is oldest', () => {
    const salon = floor();
    const { life } = salon;
    for (const [minute, chair, by] of [
      [1, 1, SENA],
      [2, 3, JOSS],
      [3, 4, REED],
    ] as const) {
      life.at(minute);
      begin(life, chair, by);
    }
    expect(helperOf(salon)).toBe(SENA);
  });

  it('[R2] is neither away nor off, nor whom the head is offered to', () => {
    const salon = floor();
    const { life, head } = salon;
    life.do({ type: 'GoAway', person: JOSS, forMs: 600_000, cover: null });
    expect(helperOf(salon)).toBe(REED);
    life.do({ type: 'EndShift', person: REED });
    expect(helperOf(salon)).toBe(SENA);
    life.do({ type: 'OfferHead', visit: head, to: SENA }, { by: AMA });
    expect(helperOf(salon)).toBeNull();
    life.at(10);
    expect(helperOf(salon)).toBe(JOSS);
  });

  it('[R2] is picked as the bell comes to sound, and kept for it', () => {
    const { life } = floor();
    const visit = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null }, { by: AMA });
    life.at(15).do({ type: 'FinishApplication', visit }, { by: AMA });
    const bell = () => life.facts(visit).bells[0];
    life.at(22);
    expect(bell()).toMatchObject({ kind: 'soon', helper: null });
    life.at(27);
    expect(bell()).toMatchObject({ kind: 'rinse', helper: JOSS });
    begin(life, 1, JOSS);
    life.at(30);
    expect(bell()).toMatchObject({ kind: 'over', helper: JOSS });
  });
});
