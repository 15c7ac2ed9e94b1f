import { describe, expect, it } from 'vitest';
import { MINUTE } from '../../../core/time.ts';
import type { RecordedOfVisit } from '../../../shared/wire.ts';
import { sinceWords, commandWords, lastMoveWords } from '../../../web/src/chair/act-words.ts';
import { hairClock, hairWindow, noCeiling } from '../../../web/src/chair/hair-window.ts';
import { linkWords } from '../../../web/src/chair/link-words.ts';
import { momentsOf, momentsOfWay } from '../../../web/src/chair/moments.ts';
import { loudestBell } from '../../../web/src/chair/standing-bell.ts';
import { words } from '../../../web/src/words/words.ts';
import { StagedSession } from '../stage/staged-session.svelte.ts';
import { colour, relaxer } from '../../support/directions-kit.ts';
import { FloorLife, NOON } from '../../support/floor-life.ts';

const w = words();

function process(rules = relaxer()): { life: FloorLife; visit: string } {
  const life = FloorLife.salon(rules);
  const visit = life.do({ type: 'BeginApplication', chair: 4, visit: null, service: 'service-1' });
  for (let part = 0; part < 4; part += 1) {
    life.pass(15 / 4);
    life.do({ type: 'MarkPartDone', visit, part }, { by: 'person-ama' });
  }
  return { life, visit };
}

function eventsOf(life: FloorLife, visit: string): RecordedOfVisit[] {
  return life.log.filter((one) => one.stream === `visit/${visit}`) as RecordedOfVisit[];
}

describe('the list of what was done', () => {
  it('[W3] is newest first, without the steps of bells', () => {
    const { life, visit } = process();
    life.pass(13);
    expect(eventsOf(life, visit).some(({ event }) => event.type === 'BellRung')).toBe(true);
    const moments = momentsOf(eventsOf(life, visit));
    expect(moments.map(({ type }) => type)).toEqual([
      ...Array.from({ length: 4 }, () => 'PartMarkedDone'),
      'ApplicationBegun',
      'VisitSeated',
    ]);
    expect(moments[0]).toMatchObject({ part: 4, by: 'person-ama', movable: true });
  });
  it('[X1] tells a corrected time and the first one', () => {
    const { life, visit } = process();
    const last = life.facts(visit).lastMove;
    life.pass(2);
    for (const back of [1, 2]) {
      const to = NOON + (15 - back) * MINUTE;
      life.do({ type: 'CorrectTime', visit, of: last?.version ?? 0, to, reason: null });
    }
    const [moment] = momentsOf(eventsOf(life, visit));
    expect(moment).toMatchObject({ at: NOON + 13 * MINUTE, wasAt: NOON + 15 * MINUTE });
  });
  it('[X2] marks what was taken back, whose time can no longer be moved', () => {
    const { life, visit } = process();
    life.do({ type: 'TakeBack', visit }, { seen: life.facts(visit).version });
    const [moment, before] = momentsOf(eventsOf(life, visit));
    expect(moment).toMatchObject({ type: 'PartMarkedDone', takenBack: true, movable: false });
    expect(before).toMatchObject({ takenBack: false, movable: true });
  });
  it('without the record the way of the visit is told', () => {
    const { life, visit } = process();
    expect(momentsOfWay(life.facts(visit)).map(({ type }) => type)).toEqual([
      'ApplicationFinished',
      'ApplicationBegun',
      'VisitSeated',
    ]);
  });
});

