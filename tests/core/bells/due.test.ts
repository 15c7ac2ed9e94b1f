import { describe, expect, it } from 'vitest';
import { bellsDue, nextBellAt, nextBellOf } from '../../../core/bells/due.ts';
import { defaultFigures } from '../../../core/salon/salon.ts';
import { MINUTE } from '../../../core/time.ts';
import { colour, perm, relaxer } from '../../support/directions-kit.ts';
import { FloorLife, NOON } from '../../support/floor-life.ts';
import { addService, facts, mark, min, pass, saw } from '../../support/pass-kit.ts';

/** A relaxer at chair 2, begun at noon and applied after so many minutes. */
function processing(life: FloorLife, applied = 15): string {
  const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: 'service-1' });
  life.at(applied).do({ type: 'FinishApplication', visit: v });
  return v;
}

const rung = (life: FloorLife, visit: string) =>
  life.log
    .filter((one) => one.stream === `visit/${visit}`)
    .flatMap(({ at, event }) => {
      const minutes = (at - NOON) / MINUTE;
      if (event.type === 'BellRung') return [`${minutes} ${event.kind} ${event.level} #${event.episode}`];
      return event.type === 'BellEnded' ? [`${minutes} end ${event.cause} ${event.why}`] : [];
    });

describe('what is to be done about bells', () => {
  it('[R1] is said once: asked again after it was done, there is nothing', () => {
    const life = FloorLife.salon();
    processing(life);
    for (const minutes of [22, 27, 30, 45]) {
      life.at(minutes);
      expect(bellsDue(life.floor, life.now, null)).toEqual([]);
    }
  });

  it('[T7] a bell stands from now ≥ its instant, not a millisecond before', () => {
    const life = FloorLife.salon();
    const v = processing(life);
    expect(bellsDue(life.floor, min(22) - 1, null)).toEqual([]);
    expect(bellsDue(life.floor, min(22), null)).toEqual([
      {
        do: 'ring',
        subject: v,
        cause: 'off',
        kind: 'soon',
        level: 'NOTICE',
        episode: 1,
        dueAt: min(22),
        circle: 0,
        helper: null,
        why: 'begins',
      },
    ]);
  });

  it('[R2] soon, rinse and over follow in one episode, and water on ends it', () => {
    const life = FloorLife.salon();
    const v = processing(life);
    life.at(31).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    expect(rung(life, v)).toEqual([
      '22 soon NOTICE #1',
      '27 rinse WARNING #1',
      '30 over DANGER #1',
      '31 end off deed-done',
    ]);
  });

  it('[R2] a later row replaces the earlier, and the bell keeps when it first rang', () => {
    const life = FloorLife.salon();
    const v = processing(life);
    life.at(26);
    expect(bellsDue(life.floor, min(27), null)).toMatchObject([{ do: 'ring', kind: 'rinse', why: 'replaces' }]);
    life.at(28);
    expect(life.facts(v).bells).toEqual([
      {
        cause: 'off',
        kind: 'rinse',
        level: 'WARNING',
        episode: 1,
        dueAt: min(27),
        rungAt: min(22),
        levelAt: min(27),
        soundAt: min(27),
        helper: null,
        // Nobody is on shift: there is nobody to begin with.
        circle: 2,
        circleAt: min(27),
        taken: null,
        passed: [],
        shown: [],
        unreached: [],
      },
    ]);
  });

  it('[R2] a taken bell stays taken when a later row replaces it', () => {
    const life = FloorLife.salon();
    const v = processing(life);
    life.at(28).do({ type: 'TakeBell', visit: v, chair: null, cause: 'off' }, { by: 'person-joss' });
    life.at(30);
    expect(life.facts(v).bells).toMatchObject([
      { kind: 'over', levelAt: min(30), taken: { by: 'person-joss', at: min(28) } },
    ]);
  });

  it('[R2] rings in apply from what hangs on first touch', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: 'service-1' });
    life.at(31);
    expect(rung(life, v)).toEqual([`${18 + 1 / 60} pace CAUTION #1`, '27 rinse WARNING #1', '30 over DANGER #1']);
  });

  it('[R2] after a gap only the last row that is due rings, as of its own instant', () => {
    const life = FloorLife.salon();
    const v = processing(life);
    life.now = min(40);
    expect(bellsDue(life.floor, life.now, null)).toMatchObject([
      { subject: v, kind: 'over', level: 'DANGER', dueAt: min(30), why: 'begins' },
    ]);
  });

  it('[R2] the level never falls within a cause: a close corrected to later leaves what has rung', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: 'service-1' });
    life.at(10).do({ type: 'FinishApplication', visit: v });
    const finished = life.facts(v).version;
    life.at(23);
    expect(life.bells(v)).toEqual(['rinse WARNING #1']);
    life.do({ type: 'CorrectTime', visit: v, of: finished, to: min(12), reason: 'marked too early' });
    expect(life.bells(v)).toEqual(['rinse WARNING #1']);
    life.at(27);
    expect(rung(life, v)).toEqual(['17 soon NOTICE #1', '22 rinse WARNING #1', '27 over DANGER #1']);
  });

  it('[R2] a cause that no row supports any more ends as corrected, and a new one is the next episode', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: 'service-1' });
    life.at(10).do({ type: 'FinishApplication', visit: v });
    const finished = life.facts(v).version;
    life.at(17.5).do({ type: 'CorrectTime', visit: v, of: finished, to: min(12), reason: null });
    life.at(19);
    expect(rung(life, v)).toEqual(['17 soon NOTICE #1', '17.5 end off corrected', '19 soon NOTICE #2']);
  });

  it('[R2] colour: CAUTION at rinse and over, WARNING from 10 min after the close', () => {
    const life = FloorLife.salon();
    addService(life, 'service-colour', [colour()]);
    const v = life.do({ type: 'BeginApplication', chair: 3, visit: null, service: 'service-colour' });
    life.at(15).do({ type: 'FinishApplication', visit: v });
    life.at(60);
    expect(rung(life, v)).toEqual([
      '32 soon NOTICE #1',
      '42 rinse CAUTION #1',
      '45 over CAUTION #1',
      '55 over WARNING #1',
    ]);
  });

  it('[R2] over at WARNING for a thio product', () => {
    const life = FloorLife.salon(perm());
    const v = processing(life);
    life.at(31);
    expect(life.bells(v)).toEqual(['over WARNING #1']);
  });

  it('[S1] a neutralizer rings under its own cause until its water', () => {
    const life = FloorLife.salon(perm());
    const v = processing(life);
    life.at(26).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    life.at(31).do({ type: 'ClearAndOff', visit: v });
    life.at(40).do({ type: 'PutNeutralizerOn', visit: v });
    life.at(51).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    life.at(54);
    expect(rung(life, v).slice(2)).toEqual([
      '31 water NOTICE #1',
      '31 end water deed-done',
      '42 soon NOTICE #1',
      '47 rinse CAUTION #1',
      '50 over CAUTION #1',
      '51 end neutralizer deed-done',
      '54 dwell NOTICE #1',
    ]);
  });

  it('[R2] water and dwell are shown from their minimum until the next step', () => {
    const life = FloorLife.salon();
    const v = processing(life);
    life.at(26).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    life.at(32).do({ type: 'ClearAndOff', visit: v });
    life.at(34).do({ type: 'MarkShampoo', visit: v, indicator: 'colourless', strip: null });
    life.at(36).do({ type: 'MarkShampoo', visit: v, indicator: 'colourless', strip: null }, saw(life, v));
    life.at(37).do({ type: 'MoveOn', visit: v, to: 'condition' });
    life.at(40).do({ type: 'MoveOn', visit: v, to: 'dry' });
    expect(rung(life, v).slice(2)).toEqual([
      '31 water NOTICE #1',
      '32 end water deed-done',
      '34 dwell NOTICE #1',
      '34 end dwell deed-done',
      '36 dwell NOTICE #2',
      '36 end dwell deed-done',
      '40 dwell NOTICE #3',
      '40 end dwell deed-done',
    ]);
  });

  it('[R2] long-stage from the service’s limit to the next stage', () => {
    const life = FloorLife.salon();
    addService(life, 'service-long', [relaxer()], [{ stage: 'prep', limitMs: 20 * MINUTE }]);
    const v = life.do({ type: 'SeatVisit', chair: 1, service: 'service-long', stylist: null, label: null });
    life.at(25).do({ type: 'BeginApplication', chair: 1, visit: v, service: null });
    expect(rung(life, v)).toEqual(['20 long-stage CAUTION #1', '25 end long-stage deed-done']);
  });

  it('[S6] burns ring DANGER until a person says what was done', () => {
    const life = FloorLife.salon();
    const v = processing(life, 10);
    life.at(12).do({ type: 'ReportBurns', chair: 2, visit: v, place: 'skin' });
    expect(life.bells(v)).toEqual(['burns DANGER #1']);
    life.at(14).do({ type: 'CloseBurns', visit: v, done: 'advice-sought' });
    expect(rung(life, v)).toEqual(['12 burns DANGER #1', '14 end burns deed-done']);
  });

  it('[X4] a client left with product on rings WARNING until somebody has seen to it', () => {
    const life = FloorLife.salon();
    const v = processing(life);
    life.at(23).do({ type: 'Abandon', visit: v });
    life.at(40).do({ type: 'SettleAbandoned', visit: v });
    expect(rung(life, v)).toEqual([
      '22 soon NOTICE #1',
      '23 end off visit-ended',
      '23 abandoned WARNING #1',
      '40 end abandoned deed-done',
    ]);
  });

  it('[X3] a bell that had rung before water was said to have been on ends as had happened', () => {
    const life = FloorLife.salon();
    const v = processing(life);
    life.at(31).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 }, { happenedAt: min(29) });
    expect(rung(life, v).at(-1)).toBe('31 end off had-happened');
  });

  it('[X3] water on at the very instant is a deed done', () => {
    const life = FloorLife.salon();
    const v = processing(life);
    life.at(30).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    expect(rung(life, v).at(-1)).toBe('30 end off deed-done');
  });

  it('[X2] a bell that stood for a move taken back ends as taken back', () => {
    const life = FloorLife.salon();
    const v = processing(life, 10);
    life.at(18).do({ type: 'TakeBack', visit: v }, saw(life, v));
    expect(rung(life, v)).toEqual(['17 soon NOTICE #1', '18 end off taken-back']);
  });
});

