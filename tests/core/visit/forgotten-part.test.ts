import { describe, expect, it } from 'vitest';
import { relaxer } from '../../support/directions-kit.ts';
import { FloorLife } from '../../support/floor-life.ts';
import { addService, min } from '../../support/pass-kit.ts';

const begun = () => {
  const life = FloorLife.salon();
  const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
  return { life, v };
};
const done = (life: FloorLife, v: string, part: number | null, at: number | null = null) =>
  life.send({ type: 'MarkPartDone', visit: v, part }, { happenedAt: at === null ? null : min(at) });
const parts = (life: FloorLife, v: string) =>
  life.facts(v).passes[0]?.parts.map((one) => [one.part, one.begunAt - min(0), one.doneAt - min(0)].map((n) => n));

describe('a forgotten part', () => {
  it('[X3] is marked with its time, also after others, and told in the order in which it happened', () => {
    const { life, v } = begun();
    done(life.at(8), v, 1);
    expect(done(life.at(9), v, 0, 4)).toMatchObject({ outcome: 'done' });
    expect(parts(life, v)).toEqual([
      [0, 0, 240_000],
      [1, 240_000, 480_000],
    ]);
  });

  it('[X3] in process with its time, up to the end of application, not without a time or after it', () => {
    const { life, v } = begun();
    done(life.at(4), v, 0);
    life.at(15).do({ type: 'FinishApplication', visit: v });
    life.at(18);
    expect(done(life, v, 1)).toMatchObject({ code: 'wrong-stage' });
    expect(done(life, v, 1, 15 + 1 / 60)).toMatchObject({ code: 'wrong-stage' });
    expect(done(life, v, 1, 15)).toMatchObject({ outcome: 'done' });
    expect(done(life, v, 2, 8)).toMatchObject({ outcome: 'done' });
    expect(life.facts(v)).toMatchObject({ stage: 'process', passes: [{ applied: { at: min(15) } }] });
  });

  it('[X3] before first touch it is kept as a statement', () => {
    const { life, v } = begun();
    expect(done(life.at(5), v, 0, -1)).toMatchObject({ code: 'moved-on' });
    expect(life.log.at(-1)?.event).toMatchObject({ type: 'StatementKept', command: 'MarkPartDone' });
    expect(parts(life, v)).toEqual([]);
  });

  it('[S3] said last, but done before others: application ends with the part done last', () => {
    const { life, v } = begun();
    for (const [at, part] of [
      [3, 0],
      [10, 2],
      [14, 3],
    ] as const)
      done(life.at(at), v, part);
    done(life.at(15), v, 1, 6);
    expect(life.facts(v)).toMatchObject({ stage: 'process', passes: [{ applied: { at: min(14) } }] });
  });

  it('[X1] its time is corrected between first touch and the end of application', () => {
    const { life, v } = begun();
    done(life.at(4), v, 0);
    life.at(15).do({ type: 'FinishApplication', visit: v });
    done(life.at(18), v, 1, 8);
    const of = life.facts(v).lastMove?.version ?? 0;
    const to = (minutes: number) =>
      life.send({ type: 'CorrectTime', visit: v, of, to: min(minutes), reason: null }).outcome;
    expect([to(-1), to(16), to(9), to(15)]).toEqual(['refused', 'refused', 'done', 'done']);
  });

  it('[X1] also where no other part was marked, and where a strand was ready after that end', () => {
    const { life, v } = begun();
    life.at(15).do({ type: 'FinishApplication', visit: v });
    life.at(17).do({ type: 'TestStrand', visit: v, place: 'porous', result: 'ready', part: null, note: null });
    done(life.at(18), v, 1, 8);
    const first = life.facts(v).lastMove?.version ?? 0;
    done(life, v, 2, 10);
    const to = (of: number, minutes: number) =>
      life.send({ type: 'CorrectTime', visit: v, of, to: min(minutes), reason: null }).outcome;
    expect([to(first, 16), to(first, 15), to(first, 9)]).toEqual(['refused', 'done', 'done']);
    expect([to(first + 1, 16), to(first + 1, 11)]).toEqual(['refused', 'done']);
  });

  it('[X1] of the second pass is not put into the application of the first', () => {
    const life = FloorLife.salon();
    addService(life, 'twice', [relaxer({ finishing: [] }), relaxer()]);
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: 'twice' });
    life.at(15).do({ type: 'FinishApplication', visit: v });
    life.at(26).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    life.at(32).do({ type: 'ClearAndOff', visit: v });
    life.at(35).do({ type: 'BeginApplication', chair: 2, visit: v, service: null });
    done(life.at(40), v, 0);
    const of = life.facts(v).lastMove?.version ?? 0;
    const to = (minutes: number) =>
      life.send({ type: 'CorrectTime', visit: v, of, to: min(minutes), reason: null }).outcome;
    expect([to(34), to(39)]).toEqual(['refused', 'done']);
  });

  it('[X1] and does not stand in the way of a correction of that end', () => {
    const { life, v } = begun();
    done(life.at(4), v, 0);
    life.at(15).do({ type: 'FinishApplication', visit: v });
    const of = life.facts(v).lastMove?.version ?? 0;
    done(life.at(18), v, 1, 8);
    const to = (minutes: number) =>
      life.send({ type: 'CorrectTime', visit: v, of, to: min(minutes), reason: null }).outcome;
    expect([to(7), to(14), to(8)]).toEqual(['refused', 'done', 'done']);
  });
});
