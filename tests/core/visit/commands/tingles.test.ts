import { describe, expect, it } from 'vitest';
import { FloorLife } from '../../../support/floor-life.ts';
import { min, saw } from '../../../support/pass-kit.ts';

const ama = { by: 'person-ama' };
const joss = { by: 'person-joss' };

function begun() {
  const life = FloorLife.salon();
  const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null }, ama);
  life.at(5);
  return { life, v, report: { type: 'ReportTingles', visit: v } as const };
}
const answer = (visit: string, said: 'eased' | 'mistaken' = 'eased') =>
  ({ type: 'AnswerTingles', visit, answer: said }) as const;

describe('it itches or tingles', () => {
  it('[S6] is kept with who and when; the stage stays', () => {
    const { life, v, report } = begun();
    life.do(report, joss);
    expect(life.facts(v)).toMatchObject({ stage: 'apply', tingles: { at: min(5), by: 'person-joss', answered: null } });
  });

  it('[S7] said twice is said already; after an answer it is news', () => {
    const { life, v, report } = begun();
    life.do(report, joss);
    expect(life.send(report, ama)).toMatchObject({
      code: 'already-done',
      since: [{ type: 'TinglesReported', at: min(5), by: 'person-joss' }],
    });
    life.at(6).do(answer(v), ama);
    life.at(7).do(report, joss);
    expect(life.facts(v).tingles).toMatchObject({ at: min(7), answered: null });
  });

  it('[S6] is answered once, with what came of it', () => {
    const { life, v, report } = begun();
    expect(life.send(answer(v), ama)).toMatchObject({ code: 'wrong-stage' });
    life.do(report, joss);
    life.at(6).do(answer(v, 'mistaken'), ama);
    expect(life.facts(v).tingles?.answered).toMatchObject({ at: min(6), by: 'person-ama', answer: 'mistaken' });
    expect(life.send(answer(v), joss)).toMatchObject({
      code: 'already-done',
      since: [{ type: 'TinglesAnswered', at: min(6), by: 'person-ama' }],
    });
  });

  it('[S6] water on and burns answer it too; water that was on before it does not', () => {
    const wet = begun();
    wet.life.do(wet.report, joss);
    wet.life.at(6).do({ type: 'BeginRinse', chair: 2, visit: wet.v, basin: 91 }, ama);
    expect(wet.life.facts(wet.v).tingles?.answered?.answer).toBe('to-water');
    const burnt = begun();
    burnt.life.do(burnt.report, joss);
    burnt.life.at(6).do({ type: 'ReportBurns', chair: 2, visit: burnt.v, place: 'skin' }, ama);
    expect(burnt.life.facts(burnt.v).tingles?.answered?.answer).toBe('burns');
    const late = begun();
    late.life.do(late.report, joss);
    late.life.at(6).do({ type: 'BeginRinse', chair: 2, visit: late.v, basin: 91 }, { ...ama, happenedAt: min(4) });
    expect(late.life.facts(late.v).tingles?.answered).toBeNull();
  });

  it('[X2] can be taken back, the report and the answer', () => {
    const { life, v, report } = begun();
    life.do(report, joss);
    life.do({ type: 'TakeBack', visit: v }, saw(life, v));
    expect(life.facts(v).tingles).toBeNull();
    expect(life.bells(v)).toEqual([]);
    life.do(report, joss);
    life.do(answer(v), ama);
    expect(life.bells(v)).toEqual([]);
    life.do({ type: 'TakeBack', visit: v }, saw(life, v));
    expect(life.facts(v).tingles).toMatchObject({ answered: null });
    expect(life.bells(v)).toEqual(['tingles CAUTION #3']);
  });

  it('[S7] at a finished visit it comes too late', () => {
    const { life, v, report } = begun();
    life.do({ type: 'Abandon', visit: v }, ama);
    expect(life.send(report, joss)).toMatchObject({ code: 'moved-on' });
    expect(life.send(answer(v), joss)).toMatchObject({ code: 'moved-on' });
  });
});