describe('bells of the floor', () => {
  it('[T3] time-uncertain stands since time became uncertain', () => {
    const life = FloorLife.salon();
    const floor = { ...life.floor, salon: { ...life.floor.salon, uncertainSince: min(3) } };
    expect(bellsDue(floor, min(4), null)).toEqual([
      {
        do: 'ring',
        subject: 'floor',
        cause: 'time-uncertain',
        kind: 'time-uncertain',
        level: 'WARNING',
        episode: 1,
        dueAt: min(3),
        circle: 2,
        helper: null,
        why: 'begins',
      },
    ]);
  });

  it('[R8] not-saved rings while something is kept in memory only, and is cleared after', () => {
    const life = FloorLife.salon();
    life.unsavedSince = min(5);
    life.at(5);
    expect(life.floor.floorBells.bells).toMatchObject([{ cause: 'not-saved', level: 'WARNING', dueAt: min(5) }]);
    expect(bellsDue(life.floor, life.now, { unsavedSince: life.unsavedSince, reach: null })).toEqual([]);
    life.unsavedSince = null;
    life.at(6);
    expect(life.floor.floorBells.bells).toEqual([]);
    const last = life.log.at(-1);
    expect(last).toMatchObject({ stream: 'salon', event: { type: 'FloorBellEnded', episode: 1, why: 'cleared' } });
    life.unsavedSince = min(7);
    life.at(7);
    expect(life.floor.floorBells.bells).toMatchObject([{ cause: 'not-saved', episode: 2 }]);
  });
});

