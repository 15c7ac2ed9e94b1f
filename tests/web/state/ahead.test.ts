import { describe, expect, it } from 'vitest';
import type { Command } from '../../../core/command.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';
import { ahead, type OwnTouch } from '../../../web/src/state/ahead.ts';
import { entitiesOf } from '../../support/entities.ts';
import { FloorLife } from '../../support/floor-life.ts';
import { min } from '../../support/pass-kit.ts';

let ids = 0;
const touch = (minute: number, command: Command, changes: Partial<OwnTouch> = {}): OwnTouch => ({
  id: `touch-${String(++ids).padStart(4, '0')}`,
  command,
  by: 'person-ama',
  device: 'device-phone',
  happenedAt: null,
  touchedAt: min(minute),
  ...changes,
});

function begun(): { life: FloorLife; visit: string } {
  const life = FloorLife.salon();
  const visit = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
  return { life, visit };
}

const visitIn = (shown: ReturnType<typeof ahead>, id: string): VisitFacts => {
  const entity = shown.entities[`visit/${id}`];
  if (entity?.kind !== 'visit') throw new Error(`no visit ${id}`);
  return entity.facts;
};

/** What a head is, its versions and record of bells aside: those are the server's. */
const shape = ({ stage, pass, passes, owed, burns, end }: VisitFacts) =>
  JSON.parse(
    JSON.stringify({ stage, pass, passes, owed, burns, end }, (key, value: unknown) =>
      key === 'version' ? undefined : value,
    ),
  ) as unknown;

describe('a floor shown ahead of the server', () => {
  it('[X3] five acts in a dead spot lead where they will lead once they have arrived, with their times', () => {
    const { life, visit } = begun();
    const acts: readonly [number, Command][] = [
      [4, { type: 'MarkPartDone', visit, part: 0 }],
      [9, { type: 'FinishApplication', visit }],
      [20, { type: 'BeginRinse', chair: 2, visit, basin: 91 }],
      [26, { type: 'ClearAndOff', visit }],
      [29, { type: 'MarkShampoo', visit, indicator: 'colourless', strip: null }],
    ];
    const heard = entitiesOf(life.floor);
    const touches = acts.map(([minute, command]) => touch(minute, command));
    const stages = touches.map((_, i) => visitIn(ahead(heard, touches.slice(0, i + 1), min(30)), visit).stage);
    expect(stages).toEqual(['apply', 'process', 'rinse', 'neutralize', 'neutralize']);
    const shown = ahead(heard, touches, min(30));
    life.at(30);
    for (const { id, command, touchedAt, by } of touches) life.do(command, { id, by, happenedAt: touchedAt });
    expect(shape(visitIn(shown, visit))).toEqual(shape(life.facts(visit)));
  });

  it('[V2] names the heads that are ahead; all others are the very same', () => {
    const { life, visit } = begun();
    const other = life.do({ type: 'SeatVisit', chair: 3, service: 'service-1', stylist: null, label: null });
    const heard = entitiesOf(life.floor);
    const shown = ahead(heard, [touch(5, { type: 'FinishApplication', visit })], min(6));
    expect([...shown.unsettled]).toEqual([visit]);
    expect(shown.entities[`visit/${other}`]).toBe(heard[`visit/${other}`]);
    expect(ahead(heard, [], min(6)).entities).toBe(heard);
  });

  it('[R10] its own deed ends a bell here at once; going there makes it quiet', () => {
    const { life, visit } = begun();
    life.at(15).do({ type: 'FinishApplication', visit });
    life.at(27);
    const heard = entitiesOf(life.floor);
    const going = ahead(heard, [touch(27.5, { type: 'TakeBell', visit, chair: null, cause: 'off' })], min(28));
    expect(visitIn(going, visit).bells).toMatchObject([{ kind: 'rinse', taken: { by: 'person-ama', at: min(27.5) } }]);
    const wet = ahead(heard, [touch(28, { type: 'BeginRinse', chair: 2, visit, basin: 91 })], min(28));
    expect(visitIn(wet, visit).bells).toEqual([]);
  });

  it('[S8, S9] what is begun at a free chair carries the id of its touch, so that the next acts name it', () => {
    const heard = entitiesOf(FloorLife.salon().floor);
    const seat = touch(1, { type: 'SeatVisit', chair: 4, service: 'service-1', stylist: null, label: 'window' });
    const begin = touch(3, { type: 'BeginApplication', chair: 4, visit: seat.id, service: null });
    const shown = ahead(heard, [seat, begin], min(4));
    expect(visitIn(shown, seat.id)).toMatchObject({ chair: 4, stage: 'apply' });
    expect(shown.entities[`visit/${seat.id}`]).toMatchObject({ label: 'window' });
  });

  it('[X2] a step taken back before it went anywhere is not shown', () => {
    const { life, visit } = begun();
    const heard = entitiesOf(life.floor);
    const done = touch(5, { type: 'FinishApplication', visit });
    const back = touch(5.1, { type: 'TakeBack', visit });
    expect(ahead(heard, [done, back], min(6)).entities).toBe(heard);
    const first = touch(4, { type: 'MarkPartDone', visit, part: null });
    expect(visitIn(ahead(heard, [first, done, back], min(6)), visit)).toMatchObject({ stage: 'apply' });
  });

  it('[S7] a touch that the rules refuse, or that wants the whole history, changes nothing', () => {
    const { life, visit } = begun();
    life.at(15).do({ type: 'FinishApplication', visit });
    const heard = entitiesOf(life.floor);
    const vain: readonly Command[] = [
      { type: 'MoveOn', visit, to: 'finished' },
      { type: 'BeginApplication', chair: 99, visit: null, service: null },
      { type: 'CorrectTime', visit, of: 2, to: min(1), reason: null },
      { type: 'TakeBack', visit },
      { type: 'FinishApplication', visit: 'visit-nowhere' },
      { type: 'AddPlace', kind: 'chair', number: 9, label: '9' },
    ];
    for (const command of vain) {
      const shown = ahead(heard, [touch(16, command)], min(17));
      expect(shown.unsettled.size).toBe(0);
      expect(Object.keys(shown.entities)).toEqual(Object.keys(heard));
    }
  });
});
