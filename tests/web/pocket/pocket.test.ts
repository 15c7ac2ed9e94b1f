import { describe, expect, it } from 'vitest';
import { MINUTE, SECOND } from '../../../core/time.ts';
import { asks, heardAs } from '../../../core/bells/hearing.ts';
import { buzzAt } from '../../../web/src/pocket/buzz.ts';
import { canBeRung, soundSaid, type Reach } from '../../../web/src/pocket/can-be-rung.ts';
import { dueAt, headsOf } from '../../../web/src/pocket/due-order.ts';
import { owing } from '../../../web/src/pocket/owed-list.ts';
import { bellKey, besides, onScreen, ringing, ringTogether, type Holder } from '../../../web/src/pocket/ringing.ts';
import { WakeLock } from '../../../web/src/pocket/wake-lock.svelte.ts';
import { onTheHair } from '../../../web/src/sheet/on-the-hair.ts';
import { StagedSession } from '../stage/staged-session.svelte.ts';
import { relaxer, tested } from '../../support/directions-kit.ts';
import { FloorLife, NOON } from '../../support/floor-life.ts';

const AMA = 'person-ama';
const JOSS = 'person-joss';

function begin(life: FloorLife, chair: number, stylist: string | null): string {
  const visit = life.do({ type: 'SeatVisit', chair, service: 'service-1', stylist, label: null });
  life.do({ type: 'BeginApplication', chair, visit, service: null });
  return visit;
}

/** Chair 4 (Ama) began at noon, 2 (Joss) 5 min later, 1 (Ama) 10 min later; each was applied within 15. */
function floor(): FloorLife {
  const life = FloorLife.salon();
  for (const person of [AMA, JOSS]) life.do({ type: 'BeginShift', person }, { by: person });
  const four = begin(life, 4, AMA);
  life.at(5);
  const two = begin(life, 2, JOSS);
  life.at(10);
  const one = begin(life, 1, AMA);
  for (const [minute, visit] of [
    [15, four],
    [20, two],
    [25, one],
  ] as const) {
    life.at(minute);
    life.do({ type: 'FinishApplication', visit });
  }
  return life;
}

const staged = (life: FloorLife) => new StagedSession(life);
const chairs = (list: readonly { number: number }[]): number[] => list.map(({ number }) => number);

describe('heads on a phone', () => {
  it('[V1] are mine first, then the others, each by what is due next', () => {
    const { mirror, context } = staged(floor());
    const { mine, others } = headsOf(AMA, mirror.chairs, context, mirror.bells);
    expect(chairs(mine)).toEqual([4, 1]);
    expect(chairs(others)).toEqual([2]);
    expect(chairs(headsOf(null, mirror.chairs, context, mirror.bells).others)).toEqual([4, 2, 1]);
  });
  it('[R2] a bell that stands comes before what is only nearer', () => {
    const life = floor();
    life.do({ type: 'BeginRinse', chair: 3, visit: null, basin: 91 });
    const two = Object.values(life.floor.visits).find(({ facts }) => facts.chair === 2)?.facts.id ?? '';
    life.do({ type: 'BeginRinse', chair: 2, visit: two, basin: 92 });
    life.at(27);
    const { mirror, context } = staged(life);
    // The rinse minimum at 2 is reached in 3 min, as is the close at 4; the bell decides.
    expect(chairs(headsOf(AMA, mirror.chairs, context, mirror.bells).mine)).toEqual([4, 1]);
    expect(chairs(headsOf(null, mirror.chairs, context, mirror.bells).others)).toEqual([4, 2, 1, 3]);
  });
  it('[V1] a head past its time is due now, one without a number last', () => {
    const life = FloorLife.salon();
    const water = life.do({ type: 'BeginRinse', chair: 3, visit: null, basin: 91 });
    life.do({ type: 'ReportBurns', chair: 3, visit: water, place: 'eye' });
    const prep = life.do({ type: 'SeatVisit', chair: 1, service: 'service-1', stylist: null, label: null });
    const { context } = staged(life);
    expect(dueAt(life.facts(water), context)).toBe(Number.NEGATIVE_INFINITY);
    expect(dueAt(life.facts(prep), context)).toBe(Number.POSITIVE_INFINITY);
  });
});