describe('when the next bell falls due', () => {
  it('[T7] lies after now, and follows the rows in turn', () => {
    const life = FloorLife.salon();
    processing(life);
    expect(nextBellAt(life.floor, min(15))).toBe(min(22));
    expect(nextBellAt(life.floor, min(22) - 1)).toBe(min(22));
    expect(nextBellAt(life.floor, min(22))).toBe(min(27));
    expect(nextBellAt(life.floor, min(27))).toBe(min(30));
    expect(nextBellAt(life.floor, min(30))).toBe(min(15 + 6 * 60));
    expect(nextBellAt(life.floor, min(15 + 6 * 60))).toBeNull();
  });

  it('[T7] is the earliest over all heads; none on an empty floor', () => {
    const life = FloorLife.salon();
    expect(nextBellAt(life.floor, life.now)).toBeNull();
    life.do({ type: 'BeginApplication', chair: 1, visit: null, service: 'service-1' });
    life.at(4).do({ type: 'BeginApplication', chair: 2, visit: null, service: 'service-1' });
    expect(nextBellAt(life.floor, life.now)).toBe(min(18 + 1 / 60));
    expect(nextBellAt(life.floor, min(23))).toBe(min(27));
    expect(nextBellAt(life.floor, min(28))).toBe(min(30));
    expect(nextBellAt(life.floor, min(30))).toBe(min(31));
  });

  it('[T7] of one visit is what a screen without a server goes by', () => {
    expect(nextBellOf(facts('process', pass({ applied: mark(15) })), defaultFigures, min(16))).toBe(min(22));
    expect(nextBellOf(facts('dry'), defaultFigures, min(16))).toBeNull();
  });
});
