import { describe, expect, test } from 'vitest';
import type { Command } from '../../../core/command.ts';
import type { Recorded } from '../../../core/events.ts';
import { MINUTE } from '../../../core/time.ts';
import { bellEventOf, stepBell, subjectOf, type BellRow } from '../../../server/store/projections/bells.ts';
import { rinsesOf } from '../../../server/store/projections/rinses.ts';
import { spansOf } from '../../../server/store/projections/spans.ts';
import { visitRow } from '../../../server/store/projections/visit-row.ts';
import { FloorLife, NOON } from '../../support/floor-life.ts';

const seat = (chair: number): Command => ({
  type: 'SeatVisit',
  chair,
  service: 'service-1',
  stylist: 'person-ama',
  label: null,
});
const begin = (chair: number): Command => ({ type: 'BeginApplication', chair, visit: null, service: null });
const water = (chair: number, basin: number | null = 91): Command => ({
  type: 'BeginRinse',
  chair,
  visit: null,
  basin,
});

function visitOf(life: FloorLife, id: string) {
  const visit = life.floor.visits[id];
  if (visit === undefined) throw new Error(`no visit ${id}`);
  return visit;
}

/** Spans as text: stage, chair or chair@basin, minutes after noon. */
function spans(life: FloorLife, id: string): string[] {
  return spansOf(visitOf(life, id)).map(({ stage, chair, basin, fromAt, toAt }) => {
    const minute = (at: number | null) => (at === null ? '…' : String((at - NOON) / MINUTE));
    return `${stage} ${chair}${basin === null ? '' : `@${basin}`} ${minute(fromAt)}–${minute(toAt)}`;
  });
}

/** Bell rows folded from a log alone. */
function bellsOf(log: readonly Recorded[]): BellRow[] {
  const rows = new Map<number, BellRow>();
  for (const recorded of log) {
    const event = bellEventOf(recorded);
    if (event === null) continue;
    const standing = [...rows.values()].find(
      (row) => row.subject === subjectOf(recorded) && row.cause === event.cause && row.endedAt === null,
    );
    for (const row of stepBell(standing ?? null, event, recorded)) rows.set(row.seq, row);
  }
  return [...rows.values()];
}

describe('spans', () => {
  test('[S1] one per stage, at the chair and, from water on to the end of the finishing steps, at the basin', () => {
    const life = FloorLife.salon();
    const id = life.do(seat(1));
    life.at(2).do(begin(1));
    life.at(16).do({ type: 'FinishApplication', visit: id });
    life.at(27).do(water(1, 91));
    life.at(33).do({ type: 'ClearAndOff', visit: id });
    life.at(38).do({ type: 'MoveOn', visit: id, to: 'condition' });
    life.at(42).do({ type: 'MoveOn', visit: id, to: 'dry' });
    expect(spans(life, id)).toEqual([
      'prep 1 0–2',
      'apply 1 2–16',
      'process 1 16–27',
      'rinse 1@91 27–33',
      'neutralize 1@91 33–38',
      'condition 1@91 38–42',
      'dry 1 42–…',
    ]);
    life.at(55).do({ type: 'MoveOn', visit: id, to: 'finished' });
    expect(spans(life, id).at(-1)).toBe('dry 1 42–55');
    expect(visitRow(visitOf(life, id))).toMatchObject({
      stage: 'finished',
      endedAt: NOON + 55 * MINUTE,
      endedHow: 'done',
    });
  });

  test('[X4] a move to another chair cuts the stage in two', () => {
    const life = FloorLife.salon();
    const id = life.do(seat(1));
    life.at(2).do(begin(1));
    life.at(9).do({ type: 'MoveTo', visit: id, chair: 4 });
    expect(spans(life, id)).toEqual(['prep 1 0–2', 'apply 1 2–9', 'apply 4 9–…']);
  });

  test('[S2] water again at another basin cuts the rinse in two; a basin named later counts from its water on', () => {
    const life = FloorLife.salon();
    const id = life.do(seat(1));
    life.at(2).do(begin(1));
    life.at(16).do({ type: 'FinishApplication', visit: id });
    life.at(27).do(water(1, null));
    life.at(28).do({ type: 'NameBasin', visit: id, basin: 91 });
    life.at(30).do(water(1, 92), { seen: life.facts(id).version });
    expect(spans(life, id).slice(3)).toEqual(['rinse 1@91 27–30', 'rinse 1@92 30–…']);
  });

  test('[X1] a corrected moment moves both its spans', () => {
    const life = FloorLife.salon();
    const id = life.do(seat(1));
    life.at(5).do(begin(1));
    const begun = visitOf(life, id).history.find(({ event }) => event.type === 'ApplicationBegun');
    life.at(6).do({ type: 'CorrectTime', visit: id, of: begun?.version ?? 0, to: NOON + 3 * MINUTE, reason: null });
    expect(spans(life, id)).toEqual(['prep 1 0–3', 'apply 1 3–…']);
  });

  test('[X3] water told late lies before the end of application: that span is cut short, none is negative', () => {
    const life = FloorLife.salon();
    const id = life.do(seat(1));
    life.at(2).do(begin(1));
    life.at(16).do({ type: 'FinishApplication', visit: id });
    life.at(20).do(water(1, 91), { happenedAt: NOON + 12 * MINUTE });
    expect(spans(life, id)).toEqual(['prep 1 0–2', 'apply 1 2–12', 'process 1 12–12', 'rinse 1@91 12–…']);
  });
});