/** How bells of a floor stand to somebody, at an instant. */
function holder(life: FloorLife, person: string | null, now = life.now): Holder {
  const people = life.floor.people;
  return {
    person,
    asked: ({ bell, rung }) => person !== null && asks(bell, rung, person, people, now),
    rings: ({ bell, rung }) => person !== null && heardAs(bell, rung, person, people, now) !== null,
  };
}

describe('the bell that fills the screen', () => {
  const none: readonly string[] = [];
  const bellsOf = (life: FloorLife) => staged(life).mirror.bells;
  const visitAt = (life: FloorLife, chair: number): string =>
    Object.values(life.floor.visits).find(({ facts }) => facts.chair === chair)?.facts.id ?? '';

  it('[R5] is one that sounds: NOTICE never', () => {
    const life = floor().at(25);
    expect(bellsOf(life).length).toBeGreaterThan(0);
    expect(ringing(bellsOf(life), holder(life, AMA), none)).toBeNull();
    life.at(27);
    expect(ringing(bellsOf(life), holder(life, AMA), none)).toMatchObject({
      bell: { kind: 'rinse' },
      visit: { chair: 4 },
    });
  });
  it('[R6] is one that asks its holder: not who has left, nor a phone that nobody holds', () => {
    const life = floor().at(27);
    expect(ringing(bellsOf(life), holder(life, null), none)).toBeNull();
    life.do({ type: 'EndShift', person: AMA });
    expect(ringing(bellsOf(life), holder(life, AMA), none)).toBeNull();
    expect(ringing(bellsOf(life), holder(life, JOSS), none)).toMatchObject({ visit: { chair: 4 } });
  });
  it('[R2] is the most urgent of those that ring', () => {
    const life = floor().at(30);
    expect(ringing(bellsOf(life), holder(life, JOSS), none)).toMatchObject({
      bell: { level: 'DANGER' },
      visit: { chair: 4 },
    });
  });
  it('[R2] folded away it is a line that rings on, until it comes to a higher level', () => {
    const life = floor().at(27);
    const standing = ringing(bellsOf(life), holder(life, AMA), none);
    const folded = standing === null ? [] : [bellKey(standing)];
    expect(ringing(bellsOf(life), holder(life, AMA), folded)).toBeNull();
    expect(besides(bellsOf(life), holder(life, AMA), null)).toMatchObject([{ visit: { chair: 4 } }]);
    life.at(30);
    expect(ringing(bellsOf(life), holder(life, AMA), folded)).toMatchObject({ bell: { level: 'DANGER' } });
  });
  it('[R3] whoever has just done something at that head is shown it in a line, and nothing fills their screen', () => {
    const life = floor().at(26.5);
    life.do({ type: 'SetHeat', visit: visitAt(life, 4), on: false }, { by: AMA });
    life.at(27);
    expect(onScreen(bellsOf(life), holder(life, AMA), none)).toBeNull();
    expect(besides(bellsOf(life), holder(life, AMA), null)).toMatchObject([{ bell: { kind: 'rinse' } }]);
  });
  it('[R3] "Ready" said on a phone rings for others, and not for whoever said it', () => {
    const life = FloorLife.salon(relaxer(tested));
    for (const person of [AMA, JOSS]) life.do({ type: 'BeginShift', person }, { by: person });
    const visit = begin(life, 4, AMA);
    life.at(14);
    life.do({ type: 'FinishApplication', visit });
    life.at(19.2);
    life.do({ type: 'TestStrand', visit, place: 'first', result: 'ready', part: null, note: null }, { by: AMA });
    expect(life.bells(visit)).toEqual(['rinse WARNING #1']);
    expect(onScreen(bellsOf(life), holder(life, AMA), none)).toBeNull();
    life.pass(1);
    expect(onScreen(bellsOf(life), holder(life, JOSS), none)).toMatchObject({ standing: { bell: { kind: 'rinse' } } });
  });
  it('[R3] taken it stays in view for whoever goes, and for nobody else, until it sounds again', () => {
    const life = floor().at(27);
    life.do({ type: 'TakeBell', visit: visitAt(life, 4), chair: null, cause: 'off' }, { by: AMA });
    expect(onScreen(bellsOf(life), holder(life, AMA), none)).toMatchObject({
      going: true,
      standing: { visit: { chair: 4 } },
    });
    expect(onScreen(bellsOf(life), holder(life, JOSS), none)).toBeNull();
    expect(besides(bellsOf(life), holder(life, JOSS), null)).toEqual([]);
    life.pass(1.5);
    expect(onScreen(bellsOf(life), holder(life, JOSS), none)).toMatchObject({ going: false });
    expect(onScreen(bellsOf(life), holder(life, AMA), none)).toMatchObject({ going: false });
  });
  it('[R3] "can\u2019t" takes it off the screen of whoever says so, and others are asked at once', () => {
    const life = floor().at(27);
    life.do({ type: 'PassBell', visit: visitAt(life, 4), chair: null, cause: 'off' }, { by: AMA });
    expect(onScreen(bellsOf(life), holder(life, AMA), none)).toBeNull();
    expect(besides(bellsOf(life), holder(life, AMA), null)).toEqual([]);
    expect(onScreen(bellsOf(life), holder(life, JOSS), none)).toMatchObject({ going: false });
  });
  it('[R3] going to a head takes all that rings there, and nothing of another', () => {
    const life = floor().at(28);
    const visit = visitAt(life, 4);
    life.do({ type: 'ReportBurns', chair: 4, visit, place: 'eye' });
    const standing = ringing(bellsOf(life), holder(life, AMA), none);
    expect(standing?.bell.cause).toBe('burns');
    const causes = standing === null ? [] : ringTogether(standing, holder(life, AMA).rings);
    for (const cause of causes) life.do({ type: 'TakeBell', visit, chair: null, cause }, { by: AMA });
    expect(ringing(bellsOf(life), holder(life, JOSS), none)).toBeNull();
    expect(onScreen(bellsOf(life), holder(life, AMA), none)?.standing.bell.cause).toBe('burns');
  });
  it('help at a chair fills the screen of a senior, and is touched by itself', () => {
    const life = floor();
    life.do({ type: 'AddPerson', name: 'Kit', roles: ['senior'] }, { id: 'person-kit' });
    life.do({ type: 'BeginShift', person: 'person-kit' });
    life.do({ type: 'AskHelp', chair: 4 }, { by: AMA });
    const shown = onScreen(bellsOf(life), holder(life, 'person-kit'), none);
    expect(shown).toMatchObject({ standing: { bell: { kind: 'help' }, visit: null, chair: 4 } });
    expect(shown === null ? [] : ringTogether(shown.standing, holder(life, 'person-kit').rings)).toEqual(['help']);
    expect(onScreen(bellsOf(life), holder(life, AMA), none)).toBeNull();
  });
  it('[R5] buzzes once with each burst, at the burst; [R4] a muted phone does not', () => {
    const life = floor().at(27);
    const session = staged(life);
    session.person = AMA;
    const buzz = (now: number) => buzzAt(session.mirror.bells, now, (one) => session.sounds(one, now));
    const first = buzz(life.now);
    expect(first?.pulses).toEqual([300, 150, 300]);
    expect(buzz(life.now + SECOND)).toBeNull();
    expect(buzz(life.now + 14 * SECOND)).toBeNull();
    const second = buzz(life.now + 15 * SECOND);
    expect(second).not.toBeNull();
    expect(second?.key).not.toBe(first?.key);
    session.muteStanding(MINUTE);
    expect(buzz(life.now)).toBeNull();
    expect(ringing(session.mirror.bells, holder(life, AMA), none)).not.toBeNull();
  });
});

