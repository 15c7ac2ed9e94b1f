import { beforeEach, describe, expect, it } from 'vitest';
import type { Bell } from '../../../core/bells/bell.ts';
import type { ChairOnFloor } from '../../../web/src/state/floor-mirror.svelte.ts';
import { laneWords, loudest, type LaneAround } from '../../../web/src/wall/lane-words.ts';
import { words } from '../../../web/src/words/words.ts';
import { standing } from '../../support/bell-kit.ts';
import { FloorLife } from '../../support/floor-life.ts';

const names = {
  labelOf: (place: number) => ({ 91: 'A', 92: 'B' })[place] ?? String(place),
  nameOf: (person: string | null) => (person === 'person-ama' ? 'Ama' : person === 'person-joss' ? 'Joss' : null),
};
let life: FloorLife;
let visit: string;
const around = (bells: readonly Bell[] = []): LaneAround => ({ bells, named: true, asked: () => true });
const lane = (uncertain = false, bells: readonly Bell[] = []) => {
  const chair: ChairOnFloor = { number: 1, label: '1', visit: life.floor.visits[visit]?.facts ?? null, client: null };
  return laneWords(
    chair,
    around(bells),
    { now: life.now, figures: life.floor.salon.figures, uncertain },
    names,
    words(),
  );
};

beforeEach(() => {
  life = FloorLife.salon();
  visit = life.do({ type: 'SeatVisit', chair: 1, service: 'service-1', stylist: 'person-ama', label: null });
});