describe('what stands at the chair', () => {
  const context = (life: FloorLife) => ({ now: life.now, figures: life.floor.salon.figures, uncertain: false });

  it('[E7] in apply the window is expected, but a close that hangs on first touch is certain', () => {
    const life = FloorLife.salon();
    const visit = life.do({ type: 'BeginApplication', chair: 4, visit: null, service: 'service-1' });
    life.pass(6);
    expect(hairWindow(life.facts(visit), context(life))).toMatchObject({
      expected: true,
      closeExpected: false,
      closesAt: NOON + 30 * MINUTE,
      expectedFinishAt: NOON + 15 * MINUTE,
      finishByAt: NOON + 18 * MINUTE,
    });
    life.pass(9);
    expect(hairWindow(life.facts(visit), context(life))?.expectedFinishAt).toBeNull();
  });
  it('[E3] without a ceiling the close is expected too, and it is said that none was entered', () => {
    const life = FloorLife.salon(colour());
    const visit = life.do({ type: 'BeginApplication', chair: 4, visit: null, service: 'service-1' });
    expect(hairWindow(life.facts(visit), context(life))).toMatchObject({ closeExpected: true, finishByAt: null });
    expect(noCeiling(life.facts(visit).passes[0] ?? null)).toBe(true);
    const { life: other, visit: relaxed } = process();
    expect(noCeiling(other.facts(relaxed).passes[0] ?? null)).toBe(false);
    expect(noCeiling(null)).toBe(false);
  });
  it('[E4] part windows are drawn only where there is no room', () => {
    const { life, visit } = process();
    expect(hairWindow(life.facts(visit), context(life))?.parts).toEqual([]);
    const slow = FloorLife.salon();
    const late = slow.do({ type: 'BeginApplication', chair: 4, visit: null, service: 'service-1' });
    slow.pass(22);
    slow.do({ type: 'FinishApplication', visit: late });
    const window = hairWindow(slow.facts(late), context(slow));
    expect(window?.roomMs).toBe(-2 * MINUTE);
    expect(window?.parts.length).toBeGreaterThan(0);
  });
  it('[E1] time on hair is shown while product is on, and says when it is not known', () => {
    const { life, visit } = process();
    life.pass(5);
    expect(hairClock(life.facts(visit), context(life))).toMatchObject({ firstMs: 20 * MINUTE, lastMs: 5 * MINUTE });
    life.do({ type: 'BeginRinse', chair: 4, visit, basin: 91 });
    life.pass(1);
    expect(hairClock(life.facts(visit), context(life))).toMatchObject({ firstMs: 21 * MINUTE, running: false });
    life.do({ type: 'ClearAndOff', visit });
    expect(hairClock(life.facts(visit), context(life))).toBeNull();
    const unknown = life.do({ type: 'BeginRinse', chair: 1, visit: null, basin: null });
    expect(hairClock(life.facts(unknown), context(life))).toEqual({ known: false });
  });
  it('[R2] the loudest bell is shown', () => {
    const { life, visit } = process();
    expect(loudestBell(life.facts(visit))).toBeNull();
    life.pass(15);
    expect(loudestBell(life.facts(visit))).toMatchObject({ kind: 'over', level: 'DANGER' });
    expect(loudestBell(null)).toBeNull();
  });
});

describe('the words for it', () => {
  const session = new StagedSession(FloorLife.salon());
  it('[S7] a refusal tells who did what and when', () => {
    const since = [{ type: 'RinseBegun', at: NOON, by: 'person-joss' }];
    expect(sinceWords(since, session.mirror, (at) => session.clock(at), w)).toEqual(['Joss put water on at 13:00.']);
    expect(sinceWords([{ type: 'RinseBegun', at: NOON, by: null }], session.mirror, () => '13:00', w)).toEqual([
      'Somebody put water on at 13:00.',
    ]);
  });
  it('a touch that was sent is named as its button was', () => {
    expect(commandWords({ type: 'BeginRinse', chair: 4, visit: null, basin: 91 }, session.mirror, w)).toBe(
      'Water on at A',
    );
    expect(commandWords({ type: 'MarkPartDone', visit: 'visit-01', part: 1 }, session.mirror, w)).toBe('Part 2 done');
    expect(commandWords({ type: 'ClearAndOff', visit: 'visit-01' }, session.mirror, w)).toBe('Clear and off');
  });
  it('[W3] the take-back bar names the last move', () => {
    const { life, visit } = process();
    const names = new StagedSession(life).mirror;
    expect(lastMoveWords(life.facts(visit), names, w)).toBe('Part 4 done');
    life.do({ type: 'BeginRinse', chair: 4, visit, basin: 92 });
    expect(lastMoveWords(life.facts(visit), names, w)).toBe('Water on at B');
  });
  it('[R10] a server that was not heard for 5 s is a fault', () => {
    const line = (phase: 'linked' | 'lost', silentForMs: number) =>
      linkWords({ link: { phase, keptAt: null }, silentForMs, clock: (at) => `@${at}` }, w);
    expect(line('linked', 4_999)).toEqual({ text: 'linked 4 s', fault: false });
    expect(line('linked', 5_000).fault).toBe(true);
    expect(line('lost', 0).fault).toBe(true);
    const kept = { link: { phase: 'waiting' as const, keptAt: 7 }, silentForMs: null, clock: (at: number) => `@${at}` };
    expect(linkWords(kept, w)).toEqual({ text: 'no link: as it was at @7, not confirmed', fault: true });
  });
});
