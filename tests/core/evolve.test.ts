import { describe, expect, it } from 'vitest';
import { evolve, forget } from '../../core/evolve.ts';
import type { FloorEvent, Recorded, Stream } from '../../core/events.ts';
import { emptyFloor, type Floor } from '../../core/floor.ts';
import { HOUR, MINUTE } from '../../core/time.ts';
import { FloorLife, NOON } from '../support/floor-life.ts';
import { min, saw } from '../support/pass-kit.ts';

const recorded = (event: FloorEvent, at = NOON, stream: Stream = 'salon', by: string | null = null): Recorded => ({
  stream,
  at,
  event,
  seq: 1,
  version: 1,
  recordedAt: at,
  by,
  device: null,
  command: null,
});
const lost: FloorEvent = { type: 'TimeBecameUncertain', aliveAt: NOON - 9_000, timescale: 'timescale-1' };

const after = (...events: FloorEvent[]): Floor =>
  events.reduce((floor, event, i) => evolve(floor, recorded(event, NOON + i)), emptyFloor);

describe('time of the floor', () => {
  it('[T2] a step of the wall clock changes only the civil offset', () => {
    const floor = after({ type: 'CivilStepped', offsetMs: -3_600_000 });
    expect(floor).toEqual({ ...emptyFloor, salon: { ...emptyFloor.salon, civilOffsetMs: -3_600_000 } });
  });

  it('[T2] taking over the wall clock clears offset, uncertainty and gap', () => {
    const floor = after(
      { type: 'CivilStepped', offsetMs: 5 },
      lost,
      { type: 'GapSeen', fromAt: NOON - 5, why: 'rebooted' },
      { type: 'TimescaleTaken' },
    );
    expect(floor.salon).toMatchObject({ civilOffsetMs: 0, uncertainSince: null, lastSure: null });
    expect(floor.gap).toBeNull();
  });

  it('[T3] is uncertain since it first became so', () => {
    const floor = after(lost, lost);
    expect(floor.salon.uncertainSince).toBe(NOON);
    expect(floor.salon.lastSure).toEqual({ aliveAt: NOON - 9_000, timescale: 'timescale-1' });
  });

  it('[T3] is certain again once it was confirmed, and says how long nobody kept watch', () => {
    const floor = after(lost, { type: 'TimeConfirmed', fromAt: NOON, byMs: 240_000 });
    expect(floor.salon).toMatchObject({ uncertainSince: null, lastSure: null });
    expect(floor.gap).toEqual({ fromAt: NOON - 9_000, toAt: NOON + 240_000, why: 'rebooted' });
  });

  it('[T4] a gap says from when to when nobody kept watch, and why', () => {
    const floor = after({ type: 'GapSeen', fromAt: NOON - 90_000, why: 'slept' });
    expect(floor.gap).toEqual({ fromAt: NOON - 90_000, toAt: NOON, why: 'slept' });
  });
});

describe('bells of the floor', () => {
  const rung = {
    type: 'FloorBellRung',
    chair: null,
    cause: 'not-saved',
    kind: 'not-saved',
    level: 'WARNING',
    episode: 1,
    dueAt: 5,
    circle: 2,
    helper: null,
  } as const;

  it('[R3] are taken only by somebody', () => {
    const floor = after(rung);
    const taken = (by: string | null) =>
      evolve(floor, recorded({ type: 'FloorBellTaken', chair: null, cause: 'not-saved' }, NOON + 9, 'salon', by));
    expect(taken(null)).toBe(floor);
    expect(taken('person-ama').floorBells.bells[0]?.taken).toEqual({ by: 'person-ama', at: NOON + 9 });
  });

  it('[R2] remember the episode after their end', () => {
    const floor = after(rung, { type: 'FloorBellEnded', chair: null, cause: 'not-saved', episode: 1, why: 'cleared' });
    expect(floor.floorBells).toEqual({ bells: [], episodes: [{ cause: 'not-saved', episode: 1 }] });
  });

  it('[R2] a chair has bells of its own, and a number used again counts on', () => {
    const chair: FloorEvent = { type: 'PlaceAdded', number: 4, kind: 'chair' };
    const help = { ...rung, chair: 4, cause: 'help', kind: 'help', level: 'CAUTION', circle: 0 } as const;
    const asked = after(chair, { type: 'HelpAsked', chair: 4 }, help);
    expect(asked.floorBells.bells).toEqual([]);
    expect(asked.places[4]).toMatchObject({ help: { by: null }, bells: [{ cause: 'help', level: 'CAUTION' }] });
    const ended: FloorEvent = { type: 'FloorBellEnded', chair: 4, cause: 'help', episode: 1, why: 'deed-done' };
    const gone = [chair, help, ended, { type: 'PlaceRetired', number: 4 }, chair] as const;
    expect(after(...gone).places[4]).toMatchObject({ bells: [], episodes: [{ cause: 'help', episode: 1 }] });
    expect(after(help).places).toEqual({});
  });

  it('[T3] what was asked for at a chair since the time was lost was asked so much later', () => {
    const chair: FloorEvent = { type: 'PlaceAdded', number: 4, kind: 'chair' };
    const confirmed = (fromAt: number): Floor =>
      after(chair, { type: 'HelpAsked', chair: 4 }, { type: 'TimeConfirmed', fromAt, byMs: 240_000 });
    expect(confirmed(NOON + 1).places[4]?.help?.at).toBe(NOON + 1 + 240_000);
    expect(confirmed(NOON + 2).places[4]?.help?.at).toBe(NOON + 1);
  });
});