describe('what a lane says', () => {
  it('a chair without a visit is free', () => {
    visit = 'nobody';
    expect(lane()).toMatchObject({ free: true, quiet: true, level: null, figure: '', who: [''] });
    expect(lane().deeds[0].deed).toBe('free');
  });
  it('[V1] the deed and the number of core, and whose head it is', () => {
    life.do({ type: 'BeginApplication', chair: 1, visit, service: null });
    life.pass(9);
    expect(lane()).toMatchObject({ figure: '9 min', sureness: 'firm', quiet: false, who: ['Ama'] });
    expect(lane().deeds[0]).toEqual({ deed: 'finish by', basin: null, taken: false });
  });
  it('[V2] every number is marked when the screen cannot confirm it', () => {
    life.do({ type: 'BeginApplication', chair: 1, visit, service: null });
    expect(lane(true).sureness).toBe('uncertain');
  });
  it('at the water the basin stands behind the deed, and gives way last but one', () => {
    life.do({ type: 'BeginApplication', chair: 1, visit, service: null });
    life.pass(20);
    life.do({ type: 'BeginRinse', chair: 1, visit, basin: 91 });
    expect(lane().deeds[0]).toEqual({ deed: 'rinsing', basin: 'A', taken: false });
    expect(lane().deeds[lane().deeds.length - 1]).toEqual({ deed: 'rinsing', basin: null, taken: false });
  });
  it('[R3] taken is said by the deed, in every wording, and by whom', () => {
    life.do({ type: 'BeginApplication', chair: 1, visit, service: null });
    life.pass(14);
    life.do({ type: 'FinishApplication', visit });
    life.pass(13);
    expect(lane().level).toBe('WARNING');
    life.do({ type: 'TakeBell', visit, chair: null, cause: 'off' }, { by: 'person-joss' });
    expect(lane().deeds.every(({ taken }) => taken)).toBe(true);
    expect(lane()).toMatchObject({ level: 'WARNING', who: ['Joss goes'] });
  });
  it('a NOTICE taken is not said by the deed: nobody went in vain', () => {
    life.do({ type: 'BeginApplication', chair: 1, visit, service: null });
    life.pass(14);
    life.do({ type: 'FinishApplication', visit });
    life.pass(8);
    expect(lane().level).toBe('NOTICE');
    life.do({ type: 'TakeBell', visit, chair: null, cause: 'off' }, { by: 'person-joss' });
    expect(lane().deeds.some(({ taken }) => taken)).toBe(false);
  });
  const deeds = (): string[] => lane().deeds.map(({ deed }) => deed);
  it('[P4] [V1] a slow application is asked help for; the number stays the latest finish', () => {
    life.do({ type: 'BeginApplication', chair: 1, visit, service: null });
    life.pass(8);
    life.do({ type: 'MarkPartDone', visit, part: null });
    expect(life.bells(visit)).toEqual(['pace CAUTION #1']);
    expect(deeds().slice(0, 2)).toEqual(['get help, finish by', 'help, finish by']);
    expect(lane().figure).toBe('10 min');
    life.do({ type: 'TakeBell', visit, chair: null, cause: 'pace' }, { by: 'person-joss' });
    expect(lane().deeds.map(({ deed, taken }) => [deed, taken])).toEqual([
      ['help, finish by', true],
      ['finish', true],
      ['finish', true],
    ]);
  });
  it('[R2] a first touch that may be forgotten is asked for, without a number', () => {
    life.do({ type: 'SayPrep', visit, complete: true });
    life.pass(4);
    expect(lane()).toMatchObject({ level: 'NOTICE', figure: '', quiet: false });
    expect(deeds()).toContain('begun?');
  });
  it('[R2] water that may not be on is asked for, the basin behind it', () => {
    life.do({ type: 'BeginApplication', chair: 1, visit, service: null });
    life.pass(12);
    life.do({ type: 'FinishApplication', visit });
    life.pass(3);
    life.do({ type: 'BeginRinse', chair: 1, visit, basin: 91 });
    life.pass(1.6);
    expect(lane().level).toBe('CAUTION');
    expect(lane().deeds[1]).toEqual({ deed: 'water on?', basin: 'A', taken: false });
    expect(lane().figure).toBe('3:24');
  });
  it('[V1] [R2] a minimum that is reached is said by the deed, and no number is left', () => {
    life.do({ type: 'BeginApplication', chair: 1, visit, service: null });
    life.pass(12);
    life.do({ type: 'FinishApplication', visit });
    life.pass(12);
    life.do({ type: 'BeginRinse', chair: 1, visit, basin: 91 }, { by: 'person-joss' });
    life.pass(6);
    expect(lane()).toMatchObject({ level: 'NOTICE', figure: '' });
    expect(deeds()).toContain('minimum reached');
    life.do({ type: 'ClearAndOff', visit });
    life.pass(3);
    expect(lane()).toMatchObject({ level: 'NOTICE', figure: '' });
    expect(deeds()).toContain('shampoo 1/2: done?');
  });
  it('[R2] help asked for at a free chair stands in its lane, and by whom it is taken', () => {
    const help = standing({ kind: 'help', cause: 'help', level: 'CAUTION' });
    visit = 'nobody';
    expect(lane(false, [help])).toMatchObject({ free: false, quiet: false, level: 'CAUTION', figure: '' });
    expect(lane(false, [help]).who[0]).toMatch(/^(nobody goes yet)?$/);
    expect(lane(false, [help]).deeds.map(({ deed }) => deed)).toEqual(['help wanted here', 'help here']);
    const taken = { ...help, taken: { by: 'person-joss', at: life.now } };
    expect(lane(false, [taken]).who).toEqual(['Joss goes']);
    expect(lane(false, [taken]).deeds.every((one) => one.taken)).toBe(true);
  });
  it('[R2] [V1] help at a head says whose number it is where there is room', () => {
    life.do({ type: 'BeginApplication', chair: 1, visit, service: null });
    life.pass(9);
    const said = lane(false, [standing({ kind: 'help', cause: 'help', level: 'CAUTION' })]);
    expect(said).toMatchObject({ level: 'CAUTION', figure: '9 min' });
    expect(said.deeds.slice(0, 2).map(({ deed }) => deed)).toEqual(['help · finish by', 'help here']);
  });
  it('[R2] [V1] beside "help here" a least time is not shown: it would read as if help were wanted by then', () => {
    life.do({ type: 'BeginApplication', chair: 1, visit, service: null });
    life.pass(12);
    life.do({ type: 'FinishApplication', visit });
    life.pass(12);
    life.do({ type: 'BeginRinse', chair: 1, visit, basin: 91 }, { by: 'person-joss' });
    expect(lane().figure).not.toBe('');
    const said = lane(false, [standing({ kind: 'help', cause: 'help', level: 'CAUTION' })]);
    expect(said).toMatchObject({ level: 'CAUTION', figure: '' });
    expect(said.deeds[0]).toEqual({ deed: 'help wanted here', basin: null, taken: false });
  });
  it('[S6] [V1] to look at a scalp there is nothing to wait for: no number stands beside it', () => {
    life.do({ type: 'BeginApplication', chair: 1, visit, service: null });
    life.pass(6);
    life.do({ type: 'ReportTingles', visit });
    expect(lane()).toMatchObject({ level: 'CAUTION', figure: '' });
    expect(lane().deeds[0].deed).toMatch(/^it tingles/);
  });
  it('[R2] beside a louder bell help is said at the right', () => {
    life.do({ type: 'BeginApplication', chair: 1, visit, service: null });
    life.pass(14);
    life.do({ type: 'FinishApplication', visit });
    life.pass(13);
    const said = lane(false, [standing({ kind: 'help', cause: 'help', level: 'CAUTION' })]);
    expect(said.level).toBe('WARNING');
    expect(said.who[0]).toContain('help here');
  });
  it('[V1] [S5] back to the rinse has no number of its own', () => {
    life.do({ type: 'BeginApplication', chair: 1, visit, service: null });
    life.pass(9);
    const said = lane(false, [standing({ kind: 'back-to-rinse', cause: 'back-to-rinse', level: 'CAUTION' })]);
    expect(said).toMatchObject({ level: 'CAUTION', figure: '' });
    expect(said.deeds[1]?.deed).toBe('back to rinse');
  });
  it('[R3] a taking that has run out is not said any more', () => {
    life.do({ type: 'BeginApplication', chair: 1, visit, service: null });
    life.pass(14);
    life.do({ type: 'FinishApplication', visit });
    life.pass(13);
    life.do({ type: 'TakeBell', visit, chair: null, cause: 'off' }, { by: 'person-joss' });
    life.now += 90_000 - 1;
    expect(lane().deeds[0].taken).toBe(true);
    life.now += 1;
    expect(lane().deeds[0].taken).toBe(false);
    expect(lane().who[0]).not.toContain('Joss');
  });
  it('the level is that of the most urgent bell, and of two alike the one nobody took', () => {
    const taken = standing({ kind: 'over', rungAt: 1, taken: { by: 'person-ama', at: 2 } });
    const open = standing({ kind: 'over', rungAt: 5 });
    const danger = standing({ kind: 'over', level: 'DANGER', rungAt: 9 });
    expect(loudest([])).toBeNull();
    expect(loudest([taken, open])).toBe(open);
    expect(loudest([open, taken])).toBe(open);
    expect(loudest([taken, danger, open])).toBe(danger);
  });
});
