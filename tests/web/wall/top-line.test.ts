import { describe, expect, it } from 'vitest';
import type { Bell } from '../../../core/bells/bell.ts';
import { rungAtVisit, rungOnFloor } from '../../../core/bells/subject.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';
import type { ChairOnFloor, StandingBell } from '../../../web/src/state/floor-mirror.svelte.ts';
import { quietMoment } from '../../../web/src/state/renewal.ts';
import { elsewhere, floorKinds, tally } from '../../../web/src/wall/tally.ts';
import { floorWords, gapWords, linkFault, tallyWordings } from '../../../web/src/wall/top-words.ts';
import { words } from '../../../web/src/words/words.ts';
import { standing as standingBell } from '../../support/bell-kit.ts';
import { FloorLife } from '../../support/floor-life.ts';

const w = words();
const clock = (at: number): string => `@${at / 1000}`;
const bell = (level: Bell['level'], changes: Partial<Bell> = {}): Bell =>
  standingBell({ level, levelAt: 0, ...changes });
const life = FloorLife.salon();
const seated = life.do({ type: 'SeatVisit', chair: 1, service: 'service-1', stylist: null, label: null });
const head = (...bells: Bell[]): VisitFacts => ({ ...life.facts(seated), bells });
const standing = (...heads: VisitFacts[]): StandingBell[] =>
  heads.flatMap((visit) =>
    visit.bells.map((one) => ({ bell: one, visit, chair: visit.chair, rung: rungAtVisit(visit) })),
  );
const atChair = (chair: number, one: Bell): StandingBell => ({
  bell: one,
  visit: null,
  chair,
  rung: rungOnFloor(life.floor),
});

describe('the tally', () => {
  it("[R2] help is the head's that sits there, and counts by itself at a free chair", () => {
    const sitting = { ...head(bell('WARNING')), chair: 3 };
    expect(tally([...standing(sitting), atChair(3, bell('CAUTION')), atChair(4, bell('CAUTION'))])).toEqual([
      { level: 'WARNING', heads: 1, chairs: [3] },
      { level: 'CAUTION', heads: 1, chairs: [4] },
    ]);
    expect(tally([...standing({ ...head(bell('NOTICE')), chair: 3 }), atChair(3, bell('CAUTION'))])).toEqual([
      { level: 'CAUTION', heads: 1, chairs: [3] },
    ]);
    expect(floorKinds([atChair(4, bell('CAUTION'))])).toEqual([]);
  });
  it('counts each head once, at its most urgent bell, most urgent level first', () => {
    const bells = standing(
      head(bell('NOTICE'), bell('WARNING')),
      head(bell('WARNING')),
      head(bell('DANGER'), bell('CAUTION')),
      head(bell('NOTICE')),
    );
    expect(tally(bells)).toEqual([
      { level: 'DANGER', heads: 1, chairs: [1] },
      { level: 'WARNING', heads: 2, chairs: [1, 1] },
      { level: 'NOTICE', heads: 1, chairs: [1] },
    ]);
  });
  it('counts a bell of the floor by itself', () => {
    const floor = {
      bell: bell('WARNING', { cause: 'not-saved', kind: 'not-saved' }),
      visit: null,
      chair: null,
      rung: rungOnFloor(life.floor),
    };
    expect(tally([floor, ...standing(head(bell('WARNING')))])).toEqual([{ level: 'WARNING', heads: 2, chairs: [1] }]);
    expect(floorKinds([floor])).toEqual(['not-saved']);
  });
  it('is worded shorter by leaving out the least urgent', () => {
    const counts = tally(standing(head(bell('DANGER')), head(bell('CAUTION'))));
    const said = tallyWordings(counts, true, w).map((one) => one.map(({ text }) => text));
    expect(said).toEqual([['DANGER', 'CAUTION 1'], ['DANGER']]);
  });
  it('[R2] names the chairs of DANGER, and counts them where they are too many to name', () => {
    const at = (chair: number): VisitFacts => ({ ...head(bell('DANGER')), chair });
    const first = (...chairs: number[]) => tallyWordings(tally(standing(...chairs.map(at))), true, w)[0][0];
    expect(first(7, 2)).toEqual({ text: 'DANGER', chairs: [2, 7] });
    expect(first(9, 7, 2, 4)).toEqual({ text: 'DANGER 4', chairs: [2, 4, 7] });
    expect(tallyWordings(tally(standing(head(bell('WARNING')))), true, w)[0][0]?.chairs).toEqual([]);
  });
  it('that nothing rings is said only where it is known', () => {
    expect(tallyWordings([], true, w)).toEqual([[{ text: w.wall.quiet, chairs: [] }]]);
    expect(tallyWordings([], false, w)).toEqual([[]]);
  });
  it('chairs that ring elsewhere are named, most urgent first, a NOTICE is not', () => {
    const chair = (number: number, ...bells: Bell[]): ChairOnFloor => ({
      number,
      label: String(number),
      visit: head(...bells),
      client: null,
    });
    const others = [chair(13, bell('CAUTION')), chair(14, bell('NOTICE')), chair(15, bell('DANGER')), chair(16)];
    const help = { ...atChair(16, bell('WARNING')) };
    expect(elsewhere(others, [help]).map(({ label, level }) => [label, level])).toEqual([
      ['15', 'DANGER'],
      ['16', 'WARNING'],
      ['13', 'CAUTION'],
    ]);
  });
  it('a quiet moment knows no bell above NOTICE', () => {
    expect(quietMoment([])).toBe(true);
    expect(quietMoment(standing(head(bell('NOTICE'))))).toBe(true);
    expect(quietMoment(standing(head(bell('NOTICE'), bell('CAUTION'))))).toBe(false);
  });
});