describe('whether a phone can be rung', () => {
  const reach: Reach = {
    person: AMA,
    shift: 'on',
    sound: 'on',
    heard: 'heard',
    awake: 'held',
    linked: true,
    silentForMs: 1_000,
  };
  it('[R7] is yes only when somebody heard the test, and the server is heard', () => {
    expect(canBeRung(reach)).toBe(true);
    expect(canBeRung({ ...reach, person: null })).toBe(false);
    expect(canBeRung({ ...reach, shift: 'off' })).toBe(false);
    expect(canBeRung({ ...reach, shift: 'away' })).toBe(false);
    expect(canBeRung({ ...reach, heard: 'untested' })).toBe(false);
    expect(canBeRung({ ...reach, heard: 'unheard' })).toBe(false);
    expect(canBeRung({ ...reach, sound: 'broken' })).toBe(false);
    expect(canBeRung({ ...reach, linked: false })).toBe(false);
    expect(canBeRung({ ...reach, silentForMs: 5_000 })).toBe(false);
    expect(canBeRung({ ...reach, silentForMs: null })).toBe(false);
  });
  it('a test heard earlier says nothing once sound is gone', () => {
    expect(soundSaid({ sound: 'broken', heard: 'heard' })).toBe('broken');
    expect(soundSaid({ sound: 'on', heard: 'unheard' })).toBe('unheard');
  });

  function wake(refuse = 0) {
    const page = new EventTarget() as EventTarget & { visibilityState: DocumentVisibilityState };
    page.visibilityState = 'visible';
    const sentinels: EventTarget[] = [];
    let refusals = refuse;
    const waiting: (() => void)[] = [];
    const lock = {
      request: async () => {
        if (refusals-- > 0) throw new Error('NotAllowedError');
        const sentinel = Object.assign(new EventTarget(), { release: async () => undefined });
        sentinels.push(sentinel);
        return sentinel;
      },
    };
    const timers = { set: (run: () => void) => waiting.push(run), clear: () => undefined };
    return { wake: new WakeLock({ lock, page, timers }), page, sentinels, waiting };
  }
  const settled = () => new Promise<void>((resolve) => setImmediate(resolve));

  it('the screen is kept awake, and asked for again when the browser let go of it', async () => {
    const { wake: one, page, sentinels } = wake();
    expect(one.current).toBe('off');
    one.hold();
    await settled();
    expect(one.current).toBe('held');
    page.visibilityState = 'hidden';
    sentinels[0]?.dispatchEvent(new Event('release'));
    await settled();
    expect(one.current).toBe('off');
    page.visibilityState = 'visible';
    page.dispatchEvent(new Event('visibilitychange'));
    await settled();
    expect(one.current).toBe('held');
  });
  it('a refusal right after coming back is asked again once', async () => {
    const { wake: one, waiting } = wake(1);
    one.hold();
    await settled();
    expect(one.current).toBe('off');
    waiting.shift()?.();
    await settled();
    expect(one.current).toBe('held');
  });
  it('on plain http it says that it cannot', () => {
    const timers = { set: () => 0, clear: () => undefined };
    const page = Object.assign(new EventTarget(), { visibilityState: 'visible' as const });
    const one = new WakeLock({ lock: null, page, timers });
    one.hold();
    expect(one.current).toBe('absent');
  });
});

