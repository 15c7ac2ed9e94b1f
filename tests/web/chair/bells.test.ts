import { beforeEach, describe, expect, it } from 'vitest';
import type { Bell } from '../../../core/bells/bell.ts';
import { rungOnFloor } from '../../../core/bells/subject.ts';
import type { RecordedOfVisit } from '../../../shared/wire.ts';
import { actLine } from '../../../web/src/chair/act-words.ts';
import { bellRuns, isLong } from '../../../web/src/chair/bell-runs.ts';
import { dangerElsewhere, runEnd, runTitle, stepWords, whoSaid } from '../../../web/src/chair/bell-words.ts';
import { nextActs } from '../../../web/src/chair/next-act.ts';
import { loudestBell } from '../../../web/src/chair/standing-bell.ts';
import type { StandingBell } from '../../../web/src/state/floor-mirror.svelte.ts';
import { words } from '../../../web/src/words/words.ts';
import { sec, standing } from '../../support/bell-kit.ts';
import { perm } from '../../support/directions-kit.ts';
import { FloorLife } from '../../support/floor-life.ts';
import { StagedSession } from '../stage/staged-session.svelte.ts';

const w = words();
const known: Readonly<Record<string, string>> = { 'person-ama': 'Ama', 'person-joss': 'Joss' };
const names = {
  labelOf: (place: number) => `W${place}`,
  nameOf: (id: string | null) => known[id ?? ''] ?? null,
  serviceName: () => null,
};
const CHAIR = 4;
let life: FloorLife;
let visit: string;

function begin(rules?: Parameters<typeof FloorLife.salon>[0]): void {
  life = FloorLife.salon(rules);
  for (const person of ['person-ama', 'person-joss']) life.do({ type: 'BeginShift', person }, { by: person });
  visit = life.do({ type: 'SeatVisit', chair: CHAIR, service: 'service-1', stylist: 'person-ama', label: null });
  life.do({ type: 'BeginApplication', chair: CHAIR, visit, service: null }, { by: 'person-joss' });
}

const record = () => life.log.filter((one) => one.stream === `visit/${visit}`) as RecordedOfVisit[];
const acts = () => {
  const { mirror } = new StagedSession(life);
  return nextActs({ chair: CHAIR, visit: life.facts(visit), usualService: null, basins: mirror.basins });
};

beforeEach(() => begin());

describe('what became of a bell', () => {
  const rinse = (): void => {
    life.reach = { nobodySince: null, pushOnly: [] };
    life.pass(14);
    life.do({ type: 'FinishApplication', visit }, { by: 'person-joss' });
    // The window opens 10 min later, and "rinse" is rung 3 min before its close.
    life.pass(12);
  };
  const confirm = (...people: string[]): void => {
    const bell = life.facts(visit).bells.find((one) => one.cause === 'off') as Bell;
    const { cause, episode, level } = bell;
    life.receive(people.map((person) => ({ person, bell: { visit, chair: null, cause, episode, level } })));
  };
  it('[R9] is told step by step, with time and reason', () => {
    rinse();
    confirm('person-ama', 'person-joss');
    life.pass(0.1);
    life.do({ type: 'PassBell', visit, chair: null, cause: 'off' }, { by: 'person-ama' });
    life.do({ type: 'TakeBell', visit, chair: null, cause: 'off' }, { by: 'person-joss' });
    life.pass(0.5);
    life.do({ type: 'BeginRinse', chair: CHAIR, visit, basin: 91 }, { by: 'person-joss' });
    const run = bellRuns(record()).find((one) => one.cause === 'off');
    if (run === undefined) throw new Error('no bell to rinse');
    expect(run.steps.map((step) => stepWords(step, names, w))).toEqual([
      'rung at NOTICE',
      'rung at WARNING',
      'shown to Ama, Joss',
      'Ama cannot go',
      'asks everyone on the floor: whoever was asked could not go',
      'Joss goes',
      'ended: it was done',
    ]);
    expect(runTitle(run, w)).toBe('Bell, WARNING: To be rinsed');
    expect(runEnd(run, w)).toBe('it was done');
    expect(isLong(run)).toBe(true);
    // It was no WARNING before it came to that: the heading names the moment of what it says.
    expect(run.at).toBe(run.steps[1]?.at);
    expect(run.at).toBeGreaterThan(run.steps[0]?.at ?? Infinity);
  });
  it('[R7] being missed is kept for each person, those of one moment in one step', () => {
    rinse();
    life.pass(0.2);
    const run = bellRuns(record()).find((one) => one.cause === 'off');
    const missed = run?.steps.filter((step) => step.what === 'missed') ?? [];
    expect(missed.map((step) => stepWords(step, names, w))).toEqual(['not shown in time to Ama, Joss']);
    expect(run === undefined ? null : runEnd(run, w)).toBe('still rings');
  });
  it('[R2] a cause that comes to stand anew is another bell', () => {
    for (let n = 0; n < 2; n += 1) {
      life.do({ type: 'ReportTingles', visit }, { by: 'person-joss' });
      life.do({ type: 'AnswerTingles', visit, answer: 'eased' }, { by: 'person-joss' });
    }
    const runs = bellRuns(record()).filter((one) => one.cause === 'tingles');
    expect(runs.map(({ episode, steps }) => [episode, steps.length])).toEqual([
      [1, 2],
      [2, 2],
    ]);
  });
});

