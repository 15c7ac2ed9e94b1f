import { describe, expect, it } from 'vitest';
import { FloorLife } from '../../../support/floor-life.ts';
import { min } from '../../../support/pass-kit.ts';

type Cause = 'off' | 'not-saved' | 'water' | 'help';
const take = (visit: string | null, cause: Cause = 'off', chair: number | null = null) =>
  ({ type: 'TakeBell', visit, chair, cause }) as const;
const pass = (visit: string | null, cause: Cause = 'off', chair: number | null = null) =>
  ({ type: 'PassBell', visit, chair, cause }) as const;
const ama = { by: 'person-ama' };
const joss = { by: 'person-joss' };

/** A bell `rinse` at WARNING, rung at 27 min. */
function ringing() {
  const life = FloorLife.salon();
  const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: 'service-1' });
  life.at(15).do({ type: 'FinishApplication', visit: v });
  life.at(27);
  return { life, v };
}

describe('I’ll go', () => {
  it('[R3] is kept with who and when, and the bell stands on', () => {
    const { life, v } = ringing();
    life.do(take(v), ama);
    expect(life.facts(v).bells).toMatchObject([{ kind: 'rinse', taken: { by: 'person-ama', at: min(27) } }]);
  });

  it('[R3] wants to know who, a bell that stands and a visit that is known', () => {
    const { life, v } = ringing();
    expect(life.send(take(v))).toMatchObject({ code: 'person-needed', visit: v });
    expect(life.send(take(v, 'water'), ama)).toMatchObject({ code: 'bell-gone', visit: v });
    expect(life.send(take('visit-x'), ama)).toMatchObject({ code: 'unknown-visit' });
  });

  it('[R3] somebody else may take it over', () => {
    const { life, v } = ringing();
    life.do(take(v), ama);
    life.at(27.5).do(take(v), joss);
    expect(life.facts(v).bells[0]?.taken).toEqual({ by: 'person-joss', at: min(27.5) });
  });

  it('[S7] the same person again while it is quiet: said already; once it sounds again it is taken anew', () => {
    const { life, v } = ringing();
    life.do(take(v), ama);
    life.now = min(28.5) - 1;
    expect(life.send(take(v), ama)).toMatchObject({
      code: 'already-done',
      visit: v,
      since: [{ type: 'BellTaken', at: min(27), by: 'person-ama' }],
    });
    life.now = min(28.5);
    life.do(take(v), ama);
    expect(life.facts(v).bells[0]?.taken?.at).toBe(min(28) + 30_000);
  });

  it('[R3] a bell that rose since it was taken can be taken again at once', () => {
    const { life, v } = ringing();
    life.at(29.8).do(take(v), ama);
    life.at(30).do(take(v), ama);
    expect(life.facts(v).bells).toMatchObject([{ kind: 'over', taken: { at: min(30) } }]);
    expect(life.send(take(v), ama)).toMatchObject({ code: 'already-done' });
  });

  it('[R2] of the floor: one bell however many heads, and no visit in the answer', () => {
    const { life } = ringing();
    expect(life.send(take(null, 'not-saved'), ama)).toMatchObject({ code: 'bell-gone', visit: null });
    life.unsavedSince = min(28);
    life.at(28);
    expect(life.send(take(null, 'not-saved'), ama)).toEqual({ outcome: 'done', visit: null });
    expect(life.floor.floorBells.bells).toMatchObject([{ taken: { by: 'person-ama', at: min(28) } }]);
    expect(life.send(take(null, 'not-saved'), ama)).toMatchObject({ code: 'already-done', visit: null });
  });

  it('[R2] of a chair: help is taken where it was asked for, whoever sits there', () => {
    const { life } = ringing();
    expect(life.send(take(null, 'help', 4), ama)).toMatchObject({ code: 'bell-gone', place: 4 });
    expect(life.send(take(null, 'help', 77), ama)).toMatchObject({ code: 'unknown-place', place: 77 });
    life.do({ type: 'AskHelp', chair: 4 }, joss);
    expect(life.send(take(null, 'help', 4), ama)).toEqual({ outcome: 'done', visit: null });
    expect(life.floor.places[4]?.bells).toMatchObject([{ cause: 'help', taken: { by: 'person-ama', at: min(27) } }]);
    expect(life.floor.floorBells.bells).toEqual([]);
  });
});