describe('what is wrong, in words', () => {
  const link = { phase: 'linked', silentForMs: 1_000, keptAt: null, now: 100_000, clock, renewal: 'none' } as const;
  it('a server that is heard is no fault', () => {
    expect(linkFault(link, w)).toBeNull();
    expect(linkFault({ ...link, silentForMs: 5_000 }, w)).toBeNull();
  });
  it('[R10] a silent server is said with since when, also while the line looks open', () => {
    expect(linkFault({ ...link, silentForMs: 6_000 }, w)).toBe('no link since @94');
    expect(linkFault({ ...link, phase: 'lost', silentForMs: 2_000 }, w)).toBe('no link since @98');
    expect(linkFault({ ...link, phase: 'waiting', silentForMs: null }, w)).toBe(w.wall.linkNever);
    const kept = { ...link, phase: 'waiting', silentForMs: null, keptAt: 90_000 } as const;
    expect(linkFault(kept, w)).toBe('no link since @90');
  });
  it('a wall of another protocol says what it does about it', () => {
    expect(linkFault({ ...link, phase: 'refused', renewal: 'ready' }, w)).toBe(w.wall.reloading);
    expect(linkFault({ ...link, phase: 'refused' }, w)).toBe(w.wall.older);
  });
  it('bells of the floor are said once each, also when only the heartbeat knows', () => {
    expect(floorWords(['not-saved', 'time-uncertain'], true, w)).toEqual(['not saved', 'clock lost: look at the hair']);
    expect(floorWords([], true, w)).toEqual(['not saved']);
    expect(floorWords(['nobody-reached'], false, w)).toEqual(['no phone can be rung']);
    expect(floorWords([], false, w)).toEqual([]);
  });
  it('[T4] a gap is told for two hours after it', () => {
    const gap = { fromAt: 1_000_000, toAt: 1_420_000, why: 'restarted' } as const;
    const told = 'the server was away @1000–@1420';
    expect(gapWords(gap, 1_420_000, clock, w)).toBe(told);
    expect(gapWords(gap, 1_420_000 + 7_200_000, clock, w)).toBe(told);
    expect(gapWords(gap, 1_420_000 + 7_200_001, clock, w)).toBeNull();
    expect(gapWords(null, 0, clock, w)).toBeNull();
    const short = { ...gap, toAt: 1_008_000 };
    expect(gapWords(short, 1_008_000, clock, w)).toBe('the server was away for 8 s at @1000');
  });
});