describe('events about what is not known', () => {
  it.each([
    { type: 'PlaceRetired', number: 9 },
    { type: 'PersonRetired', person: 'nobody' },
    { type: 'DirectionsRetired', directions: 'none' },
    { type: 'ServiceRetired', service: 'none' },
  ] as const)('[R8] $type leaves the floor as it is', (event) => {
    expect(after(event)).toBe(emptyFloor);
  });

  it('[R8] a visit begins by being seated, and by nothing else', () => {
    const at = (event: FloorEvent) => () => evolve(emptyFloor, recorded(event, NOON, 'visit/abc'));
    expect(at({ type: 'ApplicationFinished' })).toThrow('a visit begins by being seated, not by ApplicationFinished');
    expect(at({ type: 'BellTaken', cause: 'off' })).toThrow('bell step before the visit: abc');
  });
});

describe('forgetting', () => {
  /** A visit seated at noon and finished at 30 min, with or without something owed. */
  function finished(owing: boolean) {
    const life = FloorLife.salon();
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    life.at(15).do({ type: 'FinishApplication', visit: v });
    life.at(20).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    life.at(25).do({ type: 'ClearAndOff', visit: v });
    life.at(27).do({ type: 'MarkShampoo', visit: v, indicator: 'colourless', strip: null });
    life.at(29).do({ type: 'MarkShampoo', visit: v, indicator: 'colourless', strip: null }, saw(life, v));
    life.do({ type: 'MoveOn', visit: v, to: 'condition' });
    life.at(32).do({ type: 'MoveOn', visit: v, to: 'dry' });
    if (owing) life.at(33).do({ type: 'Abandon', visit: v });
    else life.at(33).do({ type: 'MoveOn', visit: v, to: 'finished' });
    return { life, v };
  }
  const kept = (floor: Floor, now: number, v: string) => forget(floor, now).visits[v] !== undefined;

  it('[R8] a visit that needs no watching, an hour after its end', () => {
    const { life, v } = finished(false);
    expect(life.facts(v)).toMatchObject({ owed: [], bells: [] });
    expect(kept(life.floor, min(33) + HOUR, v)).toBe(true);
    expect(kept(life.floor, min(33) + HOUR + 1, v)).toBe(false);
    expect(forget(life.floor, min(33) + 5 * MINUTE + 1, 5 * MINUTE).visits).toEqual({});
  });

  it('[S4] one that owes a reason is kept for a day', () => {
    const { life, v } = finished(false);
    const { facts, history } = life.floor.visits[v] ?? { facts: life.facts(v), history: [] };
    const one = { item: 'not-marked', stage: 'dry', pass: 0, version: 3 } as const;
    const owing = (reason: 'other' | null): Floor => ({
      ...life.floor,
      visits: { [v]: { facts: { ...facts, owed: [{ ...one, reason }] }, history } },
    });
    expect(kept(owing(null), min(33) + 24 * HOUR, v)).toBe(true);
    expect(kept(owing(null), min(33) + 24 * HOUR + 1, v)).toBe(false);
    expect(kept(owing('other'), min(33) + HOUR + 1, v)).toBe(false);
  });

  it('[R2] never one that is open or at which a bell stands', () => {
    const life = FloorLife.salon();
    const open = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    const left = life.do({ type: 'BeginApplication', chair: 3, visit: null, service: null });
    life.do({ type: 'Abandon', visit: left });
    expect(life.bells(left)).toEqual(['abandoned WARNING #1']);
    const later = forget(life.floor, min(0) + 999 * HOUR);
    expect(Object.keys(later.visits)).toEqual([open, left]);
    expect(later).toBe(life.floor);
  });

  it('[R8] a visit whose way is not known counts from its seating', () => {
    const { life, v } = finished(false);
    const { facts, history } = life.floor.visits[v] ?? { facts: life.facts(v), history: [] };
    const floor: Floor = { ...life.floor, visits: { [v]: { facts: { ...facts, way: [] }, history } } };
    expect(kept(floor, min(0) + HOUR, v)).toBe(true);
    expect(kept(floor, min(0) + HOUR + 1, v)).toBe(false);
  });
});
