import { describe, expect, it } from 'vitest';
import { begunAsk, begunAskLouder, pace } from '../../../../core/bells/rules/application.ts';
import { defaultFigures as figures } from '../../../../core/salon/salon.ts';
import { SECOND } from '../../../../core/time.ts';
import { standing } from '../../../support/bell-kit.ts';
import { colour, relaxer } from '../../../support/directions-kit.ts';
import { FloorLife, NOON } from '../../../support/floor-life.ts';
import { facts, mark, min, partsDone, pass } from '../../../support/pass-kit.ts';

const second = 1 / 60;
const begun = (rules = relaxer()) => {
  const life = FloorLife.salon(rules);
  return { life, v: life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null }) };
};
const done = (life: FloorLife, v: string, minutes: number) =>
  life.at(minutes).do({ type: 'MarkPartDone', visit: v, part: null });
const paces = (life: FloorLife) =>
  life.log.flatMap(({ at, event }) =>
    (event.type === 'BellRung' || event.type === 'BellEnded') && event.cause === 'pace'
      ? [`${event.type === 'BellRung' ? 'rung' : 'ended'} ${(at - NOON) / 60_000}`]
      : [],
  );

describe('begun?', () => {
  const seated = () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'SeatVisit', chair: 2, service: 'service-1', stylist: null, label: null });
    life.do({ type: 'SayPrep', visit: v, complete: true });
    return { life, v };
  };

  it('[R2] NOTICE 3 min after prep was complete, CAUTION 5 later', () => {
    const { life, v } = seated();
    expect(life.at(3 - second).bells(v)).toEqual([]);
    expect(life.at(3).bells(v)).toEqual(['begun? NOTICE #1']);
    expect(life.at(8 - second).bells(v)).toEqual(['begun? NOTICE #1']);
    expect(life.at(8).bells(v)).toEqual(['begun? CAUTION #1']);
  });

  it('[R2] until begun, or not yet; complete again begins anew', () => {
    const { life, v } = seated();
    life.at(9).do({ type: 'SayPrep', visit: v, complete: false });
    expect(life.bells(v)).toEqual([]);
    life.at(10).do({ type: 'SayPrep', visit: v, complete: true });
    expect(life.at(12.9).bells(v)).toEqual([]);
    expect(life.at(13).bells(v)).toEqual(['begun? NOTICE #2']);
    life.do({ type: 'BeginApplication', chair: 2, visit: v, service: null });
    expect(life.bells(v)).toEqual([]);
  });

  it('[R2] no row while prep goes on, or past it', () => {
    expect(begunAsk.from(facts('prep'), figures)).toBeNull();
    expect(begunAskLouder.from(facts('prep'), figures)).toBeNull();
    const said = { prepared: mark(1) };
    expect(begunAsk.from(facts('prep', pass(), said), figures)).toBe(min(4));
    expect(begunAskLouder.from(facts('apply', pass(), said), figures)).toBeNull();
  });
});

describe('pace', () => {
  it('[P4] rings from the first second at which the expected finish lies after the latest', () => {
    const { life, v } = begun();
    expect(life.at(18).bells(v)).toEqual([]);
    expect(life.at(18 + second).bells(v)).toEqual(['pace CAUTION #1']);
  });

  it('[P4] rings with the slow part, and a helper withdraws it', () => {
    const { life, v } = begun();
    done(life, v, 6);
    expect(life.bells(v)).toEqual(['pace CAUTION #1']);
    life.do({ type: 'JoinAsHelper', visit: v, person: null });
    expect(life.bells(v)).toEqual([]);
  });

  it('[P4] is withdrawn only once the expected finish is a minute before the latest', () => {
    const at = (finish: number) => pass({ parts: partsDone(finish) });
    const bell = standing({ cause: 'pace', kind: 'pace', level: 'CAUTION', levelAt: min(5) });
    const rung = { bells: [bell] };
    // A part done at d: expected d + 3 (3.75 + d)/2 = 2.5 d + 5.625; latest 18. At 4.55 it is 17, at 4.95 it is 18.
    expect(pace.from(facts('apply', at(4.95)), figures)).toBeGreaterThan(min(4.95));
    expect(pace.from(facts('apply', at(4.96)), figures)).toBe(min(4.96));
    expect(pace.from(facts('apply', at(4.55), rung), figures)).toBeGreaterThan(min(4.55));
    expect(pace.from(facts('apply', at(4.56), rung), figures)).toBe(min(4.56));
    expect(pace.level(facts('apply'))).toBe('CAUTION');
  });

  it('[P4] ends with the application', () => {
    const { life, v } = begun();
    life.at(19).do({ type: 'FinishApplication', visit: v });
    expect(paces(life)).toEqual([`rung ${18 + second}`, 'ended 19']);
  });

  it('[P4] rings again when the helper leaves too early', () => {
    const { life, v } = begun();
    done(life, v, 6);
    life.do({ type: 'JoinAsHelper', visit: v, person: null });
    life.at(7).do({ type: 'LeaveAsHelper', visit: v, person: null });
    expect(life.bells(v)).toEqual(['pace CAUTION #2']);
  });

  it('[P4] a by-part product and one without a ceiling have none', () => {
    expect(pace.from(facts('apply', pass({}, relaxer({ manner: 'by-part' }))), figures)).toBeNull();
    expect(pace.from(facts('apply', pass({}, colour())), figures)).toBeNull();
    expect(pace.from(facts('apply', null), figures)).toBeNull();
    expect(pace.from(facts('process', pass({ applied: mark(20) })), figures)).toBeNull();
    expect(pace.from(facts('apply'), figures)).toBe(min(18) + SECOND);
  });
});