describe('rinses', () => {
  test('[D3] the first water against its window, entered as it happened', () => {
    const life = FloorLife.salon();
    const id = life.do(seat(1));
    life.at(0).do(begin(1));
    life.at(15).do({ type: 'FinishApplication', visit: id });
    // Half a second past the whole minute: moments are whole seconds.
    life.at(27 + 0.5 / 60).do(water(1, 91), { by: 'person-joss' });
    life.at(33).do({ type: 'ClearAndOff', visit: id });
    expect(rinsesOf(visitOf(life, id))).toEqual([
      {
        visit: id,
        pass: 0,
        class: 'hydroxide',
        begunAt: NOON,
        opensAt: NOON + 25 * MINUTE,
        closesAt: NOON + 30 * MINUTE,
        expected: 0,
        waterAt: NOON + 27 * MINUTE,
        basin: 91,
        clearAt: NOON + 33 * MINUTE,
        entered: 'live',
        burns: 0,
        by: 'person-joss',
      },
    ]);
  });

  test('[D3] water on again leaves the first water to be judged', () => {
    const life = FloorLife.salon();
    const id = life.do(seat(1));
    life.do(begin(1));
    life.at(15).do({ type: 'FinishApplication', visit: id });
    life.at(27).do(water(1));
    life.at(31).do(water(1), { seen: life.facts(id).version });
    expect(rinsesOf(visitOf(life, id))).toMatchObject([{ waterAt: NOON + 27 * MINUTE, clearAt: null }]);
  });

  test('[X3, X4] told later, or corrected, it counts as entered later', () => {
    const life = FloorLife.salon();
    for (const chair of [1, 2]) {
      life.do(begin(chair), { id: `visit-on-${chair}` });
      life.do({ type: 'FinishApplication', visit: `visit-on-${chair}` });
    }
    life.at(12).do(water(1), { happenedAt: NOON + 11 * MINUTE });
    life.do(water(2));
    const told = (chair: number) => rinsesOf(visitOf(life, `visit-on-${chair}`))[0];
    expect(told(1)).toMatchObject({ waterAt: NOON + 11 * MINUTE, entered: 'later' });
    expect(told(2)).toMatchObject({ waterAt: NOON + 12 * MINUTE, entered: 'live' });
    const of = visitOf(life, 'visit-on-2').history.find(({ event }) => event.type === 'RinseBegun')?.version ?? 0;
    life.at(13).do({ type: 'CorrectTime', visit: 'visit-on-2', of, to: NOON + 11 * MINUTE, reason: 'forgot' });
    expect(told(2)).toMatchObject({ waterAt: NOON + 11 * MINUTE, entered: 'later' });
  });

  test('[S2] with the begin and product unknown there is no window', () => {
    const life = FloorLife.salon();
    const id = life.do(water(1), { id: 'visit-at-1' });
    expect(rinsesOf(visitOf(life, id))).toMatchObject([
      { begunAt: null, opensAt: null, closesAt: null, expected: 0, class: null },
    ]);
  });

  test('[E7] water in apply is judged by the expected window', () => {
    const life = FloorLife.salon();
    const id = life.do(begin(1));
    life.at(6).do(water(1));
    expect(rinsesOf(visitOf(life, id))).toMatchObject([
      { expected: 1, opensAt: NOON + 25 * MINUTE, closesAt: NOON + 30 * MINUTE },
    ]);
  });

  test('[S6, D3] a head sent to the water by burns is marked; burns told after the water change nothing', () => {
    const life = FloorLife.salon();
    const one = life.do(begin(1));
    life.at(5).do({ type: 'ReportBurns', chair: 1, visit: null, place: 'skin' });
    life.at(6).do(water(1));
    expect(rinsesOf(visitOf(life, one))).toMatchObject([{ burns: 1 }]);
    const two = life.do(begin(2));
    life.at(10).do(water(2));
    life.at(11).do({ type: 'ReportBurns', chair: 2, visit: null, place: 'skin' });
    expect(rinsesOf(visitOf(life, two))).toMatchObject([{ burns: 0, waterAt: NOON + 10 * MINUTE }]);
  });
});