describe('I can’t', () => {
  /** Ama's head, with Ama, Joss and Sena, a senior, on shift; `rinse` asks Ama and one helper, Joss. */
  function asked() {
    const life = FloorLife.salon();
    life.do({ type: 'AddPerson', name: 'Sena', roles: ['senior'] }, { id: 'person-sena' });
    for (const person of ['person-ama', 'person-joss', 'person-sena']) life.do({ type: 'BeginShift', person });
    const v = life.do({ type: 'SeatVisit', chair: 2, service: 'service-1', stylist: 'person-ama', label: null }, ama);
    life.do({ type: 'BeginApplication', chair: 2, visit: v, service: null }, ama);
    life.at(15).do({ type: 'FinishApplication', visit: v }, ama);
    life.at(27);
    return { life, v };
  }
  const bellOf = (life: FloorLife, v: string) => life.facts(v).bells[0];

  it('[R3] passes it on at once to the next circle, and whoever said so is asked no more', () => {
    const { life, v } = asked();
    expect(bellOf(life, v)).toMatchObject({ kind: 'rinse', circle: 0, helper: 'person-joss' });
    life.at(27.1).do(pass(v), joss);
    expect(bellOf(life, v)).toMatchObject({ circle: 1, circleAt: min(27.1), passed: ['person-joss'] });
    const widened = life.log.map(({ event }) => event).filter(({ type }) => type === 'BellWidened');
    expect(widened).toEqual([{ type: 'BellWidened', cause: 'off', episode: 1, circle: 1, why: 'passed-on' }]);
  });

  it('[R3] takes back an "I’ll go" with it', () => {
    const { life, v } = asked();
    life.do(take(v), joss);
    life.do(pass(v), joss);
    expect(bellOf(life, v)).toMatchObject({ taken: null, circle: 1, passed: ['person-joss'] });
  });

  it('[R3] from somebody who is not asked sends nobody else on the way', () => {
    const { life, v } = asked();
    life.do(pass(v), { by: 'person-sena' });
    expect(bellOf(life, v)).toMatchObject({ circle: 0, passed: ['person-sena'] });
  });

  it('[S7] said twice is said already; wants a name and a bell that stands', () => {
    const { life, v } = asked();
    life.do(pass(v), joss);
    expect(life.send(pass(v), joss)).toMatchObject({ code: 'already-done', visit: v });
    expect(life.send(pass(v))).toMatchObject({ code: 'person-needed', visit: v });
    expect(life.send(pass(v, 'water'), joss)).toMatchObject({ code: 'bell-gone', visit: v });
  });

  it('[R3] at the widest circle it is only noted', () => {
    const { life, v } = asked();
    life.at(28.6);
    expect(bellOf(life, v)?.circle).toBe(2);
    const before = life.log.length;
    life.do(pass(v), joss);
    expect(life.log.slice(before).map(({ event }) => event.type)).toEqual(['BellPassed']);
  });

  it('[R3] is not asked again at the same level, and is at DANGER', () => {
    const { life, v } = asked();
    life.do(pass(v), joss);
    life.at(30);
    expect(bellOf(life, v)).toMatchObject({ kind: 'over', level: 'DANGER', circle: 2, passed: [] });
  });

  it('[R6] to a NOTICE is noted, and takes back an "I’ll go", but carries it nowhere', () => {
    const { life, v } = asked();
    life.do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 }, ama);
    life.at(33);
    expect(life.bells(v)).toEqual(['water NOTICE #1']);
    life.do(take(v, 'water'), ama);
    life.do(pass(v, 'water'), ama);
    expect(bellOf(life, v)).toMatchObject({ level: 'NOTICE', circle: 0, taken: null, passed: ['person-ama'] });
  });
});
