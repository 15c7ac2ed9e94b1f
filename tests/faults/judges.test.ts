import { describe, expect, it } from 'vitest';
import { MINUTE } from '../../core/time.ts';
import { rowOf } from '../../server/store/event-rows.ts';
import { doubledBellsOf, missedBellsOf, rungIn } from '../../scripts/faults/judge/bells.ts';
import { wrongClosesOf } from '../../scripts/faults/judge/closes.ts';
import { doubledOf } from '../../scripts/faults/judge/doubled.ts';
import { changedOf, lostOf, type Acknowledged, type Stored } from '../../scripts/faults/judge/lost.ts';
import type { Recorded } from '../../core/events.ts';
import { relaxer } from '../support/directions-kit.ts';
import { FloorLife, NOON } from '../support/floor-life.ts';

/** A head with product on from noon, applied by 12:15, past its close, then under water at 12:32; and what its senders were told. */
function lived(): { life: FloorLife; visit: string; told: Acknowledged[]; stored: Stored } {
  const life = FloorLife.salon(relaxer({ ceilingMs: 30 * MINUTE, maxAfterMs: 15 * MINUTE }));
  const told: Acknowledged[] = [];
  const answers = new Map<string, string>();
  const say = (command: Parameters<FloorLife['do']>[0], id: string): string => {
    const visit = life.do(command, { id });
    const accepted = { outcome: 'done', visit, version: life.facts(visit).version, revision: life.log.length };
    const own = life.log.filter((one) => one.command === id).at(-1);
    told.push({ id, status: 200, body: { ...accepted, version: own?.version } });
    answers.set(id, JSON.stringify({ accepted: { ...accepted, version: own?.version } }));
    return visit;
  };
  const visit = say({ type: 'BeginApplication', chair: 1, visit: null, service: null }, 'begin-1');
  life.at(15);
  say({ type: 'FinishApplication', visit }, 'finish-1');
  life.at(32);
  say({ type: 'BeginRinse', chair: 1, visit, basin: 91 }, 'water-1');
  life.at(60);
  return { life, visit, told, stored: { rows: life.log.map(rowOf), answers } };
}

const without = (log: readonly Recorded[], gone: (one: Recorded) => boolean): Recorded[] =>
  log.filter((one) => !gone(one));
const isRung = (kind: string) => (one: Recorded) => one.event.type === 'BellRung' && one.event.kind === kind;

describe('the judge of what was lost', () => {
  it('[R8] finds nothing lost where everything is', () => {
    const { told, stored } = lived();
    expect(told).toHaveLength(3);
    expect(lostOf(told, stored)).toEqual([]);
    expect(changedOf(stored.rows, stored.rows)).toEqual([]);
  });

  it('[R8] sees a lost answer, another answer, a lost event, a lost end and a lost version', () => {
    const { told, stored } = lived();
    const { rows, answers } = stored;
    const noAnswer = new Map(answers);
    noAnswer.delete('finish-1');
    expect(lostOf(told, { rows, answers: noAnswer })).toEqual(['finish-1: its answer is not kept']);
    const other = new Map(answers).set('finish-1', answers.get('water-1') ?? '');
    expect(lostOf(told, { rows, answers: other })).toEqual(['finish-1: another answer is kept']);
    const unevent = rows.filter((row) => row.command !== 'finish-1');
    expect(lostOf(told, { rows: unevent, answers })).toEqual(['finish-1: no event of it is in the log']);
    const water = rows.findIndex((row) => row.command === 'water-1');
    expect(lostOf(told, { rows: rows.slice(0, water), answers })).toEqual([
      `water-1: the log ends at ${water}, before the revision that was told`,
    ]);
    const shifted = rows.map((row) => (row.command === 'begin-1' ? { ...row, version: row.version + 40 } : row));
    expect(lostOf(told, { rows: shifted, answers })).toEqual([
      'begin-1: the event that made the version it was told is not in the log',
    ]);
  });

  it('[R8] sees that an event of before is gone or is another', () => {
    const { rows } = lived().stored;
    expect(changedOf(rows, rows.slice(0, -2))).toEqual([rows.length - 1, rows.length]);
    const edited = rows.map((row) => (row.seq === 5 ? { ...row, at: row.at + 1 } : row));
    expect(changedOf(rows, edited)).toEqual([5]);
  });

  it('[S8] sees a refusal that is kept as something else', () => {
    const stored: Stored = { rows: [], answers: new Map([['a', '{"refused":{"code":"moved-on"}}']]) };
    expect(lostOf([{ id: 'a', status: 409, body: { code: 'moved-on' } }], stored)).toEqual([]);
    expect(lostOf([{ id: 'a', status: 409, body: { code: 'wrong-stage' } }], stored)).toEqual([
      'a: another answer is kept',
    ]);
  });
});

