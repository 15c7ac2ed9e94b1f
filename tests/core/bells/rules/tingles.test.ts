import { describe, expect, it } from 'vitest';
import { SECOND } from '../../../../core/time.ts';
import { beginShifts } from '../../../support/bell-kit.ts';
import { FloorLife, NOON } from '../../../support/floor-life.ts';

const AMA = 'person-ama';
const JOSS = 'person-joss';

/** Ama's head at which Joss said at noon that it tingles; both on shift. */
function tingling() {
  const life = beginShifts(FloorLife.salon(), AMA, JOSS);
  const v = life.do({ type: 'SeatVisit', chair: 2, service: 'service-1', stylist: AMA, label: null }, { by: AMA });
  life.do({ type: 'ReportTingles', visit: v }, { by: JOSS });
  const at = (seconds: number) => {
    life.at(seconds / 60);
    return life.facts(v).bells.find(({ cause }) => cause === 'tingles') ?? null;
  };
  const take = () => life.do({ type: 'TakeBell', visit: v, chair: null, cause: 'tingles' }, { by: AMA });
  return { life, v, at, take };
}

describe('it itches or tingles', () => {
  it('[S6] rings CAUTION for whose head it is, at once', () => {
    expect(tingling().at(0)).toMatchObject({ level: 'CAUTION', circle: 0, dueAt: NOON, helper: null });
  });

  it('[S6] unanswered for 60 s it rings as burns do, for everybody; the stage stays', () => {
    const { at, life, v } = tingling();
    expect(at(59.999)).toMatchObject({ level: 'CAUTION' });
    expect(at(60)).toMatchObject({ level: 'DANGER', circle: 2, dueAt: NOON + 60 * SECOND, passed: [] });
    expect(life.facts(v).stage).toBe('prep');
  });

  it('[S6] somebody who goes has as long again', () => {
    const { at, take } = tingling();
    at(30);
    take();
    expect(at(89.999)).toMatchObject({ level: 'CAUTION' });
    expect(at(90)).toMatchObject({ level: 'DANGER' });
  });

  it('[S6] but not for ever by saying so again', () => {
    const { at, take, life, v } = tingling();
    at(50);
    take();
    at(100);
    life.do({ type: 'TakeBell', visit: v, chair: null, cause: 'tingles' }, { by: JOSS });
    expect(at(119.999)).toMatchObject({ level: 'CAUTION' });
    expect(at(120)).toMatchObject({ level: 'DANGER' });
  });

  it('[S6] who goes and then cannot leaves it as if nobody had gone', () => {
    const { at, take, life, v } = tingling();
    at(40);
    take();
    at(70);
    life.do({ type: 'PassBell', visit: v, chair: null, cause: 'tingles' }, { by: AMA });
    expect(at(70)).toMatchObject({ level: 'DANGER', taken: null });
  });

  it('[R2] it never falls: taken at DANGER it stays DANGER', () => {
    const { at, take } = tingling();
    at(61);
    take();
    expect(at(62)).toMatchObject({ level: 'DANGER', taken: { by: AMA } });
  });

  it.each([
    ['an answer', { type: 'AnswerTingles', answer: 'mistaken' }],
    ['water on', { type: 'BeginRinse', chair: 2, basin: 91 }],
    ['burns', { type: 'ReportBurns', chair: 2, place: 'skin' }],
  ] as const)('[S6] ends by %s, and said once more it is the next episode', (_what, command) => {
    const { at, life, v } = tingling();
    life.do({ ...command, visit: v }, { by: AMA });
    expect(at(1)).toBeNull();
    life.do({ type: 'ReportTingles', visit: v }, { by: JOSS });
    expect(at(2)).toMatchObject({ episode: 2, level: 'CAUTION' });
  });

  it('[S6] ends with the visit: whoever has gone home cannot be looked at', () => {
    const { at, life, v } = tingling();
    at(70);
    life.do({ type: 'MoveOn', visit: v, to: 'finished' }, { by: AMA });
    expect(life.bells(v)).toEqual([]);
    expect(life.log.at(-1)?.event).toMatchObject({ type: 'BellEnded', cause: 'tingles', why: 'visit-ended' });
  });
});