describe('bells', () => {
  test('[R2, R9] one row per level, each with its end; taken carries over, the first to say it counts', () => {
    const life = FloorLife.salon();
    const id = life.do(begin(1));
    life.at(15).do({ type: 'FinishApplication', visit: id });
    life.at(27.5).do({ type: 'TakeBell', visit: id, chair: null, cause: 'off' }, { by: 'person-joss' });
    life.at(28).do({ type: 'TakeBell', visit: id, chair: null, cause: 'off' }, { by: 'person-ama' });
    life.at(31).do(water(1));
    const off = bellsOf(life.log).filter((row) => row.cause === 'off');
    const minutes = (at: number | null) => (at === null ? null : (at - NOON) / MINUTE);
    expect(
      off.map((row) => [row.kind, row.level, row.episode, minutes(row.rungAt), minutes(row.endedAt), row.why]),
    ).toEqual([
      ['soon', 'NOTICE', 1, 22, 27, 'replaced'],
      ['rinse', 'WARNING', 1, 27, 30, 'replaced'],
      ['over', 'DANGER', 1, 30, 31, 'deed-done'],
    ]);
    expect(off.map((row) => [row.firstTakenBy, minutes(row.firstTakenAt)])).toEqual([
      [null, null],
      ['person-joss', 27.5],
      ['person-joss', 27.5],
    ]);
    expect(new Set(off.map((row) => row.subject))).toEqual(new Set([id]));
  });

  test('[R2] bells of the floor have the floor as their subject', () => {
    const life = FloorLife.salon();
    life.unsavedSince = NOON;
    life.pass(1);
    life.unsavedSince = null;
    life.pass(1);
    expect(bellsOf(life.log)).toMatchObject([
      { subject: 'floor', cause: 'not-saved', why: 'cleared', endedAt: NOON + 2 * MINUTE },
    ]);
  });

  /** Ama's head; Ama and Joss on shift. Both devices are watched over. */
  function carried() {
    const life = FloorLife.salon();
    life.reach = { nobodySince: null, pushOnly: [] };
    for (const person of ['person-ama', 'person-joss']) life.do({ type: 'BeginShift', person });
    const id = life.do(seat(1));
    life.do(begin(1));
    life.at(15).do({ type: 'FinishApplication', visit: id });
    return { life, id };
  }
  const columns = (row: BellRow | undefined) => row && [row.circle, row.firstShownAt, row.missed, row.passed];

  test('[R6, R7] says how far it was carried, when it was first shown, and whom it did not reach', () => {
    const { life, id } = carried();
    const bell = { visit: id, chair: null, cause: 'off', episode: 1, level: 'WARNING' } as const;
    life.at(27.1).receive([{ person: 'person-joss', bell }]);
    life.at(27.2);
    life.receive([{ person: 'person-ama', bell }]);
    life.do({ type: 'PassBell', visit: id, chair: null, cause: 'off' }, { by: 'person-joss' });
    const rows = () => bellsOf(life.log).filter(({ cause }) => cause === 'off');
    // Ama was not shown it within 8 s, and a little later was after all; the first to be shown it was Joss.
    expect(columns(rows()[1])).toEqual([1, NOON + 27.1 * MINUTE, 1, 1]);
    life.at(30);
    expect(rows().map(({ kind }) => kind)).toEqual(['soon', 'rinse', 'over']);
    // A later row begins anew with what is asked at its level.
    expect(columns(rows()[2])).toEqual([2, null, 0, 0]);
    expect(columns(rows()[0])).toEqual([0, null, 0, 0]);
  });

  test('[R2] a bell of a chair has the chair as its subject, apart from those of other chairs and of the floor', () => {
    const { life } = carried();
    life.do({ type: 'AskHelp', chair: 4 }, { by: 'person-ama' });
    life.do({ type: 'AskHelp', chair: 3 }, { by: 'person-joss' });
    life.do({ type: 'EndHelp', chair: 4, how: 'here' });
    const help = bellsOf(life.log).filter(({ cause }) => cause === 'help');
    expect(help.map(({ subject, why }) => [subject, why])).toEqual([
      ['chair/4', 'deed-done'],
      ['chair/3', null],
    ]);
  });
});