describe('the judge of what is there twice', () => {
  it('[S8] finds nothing twice where nothing is, and sees a command that was done twice', () => {
    const { rows } = lived().stored;
    expect(doubledOf(rows)).toEqual([]);
    const once = rows.find((row) => row.command === 'finish-1');
    if (once === undefined) throw new Error('no such command');
    const last = rows.filter((row) => row.stream === once.stream).length;
    const again = { ...once, seq: rows.length + 1, version: last + 1 };
    expect(doubledOf([...rows, again])).toEqual([`command finish-1 is done twice, again at ${again.seq}`]);
  });

  it('[R8] sees places and versions that do not follow', () => {
    const { rows } = lived().stored;
    expect(doubledOf([...rows, ...rows.slice(-1)]).length).toBeGreaterThan(0);
    expect(doubledOf(rows.filter((row) => row.seq !== 7)).length).toBeGreaterThan(0);
  });
});

describe('the judge of bells', () => {
  it('[R8] finds no fault with a life in which each rang once', () => {
    const { log, now } = lived().life;
    expect(rungIn(log)).toBeGreaterThanOrEqual(4);
    expect(doubledBellsOf(log)).toEqual([]);
    expect(missedBellsOf(log, [NOON + 30 * MINUTE, now])).toEqual([]);
  });

  it('[R8] sees a bell that rang again, a second episode that was none, and an end without a bell', () => {
    const { log } = lived().life;
    const over = log.find(isRung('over'));
    if (over === undefined || over.event.type !== 'BellRung') throw new Error('over never rang');
    const at = log.indexOf(over) + 1;
    expect(doubledBellsOf([...log.slice(0, at), over, ...log.slice(at)])).toHaveLength(1);
    const next = { ...over, event: { ...over.event, episode: 2 } };
    expect(doubledBellsOf([...log.slice(0, at), next, ...log.slice(at)]).length).toBeGreaterThan(0);
    expect(doubledBellsOf(without(log, (one) => one.event.type === 'BellRung')).length).toBeGreaterThan(0);
  });

  it('[R8] sees a bell that never rang, and one that had not rung when the server looked', () => {
    const { log, now } = lived().life;
    const overAt = log.find(isRung('over'))?.recordedAt ?? 0;
    const silent = without(log, isRung('over'));
    expect(missedBellsOf(silent, [overAt, now])[0]).toContain('ring');
    // The log ends before the close, and nobody rang until the server looked.
    const before = log.slice(0, log.findIndex(isRung('over')));
    expect(missedBellsOf(before, [overAt - 1])).toEqual([]);
    expect(missedBellsOf(before, [overAt - 1, overAt])).toHaveLength(1);
    // A bell that ended while the rules still ring it.
    const ended = without(log, (one) => one.command === 'water-1');
    expect(missedBellsOf(ended, [now]).length).toBeGreaterThan(0);
  });

  it('[E3] reckons the close from touches alone: right where it rang once at its instant, wrong otherwise', () => {
    const { life, visit } = lived();
    const figures = { ceilingMs: 30 * MINUTE, maxAfterMs: 15 * MINUTE };
    expect(wrongClosesOf(life.log, life.now, figures)).toEqual({ heads: 1, due: 1, wrong: [] });
    expect(wrongClosesOf(without(life.log, isRung('over')), life.now, figures).wrong).toHaveLength(1);
    const late = life.log.map((one) =>
      one.event.type === 'BellRung' && one.event.kind === 'over'
        ? { ...one, event: { ...one.event, dueAt: one.event.dueAt + MINUTE } }
        : one,
    );
    expect(wrongClosesOf(late, life.now, figures).wrong).toHaveLength(1);
    // Water came before the close: nothing may ring.
    const early = life.log.map((one) => (one.event.type === 'RinseBegun' ? { ...one, at: NOON + 20 * MINUTE } : one));
    expect(wrongClosesOf(early, life.now, figures).wrong[0]).toContain(visit);
  });
});
