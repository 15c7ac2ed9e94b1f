import { describe, expect, it } from 'vitest';
import { decide } from '../../core/decide.ts';
import { FloorLife } from '../support/floor-life.ts';
import { min, saw } from '../support/pass-kit.ts';

const hours = (n: number) => n * 60;

function begun() {
  const life = FloorLife.salon();
  const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: 'service-1' });
  return { life, v };
}

describe('when it happened', () => {
  it('[X3] over 2 s in the future is refused, 2 s ahead is now', () => {
    const { life, v } = begun();
    life.at(10);
    const finish = { type: 'FinishApplication', visit: v } as const;
    expect(life.send(finish, { happenedAt: min(10) + 2_001 })).toMatchObject({
      code: 'time-in-future',
      field: 'happenedAt',
    });
    life.do(finish, { happenedAt: min(10) + 2_000 });
    expect(life.facts(v).passes[0]?.applied?.at).toBe(min(10));
  });

  it('[X3] over 24 h old is refused, 24 h old is judged', () => {
    const { life } = begun();
    life.at(hours(25));
    const seat = { type: 'SeatVisit', chair: 1, service: null, stylist: null, label: null } as const;
    expect(life.send(seat, { happenedAt: min(hours(1)) - 1 })).toMatchObject({
      code: 'time-too-old',
      field: 'happenedAt',
    });
    const v = life.do(seat, { happenedAt: min(hours(1)) });
    expect(life.facts(v).seatedAt).toBe(min(hours(1)));
  });

  it('[X3] water and burns are never held up by the sender’s clock', () => {
    const { life } = begun();
    life.at(hours(25));
    const burns = (chair: number) => ({ type: 'ReportBurns', chair, visit: null, place: 'skin' }) as const;
    const old = life.do(burns(1), { happenedAt: 5, by: 'person-nobody' });
    expect(life.facts(old).burns).toMatchObject({ at: min(hours(1)), by: null });
    const future = life.do(burns(3), { happenedAt: min(hours(999)) });
    expect(life.facts(future).burns?.at).toBe(min(hours(25)));
  });

  it('[T1] a moment is recorded as a whole second, when it was said to the millisecond', () => {
    const { life } = begun();
    life.now = min(1) + 999;
    const v = life.do({ type: 'SeatVisit', chair: 1, service: null, stylist: null, label: null });
    expect(life.facts(v).seatedAt).toBe(min(1));
    expect(life.facts(v).lastMove?.recordedAt).toBe(min(1) + 999);
  });
});

describe('who says it', () => {
  it('[S7] somebody unknown is refused, but not for water and burns', () => {
    const { life, v } = begun();
    const by = { by: 'person-nobody' };
    expect(life.send({ type: 'FinishApplication', visit: v }, by)).toMatchObject({
      code: 'unknown-person',
      field: 'by',
    });
    expect(life.send({ type: 'BeginRinse', chair: 2, visit: v, basin: null }, by)).toMatchObject({ outcome: 'done' });
    expect(life.facts(v).passes[0]?.water).not.toBeNull();
  });

  it('[S7] nobody at all may say it', () => {
    const { life, v } = begun();
    expect(life.send({ type: 'FinishApplication', visit: v })).toMatchObject({ outcome: 'done' });
  });
});

describe('a move that does not fit', () => {
  it('[S7] because others acted: moved on, with what they did; else it is the wrong stage', () => {
    const { life, v } = begun();
    const before = saw(life, v);
    life.at(4).do({ type: 'FinishApplication', visit: v }, { by: 'person-ama' });
    life.at(5).do({ type: 'BeginRinse', chair: 2, visit: v, basin: null }, { by: 'person-joss' });
    const mark = { type: 'MarkPartDone', visit: v, part: null } as const;
    expect(life.send(mark, before)).toMatchObject({
      code: 'moved-on',
      since: [
        { type: 'ApplicationFinished', at: min(4), by: 'person-ama' },
        { type: 'RinseBegun', at: min(5), by: 'person-joss' },
      ],
    });
    expect(life.send(mark, { seen: before.seen + 1 })).toMatchObject({ since: [{ type: 'RinseBegun' }] });
    expect(life.send(mark, saw(life, v))).toMatchObject({ code: 'wrong-stage', since: [] });
    expect(life.send(mark)).toMatchObject({ code: 'wrong-stage', since: [] });
  });

  it('[S7] bell steps are nobody’s act', () => {
    const { life, v } = begun();
    const before = saw(life, v);
    life.at(28);
    expect(life.bells(v)).toEqual(['pace CAUTION #1', 'rinse WARNING #1']);
    expect(life.send({ type: 'MarkShampoo', visit: v, indicator: null, strip: null }, before)).toMatchObject({
      code: 'wrong-stage',
    });
  });
});

describe('deciding', () => {
  it('[T1] is pure: the same floor, command and now give the same decision, and the floor stays', () => {
    const { life, v } = begun();
    const sender = { id: 'again', by: null, device: null, seen: null, happenedAt: null };
    const copy = structuredClone(life.floor);
    const once = decide(life.floor, { type: 'FinishApplication', visit: v }, sender, min(5));
    expect(decide(life.floor, { type: 'FinishApplication', visit: v }, sender, min(5))).toEqual(once);
    expect(life.floor).toEqual(copy);
    expect(once).toEqual({
      events: [{ stream: `visit/${v}`, at: min(5), event: { type: 'ApplicationFinished' } }],
      words: [],
      answer: { outcome: 'done', visit: v },
    });
  });
});
