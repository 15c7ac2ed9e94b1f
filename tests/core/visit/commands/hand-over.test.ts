import { describe, expect, it } from 'vitest';
import { audienceOf } from '../../../../core/bells/circles.ts';
import { ownerOf } from '../../../../core/bells/subject.ts';
import { beginShifts, standing } from '../../../support/bell-kit.ts';
import { FloorLife } from '../../../support/floor-life.ts';

const AMA = 'person-ama';
const JOSS = 'person-joss';

function amas() {
  const life = beginShifts(FloorLife.salon(), AMA, JOSS);
  const v = life.do({ type: 'SeatVisit', chair: 2, service: 'service-1', stylist: AMA, label: null }, { by: AMA });
  const offer = (to: string, by: string | null = AMA) => life.send({ type: 'OfferHead', visit: v, to }, { by });
  const answer = (accept: boolean, by: string | null) => life.send({ type: 'AnswerOffer', visit: v, accept }, { by });
  const asked = () => audienceOf(standing({ kind: 'test' }), ownerOf(life.facts(v)), life.floor.people, life.now);
  return { life, v, offer, answer, asked };
}
const done = { outcome: 'done' };

describe('a head handed over', () => {
  it('[R6] stays whose it is until the other has accepted, and until then both are asked', () => {
    const { life, v, offer, answer, asked } = amas();
    expect(offer(JOSS)).toMatchObject(done);
    expect(life.facts(v)).toMatchObject({ stylist: AMA, offered: { to: JOSS, by: AMA } });
    expect(asked()).toEqual([AMA, JOSS]);
    expect(answer(true, JOSS)).toMatchObject(done);
    expect(life.facts(v)).toMatchObject({ stylist: JOSS, offered: null });
    expect(asked()).toEqual([JOSS]);
  });

  it('[R6] declined by them or taken back by anybody it stays whose it was', () => {
    for (const by of [JOSS, AMA, null]) {
      const { life, v, offer, answer, asked } = amas();
      offer(JOSS);
      expect(answer(false, by)).toMatchObject(done);
      expect(life.facts(v)).toMatchObject({ stylist: AMA, offered: null });
      expect(asked()).toEqual([AMA]);
    }
  });

  it('[S7] only whom it was offered to accepts it', () => {
    const { offer, answer } = amas();
    offer(JOSS);
    expect(answer(true, null)).toMatchObject({ code: 'person-needed' });
    expect(answer(true, AMA)).toMatchObject({ code: 'not-allowed' });
  });

  it('[S7] offered or accepted twice is said already; to whose it is, likewise', () => {
    const { life, v, offer, answer } = amas();
    expect(offer(AMA)).toMatchObject({ code: 'already-done', since: [{ type: 'StylistNamed', by: AMA }] });
    offer(JOSS);
    expect(offer(JOSS)).toMatchObject({ code: 'already-done', since: [{ type: 'HeadOffered', by: AMA }] });
    answer(true, JOSS);
    expect(answer(true, JOSS)).toMatchObject({ code: 'already-done', since: [{ type: 'OfferAnswered' }] });
    expect(answer(false, JOSS)).toMatchObject({ code: 'wrong-stage' });
    expect(answer(true, AMA)).toMatchObject({ code: 'wrong-stage' });
    expect(life.facts(v).stylist).toBe(JOSS);
  });

  it('[S7] offered to somebody else it is no longer offered to the first; to nobody known it is refused', () => {
    const { life, v, offer, answer } = amas();
    life.do({ type: 'AddPerson', name: 'Sena', roles: ['senior'] }, { id: 'person-sena' });
    offer('person-sena');
    expect(offer(JOSS)).toMatchObject(done);
    expect(answer(true, 'person-sena')).toMatchObject({ code: 'not-allowed' });
    expect(offer('person-nobody')).toMatchObject({ code: 'unknown-person', field: 'to' });
    life.do({ type: 'RetirePerson', person: 'person-sena' });
    expect(offer('person-sena')).toMatchObject({ code: 'unknown-person', field: 'to' });
    expect(life.facts(v).offered?.to).toBe(JOSS);
  });

  it('[S7] naming a stylist settles it', () => {
    const { life, v, offer } = amas();
    offer(JOSS);
    life.do({ type: 'NameStylist', visit: v, stylist: AMA });
    expect(life.facts(v)).toMatchObject({ stylist: AMA, offered: null });
  });

  it('[R3] is no act at the head: nobody is held for being there', () => {
    const { life, v, offer } = amas();
    life.at(1);
    offer(JOSS, JOSS);
    expect(life.facts(v).acts.map(({ by }) => by)).toEqual([AMA]);
  });
});