describe('who stands behind a bell at the chair', () => {
  const said = (changes: Partial<Bell>, asked = true) => whoSaid(standing(changes), asked, sec(10), names, w);
  it('[R3] [R6] [R7] who goes; else who was missed, and who is asked besides', () => {
    expect(said({})).toBeNull();
    expect(said({ taken: { by: 'person-joss', at: sec(0) } })).toBe('Joss goes');
    expect(said({ unreached: ['person-ama'], circle: 1 })).toBe(
      'not shown in time to Ama · everyone on the floor is asked',
    );
    expect(said({ unreached: ['a', 'b', 'c', 'd'] })).toBe('not shown in time to 4 people');
    expect(said({ circle: 2 }, false)).toBeNull();
  });
  const at = (chair: number | null, changes: Partial<Bell>): StandingBell => ({
    bell: standing({ level: 'DANGER', ...changes }),
    visit: null,
    chair,
    rung: rungOnFloor(life.floor),
  });
  const elsewhere = (...bells: StandingBell[]) => dangerElsewhere(bells, CHAIR, sec(10), names, w);
  it('[R6] DANGER of another chair is named in one line; its own and lesser ones are not', () => {
    expect(elsewhere(at(6, { kind: 'burns', cause: 'burns' }))).toBe('burns at W6: all hands');
    expect(elsewhere(at(CHAIR, { kind: 'burns', cause: 'burns' }), at(6, { level: 'WARNING' }))).toBeNull();
    expect(elsewhere(at(null, { kind: 'not-saved' }))).toBeNull();
  });
  it('the one that nobody goes to is named first, the others are counted by chair', () => {
    const taken = at(5, { kind: 'burns', taken: { by: 'person-ama', at: sec(1) } });
    expect(elsewhere(taken)).toBe('burns at W5: Ama goes');
    expect(elsewhere(taken, at(6, { kind: 'over' }))).toBe('past its time at W6: all hands · and 1 more');
    expect(elsewhere(at(6, { kind: 'over' }), at(6, { kind: 'tingles', levelAt: sec(1) }))).toBe(
      'past its time at W6: all hands',
    );
  });
  it('[S6] of two alike the screen shows what the client said of the scalp', () => {
    const pace = standing({ kind: 'pace', cause: 'pace', level: 'CAUTION', levelAt: sec(0) });
    const tingles = standing({ kind: 'tingles', cause: 'tingles', level: 'CAUTION', levelAt: sec(5) });
    expect(loudestBell({ ...life.facts(visit), bells: [pace, tingles] })?.kind).toBe('tingles');
    expect(loudestBell({ ...life.facts(visit), bells: [tingles, standing()] })?.kind).toBe('rinse');
  });
});

describe('the next act while something is asked', () => {
  it('[S6] with hydroxide water is what the main button does until the tingling is answered', () => {
    expect(acts().main[0]?.name).toBe('part-done');
    life.do({ type: 'ReportTingles', visit }, { by: 'person-joss' });
    expect(acts().main.map(({ name }) => name)).toEqual(['water-on']);
    expect(acts().beside.map(({ name }) => name)).toContain('part-done');
    life.do({ type: 'AnswerTingles', visit, answer: 'mistaken' }, { by: 'person-ama' });
    expect(acts().main[0]?.name).toBe('part-done');
  });
  it('[S6] with another product work goes on beside the answer', () => {
    begin(perm());
    life.do({ type: 'ReportTingles', visit }, { by: 'person-joss' });
    expect(acts().main[0]?.name).toBe('part-done');
  });
  it('[S5] after two extra shampoos that failed: back to the water, or the next one shows clear', () => {
    life.pass(14);
    life.do({ type: 'FinishApplication', visit });
    life.pass(12);
    life.do({ type: 'BeginRinse', chair: CHAIR, visit, basin: 91 });
    life.pass(6);
    life.do({ type: 'ClearAndOff', visit });
    for (let n = 0; n < 4; n += 1) {
      expect(acts().main[0]?.name).toBe('shampoo');
      life.pass(2.2);
      life.do({ type: 'MarkShampoo', visit, indicator: 'coloured', strip: null }, { seen: life.facts(visit).version });
    }
    expect(life.facts(visit).bells.map(({ kind }) => kind)).toContain('back-to-rinse');
    const { main, beside } = acts();
    expect(main.map(({ name }) => name)).toEqual(['water-on']);
    const shampoos = beside.filter(({ name }) => name === 'shampoo').map((act) => actLine(act, names, w));
    expect(new Set(shampoos).size).toBe(2);
  });
});