describe('what is owed, and what is still on the hair', () => {
  it('[S4] reasons are asked for from drying on, the oldest visit first', () => {
    const life = FloorLife.salon();
    const first = life.do({ type: 'BeginRinse', chair: 1, visit: null, basin: 91 });
    life.pass(1);
    const second = life.do({ type: 'BeginRinse', chair: 2, visit: null, basin: 92 });
    const visits = () => Object.values(life.floor.visits).map(({ facts }) => facts);
    expect(owing(visits()).count).toBe(0);
    life.pass(6);
    for (const visit of [second, first]) life.do({ type: 'ClearAndOff', visit });
    const list = owing(visits());
    expect(list.visits.map(({ id }) => id)).toEqual([first, second]);
    expect(list.count).toBe(4);
    const one = life.facts(first).owed[0];
    life.do({
      type: 'GiveReason',
      visit: first,
      version: one?.version ?? 0,
      item: one?.item ?? 'not-marked',
      reason: 'other',
      note: null,
    });
    expect(owing(visits()).count).toBe(3);
  });
  it('[X4] the sheet tells the class and since when, and nothing where product is off', () => {
    const life = FloorLife.salon();
    const visit = begin(life, 4, AMA);
    life.pass(4);
    life.do({ type: 'Abandon', visit });
    expect(onTheHair(life.facts(visit))).toEqual({
      class: 'hydroxide',
      directions: 'directions-1',
      sinceAt: NOON,
      leftAt: NOON + 4 * MINUTE,
    });
    const unknown = life.do({ type: 'BeginRinse', chair: 1, visit: null, basin: 91 });
    expect(onTheHair(life.facts(unknown))).toMatchObject({ class: null, sinceAt: null, leftAt: null });
    life.do({ type: 'ClearAndOff', visit: unknown });
    expect(onTheHair(life.facts(unknown))).toBeNull();
  });
});
